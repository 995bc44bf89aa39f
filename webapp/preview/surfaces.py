"""Points of the fabric, ring by ring, of everything that can be seen of a toy."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from webapp.assembly import (
    FABRIC,
    FRONT,
    RIGHT,
    UP,
    PlacedPart,
    PlacedStrip,
    WorkedToy,
    draped,
    eight,
    leaving_the_legs,
)
from webapp.formulas import evaluate
from webapp.materials import EyeNeed
from webapp.materials.yarn import bands
from webapp.recipes import Seat
from webapp.rounds import Start
from webapp.shapes.meridian import Floats

EYE_COLOUR = "#1d1a1c"
GLINT_COLOUR = "#ffffff"
RIDGE = 0.16
"""How far a round stands out between its edges, in round heights: yarn is thick."""

MOST_RIDGED_ROUNDS = 90


@dataclass(frozen=True, eq=False)
class Surface:
    """A net of points, shape (rows, segments, 3), mm, closed round each row.

    ``raised`` (rows,) is 1 on the ridge of a round and 0 at its edges. ``rounds`` and ``counts``
    (rows,) say the round of each row and its stitches; empty for eyes and embroidery. ``glossy``
    marks what is not yarn; of what is ``hollow`` the inside can be seen.
    """

    part: str
    label: str
    colour: str
    points: Floats
    raised: Floats
    rounds: tuple[int, ...] = ()
    counts: tuple[int, ...] = ()
    glossy: bool = False
    hollow: bool = False


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
        points, raised, rounds, above = _net(placed, segments, ridged)
        if placed.recipe.place.lies_flat:
            host = toy.placed[placed.recipe.place.on]
            assert isinstance(host, PlacedPart)
            points = draped(points, above, placed, host)
        counts = placed.part.counts
        label = placed.recipe.label
        for colour, first, last in bands(placed.recipe, len(counts)):
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
                hollow=placed.part.order.start is Start.OPEN,
            )
            yield surface
            if placed.recipe.place.pair:
                yield _twin(surface)


def _twin(surface: Surface) -> Surface:
    return Surface(
        surface.part,
        surface.label,
        surface.colour,
        mirrored(surface.points),
        surface.raised,
        surface.rounds,
        surface.counts,
        surface.glossy,
        surface.hollow,
    )


def _net(
    placed: PlacedPart, segments: int, ridged: bool
) -> tuple[Floats, Floats, np.ndarray[tuple[int], np.dtype[np.int64]], Floats]:
    """Points (rows, segments, 3), raised (rows,), the round of each row (rows,), and how far each
    row lies above the end of the part (rows,), mm."""
    axial = placed.part.rings.axial_mm
    if placed.part.order.outline.height_mm == 0.0:
        axial = np.zeros_like(axial)
    edges = len(axial)
    ridged = ridged and edges <= MOST_RIDGED_ROUNDS
    numbers = np.arange(0.0, edges - 0.75, 0.5) if ridged else np.arange(float(edges))
    whole = np.arange(float(edges))
    raised = (numbers % 1.0 != 0.0).astype(np.float64)
    stand_out = raised * RIDGE * placed.part.gauge.round_mm
    rings = placed.part.rings
    grow, rise = np.gradient(rings.smooth_mm), np.gradient(axial)
    long = np.maximum(np.hypot(grow, rise), 1e-9)
    outwards = np.interp(numbers, whole, rise / long)
    half = np.interp(numbers, whole, placed.edge_ref_mm) + stand_out * outwards
    straight = placed.part.straight_mm / 2.0
    side = np.interp(numbers, whole, placed.edge_side_mm) - straight
    side = side + stand_out * outwards
    turn = np.linspace(0.0, 2.0 * math.pi, segments, endpoint=False)
    cos, sin = np.cos(turn), np.sin(turn)
    # Straight sides of an oval keep its half turns that far apart.
    along_ref = np.outer(half, cos)
    along_side = np.outer(side, sin) + straight * np.sign(np.round(sin, 9))
    if placed.part.shaped:
        out = placed.part.stands_out_mm(numbers[:, None], turn)
        along_ref += out * cos
        along_side += out * sin
    if placed.part.order.start is Start.LEGS:
        own = leaving_the_legs(placed.part, numbers)[:, None]
        forwards, sidewards = eight(placed.part, turn)
        along_ref = own * along_ref + (1.0 - own) * forwards
        along_side = own * along_side + (1.0 - own) * sidewards
    frame = placed.frame
    back = stand_out * np.interp(numbers, whole, grow / long)
    at = np.interp(numbers, whole, axial) - back
    middle = frame.start + np.outer(at, frame.axis)
    points = (
        middle[:, None, :]
        + along_ref[:, :, None] * frame.reference
        + along_side[:, :, None] * frame.side
    )
    rounds = np.minimum(np.ceil(numbers).astype(np.int64), len(placed.part.rounds))
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
    if toy.recipe.eyes is not None and eyes is not None:
        spec = toy.recipe.eyes
        host = toy.placed[spec.on]
        assert isinstance(host, PlacedPart)
        size = (eyes.stock_mm or eyes.wanted_mm) / 2.0
        angle = math.radians(spec.around)
        point, normal = host.surface(host.edge_at(spec.along), angle)
        point = point + normal * _patch_under(toy, spec.on)
        flat = 0.62 if eyes.stock_mm is not None else 0.3
        glossy = eyes.stock_mm is not None
        eye = _button(spec.on, "Eyes", EYE_COLOUR, point, normal, (size, size, size * flat), around)
        shine = point + normal * size * flat * 0.8 + size * (0.34 * UP - 0.28 * RIGHT)
        other = point * np.array([-1.0, 1.0, 1.0]) + (shine - point) - normal * size * flat * 0.8
        other = other + normal * np.array([-1.0, 1.0, 1.0]) * size * flat * 0.8
        glint = size * 0.26
        yield Surface(**{**vars(eye), "glossy": glossy})
        yield _twin(Surface(**{**vars(eye), "glossy": glossy}))
        for at in (shine, other):
            yield _button(
                spec.on, "Eyes", GLINT_COLOUR, at, FRONT, (glint, glint, glint), 10, glossy=True
            )
    for mark in toy.recipe.marks:
        host = toy.placed[mark.on]
        assert isinstance(host, PlacedPart)
        half_width = evaluate(mark.width, toy.dimensions) / 2.0
        half_height = evaluate(mark.height, toy.dimensions) / 2.0
        angle = math.radians(mark.around)
        point, normal = host.surface(host.edge_at(mark.along), angle)
        thick = 0.35 * min(half_width, half_height)
        drawn = _button(
            mark.on,
            mark.label,
            toy.recipe.colours[mark.colour].hex,
            point,
            normal,
            (half_width, half_height, thick),
            around,
        )
        yield drawn
        if mark.pair:
            yield _twin(drawn)


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
    up = UP - normal * float(UP @ normal)
    if float(up @ up) < 1e-6:
        up = -FRONT
    up = up / math.sqrt(float(up @ up))
    across = np.cross(up, normal)
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


# --- apart -------------------------------------------------------------------------------------


def _moved_apart(toy: WorkedToy, surfaces: list[Surface], apart: float) -> list[Surface]:
    """Every part moved out from its host by its own length, eyes and marks with their part."""
    shifts: dict[str, Floats] = {}
    for name, placed in toy.placed.items():
        host = shifts.get(placed.recipe.place.on, np.zeros(3))
        if isinstance(placed, PlacedStrip):
            shifts[name] = host + UP * 0.0 + FRONT * placed.part.width_mm * 1.5
        elif placed.recipe.place.seat is Seat.GROUND:
            shifts[name] = np.zeros(3)
        elif placed.recipe.place.seat is Seat.OPENING:
            shifts[name] = host - placed.frame.axis * 0.35 * toy.size.height_mm
        else:
            away = -placed.frame.axis
            shifts[name] = host + away * (0.12 * toy.size.height_mm + 0.35 * placed.part.height_mm)
    moved = []
    for surface in surfaces:
        shift = shifts[surface.part].copy()
        # A twin moves to its own side.
        if toy.placed[surface.part].recipe.place.pair and surface.points[..., 0].mean() < 0:
            shift[0] = -abs(shift[0])
        elif toy.placed[surface.part].recipe.place.pair:
            shift[0] = abs(shift[0])
        moved.append(Surface(**{**vars(surface), "points": surface.points + apart * shift}))
    return moved
