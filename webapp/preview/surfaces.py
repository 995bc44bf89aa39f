"""Points of the fabric, ring by ring, of everything that can be seen of a toy."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from webapp.assembly import (
    FABRIC,
    FRONT,
    UP,
    FabricLine,
    Frame,
    MarkPlace,
    PlacedPart,
    PlacedStrip,
    WorkedToy,
    draped,
    eight,
    leaving_the_legs,
)
from webapp.formulas import evaluate
from webapp.materials import EyeNeed
from webapp.materials.thread import EYE_HEX, THREAD_MM, line_rows
from webapp.materials.yarn import bands
from webapp.recipes import EyeKind, Seat
from webapp.rounds import Start, WorkedPart
from webapp.shapes.meridian import Floats

GLINT_COLOUR = "#ffffff"
HOLE_COLOUR = "#b9b0a4"
EYE_FLATNESS = {EyeKind.SAFETY: 0.62, EyeKind.BUTTONS: 0.3, EyeKind.EMBROIDERED: 0.12}
"""How far an eye stands out, in shares of half its width."""

GLINT_OUT = 0.14
"""How far the light on an eye stands out from it, in the same shares."""

RIDGE = 0.16
"""How far a round stands out between its edges, in round heights: yarn is thick."""

MOST_RIDGED_ROUNDS = 90

FLAT = 1e-9
"""What flows through a net by no more than such a share is nothing but rounding."""


@dataclass(frozen=True, eq=False)
class Surface:
    """A net of points, shape (rows, segments, 3), mm, closed round each row.

    ``raised`` (rows,) is 1 on the ridge of a round and 0 at its edges. ``rounds`` and ``counts``
    (rows,) say the round of each row and its stitches; empty for eyes and embroidery. ``glossy``
    marks what is not yarn; of what is ``hollow`` the inside can be seen. ``copy`` numbers the
    copies of a part that go round its host.
    """

    part: str
    label: str
    colour: str
    points: Floats
    raised: Floats
    rounds: tuple[int, ...] = ()
    counts: tuple[int, ...] = ()
    glossy: bool = False
    copy: int = 0
    hollow: bool = False

    @cached_property
    def outwards(self) -> float:
        """1 where the diagonals of a facet, from its first point and from its second, turn about
        the way out, -1 where about the way in. All facets of a net are wound alike, so what flows
        through them from their middle decides for all (three times the volume, were it closed);
        0 for a flat one, which has two outsides."""
        beside = np.roll(self.points, -1, axis=1)
        middles = self.points[:-1] + beside[:-1] + self.points[1:] + beside[1:]
        away = (middles - middles.mean(axis=(0, 1))) / 4.0
        normals = np.cross(beside[1:] - self.points[:-1], self.points[1:] - beside[:-1])
        flow, most = np.vdot(away, normals), np.linalg.norm(away) * np.linalg.norm(normals)
        return 0.0 if abs(flow) <= FLAT * most else math.copysign(1.0, flow)


def surfaces_of(
    toy: WorkedToy, eyes: EyeNeed | None, *, segments: int = 32, ridged: bool = True,
    apart: float = 0.0,
) -> list[Surface]:
    """All surfaces of the toy, twins included; ``apart`` moves the parts away from each other
    (0 sewn together, 1 clear of each other)."""
    found = list(_of_parts(toy, segments, ridged)) + list(_of_face(toy, eyes, segments))
    if apart > 0.0:
        found = _moved_apart(toy, found, apart)
    return found


def mirrored(points: Floats) -> Floats:
    """The twin of a net of points: its mirror image in x, rows turned so that it faces outwards."""
    twin: Floats = (points * np.array([-1.0, 1.0, 1.0]))[:, ::-1]
    return twin


def _of_parts(toy: WorkedToy, segments: int, ridged: bool) -> Iterator[Surface]:
    for placed in toy.placed.values():
        if isinstance(placed, PlacedStrip):
            yield _of_strip(toy, placed)
            continue
        nets = [_lying(toy, copy, segments, ridged) for copy in placed.copies]
        counts = placed.part.counts
        label = placed.recipe.label
        for colour, first, last in bands(placed.recipe, len(counts)):
            for copy, (points, raised, rounds) in enumerate(nets):
                rows = np.flatnonzero((rounds >= first) & (rounds <= last))
                # A band takes in the edge it shares with the band before.
                start = max(0, int(rows[0]) - 1)
                chosen = slice(start, int(rows[-1]) + 1)
                numbers = tuple(max(first, n) for n in rounds[chosen].tolist())
                surface = Surface(
                    placed.recipe.name,
                    label,
                    toy.recipe.colours[colour].hex,
                    points[chosen],
                    raised[chosen],
                    numbers,
                    tuple(counts[n - 1] for n in numbers),
                    copy=copy,
                    hollow=placed.part.order.start is Start.OPEN,
                )
                yield surface
                if placed.recipe.place.pair:
                    yield _twin(surface)


def _lying(
    toy: WorkedToy, copy: PlacedPart, segments: int, ridged: bool
) -> tuple[Floats, Floats, np.ndarray[tuple[int], np.dtype[np.int64]]]:
    """Points, raised and rounds of one copy, as in :func:`_net`; a patch follows its host."""
    points, raised, rounds, above = _net(copy, segments, ridged)
    if copy.recipe.place.lies_flat:
        host = toy.placed[copy.recipe.place.on]
        assert isinstance(host, PlacedPart)
        points = draped(points, above, copy, host)
    return points, raised, rounds


def _twin(surface: Surface) -> Surface:
    return replace(surface, points=mirrored(surface.points))


def _net(
    placed: PlacedPart, segments: int, ridged: bool
) -> tuple[Floats, Floats, np.ndarray[tuple[int], np.dtype[np.int64]], Floats]:
    """The net of a part in its place, see :func:`net_of`."""
    sides = (placed.edge_ref_mm, placed.edge_side_mm)
    return net_of(placed.part, placed.frame, sides, segments, ridged)


def net_of(
    part: WorkedPart, frame: Frame, sides: tuple[Floats, Floats], segments: int, ridged: bool
) -> tuple[Floats, Floats, np.ndarray[tuple[int], np.dtype[np.int64]], Floats]:
    """Points (rows, segments, 3), raised (rows,), the round of each row (rows,), and how far each
    row lies above the end of the part (rows,), mm.

    ``sides`` are the half widths of each edge along the frame's reference and side, mm."""
    axial = part.rings.axial_mm
    if part.order.outline.height_mm == 0.0:
        axial = np.zeros_like(axial)
    edges = len(axial)
    ridged = ridged and edges <= MOST_RIDGED_ROUNDS
    numbers = np.arange(0.0, edges - 0.75, 0.5) if ridged else np.arange(float(edges))
    whole = np.arange(float(edges))
    raised = (numbers % 1.0 != 0.0).astype(np.float64)
    stand_out = raised * RIDGE * part.gauge.round_mm
    rings = part.rings
    grow, rise = np.gradient(rings.smooth_mm), np.gradient(axial)
    long = np.maximum(np.hypot(grow, rise), 1e-9)
    outwards = np.interp(numbers, whole, rise / long)
    half = np.interp(numbers, whole, sides[0]) + stand_out * outwards
    straight = part.straight_mm / 2.0
    side = np.interp(numbers, whole, sides[1]) - straight
    side = side + stand_out * outwards
    turn = np.linspace(0.0, 2.0 * math.pi, segments, endpoint=False)
    cos, sin = np.cos(turn), np.sin(turn)
    # Straight sides of an oval keep its half turns that far apart.
    along_ref = np.outer(half, cos)
    along_side = np.outer(side, sin) + straight * np.sign(np.round(sin, 9))
    if part.shaped:
        out = part.stands_out_mm(numbers[:, None], turn)
        along_ref += out * cos
        along_side += out * sin
    if part.order.start is Start.LEGS:
        own = leaving_the_legs(part, numbers)[:, None]
        forwards, sidewards = eight(part, turn)
        along_ref = own * along_ref + (1.0 - own) * forwards
        along_side = own * along_side + (1.0 - own) * sidewards
    back = stand_out * np.interp(numbers, whole, grow / long)
    at = np.interp(numbers, whole, axial) - back
    middle = frame.start + np.outer(at, frame.axis)
    points = (
        middle[:, None, :]
        + along_ref[:, :, None] * frame.reference
        + along_side[:, :, None] * frame.side
    )
    rounds = np.minimum(np.ceil(numbers).astype(np.int64), len(part.sectors))
    return points, raised, np.maximum(rounds, 0), float(axial[-1]) - at


def _of_strip(toy: WorkedToy, placed: PlacedStrip) -> Surface:
    """The strip as a flat tube: each row is a thin ellipse across it."""
    middle, across = placed.middle_mm, placed.across
    ahead = np.gradient(middle, axis=0)
    out = np.cross(ahead, across)
    out = out / np.maximum(np.linalg.norm(out, axis=1, keepdims=True), 1e-9)
    turn = np.linspace(0.0, 2.0 * math.pi, 12, endpoint=False)
    thick = 0.3 * placed.part.gauge.stitch_mm
    points = (
        middle[:, None, :]
        + np.cos(turn)[None, :, None] * across[:, None, :]
        + np.sin(turn)[None, :, None] * out[:, None, :] * thick
    )
    rows = len(middle)
    numbers = tuple(max(1, n) for n in range(rows))
    return Surface(
        placed.recipe.name,
        placed.recipe.label,
        toy.recipe.colours[placed.recipe.colours[0].colour].hex,
        points,
        (np.arange(rows) % 2).astype(np.float64),
        numbers,
        (placed.part.per_row,) * rows,
    )


# --- face --------------------------------------------------------------------------------------


def _of_face(toy: WorkedToy, eyes: EyeNeed | None, segments: int) -> Iterator[Surface]:
    around = max(12, segments // 2)
    if eyes is not None:
        yield from _of_eyes(toy, eyes, around)
    for place in toy.marks:
        drawn = _of_mark(toy, place, around)
        yield drawn
        if place.mark.pair:
            yield _twin(drawn)


def _of_mark(toy: WorkedToy, place: MarkPlace, around: int) -> Surface:
    mark = place.mark
    host = toy.placed[mark.on]
    assert isinstance(host, PlacedPart)
    colour = toy.recipe.colours[mark.colour].hex
    width = evaluate(mark.width, toy.dimensions)
    if place.line is not None:
        gauge = host.part.gauge
        points = _tube(place.line, line_rows(width) * THREAD_MM, RIDGE * gauge.round_mm)
        return Surface(mark.on, mark.label, colour, points, np.full(len(points), 0.6))
    half_width, half_height = width / 2.0, evaluate(mark.height, toy.dimensions) / 2.0
    point, normal = host.surface(host.edge_at(mark.along), math.radians(mark.around))
    thick = 0.35 * min(half_width, half_height)
    halves = (half_width, half_height, thick)
    return _button(mark.on, mark.label, colour, point, normal, halves, around)


def _tube(line: FabricLine, wide_mm: float, above_mm: float) -> Floats:
    """A line as an oval tube so wide and one thread thick, lying that far above the fabric, its
    ends closed; shape (steps + 2, 8, 3)."""
    ahead = np.gradient(line.points, axis=0)
    beside = np.cross(ahead, line.normals)
    beside = beside / np.maximum(np.linalg.norm(beside, axis=1, keepdims=True), 1e-9)
    middle = line.points + above_mm * line.normals
    turn = np.linspace(0.0, 2.0 * math.pi, 8, endpoint=False)[None, :, None]
    across = np.cos(turn) * beside[:, None, :] * wide_mm / 2.0
    out = np.sin(turn) * line.normals[:, None, :] * THREAD_MM / 2.0
    tube = middle[:, None, :] + across + out
    ends = [np.repeat(middle[n][None, None, :], 8, axis=1) for n in (0, -1)]
    closed: Floats = np.concatenate((ends[0], tube, ends[1]))
    return closed


def _of_eyes(toy: WorkedToy, eyes: EyeNeed, around: int) -> Iterator[Surface]:
    spec = toy.recipe.eyes
    assert spec is not None
    host = toy.placed[spec.on]
    assert isinstance(host, PlacedPart)
    size = (eyes.stock_mm or eyes.wanted_mm) / 2.0
    angle = math.radians(spec.around)
    point, normal = host.surface(host.edge_at(spec.along), angle)
    point = point + normal * _patch_under(toy, spec.on)
    glossy = eyes.kind is not EyeKind.EMBROIDERED
    out = size * EYE_FLATNESS[eyes.kind]
    eye = _button(spec.on, "Eyes", EYE_HEX, point, normal, (size, size, out), around, glossy)
    yield eye
    yield _twin(eye)
    if eyes.kind is EyeKind.BUTTONS:
        yield from _holes(spec.on, point, normal, size)
    if eyes.kind is not EyeKind.SAFETY:
        return
    other_side = np.array([-1.0, 1.0, 1.0])
    for side in (np.ones(3), other_side):
        yield _glint(spec.on, point * side, normal * side, size, out)


def _glint(part: str, point: Floats, normal: Floats, size: float, out: float) -> Surface:
    """The light on an eye, at the upper left of whoever faces it, flat on its surface."""
    up, across = _up_and_across(normal)
    aside = 0.34 * up - 0.28 * across
    on = out * math.sqrt(1.0 - float(aside @ aside))
    facing = aside / size + on / out**2 * normal
    facing = facing / np.linalg.norm(facing)
    at = point + size * aside + on * normal
    halves = (0.28 * size, 0.28 * size, GLINT_OUT * size)
    return _button(part, "Eyes", GLINT_COLOUR, at, facing, halves, 10, glossy=True)


def _holes(part: str, point: Floats, normal: Floats, size: float) -> Iterator[Surface]:
    """The four holes of a button with the thread in them, and those of its twin."""
    up, across = _up_and_across(normal)
    out, dot = point + normal * size * EYE_FLATNESS[EyeKind.BUTTONS], 0.11 * size
    for a, b in ((-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)):
        at = out + 0.24 * size * (a * across + b * up)
        hole = _button(part, "Eyes", HOLE_COLOUR, at, normal, (dot, dot, 0.4 * dot), 8)
        yield hole
        yield _twin(hole)


def _patch_under(toy: WorkedToy, host: str) -> float:
    """How far eyes stand out for the patches that lie flat on their part, mm."""
    patches = [
        toy.parts[p.name].gauge.stitch_mm
        for p in toy.recipe.parts
        if p.place.lies_flat and p.place.on == host
    ]
    return 1.5 * FABRIC * max(patches, default=0.0)


def _button(
    part: str,
    label: str,
    colour: str,
    point: Floats,
    normal: Floats,
    halves: tuple[float, float, float],
    segments: int,
    glossy: bool = False,
) -> Surface:
    """A small ellipsoid lying on the fabric: half widths across, upwards, and out of it."""
    up, across = _up_and_across(normal)
    turn = np.linspace(0.0, 2.0 * math.pi, segments, endpoint=False)
    lift = np.linspace(0.0, math.pi, 9)
    ring, depth = np.sin(lift), np.cos(lift)
    width, height, out = halves
    points = (
        point
        + np.outer(ring, np.cos(turn))[:, :, None] * across * width
        + np.outer(ring, np.sin(turn))[:, :, None] * up * height
        - (depth * out)[:, None, None] * normal
    )
    return Surface(part, label, colour, points, np.full(9, 0.6), glossy=glossy)


def _up_and_across(normal: Floats) -> tuple[Floats, Floats]:
    """Directions along the fabric: upwards, and to the right of whoever faces it."""
    up = UP - normal * float(UP @ normal)
    if float(up @ up) < 1e-6:
        up = -FRONT
    up = up / math.sqrt(float(up @ up))
    return up, np.cross(up, normal)


# --- apart -------------------------------------------------------------------------------------


def _moved_apart(toy: WorkedToy, surfaces: list[Surface], apart: float) -> list[Surface]:
    """Every part moved out from its host by its own length, eyes and marks with their part."""
    shifts: dict[str, list[Floats]] = {}
    for name, placed in toy.placed.items():
        host = shifts.get(placed.recipe.place.on, [np.zeros(3)])[0]
        if isinstance(placed, PlacedStrip):
            shifts[name] = [host + FRONT * placed.part.width_mm * 1.5]
        elif placed.recipe.place.seat is Seat.GROUND:
            shifts[name] = [np.zeros(3)]
        elif placed.recipe.place.seat is Seat.OPENING:
            shifts[name] = [host - placed.frame.axis * 0.35 * toy.size.height_mm]
        else:
            far = 0.12 * toy.size.height_mm + 0.35 * placed.part.height_mm
            shifts[name] = [host - copy.frame.axis * far for copy in placed.copies]
    moved = []
    for surface in surfaces:
        shift = shifts[surface.part][surface.copy].copy()
        # A twin moves to its own side.
        if toy.placed[surface.part].recipe.place.pair and surface.points[..., 0].mean() < 0:
            shift[0] = -abs(shift[0])
        elif toy.placed[surface.part].recipe.place.pair:
            shift[0] = abs(shift[0])
        moved.append(replace(surface, points=surface.points + apart * shift))
    return moved
