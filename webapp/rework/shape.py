"""The shape that a read part makes: its rounds as rings of whole stitches, drawn up to where they
can be told.

A part in rounds becomes a :class:`~webapp.rounds.WorkedPart`, so that all that measures and draws
our own parts measures and draws those of other people.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from webapp.reading import Begin, ReadPart
from webapp.rework.ruffles import Finding, lie_of
from webapp.rework.sectors import Group, Zone, part_sectors, zones_of
from webapp.rounds import Bulge, Rings, Shaped, Start, WorkedPart, WorkOrder
from webapp.rounds.bumps import bent, wave_depth
from webapp.rounds.fabric import lay_rings
from webapp.shapes import Meridian
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

STARTS = {
    Begin.RING: Start.RING,
    Begin.CHAIN_RING: Start.OPEN,
    Begin.OVAL: Start.CHAIN,
    Begin.LEGS: Start.LEGS,
    Begin.EDGE: Start.OPEN,
}

LARGEST_RING = 12
"""A first round of more stitches than this, of which nothing is said, is begun at an opening:
rings of 4 to 10 are met in patterns (common practice, no source)."""

IN_TURNS = 6
"""Stitches of an oval's first round that go round its two ends: 3 in each (common practice)."""


@dataclass(frozen=True, eq=False)
class ReadShape:
    """A part as its stitches make it.

    ``part`` is None for a flat piece and for one of which not even the first round is known.
    ``rows`` are the stitches of each row of a flat piece, first row first, else empty. Rounds from
    ``unknown_from`` on (None: none) are not drawn: their counts are not known. ``zones`` are the
    rounds whose shaping is gathered.
    """

    title: str
    gauge: Gauge
    part: WorkedPart | None
    rows: tuple[int, ...] = ()
    unknown_from: int | None = None
    zones: tuple[Zone, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def counts(self) -> tuple[int, ...]:
        """Stitches of each round, or row, that is drawn."""
        return self.part.counts if self.part else self.rows

    @property
    def width_mm(self) -> float:
        """The longest way straight across, from side to side of a round or along a row, mm."""
        if self.part:
            return across_mm(self.part)
        return max(self.rows, default=0) * self.gauge.stitch_mm

    @property
    def height_mm(self) -> float:
        """Extent along the axis, or of the rows one above the other, mm."""
        return self.part.height_mm if self.part else len(self.rows) * self.gauge.round_mm


def across_mm(part: WorkedPart) -> float:
    """The longest way straight across a part, from side to side of a round, mm."""
    radii = part.rings.radius_mm
    edges: Floats = np.arange(float(len(radii)))[:, None]
    turn = np.linspace(0.0, math.pi, 37)
    out = part.stands_out_mm(edges, turn) + part.stands_out_mm(edges, turn + math.pi)
    return float((2.0 * radii[:, None] + out).max()) + part.straight_mm


def quarter_girths(part: WorkedPart) -> tuple[float, ...]:
    """Girths at a quarter, half and three quarters of the height of a part, mm."""
    start = part.counts[0] if part.order.open_start else 0
    edges = np.array((start, *part.counts, *((0,) if part.closed else ())))
    axial = part.rings.axial_mm
    at = np.array([0.25, 0.5, 0.75]) * axial[-1]
    return tuple((np.interp(at, axial, edges) * part.gauge.stitch_mm).tolist())


def known_rounds(part: ReadPart) -> int:
    """How many rounds, from the first on, have a count that is known."""
    counts = part.counts
    return next((k for k, count in enumerate(counts) if not count), len(counts))


def start_of(part: ReadPart) -> Start:
    """How it is begun, in the words of our own parts; legs that do not come out as two with a
    chain between them, and what is not said, are taken by their first round."""
    first = part.counts[0] if part.rounds else None
    if part.begin is Begin.LEGS and (
        first is None or len(part.per_leg) != 2 or first // 2 - part.chain < 3
    ):
        return Start.OPEN
    if part.begin is Begin.OVAL and (first is None or first <= IN_TURNS + 1):
        return Start.RING
    if part.begin in STARTS:
        return STARTS[part.begin]
    return Start.RING if first is not None and first <= LARGEST_RING else Start.OPEN


def straight_of(part: ReadPart) -> int:
    """Stitches of one straight side of an oval, 0 for what is no oval."""
    first = part.counts[0] if part.rounds else None
    if start_of(part) is not Start.CHAIN or first is None:
        return 0
    return min((first - IN_TURNS) // 2, max(1, part.chain - 1 if part.chain else first))


def shape_of(part: ReadPart, gauge: Gauge) -> ReadShape:
    """The shape of a read part at a gauge: whole stitches laid as fabric lies."""
    known = known_rounds(part)
    counts = tuple(count or 0 for count in part.counts[:known])
    unknown = None if known == len(part.rounds) else part.rounds[known].number
    findings = _left_out(part, unknown)
    if part.rows or part.begin is Begin.FLAT:
        return ReadShape(part.title, gauge, None, counts, unknown, (), findings)
    if not counts:
        return ReadShape(part.title, gauge, None, (), unknown, (), findings)
    begun = begun_as(part)
    closed = part.closed and unknown is None
    zones = read_zones(part)
    worked = laid_out(part.title, counts, zones, gauge, begun, closed=closed)
    findings += lie_of(counts, gauge, closed_start=begun.start is Start.RING)
    findings += _one_sided(part, known)
    return ReadShape(part.title, gauge, worked, (), unknown, zones, findings)


@dataclass(frozen=True)
class Begun:
    """How a part is begun: its start, the stitches of one straight side of an oval, and the chain
    between two legs."""

    start: Start
    straight: int = 0
    chain: int = 0


def begun_as(part: ReadPart) -> Begun:
    """How a read part is begun, in the words of our own parts."""
    start = start_of(part)
    return Begun(start, straight_of(part), part.chain if start is Start.LEGS else 0)


def laid_out(
    title: str,
    counts: Sequence[int],
    zones: Sequence[Zone],
    gauge: Gauge,
    begun: Begun,
    *,
    closed: bool,
) -> WorkedPart:
    """A part of whole stitches with its arcs, as its fabric lies."""
    rings = rings_of(plain_counts(counts, zones), gauge, begun.start, begun.straight, closed)
    shaped = tuple(shaped_by(group, rings, gauge) for zone in zones for group in zone.groups)
    return WorkedPart(
        order=WorkOrder(
            name=title,
            outline=_outline(rings, gauge, closed, begun.straight),
            start=begun.start,
            ring=counts[0],
            bulges=tuple(group.bulge for group in shaped),
            start_count=counts[0] if begun.start is Start.LEGS else None,
            chain=begun.chain,
        ),
        gauge=gauge,
        sectors=part_sectors(counts, zones),
        staggered=False,
        rings=rings,
        straight_stitches=begun.straight,
        shaped=shaped,
    )


def plain_counts(counts: Sequence[int], zones: Sequence[Zone]) -> tuple[float, ...]:
    """Stitches of each round without those that stand out in its groups."""
    plain = [float(count) for count in counts]
    for zone in zones:
        for group in zone.groups:
            for edge, extra in enumerate(group.extra, group.first_edge):
                plain[edge - 1] -= max(0.0, extra)
    return tuple(plain)


def rings_of(
    counts: Sequence[float], gauge: Gauge, start: Start, straight: int, closed: bool
) -> Rings:
    """The rings of whole stitches; ``straight`` are those of one straight side."""
    girths = np.maximum(np.array(counts, dtype=np.float64) - 2.0 * straight, 1.0)
    return lay_rings(
        girths * gauge.stitch_mm,
        gauge.round_mm,
        closed=closed,
        open_start=start in (Start.OPEN, Start.LEGS),
    )


def read_zones(part: ReadPart) -> tuple[Zone, ...]:
    """The zones of arcs of a part in rounds, as far as its counts are known."""
    known = part.rounds[: known_rounds(part)]
    first = 1
    if start_of(part) is Start.CHAIN:
        # While an oval's base grows, it grows at its two ends.
        counts = [r.count or 0 for r in known]
        grown = (k for k in range(1, len(counts)) if counts[k] <= counts[k - 1])
        first = next(grown, len(counts))
    return zones_of(known, first)


def shaped_by(group: Group, rings: Rings, gauge: Gauge) -> Shaped:
    """How far a group stands out at each edge, by the stitches it has more than its share."""
    out = np.zeros(len(rings.radius_mm))
    stop = min(group.first_edge + len(group.extra), len(out))
    for edge in range(group.first_edge, stop):
        radius = float(rings.radius_mm[edge])
        more = max(0.0, group.extra[edge - group.first_edge]) * gauge.stitch_mm
        out[edge] = wave_depth(more, radius, 2.0 * math.pi * group.arc)
    if group.extra[-1] < 1.0:
        out[group.first_edge : stop] = bent(out[group.first_edge : stop])
    last = len(out) - 1
    bulge = Bulge(
        begin=group.first_edge / last,
        end=(stop - 1) / last,
        arc=group.arc,
        depth_mm=float(out.max()),
        label="shaping",
        around=group.around,
        pair=False,
    )
    return Shaped(bulge, group.first_edge + 1, stop - 1, out)


def _outline(rings: Rings, gauge: Gauge, closed: bool, straight: int) -> Meridian:
    along: Floats = gauge.round_mm * np.arange(float(len(rings.radius_mm)))
    return Meridian(
        rings.radius_mm, rings.axial_mm, along, closed, straight * gauge.stitch_mm
    )


def _left_out(part: ReadPart, unknown: int | None) -> tuple[Finding, ...]:
    """That some rounds are not drawn."""
    if unknown is None:
        return ()
    last = part.rounds[-1].number
    which = f"round {unknown}" if unknown == last else f"rounds {unknown} to {last}"
    return (
        Finding(
            unknown,
            last,
            f"{part.title or 'The part'}: drawn without {which}; "
            f"how many stitches round {unknown} has cannot be told.",
        ),
    )


def _one_sided(part: ReadPart, known: int) -> tuple[Finding, ...]:
    """That the side on which rounds are worked only in part is longer, which is not drawn."""
    return tuple(
        Finding(
            r.number,
            r.number,
            f"Round {r.number} leaves {r.left} stitches unworked, so the worked side becomes "
            "longer than the other; it is drawn equally long all round.",
        )
        for r in part.rounds[:known]
        if r.left
    )
