"""Outlines of what is seen, and fine lines along its rounds: from the raster back to lines."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from webapp.pictures.depth import Ints, Raster
from webapp.pictures.views import Net
from webapp.shapes.meridian import Floats

SMALLEST = 14
"""A region of fewer spots than this is a splinter where two surfaces touch."""

SMOOTH = 7
"""Spots over which an outline is averaged: the raster's stairs are one spot high."""

AROUND = ((0, 0), (0, 1), (1, 0), (0, -1), (-1, 0))

SHORTEST = 16.0
"""A round seen edge on comes out in dashes: stretches shorter than so many spots are left out."""

BETWEEN = 6
"""Points between two of a row when its visible part is looked for."""


def regions(raster: Raster, many: int) -> list[BaseGeometry]:
    """What is seen of each of ``many`` nets: polygons in the raster's spots, with its stairs."""
    boxes: list[list[BaseGeometry]] = [[] for _ in range(many)]
    for net, found in _runs(raster.nearest, many):
        boxes[net] = list(found)
    return [shapely.union_all(own) if own else shapely.Polygon() for own in boxes]


def _runs(nearest: Ints, many: int) -> Iterator[tuple[int, np.ndarray]]:
    """Boxes of the runs of each net, row by row."""
    changed = np.ones(nearest.shape, dtype=bool)
    changed[:, 1:] = nearest[:, 1:] != nearest[:, :-1]
    rows, starts = np.nonzero(changed)
    ids = nearest[rows, starts]
    ends = np.append(starts[1:], 0)
    ends[ends == 0] = nearest.shape[1]
    for net in range(many):
        own = ids == net
        if own.any():
            x1, x2, y = starts[own], ends[own], rows[own]
            yield net, shapely.box(x1, y, x2, y + 1)


def rings(region: BaseGeometry, raster: Raster) -> list[Floats]:
    """Smooth closed outlines of a region, mm, each of shape (points, 2); holes among them."""
    found = []
    for polygon in shapely.get_parts(region):
        if polygon.area < SMALLEST:
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            if abs(shapely.Polygon(ring).area) < SMALLEST:
                continue
            found.append(_smooth(ring) / raster.per_mm + np.array(raster.corner))
    return found


def _smooth(ring: BaseGeometry) -> Floats:
    """A ring of stairs as an even line: the middles of its unit steps, averaged."""
    steps = shapely.get_coordinates(shapely.segmentize(ring, 1.0))[:-1]
    middles = (steps + np.roll(steps, -1, axis=0)) / 2.0
    half = min(SMOOTH // 2, (len(middles) - 1) // 4)
    total = sum(np.roll(middles, shift, axis=0) for shift in range(-half, half + 1))
    line = shapely.LinearRing(np.asarray(total) / (2 * half + 1))
    coordinates: Floats = shapely.get_coordinates(shapely.simplify(line, 0.2))
    return coordinates


def round_lines(
    net: Net, number: int, raster: Raster, every: int, slack_mm: float
) -> Iterator[Floats]:
    """The visible stretches of every so-manieth round of a net, mm, each of shape (points, 2)."""
    rounds = net.rounds
    for row, r in enumerate(rounds):
        ends_here = row + 1 == len(rounds) or rounds[row + 1] != r
        if r % every or not ends_here or row == 0:
            continue
        closed = np.concatenate((net.points[row], net.points[row][:1]))
        at = np.linspace(0.0, len(closed) - 1.0, (len(closed) - 1) * BETWEEN + 1)
        line = np.stack([np.interp(at, np.arange(len(closed)), c) for c in closed.T], axis=1)
        yield from _visible(line, number, raster, slack_mm)


def _visible(line: Floats, number: int, raster: Raster, slack_mm: float) -> Iterator[Floats]:
    rows, columns = raster.spots(line)
    shown = np.zeros(len(line), dtype=bool)
    # Towards an outline a surface falls away steeply, from spot to spot: one beside will do.
    for down, right in AROUND:
        beside = (rows + down, columns + right)
        own = raster.nearest[beside] == number
        shown |= own & (line[:, 2] <= raster.away_mm[beside] + slack_mm)
    if shown.all():
        yield _thinned(line, raster.per_mm)
        return
    shortest = SHORTEST / raster.per_mm
    # Begun at a hidden point, no visible stretch is cut in two.
    first = int(np.argmin(shown))
    line, shown = np.roll(line[:-1], -first, axis=0), np.roll(shown[:-1], -first)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], shown, [False])).astype(np.int8)))
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        if b - a > 3 and float(np.hypot(*np.diff(line[a:b, :2], axis=0).T).sum()) > shortest:
            yield _thinned(line[a:b], raster.per_mm)


def _thinned(line: Floats, per_mm: float) -> Floats:
    whole = shapely.LineString(line[:, :2])
    coordinates: Floats = shapely.get_coordinates(shapely.simplify(whole, 0.3 / per_mm))
    return coordinates
