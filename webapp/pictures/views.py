"""From where the toy is looked at, and its surfaces piece by piece as they are seen from there."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from webapp.assembly import WorkedToy
from webapp.preview.surfaces import Surface
from webapp.shapes.meridian import Floats

TIP = 9.0
"""Degrees the toy is tipped towards the reader: enough for rounds to be seen as rings."""

APART_TURN, MOST_APART_TURN = 24.0, 60.0


class View(Enum):
    """A picture: the whole toy from a side, or its parts apart."""

    FRONT = "front"
    SIDE = "side"
    BACK = "back"
    APART = "apart"


TURNS = {View.FRONT: 0.0, View.SIDE: 90.0, View.BACK: 180.0}
"""Degrees by which each turns the toy towards the reader's right."""


def turn_of(toy: WorkedToy, view: View) -> float:
    """How far a view turns a toy; apart, one that lies down as far as its own pictures do."""
    return TURNS.get(view, min(max(APART_TURN, toy.recipe.turn), MOST_APART_TURN))


NEARER_MM = 1.5
"""How much nearer what is sewn or stuck on is taken to be, lest its host show through."""


Copy = tuple[str, int, bool]
"""A copy of a part: its name, its number, and whether it is a mirrored twin."""


@dataclass(frozen=True, eq=False)
class Net:
    """A surface as seen: points (rows, segments, 3) as right, down and away from the reader, mm;
    ``rounds`` are those of its rows, empty for eyes and embroidery; of what is ``hollow`` the
    inside can be seen; which way is ``outwards`` is told as by a surface."""

    colour: str
    points: Floats
    rounds: tuple[int, ...]
    outwards: float
    hollow: bool = False


@dataclass(frozen=True, eq=False)
class Piece:
    """One copy of a part with what is fixed to it; a twin is ``mirrored``. It is turned so many
    degrees ``further`` than the toy."""

    part: str
    copy: int
    mirrored: bool
    further: float
    nets: tuple[Net, ...]


def seen(points: Floats, degrees: float) -> Floats:
    """Points of the toy, shape (..., 3), as right, down and away from the reader."""
    turn, tip = math.radians(degrees), math.radians(TIP)
    c, s = math.cos(turn), math.sin(turn)
    right = c * points[..., 0] - s * points[..., 1]
    away = s * points[..., 0] + c * points[..., 1]
    up = points[..., 2]
    down = -(math.cos(tip) * up + math.sin(tip) * away)
    return np.stack((right, down, math.cos(tip) * away - math.sin(tip) * up), axis=-1)


def pieces_of(
    surfaces: Sequence[Surface],
    degrees: float,
    paired: set[str],
    nearer: set[str],
    further: Mapping[Copy, float],
) -> list[Piece]:
    """The pieces of a toy, hosts before what is sewn to them; ``paired`` parts have a twin,
    ``nearer`` ones are sewn on, and some are turned ``further`` than the toy."""
    found: dict[Copy, list[Net]] = {}
    flat = [surface.points.reshape(-1, 3) for surface in surfaces]
    turned = np.split(seen(np.concatenate(flat), degrees), np.cumsum([len(some) for some in flat]))
    for surface, points in zip(surfaces, turned, strict=False):
        # Eyes and embroidery, which have no rounds, stay with the part they are on.
        mirrored = surface.part in paired and float(surface.points[..., 0].mean()) < 0.0
        key = (surface.part, surface.copy, mirrored)
        if key in further:
            points = seen(surface.points, degrees + further[key])
        points = points.reshape(surface.points.shape)
        points[..., 2] -= NEARER_MM * ((surface.part in nearer) + 2.0 * (not surface.rounds))
        net = Net(surface.colour, points, surface.rounds, surface.outwards, surface.hollow)
        found.setdefault(key, []).append(net)
    return [Piece(*key, further.get(key, 0.0), tuple(nets)) for key, nets in found.items()]
