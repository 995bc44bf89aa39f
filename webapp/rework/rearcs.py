"""The arcs of a read part in whole stitches anew: each arc has its own ideal counts, and arcs that
were worked alike are worked alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from webapp.rework.choosing import Fixed, choose, price
from webapp.rework.sectors import Zone, zone_with
from webapp.shapes.meridian import Floats

FEWEST_ROUNDS = 2
"""Rounds in which gathered shaping can come to anything."""


@dataclass(frozen=True, eq=False)
class NewZone:
    """A zone to be worked: rounds ``start`` up to ``stop`` (from 0) of the new part, the zone it
    comes from, and the ideal counts of each arc, shape (arcs, rounds + 1), the edge below first."""

    start: int
    stop: int
    old: Zone
    ideals: Floats

    @property
    def classes(self) -> list[list[int]]:
        """Numbers of the arcs that were worked alike, in classes."""
        alike: dict[tuple[int, ...], list[int]] = {}
        for number, arc in enumerate(self.old.arcs):
            alike.setdefault(arc.counts, []).append(number)
        return list(alike.values())

    @property
    def needs_even(self) -> bool:
        """Whether all arcs come in pairs, so that the round below must be even."""
        return all(len(arcs) % 2 == 0 for arcs in self.classes)


def new_zones(
    zones: Sequence[Zone], places: Floats, number: int, factor: float
) -> tuple[list[NewZone], Floats]:
    """The zones that have enough rounds among the new part's, in order; and the places of the read
    edges, moved so that zones begin and end with whole rounds."""
    spans: list[tuple[Zone, int, int]] = []
    for zone in zones:
        start = max(1, round(float(places[zone.start])), spans[-1][2] if spans else 0)
        stop = min(number, round(float(places[zone.stop])))
        if stop - start >= FEWEST_ROUNDS:
            spans.append((zone, start, stop))
    knots = {0: 0.0, len(places) - 1: float(places[-1])}
    for zone, start, stop in spans:
        knots |= {zone.start: float(start), zone.stop: float(stop)}
    at = sorted(knots)
    moved: Floats = np.interp(places, places[at], [knots[edge] for edge in at])
    found: list[NewZone] = []
    for zone, start, stop in spans:
        edges = np.arange(float(start), stop + 1.0)
        inside = moved[zone.start : zone.stop + 1]
        ideals = np.array(
            [factor * np.interp(edges, inside, np.array(arc.counts)) for arc in zone.arcs]
        )
        near = np.rint(ideals)
        ideals = np.where(np.abs(ideals - near) < 1e-6, near, ideals)
        found.append(NewZone(start, stop, zone, ideals))
    return found, moved


def work_zone(
    new: NewZone, below: int, weight: int, last: int | None = None
) -> tuple[Zone, bool] | None:
    """The zone in whole stitches on a round of ``below``, ending with ``last`` if that is given,
    and whether all counts lie near their ideals; None where it cannot be worked."""
    if min(below, below if last is None else last) < len(new.old.arcs):
        return None
    first = _shared_out(new, 0, below)
    ends = None if last is None else _shared_out(new, -1, last)
    rows: list[tuple[int, ...]] = []
    near = True
    for number, ideals in enumerate(new.ideals.tolist()):
        # Like arcs have like ideals and bounds, and the solver gives like answers.
        chosen = choose(
            ideals[1:],
            base=1,
            weight=price(weight, ideals),
            before=first[number],
            fewest=1,
            fixed=Fixed(last=None if ends is None else ends[number]),
        )
        if chosen is None:
            return None
        rows.append((first[number], *chosen[0]))
        near = near and chosen[1]
    owners = [arc.group for arc in new.old.arcs]
    return zone_with(new.start, owners, [list(row) for row in zip(*rows, strict=True)]), near


def _shared_out(new: NewZone, edge: int, count: int) -> list[int]:
    """The stitches of an edge shared out among the arcs by their ideals, like arcs alike as far as
    whole stitches let them."""
    ideals = new.ideals[:, edge]
    shares = [max(1, round(float(n))) for n in ideals]
    classes = sorted(new.classes, key=lambda arcs: (len(arcs), -float(ideals[arcs[0]])))
    left = count - sum(shares)
    for arcs in classes:
        each = int(left / len(arcs))
        each = max(each, 1 - min(shares[arc] for arc in arcs))
        for arc in arcs:
            shares[arc] += each
            left -= each
    widest = sorted(range(len(shares)), key=lambda arc: -shares[arc])
    for arc in widest:
        more = max(left, 1 - shares[arc])
        shares[arc] += more
        left -= more
    return shares
