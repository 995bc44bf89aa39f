"""What the template is given: plain data, text never as markup, pictures as SVG."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from webapp.materials import Materials
from webapp.pattern import LineKind, PartSheet, Sheet, pattern_sheet, round_words
from webapp.preview import Surface, still_svg, surfaces_of
from webapp.preview.still import SIDE_TURN, still_of
from webapp.publish.options import Drawings, SheetOptions
from webapp.recipes import Seat
from webapp.way import Toy
from webapp.yarns import TermSet, term_set

SEGMENTS = 16
"""Facets round a lap in the pictures smaller than that of the cover."""

NO_DRAWINGS = Drawings()

CONTRAST = 4.5
"""Least contrast of text with its ground: WCAG 2.2, 1.4.3."""


def sheet_data(
    made: Toy, options: SheetOptions, drawings: Drawings = NO_DRAWINGS
) -> dict[str, Any]:
    """The whole sheet of a toy."""
    toy, materials = made.worked, made.materials
    words = term_set(toy.design.terms)
    sheet = pattern_sheet(toy, materials, made.cautions)
    low = options.ink == "low"
    surfaces = surfaces_of(toy, materials.eyes, segments=SEGMENTS, ridged=False)
    sewn_on = {p.name for p in toy.recipe.parts if p.place.seat in (Seat.SURFACE, Seat.NECK)}
    turn = toy.recipe.turn
    side = turn + (SIDE_TURN if turn < 45.0 else -SIDE_TURN)
    turned = {"side": side, "back": turn + 180.0}
    colours = [toy.recipe.colours[need.colour].hex for need in materials.yarns]
    accent = "#222222" if low else dark_enough(min(colours, key=luminance))
    return {
        "title": sheet.name,
        "line": sheet.line,
        "paper": {"a4": "a4", "letter": "us-letter"}[options.paper],
        "low": low,
        "accent": accent,
        "tint": "#ffffff" if low else mixed(colours[0], 0.86),
        "by": options.by,
        "licence": options.licence,
        "intro": [p for p in options.intro.split("\n") if p.strip()],
        "overview": [_split(line) for line in sheet.overview],
        "materials": _materials(made, materials, sheet),
        "gauge": sheet.gauge,
        "gauge_word": words.gauge,
        "abbreviations": [line.split(" = ", 1) for line in sheet.abbreviations],
        "notes": sheet.notes,
        "safety": sheet.safety,
        "cover": in_lines(still_svg(toy, materials.eyes, views=("front",)), low),
        "parts": [
            _part(part, words, _picture(surfaces, part, turn, low))
            | {"chart": drawings.charts.get(part.name, "")}
            for part in sheet.parts
        ],
        "assembly": in_lines(still_of(surfaces, sewn_on, sheet.name, turned), low),
        "pictures": [list(pair) for pair in drawings.assembly],
        "sewing": sheet.sewing,
        "sewn": sheet.sewn,
    }


def _split(line: str) -> list[str]:
    label, _, rest = line.partition(": ")
    return [label, rest] if rest else ["", line]


def _materials(made: Toy, materials: Materials, sheet: Sheet) -> list[dict[str, Any]]:
    """Lines, those of yarns and threads with their colour."""
    toy = made.worked
    hexes = [toy.recipe.colours[need.colour].hex for need in materials.yarns]
    swatches = iter([*hexes, *(need.hex for need in materials.threads)])
    found: list[dict[str, Any]] = []
    for line in sheet.materials:
        item = line.startswith("- ")
        label, rest = _split(line.removeprefix("- "))
        found.append({"swatch": next(swatches) if item else "", "label": label, "text": rest})
    return found


def _part(part: PartSheet, words: TermSet, picture: str) -> dict[str, Any]:
    return {
        "label": part.label,
        "copies": part.copies,
        "colour": part.colour,
        "heads": ["Row" if part.in_rows else "Round", "Work", "Stitches", "Done"],
        "picture": picture,
        "lines": [
            {
                "label": round_words(line.first, line.last, words, part.in_rows),
                "text": line.text,
                "count": line.count,
                "boxes": line.last - line.first + 1,
            }
            if line.kind is LineKind.ROUND
            else {"note": line.text}
            for line in part.lines
        ],
    }


def _picture(surfaces: Sequence[Surface], part: PartSheet, turn: float, low: bool) -> str:
    """One copy of a part as it sits on the toy; of a pair the first."""
    found = [s for s in surfaces if s.part == part.name and s.rounds and s.copy == 0]
    kept: dict[tuple[int, ...], Surface] = {}
    for surface in found:
        kept.setdefault(surface.rounds, surface)
    return in_lines(still_of(list(kept.values()), set(), part.label, {"front": turn}), low)


def in_lines(svg: str, low: bool) -> str:
    """The picture as it is, or drawn in lines without fills to save ink."""
    if not low:
        return svg
    svg = re.sub(r'fill="#\w+" stroke="#\w+"', 'fill="#ffffff" stroke="#999999"', svg)
    return svg.replace('stroke-width="4"', 'stroke-width="0.6"')


def _channels(colour: str) -> list[int]:
    return [int(colour[at : at + 2], 16) for at in (1, 3, 5)]


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1: WCAG 2.2."""
    linear = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
        for c in (channel / 255 for channel in _channels(colour))
    )
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def mixed(colour: str, white: float) -> str:
    """A colour with a share of white."""
    return "#" + "".join(f"{round(c + (255 - c) * white):02x}" for c in _channels(colour))


def dark_enough(colour: str) -> str:
    """The colour, darkened until text in it can be read on white and on a pale tint."""
    while 1.05 / (luminance(colour) + 0.05) < CONTRAST * 1.3:
        colour = "#" + "".join(f"{c * 9 // 10:02x}" for c in _channels(colour))
    return colour
