"""What is seen of nets of points: at each spot of a fine raster, the nearest of them.

Parts of a toy are set into each other, so no order of painting is right for all of their facets.
Every net is filled in densely instead, closer than the raster, and of all that falls on one spot
the nearest is kept: where two parts cut through each other, the line between them comes out where
the nearer one changes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from webapp.pictures.views import Net
from webapp.shapes.meridian import Floats

Ints = np.ndarray[tuple[int, ...], np.dtype[np.int64]]

STEP = 0.7
"""How far apart points of a net come to lie, in spots of the raster."""

MOST_STEPS = 80
DEPTH_STEPS = 1 << 30
NOTHING = -1


@dataclass(frozen=True, eq=False)
class Raster:
    """Which net is nearest at each spot (-1 for none), shape (down, right), and how far away its
    nearest point is, mm; ``corner`` is the upper left in mm, ``per_mm`` spots a millimetre."""

    nearest: Ints
    away_mm: Floats
    corner: tuple[float, float]
    per_mm: float

    def spots(self, points: Floats) -> tuple[Ints, Ints]:
        """Row and column of points, shape (..., 3)."""
        columns = np.floor((points[..., 0] - self.corner[0]) * self.per_mm).astype(np.int64)
        rows = np.floor((points[..., 1] - self.corner[1]) * self.per_mm).astype(np.int64)
        return rows, columns


def look(nets: Sequence[Net], per_mm: float) -> Raster:
    """The raster of some nets, with an empty margin of two spots."""
    flat = np.concatenate([net.points.reshape(-1, 3) for net in nets])
    low, high = flat.min(axis=0), flat.max(axis=0)
    corner = (float(low[0]) - 2.0 / per_mm, float(low[1]) - 2.0 / per_mm)
    wide = int((high[0] - low[0]) * per_mm) + 5
    tall = int((high[1] - low[1]) * per_mm) + 5
    # Depth in the high bits, the number of the net in the low ones: the least key is the nearest.
    scale = DEPTH_STEPS / max(float(high[2] - low[2]), 1e-6)
    far = np.iinfo(np.int64).max
    keys = np.full(wide * tall, far, dtype=np.int64)
    for number, net in enumerate(nets):
        points = filled_in(net.points, per_mm)
        columns = ((points[:, 0] - corner[0]) * per_mm).astype(np.int64)
        rows = ((points[:, 1] - corner[1]) * per_mm).astype(np.int64)
        depth = ((points[:, 2] - low[2]) * scale).astype(np.int64)
        np.minimum.at(keys, rows * wide + columns, depth * 1024 + number)
    empty = keys == far
    nearest = np.where(empty, NOTHING, keys % 1024).reshape(tall, wide)
    away = np.where(empty, np.inf, (keys // 1024) / scale + low[2]).reshape(tall, wide)
    return Raster(_without_pinholes(nearest), away, corner, per_mm)


def filled_in(points: Floats, per_mm: float) -> Floats:
    """Points of a net and between them, shape (n, 3): linear, closed round each row."""
    closed = np.concatenate((points, points[:, :1]), axis=1)
    for axis in (0, 1):
        steps = np.hypot(*np.moveaxis(np.diff(closed, axis=axis)[..., :2], -1, 0))
        many = int(np.clip(np.ceil(float(steps.max(initial=0.0)) * per_mm / STEP), 1, MOST_STEPS))
        count = closed.shape[axis]
        at = np.linspace(0.0, count - 1.0, (count - 1) * many + 1)
        before = np.minimum(at.astype(np.int64), count - 2)
        share = (at - before).reshape((-1, 1, 1) if axis == 0 else (1, -1, 1))
        closed = (
            np.take(closed, before, axis=axis) * (1.0 - share)
            + np.take(closed, before + 1, axis=axis) * share
        )
    dense: Floats = closed.reshape(-1, 3)
    return dense


def _without_pinholes(nearest: Ints) -> Ints:
    """Spots that nothing fell on, between spots of one net left and right or above and below."""
    mended = nearest.copy()
    inner = mended[1:-1, 1:-1]
    for a, b in ((nearest[1:-1, :-2], nearest[1:-1, 2:]), (nearest[:-2, 1:-1], nearest[2:, 1:-1])):
        lone = (a == b) & (inner != a) & (a != NOTHING)
        inner[lone] = a[lone]
    return mended
