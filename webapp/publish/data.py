"""What the template is given: plain data, text never as markup, pictures as SVG."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from webapp.paper import INK, text_width
from webapp.pattern import Line, LineKind, PartSheet, Sheet, pattern_sheet, round_words
from webapp.publish.colours import dark_enough, luminance, mixed
from webapp.publish.figures import Figure
from webapp.publish.options import NO_DRAWINGS, Drawings, SheetOptions
from webapp.way import Toy
from webapp.yarns import TermSet, term_set

PAPERS = {"a4": "a4", "letter": "us-letter"}

MEANING_LETTERS = 46
"""What an abbreviation means has lines of about so many letters."""

LONG_WORD = re.compile(r"\S{25,}")
"""A word that need not fit a line of a heading: an address, a name without spaces."""

EVERY = 8
"""After so many letters such a word may be broken."""

WIDEST = 3
"""So many labels are measured to find how wide their column is: how wide letters are is known here
about only."""

TYPE_MM, WORK_MM, BOXES = 3.7, 85.0, 5
"""The sheet's type; how wide its column of work is at least; more boxes stand below the words."""

LARGER = 1.14
"""Letters of the sheet's type are smaller and narrower than those that drawings have room for;
Japanese ones are not."""

WHOLE = 16
"""A table of so many lines is never parted."""

SMALL_MM = 80.0
"""A chart no taller than this is not to stand alone on a page."""

COVER_LINES = 16

COVER_LETTERS = 80
"""An introduction of so many lines, so many letters each, fits below the picture of the cover."""


def sheet_data(
    made: Toy, options: SheetOptions, drawings: Drawings = NO_DRAWINGS
) -> dict[str, Any]:
    """The whole sheet of a toy."""
    toy = made.worked
    words = term_set(toy.design.terms)
    sheet = pattern_sheet(toy, made.materials, made.cautions)
    low = options.ink == "low"
    colours = [toy.recipe.colours[need.colour].hex for need in made.materials.yarns]
    language, _, country = words.terms.tag.partition("-")
    signed = words.say("A pattern by {name}", name=options.by)
    intro = [breakable(p) for p in options.intro.split("\n") if p.strip()]
    level, size, *terms = (split(line) for line in sheet.overview)
    last = drawings.charts.get(sheet.parts[-1].name, ()) if sheet.parts else ()
    return {
        "title": sheet.name,
        "name": breakable(sheet.name),
        "line": sheet.line,
        "lang": language,
        "region": country,
        "paper": PAPERS[options.paper],
        "low": low,
        "ink": "#000000" if low else INK,
        "accent": "#000000" if low else dark_enough(min(colours, key=luminance)),
        "tint": "#ffffff" if low else mixed(colours[0], 0.86),
        "author": options.by,
        "by": breakable(options.by),
        "signed": breakable(signed) if options.by else "",
        "licence": breakable(options.licence),
        "intro": intro,
        "intro_fits": sum(1 + len(p) // COVER_LETTERS for p in intro) <= COVER_LINES,
        "size": size,
        "level": level,
        "terms": terms,
        "materials": _materials(made, sheet),
        "gauge": sheet.gauge,
        "abbreviations": in_halves([line.split(" = ", 1) for line in sheet.abbreviations]),
        "notes": sheet.notes,
        "safety": sheet.safety,
        "words": _words(words),
        "cover": drawings.cover,
        "cover_alt": f"{sheet.name}. {sheet.line}",
        "parts": [_part(part, words, drawings) for part in sheet.parts],
        "larger": 1.0 if words.terms.tag == "ja" else LARGER,
        "pictures": [_figure(alt, one) for alt, one in drawings.assembly],
        "sewing": sheet.sewing,
        "sewing-apart": not any(0.0 < one.tall_mm < SMALL_MM for one in last),
        "sewn": sheet.sewn,
    }


def _words(words: TermSet) -> Mapping[str, str]:
    """The headings, in the pattern's language."""
    return {
        "materials": words.say("MATERIALS").capitalize(),
        "gauge": words.gauge,
        "abbreviations": words.say("ABBREVIATIONS").capitalize(),
        "notes": words.say("BEFORE YOU START").capitalize(),
        "safety": words.say("SAFETY").capitalize(),
        "sewing": words.say("SEWING TOGETHER").capitalize(),
        "parts": words.say("The parts"),
        "short": words.say("Short"),
        "meaning": words.say("Meaning"),
    }


def breakable(text: str) -> str:
    """Text whose very long words may be broken anywhere between some of their letters."""
    return LONG_WORD.sub(
        lambda word: "\u200b".join(
            word[0][at : at + EVERY] for at in range(0, len(word[0]), EVERY)
        ),
        text,
    )


def split(line: str) -> list[str]:
    """A line's label with its colon, empty where it has none, and the rest."""
    found = re.match(r"([^:：]{1,40}?\s*[:：])\s*(.+)", line, re.DOTALL)
    return [found[1], found[2]] if found else ["", line]


def in_halves(rows: Sequence[Sequence[str]]) -> list[list[Sequence[str]]]:
    """The rows of a table as two of about the same height, the first no shorter."""
    lines = [1 + len(row[-1]) // MEANING_LETTERS for row in rows]
    first = next((n for n in range(len(rows)) if 2 * sum(lines[:n]) >= sum(lines)), len(rows))
    return [list(half) for half in (rows[:first], rows[first:]) if half]


def _figure(alt: str, one: Figure) -> dict[str, Any]:
    words = [tuple(word) for word in one.words]
    return {"alt": alt, "svg": one.svg, "mm": one.tall_mm, "words": words}


def _materials(made: Toy, sheet: Sheet) -> list[dict[str, Any]]:
    """Lines, those of yarns and threads with their colour."""
    materials = made.materials
    colours = made.worked.recipe.colours
    hexes = [colours[need.colour].hex for need in materials.yarns]
    swatches = iter([*hexes, *(need.hex for need in materials.threads)])
    found: list[dict[str, Any]] = []
    for line in sheet.materials:
        item = line.startswith("- ")
        label, rest = split(line.removeprefix("- "))
        found.append({"swatch": next(swatches) if item else "", "label": label, "text": rest})
    return found


def _part(part: PartSheet, words: TermSet, drawings: Drawings) -> dict[str, Any]:
    label = words.say("Row") if part.in_rows else words.say("Round")
    pages = drawings.charts.get(part.name, ())
    alt = words.say("{part}: chart of the rounds in the table before it", part=part.label)
    lines = [_line(line, part, words) for line in part.lines]
    rounds = [line for line in lines if "label" in line]
    whole = len(lines) <= WHOLE
    # A table that goes on on another page says there whose it is.
    work = words.say("Work") if whole else f"{words.say('Work')} · {part.label}"
    return {
        "heading": words.say("{part} (make {number})", part=part.label, number=part.copies),
        "colour": part.colour,
        "heads": [label, work, words.say("Stitches"), words.say("Done")],
        "whole": whole,
        "widest": sorted((line["label"] for line in rounds), key=text_width)[-WIDEST:],
        "most": str(max((line["count"] for line in rounds), default=0)),
        "picture": drawings.parts.get(part.name, ""),
        "picture_alt": words.say("{part}, by itself", part=part.label),
        "lines": lines,
        "charts": [
            _figure(f"{alt} ({n}/{len(pages)})" if len(pages) > 1 else alt, page)
            for n, page in enumerate(pages, 1)
        ],
    }


def _line(line: Line, part: PartSheet, words: TermSet) -> dict[str, Any]:
    """A round with its label, text, count and boxes, whether these stand below the words, and
    whether all of it is surely ``short``, on one line; or a note, which may take several."""
    if line.kind is not LineKind.ROUND:
        return {"note": line.text, "short": False}
    boxes = line.last - line.first + 1
    below = boxes > BOXES
    return {
        "label": round_words(line.first, line.last, words, part.in_rows),
        "text": line.text,
        "count": line.count,
        "boxes": boxes,
        "below": below,
        "short": not below and text_width(line.text, TYPE_MM) <= WORK_MM,
    }
