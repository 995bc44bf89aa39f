"""Shaping that is gathered in places, as the shaping that a part of one's own can have.

A part of one's own has groups in front, behind, or in pairs at both sides. What lies elsewhere, or
for too few rounds, is taken as even all round.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from webapp.reading import ReadPart
from webapp.rework.own_parts import Gathered, evenly
from webapp.rework.sectors import Group, Zone
from webapp.rework.shape import begun_as, plain_counts, read_zones, rings_of, shaped_by
from webapp.rounds.fabric import Rings
from webapp.rounds.worked import CHEEKS, WIDE_ARC, Bulge
from webapp.yarns import Gauge

MIDDLE = 25.0
"""Degrees from the front, or the back, within which a group lies in the middle."""

BEGINS, ENDS, LEAST = (0.05, 0.9), 0.95, 0.05
ARCS = (0.05, 0.45)
"""What a recipe allows: see :mod:`webapp.recipes.loading`."""


@dataclass(frozen=True)
class _Place:
    around: float
    groups: tuple[Group, ...]


def gathered(part: ReadPart, gauge: Gauge) -> Gathered:
    """The shaping of a part in places, and the stitches of each round without what stands out
    there."""
    counts = tuple(r.count or 0 for r in part.rounds)
    begun = begun_as(part)
    kept: list[Zone] = []
    bulges: list[Bulge] = []
    for zone in read_zones(part):
        plain = plain_counts(counts, [zone])
        rings = rings_of(plain, gauge, begun.start, begun.straight, part.closed)
        found = [_bulge(place, rings, gauge) for place in _places(zone.groups)]
        whole = [bulge for bulge in found if bulge is not None]
        apart = all(bulge.begin >= other.end for bulge in whole for other in bulges)
        if whole and len(whole) == len(found) == 1 and apart:
            kept.append(zone)
            bulges += whole
    if not kept:
        return evenly(part, gauge)
    return Gathered(plain_counts(counts, kept), tuple(_labelled(bulges)))


def _labelled(bulges: Sequence[Bulge]) -> Iterator[Bulge]:
    """Each with a label of its own; cheeks are such only where nothing else is gathered."""
    if len(bulges) == 1:
        yield bulges[0]
        return
    for number, bulge in enumerate(bulges, 1):
        yield replace(bulge, label=f"Bulge {number}")


def _places(groups: Sequence[Group]) -> list[_Place]:
    """Groups in front or behind, and a group with its twin at both sides."""
    if len(groups) == 2 and _alike(*groups):
        # Two that are alike lie at both sides, wherever the rounds are begun.
        between = abs(groups[0].around - groups[1].around)
        return [_Place(min(between, 360.0 - between) / 2.0, tuple(groups))]
    return [_Place(_middle(group), (group,)) for group in groups]


def _middle(group: Group) -> float:
    """0 in front, 180 behind; below 0 for one at a side, which can have no such place."""
    if abs(group.around) <= MIDDLE:
        return 0.0
    return 180.0 if abs(group.around) >= 180.0 - MIDDLE else -1.0


def _alike(one: Group, other: Group) -> bool:
    """Whether two groups are as wide and as full as each other, about."""
    most, least = sorted((max(one.extra), max(other.extra)), reverse=True)
    wide, narrow = sorted((one.arc, other.arc), reverse=True)
    return most <= 1.5 * least and wide <= 1.3 * narrow


def _bulge(place: _Place, rings: Rings, gauge: Gauge) -> Bulge | None:
    """The groups of a place as one bulge, a pair or one in the middle; None where there can be
    none."""
    if place.around < 0.0:
        return None
    each = [shaped_by(group, rings, gauge).bulge for group in place.groups]
    begin = max(BEGINS[0], min(b.begin for b in each))
    end = min(ENDS, max(b.end for b in each))
    arc = min(ARCS[1], max(ARCS[0], sum(b.arc for b in each) / len(each)))
    pair = len(each) == 2
    fits = 180.0 * arc < place.around < 180.0 * (1.0 - arc) or not pair
    if begin > BEGINS[1] or end - begin < LEAST or not fits:
        return None
    depth = sum(b.depth_mm for b in each) / len(each)
    at_sides = pair and abs(place.around - 90.0) <= MIDDLE and arc >= WIDE_ARC
    if at_sides:
        return Bulge(begin, end, arc, depth, CHEEKS, 90.0, pair)
    return Bulge(begin, end, arc, depth, "Bulge", place.around, pair)
