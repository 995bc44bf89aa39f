"""What is seen of nets of points: at each spot of a fine raster, the nearest of them.

Parts of a toy are set into each other, so no order of painting is right for all of their facets.
Every facet is filled in with points instead, closer than the raster, and of all that falls on one
spot the nearest is kept: where two parts cut through each other, the line between them comes out
where the nearer one changes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from webapp.pictures.views import Net
from webapp.shapes.meridian import Floats

Ints = np.ndarray[tuple[int, ...], np.dtype[np.int64]]

STEP = 0.7
"""How far apart points of a facet come to lie, in spots of the raster."""

AT_ONCE = 1 << 17
"""So many points are filled in at a time, for the sake of memory."""

DEPTH_STEPS = 1 << 30
NOTHING = -1


@dataclass(frozen=True, eq=False)
class Raster:
    """Which net is nearest at each spot (-1 for none), shape (down, right), and how far away its
    nearest point is, mm; ``corner`` is the upper left in mm, ``per_mm`` spots a millimetre;
    ``boxes`` (nets, 4) are the first and last column and row that each net could be seen in."""

    nearest: Ints
    away_mm: Floats
    corner: tuple[float, float]
    per_mm: float
    boxes: Ints

    def spots(self, points: Floats) -> tuple[Ints, Ints]:
        """Row and column of points, shape (..., 3)."""
        columns = np.floor((points[..., 0] - self.corner[0]) * self.per_mm).astype(np.int64)
        rows = np.floor((points[..., 1] - self.corner[1]) * self.per_mm).astype(np.int64)
        return rows, columns


def look(nets: Sequence[Net], per_mm: float) -> Raster:
    """The raster of some nets, with an empty margin of two spots."""
    lows = np.array([net.points.min(axis=(0, 1)) for net in nets])
    highs = np.array([net.points.max(axis=(0, 1)) for net in nets])
    low, high = lows.min(axis=0), highs.max(axis=0)
    corner = low - np.array([2.0 / per_mm, 2.0 / per_mm, 0.0])
    wide, tall = ((high - low)[:2] * per_mm).astype(np.int64) + 5
    # Depth in the high digits, the number of the net in the low ones: the least key is nearest.
    deep = DEPTH_STEPS / max(float(high[2] - low[2]), 1e-6)
    scale = np.array([per_mm, per_mm, deep])
    far = np.iinfo(np.int64).max
    keys = np.full(tall * wide, far, dtype=np.int64)
    for numbers, points in _filled_in(nets, corner, scale):
        spots = points[..., 1].astype(np.int64) * wide + points[..., 0].astype(np.int64)
        found = points[..., 2].astype(np.int64) * len(nets) + numbers[:, None]
        np.minimum.at(keys, spots.ravel(), found.ravel())
    empty = keys == far
    nearest = np.where(empty, NOTHING, keys % len(nets)).reshape(tall, wide)
    away = np.where(empty, np.inf, (keys // len(nets)) / deep + low[2]).reshape(tall, wide)
    box = np.concatenate((lows[:, :2], highs[:, :2]), axis=1) - np.tile(corner[:2], 2)
    boxes = np.floor(box * per_mm).astype(np.int64)
    mended = _without_pinholes(nearest)
    return Raster(mended, away, (float(corner[0]), float(corner[1])), per_mm, boxes)


def _filled_in(
    nets: Sequence[Net], corner: Floats, scale: Floats
) -> Iterator[tuple[Ints, Floats]]:
    """Numbers of nets (facets,) and points all over their facets (facets, points, 3), in spots and
    steps of depth: facets of about one size at a time, each filled in as densely as it is seen."""
    facets = np.concatenate([_facets(net.points) for net in nets])
    facets = (facets - corner) * scale
    numbers = np.repeat(np.arange(len(nets)), [_many(net.points) for net in nets])
    a, b, c, d = np.moveaxis(facets[..., :2], 1, 0)
    down = _steps(np.maximum(_length(c - a), _length(d - b)))
    across = _steps(np.maximum(_length(b - a), _length(d - c)))
    sizes, which = np.unique(down * (int(across.max()) + 1) + across, return_inverse=True)
    order = np.argsort(which, kind="stable")
    for own in np.split(order, np.cumsum(np.bincount(which))[: len(sizes) - 1]):
        weights = _weights(int(down[own[0]]), int(across[own[0]]))
        most = max(1, AT_ONCE // len(weights))
        for first in range(0, len(own), most):
            some = own[first : first + most]
            yield numbers[some], weights @ facets[some]


def _many(points: Floats) -> int:
    return int((points.shape[0] - 1) * points.shape[1])


def _facets(points: Floats) -> Floats:
    """The corners of all facets of a net closed round each row, shape (facets, 4, 3)."""
    beside = np.roll(points, -1, axis=1)
    found: Floats = np.stack((points[:-1], beside[:-1], points[1:], beside[1:]), axis=2)
    return found.reshape(-1, 4, 3)


def _length(way: Floats) -> Floats:
    length: Floats = np.hypot(way[..., 0], way[..., 1])
    return length


def _steps(length: Floats) -> Ints:
    """Into how many steps a length is cut: whole powers of the root of 2, for few sizes."""
    least = np.maximum(length / STEP, 1.0)
    steps: Ints = np.ceil(2.0 ** (np.ceil(2.0 * np.log2(least)) / 2.0)).astype(np.int64)
    return steps


@lru_cache(maxsize=128)
def _weights(down: int, across: int) -> Floats:
    """How much of each corner each point of a facet takes, (points, 4): corners included."""
    y = np.linspace(0.0, 1.0, down + 1)[:, None]
    x = np.linspace(0.0, 1.0, across + 1)[None, :]
    corners = ((1.0 - y) * (1.0 - x), (1.0 - y) * x, y * (1.0 - x), y * x)
    return np.stack([corner.ravel() for corner in corners], axis=1)


def _without_pinholes(nearest: Ints) -> Ints:
    """Spots that nothing fell on, between spots of one net left and right or above and below."""
    mended = nearest.copy()
    inner = mended[1:-1, 1:-1]
    for a, b in ((nearest[1:-1, :-2], nearest[1:-1, 2:]), (nearest[:-2, 1:-1], nearest[2:, 1:-1])):
        lone = (a == b) & (inner != a) & (a != NOTHING)
        inner[lone] = a[lone]
    return mended
