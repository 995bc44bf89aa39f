"""What a new part is like before anybody has set its lengths.

The figures are ours, chosen by eye so that a new part is plain to see beside its host.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from webapp.own.naming import Data
from webapp.own.values import rounded
from webapp.recipes.openings import ALWAYS_OPEN
from webapp.shapes import RATIOS, SHAPES

HOST_WIDTH = 70.0
"""mm; the width of a host beside which the lengths below look right."""

LENGTHS: Mapping[str, Mapping[str, float]] = {
    "ball": {"width": 36, "opening": 22},
    "egg": {"height": 42, "width": 36, "widest": 0.5, "opening": 20},
    "pear": {"height": 46, "width": 38, "top": 25, "opening": 18},
    "tube": {"length": 55, "width": 24},
    "sleeve": {"length": 30, "width": 30},
    "cone": {"height": 40, "width": 32},
    "dome": {"height": 26, "width": 36},
    "disc": {"width": 36},
    "oval": {"length": 44, "width": 30, "height": 10},
    "ear": {"length": 46, "width": 26, "opening": 16, "widest": 0.5, "flatness": 0.35},
    "outline": {"length": 46, "width": 32},
    "strip": {"length": 260, "width": 14},
}
"""mm, ratios without unit, by shape."""

ROUND = ("ball", "egg", "pear", "outline")
"""Shapes of bodies and heads; the others are limbs and what is sewn on."""

GROWN = 2.0
"""How much larger a part is that the toy stands on, or a head."""

POINTS: tuple[tuple[float, float], ...] = ((0, 0), (0.15, 0.6), (0.5, 1), (0.85, 0.7), (1, 0.45))
FILLINGS = {"tube": "light", "cone": "light", "oval": "light"}
AROUND = (90, -90, 45, -45, 135, -135)
"""Degrees; where parts sewn onto a side go, one after the other."""


def with_opening(shape: str) -> bool:
    """Whether the opening of such a part is a length of its own, so that two can be matched."""
    return shape in ("ball", "egg", "pear")


def filling_of(shape: str) -> str:
    return "firm" if shape in ROUND else FILLINGS.get(shape, "none")


def lengths_of(shape: str, scale: float, opening: bool = True) -> dict[str, int | float]:
    """Lengths (mm) and ratios of a new part, ``scale`` times the usual; closed where asked for
    and where such a part can be."""
    return {
        key: value if key in RATIOS else rounded(value * scale)
        for key, value in LENGTHS[shape].items()
        if key != "opening" or opening or key in SHAPES[shape].needs
    }


def points_of(opening: bool) -> list[list[float]]:
    points = [list(point) for point in POINTS]
    if not opening:
        points[-1][1] = 0
    return points


def is_open(part: Mapping[str, Any]) -> bool:
    """Whether a part as data ends in an open edge."""
    points = part.get("points")
    if points:
        return bool(points[-1][1:]) and str(points[-1][1]) not in ("0", "0.0")
    return part.get("shape") in ALWAYS_OPEN or "opening" in part.get("lengths", {})


def is_begun_open(part: Mapping[str, Any]) -> bool:
    """Whether a part as data is begun at an opening."""
    points = part.get("points")
    if points:
        return bool(points[0][1:]) and str(points[0][1]) not in ("0", "0.0")
    return part.get("shape") == "sleeve" or "start" in part.get("lengths", {})


def surface_place(host: str, shape: str, others: int) -> Data:
    """On the side of the host, clear of as many others."""
    around = AROUND[others % len(AROUND)]
    place: Data = {"seat": "surface", "on": host, "along": 0.5, "around": around}
    place |= {"tilt": 0, "swing": around}
    return place | ({"lies_flat": True} if shape == "disc" else {})
