"""Local shaping: cheeks, two bulges on opposite sides of a part.

    cheek | face | cheek | back      While the cheeks last a round has four sectors. Face and
                                     back are worked plain; the cheeks take the increases.
"""

from __future__ import annotations

import math

import numpy as np

from webapp.rounds.counts import REACH_STITCHES, CountProblem, choose_counts
from webapp.rounds.fabric import bump_depth, bump_extra
from webapp.rounds.refusals import unworkable
from webapp.rounds.worked import Bulge, Effort, WorkOrder
from webapp.rounds.writing import Sectors
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

SHALLOWEST_MM = 0.5
"""Cheeks that would stand out less than this are left out."""


def bulge_zone(bulge: Bulge | None, along: Floats, length: float) -> slice | None:
    """Rounds (0-based, a slice) shaped by the bulge, or None when there is no room for one."""
    if bulge is None or bulge.depth_mm < SHALLOWEST_MM:
        return None
    inside = np.flatnonzero((along >= bulge.begin * length) & (along <= bulge.end * length))
    if len(inside) < 4 or inside[0] == 0:
        return None
    return slice(int(inside[0]), int(inside[-1]) + 1)


def even_rounds(zone: slice | None, number: int) -> tuple[bool, ...]:
    if zone is None:
        return ()
    return tuple(zone.start - 1 <= k < zone.stop for k in range(number))


def work_cheeks(
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
        raise unworkable(order)
    for k, (n, even, r) in enumerate(zip(chosen.counts, plain, radii, strict=True)):
        bumps[zone.start + k] = bump_depth((n - even) * gauge.stitch_mm, float(r), arc)
    return [first, *chosen.counts], bumps


def round_sectors(
    counts: tuple[int, ...], cheeks: list[int], zone: slice | None
) -> tuple[Sectors, ...]:
    """The sectors of each round: in the zone cheek, face, cheek, back; else one all round."""
    plain: list[Sectors] = [((a, b),) for a, b in zip((0, *counts), counts, strict=False)]
    if zone is None:
        return tuple(plain)
    rest = counts[zone.start - 1] // 2 - cheeks[0]
    for k, cheek in zip(
        range(zone.start, zone.stop), zip(cheeks, cheeks[1:], strict=False), strict=True
    ):
        plain[k] = (cheek, (rest, rest), cheek, (rest, rest))
    return tuple(plain)
