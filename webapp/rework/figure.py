"""What was read, drawn: its parts side by side on the floor, for the 3D view and as a still."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from webapp.assembly import FRONT, RIGHT, UP, Frame, half_widths
from webapp.preview import Surface
from webapp.preview.figure import figure_of as figure_of_surfaces
from webapp.preview.still import SIDE_TURN, still_of
from webapp.preview.surfaces import net_of
from webapp.reading import ReadPattern
from webapp.rework.shape import ReadShape, shape_of
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

COLOURS = ("#c98b6b", "#8fa68a", "#d9b36c", "#8f9fb8", "#b98aa0", "#a89a7c")
"""One after the other, so that neighbours differ: our own, of one lightness."""

GAP = 0.2
"""Of the widest part, between neighbours."""

THICK = 0.3
"""Half the thickness of a flat piece, in stitch widths."""


def figure_of(pattern: ReadPattern, gauge: Gauge) -> dict[str, Any]:
    """Data for plotly of all parts that can be drawn (``data``, ``reach`` and ``hover`` as of our
    own toys); no mesh where there is none."""
    surfaces = surfaces_of(shapes_of(pattern, gauge))
    if not surfaces:
        return {"data": [], "reach": [[-1.0, 1.0]] * 3, "hover": []}
    return figure_of_surfaces(surfaces)


def still_svg_of(pattern: ReadPattern, gauge: Gauge) -> str:
    """The same as a picture, from the front and from the side; empty where there is nothing."""
    surfaces = surfaces_of(shapes_of(pattern, gauge), segments=24, ridged=False)
    title = pattern.title or "The pattern"
    turns = {"front": 0.0, "side": SIDE_TURN}
    return still_of(surfaces, set(), title, turns) if surfaces else ""


def shapes_of(pattern: ReadPattern, gauge: Gauge) -> tuple[ReadShape, ...]:
    """The shape of each part."""
    return tuple(shape_of(part, gauge) for part in pattern.parts)


def surfaces_of(
    shapes: tuple[ReadShape, ...], *, segments: int = 32, ridged: bool = True
) -> list[Surface]:
    """The parts in a row from left to right, each on the floor; those of which nothing can be told
    are left out."""
    drawn = [(n, shape) for n, shape in enumerate(shapes) if shape.counts]
    names = part_names(shapes)
    gap = GAP * max((shape.width_mm for _, shape in drawn), default=0.0)
    surfaces: list[Surface] = []
    left = 0.0
    for n, shape in drawn:
        surface = _surface(shape, names[n], COLOURS[n % len(COLOURS)], segments, ridged)
        low = surface.points.min(axis=(0, 1))
        high = surface.points.max(axis=(0, 1))
        shift = np.array([left - low[0], -(low[1] + high[1]) / 2.0, -low[2]])
        surface.points[...] += shift
        surfaces.append(surface)
        left += float(high[0] - low[0]) + gap
    return surfaces


def part_names(shapes: tuple[ReadShape, ...]) -> tuple[str, ...]:
    """A name for each part, no two the same: its title, numbered where it comes again."""
    names: list[str] = []
    for number, shape in enumerate(shapes, 1):
        name, again = shape.title or f"Part {number}", 2
        while name in names:
            name, again = f"{shape.title or 'Part'} ({again})", again + 1
        names.append(name)
    return tuple(names)


def _surface(
    shape: ReadShape, name: str, colour: str, segments: int, ridged: bool
) -> Surface:
    if shape.part is None:
        return _flat(shape, name, colour)
    part = shape.part
    frame = Frame(np.zeros(3), UP, FRONT, RIGHT)
    points, raised, rounds, _ = net_of(part, frame, half_widths(part), segments, ridged)
    numbers = tuple(max(1, n) for n in rounds.tolist())
    return Surface(
        name,
        name,
        colour,
        points,
        raised,
        numbers,
        tuple(part.counts[n - 1] for n in numbers),
        hollow=part.order.open_start or not part.closed,
    )


def _flat(shape: ReadShape, name: str, colour: str) -> Surface:
    """A flat piece standing up: each row is a thin ellipse as wide as its stitches."""
    rows = shape.rows
    numbers = (1, *range(1, len(rows) + 1))
    counts = tuple(rows[n - 1] for n in numbers)
    width, height = shape.gauge.stitch_mm, shape.gauge.round_mm
    turn = np.linspace(0.0, 2.0 * math.pi, 12, endpoint=False)
    half: Floats = np.array(counts) * width / 2.0
    up: Floats = height * np.arange(float(len(numbers)))
    points = (
        half[:, None, None] * np.cos(turn)[None, :, None] * RIGHT
        + THICK * width * np.sin(turn)[None, :, None] * FRONT
        + up[:, None, None] * UP
    )
    raised: Floats = (np.arange(len(numbers)) % 2).astype(np.float64)
    return Surface(name, name, colour, points, raised, numbers, counts)
