"""One part, round by round: equal rounds gathered, and between the rounds what to do then.

When to stuff, where the eyes go, colour changes and how to end are lines of their own, placed
after the round at which the maker must act.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from webapp.assembly import WorkedToy
from webapp.materials import Materials
from webapp.materials.yarn import bands
from webapp.pattern.wording import first_round_text, round_text
from webapp.recipes import Filling, PartRecipe, Seat
from webapp.rounds import Round, WorkedPart, WorkedStrip
from webapp.yarns import TermSet

STUFF_BELOW = 24
"""Stuffing starts before the opening has fewer stitches than this: common practice, no source."""

OVER_THE_TOP = 60.0
"""Eyes farther round than this (degrees from the front or top) lie on the sides."""

TAIL = "leaving a tail of 30 cm (12 in) for sewing"


class LineKind(Enum):
    ROUND = "round"
    NOTE = "note"


@dataclass(frozen=True)
class Line:
    """A line of a part: rounds ``first`` to ``last`` worked alike, or a note between rounds."""

    kind: LineKind
    text: str
    first: int = 0
    last: int = 0
    count: int = 0


def part_lines(
    toy: WorkedToy, materials: Materials, recipe: PartRecipe, words: TermSet
) -> list[Line]:
    """All lines of one part in working order."""
    part = toy.parts[recipe.name]
    if isinstance(part, WorkedStrip):
        return list(_strip_lines(part, words))
    notes = _notes(toy, materials, recipe, part, words)
    lines: list[Line] = []
    first = 1
    rounds = part.rounds
    while first <= len(rounds):
        last = first
        while (
            last < len(rounds) and last not in notes and _alike(rounds[first - 1], rounds[last])
        ):
            last += 1
        text = first_round_text(part, words) if first == 1 else _text(rounds[first - 1], words)
        lines.append(Line(LineKind.ROUND, text, first, last, rounds[last - 1].count))
        lines += [Line(LineKind.NOTE, note) for note in notes.get(last, [])]
        first = last + 1
    return lines + [Line(LineKind.NOTE, note) for note in _ending(toy, recipe, part, words)]


def _alike(a: Round, b: Round) -> bool:
    return a.number > 1 and a.is_even and b.is_even


def _text(r: Round, words: TermSet) -> str:
    return round_text(r.work, words)


def _notes(
    toy: WorkedToy,
    materials: Materials,
    recipe: PartRecipe,
    part: WorkedPart,
    words: TermSet,
) -> dict[int, list[str]]:
    """Notes by the number of the round they follow."""
    notes: dict[int, list[str]] = {}
    total = len(part.rounds)
    spans = list(bands(recipe, total))
    for (_, _, end), (colour, _, _) in zip(spans, spans[1:], strict=False):
        name = toy.recipe.colours[colour].name
        notes.setdefault(end, []).append(
            f"Change to {name} in the last {words.st} of {words.rnd} {end}."
        )
    for number, text in _cheek_notes(part, words):
        notes.setdefault(number, []).append(text)
    if toy.eyes is not None and toy.eyes.on == recipe.name:
        at = min(total - 1, toy.eyes.below_round + 2)
        notes.setdefault(at, []).append(_eye_note(toy, materials, words))
    stuff = _stuffing_round(recipe, part)
    if stuff:
        how = "firmly" if recipe.filling is Filling.FIRM else "lightly"
        more = ", and add more as the opening closes" if part.closed else ""
        notes.setdefault(stuff, []).append(f"Start stuffing {how}{more}.")
    return notes


def _cheek_notes(part: WorkedPart, words: TermSet) -> Iterator[tuple[int, str]]:
    shaped = [r for r in part.rounds if len(r.sectors) > 1 and not part.straight_stitches]
    if not shaped:
        return
    face = shaped[0].sectors[1][0]
    yield (
        shaped[0].number - 1,
        f"The cheeks begin: each round goes cheek, face, cheek, back of the head. Mark the first "
        f"{words.st} after the first cheek; the {face} {words.sts} from there are the face.",
    )


def _eye_note(toy: WorkedToy, materials: Materials, words: TermSet) -> str:
    place, eyes = toy.eyes, materials.eyes
    assert place is not None
    assert eyes is not None
    where = (
        f"between {words.rnds} {place.below_round} and {place.below_round + 1}, "
        f"{place.apart} {words.sts} apart"
    )
    middle = " over the middle of the face" if _has_cheeks(toy, place.on) else ""
    if toy.recipe.eyes is not None and toy.recipe.eyes.around > OVER_THE_TOP:
        middle = ", counted over the top"
    if eyes.stock_mm is None:
        return (
            f"Embroider the eyes {eyes.wanted_mm:.0f} mm across {where}{middle}, "
            "before closing the part."
        )
    return (
        f"Place the {eyes.stock_mm} mm eyes {where}{middle}; push the washers on before closing "
        "the part. They do not come off again."
    )


def _has_cheeks(toy: WorkedToy, name: str) -> bool:
    part = toy.parts[name]
    return isinstance(part, WorkedPart) and any(
        len(r.sectors) > 1 for r in part.rounds
    ) and not part.straight_stitches


def _stuffing_round(recipe: PartRecipe, part: WorkedPart) -> int:
    """The round after which stuffing starts; 0 where it waits for the end, or there is none."""
    if recipe.filling is Filling.NONE or not part.closed:
        return 0
    counts = part.counts
    widest = counts.index(max(counts)) + 1
    later = [k + 1 for k in range(widest, len(counts)) if counts[k] <= STUFF_BELOW]
    return later[0] if later and max(counts) > STUFF_BELOW else widest


def _ending(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedPart, words: TermSet
) -> Iterator[str]:
    last = part.counts[-1]
    if part.closed:
        yield (
            f"Finish stuffing. Cut the yarn, thread it through the front loops of the last {last} "
            f"{words.sts}, pull tight, fasten off and hide the end inside."
        )
        return
    hosted = any(p.place.seat is Seat.OPENING and p.place.on == recipe.name
                 for p in toy.recipe.parts)
    close = f"{words.sl_st} in the next {words.st}, fasten off"
    if recipe.filling is Filling.NONE:
        flattened = part.order.outline.flatness < 1.0
        how = "Flatten it and do not stuff." if flattened else "Do not stuff."
        yield f"{_capital(close)}, {TAIL}. {how}"
    elif hosted:
        yield f"{_capital(close)}. Stuff firmly up to the open edge."
    else:
        how = "firmly" if recipe.filling is Filling.FIRM else "lightly"
        yield f"{_capital(close)}, {TAIL}. Stuff {how}."


def _strip_lines(part: WorkedStrip, words: TermSet) -> Iterator[Line]:
    n, rows = part.per_row, part.rows
    yield Line(
        LineKind.ROUND,
        f"{words.ch} {n + 1}; {words.sc} in the 2nd {words.ch} from the hook and in each "
        f"{words.ch} across",
        1,
        1,
        n,
    )
    yield Line(
        LineKind.ROUND, f"{words.ch} 1, turn, {words.sc} in each {words.st} across", 2, rows, n
    )
    yield Line(LineKind.NOTE, f"Fasten off, {TAIL}.")


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
