"""One part from its outline to its rounds.

Edge k of a part lies at s = k h along the outline; a closed part's last edge lies one h before its
far pole and is gathered. How many rounds there are is chosen so that the stitched height, computed
from the whole stitches, comes nearest to the height asked for.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from webapp.errors import RoundlingError
from webapp.rounds.counts import (
    FEWEST,
    REACH_SHARE,
    REACH_STITCHES,
    CountProblem,
    choose_counts,
)
from webapp.rounds.fabric import Rings, bump_depth, bump_extra, lay_rings
from webapp.rounds.repeats import Work, joined
from webapp.rounds.spread import spread
from webapp.shapes import Meridian, Strip
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

RING_COUNTS = range(4, 9)
"""Stitches that a start ring can have: common practice, no source."""

FEWEST_ROUNDS, MOST_ROUNDS = 2, 2000
FEWEST_IN_OVAL = 8
TOLERANCE = 0.04
"""A width may be out by half a stitch or by this part of itself, whichever is larger."""


class Start(Enum):
    """How a part is begun."""

    RING = "ring"
    CHAIN = "chain"


@dataclass(frozen=True)
class Effort:
    """What the maker wants of the rounds: ``weight`` of simple work against true shape
    (thousandths of a squared unit, see :mod:`webapp.rounds.counts`), and staggered increases."""

    weight: int
    staggered: bool = True


@dataclass(frozen=True)
class Bulge:
    """Two bulges on opposite sides (cheeks): from where to where along the outline (0 to 1), over
    what part of the round each (0 to 0.5), how deep in mm."""

    begin: float
    end: float
    arc: float
    depth_mm: float


@dataclass(frozen=True)
class WorkOrder:
    """One part to be worked. ``end_count`` fixes the last round where a seam partner needs it."""

    name: str
    outline: Meridian
    start: Start = Start.RING
    ring: int = 6
    end_count: int | None = None
    bulge: Bulge | None = None


@dataclass(frozen=True)
class Round:
    """A round: its number, the stitches it is worked into, those it makes, and the work.

    ``sectors`` are (before, after) counts of the arcs of the round in order; one arc if even all
    round.
    """

    number: int
    before: int
    count: int
    sectors: tuple[tuple[int, int], ...]
    work: Work

    @property
    def is_even(self) -> bool:
        return len(self.work) == 1 and self.work[0][0] == "sc"


@dataclass(frozen=True, eq=False)
class WorkedPart:
    """A part in whole stitches, and the shape they make.

    ``bump_mm`` has an entry for each edge of ``rings``: how far the cheeks stand out there.
    """

    order: WorkOrder
    gauge: Gauge
    rounds: tuple[Round, ...]
    rings: Rings
    straight_stitches: int
    bump_mm: Floats

    @property
    def counts(self) -> tuple[int, ...]:
        return tuple(r.count for r in self.rounds)

    @property
    def stitches(self) -> int:
        return sum(r.count for r in self.rounds)

    @property
    def closed(self) -> bool:
        return self.order.outline.closed

    @property
    def straight_mm(self) -> float:
        return self.straight_stitches * self.gauge.stitch_mm

    @property
    def widest_mm(self) -> float:
        """Width at the widest round as stitched, mm (lying flat where it is flattened)."""
        from_outline = self.order.outline
        scale = from_outline.widest_mm - from_outline.straight_mm
        radius = float(self.rings.radius_mm.max())
        return radius * scale / float(from_outline.radius_mm.max()) + self.straight_mm

    @property
    def height_mm(self) -> float:
        return self.rings.height_mm


@dataclass(frozen=True)
class WorkedStrip:
    """A strip in rows: stitches a row, rows, and its size as stitched."""

    name: str
    strip: Strip
    gauge: Gauge
    per_row: int
    rows: int

    @property
    def stitches(self) -> int:
        return self.per_row * self.rows

    @property
    def width_mm(self) -> float:
        return self.per_row * self.gauge.stitch_mm

    @property
    def length_mm(self) -> float:
        return self.rows * self.gauge.round_mm


def work_strip(name: str, strip: Strip, gauge: Gauge) -> WorkedStrip:
    """The rows of a strip; at least 2 stitches wide and 2 rows long."""
    per_row = round(strip.width_mm / gauge.stitch_mm)
    rows = round(strip.length_mm / gauge.round_mm)
    if per_row < 2 or rows < 2:
        raise _too_small(name, strip.width_mm, strip.width_mm / gauge.stitch_mm, 2)
    if rows > MOST_ROUNDS or per_row > MOST_ROUNDS:
        raise _too_big(name, rows)
    return WorkedStrip(name, strip, gauge, per_row, rows)


def opening_count(girth_mm: float, gauge: Gauge, base: int) -> int:
    """Stitches of an opening that two parts share: a multiple of ``base`` where one is near."""
    ideal = girth_mm / gauge.stitch_mm
    neat = base * round(ideal / base)
    return neat if abs(neat - ideal) <= max(1.0, TOLERANCE * ideal) else round(ideal)


def work_part(order: WorkOrder, gauge: Gauge, effort: Effort) -> WorkedPart:
    """The rounds of a part.

    Raises :class:`RoundlingError` naming the part when it is too small to be worked in the round
    or no counts can be worked.
    """
    outline = order.outline
    spare = 1 if outline.closed else 0
    guess = round(outline.length_mm / gauge.round_mm) - spare
    if guess > MOST_ROUNDS:
        raise _too_big(order.name, guess)
    if guess < FEWEST_ROUNDS:
        raise _too_short(order.name, outline.length_mm, gauge.round_mm, FEWEST_ROUNDS + spare)
    best = _nearest_in_height(order, gauge, effort, guess)
    # Simple rounds give way where they would cost the part its length.
    for share in (1, 4, 0):
        if _miss(best) <= _allowed_miss(best):
            break
        gentler = replace(effort, weight=effort.weight // share if share else 0)
        best = min(best, *_stretched(order, gauge, gentler, best), key=_miss)
    return best


def _stretched(
    order: WorkOrder, gauge: Gauge, effort: Effort, near: WorkedPart
) -> list[WorkedPart]:
    """The part in as many rounds as ``near``, worked to an outline a little flatter or taller.

    A round more or less changes the height of a flat part by two; this lies between. The fabric
    is as long as its rounds: a flatter outline leaves it more length to rise by.
    """
    found: list[WorkedPart] = []
    number, stretch, part = len(near.rounds), 1.0, near
    for _ in range(3):
        stretch *= part.height_mm / order.outline.height_mm
        try:
            part = _work_rounds(order, gauge, effort, number, stretch)
        except RoundlingError:
            break
        found.append(part)
        if _miss(part) <= 0.5 * gauge.round_mm:
            break
    return found


def _nearest_in_height(
    order: WorkOrder, gauge: Gauge, effort: Effort, guess: int
) -> WorkedPart:
    """The part in ``guess`` rounds or a few more or less, whichever comes nearest in height.

    Half a round is as near as whole rounds come, so the search ends there.
    """
    part = _work_rounds(order, gauge, effort, guess)
    if order.outline.height_mm == 0.0:
        return part
    found = {guess: part}
    for _ in range(3):
        if _miss(part) <= 0.5 * gauge.round_mm:
            break
        number = len(part.rounds) + (1 if part.height_mm < order.outline.height_mm else -1)
        if number in found or number < FEWEST_ROUNDS:
            break
        try:
            part = found[number] = _work_rounds(order, gauge, effort, number)
        except RoundlingError:
            break
    return min(found.values(), key=_miss)


def _miss(part: WorkedPart) -> float:
    """How far the stitched height is from that asked for, mm."""
    return abs(part.height_mm - part.order.outline.height_mm)


def _allowed_miss(part: WorkedPart) -> float:
    """Half a round and half a stitch, or 4 %, whichever is larger, mm."""
    if part.order.outline.height_mm == 0.0:
        return math.inf
    half = 0.5 * (part.gauge.round_mm + part.gauge.stitch_mm)
    return max(half, TOLERANCE * part.order.outline.height_mm)


def _work_rounds(
    order: WorkOrder, gauge: Gauge, effort: Effort, number: int, stretch: float = 1.0
) -> WorkedPart:
    """The part in exactly ``number`` rounds, its outline stretched along the axis."""
    outline = order.outline if stretch == 1.0 else order.outline.stretched(stretch)
    last = outline.length_mm / (number + 1 if outline.closed else number)
    along = last * np.arange(1, number + 1)
    if order.start is Start.CHAIN:
        return _work_oval(order, outline, gauge, effort, along)
    ideals = outline.girth_at(along) / gauge.stitch_mm
    widest = outline.widest_girth_mm / gauge.stitch_mm
    if widest < FEWEST:
        raise _too_small(order.name, outline.widest_mm, widest, FEWEST)
    zone = _zone(order.bulge, along, outline.length_mm)
    counts = _solve(order, ideals, gauge.stitch_mm, effort, even=_evens(zone, number))
    cheeks, bumps = _cheeks(order, gauge, effort, counts, zone, along / outline.length_mm)
    rounds = _write_rounds(counts, cheeks, zone, effort)
    rings = lay_rings(
        np.array(counts) * gauge.stitch_mm, gauge.round_mm, closed=outline.closed
    )
    edges = np.zeros(len(rings.radius_mm))
    edges[1 : number + 1] = bumps
    return WorkedPart(order, gauge, rounds, rings, 0, edges)


def _solve(
    order: WorkOrder, ideals: Floats, stitch_mm: float, effort: Effort, even: tuple[bool, ...]
) -> tuple[int, ...]:
    """Counts for the whole rounds of a part begun on a ring."""
    widest, peak = order.outline.widest_girth_mm / stitch_mm, int(ideals.argmax())
    # The widest lap seldom falls on the edge of a round; the widest round stands for it.
    ideals = np.where(np.arange(len(ideals)) == peak, widest, ideals)
    slack = max(0.5, TOLERANCE * widest)
    ceiling = math.floor(widest + slack)
    lows, highs = _reachable(ideals, FEWEST, ceiling)
    lows[peak] = max(lows[peak], math.ceil(widest - slack))
    lows[0] = highs[0] = max(FEWEST, min(order.ring, ceiling))
    if order.outline.closed:
        lows[-1], highs[-1] = RING_COUNTS[0], RING_COUNTS[-1]
    elif order.end_count is not None:
        lows[-1] = highs[-1] = order.end_count
    problem = CountProblem(
        tuple(ideals.tolist()), tuple(lows), tuple(highs), order.ring, effort.weight, even=even
    )
    chosen = (
        choose_counts(problem)
        or choose_counts(_any_ring(problem, ceiling))
        or choose_counts(_relaxed(_any_ring(problem, ceiling)))
    )
    if chosen is None:
        raise _unworkable(order)
    return chosen.counts


def _reachable(ideals: Floats, fewest: int, most: int) -> tuple[list[int], list[int]]:
    """Lowest and highest count of each round: within reach of its ideal, and within bounds."""
    span = np.maximum(REACH_STITCHES, REACH_SHARE * ideals)
    lows = np.maximum(fewest, np.ceil(ideals - span)).astype(np.int64)
    highs = np.maximum(fewest, np.minimum(most, np.floor(ideals + span))).astype(np.int64)
    return lows.tolist(), highs.tolist()


def _any_ring(problem: CountProblem, ceiling: int) -> CountProblem:
    """The same problem begun on whichever ring it can be worked from."""
    most = max(FEWEST, min(RING_COUNTS[-1], ceiling))
    return replace(
        problem,
        lowest=(RING_COUNTS[0], *problem.lowest[1:]),
        highest=(most, *problem.highest[1:]),
    )


def _relaxed(problem: CountProblem) -> CountProblem:
    """The same problem with room for outlines that widen faster than a round can double."""
    inner = slice(1, len(problem.ideals) - 1)
    lows, highs = list(problem.lowest), list(problem.highest)
    for k in range(*inner.indices(len(lows))):
        lows[k] = max(FEWEST, lows[k] - max(6, lows[k] // 2))
        highs[k] = highs[k] + 2
    return replace(problem, lowest=tuple(lows), highest=tuple(highs))


# --- local shaping -----------------------------------------------------------------------------


def _zone(bulge: Bulge | None, along: Floats, length: float) -> slice | None:
    """Rounds (0-based, a slice) shaped by the bulge, or None when there is no room for one."""
    if bulge is None or bulge.depth_mm <= 0.0:
        return None
    inside = np.flatnonzero((along >= bulge.begin * length) & (along <= bulge.end * length))
    if len(inside) < 4 or inside[0] == 0:
        return None
    return slice(int(inside[0]), int(inside[-1]) + 1)


def _evens(zone: slice | None, number: int) -> tuple[bool, ...]:
    if zone is None:
        return ()
    return tuple(zone.start - 1 <= k < zone.stop for k in range(number))


def _cheeks(
    order: WorkOrder,
    gauge: Gauge,
    effort: Effort,
    counts: tuple[int, ...],
    zone: slice | None,
    along: Floats,
) -> tuple[list[int], Floats]:
    """Stitches of one cheek in each round of the zone (its first entry is the round before), and
    how far the cheeks stand out at each round, mm. ``along`` is each round's place, 0 to 1.

    Face and back stay as they are when the zone begins; the cheeks take all that the outline gains
    or loses there, and their own fullness on top.
    """
    bumps = np.zeros(len(counts))
    if zone is None or order.bulge is None:
        return [], bumps
    bulge, arc = order.bulge, 2.0 * math.pi * order.bulge.arc
    first = round(counts[zone.start - 1] * bulge.arc)
    rest = counts[zone.start - 1] // 2 - first
    plain = [n // 2 - rest for n in counts[zone]]
    where = (along[zone] - bulge.begin) / (bulge.end - bulge.begin)
    depths = bulge.depth_mm * np.sin(math.pi * np.clip(where, 0.0, 1.0)) ** 2
    radii = np.array(counts[zone]) * gauge.stitch_mm / (2.0 * math.pi)
    ideals = [
        n + bump_extra(d, r, arc) / gauge.stitch_mm
        for n, d, r in zip(plain, depths, radii, strict=True)
    ]
    lows = [max(n, math.ceil(i - REACH_STITCHES)) for n, i in zip(plain, ideals, strict=True)]
    highs = [max(n, math.floor(i + REACH_STITCHES)) for n, i in zip(plain, ideals, strict=True)]
    lows[-1] = highs[-1] = plain[-1]
    # Cheeks have no base number of their own: any count is as good as its repeat.
    problem = CountProblem(
        tuple(ideals), tuple(lows), tuple(highs), 1, effort.weight, before=first
    )
    chosen = choose_counts(problem)
    if chosen is None or min(plain) < 1:
        raise _unworkable(order)
    for k, (n, even, r) in enumerate(zip(chosen.counts, plain, radii, strict=True)):
        bumps[zone.start + k] = bump_depth((n - even) * gauge.stitch_mm, float(r), arc)
    return [first, *chosen.counts], bumps


def _write_rounds(
    counts: tuple[int, ...], cheeks: list[int], zone: slice | None, effort: Effort
) -> tuple[Round, ...]:
    """Rounds with their work; in the zone as cheek, face, cheek, back of equal halves."""
    rounds: list[Round] = []
    before, changed = 0, 0
    for k, count in enumerate(counts):
        sectors: tuple[tuple[int, int], ...]
        if zone is not None and zone.start <= k < zone.stop:
            at = k - zone.start
            cheek = (cheeks[at], cheeks[at + 1])
            rest = counts[zone.start - 1] // 2 - cheeks[0]
            sectors = (cheek, (rest, rest), cheek, (rest, rest))
        else:
            sectors = ((before, count),)
        rounds.append(_round(k + 1, before, sectors, effort.staggered and changed % 2 == 1))
        if k > 0 and not rounds[-1].is_even:
            changed += 1
        before = rounds[-1].count
    return tuple(rounds)


def _round(
    number: int, before: int, sectors: tuple[tuple[int, int], ...], staggered: bool
) -> Round:
    count = sum(after for _, after in sectors)
    if before == 0:
        return Round(number, 0, count, sectors, (("sc", count),))
    if len(sectors) == 1:
        return Round(number, before, count, sectors, spread(before, count, staggered))
    work = joined(run for a, b in sectors for run in spread(a, b, staggered))
    return Round(number, before, count, sectors, work)


# --- ovals -------------------------------------------------------------------------------------


def _work_oval(
    order: WorkOrder, outline: Meridian, gauge: Gauge, effort: Effort, along: Floats
) -> WorkedPart:
    """Rounds round a chain: two half turns that grow, two straight sides that do not.

    The first round has 3 stitches in each end chain, so each half turn starts at 3.
    """
    turns = (outline.girth_at(along) - 2.0 * outline.straight_mm) / (2.0 * gauge.stitch_mm)
    widest = (order.outline.widest_girth_mm - 2.0 * outline.straight_mm) / (2 * gauge.stitch_mm)
    turns = np.where(np.arange(len(turns)) == int(turns.argmax()), widest, turns)
    slack = max(0.5, TOLERANCE * widest)
    if widest < 3.0:
        stitches = outline.widest_girth_mm / gauge.stitch_mm
        raise _too_small(order.name, outline.widest_mm, stitches, FEWEST_IN_OVAL)
    lows, highs = _reachable(turns, 3, math.floor(widest + slack))
    lows[0] = highs[0] = 3
    problem = CountProblem(tuple(turns.tolist()), tuple(lows), tuple(highs), 3, effort.weight)
    chosen = choose_counts(problem) or choose_counts(_relaxed(problem))
    if chosen is None:
        raise _unworkable(order)
    # The chain makes up for what the half turns, in whole stitches, are short of or over.
    turns_mm = 2.0 * max(chosen.counts) * gauge.stitch_mm / math.pi
    straight = max(1, round((order.outline.widest_mm - turns_mm) / gauge.stitch_mm))
    rounds: list[Round] = []
    ends = 0
    for k, turn in enumerate(chosen.counts):
        side = (straight, straight)
        sectors = ((ends, turn), side, (ends, turn), side) if k else ((0, 2 * turn + 2 * straight),)
        rounds.append(_round(k + 1, 2 * ends + 2 * straight if k else 0, sectors, False))
        ends = turn
    girths = 2.0 * gauge.stitch_mm * np.array(chosen.counts)
    rings = lay_rings(girths, gauge.round_mm, closed=False)
    return WorkedPart(
        order, gauge, tuple(rounds), rings, straight, np.zeros(len(rings.radius_mm))
    )


# --- refusals ----------------------------------------------------------------------------------


def _too_small(name: str, width_mm: float, stitches: float, fewest: int) -> RoundlingError:
    return RoundlingError(
        asked=f"The {name} would be {width_mm:.0f} mm wide.",
        why=f"That is {stitches:.1f} stitches at its widest, and it needs at least {fewest}.",
        nearest=f"It can be {width_mm * fewest / stitches * 1.02:.0f} mm wide or more, "
        "or use a finer yarn.",
        field=name,
    )


def _too_short(name: str, along_mm: float, round_mm: float, fewest: int) -> RoundlingError:
    return RoundlingError(
        asked=f"The {name} would be {along_mm:.0f} mm long, measured along the fabric.",
        why=f"That is {along_mm / round_mm:.1f} rounds, and it needs at least {fewest}.",
        nearest=f"It can be {fewest * round_mm:.0f} mm long or more, or use a finer yarn.",
        field=name,
    )


def _too_big(name: str, rounds: int) -> RoundlingError:
    return RoundlingError(
        asked=f"The {name} would have {rounds} rounds.",
        why=f"No part may have more than {MOST_ROUNDS}.",
        nearest="Make the toy smaller or use a thicker yarn.",
        field=name,
    )


def _unworkable(order: WorkOrder) -> RoundlingError:
    return RoundlingError(
        asked=f"The {order.name} would be {order.outline.widest_mm:.0f} mm wide and "
        f"{order.outline.height_mm:.0f} mm long.",
        why="Its rounds would have to more than double or more than halve.",
        nearest="Make it longer, or less wide, or use a finer yarn.",
        field=order.name,
    )
