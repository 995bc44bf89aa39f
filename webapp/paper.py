"""Small pieces of SVG for what is drawn on paper: mm, y downwards, written alike everywhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

CHARACTER = 0.56
"""Width of a character of the chart's type, in type sizes: a little more than most are."""

BOLD = 0.7

STYLE = (
    "svg:root{color:#1d1714}"
    "@media(prefers-color-scheme:dark){svg:root{color:#f3e7d8;background:#2c241f}}"
    "@media print{svg:root{color:#000;background:none}}"
)
"""Ink on paper; where the reader's screen is dark, light on dark. Within a page it takes the colour
of the words around it."""

BLACK = "svg:root{color:#000;background:#fff}"
"""The same for paper alone, in black."""


FONTS = "Noto Sans, DejaVu Sans, Verdana, sans-serif"


def document(
    body: str, size: tuple[float, float], title: str, description: str, *, low: bool = False
) -> str:
    """A whole SVG, its upper left at (-1, -1), with what it is called and what it shows; ``low``
    ink is black."""
    wide, tall = map(number, size)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 {wide} {tall}" '
        f'width="{wide}mm" height="{tall}mm" role="img" '
        f'fill="currentColor" font-family="{FONTS}">'
        f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        f"<style>{BLACK if low else STYLE}</style>{body}</svg>"
    )


def number(value: float) -> str:
    """A coordinate to a hundredth of a millimetre, as short as can be."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def at(x: float, y: float) -> str:
    return f"translate({number(x)} {number(y)})"


def text(
    x: float, y: float, words: str, size: float = 2.4, *, anchor: str = "", bold: bool = False
) -> str:
    """A line of text with its baseline at ``y``."""
    more = f' text-anchor="{anchor}"' if anchor else ""
    more += ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}"{more}>'
        f"{escape(words)}</text>"
    )


def text_width(words: str, size: float = 2.4, *, bold: bool = False) -> float:
    """How wide a line is at most, about; bold figures are wider."""
    return len(words) * size * (BOLD if bold else CHARACTER)


def path_through(points: Iterable[Sequence[float]]) -> str:
    """A line through points, each (right, down)."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def wrapped(words: str, width: float, size: float) -> list[str]:
    """``words`` in lines no wider than ``width``."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
