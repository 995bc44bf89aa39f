"""The drawings of the sheet: a chart of each part, and pictures for sewing it together.

They depend on the toy alone, and pictures take longer than all the rest: those of the toys lately
asked for are remembered.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from html import escape, unescape

from webapp.assembly import WorkedToy
from webapp.charts import chart_svg
from webapp.materials import EyeNeed
from webapp.pictures import View, assembly_svg
from webapp.publish.options import Drawings, SheetOptions
from webapp.way import Toy
from webapp.yarns import term_set

REMEMBERED = 16

TALL_MM = 95.0
"""How tall a toy is drawn: two pictures fit on a page of either paper."""

APART_TALL_MM = 150.0
"""Its parts apart need more room."""

AROUND_MM = 2.0
"""Kept free round the toy on the cover."""

_PIECE = re.compile(r'<g class="part".*?</g>', re.DOTALL)
_PATH = re.compile(r' d="([^"]*)"')
_POINT = re.compile(r"[ML](-?[\d.]+) (-?[\d.]+)")


def drawings_of(made: Toy, options: SheetOptions) -> Drawings:
    """The drawings that the options ask for."""
    toy, low = made.worked, options.ink == "low"
    pictures = _pictures(toy, made.materials.eyes, low)
    return Drawings(
        charts=_charts(toy, low) if options.charts == "yes" else {},
        assembly=[(said_by(svg), svg) for svg in pictures.values()],
        cover=without_words(pictures[View.FRONT]) if low else "",
    )


@lru_cache(maxsize=REMEMBERED)
def _charts(toy: WorkedToy, low: bool) -> Mapping[str, str]:
    words = term_set(toy.design.terms)
    return {
        part.name: chart_svg(toy, part, words, table=False, low=low) for part in toy.recipe.parts
    }


@lru_cache(maxsize=REMEMBERED)
def _pictures(toy: WorkedToy, eyes: EyeNeed | None, low: bool) -> Mapping[View, str]:
    words = term_set(toy.design.terms)
    tall = {view: APART_TALL_MM if view is View.APART else TALL_MM for view in View}
    return {
        view: assembly_svg(toy, eyes, view, words, low=low, tall_mm=tall[view]) for view in View
    }


def said_by(svg: str) -> str:
    """What a drawing says of itself: its title and description."""
    found = (re.search(rf"<{name}>(.*?)</{name}>", svg, re.DOTALL) for name in ("title", "desc"))
    return unescape(". ".join(one[1].rstrip(".") for one in found if one))


def without_words(svg: str) -> str:
    """A picture's pieces alone, close in their frame."""
    pieces = "".join(_PIECE.findall(svg))
    points = [(float(x), float(y)) for d in _PATH.findall(pieces) for x, y in _POINT.findall(d)]
    left, top = (min(axis) - AROUND_MM for axis in zip(*points, strict=True))
    right, bottom = (max(axis) + AROUND_MM for axis in zip(*points, strict=True))
    box = f"{left:g} {top:g} {right - left:g} {bottom - top:g}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">'
        f"<title>{escape(said_by(svg))}</title>{pieces}</svg>"
    )
