"""Placing the worked parts: each on its host, by its seam."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from webapp.assembly.frames import FRONT, RIGHT, UP, Frame, frame_along, heading, turned
from webapp.assembly.legs import laps_on_legs, leg_middle_mm
from webapp.recipes import PartRecipe, Seat
from webapp.rounds import Start, WorkedPart, WorkedStrip
from webapp.shapes.meridian import Floats, width_per_girth


def between(values: Floats, number: float) -> float:
    """The value at a number that may lie between two entries; the last beyond the end.

    For single numbers ten times quicker than numpy's own.
    """
    k = int(number)
    if k >= len(values) - 1:
        return float(values[-1])
    share = number - k
    return float(values[k]) * (1.0 - share) + float(values[k + 1]) * share


@dataclass(frozen=True, eq=False)
class PlacedPart:
    """A worked part in its place. A pair is one placed part; its twin mirrors it in x. Of several
    copies round a host this is the first, and ``others`` are the rest, each with its own angle.

    ``edge_ref_mm`` and ``edge_side_mm`` are the half widths of each edge along the frame's
    reference and side directions, without bulges; shape (edges,).
    """

    recipe: PartRecipe
    part: WorkedPart
    frame: Frame
    edge_ref_mm: Floats
    edge_side_mm: Floats
    others: tuple[PlacedPart, ...] = ()

    @property
    def copies(self) -> tuple[PlacedPart, ...]:
        """All copies but mirrored ones."""
        return (self, *self.others)

    def edge_at(self, along: float) -> float:
        """Number of the edge (not whole) that lies ``along`` (0 to 1) of the axial extent."""
        axial = self.part.rings.axial_mm
        return float(np.interp(along * axial[-1], axial, np.arange(len(axial))))

    def point(self, edge: float, around: float) -> Floats:
        """Point of the surface at an edge number and an angle in radians, mm; shape (3,)."""
        ref, side = between(self.edge_ref_mm, edge), between(self.edge_side_mm, edge)
        if self.part.shaped:
            bump = float(self.part.stands_out_mm(np.array(edge), np.array(around)))
            ref, side = ref + bump, side + bump
        frame = self.frame
        return (
            frame.at(between(self.part.rings.axial_mm, edge))
            + ref * math.cos(around) * frame.reference
            + side * math.sin(around) * frame.side
        )

    def surface(self, edge: float, around: float) -> tuple[Floats, Floats]:
        """Point and outward unit normal at an edge number and an angle in radians."""
        rings, frame = self.part.rings, self.frame
        last = float(len(rings.axial_mm) - 1)
        low, high = max(0.0, edge - 1.0), min(last, edge + 1.0)
        rise = between(rings.axial_mm, high) - between(rings.axial_mm, low)
        grow = between(rings.smooth_mm, high) - between(rings.smooth_mm, low)
        out = math.cos(around) * frame.reference + math.sin(around) * frame.side
        normal = out * rise - frame.axis * grow
        length = math.sqrt(float(normal @ normal))
        normal = normal / length if length > 1e-9 else -frame.axis
        return self.point(edge, around), normal

    def tangents(self, edge: float, around: float) -> tuple[Floats, Floats]:
        """Unit vectors along the surface: along the outline towards its end, and round the part."""
        below = self.point(max(0.0, edge - 1.0), around)
        above = self.point(min(float(len(self.part.sectors)), edge + 1.0), around)
        way = above - below
        frame = self.frame
        turn = -math.sin(around) * frame.reference + math.cos(around) * frame.side
        return way / max(math.sqrt(float(way @ way)), 1e-9), turn


@dataclass(frozen=True, eq=False)
class PlacedStrip:
    """A strip laid round its host's seam: the middle line of each row, and the strip's width
    direction there; shapes (rows + 1, 3)."""

    recipe: PartRecipe
    part: WorkedStrip
    middle_mm: Floats
    across: Floats


Placed = PlacedPart | PlacedStrip


@dataclass(frozen=True)
class Size:
    """Extent of the sewn toy in mm: to the crown (or back), and overall."""

    height_mm: float
    overall_height_mm: float
    width_mm: float
    depth_mm: float


def place_parts(
    recipes: Sequence[PartRecipe], worked: Mapping[str, WorkedPart | WorkedStrip]
) -> dict[str, Placed]:
    """All parts in their places, hosts first; the part on the ground, or on legs, begins at
    the origin."""
    placed: dict[str, Placed] = {}
    for recipe in recipes:
        part = worked[recipe.name]
        host = placed.get(recipe.place.on)
        if isinstance(part, WorkedStrip):
            assert isinstance(host, PlacedPart)
            placed[recipe.name] = _lay_strip(recipe, part, host)
        else:
            assert host is None or isinstance(host, PlacedPart)
            placed[recipe.name] = _seat(recipe, part, host)
    return placed


def _seat(recipe: PartRecipe, part: WorkedPart, host: PlacedPart | None) -> PlacedPart:
    ref, side = half_widths(part)
    height = part.height_mm
    place = recipe.place
    if host is None:
        # A standing part begins on the ground; one that lies down begins at its front.
        axis = heading(place.tilt, place.swing)
        frame = frame_along(np.zeros(3), axis, place.roll)
    elif place.seat is Seat.OPENING:
        outwards = host.frame.axis
        edge = host.frame.at(host.part.height_mm)
        frame = frame_along(edge + outwards * height, -outwards, place.roll)
    elif place.seat is Seat.JOINED:
        beside = host.frame.side * leg_middle_mm(host.part)
        start = host.frame.start + beside - host.frame.axis * height
        frame = frame_along(start, host.frame.axis)
    else:
        copies = [
            _on_surface(recipe, part, host, (ref, side), 2.0 * math.pi * n / place.times)
            for n in range(place.times)
        ]
        return replace(copies[0], others=tuple(copies[1:])) if len(copies) > 1 else copies[0]
    return PlacedPart(recipe, part, frame, ref, side)


def _on_surface(
    recipe: PartRecipe,
    part: WorkedPart,
    host: PlacedPart,
    half_widths: tuple[Floats, Floats],
    turn: float,
) -> PlacedPart:
    """A part sewn to the outside of its host, ``turn`` radians further round than its place says
    and turned with it."""
    place, (ref, side) = recipe.place, half_widths
    outwards = heading(place.tilt, place.swing)
    facing = frame_along(np.zeros(3), -outwards, place.roll)
    if turn:
        degrees = (place.around + math.degrees(turn) + 180.0) % 360.0 - 180.0
        place = replace(place, around=degrees)
        recipe = replace(recipe, place=place)
        axis, reference, across = (
            turned(v, host.frame, turn) for v in (facing.axis, facing.reference, facing.side)
        )
        facing, outwards = Frame(facing.start, axis, reference, across), -axis
    around = math.radians(place.around)
    at = host.edge_at(place.along)
    point, normal = host.surface(at, around)
    rim = _rim(facing, float(ref[-1]), float(side[-1]))
    depth = _set_in(rim, host, at, around, normal) / max(0.35, float(outwards @ normal))
    depth += place.sink * 2.0 * float(max(ref[-1], side[-1]))
    start = point + outwards * (part.height_mm - depth)
    frame = Frame(start, facing.axis, facing.reference, facing.side)
    return PlacedPart(recipe, part, frame, ref, side)


OVER_A_BULGE = np.linspace(-0.6, 0.6, 7)
"""Where across a bulge its farthest point is looked for, in halves of its arc."""

_TURN = np.linspace(0.0, 2.0 * math.pi, 16, endpoint=False)[:, None]
_COS, _SIN = np.cos(_TURN), np.sin(_TURN)


def _rim(frame: Frame, ref_mm: float, side_mm: float) -> Floats:
    """Points of a sewn edge, from its middle; shape (points, 3)."""
    return _COS * (ref_mm * frame.reference) + _SIN * (side_mm * frame.side)


def _set_in(
    rim: Floats, host: PlacedPart, edge: float, around: float, normal: Floats
) -> float:
    """How deep the sewn edge's middle lies in the host so that most of the edge meets it, mm.

    Near the middle the host falls away from its tangent plane by c^2 / 2R for a distance c round
    it, and by the curve of its outline along it. Of the gaps this leaves under the edge, between
    the mean and the largest is taken: fabric gives.
    """
    turn = -math.sin(around) * host.frame.reference + math.cos(around) * host.frame.side
    last = float(len(host.part.rings.smooth_mm) - 1)
    low, high = max(0.0, edge - 2.0), min(last, edge + 2.0)
    below, lower_normal = host.surface(low, around)
    above, upper_normal = host.surface(high, around)
    way = above - below
    length = max(math.sqrt(float(way @ way)), 1e-6)
    bend = float((upper_normal - lower_normal) @ way) / length**2
    radius = float(host.part.rings.smooth_mm[round(edge)])
    if radius < host.part.gauge.stitch_mm / 10.0:
        # At a pole the fabric falls away alike in all directions.
        radius = 1.0 / max(bend, 1e-6)
    gaps = (
        rim @ normal
        + (rim @ turn) ** 2 / (2.0 * radius)
        + (rim @ (way / length)) ** 2 * max(0.0, bend) / 2.0
    )
    mean = float(gaps.mean())
    return max(0.0, mean + 0.6 * (float(gaps.max()) - mean))


def half_widths(part: WorkedPart) -> tuple[Floats, Floats]:
    """Half widths of each edge along the reference and the side direction, mm."""
    flatness = part.order.outline.flatness
    scale = width_per_girth(flatness) if flatness < 1.0 else 1.0
    half = part.rings.smooth_mm * scale
    if part.order.start is Start.LEGS:
        return laps_on_legs(part, half)
    return half * flatness, half + part.straight_mm / 2.0


def _lay_strip(recipe: PartRecipe, strip: WorkedStrip, host: PlacedPart) -> PlacedStrip:
    """The strip goes once round the neck, crosses in front and hangs down on both sides."""
    frame = host.frame
    neck = frame.at(host.part.height_mm)
    half = strip.width_mm / 2.0
    radius = float(host.part.rings.smooth_mm[-1]) * 1.03 + 0.35 * strip.gauge.stitch_mm
    round_mm = 2.0 * math.pi * radius
    tail = max(0.0, (strip.length_mm - round_mm) / 2.0)
    rows = np.linspace(-strip.length_mm / 2.0, strip.length_mm / 2.0, strip.rows + 1)
    middle, across = np.empty((len(rows), 3)), np.empty((len(rows), 3))
    for number, at in enumerate(rows):
        # The middle row lies at the back of the neck.
        turn = at / radius
        beyond = abs(at) - round_mm / 2.0
        if tail > 0.0 and beyond > 0.0:
            sign = 1.0 if at > 0 else -1.0
            knot = neck + FRONT * (radius + 0.25 * half)
            lean = -0.38 * sign * RIGHT - UP + 0.32 * FRONT
            lean = lean / math.sqrt(float(lean @ lean))
            middle[number] = knot + lean * beyond
            across[number] = RIGHT * half * 0.92 - UP * half * 0.38 * sign
        else:
            middle[number] = neck + radius * (-math.cos(turn) * FRONT + math.sin(turn) * RIGHT)
            across[number] = UP * half * 0.8
    return PlacedStrip(recipe, strip, middle, across)


def extents(placed: PlacedPart) -> tuple[Floats, Floats]:
    """Lowest and highest coordinates (right, front, up) of a placed part, not its twin, mm."""
    frame, part = placed.frame, placed.part
    centres = frame.start + part.rings.axial_mm[:, None] * frame.axis
    ref = placed.edge_ref_mm[:, None] * frame.reference
    side = placed.edge_side_mm[:, None] * frame.side
    reach = np.sqrt(ref * ref + side * side)
    low, high = (centres - reach).min(axis=0), (centres + reach).max(axis=0)
    for group in part.shaped:
        for middle in group.bulge.middles:
            # Its farthest point need not be its middle.
            for angle in middle + math.pi * group.bulge.arc * OVER_A_BULGE:
                points = _lap_points(placed, float(angle))
                low = np.minimum(low, points.min(axis=0))
                high = np.maximum(high, points.max(axis=0))
    return low, high


def _lap_points(placed: PlacedPart, angle: float) -> Floats:
    """The points of all edges at an angle from the reference, bulges with them; (edges, 3)."""
    frame, axial = placed.frame, placed.part.rings.axial_mm
    out = placed.part.stands_out_mm(np.arange(float(len(axial))), np.array(angle))
    forwards = (placed.edge_ref_mm + out) * math.cos(angle)
    sidewards = (placed.edge_side_mm + out) * math.sin(angle)
    return np.asarray(
        frame.start
        + axial[:, None] * frame.axis
        + forwards[:, None] * frame.reference
        + sidewards[:, None] * frame.side,
        dtype=np.float64,
    )


def size_of(placed: Mapping[str, Placed]) -> Size:
    """Extent of the sewn toy. Its height is that of what stands on the ground, on that, and of the
    legs under it."""
    parts = [p for p in placed.values() if isinstance(p, PlacedPart)]
    spans = [(p.recipe.place, *extents(copy)) for p in parts for copy in p.copies]
    trunk = [
        (float(low[2]), float(high[2]))
        for place, low, high in spans
        if place.seat in (Seat.GROUND, Seat.OPENING, Seat.JOINED)
    ]
    wide = max(
        2.0 * max(abs(float(low[0])), abs(float(high[0])))
        if place.pair or place.times > 1
        else float(high[0] - low[0])
        for place, low, high in spans
    )
    lowest = np.min([low for _, low, _ in spans], axis=0)
    highest = np.max([high for _, _, high in spans], axis=0)
    return Size(
        max(high for _, high in trunk) - min(low for low, _ in trunk),
        float(highest[2] - lowest[2]),
        wide,
        float(highest[1] - lowest[1]),
    )
