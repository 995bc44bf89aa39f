"""A read pattern worked anew: for another yarn, another size, or other proportions.

:func:`rework_pattern` goes the way: the outline of each part in the stitches of the new gauge
(``outline``), whole counts for it (``working``, ``choosing``, ``rearcs``), equal edges where parts
meet (``joining``), and what is said between the rounds led after them (``moving``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from webapp.errors import RoundlingError
from webapp.reading import (
    Begin,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    RemarkKind,
    Run,
    Span,
    Verdict,
    Work,
)
from webapp.rework.carrying import carried, numbered, rounds_said
from webapp.rework.choosing import base_of
from webapp.rework.joining import Meeting, meetings, met, open_end, opening
from webapp.rework.mending import (
    as_paragraphs,
    follows,
    joins_rounds,
    lines_of,
    of_the_start,
    plain_part,
    title_of,
    words_of,
)
from webapp.rework.model import PlainPart, PlainPattern, PlainRemark, PlainRound
from webapp.rework.moving import Moves, moved_text, offset_of
from webapp.rework.noting import notes_on, off_size
from webapp.rework.outline import Factors
from webapp.rework.shape import begun_as, shape_of
from webapp.rework.working import Anew, Openings, work_anew
from webapp.rounds import Effort, Start
from webapp.rounds.spread import spread
from webapp.rounds.writing import write_rounds
from webapp.yarns import Gauge

MOST_OF_ALL = 6000
"""Rounds of all parts together that are worked out anew."""

FROM_BEFORE = (
    "FROM THE PATTERN AS IT WAS READ\n"
    "Amounts, sizes and hook are those of the yarn and size it was written for."
)
LEAST, MOST = 0.05, 20.0
"""Times as long or as wide: beyond that it is another toy."""


@dataclass(frozen=True)
class Change:
    """What is asked for: the gauge the pattern was written at and the one it is to be worked at,
    how many times as large all of it is to be, and how many times as long or as wide besides a part
    is to be, by its number in the pattern (from 0)."""

    gauge_from: Gauge
    gauge_to: Gauge
    effort: Effort
    scale: float = 1.0
    longer: Mapping[int, float] = field(default_factory=dict)
    wider: Mapping[int, float] = field(default_factory=dict)

    def factors(self, part: int) -> Factors:
        return Factors(
            wide=self.scale * self.wider.get(part, 1.0),
            long=self.scale * self.longer.get(part, 1.0),
            was=self.gauge_from,
            new=self.gauge_to,
        )


@dataclass(frozen=True)
class ReworkedPart:
    """What became of a part: ``rounds`` has for each read round (from the first) the number of the
    round it became; ``stitch_scale`` is new stitches in a lap for each that was read. Sizes are
    (width, height) in mm: as read, as asked, as stitched. ``kept`` tells a part that stays as it
    was, for the reason that ``notes`` say."""

    title: str
    kept: bool
    rounds: tuple[int, ...]
    stitch_scale: float
    read_mm: tuple[float, float]
    asked_mm: tuple[float, float]
    stitched_mm: tuple[float, float]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Reworked:
    """The pattern anew, what became of each of its parts, and what was changed in its remarks."""

    pattern: PlainPattern
    parts: tuple[ReworkedPart, ...]
    notes: tuple[str, ...] = ()


def rework_pattern(pattern: ReadPattern, change: Change) -> Reworked:
    """The pattern in whole stitches for the change asked for.

    Raises :class:`RoundlingError` naming the part that cannot be worked so, or the factor that is
    out of range.
    """
    _check(pattern, change)
    factors = [change.factors(n) for n in range(len(pattern.parts))]
    doubts = [doubt_of(part) for part in pattern.parts]
    edges = meetings(pattern.parts, factors, [not doubt for doubt in doubts])
    parts, became = [], []
    for number, part in enumerate(pattern.parts):
        if doubts[number]:
            plain, result = _kept(pattern, number, factors[number], doubts[number])
        else:
            plain, result = _worked(part, number, factors[number], edges, change.effort)
            plain = replace(plain, title=title_of(pattern, number))
        parts.append(plain)
        became.append(result)
    return _with_words(pattern, change, parts, became)


def doubt_of(part: ReadPart) -> str:
    """Why a part cannot be re-worked, or nothing."""
    if not part.rounds:
        return "it has no rounds"
    unknown = [r.number for r in part.rounds if not r.count or r.verdict is Verdict.UNREAD]
    if unknown:
        are = "is" if len(unknown) == 1 else "are"
        return f"{rounds_said(unknown)[0].lower()}{rounds_said(unknown)[1:]} {are} not known"
    return ""


def _check(pattern: ReadPattern, change: Change) -> None:
    asked = [("The size", "scale", change.scale)]
    for name, factors in (("length", change.longer), ("width", change.wider)):
        for number, factor in factors.items():
            if not 0 <= number < len(pattern.parts):
                raise RoundlingError(
                    asked=f"Part {number + 1} is to have another {name}.",
                    why=f"The pattern has {len(pattern.parts)} parts.",
                    nearest="Choose one of its parts.",
                    field=name,
                )
            asked.append((f"The {name} of the {pattern.parts[number].title}", name, factor))
    finer = change.gauge_from.round_mm / change.gauge_to.round_mm
    rounds = finer * sum(
        len(part.rounds) * change.factors(n).long for n, part in enumerate(pattern.parts)
    )
    if rounds > MOST_OF_ALL:
        raise RoundlingError(
            asked=f"The pattern would have about {rounds:.0f} rounds.",
            why=f"At most {MOST_OF_ALL} are worked out at a time.",
            nearest="Make it smaller, use a thicker yarn, or re-work some of its parts alone.",
            field="scale",
        )
    for what, which, factor in asked:
        if not LEAST <= factor <= MOST:
            raise RoundlingError(
                asked=f"{what} is to be {factor:g} times what it was.",
                why=f"A pattern is re-worked to between {LEAST:g} and {MOST:g} times.",
                nearest=f"It can be {LEAST if factor < 1.0 else MOST:g} times.",
                field=which,
            )


def _worked(
    part: ReadPart,
    number: int,
    factors: Factors,
    edges: tuple[Meeting, ...],
    effort: Effort,
) -> tuple[PlainPart, ReworkedPart]:
    shape = shape_of(part, factors.was)
    begun = begun_as(part)
    legs, chain = _on_legs(part, factors, edges)
    if begun.start is Start.LEGS:
        begun = replace(begun, chain=chain)
    anew = work_anew(
        shape,
        shape.zones,
        begun,
        factors,
        effort,
        Openings(_start_count(part, factors, edges, legs), _end_count(number, part, edges)),
    )
    numbers = numbered(anew.places, len(part.rounds), len(anew.counts))
    rounds = _plain_rounds(part, anew, numbers, factors, effort)
    asked = (factors.wide * shape.width_mm, factors.long * shape.height_mm)
    notes = (*notes_on(part, anew), *off_size(asked, anew, factors))
    plain = PlainPart(
        title=part.title,
        copies=part.copies,
        begin=part.begin,
        rounds=rounds,
        chain=_chain(part, anew, chain),
        per_leg=legs,
        rows=part.rows,
        closed=part.closed,
    )
    return plain, ReworkedPart(
        title=part.title,
        kept=False,
        rounds=numbers,
        stitch_scale=factors.stitches,
        read_mm=(shape.width_mm, shape.height_mm),
        asked_mm=asked,
        stitched_mm=(anew.width_mm, anew.height_mm),
        notes=notes,
    )


def _end_count(number: int, part: ReadPart, edges: tuple[Meeting, ...]) -> int | None:
    if open_end(part) is None:
        return None
    return next((edge.stitches for edge in edges if number in edge.parts), None)


def _start_count(
    part: ReadPart, factors: Factors, edges: tuple[Meeting, ...], legs: tuple[int, ...]
) -> int | None:
    """Stitches of a first round that goes into an opening, an edge or legs; None for a ring."""
    first = part.counts[0] or 0
    base = base_of([n for n in part.counts if n])
    if part.begin is Begin.LEGS and legs:
        between = first - sum(part.per_leg)
        if part.chain:
            between = round(between * _on_legs(part, factors, edges)[1] / part.chain)
        # Of legs that are not taken up whole nothing more can be told than how wide the round is.
        if 2 * (sum(legs) + between) >= sum(legs):
            return sum(legs) + between
    if part.begin in (Begin.LEGS, Begin.EDGE):
        return met(edges, first, first * factors.stitches, base)
    if part.begin is Begin.CHAIN_RING:
        return met(edges, first, first * factors.stitches, base)
    if part.rows or part.begin is Begin.FLAT:
        return opening(first * factors.stitches, 1, 1)
    return None


def _on_legs(
    part: ReadPart, factors: Factors, edges: tuple[Meeting, ...]
) -> tuple[tuple[int, ...], int]:
    """Stitches anew of each leg a part is begun on, and of the chain between them."""
    if part.begin is not Begin.LEGS:
        return (), part.chain
    legs = tuple(met(edges, n, n * factors.stitches, 1) for n in part.per_leg)
    return legs, max(1, round(part.chain * factors.stitches)) if part.chain else 0


def _chain(part: ReadPart, anew: Anew, on_legs: int) -> int:
    """Chains a part is begun with: as many more or fewer as what is worked into them."""
    if part.begin is Begin.LEGS or not part.chain:
        return on_legs
    if anew.begun.start is Start.CHAIN:
        return part.chain + anew.begun.straight - begun_as(part).straight
    return max(1, part.chain + anew.counts[0] - (part.counts[0] or 0))


def _plain_rounds(
    part: ReadPart, anew: Anew, numbers: tuple[int, ...], factors: Factors, effort: Effort
) -> tuple[PlainRound, ...]:
    plain: list[PlainRound] = []
    staggered = effort.staggered and not part.rows and anew.begun.start is not Start.CHAIN
    for made in write_rounds(anew.sectors, staggered):
        arcs: tuple[Work, ...] = tuple(made.arcs)
        if made.is_even and len(arcs) > 1:
            arcs = ((("sc", made.count),),)
        plain.append(PlainRound(made.number, made.before, made.count, arcs))
    plain[0] = _first_round(part, plain[0], anew)
    for old, number in zip(part.rounds, numbers, strict=True):
        if old.left and number > 1:
            plain[number - 1] = _left(old, plain[number - 1], factors.stitches)
    rounds = carried(plain, part.rounds, numbers)
    return rounds if joins_rounds(part) else tuple(replace(r, joined=False) for r in rounds)


def _first_round(part: ReadPart, first: PlainRound, anew: Anew) -> PlainRound:
    """The first round on what it is worked into; that of an oval as it was read, its plain runs
    longer or shorter."""
    read = part.rounds[0]
    if part.begin is Begin.OVAL and anew.begun.start is Start.CHAIN:
        more = anew.begun.straight - begun_as(part).straight
        runs = [n for n, (kind, times) in enumerate(read.work) if kind == "sc" and times > -more]
        sides = sorted(runs, key=lambda n: -read.work[n][1])[:2]
        if len(sides) == 2:
            work: list[Run] = list(read.work)
            for n in sides:
                work[n] = ("sc", work[n][1] + more)
            return replace(first, arcs=(tuple(work),))
    into = 0 if part.begin is Begin.RING else first.count
    return replace(first, before=into, arcs=((("sc", first.count),),))


def _left(old: ReadRound, new: PlainRound, stitches: float) -> PlainRound:
    """A round worked in part: as large a share of the round before is left."""
    left = max(1, round(old.left * stitches))
    kept_on = old.count is not None and old.gives is not None and old.count > old.gives
    before, count = new.before - left, new.count - (left if kept_on else 0)
    if before < 1 or count < 1 or count > 2 * before or before > 2 * count:
        return new
    return replace(new, left=left, arcs=(spread(before, count),))


def _kept(
    pattern: ReadPattern, number: int, factors: Factors, doubt: str
) -> tuple[PlainPart, ReworkedPart]:
    """A part as it was read, what could not be read in its own words."""
    part, plain = pattern.parts[number], plain_part(pattern, number)
    shape = shape_of(part, factors.was)
    size = (shape.width_mm, shape.height_mm)
    note = f"The {plain.title} stays as it was: {doubt}."
    if factors.stitches != 1.0:
        note += " What is sewn or joined to it has other counts now."
    same = tuple(range(1, len(part.rounds) + 1))
    return plain, ReworkedPart(part.title, True, same, 1.0, size, size, size, (note,))


def _given(read: ReadPart, plain: PlainPart) -> dict[int, int]:
    """Counts of legs that are joined and of their chain, as remarks about it have them."""
    if read.begin is not Begin.LEGS:
        return {}
    given = dict(zip(read.per_leg, plain.per_leg, strict=True))
    return given | ({read.chain: plain.chain} if read.chain else {})


def _with_words(
    pattern: ReadPattern, change: Change, parts: list[PlainPart], became: list[ReworkedPart]
) -> Reworked:
    """The pattern with its remarks led after their rounds, and what was changed in them."""
    notes: list[str] = []
    moves = [
        Moves(
            new.rounds,
            new.stitch_scale,
            1.0 if new.kept else change.scale,
            offset_of(read.rounds),
            _given(read, plain),
        )
        for read, plain, new in zip(pattern.parts, parts, became, strict=True)
    ]
    titled = {
        f"{part.title}\n{n}" if part.title else f"\n{n}": move
        for n, (part, move) in enumerate(zip(pattern.parts, moves, strict=True))
    }
    written = []
    for read, plain, new, own in zip(pattern.parts, parts, became, moves, strict=True):
        remarks = []
        for remark in read.remarks:
            said = lines_of(remark.text)
            if not said or of_the_start(read, remark):
                continue
            sewn = remark.kind is RemarkKind.SEW
            text, says = moved_text(said, own, titled, pattern.language, sewn=sewn)
            after = new.rounds[min(remark.after, len(new.rounds)) - 1] if remark.after else 0
            remarks.append(PlainRemark(after if new.rounds else 0, text))
            notes += [f"{read.title}: {each}" if read.title else each for each in says]
        written.append(replace(plain, remarks=tuple(remarks)))
    around: list[tuple[Remark, str]] = []
    for remark in pattern.remarks:
        said = words_of(remark, pattern.language)
        if not said:
            around.append((remark, ""))
            continue
        if pattern.gauge is not None and _overlap(remark.span, pattern.gauge.span):
            # The new gauge is written as such; the old one is none of the lengths that grow.
            around.append((remark, f"Worked anew from: {said}"))
            continue
        placing = remark.kind in (RemarkKind.EYES, RemarkKind.SEW)
        text, says = moved_text(said, None, titled, pattern.language, placing=placing)
        around.append((remark, text))
        notes += says
    gauge = change.gauge_to
    return Reworked(
        PlainPattern(
            title=pattern.title,
            gauge=gauge,
            parts=tuple(written),
            before=_around(pattern, around, follow=False),
            after=_around(pattern, around, follow=True),
        ),
        tuple(became),
        tuple(notes),
    )


def _around(
    pattern: ReadPattern, around: list[tuple[Remark, str]], follow: bool
) -> tuple[str, ...]:
    said = [(remark, text) for remark, text in around if follows(pattern, remark) is follow]
    paragraphs = as_paragraphs(pattern, said)
    if follow or not paragraphs:
        return paragraphs
    return (FROM_BEFORE, *paragraphs)


def _overlap(one: Span, other: Span) -> bool:
    return one.start < other.end and other.start < one.end
