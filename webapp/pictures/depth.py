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
from itertools import pairwise

import numpy as np

from webapp.pictures.views import Net
from webapp.shapes.meridian import Floats

Ints = np.ndarray[tuple[int, ...], np.dtype[np.int64]]
Numbers = np.ndarray[tuple[int, ...], np.dtype[np.int16]]
Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

STEP = 0.9
"""How far apart points of a facet come to lie, in spots of the raster."""

AT_ONCE = 1 << 14
"""So many points are filled in at a time, for the sake of memory."""

DEPTH_STEPS = 1 << 30
DIGITS = 16
"""So many binary digits number the nets, as a whole number with its sign has."""

FAR = np.iinfo(np.int64).max
NOTHING = -1


@dataclass(frozen=True, eq=False)
class Raster:
    """Which net is nearest at each spot (-1 for none), shape (down, right), and how far away its
    nearest point is, mm, very far where there is none; ``corner`` is the upper left in mm,
    ``per_mm`` spots a millimetre; ``boxes`` (nets, 4) are the first and last column and row that
    each net could be seen in."""

    nearest: Numbers
    away_mm: Floats
    corner: tuple[float, float]
    per_mm: float
    boxes: Ints

    def window(self, first: int, last: int) -> tuple[Ints, Numbers]:
        """The upper left (column, row) of what the nets ``first`` to ``last`` are seen in, with an
        empty margin, and what is nearest there."""
        boxes = self.boxes[first : last + 1]
        corner = np.maximum(boxes[:, :2].min(axis=0) - 1, 0)
        (left, top), (right, bottom) = corner.tolist(), (boxes[:, 2:].max(axis=0) + 2).tolist()
        return corner, self.nearest[top:bottom, left:right]

    def spots(self, points: Floats) -> tuple[Ints, Ints]:
        """Row and column of points, shape (..., 3)."""
        columns = np.floor((points[..., 0] - self.corner[0]) * self.per_mm).astype(np.int64)
        rows = np.floor((points[..., 1] - self.corner[1]) * self.per_mm).astype(np.int64)
        return rows, columns


def look(nets: Sequence[Net], per_mm: float) -> Raster:
    """The raster of some nets, with an empty margin of two spots."""
    own = [net.points.reshape(-1, 3) for net in nets]
    points, begins = np.concatenate(own), np.cumsum([0, *(len(some) for some in own[:-1])])
    lows, highs = (of.reduceat(points, begins, axis=0) for of in (np.minimum, np.maximum))
    low, high = lows.min(axis=0), highs.max(axis=0)
    corner = low - np.array([2.0 / per_mm, 2.0 / per_mm, 0.0])
    wide, tall = ((high - low)[:2] * per_mm).astype(np.int64) + 5
    # Depth in the high digits, the number of the net in the low ones: the least key is nearest.
    deep = DEPTH_STEPS / max(float(high[2] - low[2]), 1e-6)
    scale = np.array([per_mm, per_mm, deep])
    keys = np.full(tall * wide, FAR, dtype=np.int64)
    for numbers, facets in _filled_in(nets, corner, scale):
        columns, rows, depths = facets.astype(np.int64).transpose(1, 0, 2)
        np.minimum.at(keys, (rows * wide + columns).ravel(), (depths << DIGITS | numbers).ravel())
    # The low digits; nothing's are those of -1.
    nearest = keys.astype(np.int16).reshape(tall, wide)
    keys >>= DIGITS
    away = keys.astype(np.float64).reshape(tall, wide)
    away *= 1.0 / deep
    away += low[2]
    box = np.concatenate((lows[:, :2], highs[:, :2]), axis=1) - np.tile(corner[:2], 2)
    boxes = np.floor(box * per_mm).astype(np.int64)
    mended = _without_pinholes(nearest)
    return Raster(mended, away, (float(corner[0]), float(corner[1])), per_mm, boxes)


def _filled_in(
    nets: Sequence[Net], corner: Floats, scale: Floats
) -> Iterator[tuple[Ints, Floats]]:
    """Numbers of nets (facets,) and points all over their facets (points, 3, facets), in spots and
    steps of depth: facets of about one size at a time, each filled in as densely as it is seen."""
    own = [_facets(net.points if net.hollow else _closed(net.points)) for net in nets]
    facets = np.concatenate(own, axis=2)
    numbers = np.repeat(np.arange(len(nets)), [some.shape[2] for some in own])
    shown = _facing(facets, np.array([net.outwards for net in nets])[numbers])
    shown |= np.array([net.hollow for net in nets])[numbers]
    facets, numbers = facets[..., shown], numbers[shown]
    # Spots need no more than single precision, which is quicker.
    facets = ((facets - corner[:, None]) * scale[:, None]).astype(np.float32)
    a, b, c, d = facets[:, :2]
    down = _steps(np.maximum(_length(c - a), _length(d - b)))
    across = _steps(np.maximum(_length(b - a), _length(d - c)))
    size = down * (int(across.max(initial=0)) + 1) + across
    order = np.argsort(size, kind="stable")
    facets, numbers = facets[..., order], numbers[order]
    changes = (np.flatnonzero(np.diff(size[order])) + 1).tolist()
    for first, last in pairwise([0, *changes, len(order)] if len(order) else []):
        weights = _weights(int(down[order[first]]), int(across[order[first]]))
        most = max(1, AT_ONCE // len(weights))
        for begin in range(first, last, most):
            some = slice(begin, min(begin + most, last))
            corners = facets[..., some].reshape(4, -1)
            points = np.einsum("pc,cn->pn", weights, corners)
            yield numbers[some], points.reshape(len(weights), 3, -1)


def _closed(points: Floats) -> Floats:
    """A net whose ends are drawn together: stuffed, a part that is open where it is sewn on is as
    full there."""
    ends = np.repeat(points[[0, -1]].mean(axis=1, keepdims=True), points.shape[1], axis=1)
    return np.concatenate((ends[:1], points, ends[1:]))


def _facets(points: Floats) -> Floats:
    """The corners of all facets of a net closed round each row, shape (4, 3, facets)."""
    beside = np.roll(points, -1, axis=1)
    corners: Floats = np.stack((points[:-1], beside[:-1], points[1:], beside[1:]))
    return corners.reshape(4, -1, 3).transpose(0, 2, 1)


def _facing(facets: Floats, outwards: Floats) -> Flags:
    """Which facets turn their outside to the reader."""
    x, y = facets[3, :2] - facets[0, :2]
    u, v = facets[2, :2] - facets[1, :2]
    shown: Flags = (x * v - y * u) * outwards <= 0.0
    return shown


def _length(way: Floats) -> Floats:
    length: Floats = np.hypot(way[0], way[1])
    return length


def _steps(length: Floats) -> Ints:
    """Into how many steps a length is cut: whole powers of the root of 2, for few sizes."""
    least = np.maximum(length / STEP, 1.0)
    steps: Ints = np.ceil(2.0 ** (np.ceil(2.0 * np.log2(least)) / 2.0)).astype(np.int64)
    return steps


@lru_cache(maxsize=128)
def _weights(down: int, across: int) -> Floats:
    """How much of each corner each point of a facet takes, (points, 4): corners included."""
    y = ((np.arange(down) + 0.5) / down)[:, None]
    x = ((np.arange(across) + 0.5) / across)[None, :]
    corners = ((1.0 - y) * (1.0 - x), (1.0 - y) * x, y * (1.0 - x), y * x)
    return np.stack([corner.ravel() for corner in corners], axis=1).astype(np.float32)


def _without_pinholes(nearest: Numbers) -> Numbers:
    """Spots that nothing fell on, between spots of one net left and right or above and below."""
    mended = nearest.copy()
    inner = mended[1:-1, 1:-1]
    for a, b in ((nearest[1:-1, :-2], nearest[1:-1, 2:]), (nearest[:-2, 1:-1], nearest[2:, 1:-1])):
        lone = (a == b) & (inner != a) & (a != NOTHING)
        inner[lone] = a[lone]
    return mended
