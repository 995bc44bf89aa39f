"""Where parts go when they are taken apart: each out from where it is sewn, until it is clear of
all that is there already, its name below it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from webapp.assembly import PlacedPart, WorkedToy
from webapp.pictures.views import Copy, Piece, View, seen, turn_of
from webapp.recipes import Seat
from webapp.shapes.meridian import Floats

CLEAR = 0.035
"""How far parts stay from each other, in sizes of the toy: its longest way across."""

STEP = 0.02
MOST_STEPS = 401
AT_ONCE = 10
"""So many steps are tried at a time."""

ROUND = 4
"""Corners of the clear room round a part are rounded by so many points each quarter."""

SHORTEST = 0.15
"""A direction shorter than this on paper says nothing."""

AT_THE_READER = 0.5
"""What points at the reader is shorter than this on paper: it is taken off to the side."""

END_ON, ASIDE = 0.85, 60.0
"""A part of whose length more than this lies towards the reader is turned so many degrees."""

BESIDE = (Seat.GROUND, Seat.OPENING)
"""Parts below which others hang have their name beside them, all others below them."""

MIRROR = np.array([-1.0, 1.0, 1.0])


@dataclass(frozen=True, eq=False)
class Named:
    """A name in two lines below its piece: the middle of its top, its width and height, all mm of
    the toy."""

    lines: tuple[str, str]
    at: Floats
    width: float
    height: float

    @property
    def box(self) -> BaseGeometry:
        x, y = self.at.tolist()
        half = self.width / 2.0
        return shapely.box(x - half, y, x + half, y + self.height)


@dataclass(frozen=True, eq=False)
class Moved:
    """How far a piece is moved, mm, shape (2,); the dashed line from where it is sewn to where its
    edge has gone, None for what stays; its name; and the box (left, top, right, bottom) of both."""

    shift: Floats
    way: tuple[Floats, Floats] | None
    name: Named | None
    bounds: tuple[float, float, float, float]


def taken_apart(
    toy: WorkedToy,
    pieces: Sequence[Piece],
    shapes: Sequence[BaseGeometry],
    names: Sequence[Named | None],
) -> list[Moved]:
    """Each piece moved clear of those before it; ``shapes`` are their silhouettes, mm."""
    size = max(toy.size.overall_height_mm, toy.size.width_mm, toy.size.depth_mm)
    taken: list[BaseGeometry] = []
    moved: list[Moved] = []
    hosts: dict[str, tuple[Floats, Floats]] = {}
    for number, (piece, shape, name) in enumerate(zip(pieces, shapes, names, strict=True)):
        place = toy.placed[piece.part].recipe.place
        own, at = _with_name(shape, name, 0.4 * CLEAR * size, place.seat in BESIDE)
        host = hosts.get(place.on)
        middle = np.array([shape.centroid.x, shape.centroid.y])
        shift, line = np.zeros(2), None
        if host is not None:
            seam, turned = (_seam(toy, piece, middle, by) for by in (0.0, piece.further))
            start = host[0] + seam - turned
            ways = _ways(toy, piece, seam, host[1], number)
            far = [_clear(own, start, way, taken, size) for way in ways]
            shortest = int(np.argmin(far))
            shift = start + ways[shortest] * far[shortest]
            line = (seam + host[0], turned + shift)
        placed = _shifted(own, shift)
        if name is not None:
            name = replace(name, at=at + shift)
        moved.append(Moved(shift, line, name, placed.bounds))
        hosts.setdefault(piece.part, (shift, middle))
        # Many pieces are tried beside each that lies.
        shapely.prepare(placed)
        taken.append(placed)
    return moved


def _with_name(
    shape: BaseGeometry, name: Named | None, gap: float, beside: bool
) -> tuple[BaseGeometry, Floats]:
    """A piece with the box of its name, and the middle of that box's top."""
    hull = shape.convex_hull
    left, top, right, bottom = hull.bounds
    if name is None:
        return hull, np.zeros(2)
    half = name.width / 2.0
    at = np.array([(left + right) / 2.0, bottom + gap])
    if beside:
        at = np.array([left - half - 2.0 * gap, (top + bottom - name.height) / 2.0])
    box = shapely.box(at[0] - half, at[1], at[0] + half, at[1] + name.height)
    return shapely.union_all([hull, box]), at


def _clear(
    shape: BaseGeometry, start: Floats, way: Floats, taken: Sequence[BaseGeometry], size: float
) -> float:
    """How far along ``way`` a piece has to go."""
    room = shape.buffer(CLEAR * size, quad_segs=ROUND)
    there, corners = np.array(taken), shapely.get_num_coordinates(room)
    for first in range(1, MOST_STEPS, AT_ONCE):
        far = STEP * size * np.arange(first, first + AT_ONCE)
        shifts = np.repeat(start + way * far[:, None], corners, axis=0)
        tried = shapely.transform([room] * AT_ONCE, lambda points, by=shifts: points + by)
        free = ~shapely.intersects(there[:, None], tried).any(axis=0)
        if free.any():
            return float(far[free.argmax()])
    return MOST_STEPS * STEP * size


def _ways(
    toy: WorkedToy, piece: Piece, seam: Floats, of_host: Floats, number: int
) -> list[Floats]:
    """The directions in which a piece may be taken off, on paper, by the shortest: half the way
    it points, half the way its seam lies from the middle of its host. What points at the reader
    may go to either side, too, past whatever is below it."""
    placed = toy.placed[piece.part]
    out = np.zeros(2)
    if placed.recipe.place.seat is Seat.NECK:
        return [np.array([1.0, 0.0])]
    if isinstance(placed, PlacedPart):
        axis = -placed.copies[piece.copy].frame.axis
        # A part ends at its seam, so it points against its axis.
        out = seen(axis * MIRROR if piece.mirrored else axis, turn_of(toy, View.APART))[:2]
        if placed.recipe.place.seat in (Seat.OPENING, Seat.JOINED):
            return [_unit(out, number)]
    if float(np.hypot(*out)) < AT_THE_READER:
        wanted = _unit((seam - of_host) * np.array([2.0, 1.0]), number)
        return [wanted, np.array([-1.0, 0.0]), np.array([1.0, 0.0])]
    return [_unit(out + _unit(seam - of_host, number), number)]


def _unit(way: Floats, number: int) -> Floats:
    """A direction of length 1; to the sides in turn where it has none."""
    length = float(np.hypot(*way))
    if length < SHORTEST:
        return np.array([1.0 if number % 2 else -1.0, 0.0])
    return np.asarray(way / length, dtype=np.float64)


def _seam(toy: WorkedToy, piece: Piece, middle: Floats, further: float) -> Floats:
    """The middle of a piece's sewn edge, on paper, where it is turned further than the toy."""
    placed = toy.placed[piece.part]
    if not isinstance(placed, PlacedPart):
        return middle
    copy = placed.copies[piece.copy]
    point = copy.frame.at(copy.part.height_mm)
    if piece.mirrored:
        point = point * MIRROR
    return np.asarray(seen(point, turn_of(toy, View.APART) + further)[:2], dtype=np.float64)


def end_on(toy: WorkedToy) -> dict[Copy, float]:
    """How much further copies of long parts are turned that would point at or away from the
    reader, to be seen from their side; not those to which others are sewn."""
    found: dict[Copy, float] = {}
    hosts = {placed.recipe.place.on for placed in toy.placed.values()}
    for name, placed in toy.placed.items():
        if name in hosts or not isinstance(placed, PlacedPart):
            continue
        long = placed.part.height_mm > placed.part.widest_mm
        if placed.recipe.place.seat is not Seat.SURFACE or not long:
            continue
        for copy, one in enumerate(placed.copies):
            for mirrored in (False, True) if placed.recipe.place.pair else (False,):
                axis = one.frame.axis * MIRROR if mirrored else one.frame.axis
                if abs(float(seen(axis, turn_of(toy, View.APART))[2])) > END_ON:
                    found[name, copy, mirrored] = ASIDE
    return found


def _shifted(shape: BaseGeometry, shift: Floats) -> BaseGeometry:
    return shapely.transform(shape, lambda points: points + shift)


def hosts_first(pieces: Sequence[Piece], toy: WorkedToy) -> list[Piece]:
    """Pieces in the recipe's order, in which hosts come before what is sewn to them."""
    order: Mapping[str, int] = {part.name: n for n, part in enumerate(toy.recipe.parts)}
    return sorted(pieces, key=lambda piece: (order[piece.part], piece.copy, piece.mirrored))
