"""Local shaping: increases gathered in an arc of a round, so that the part bulges there.

While a group lasts, its rounds are worked in arcs, from the centre back:

    back | snout | back              one in front
    heel | front | heel              one behind, half of it on each side of the start
    back | hip | front | hip | back  two, mirror images of each other
    cheek | face | cheek | back      wide cheeks at the sides, alone on their part: such rounds
                                     start at one side

A group takes the increases of its own fullness; what the outline gains or loses is shared by all
arcs by their widths. Wide cheeks alone on their part take it all, and the rest is worked plain.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from webapp.rounds.bumps import bent, bump_depth, bump_extra, wave_depth, wave_extra
from webapp.rounds.counts import REACH_STITCHES, CountProblem, choose_counts
from webapp.rounds.refusals import (
    shaped_over_few_rounds,
    shaped_too_narrow,
    shaped_too_steeply,
    unworkable,
)
from webapp.rounds.worked import Bulge, Effort, Shaped, WorkOrder
from webapp.rounds.writing import Sectors
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

SHALLOWEST_MM = 0.5
"""What would stand out less than this is left out."""

FEWEST_ROUNDS = 4
"""Rounds in which a group can come out and go in again."""


@dataclass(frozen=True)
class Zone:
    """The rounds (0-based) that a bulge shapes."""

    bulge: Bulge
    start: int
    stop: int

    @property
    def edges(self) -> slice:
        """These rounds and the one before them."""
        return slice(self.start - 1, self.stop)


@dataclass(frozen=True)
class Arcs:
    """Whole stitches of the arcs of each round of a zone and of the round before it: of one arc of
    the group, and of half of all that lies in front and behind."""

    group: tuple[int, ...]
    front: tuple[int, ...]
    back: tuple[int, ...]


def zones_of(order: WorkOrder, along: Floats) -> tuple[Zone, ...]:
    """Where each bulge is worked, one above the other; ``along`` is each round's place, 0 to 1.

    Raises :class:`RoundlingError` for one that has too few rounds; wide cheeks are left out then,
    without which a small head is still a head.
    """
    zones: list[Zone] = []
    for bulge in sorted(order.bulges, key=lambda bulge: bulge.begin):
        if bulge.depth_mm < SHALLOWEST_MM:
            continue
        first = zones[-1].stop if zones else 0
        inside = np.flatnonzero((along >= bulge.begin) & (along <= bulge.end))
        too_few = len(inside) < FEWEST_ROUNDS or inside[0] == 0
        if too_few and order.side_start:
            continue
        inside = inside[inside >= max(1, first)]
        if len(inside) < FEWEST_ROUNDS:
            raise shaped_over_few_rounds(order, bulge, len(inside), FEWEST_ROUNDS)
        zones.append(Zone(bulge, int(inside[0]), int(inside[-1]) + 1))
    return tuple(zones)


def even_rounds(zones: Sequence[Zone], number: int) -> tuple[bool, ...]:
    """Which rounds have mirrored halves, so that their counts must be even."""
    halved = [zone for zone in zones if zone.bulge.in_two]
    if not halved:
        return ()
    return tuple(any(z.start - 1 <= k < z.stop for z in halved) for k in range(number))


def shape_rounds(
    order: WorkOrder,
    gauge: Gauge,
    effort: Effort,
    counts: tuple[int, ...],
    zones: Sequence[Zone],
    along: Floats,
) -> tuple[tuple[Sectors, ...], tuple[Shaped, ...]]:
    """The sectors of each round, and the groups that are worked in them.

    ``counts`` are those of the outline; a group that would gain no stitch is left out. Raises
    :class:`RoundlingError` for a group that is too narrow or too steep.
    """
    sectors: list[Sectors] = [((a, b),) for a, b in zip((0, *counts), counts, strict=False)]
    shaped: list[Shaped] = []
    edges = len(counts) + (2 if order.outline.closed else 1)
    for zone in zones:
        arcs = _plain_arcs(order, zone, counts)
        fuller = _fuller(order, gauge, effort, zone, arcs, counts, along)
        if fuller == arcs.group and not order.side_start:
            continue
        bumps = np.zeros(edges)
        width = gauge.stitch_mm
        for k, full, plain in zip(
            range(zone.start, zone.stop), fuller[1:], arcs.group[1:], strict=True
        ):
            radius = counts[k] * width / (2.0 * math.pi)
            extra = (full - plain) * width * (1 if zone.bulge.pair else _pieces(zone.bulge))
            depth_of = bump_depth if order.side_start else wave_depth
            bumps[k + 1] = depth_of(extra, radius, 2.0 * math.pi * zone.bulge.arc)
        steps = zip(_laid_out(order, zone, arcs, fuller), range(zone.start, zone.stop), strict=True)
        for laid, k in steps:
            sectors[k] = laid
        if not order.side_start:
            # Fabric bends: an extra stitch here and none there make one even bulge.
            bumps[zone.start : zone.stop + 1] = bent(bumps[zone.start : zone.stop + 1])
        shaped.append(Shaped(zone.bulge, zone.start + 1, zone.stop, bumps))
    return tuple(sectors), tuple(shaped)


def _pieces(bulge: Bulge) -> int:
    """Arcs in a round that belong to the bulge and its twin, if it has one."""
    return 2 if bulge.in_two else 1


def _plain_arcs(order: WorkOrder, zone: Zone, counts: tuple[int, ...]) -> Arcs:
    """The arcs without the group's own fullness."""
    bulge, rounds = zone.bulge, counts[zone.edges]
    if order.side_start:
        # Face and back stay as they are: here front and back are counted whole, not in halves.
        first = round(rounds[0] * bulge.arc)
        rest = rounds[0] // 2 - first
        same = (rest,) * len(rounds)
        return Arcs(tuple(n // 2 - rest for n in rounds), same, same)
    in_front, behind = bulge.rest
    front, back = _halves(rounds, in_front), _halves(rounds, behind)
    pieces = _pieces(bulge)
    group = tuple(
        (n - 2 * f - 2 * b) // pieces for n, f, b in zip(rounds, front, back, strict=True)
    )
    for number, each in enumerate(group, zone.start):
        if each < 1:
            stitches = counts[number - 1] * bulge.arc
            raise shaped_too_narrow(order, bulge, number, stitches)
    return Arcs(group, front, back)


def _halves(rounds: Sequence[int], share: float) -> tuple[int, ...]:
    """Half the stitches of an arc that has so large a share of each round."""
    if share <= 0.0:
        return (0,) * len(rounds)
    halves: list[int] = []
    for n in rounds:
        near = max(1, round(n * share / 2.0))
        if halves:
            near = max((halves[-1] + 1) // 2, min(2 * halves[-1], near))
        halves.append(near)
    return tuple(halves)


def _fuller(
    order: WorkOrder,
    gauge: Gauge,
    effort: Effort,
    zone: Zone,
    arcs: Arcs,
    counts: tuple[int, ...],
    along: Floats,
) -> tuple[int, ...]:
    """Stitches of one arc of the group in the round before the zone and in each of its rounds."""
    bulge, plain = zone.bulge, arcs.group[1:]
    inside = slice(zone.start, zone.stop)
    where = (along[inside] - bulge.begin) / (bulge.end - bulge.begin)
    depths = bulge.depth_mm * np.sin(math.pi * np.clip(where, 0.0, 1.0)) ** 2
    radii = np.array(counts[inside]) * gauge.stitch_mm / (2.0 * math.pi)
    pieces = 1 if bulge.pair else _pieces(bulge)
    extra_of = bump_extra if order.side_start else wave_extra
    ideals = [
        n + extra_of(d, r, 2.0 * math.pi * bulge.arc) / gauge.stitch_mm / pieces
        for n, d, r in zip(plain, depths, radii, strict=True)
    ]
    refusal = unworkable(order) if order.side_start else shaped_too_steeply(order, bulge)
    if min(plain) < 1:
        raise refusal
    lows = [max(n, math.ceil(i - REACH_STITCHES)) for n, i in zip(plain, ideals, strict=True)]
    highs = [max(n, math.floor(i + REACH_STITCHES)) for n, i in zip(plain, ideals, strict=True)]
    lows[-1] = highs[-1] = plain[-1]
    # A group has no base number of its own: any count is as good as its repeat.
    problem = CountProblem(
        tuple(ideals), tuple(lows), tuple(highs), 1, effort.weight, before=arcs.group[0]
    )
    chosen = choose_counts(problem)
    if chosen is None:
        raise refusal
    return (arcs.group[0], *chosen.counts)


def _laid_out(
    order: WorkOrder, zone: Zone, arcs: Arcs, fuller: tuple[int, ...]
) -> Iterator[Sectors]:
    """The sectors of each round of a zone, in working order."""
    steps = [
        list(zip(values, values[1:], strict=False)) for values in (fuller, arcs.front, arcs.back)
    ]
    for group, front, back in zip(*steps, strict=True):
        if order.side_start:
            yield (group, front, group, back)
            continue
        whole = (2 * front[0], 2 * front[1])
        if zone.bulge.pair:
            yield (back, group, whole, group, back)
        elif zone.bulge.in_two:
            yield (group, whole, group)
        else:
            yield (back, group, back)
