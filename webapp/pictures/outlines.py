"""Outlines of what is seen, and fine lines along its rounds: from the raster back to lines."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from contourpy import FillType, contour_generator
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


def region(raster: Raster, first: int, last: int) -> BaseGeometry:
    """What is seen of the nets ``first`` to ``last`` together: polygons in the raster's spots, a
    point on each side between two spots."""
    boxes = raster.boxes[first : last + 1]
    left, top = np.maximum(boxes[:, :2].min(axis=0) - 1, 0)
    right, bottom = boxes[:, 2:].max(axis=0) + 2
    window = raster.nearest[top:bottom, left:right]
    own = (window >= first) & (window <= last)
    found = contour_generator(
        z=own.astype(np.float64), name="serial", fill_type=FillType.OuterOffset
    ).filled(0.5, 2.0)
    # A spot's middle is half a spot from its corner.
    shift = np.array([left + 0.5, top + 0.5])
    polygons = []
    for points, offsets in zip(*found, strict=True):
        outer, *holes = (points[a:b] + shift for a, b in zip(offsets, offsets[1:], strict=False))
        polygons.append(shapely.Polygon(outer, holes))
    return shapely.MultiPolygon(polygons)


def rings(seen: BaseGeometry, raster: Raster) -> list[Floats]:
    """Smooth closed outlines of a region, mm, each of shape (points, 2); holes among them."""
    found = []
    for polygon in shapely.get_parts(seen):
        if polygon.area < SMALLEST:
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            if abs(shapely.Polygon(ring).area) < SMALLEST:
                continue
            found.append(_smooth(ring) / raster.per_mm + np.array(raster.corner))
    return found


def _smooth(ring: BaseGeometry) -> Floats:
    """A ring of stairs as an even line: its points averaged."""
    points = shapely.get_coordinates(ring)[:-1]
    half = min(SMOOTH // 2, (len(points) - 1) // 4)
    total = np.cumsum(np.concatenate((points[-half - 1 :], points, points[:half])), axis=0)
    mean = (total[2 * half + 1 :] - total[: -2 * half - 1]) / (2 * half + 1)
    return _thinned(shapely.LinearRing(mean), 0.2)


def round_lines(
    net: Net, number: int, raster: Raster, every: int, slack_mm: float
) -> Iterator[Floats]:
    """The visible stretches of every so-manieth round of a net, mm, each of shape (points, 2)."""
    rounds = np.array(net.rounds)
    ends = np.append(rounds[1:] != rounds[:-1], True) & (rounds % every == 0)
    ends[0] = False
    if not ends.any():
        return
    rows = np.concatenate((net.points[ends], net.points[ends][:, :1]), axis=1)
    share = (np.arange(BETWEEN) / BETWEEN)[:, None]
    here, there = rows[:, :-1, None], rows[:, 1:, None]
    between = (here + (there - here) * share).reshape(len(rows), -1, 3)
    lines = np.concatenate((between, rows[:, -1:]), axis=1)
    down, right = raster.spots(lines)
    shown = np.zeros(down.shape, dtype=bool)
    # Towards an outline a surface falls away steeply, from spot to spot: one beside will do.
    for y, x in AROUND:
        beside = (down + y, right + x)
        own = raster.nearest[beside] == number
        shown |= own & (lines[..., 2] <= raster.away_mm[beside] + slack_mm)
    for line, where in zip(lines[..., :2], shown, strict=True):
        yield from _visible(line, where, raster.per_mm)


def _visible(line: Floats, shown: Ints, per_mm: float) -> Iterator[Floats]:
    if shown.all():
        yield _thinned(shapely.LineString(line), 0.3 / per_mm)
    if shown.all() or not shown.any():
        return
    shortest = SHORTEST / per_mm
    # Begun at a hidden point, no visible stretch is cut in two.
    first = int(np.argmin(shown))
    line, shown = np.roll(line[:-1], -first, axis=0), np.roll(shown[:-1], -first)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], shown, [False])).astype(np.int8)))
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        if b - a > 3 and float(np.hypot(*np.diff(line[a:b], axis=0).T).sum()) > shortest:
            yield _thinned(shapely.LineString(line[a:b]), 0.3 / per_mm)


def _thinned(line: BaseGeometry, by: float) -> Floats:
    thin = shapely.simplify(line, by, preserve_topology=False)
    coordinates: Floats = shapely.get_coordinates(thin)
    return coordinates
