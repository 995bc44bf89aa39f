"""Drawings as they stand in the sheet: lines as SVG, and their words apart from them, which are
then set as all other words of the sheet: in its type, and far quicker than from within an SVG.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from html import unescape
from typing import NamedTuple

from webapp.charts import chart_pages

_PART = re.compile(
    r"<(?:g\b(?P<attributes>[^>]*)>|(?P<end>/g>)"
    r'|text x="(?P<x>\S+)" y="(?P<y>\S+)" font-size="(?P<size>\S+)"'
    r'(?: text-anchor="(?P<anchor>\w+)")?(?P<bold> font-weight="bold")?>(?P<words>[^<]*)</text>)'
)
_MOVED = re.compile(r'\btransform="translate\((\S+) (\S+)\)"')
_BOX = re.compile(r'<svg[^>]* viewBox="(\S+) (\S+) ')
_TALL = re.compile(r'<svg[^>]* height="([\d.]+)mm"')


class Word(NamedTuple):
    """Words on a line of a drawing: where their baseline is anchored ("start", "middle" or "end"),
    mm from the upper left of the drawing, and their size, mm."""

    words: str
    x: float
    y: float
    size: float
    anchor: str
    bold: bool


@dataclass(frozen=True)
class Figure:
    """A drawing as SVG without its words; ``tall_mm`` is how tall it is on paper, 0 where it does
    not say."""

    svg: str
    tall_mm: float
    words: tuple[Word, ...] = ()


def figure(svg: str) -> Figure:
    """A drawing with its words apart, if it gives its size in mm; words along an arc stay in it."""
    tall = _TALL.match(svg)
    box = _BOX.match(svg)
    if tall is None or box is None:
        return Figure(svg, 0.0)
    left, top = float(box[1]), float(box[2])
    places = [(-left, -top)]
    kept: list[str] = []
    words: list[Word] = []
    done = 0
    for part in _PART.finditer(svg):
        x, y = places[-1]
        if part["end"]:
            places.pop()
        elif part["words"] is None:
            moved = _MOVED.search(part["attributes"])
            places.append((x + float(moved[1]), y + float(moved[2])) if moved else (x, y))
        else:
            kept.append(svg[done : part.start()])
            done = part.end()
            words.append(
                Word(
                    unescape(part["words"]),
                    x + float(part["x"]),
                    y + float(part["y"]),
                    float(part["size"]),
                    part["anchor"] or "start",
                    bool(part["bold"]),
                )
            )
    kept.append(svg[done:])
    return Figure("".join(kept), float(tall[1]), tuple(words))


def chart_figures(svg: str) -> tuple[Figure, ...]:
    """A chart, page by page, each with the words that stand on it."""
    pages = (figure(page) for page in chart_pages(svg))
    return tuple(
        replace(page, words=tuple(word for word in page.words if 0.0 <= word.y <= page.tall_mm))
        for page in pages
    )
