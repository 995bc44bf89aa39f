"""What is seen of facets that cut through each other, for a picture painted from the back.

Where one part is set into another no order of painting whole facets is right: they show through
each other in teeth. So each facet is cut into cells about as large as a spot of a raster, the
nearest cell on each spot is kept, and what lies behind another body is not painted. Facets that
are seen in full stay whole; of the others each row of cells gives the stretches that are seen,
and those just beyond, which are painted before all else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from webapp.shapes.meridian import Floats

Ints = np.ndarray[tuple[int, ...], np.dtype[np.int64]]
Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

NOTHING = -1

BEHIND_MM = 2.0
"""What lies so much behind its own body is hidden; less may be the roundness of a facet."""

SLOPE = 1.5
"""The depths of cells on one spot differ by their slope: so many cells of it are allowed."""


@dataclass(frozen=True, eq=False)
class Pieces:
    """What is seen of some facets: ``quads`` (pieces, 4, 3), the facet ``of`` which each is a
    piece, and whether it goes ``under`` the others, to leave no gap beside what hides it."""

    quads: Floats
    of: Ints
    under: Flags


def pieces(quads: Floats, body: Ints, nearer_mm: Floats, cell_mm: float) -> Pieces:
    """The seen pieces of facets (facets, 4, 3), mm, y pointing away from the viewer. ``body``
    (facets) numbers the body that a facet belongs to, ``nearer_mm`` (facets) is how much nearer it
    counts than it lies."""
    low = quads[:, :, (0, 2)].min(axis=(0, 1))
    span = quads[:, :, (0, 2)].max(axis=(0, 1)) - low
    # The last rows stay empty: they are what is beside the first.
    wide, tall = (int(n) + 3 for n in span // cell_mm)
    nearest = np.full(wide * tall, np.inf)
    owner = np.full(wide * tall, NOTHING, dtype=np.int64)
    groups = [*_groups(quads, cell_mm)]
    places = []
    for which, (across, down), _ in groups:
        points = _weights(across, down) @ quads[which]
        x, depth, z = np.moveaxis(points, 2, 0)
        spot = np.floor((z - low[1]) / cell_mm).astype(np.int64) * wide
        spot += np.floor((x - low[0]) / cell_mm).astype(np.int64)
        depth = depth - nearer_mm[which][:, None]
        np.minimum.at(nearest, spot.ravel(), depth.ravel())
        places.append((spot, depth))
    for (which, _, _), (spot, depth) in zip(groups, places, strict=True):
        facet, cell = np.nonzero(depth == nearest[spot])
        owner[spot[facet, cell]] = body[which[facet]]
    found, of, under = [], [], []
    for (which, size, slope), (spot, depth) in zip(groups, places, strict=True):
        own = body[which][:, None]
        near = depth <= nearest[spot] + BEHIND_MM + SLOPE * slope[:, None]
        beside = np.any([owner[spot + step] == own for step in (-1, 1, -wide, wide)], axis=0)
        front = owner[spot] == own
        for seen, below in ((front & near, False), (~front & beside, True)):
            facets, shares = _stretches(seen.reshape(-1, *size[::-1]))
            found.append(_cut(quads[which[facets]], shares))
            of.append(which[facets])
            under.append(np.full(len(facets), below))
    return Pieces(np.concatenate(found), np.concatenate(of), np.concatenate(under))


def _groups(
    quads: Floats, cell_mm: float
) -> Iterator[tuple[Ints, tuple[int, int], Floats]]:
    """Facets that are cut into equally many cells across and down, and how much the depth of
    each changes by a cell."""
    a, b, c, d = np.moveaxis(quads, 1, 0)
    across = _cells(b - a, c - d, cell_mm)
    down = _cells(d - a, c - b, cell_mm)
    slope = np.maximum(np.abs(b - a), np.abs(c - d))[:, 1] / across
    slope = slope + np.maximum(np.abs(d - a), np.abs(c - b))[:, 1] / down
    size = across * (int(down.max()) + 1) + down
    order = np.argsort(size, kind="stable")
    changes = np.flatnonzero(np.diff(size[order])) + 1
    for which in np.split(order, changes):
        yield which, (int(across[which[0]]), int(down[which[0]])), slope[which]


def _cells(one: Floats, other: Floats, cell_mm: float) -> Ints:
    """How many cells go along a side, by the longer of two: powers of 2, for few sizes."""
    flat = [np.hypot(side[:, 0], side[:, 2]) for side in (one, other)]
    least = np.maximum(np.maximum(*flat) / cell_mm, 1.0)
    return np.asarray(2.0 ** np.ceil(np.log2(least)), dtype=np.int64)


def _weights(across: int, down: int) -> Floats:
    """How much of each corner the middle of each cell takes, (cells, 4), row by row."""
    u = ((np.arange(across) + 0.5) / across)[None, :]
    v = ((np.arange(down) + 0.5) / down)[:, None]
    return _corners(u, v).reshape(-1, 4)


def _corners(u: Floats, v: Floats) -> Floats:
    shares = ((1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v)
    return np.stack(np.broadcast_arrays(*shares), axis=-1)


def _stretches(seen: Flags) -> tuple[Ints, Floats]:
    """What is seen of the cells (facets, down, across) of facets: the facet of each stretch, and
    what it takes of its sides (stretches, 4): from and to across, from and to down. Rows of a facet
    that show the same go together."""
    some = np.flatnonzero(seen.any(axis=(1, 2)))
    seen = seen[some]
    facets, down, across = seen.shape
    first = np.ones((facets, down), dtype=bool)
    first[:, 1:] = (seen[:, 1:] != seen[:, :-1]).any(axis=2)
    # The row at which the next different one begins, for each row: from the last one up.
    begins = np.where(first, np.arange(down), down)
    following = np.minimum.accumulate(begins[:, ::-1], axis=1)[:, ::-1]
    ends = np.concatenate((following[:, 1:], np.full((facets, 1), down)), axis=1)
    hidden = np.zeros((facets, down, 1), dtype=bool)
    changes = np.diff(np.concatenate((hidden, seen, hidden), axis=2).astype(np.int8), axis=2)
    changes[~first] = 0
    facet, row, left = np.nonzero(changes == 1)
    right = np.nonzero(changes == -1)[2]
    shares = (left / across, right / across, row / down, ends[facet, row] / down)
    return some[facet], np.stack(shares, axis=1)


def _cut(quads: Floats, shares: Floats) -> Floats:
    """Pieces (pieces, 4, 3) of as many facets, each what it takes of their sides."""
    left, right, top, foot = shares.T
    u = np.stack((left, right, right, left), axis=1)
    v = np.stack((top, top, foot, foot), axis=1)
    return np.asarray(_corners(u, v) @ quads, dtype=np.float64)
