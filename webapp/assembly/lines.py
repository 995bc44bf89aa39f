"""An embroidered line on a part: where it runs over the fabric, and in which rounds and stitches.

    end             end     The middle of the line lies where the mark is placed. From there a
       \\           /        point x across and y up lies so many rounds along the host's outline
        `--middle-'         and so many mm round it, whichever of the two goes up there: a level
                            line stays on one round, or on one stitch of a host that lies down.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from webapp.assembly.frames import FRONT, UP
from webapp.assembly.place import PlacedPart
from webapp.recipes import Mark
from webapp.shapes.meridian import Floats

STEPS = 25
"""Points of a line: odd, so that its middle is one of them."""


@dataclass(frozen=True, eq=False)
class FabricLine:
    """A line on the surface of a part, from its end on the reader's left to that on the right where
    it lies in front.

    ``points`` and ``normals`` are (steps, 3), mm and unit vectors; ``edges`` and ``round_mm``
    (steps,) are where each point lies: the number of the edge, and mm round the part from its
    reference direction. ``rise_mm`` (steps,) is how far above the level of its middle, along the
    fabric. ``along`` says that it runs along the host's axis, so that its width is counted in
    rounds and its height in stitches. ``upwards`` is 1 where the numbers of rounds (if ``along``,
    angles) grow upwards, else -1. ``cut`` says that the part ended before the line did.
    """

    points: Floats
    normals: Floats
    edges: Floats
    round_mm: Floats
    rise_mm: Floats
    along: bool
    upwards: int
    cut: bool


def line_on(host: PlacedPart, mark: Mark, width_mm: float, height_mm: float) -> FabricLine:
    """The line of a mark on its host, ``width_mm`` across and its ends ``height_mm`` above its
    middle."""
    around, edge = math.radians(mark.around), host.edge_at(mark.along)
    _, normal = host.surface(edge, around)
    way, turn = host.tangents(edge, around)
    up = UP - normal * float(UP @ normal)
    if float(up @ up) < 1e-6:
        up = -FRONT
    along = abs(float(turn @ up)) > abs(float(way @ up))
    rising, level = (turn, way) if along else (way, turn)
    upwards = 1 if float(rising @ up) > 0.0 else -1
    rightwards = 1 if float(level @ np.cross(up, normal)) > 0.0 else -1
    x, y = _flat(mark, width_mm, height_mm)
    step, walk = (rightwards * x, upwards * y) if along else (upwards * y, rightwards * x)
    asked = edge + step / host.part.gauge.round_mm
    edges = np.clip(asked, 0.0, float(len(host.part.rounds)))
    points, normals, round_mm = _laid(host, edges, around, walk)
    cut = bool(np.abs(asked - edges).max() > 0.5)
    return FabricLine(points, normals, edges, round_mm, y, along, upwards, cut)


def _flat(mark: Mark, width_mm: float, height_mm: float) -> tuple[Floats, Floats]:
    """The line laid flat: mm across and up from its middle, each (steps,). A parabola, turned so
    that its outer end (the right one in the middle) goes up."""
    t = np.linspace(-1.0, 1.0, STEPS)
    x, y = t * width_mm / 2.0, height_mm * t * t
    outwards = -1.0 if mark.around < 0.0 else 1.0
    c, s = math.cos(math.radians(mark.slant)), math.sin(math.radians(mark.slant)) * outwards
    return x * c - y * s, y * c + x * s


def _laid(
    host: PlacedPart, edges: Floats, around: float, away_mm: Floats
) -> tuple[Floats, Floats, Floats]:
    """Points, outward normals, and mm round the part of points that lie ``away_mm`` of fabric round
    the host from an angle (radians), at the given edges.

    A lap is a circle, or two half turns with straight sides between them.
    """
    part, frame = host.part, host.frame
    whole = np.arange(float(len(part.rings.axial_mm)))
    straight = part.straight_mm / 2.0

    def at(values: Floats) -> Floats:
        return np.interp(edges, whole, values)

    radius = np.maximum(at(part.rings.smooth_mm), part.gauge.stitch_mm / 2.0)
    half_lap = math.pi * radius + 2.0 * straight
    round_mm = around / math.pi * half_lap + away_mm
    walked = (round_mm + half_lap) % (2.0 * half_lap) - half_lap
    beyond = np.abs(walked) - straight
    angle = np.sign(walked) * np.clip(beyond / radius, 0.0, math.pi)
    on_far_side = np.maximum(0.0, beyond - math.pi * radius)
    aside = np.sign(walked) * (np.minimum(np.abs(walked), straight) - on_far_side)
    ref, side = at(host.edge_ref_mm), at(host.edge_side_mm) - straight
    cos, sin = np.cos(angle)[:, None], np.sin(angle)[:, None]
    points = (
        frame.start
        + at(part.rings.axial_mm)[:, None] * frame.axis
        + ref[:, None] * cos * frame.reference
        + (side[:, None] * sin + aside[:, None]) * frame.side
    )
    rise, grow = at(np.gradient(part.rings.axial_mm)), at(np.gradient(part.rings.smooth_mm))
    out = cos * frame.reference + sin * frame.side
    normals = out * rise[:, None] - frame.axis * grow[:, None]
    normals = normals / np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-9)
    return points, normals, round_mm
