"""Each round against the one before it, and against the count that is written.

A round is worked into ``rooms`` stitches: the count of the round before, or the few counts it can
have where that round is in doubt.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from webapp.reading.bodies import Body
from webapp.reading.mending import Change, Tries, smallest_change
from webapp.reading.model import Choice, Span, Verdict, Work
from webapp.reading.nodes import Fill, TooManyError
from webapp.reading.readings import FLAGS, Reading, readings
from webapp.reading.settling import other_reading
from webapp.terms import Language


@dataclass(frozen=True)
class Checked:
    """A round as checked; places are those in its body. ``rooms`` are the counts the round after
    it may be worked into, the likeliest first. ``other`` is what settles a choice the other way."""

    verdict: Verdict
    before: int | None
    gives: int | None
    count: int | None
    rooms: tuple[int, ...]
    work: Work = ()
    left: int = 0
    findings: tuple[str, ...] = ()
    choices: tuple[Choice, ...] = ()
    change: Change | None = None
    other: Change | None = None


@dataclass(frozen=True)
class Asked:
    """What a round is checked for: its text and body, the stitches it may be worked into (none:
    not known), the count that is written, what the next round needs. ``free`` rounds are worked
    into no round (a ring, a chain, legs): what they take up is not counted."""

    text: str
    body: Body
    language: Language
    rooms: tuple[int, ...]
    stated: int | None
    needs: int | None = None
    free: bool = False
    tries: Tries = field(default_factory=Tries)


def check(asked: Asked) -> Checked:
    """What can be said of a round."""
    body = asked.body
    if body.trouble:
        return _in_trouble(asked)
    if not body.nodes:
        return _without_stitches(asked)
    if asked.stated is None and not asked.free and _has_loops_of_chains(body):
        return unread(asked, "It has chains among its stitches, and no count that vouches for it.")
    rooms: tuple[int | None, ...] = (None,) if asked.free else (asked.rooms or (None,))
    try:
        found = [fit for room in rooms if (fit := _fitting(asked, room)) is not None]
        if found:
            two = asked.stated is None and len(found) > 1
            best = _of_two(found) if two else found[0]
            return _with_other(asked, rooms, best)
        return _not_fitting(asked, rooms[0])
    except TooManyError:
        return unread(asked, "It comes to more stitches than any round has.")


def _with_other(asked: Asked, rooms: tuple[int | None, ...], best: Checked) -> Checked:
    """A choice with what settles it the other way, if that is a count."""
    if best.verdict is not Verdict.CHOICE or asked.stated is not None:
        return best
    others = (choice.other_count for choice in best.choices)
    told = {count for count in others if count is not None} - {best.count}
    other = other_reading(asked.text, asked.body, asked.language, rooms, told, asked.tries)
    return replace(best, other=other)


def _of_two(found: list[Checked]) -> Checked:
    """A round that would fit either count of the round before, which is in doubt."""
    first, second = found[:2]
    choice = Choice(f"worked into {first.before}", f"worked into {second.before}", second.count)
    return replace(
        first,
        verdict=Verdict.CHOICE,
        choices=(*first.choices, choice),
        rooms=tuple(dict.fromkeys((*first.rooms, *second.rooms))),
    )


def needed(body: Body, stated: int | None) -> int | None:
    """How many stitches a round must find, as far as it says so itself."""
    if body.trouble or not body.nodes:
        return None
    try:
        first = next(readings(body, None, stated), None)
    except TooManyError:
        return None
    return first.made.takes if first is not None and first.made.over == 0 else None


def fits_into(body: Body, room: int, stated: int | None) -> bool:
    """Whether there is a reading that fits so many stitches and makes what is written."""
    if body.trouble or not body.nodes:
        return False
    try:
        return any(reading.fits(room, stated) for reading in readings(body, room, stated))
    except TooManyError:
        return False


def _fitting(asked: Asked, room: int | None) -> Checked | None:
    """The round read in a way that fits, if there is one."""
    body, stated = asked.body, asked.stated
    left = body.mark("left") or body.mark("turn")
    fits = []
    for reading in readings(body, room, stated):
        if reading.fits(room, stated):
            fits.append((reading, 0))
        elif (
            room is not None
            and left is not None
            and not reading.taken
            and 1 < reading.made.takes < room
            and reading.made.over == 0
            and stated in (None, reading.made.makes, reading.made.makes + room - reading.made.takes)
        ):
            fits.append((reading, room - reading.made.takes))
    if not fits:
        return None
    reading, unworked = fits[0]
    made = reading.made
    sure = stated is not None and not body.noise and FLAGS["bare number"][::-1] not in reading.taken
    vouched = sure or not reading.taken
    choices = () if vouched else _choices(asked, room, reading)
    if body.mark("bobble") is not None:
        choices = (*choices, Choice("each bobble counted as one stitch", "as more", None))
    in_ring = asked.free and body.mark("into ring") is not None
    one_witness = stated is None or (room is None and not in_ring and not asked.free)
    if body.noise and one_witness and not in_ring and not _only_fill(body):
        words = ", ".join(f"`{asked.text[s.start : s.end]}`" for s in body.noise[:3])
        choices = (*choices, Choice(f"read without {words}", "words not understood", None))
    if asked.free and len(body.nodes) > 1 and any(isinstance(n, Fill) for n in body.nodes):
        choices = (*choices, Choice("to the end: as many as the count needs", "not known", None))
    if room is None and stated is None and not asked.free:
        choices = (*choices, Choice(f"worked into {made.takes}", "not known", None))
    # A part of a round worked to and fro: what is left stays in the edge.
    rooms = (made.makes, made.makes + unworked) if unworked else (made.makes,)
    return Checked(
        Verdict.CHOICE if choices else Verdict.AGREES,
        before=made.takes + unworked if not asked.free else None,
        gives=made.makes,
        count=made.makes,
        rooms=rooms,
        work=made.work,
        left=unworked,
        choices=choices,
    )


def _has_loops_of_chains(body: Body) -> bool:
    """Whether chains stand among the stitches, and not before them to begin the round."""
    first = body.nodes[0].span.start
    return any(
        mark.what == "chain" and mark.number > 1 and mark.span.start > first for mark in body.marks
    )


def _only_fill(body: Body) -> bool:
    return len(body.nodes) == 1 and isinstance(body.nodes[0], Fill)


def _choices(asked: Asked, room: int | None, reading: Reading) -> tuple[Choice, ...]:
    plain = next(readings(asked.body, room, asked.stated), None)
    other = plain.made.makes if plain is not None and plain.made.over == 0 else None
    return tuple(Choice(taken, instead, other) for taken, instead in reading.taken)


def _not_fitting(asked: Asked, room: int | None) -> Checked:
    """The round read plainly, and why it does not fit."""
    body, stated = asked.body, asked.stated
    if body.noise:
        words = ", ".join(f"`{asked.text[s.start : s.end]}`" for s in body.noise[:3])
        return unread(asked, f"These words are not known: {words}.")
    if body.mark("bobble") is not None:
        return unread(asked, "With each bobble counted as one stitch it does not fit.")
    plain = next(readings(body, room, stated), None)
    if plain is None:
        return unread(asked, "It is repeated to the end of a round whose stitches are not known.")
    made = plain.made
    findings: list[str] = []
    if made.over:
        findings.append(
            f"A repeat to the end of the round does not come out even: of {room} stitches "
            f"{made.over} would be left over."
        )
    elif room is not None and made.takes < room:
        findings.append(
            f"These stitches take up {made.takes} of the {room} there are, {room - made.takes} "
            f"too few."
        )
    elif room is not None and made.takes > room:
        findings.append(
            f"These stitches take up {made.takes}, and there are only {room}: "
            f"{made.takes - room} too many."
        )
    even = room is None or (made.takes == room and not made.over)
    if stated is not None and made.makes != stated:
        findings.append(f"They make {made.makes}; {stated} is written.")
    if asked.needs is not None:
        findings.append(f"The next round needs {asked.needs}.")
    wrong_count = even and stated is not None and asked.needs in (None, made.makes)
    change = None
    if not wrong_count:
        target = stated if stated is not None else asked.needs
        change = smallest_change(asked.text, asked.language, room, target, asked.tries)
        if change is None and asked.needs is not None and asked.needs != target:
            change = smallest_change(asked.text, asked.language, room, asked.needs, asked.tries)
    if change is None and even and body.counts and asked.needs in (None, made.makes):
        span = _number_span(asked.text, body.counts[-1][1], body.counts[-1][0])
        change = Change(span, str(made.makes), f"{made.makes} instead of {body.counts[-1][0]}")
    count = made.makes if wrong_count or stated is None else stated
    rooms = tuple(dict.fromkeys((count, made.makes)))
    return Checked(
        Verdict.DISAGREES,
        before=room,
        gives=made.makes if not made.over else None,
        count=count,
        rooms=rooms,
        work=made.work,
        findings=tuple(findings),
        change=change,
    )


def _number_span(text: str, span: Span, value: int) -> Span:
    """Where the number itself stands within a count such as `18 sts`."""
    at = text.find(str(value), span.start, span.end)
    return Span(at, at + len(str(value))) if at >= 0 else span


def _without_stitches(asked: Asked) -> Checked:
    """A line that says only a count, or nothing: worked even if the count stays."""
    stated = asked.stated
    if asked.body.mark("behind count") is not None:
        return unread(asked, "What stands behind its count is not understood.")
    if stated and stated in asked.rooms:
        return Checked(
            Verdict.AGREES, stated, stated, stated, (stated,), (("sc", stated),)
        )
    if stated is None:
        return unread(asked, "No stitches were found in it.")
    more = asked.body.mark("counted")
    if more and more.number and asked.rooms:
        makes = asked.rooms[0] + more.number
        if makes != stated and asked.needs == makes:
            return _other_change(asked, stated, makes)
    return unread(asked, f"It says {stated} stitches, and not how they are made.")


def _other_change(asked: Asked, stated: int, makes: int) -> Checked:
    """A row of a table whose change makes another count, as the next row needs it."""
    span = _number_span(asked.text, asked.body.counts[-1][1], stated)
    return Checked(
        Verdict.DISAGREES,
        before=asked.rooms[0],
        gives=makes,
        count=makes,
        rooms=(makes, stated),
        findings=(f"They make {makes}; {stated} is written.", f"The next round needs {makes}."),
        change=Change(span, str(makes), f"{makes} instead of {stated}"),
    )


def _in_trouble(asked: Asked) -> Checked:
    """Brackets that do not match: the one place for a bracket that makes the round fit."""
    body = asked.body
    for room in asked.rooms or (None,):
        change = smallest_change(asked.text, asked.language, room, asked.stated, asked.tries)
        if change is None or (room is None and asked.stated is None):
            continue
        return Checked(
            Verdict.DISAGREES,
            before=room,
            gives=None,
            count=asked.stated,
            rooms=(asked.stated,) if asked.stated is not None else (),
            findings=(f"{body.trouble[0].upper()}{body.trouble[1:]}.",),
            change=change,
        )
    return unread(asked, f"{body.trouble[0].upper()}{body.trouble[1:]}.")


def unread(asked: Asked, why: str) -> Checked:
    """A round that is not understood, and why; the count that is written is kept."""
    rooms = (asked.stated,) if asked.stated is not None else ()
    return Checked(
        Verdict.UNREAD, asked.rooms[0] if asked.rooms else None, None, asked.stated, rooms,
        findings=(why,),
    )
