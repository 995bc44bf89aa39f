"""The part shapes: what lengths each is given by, and its outline.

To add a shape write one function from lengths (mm) to a :class:`Meridian` and enter it in
``SHAPES`` with the names of its lengths; a test fails until it is compared with a mesh.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from webapp.errors import RoundlingError
from webapp.shapes.meridian import Floats, Meridian, meridian_through, width_per_girth

ARC_POINTS = 48
"""Points in a quarter turn: the polyline is short of the arc by less than 5 parts in 100,000."""

RATIOS = ("widest", "cap", "flatness")
"""Lengths of shapes that are no lengths but a share of another."""

_QUARTER = np.linspace(0.0, math.pi / 2.0, ARC_POINTS)
_SIN, _COS = np.sin(_QUARTER), np.cos(_QUARTER)


@dataclass(frozen=True)
class ShapeKind:
    """One entry of the catalogue.

    ``needs`` and ``allows`` name its lengths and ratios; ``has_points`` says that it is drawn
    through control points; ``in_rows`` that it is worked flat and has no meridian.
    """

    needs: tuple[str, ...]
    allows: tuple[str, ...] = ()
    build: Callable[[Mapping[str, float], Sequence[tuple[float, float]]], Meridian] | None = None
    has_points: bool = False

    @property
    def in_rows(self) -> bool:
        return self.build is None


def build_meridian(
    shape: str,
    lengths: Mapping[str, float],
    points: Sequence[tuple[float, float]] = (),
) -> Meridian:
    """The outline of ``shape`` for the given lengths (mm) and ratios.

    Raises :class:`RoundlingError` when the lengths contradict each other.
    """
    build = SHAPES[shape].build
    if build is None:
        raise ValueError(f"{shape} is worked in rows and has no meridian")
    meridian = build(lengths, points)
    flatness = lengths.get("flatness", 1.0)
    if flatness >= 1.0:
        return meridian
    # The width asked for is the width lying flat, so the girth is that of the ellipse.
    return meridian_through(
        meridian.radius_mm / width_per_girth(flatness),
        meridian.axial_mm,
        closed=meridian.closed,
        straight_mm=meridian.straight_mm,
        flatness=flatness,
    )


def _rise(radius: float, height: float, start: float = 0.0) -> tuple[Floats, Floats]:
    """A quarter ellipse from the start pole, or an opening, out to ``radius``: radii and axial
    distances."""
    if start > 0.0:
        radii, axials = _fall(radius, height, start)
        return radii[::-1], height - axials[::-1]
    return radius * _SIN, height * (1.0 - _COS)


def _fall(radius: float, height: float, opening: float) -> tuple[Floats, Floats]:
    """A quarter ellipse from ``radius`` in to an opening, ``height`` measured to the opening."""
    if opening > radius * (1.0 + 1e-9):
        raise RoundlingError(
            asked=f"An opening {2 * opening:.0f} mm wide was asked for.",
            why=f"The part is only {2 * radius:.0f} mm wide there.",
            nearest=f"{2 * radius:.0f} mm is the widest opening it can have.",
        )
    stop = math.acos(min(1.0, opening / radius))
    if stop < 1e-6:
        return np.array([radius, radius]), np.array([0.0, height])
    turn = np.linspace(0.0, stop, ARC_POINTS)
    return radius * np.cos(turn), height / math.sin(stop) * np.sin(turn)


def _join(*pieces: tuple[Floats, Floats]) -> tuple[Floats, Floats]:
    """Pieces one after the other; each starts, axially, where the one before ended."""
    radii, axials, at = [], [], 0.0
    for number, (radius, axial) in enumerate(pieces):
        first = 0 if number == 0 else 1
        radii.append(radius[first:])
        axials.append(axial[first:] + at)
        at += float(axial[-1])
    return np.concatenate(radii), np.concatenate(axials)


def _egg(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """Two half ellipsoids on one equator; ``widest`` is how far along the height it lies.

    ``start`` and ``opening`` are the widths of the openings it begins and ends at.
    """
    radius, height = lengths["width"] / 2.0, lengths["height"]
    opening = lengths.get("opening", 0.0) / 2.0
    widest = lengths.get("widest", 0.5)
    radii, axials = _join(
        _rise(radius, height * widest, lengths.get("start", 0.0) / 2.0),
        _fall(radius, height * (1.0 - widest), opening),
    )
    return meridian_through(radii, axials, closed=opening == 0.0)


def _ball(lengths: Mapping[str, float], points: Sequence[tuple[float, float]]) -> Meridian:
    """A sphere, cut off level where its width has shrunk to ``opening``."""
    width, opening = lengths["width"], lengths.get("opening", 0.0)
    below = math.sqrt(max(0.0, 1.0 - (opening / width) ** 2)) if opening < width else 0.0
    height = width / 2.0 * (1.0 + below)
    return _egg({**lengths, "height": height, "widest": 1.0 / (1.0 + below)}, points)


def _pear(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """A wide ball and a narrow one with a straight side touching both."""
    wide, narrow = lengths["width"] / 2.0, lengths["top"] / 2.0
    opening, height = lengths.get("opening", 0.0) / 2.0, lengths["height"]
    start = lengths.get("start", 0.0) / 2.0
    top = narrow + math.sqrt(max(0.0, narrow**2 - opening**2))
    low = wide if start == 0.0 else math.sqrt(max(0.0, wide**2 - start**2))
    between = height - low - top + narrow
    if between <= abs(wide - narrow) or opening > narrow or start > wide:
        raise RoundlingError(
            asked=f"A pear {height:.0f} mm tall was asked for.",
            why=f"Its two ends, {2 * wide:.0f} and {2 * narrow:.0f} mm wide, do not fit in it.",
            nearest=f"It can be {low + top + abs(wide - narrow) - narrow + 1:.0f} mm tall.",
        )
    lean = math.asin((wide - narrow) / between)
    first = np.linspace(math.asin(start / wide), math.pi / 2.0 + lean, 2 * ARC_POINTS)
    last = np.linspace(lean, math.acos(opening / narrow), ARC_POINTS)
    radii = np.concatenate((wide * np.sin(first), narrow * np.cos(last)))
    axials = np.concatenate(
        (low - wide * np.cos(first), low + between + narrow * np.sin(last))
    )
    return meridian_through(radii, axials, closed=opening == 0.0)


def _tube(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """A rounded cap, then a straight side to the open end (as wide as the cap unless said)."""
    radius, length = lengths["width"] / 2.0, lengths["length"]
    opening = lengths.get("opening", lengths["width"]) / 2.0
    cap = lengths.get("cap", 1.0) * radius
    side = length - cap
    if side <= 0.0:
        raise RoundlingError(
            asked=f"A tube {length:.0f} mm long and {2 * radius:.0f} mm wide was asked for.",
            why="Its rounded cap alone is longer than that.",
            nearest=f"Make it {cap * 1.1:.0f} mm long or more, or thinner.",
        )
    radii, axials = _join(
        _rise(radius, cap), (np.array([radius, opening]), np.array([0.0, side]))
    )
    return meridian_through(radii, axials, closed=False)


def _sleeve(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """A straight side, open at both ends; it ends as wide as it begins unless said."""
    width = lengths["width"]
    radii = np.array([width, lengths.get("opening", width)]) / 2.0
    return meridian_through(radii, np.array([0.0, lengths["length"]]), closed=False)


def _cone(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """A straight side from a point (or a small flat tip) to the open base."""
    radius, tip = lengths["width"] / 2.0, lengths.get("tip", 0.0) / 2.0
    radii = np.array([0.0, tip, radius]) if tip > 0.0 else np.array([0.0, radius])
    axials = np.array([0.0, 0.0, 1.0]) if tip > 0.0 else np.array([0.0, 1.0])
    return meridian_through(radii, axials * lengths["height"], closed=False)


def _dome(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """Half an ellipsoid, open at its equator."""
    radii, axials = _rise(lengths["width"] / 2.0, lengths["height"])
    return meridian_through(radii, axials, closed=False)


def _disc(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """A flat circle."""
    radii = np.array([0.0, lengths["width"] / 2.0])
    return meridian_through(radii, np.zeros(2), closed=False)


def _oval(lengths: Mapping[str, float], _points: Sequence[tuple[float, float]]) -> Meridian:
    """A long dome begun on a chain: two half turns and two straight sides; flat without a height.

    ``brim`` is a straight side wall after the dome, for a sole with a side.
    """
    width, length = lengths["width"], lengths["length"]
    if length <= width:
        raise RoundlingError(
            asked=f"An oval {length:.0f} mm long and {width:.0f} mm wide was asked for.",
            why="An oval is longer than it is wide.",
            nearest=f"Make it {width * 1.1:.0f} mm long or more.",
        )
    pieces = [_rise(width / 2.0, lengths.get("height", 0.0))]
    brim = lengths.get("brim", 0.0)
    if brim > 0.0:
        pieces.append((np.full(2, width / 2.0), np.array([0.0, brim])))
    radii, axials = _join(*pieces)
    return meridian_through(radii, axials, closed=False, straight_mm=length - width)


def _ear(lengths: Mapping[str, float], points: Sequence[tuple[float, float]]) -> Meridian:
    """A flattened dome: rounded tip, widest at ``widest``, narrower again at the open edge."""
    return _egg(
        {
            "height": lengths["length"],
            "width": lengths["width"],
            "opening": lengths["opening"],
            "widest": lengths.get("widest", 0.6),
        },
        points,
    )


def _outline(lengths: Mapping[str, float], points: Sequence[tuple[float, float]]) -> Meridian:
    """A smooth line through control points, each (part of the length, part of the half width).

    A centripetal Catmull-Rom curve: it passes through every point and makes no loops. Where it
    would swell a little beyond the widest it is cut back, so that it is as wide as asked. It begins
    and ends at a pole or, when the first or last point is off the axis, at an opening.
    """
    knots = np.array(points, dtype=np.float64)
    off_axis = (knots[1:-1, 1] > 0.0).all() and min(knots[0, 1], knots[-1, 1]) >= 0.0
    if not (np.diff(knots[:, 0]) > 0.0).all() or not off_axis:
        raise RoundlingError(
            asked="An outline through control points was asked for.",
            why="Its points go back along the axis, or lie on it between the ends.",
            nearest="Each point must lie farther along than the one before, and off the axis.",
        )
    begun_open, closed = bool(knots[0, 1] > 0.0), bool(knots[-1, 1] == 0.0)
    # Mirrored neighbours beyond a pole make the curve leave the axis at a right angle.
    before = 2.0 * knots[0] - knots[1] if begun_open else knots[1] * (1.0, -1.0)
    after = knots[-2] * (1.0, -1.0) if closed else 2.0 * knots[-1] - knots[-2]
    scale = np.array([lengths["length"], lengths["width"] / 2.0])
    curve = _catmull_rom(np.vstack((before, knots, after)) * scale)
    radii = np.clip(curve[:, 1], 0.0, float(knots[:, 1].max()) * scale[1])
    return meridian_through(radii, curve[:, 0], closed=closed)


def _catmull_rom(knots: Floats, samples: int = 24) -> Floats:
    """The centripetal curve through ``knots[1:-1]``; shape (points, 2) in and out."""
    pieces = []
    for a, b, c, d in zip(knots, knots[1:], knots[2:], knots[3:], strict=False):
        t1 = math.sqrt(math.dist(a, b))
        t2 = t1 + math.sqrt(math.dist(b, c))
        t3 = t2 + math.sqrt(math.dist(c, d))
        t = np.linspace(t1, t2, samples, endpoint=False)[:, None]
        ab = (t1 - t) / t1 * a + t / t1 * b
        bc = (t2 - t) / (t2 - t1) * b + (t - t1) / (t2 - t1) * c
        cd = (t3 - t) / (t3 - t2) * c + (t - t2) / (t3 - t2) * d
        abc = (t2 - t) / t2 * ab + t / t2 * bc
        bcd = (t3 - t) / (t3 - t1) * bc + (t - t1) / (t3 - t1) * cd
        pieces.append((t2 - t) / (t2 - t1) * abc + (t - t1) / (t2 - t1) * bcd)
    return np.vstack((*pieces, knots[-2]))


SHAPES: dict[str, ShapeKind] = {
    "ball": ShapeKind(("width",), ("opening", "flatness"), _ball),
    "egg": ShapeKind(("height", "width"), ("widest", "start", "opening", "flatness"), _egg),
    "pear": ShapeKind(("height", "width", "top"), ("start", "opening", "flatness"), _pear),
    "tube": ShapeKind(("length", "width"), ("opening", "cap", "flatness"), _tube),
    "sleeve": ShapeKind(("length", "width"), ("opening", "flatness"), _sleeve),
    "cone": ShapeKind(("height", "width"), ("tip", "flatness"), _cone),
    "dome": ShapeKind(("height", "width"), ("flatness",), _dome),
    "disc": ShapeKind(("width",), (), _disc),
    "oval": ShapeKind(("length", "width"), ("height", "brim"), _oval),
    "ear": ShapeKind(("length", "width", "opening"), ("widest", "flatness"), _ear),
    "outline": ShapeKind(("length", "width"), ("flatness",), _outline, has_points=True),
    "strip": ShapeKind(("length", "width")),
}
