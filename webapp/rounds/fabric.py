"""The shape that whole stitches make, computed from the counts and never from the outline.

The lap of a round of n stitches has girth n w, hence radius n w / 2 pi. From one round to the
next the fabric is one round height h long along the outline, so it rises sqrt(h^2 - dr^2) along
the axis. Fabric bends; it does not step. Rounds written as 6 more, even, 6 more, even make the
same cone as 3 more each time. So dr is taken from radii smoothed over a few rounds (a binomial
window repeated; past a pole the outline goes on mirrored). Without this a ball written in
multiples of 6 would be computed up to 40 % too short.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from webapp.shapes.meridian import Floats

MOST_PASSES = 4
ROUNDS_PER_PASS = 5
"""One smoothing pass for each 5 rounds of the part, at most 4: with more, flat bodies come out
over 3 % too full; with fewer, balls in multiples of 6 too short (measured, tests/test_shapes)."""


@dataclass(frozen=True, eq=False)
class Rings:
    """Edges of all rounds, the start (and the far pole of a closed part) included.

    ``radius_mm``, ``smooth_mm`` and ``axial_mm`` have shape (edges,): radius as counted, radius as
    the fabric bends, and place along the axis from the start. Edge k is the edge of round k.
    """

    radius_mm: Floats
    smooth_mm: Floats
    axial_mm: Floats

    @property
    def height_mm(self) -> float:
        """Extent along the axis, mm."""
        return float(self.axial_mm[-1])

    @property
    def volume_mm3(self) -> float:
        """Volume of the stacked frusta of round laps, cubic mm."""
        a, b = self.radius_mm[:-1], self.radius_mm[1:]
        return float((math.pi / 3.0 * np.diff(self.axial_mm) * (a * a + a * b + b * b)).sum())


def lay_rings(
    girths_mm: Sequence[float] | Floats,
    round_mm: float,
    *,
    closed: bool,
    open_start: bool = False,
) -> Rings:
    """Rings of a part from the girths of its rounds (mm, straight sides already taken off).

    The chain under an open start is as long as its first round.
    """
    counted = np.asarray(girths_mm, dtype=np.float64) / (2.0 * math.pi)
    start = counted[:1] if open_start else [0.0]
    edges = np.concatenate((start, counted, [0.0] if closed else []))
    smooth = _smoothed(edges, closed=closed, open_start=open_start)
    steps = np.diff(smooth)
    rises = np.sqrt(np.maximum(0.0, round_mm * round_mm - steps * steps))
    return Rings(edges, smooth, np.concatenate(([0.0], np.cumsum(rises))))


def _smoothed(edges: Floats, *, closed: bool, open_start: bool) -> Floats:
    """Radii after the passes; a pole stays on the axis, an opening keeps its radius."""
    passes = min(MOST_PASSES, max(1, len(edges) // ROUNDS_PER_PASS))
    smooth = edges
    for _ in range(passes):
        beyond = -smooth[-2] if closed else 2.0 * smooth[-1] - smooth[-2]
        ahead = 2.0 * smooth[0] - smooth[1] if open_start else -smooth[1]
        padded = np.concatenate(([ahead], smooth, [beyond]))
        smooth = (padded[:-2] + 2.0 * padded[1:-1] + padded[2:]) / 4.0
    return smooth
