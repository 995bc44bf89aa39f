"""One part from its outline to its rounds.

Edge k of a part lies at s = k h along the outline; a closed part's last edge lies one h before its
far pole and is gathered. How many rounds there are is chosen so that the stitched height, computed
from the whole stitches, comes nearest to the height asked for.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from webapp.errors import RoundlingError
from webapp.rounds.bounds import (
    RING_COUNTS,
    TOLERANCE,
    any_ring,
    bound_by_widest,
    relaxed,
    width_slack,
)
from webapp.rounds.counts import FEWEST, CountProblem, choose_counts
from webapp.rounds.fabric import lay_rings
from webapp.rounds.oval import work_oval
from webapp.rounds.refusals import (
    MOST_ROUNDS,
    MOST_STITCHES,
    legs_too_wide,
    too_big,
    too_short,
    too_small,
    too_wide,
    unworkable,
)
from webapp.rounds.shaping import even_rounds, shape_rounds, zones_of
from webapp.rounds.worked import Effort, Start, WorkedPart, WorkOrder
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

FEWEST_ROUNDS = 2


def opening_count(girth_mm: float, gauge: Gauge, base: int) -> int:
    """Stitches of an opening that two parts share: a multiple of ``base`` where one is near."""
    ideal = girth_mm / gauge.stitch_mm
    neat = base * round(ideal / base)
    return neat if abs(neat - ideal) <= opening_slack(ideal) else round(ideal)


def opening_slack(ideal: float) -> float:
    """How far an opening may be from its ideal of so many stitches, to have a neat count."""
    return max(1.0, TOLERANCE * ideal)


def work_part(order: WorkOrder, gauge: Gauge, effort: Effort) -> WorkedPart:
    """The rounds of a part.

    Raises :class:`RoundlingError` naming the part when it is too small or too large to be worked
    in the round or no counts can be worked.
    """
    outline = order.outline
    spare = 1 if outline.closed else 0
    guess = round(outline.length_mm / gauge.round_mm) - spare
    if guess > MOST_ROUNDS:
        raise too_big(order.name, guess)
    if (widest := outline.widest_girth_mm / gauge.stitch_mm) > MOST_STITCHES:
        raise too_wide(order.name, widest)
    if guess < FEWEST_ROUNDS:
        raise too_short(order.name, outline.length_mm, gauge.round_mm, FEWEST_ROUNDS + spare)
    found = _near_in_height(order, gauge, effort, guess)
    # Simple rounds give way where they would cost the part its length.
    for share in (1, 4, 0):
        if _miss(found[0]) <= _allowed_miss(found[0]):
            break
        gentler = replace(effort, weight=effort.weight // share if share else 0)
        for near in found[:2]:
            found += _stretched(order, gauge, gentler, near)
        found += [_one_more_even(part) for part in found if _can_grow(part)]
        found.sort(key=_miss)
    return found[0]


def _can_grow(part: WorkedPart) -> bool:
    return not part.closed and part.height_mm < part.order.outline.height_mm


def _one_more_even(part: WorkedPart) -> WorkedPart:
    """The part with another round like its last, worked even, at its open edge."""
    last = tuple((after, after) for _, after in part.sectors[-1])
    radii = np.append(part.rings.radius_mm[1:], part.rings.radius_mm[-1])
    rings = lay_rings(
        2.0 * math.pi * radii,
        part.gauge.round_mm,
        closed=False,
        open_start=part.order.open_start,
    )
    shaped = tuple(replace(g, bump_mm=np.append(g.bump_mm, 0.0)) for g in part.shaped)
    return replace(part, sectors=(*part.sectors, last), rings=rings, shaped=shaped)


def _stretched(
    order: WorkOrder, gauge: Gauge, effort: Effort, near: WorkedPart
) -> list[WorkedPart]:
    """The part in as many rounds as ``near``, worked to an outline a little flatter or taller.

    A round more or less changes the height of a flat part by two; this lies between. The fabric
    is as long as its rounds: a flatter outline leaves it more length to rise by.
    """
    found: list[WorkedPart] = []
    number, stretch, part = len(near.sectors), 1.0, near
    for _ in range(3):
        stretch *= min(2.5, max(0.4, part.height_mm / order.outline.height_mm))
        try:
            part = _work_rounds(order, gauge, effort, number, stretch)
        except RoundlingError:
            break
        found.append(part)
        if _miss(part) <= 0.5 * gauge.round_mm:
            break
    return found


def _near_in_height(
    order: WorkOrder, gauge: Gauge, effort: Effort, guess: int
) -> list[WorkedPart]:
    """The part in ``guess`` rounds and a few more or less, the nearest in height first.

    The search ends where another round would only miss by as much on the other side.
    """
    part = _first_that_works(order, gauge, effort, guess)
    found = {len(part.sectors): part}
    if order.outline.height_mm == 0.0:
        return [part]
    for _ in range(3):
        if _miss(part) <= min(0.45 * _one_round(part), 0.9 * _allowed_miss(part)):
            break
        number = len(part.sectors) + (1 if part.height_mm < order.outline.height_mm else -1)
        if number in found or number < FEWEST_ROUNDS:
            break
        try:
            part = found[number] = _work_rounds(order, gauge, effort, number)
        except RoundlingError:
            break
    return sorted(found.values(), key=_miss)


def _one_round(part: WorkedPart) -> float:
    """About how much taller the part would be with another round, mm.

    Fabric that lies flat rises steeply when there is a little more of it: by h^2 over its rise.
    """
    h = part.gauge.round_mm
    rises = np.diff(part.rings.axial_mm)
    return h * float(np.minimum(3.0, h / np.maximum(rises, 1e-9)).mean())


def _first_that_works(
    order: WorkOrder, gauge: Gauge, effort: Effort, guess: int
) -> WorkedPart:
    """The part in ``guess`` rounds, or in one or two more where so few cannot widen enough."""
    try:
        return _work_rounds(order, gauge, effort, guess)
    except RoundlingError as error:
        for number in (guess + 1, guess + 2):
            try:
                return _work_rounds(order, gauge, effort, number)
            except RoundlingError:
                continue
        raise error from None


def _miss(part: WorkedPart) -> float:
    """How far the stitched height is from that asked for, mm."""
    return abs(part.height_mm - part.order.outline.height_mm)


def _allowed_miss(part: WorkedPart) -> float:
    """Half a round and half a stitch, or 4 %, whichever is larger, mm; half a round if held."""
    if part.order.outline.height_mm == 0.0:
        return math.inf
    if "height" in part.order.held:
        return 0.5 * part.gauge.round_mm
    half = 0.5 * (part.gauge.round_mm + part.gauge.stitch_mm)
    return max(half, TOLERANCE * part.order.outline.height_mm)


def _work_rounds(
    order: WorkOrder, gauge: Gauge, effort: Effort, number: int, stretch: float = 1.0
) -> WorkedPart:
    """The part in exactly ``number`` rounds, its outline stretched along the axis."""
    outline = order.outline if stretch == 1.0 else order.outline.stretched(stretch)
    last = outline.length_mm / (number + 1 if outline.closed else number)
    along: Floats = last * np.arange(1.0, number + 1.0)
    if order.start is Start.CHAIN:
        return work_oval(order, outline, gauge, effort, along)
    ideals = outline.girth_at(along) / gauge.stitch_mm
    widest = outline.widest_girth_mm / gauge.stitch_mm
    if widest < FEWEST:
        raise too_small(order.name, outline.widest_mm, widest, FEWEST)
    zones = zones_of(order, along, outline.length_mm)
    counts = _solve(order, ideals, gauge.stitch_mm, effort, even=even_rounds(zones, number))
    shares = along / outline.length_mm
    sectors, shaped = shape_rounds(order, gauge, effort, counts, zones, shares)
    rings = lay_rings(
        np.array(counts) * gauge.stitch_mm,
        gauge.round_mm,
        closed=outline.closed,
        open_start=order.open_start,
    )
    return WorkedPart(order, gauge, sectors, effort.staggered, rings, 0, shaped)


def _solve(
    order: WorkOrder, ideals: Floats, stitch_mm: float, effort: Effort, even: tuple[bool, ...]
) -> tuple[int, ...]:
    """Counts for the whole rounds of a part."""
    widest = order.outline.widest_girth_mm / stitch_mm
    held = "width" in order.held
    ceiling = math.floor(widest + width_slack(widest, held, any(even)))
    if order.open_start:
        # The chain is the opening asked for, and the first round goes into it.
        ideals = np.concatenate(([order.outline.start_girth_mm / stitch_mm], ideals[1:]))
    first = float(ideals[0])
    ideals, lows, highs = bound_by_widest(ideals, widest, FEWEST, held, even)
    if order.start_count is not None:
        if order.start_count > ceiling + 1:
            raise legs_too_wide(order, order.start_count, widest)
        lows[0] = highs[0] = order.start_count
    elif order.open_start:
        lows[0] = max(lows[0], math.ceil(first - opening_slack(first)))
        highs[0] = max(lows[0], min(highs[0], math.floor(first + opening_slack(first))))
    else:
        lows[0] = highs[0] = max(FEWEST, min(order.ring, ceiling))
    if order.outline.closed:
        lows[-1], highs[-1] = RING_COUNTS[0], RING_COUNTS[-1]
    elif order.end_count is not None:
        lows[-1] = highs[-1] = order.end_count
    problem = CountProblem(
        tuple(ideals.tolist()), tuple(lows), tuple(highs), order.ring, effort.weight, even=even
    )
    freer = problem if order.open_start else any_ring(problem, ceiling)
    chosen = choose_counts(problem) or choose_counts(freer) or choose_counts(relaxed(freer))
    if chosen is None:
        raise unworkable(order)
    return chosen.counts
