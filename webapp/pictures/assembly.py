"""A picture for sewing together, as SVG in mm on paper: the toy from a side, or its parts apart.

Outlines and a light fill, a fine line every few rounds to count by, and beside each sewn part the
rounds and stitches of its seam, which are those of the sewing instructions.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from shapely.geometry.base import BaseGeometry

from webapp.assembly import WorkedToy
from webapp.materials import EyeNeed
from webapp.materials.thread import EYE_HEX
from webapp.paper import document, folded, text, text_width
from webapp.pictures.apart import Moved, Named, end_on, hosts_first, taken_apart
from webapp.pictures.depth import Raster
from webapp.pictures.drawing import (
    SPOTS_PER_MM,
    Drawn,
    drawn_alone,
    drawn_together,
    every_so_many,
    piece_svg,
)
from webapp.pictures.labels import eye_words, name_of, part_words, title_of
from webapp.pictures.margins import LEADING, SIZE, Label, in_margins, label_svg
from webapp.pictures.reach import INSET_MM, Reach, reach
from webapp.pictures.views import Net, Piece, View, pieces_of, turn_of
from webapp.pictures.ways import way_svg, ways
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
SEGMENTS = 40
LEAST_SEEN_MM2 = 5.0
"""Of what less is seen than this, nothing is said."""

EYE_INSET_MM = 0.4
"""The line to an eye ends at its rim: in it, it would not be seen."""

FAR = 0.1
"""What a millimetre more of a label's line costs against one of the picture crossed: our eye."""

TITLE_SIZE, NOTE_SIZE = 4.2, 2.3
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
    return assembly_svgs(toy, eyes, {view: tall_mm}, words, low=low)[view]


def assembly_svgs(
    toy: WorkedToy,
    eyes: EyeNeed | None,
    tall_mm: Mapping[View, float | None],
    words: TermSet,
    *,
    low: bool = False,
) -> dict[View, str]:
    """Pictures of several views as :func:`assembly_svg` draws them, each at most so tall."""
    surfaces = surfaces_of(toy, eyes, segments=SEGMENTS, ridged=False)
    paired = {p.name for p in toy.recipe.parts if p.place.pair}
    nearer = {p.name for p in toy.recipe.parts if p.place.seat in (Seat.SURFACE, Seat.NECK)}
    found: dict[View, str] = {}
    for view, tall in tall_mm.items():
        further = end_on(toy) if view is View.APART else {}
        pieces = pieces_of(surfaces, turn_of(toy, view), paired, nearer, further)
        pieces = hosts_first(pieces, toy)
        if view is View.APART:
            room = (APART_ROOM_MM[0], tall or APART_ROOM_MM[1])
            found[view] = _apart(toy, pieces, words, room, low)
        else:
            room = (ROOM_MM[0], tall or ROOM_MM[1])
            found[view] = _together(toy, pieces, view, words, room, low)
    return found


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
    drawn, raster = drawn_together(pieces, scale, every, toy)
    offset = np.array([WIDTH / 2.0 - scale * (least[0] + most[0]) / 2.0, TOP_MM - scale * least[1]])
    labels, lowest = in_margins([*_labels(toy, drawn, raster, scale, offset, words)], TOP_MM)
    body = [piece_svg(d, scale, offset, low) for d in drawn]
    body += [label_svg(label, WIDTH, MARGIN_MM) for label in labels]
    bottom = max(TOP_MM + scale * float(most[1] - least[1]), lowest)
    note = words.say("A fine line every {number} {rnds_small}", number=every)
    body.append(text(0.0, bottom + 6.0, note, NOTE_SIZE))
    said = ". ".join(label.said for label in labels)
    return _page(title_of(toy, view, words), said, body, bottom + 9.0, words, low)


def _labels(
    toy: WorkedToy,
    drawn: Sequence[Drawn],
    raster: Raster,
    scale: float,
    offset: Floats,
    words: TermSet,
) -> Iterator[Label]:
    """A label for each part of which enough is seen, and for the eyes."""
    taken: list[float] = []
    eyes = [*_eyes_seen(toy, drawn)]
    for recipe in toy.recipe.parts:
        own = [
            d for d in drawn
            if d.piece.part == recipe.name and d.area_mm2 * scale**2 >= LEAST_SEEN_MM2
        ]  # fmt: skip
        if own:
            ends = [(d.numbers[0], d.numbers[-1]) for d in own]
            reached = [reach(raster, *those, SPOTS_PER_MM, INSET_MM, taken, eyes) for those in ends]
            taken += [end.y for both in reached for end in both]
            lines = part_words(toy, recipe, words)
            yield _label(name_of(recipe, words), lines, reached, scale, offset)
    if eyes:
        reached = [reach(raster, n, n, SPOTS_PER_MM, EYE_INSET_MM, taken) for n in eyes]
        yield _label(words.say("Eyes"), eye_words(toy, words), reached, scale, offset)


def _eyes_seen(toy: WorkedToy, drawn: Sequence[Drawn]) -> Iterator[int]:
    """The numbers of the eyes of which something is seen."""
    for d in drawn:
        if toy.eyes is not None and d.piece.part == toy.eyes.on:
            for number, (colour, _, found) in zip(d.numbers, d.fills, strict=True):
                if colour == EYE_HEX and found:
                    yield number


def _label(
    name: str,
    lines: Sequence[str],
    reached: Sequence[tuple[Reach, Reach]],
    scale: float,
    offset: Floats,
) -> Label:
    """A label of several pieces alike: from each margin to that which is reached best."""
    ends = [min(side, key=lambda end: round(end.crossed)) for side in zip(*reached, strict=True)]
    left, right = (np.array([end.x, end.y]) * scale + offset for end in ends)
    longer = (WIDTH - MARGIN_MM - float(right[0])) - (float(left[0]) - MARGIN_MM)
    spares = ends[1].crossed - ends[0].crossed + FAR * longer
    return Label(
        folded(name, MARGIN_MM - 3.0, SIZE, bold=True),
        tuple(part for line in lines for part in folded(line, MARGIN_MM - 3.0, SIZE)),
        (float(left[0]), float(left[1])),
        (float(right[0]), float(right[1])),
        spares,
        ", ".join((name, *lines)),
    )


# --- apart -------------------------------------------------------------------------------------


def _apart(
    toy: WorkedToy,
    pieces: Sequence[Piece],
    words: TermSet,
    room: tuple[float, float],
    low: bool,
) -> str:
    size = max(toy.size.overall_height_mm, toy.size.width_mm, toy.size.depth_mm)
    scale = room[1] / size / 2.0
    alone, shapes = drawn_alone(pieces, scale, every_so_many(toy, scale), toy)
    moved, scale, corner, wide = _packed(toy, pieces, shapes, scale, words, room)
    offset = np.array([(WIDTH - wide[0] * scale) / 2.0, TOP_MM]) - corner * scale
    body, said = [], []
    lines = [*ways(toy, pieces, shapes, moved, scale)]
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
    body += [way_svg(ends * scale + offset, begins) for ends, begins in lines]
    bottom = TOP_MM + wide[1] * scale
    title = title_of(toy, View.APART, words)
    return _page(title, ". ".join(said), body, bottom + 4.0, words, low)


def _packed(
    toy: WorkedToy,
    pieces: Sequence[Piece],
    shapes: Sequence[BaseGeometry],
    scale: float,
    words: TermSet,
    room: tuple[float, float],
) -> tuple[list[Moved], float, Floats, Floats]:
    """Where pieces and their names go, at a scale at which all of it fits the page; also the upper
    left corner and the extent, mm of the toy.

    Names keep their size on paper, so they take more room the smaller the picture is.
    """
    for _ in range(TRIES):
        names = _names(toy, pieces, scale, words)
        moved = taken_apart(toy, pieces, shapes, names)
        corners = np.array([move.bounds for move in moved])
        low, high = corners[:, :2].min(axis=0), corners[:, 2:].max(axis=0)
        fits = float(min(np.array(room) / (high - low)))
        if fits >= scale:
            break
        scale = 0.97 * fits
    return moved, min(scale, fits), low, high - low


def _names(
    toy: WorkedToy, pieces: Sequence[Piece], scale: float, words: TermSet
) -> list[Named | None]:
    """A name for the first piece of each part, with its size at this scale."""
    names: list[Named | None] = []
    named: set[str] = set()
    for piece in pieces:
        recipe = toy.recipe.part(piece.part)
        if recipe.name in named:
            names.append(None)
            continue
        named.add(recipe.name)
        lines = (words.name(recipe.label), words.say("make {number}", number=recipe.copies))
        wide = max(text_width(line, SIZE, bold=True) for line in lines)
        names.append(Named(lines, np.zeros(2), wide / scale, 2.0 * LEADING / scale))
    return names


# --- the page ----------------------------------------------------------------------------------


def _extent(nets: Sequence[Net]) -> tuple[Floats, Floats]:
    points = np.concatenate([net.points[..., :2].reshape(-1, 2) for net in nets])
    return points.min(axis=0), points.max(axis=0)


def _page(
    title: str, said: str, body: Sequence[str], height: float, words: TermSet, low: bool
) -> str:
    size = TITLE_SIZE * min(1.0, WIDTH / text_width(title, TITLE_SIZE, bold=True))
    inner = text(0.0, 4.6, title, size, bold=True) + "".join(body)
    paper = (WIDTH + 2.0, height + 1.0)
    return document(inner, paper, title, f"{said}.", lang=words.terms.tag, low=low)
