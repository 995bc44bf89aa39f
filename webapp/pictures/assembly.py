"""A picture for sewing together, as SVG in mm on paper: the toy from a side, or its parts apart.

Outlines and a light fill, a fine line every few rounds to count by, and beside each sewn part the
rounds and stitches of its seam, which are those of the sewing instructions.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from webapp.assembly import WorkedToy
from webapp.materials import EyeNeed
from webapp.materials.thread import EYE_HEX
from webapp.paper import document, number, text, text_width, wrapped
from webapp.pictures.apart import Moved, Named, hosts_first, taken_apart
from webapp.pictures.drawing import (
    Drawn,
    drawn_alone,
    drawn_together,
    every_so_many,
    label_of,
    piece_svg,
    way_svg,
)
from webapp.pictures.labels import (
    APART_MM,
    LEADING,
    SIZE,
    Label,
    eye_words,
    in_margins,
    part_words,
)
from webapp.pictures.views import Net, Piece, View, pieces_of
from webapp.preview.surfaces import surfaces_of
from webapp.recipes import Seat
from webapp.shapes.meridian import Floats
from webapp.yarns import TermSet

WIDTH = 182.0
"""The width of an A4 page within its margins, mm."""

MARGIN_MM = 44.0
ROOM_MM = (WIDTH - 2.0 * MARGIN_MM - 4.0, 150.0)
APART_ROOM_MM = (WIDTH, 215.0)
TOP_MM = 12.0
SEGMENTS = 64
LEAST_SEEN_MM2 = 5.0
"""Of what less is seen than this, nothing is said."""

TRIES = 8


def assembly_svg(
    toy: WorkedToy,
    eyes: EyeNeed | None,
    view: View,
    words: TermSet,
    *,
    low: bool = False,
    tall_mm: float | None = None,
) -> str:
    """The picture of a view, with what it shows in words; with ``low`` ink in black lines alone.
    It is at most ``tall_mm`` tall, words above and below not counted, where it is not to fill a
    page."""
    surfaces = surfaces_of(toy, eyes, segments=SEGMENTS, ridged=False)
    paired = {p.name for p in toy.recipe.parts if p.place.pair}
    nearer = {p.name for p in toy.recipe.parts if p.place.seat in (Seat.SURFACE, Seat.NECK)}
    pieces = hosts_first(pieces_of(surfaces, view, paired, nearer), toy)
    if view is View.APART:
        return _apart(toy, pieces, (APART_ROOM_MM[0], tall_mm or APART_ROOM_MM[1]), low)
    return _together(toy, pieces, view, words, (ROOM_MM[0], tall_mm or ROOM_MM[1]), low)


# --- the whole toy -----------------------------------------------------------------------------


def _together(
    toy: WorkedToy,
    pieces: Sequence[Piece],
    view: View,
    words: TermSet,
    room: tuple[float, float],
    low: bool,
) -> str:
    least, most = _extent([net for piece in pieces for net in piece.nets])
    scale = float(min(room[0] / (most[0] - least[0]), room[1] / (most[1] - least[1])))
    every = every_so_many(toy, scale)
    drawn = drawn_together(pieces, scale, every, toy)
    offset = np.array([WIDTH / 2.0 - scale * (least[0] + most[0]) / 2.0, TOP_MM - scale * least[1]])
    labels, lowest = in_margins(
        list(_labels(toy, drawn, scale, offset, words)), WIDTH / 2.0, TOP_MM
    )
    body = [piece_svg(d, scale, offset, low) for d in drawn] + [_label(label) for label in labels]
    bottom = max(TOP_MM + scale * float(most[1] - least[1]), lowest - APART_MM)
    note = f"A fine line every {every} {words.rnds.lower()}"
    body.append(text(0.0, bottom + 5.0, note, 2.3))
    said = ". ".join(label.said for label in labels)
    return _page(f"{toy.recipe.name}, {view.value}", said, body, bottom + 8.0, low)


def _labels(
    toy: WorkedToy, drawn: Sequence[Drawn], scale: float, offset: Floats, words: TermSet
) -> list[Label]:
    """A label for each part of which enough is seen, and for the eyes."""
    labels = []
    for recipe in toy.recipe.parts:
        own = [d for d in drawn if d.piece.part == recipe.name and not d.seen.is_empty]
        best = max(own, key=lambda d: (round(d.seen.area, 3), d.seen.centroid.x), default=None)
        if best is not None and best.seen.area * scale**2 >= LEAST_SEEN_MM2:
            name = f"{recipe.label} ({recipe.copies})" if recipe.copies > 1 else recipe.label
            lines = _folded(part_words(toy, recipe, words))
            labels.append(label_of(best, name, lines, scale, offset))
    eye = _eye_point(toy, drawn, scale, offset)
    if eye is not None:
        labels.append(Label("Eyes", _folded(eye_words(toy, words)), eye, eye))
    return labels


def _eye_point(
    toy: WorkedToy, drawn: Sequence[Drawn], scale: float, offset: Floats
) -> tuple[float, float] | None:
    """The middle of the eye that is seen best, if one is."""
    if toy.eyes is None:
        return None
    on = next(d for d in drawn if d.piece.part == toy.eyes.on)
    spots = [np.concatenate(found) for colour, _, found in on.fills if colour == EYE_HEX and found]
    if not spots:
        return None
    best = max(spots, key=lambda points: float(np.ptp(points[:, 0]) * np.ptp(points[:, 1])))
    x, y = (best.min(axis=0) + best.max(axis=0)) / 2.0 * scale + offset
    return float(x), float(y)


def _folded(lines: Sequence[str]) -> tuple[str, ...]:
    """Lines no wider than a margin."""
    return tuple(part for line in lines for part in wrapped(line, MARGIN_MM - 3.0, SIZE))


# --- apart -------------------------------------------------------------------------------------


def _apart(
    toy: WorkedToy, pieces: Sequence[Piece], room: tuple[float, float], low: bool
) -> str:
    size = max(toy.size.overall_height_mm, toy.size.width_mm, toy.size.depth_mm)
    scale = room[1] / size / 2.0
    alone = drawn_alone(pieces, scale, every_so_many(toy, scale), toy)
    moved, scale, corner, wide = _packed(toy, alone, scale, room)
    offset = np.array([(WIDTH - wide[0] * scale) / 2.0, TOP_MM]) - corner * scale
    body, said = [], []
    for move in moved:
        if move.way is not None:
            body.append(way_svg(np.array(move.way) * scale + offset))
    for drawn, move in zip(alone, moved, strict=True):
        body.append(piece_svg(drawn, scale, offset + move.shift * scale, low))
        if move.name is not None:
            x, y = move.name.at * scale + offset
            first, second = move.name.lines
            body.append(
                f'<g class="label">{text(x, y + SIZE, first, SIZE, anchor="middle", bold=True)}'
                f'{text(x, y + SIZE + LEADING, second, SIZE, anchor="middle")}</g>'
            )
            said.append(f"{first}, {second}")
    bottom = TOP_MM + wide[1] * scale
    return _page(f"{toy.recipe.name}, parts apart", ". ".join(said), body, bottom + 4.0, low)


def _packed(
    toy: WorkedToy, alone: Sequence[Drawn], scale: float, room: tuple[float, float]
) -> tuple[list[Moved], float, Floats, Floats]:
    """Where pieces and their names go, at a scale at which all of it fits the page; also the upper
    left corner and the extent, mm of the toy.

    Names keep their size on paper, so they take more room the smaller the picture is.
    """
    shapes = [d.seen for d in alone]
    for _ in range(TRIES):
        names = _names(toy, alone, scale)
        moved = taken_apart(toy, [d.piece for d in alone], shapes, names)
        corners = np.array([move.bounds for move in moved])
        low, high = corners[:, :2].min(axis=0), corners[:, 2:].max(axis=0)
        fits = float(min(np.array(room) / (high - low)))
        if fits >= scale:
            break
        scale = 0.97 * fits
    return moved, min(scale, fits), low, high - low


def _names(toy: WorkedToy, alone: Sequence[Drawn], scale: float) -> list[Named | None]:
    """A name for the first piece of each part, with its size at this scale."""
    names: list[Named | None] = []
    named: set[str] = set()
    for drawn in alone:
        recipe = toy.recipe.part(drawn.piece.part)
        if recipe.name in named:
            names.append(None)
            continue
        named.add(recipe.name)
        lines = (recipe.label, f"make {recipe.copies}")
        wide = max(text_width(line, SIZE, bold=True) for line in lines)
        names.append(Named(lines, np.zeros(2), wide / scale, 2.0 * LEADING / scale))
    return names


# --- the page ----------------------------------------------------------------------------------


def _extent(nets: Sequence[Net]) -> tuple[Floats, Floats]:
    points = np.concatenate([net.points[..., :2].reshape(-1, 2) for net in nets])
    return points.min(axis=0), points.max(axis=0)


def _page(title: str, said: str, body: Sequence[str], height: float, low: bool) -> str:
    inner = text(0.0, 4.6, title, 4.2, bold=True) + "".join(body)
    return document(inner, (WIDTH + 2.0, height + 1.0), title, f"{said}.", low=low)


def _label(label: Label) -> str:
    """A label in its margin, with a line to the point it speaks of."""
    edge = MARGIN_MM - 2.0 if label.left else WIDTH - MARGIN_MM + 2.0
    anchor = "end" if label.left else ""
    x, y = label.at
    start = edge + (0.8 if label.left else -0.8)
    middle = label.top + LEADING * 0.55
    lines = [text(edge, label.top + SIZE, label.name, SIZE, anchor=anchor, bold=True)]
    lines += [
        text(edge, label.top + SIZE + LEADING * n, line, SIZE, anchor=anchor)
        for n, line in enumerate(label.lines, 1)
    ]
    return (
        f'<g class="label">{"".join(lines)}<path d="M{number(start)} {number(middle)}'
        f'L{number(x)} {number(y)}" fill="none" stroke="currentColor" stroke-width=".2"/>'
        f'<circle cx="{number(x)}" cy="{number(y)}" r=".6"/></g>'
    )
