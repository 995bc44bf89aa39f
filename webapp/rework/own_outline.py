"""An outline through few control points, from the rounds of a read part.

    z      where the fabric of each round lies along the axis, bent as fabric bends
    r      radius of each round, of its girth in whole stitches

Points are rounds of the part, its two ends and its widest round first. The outline through them is
drawn by the very function that draws it for a toy of one's own, and where it is farthest from the
rounds another point is set, until it is nowhere farther off than a share of the girth, or part of
a stitch. That is the insertion form of Douglas and Peucker's line simplification (1973), with the
miss measured along the fabric, as rounds are counted, and a curve for their chords.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from webapp.rounds.fabric import lay_rings
from webapp.shapes import Meridian, build_meridian
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

NEAR_STITCHES = 0.5
NEAR_SHARE = 0.03
"""How far an outline may be from the rounds: half a stitch, or this share of the round."""

AGREE_SHARE = 0.04
"""Rounds agree within a stitch, or this share of the round."""

MOST_POINTS = 40
PATIENCE = 12
"""Points set, or moved, one after the other without coming nearer."""

MOST_NUDGES = 3
LEAST_RISE = 0.02
"""Of a round; an outline goes on along its axis even where fabric lies flat."""


@dataclass(frozen=True)
class Drawn:
    """An outline as a part of one's own has it: ``length`` and ``width`` in mm, ``points`` as
    (share of the length, share of the half width)."""

    length: float
    width: float
    points: tuple[tuple[float, float], ...]

    def meridian(self) -> Meridian:
        lengths = {"length": self.length, "width": self.width}
        return build_meridian("outline", lengths, self.points)


def drawn_through(
    counts: Sequence[float],
    gauge: Gauge,
    *,
    closed: bool,
    open_start: bool,
    worked: Callable[[Drawn], Sequence[int]] | None = None,
    wanted: Sequence[int] = (),
) -> Drawn:
    """The outline of rounds of so many stitches each, as the fabric bends through them.

    ``worked`` gives the counts that a part of this outline is worked to (none where it cannot be).
    With it more points are set, at rounds that come out otherwise than ``wanted``, as counted:
    simple rounds (6 more, even, 6 more) go up and down about the line that the fabric bends to.
    """
    radius, axial = edges_of(counts, gauge, closed=closed, open_start=open_start)
    bent, _ = edges_of(counts, gauge, closed=closed, open_start=open_start, bent=True)
    first = {0, len(radius) - 1, int(radius.argmax())}
    if len(first) < 3:
        first.add(len(radius) // 2)
    chosen = set(first)
    drawn = _fitted(chosen, bent, axial, gauge)
    if worked is None:
        return drawn
    got = worked(drawn)
    best, least = drawn, off_by(got, wanted)
    nudged: Counter[int] = Counter()
    idle = 0
    while idle < PATIENCE:
        if least <= 1.0:
            return best
        counted = {k for k in chosen if bent[k] == radius[k]}
        done = {k for k, times in nudged.items() if times == MOST_NUDGES}
        wrong = next(_wrong(got, wanted, set(nudged) | counted), None)
        wrong = wrong or next(_wrong(got, wanted, done), None)
        if wrong is None:
            break
        if wrong in counted or wrong in nudged:
            # As counted it comes out otherwise all the same: past it, half as far again.
            more = (wanted[wrong - 1] - got[wrong - 1]) * gauge.stitch_mm / (2.0 * math.pi)
            bent[wrong] = min(bent[wrong] + 0.5 * more, float(radius.max()))
            nudged[wrong] += 1
        else:
            chosen.add(wrong)
            bent[wrong] = radius[wrong]
        drawn = _through(sorted(chosen), bent, axial)
        got = worked(drawn)
        miss = off_by(got, wanted)
        idle = 0 if miss < least else idle + 1
        if miss < least:
            best, least = drawn, miss
    for begun_with in (first, chosen):
        drawn = _fitted(set(begun_with), radius, axial, gauge)
        miss = off_by(worked(drawn), wanted)
        if miss < least:
            best, least = drawn, miss
    return best


def off_by(got: Sequence[int], wanted: Sequence[int]) -> float:
    """How far rounds are from those wanted, 1 being the most that agrees: a stitch, or 4 % of the
    round; endless where there are more or fewer rounds."""
    if len(got) != len(wanted):
        return math.inf
    return max(
        (abs(a - b) / max(1.0, AGREE_SHARE * b) for a, b in zip(got, wanted, strict=True)),
        default=0.0,
    )


def _wrong(got: Sequence[int], wanted: Sequence[int], done: set[int]) -> Iterator[int]:
    """The edges whose rounds do not agree, but for those that are done."""
    for k, (a, b) in enumerate(zip(got, wanted, strict=False), 1):
        if abs(a - b) > max(1.0, AGREE_SHARE * b) and k not in done:
            yield k


def _fitted(chosen: set[int], radius: Floats, axial: Floats, gauge: Gauge) -> Drawn:
    """The outline through ``chosen`` edges and as many more as it needs to be near all others;
    they are added to ``chosen``."""
    wanted = 2.0 * math.pi * radius / gauge.stitch_mm
    near = np.maximum(NEAR_STITCHES, NEAR_SHARE * wanted)
    while True:
        drawn = _through(sorted(chosen), radius, axial)
        miss = np.abs(_stitches_at_edges(drawn, len(radius), gauge) - wanted) / near
        miss[sorted(chosen)] = 0.0
        worst = int(miss.argmax())
        if miss[worst] <= 1.0 or len(chosen) >= MOST_POINTS:
            return drawn
        chosen.add(worst)


def edges_of(
    counts: Sequence[float], gauge: Gauge, *, closed: bool, open_start: bool, bent: bool = False
) -> tuple[Floats, Floats]:
    """Radius and place along the axis of every edge, mm; both of shape (edges,)."""
    girths = np.array(counts, dtype=np.float64) * gauge.stitch_mm
    rings = lay_rings(girths, gauge.round_mm, closed=closed, open_start=open_start)
    rises = np.maximum(np.diff(rings.axial_mm), LEAST_RISE * gauge.round_mm)
    radius = rings.radius_mm
    if bent:
        # The widest round, and openings, are what is measured and sewn: they stay as counted.
        ends = np.isin(np.arange(len(radius)), (0, len(radius) - 1))
        radius = np.where(ends | (radius == radius.max()), radius, rings.smooth_mm)
    return radius, np.concatenate(([0.0], np.cumsum(rises)))


def _stitches_at_edges(drawn: Drawn, edges: int, gauge: Gauge) -> Floats:
    """Girths in stitches where the rounds would lie, evenly along the fabric; shape (edges,)."""
    outline = drawn.meridian()
    along: Floats = np.linspace(0.0, outline.length_mm, edges)
    return outline.girth_at(along) / gauge.stitch_mm


def _through(chosen: Sequence[int], radius: Floats, axial: Floats) -> Drawn:
    length, half = float(axial[-1]), float(radius.max())
    points = [
        [round(float(axial[k]) / length, 4), round(float(radius[k]) / half, 4)] for k in chosen
    ]
    # Rounding must not make two points one.
    for before, point in zip(points, points[1:], strict=False):
        point[0] = round(max(point[0], before[0] + 0.0001), 4)
    points[0][0], points[-1][0] = 0.0, 1.0
    return Drawn(
        round(length, 1), round(2.0 * half, 1), tuple((a, b) for a, b in points)
    )
