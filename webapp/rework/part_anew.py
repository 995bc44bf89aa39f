"""One part worked anew, or kept as it was read."""

from __future__ import annotations

from dataclasses import dataclass, replace

from webapp.reading import Begin, ReadPart, ReadPattern, ReadRound, Run, Work
from webapp.rework.carrying import carried, numbered
from webapp.rework.choosing import base_of
from webapp.rework.joining import Meeting, met, open_end, opening
from webapp.rework.mending import joins_rounds, plain_part
from webapp.rework.model import PlainPart, PlainRound
from webapp.rework.noting import notes_on, off_size
from webapp.rework.outline import Factors
from webapp.rework.shape import begun_as, shape_of
from webapp.rework.working import Anew, Openings, work_anew
from webapp.rounds import Effort, Start
from webapp.rounds.spread import spread
from webapp.rounds.writing import write_rounds


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


def worked_part(
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


def kept_part(
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
