"""Outlines of what is seen, and fine lines along its rounds: from the raster back to lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely
from contourpy import FillType, LineType, SerialContourGenerator, ZInterp
from shapely.geometry.base import BaseGeometry

from webapp.pictures.depth import Flags, Ints, Raster
from webapp.pictures.views import Net
from webapp.shapes.meridian import Floats

SMALLEST = 7
"""A region of fewer spots than this is a splinter where two surfaces touch."""

SMOOTH = 5
"""Spots over which an outline is averaged: the raster's stairs are one spot high."""

THIN = 0.2
"""How far a line may be off for having fewer points, in spots."""

GRID = 64

AROUND = ((0, 0), (0, 1), (1, 0), (0, -1), (-1, 0))

SHORTEST = 11.0
"""A round seen edge on comes out in dashes: stretches shorter than so many spots are left out."""

BETWEEN = 5
"""Points between two of a row when its visible part is looked for."""

Region = list[list[Floats]]
"""What is seen of something: polygons, each of closed rings (points, 2) in the raster's spots, the
outer one first, then those of its holes."""


def regions(raster: Raster, spans: Sequence[tuple[int, int]]) -> list[Region]:
    """What is seen of each span of nets, from its first to its last, a point on each side between
    two spots. The windows in which they are seen are laid side by side, so that the outlines of
    all are found at once."""
    windows = [raster.window(*span) for span in spans]
    room = max((window.shape[1] for _, window in windows), default=1)
    places: list[tuple[int, int]] = []
    x = y = shelf = 0
    for _, window in windows:
        tall, wide = window.shape
        if x + wide > room:
            x, y, shelf = 0, y + shelf, 0
        places.append((x, y))
        x, shelf = x + wide, max(shelf, tall)
    # Whole steps in size, for few grids.
    size = tuple(GRID * (length // GRID + 1) for length in (y + shelf, room))
    own, whose = np.zeros(size), np.zeros(size, np.int16)
    shifts = []
    for number, ((x, y), (corner, window)) in enumerate(zip(places, windows, strict=True)):
        first, last = spans[number]
        part = slice(y, y + window.shape[0]), slice(x, x + window.shape[1])
        own[part], whose[part] = (window >= first) & (window <= last), number
        # A spot's middle is half a spot from its corner.
        shifts.append(corner + np.array([0.5 - x, 0.5 - y]))
    # The class itself: what usually makes it looks for gaps and infinities in every spot first.
    found = SerialContourGenerator(
        *_grid(*size), own, np.zeros(size, dtype=np.bool_), corner_mask=False, quad_as_tri=False,
        fill_type=FillType.OuterOffset, line_type=LineType.Separate, z_interp=ZInterp.Linear,
    ).filled(0.5, 2.0)  # fmt: skip
    seen: list[Region] = [[] for _ in spans]
    for points, offsets in zip(*found, strict=True):
        number = int(whose[int(points[0, 1]), int(points[0, 0])])
        points += shifts[number]
        seen[number].append([points[a:b] for a, b in pairwise(offsets.tolist())])
    return seen


@lru_cache(maxsize=32)
def _grid(tall: int, wide: int) -> tuple[Floats, Floats]:
    """Columns and rows of a raster of this size."""
    across, down = np.meshgrid(np.arange(float(wide)), np.arange(float(tall)))
    return across, down


def rings(seen: Sequence[Region], raster: Raster) -> list[list[Floats]]:
    """Smooth closed outlines of each region, mm, each of shape (points, 2); holes among them."""
    found = [
        (number, _smooth(ring))
        for number, region in enumerate(seen)
        for polygon in region
        if _area(polygon[0]) >= SMALLEST
        for ring in polygon
        if _area(ring) >= SMALLEST
    ]
    smooth: list[list[Floats]] = [[] for _ in seen]
    thin = _thinned([ring for _, ring in found], THIN)
    for (number, _), ring in zip(found, thin, strict=True):
        smooth[number].append(ring / raster.per_mm + np.array(raster.corner))
    return smooth


def silhouettes(seen: Sequence[Region], raster: Raster) -> list[BaseGeometry]:
    """Each region as a shape, mm."""
    polygons = [
        (number, polygon)
        for number, region in enumerate(seen)
        for polygon in region
        if _area(polygon[0]) >= SMALLEST
    ]
    thin = iter(_thinned([ring for _, polygon in polygons for ring in polygon], 2.0 * THIN))
    found: list[list[shapely.Polygon]] = [[] for _ in seen]
    for number, polygon in polygons:
        outer, *holes = (
            next(thin) / raster.per_mm + np.array(raster.corner) for _ in polygon
        )
        found[number].append(shapely.Polygon(outer, holes))
    return [shapely.MultiPolygon(shapes) for shapes in found]


def _area(ring: Floats) -> float:
    x, y = ring.T
    return abs(float(x[:-1] @ y[1:] - x[1:] @ y[:-1])) / 2.0


def _smooth(ring: Floats) -> Floats:
    """A closed ring of stairs as an even line: its points averaged."""
    points = ring[:-1]
    half = min(SMOOTH // 2, (len(points) - 1) // 4)
    total = np.cumsum(np.concatenate((points[-half - 1 :], points, points[: half + 1])), axis=0)
    mean: Floats = (total[2 * half + 1 :] - total[: -2 * half - 1]) / (2 * half + 1)
    return mean


def round_lines(
    nets: Sequence[Net], numbers: Sequence[int], raster: Raster, every: int, slack_mm: float
) -> list[list[Floats]]:
    """The visible stretches of every so-manieth round of each net, mm, each of shape (points, 2);
    ``numbers`` are those of the nets, which all have as many segments, on the raster."""
    rows, of = _rows(nets, every)
    lines: list[list[Floats]] = [[] for _ in nets]
    if not of.size:
        return lines
    share = (np.arange(BETWEEN) / BETWEEN)[:, None]
    here, there = rows[:, :-1, None], rows[:, 1:, None]
    between = (here + (there - here) * share).reshape(len(rows), -1, 3)
    points = np.concatenate((between, rows[:, -1:]), axis=1)
    down, right = raster.spots(points)
    shown = np.zeros(down.shape, dtype=bool)
    own = np.array(numbers)[of][:, None]
    # Towards an outline a surface falls away steeply, from spot to spot: one beside will do.
    for y, x in AROUND:
        beside = (down + y, right + x)
        near = points[..., 2] <= raster.away_mm[beside] + slack_mm
        shown |= near & (raster.nearest[beside] == own)
    found = [*_visible(points[..., :2], shown, SHORTEST / raster.per_mm)]
    thin = _thinned([stretch for _, stretch in found], 1.5 * THIN / raster.per_mm)
    for (row, _), stretch in zip(found, thin, strict=True):
        lines[int(of[row])].append(stretch)
    return lines


def _rows(nets: Sequence[Net], every: int) -> tuple[Floats, Ints]:
    """The last row of every so-manieth round, closed, (rows, segments + 1, 3), and which of the
    nets each is of."""
    rows, of = [np.zeros((0, nets[0].points.shape[1], 3))] if nets else [np.zeros((0, 1, 3))], []
    for number, net in enumerate(nets):
        rounds = np.array(net.rounds)
        ends = np.append(rounds[1:] != rounds[:-1], True) & (rounds % every == 0)
        ends[0] = False
        rows.append(net.points[ends])
        of += [number] * len(rows[-1])
    found = np.concatenate(rows)
    return np.concatenate((found, found[:, :1]), axis=1), np.array(of, dtype=np.int64)


def _visible(lines: Floats, shown: Flags, shortest: float) -> Iterator[tuple[int, Floats]]:
    """The visible stretches of closed lines (lines, points, 2), each with the number of its
    line."""
    whole = shown.all(axis=1)
    for number in np.flatnonzero(whole).tolist():
        yield number, lines[number]
    rows = np.flatnonzero(shown.any(axis=1) & ~whole)
    # Begun at a hidden point, no visible stretch is cut in two.
    many = lines.shape[1] - 1
    first = shown[rows, :-1].argmin(axis=1)
    turned = (first[:, None] + np.arange(many)) % many
    lines, shown = lines[rows[:, None], turned], shown[rows[:, None], turned]
    far = np.hypot(*np.diff(lines, axis=1).transpose(2, 0, 1))
    along = np.concatenate((np.zeros((len(rows), 1)), np.cumsum(far, axis=1)), axis=1)
    closed = np.zeros((len(rows), 1), dtype=bool)
    edges = np.diff(np.concatenate((closed, shown, closed), axis=1).astype(np.int8), axis=1)
    row, begins = np.nonzero(edges == 1)
    ends = np.nonzero(edges == -1)[1]
    long = (ends - begins > 3) & (along[row, ends - 1] - along[row, begins] > shortest)
    for n, a, b in zip(row[long].tolist(), begins[long].tolist(), ends[long].tolist(), strict=True):
        yield int(rows[n]), lines[n, a:b]


def _thinned(lines: Sequence[Floats], by: float) -> list[Floats]:
    """Lines with no more points than it takes to be off by no more than this."""
    if not lines:
        return []
    which = np.repeat(np.arange(len(lines)), [len(line) for line in lines])
    whole = shapely.linestrings(np.concatenate(lines), indices=which)
    thin = shapely.simplify(whole, by, preserve_topology=False)
    points, of = shapely.get_coordinates(thin, return_index=True)
    return np.split(points, np.flatnonzero(np.diff(of)) + 1)
