"""Dashed lines from where a part is sewn to where it lies, behind all that is in their way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from webapp.assembly import PlacedPart, WorkedToy
from webapp.paper import number, path_through
from webapp.pictures.apart import MIRROR, Moved
from webapp.pictures.views import Piece, View, seen, turn_of
from webapp.recipes import Seat
from webapp.shapes.meridian import Floats

SHORTEST_MM = 1.0
"""Shorter stretches, on paper, are not drawn."""


def ways(
    toy: WorkedToy,
    pieces: Sequence[Piece],
    shapes: Sequence[BaseGeometry],
    moved: Sequence[Moved],
    scale: float,
) -> Iterator[tuple[Floats, bool]]:
    """What is seen of the line of each piece, mm of the toy, shape (2, 2), and whether it begins
    at its seam; ``shapes`` are the silhouettes before they are moved."""
    lying = [
        shapely.transform(shape, lambda points, by=move.shift: points + by)
        for shape, move in zip(shapes, moved, strict=True)
    ]
    names = [move.name.box for move in moved if move.name is not None]
    for at, (piece, move) in enumerate(zip(pieces, moved, strict=True)):
        if move.way is None:
            continue
        host = toy.placed[piece.part].recipe.place.on
        on = next(shape for other, shape in zip(pieces, lying, strict=True) if other.part == host)
        line = shapely.LineString([_within(on, move.way[0]), _within(lying[at], move.way[1])])
        met = shapely.get_coordinates(shapely.intersection(line, lying[at]))
        there = min((line.project(shapely.Point(point)) for point in met), default=line.length)
        shown = _host_shows(toy, piece)
        hides = [
            shape
            for other, shape in enumerate(lying)
            if other == at or not (shown and pieces[other].part == host)
        ]
        way = substring(line, 0.0, there)
        over = np.array([*hides, *names])
        rest = shapely.difference(way, shapely.union_all(over[shapely.intersects(over, way)]))
        for stretch in shapely.get_parts(rest):
            if stretch.length * scale >= SHORTEST_MM:
                ends: Floats = shapely.get_coordinates(stretch)[[0, -1]]
                yield ends, bool(shown and np.allclose(ends[0], line.coords[0]))


def _within(shape: BaseGeometry, point: Floats) -> Floats:
    """The point of a shape that is nearest to one."""
    nearest: Floats = shapely.get_coordinates(
        shapely.shortest_line(shape, shapely.Point(point))
    )[0]
    return nearest


def _host_shows(toy: WorkedToy, piece: Piece) -> bool:
    """Whether the place where a piece is sewn on is on the reader's side of its host."""
    placed = toy.placed[piece.part]
    if not isinstance(placed, PlacedPart) or placed.recipe.place.seat is not Seat.SURFACE:
        return False
    out = -placed.copies[piece.copy].frame.axis
    out = out * MIRROR if piece.mirrored else out
    return float(seen(out, turn_of(toy, View.APART))[2]) < 0.0


def way_svg(ends: Floats, begins: bool) -> str:
    """A dashed line, with a dot where it begins at a seam."""
    x, y = ends[0].tolist()
    dot = f'<circle cx="{number(x)}" cy="{number(y)}" r=".6"/>' if begins else ""
    return (
        f'<path class="way" d="{path_through(ends)}" fill="none" stroke="currentColor" '
        f'stroke-width=".25" stroke-dasharray="1.4 1"/>{dot}'
    )
