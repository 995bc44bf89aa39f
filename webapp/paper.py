"""Small pieces of SVG for what is drawn on paper: mm, y downwards, written alike everywhere."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from html import escape

import numpy as np
from numpy.typing import ArrayLike

NARROW: Mapping[str, float] = {
    letter: width
    for letters, width in (("ijlI|'’‘·", 0.3), (" \xa0.,:;!", 0.34), ("frt()[]-/\"", 0.42))
    for letter in letters
}
BROAD: Mapping[str, float] = {
    letter: width for letters, width in (("mMW@%…œæ", 1.0), ("w+=<>×±−QO", 0.85))
    for letter in letters
}
SMALL, CAPITAL, FULL = 0.64, 0.75, 1.0
"""Widths of letters in type sizes, those of the widest of the drawings' typefaces (DejaVu Sans,
from memory, and a little over); Japanese ones are square."""

BOLD = 1.14

INK = "#1d1714"

STYLE = (
    f"svg:root{{color:{INK}}}"
    "@media(prefers-color-scheme:dark){svg:root{color:#f3e7d8;background:#2c241f}}"
    "@media print{svg:root{color:#000;background:none}}"
)
"""Ink on paper; where the reader's screen is dark, light on dark. Within a page it takes the colour
of the words around it."""

BLACK = "svg:root{color:#000;background:#fff}"
"""The same for paper alone, in black."""


FONTS = "Noto Sans, Noto Sans JP, Noto Sans CJK JP, DejaVu Sans, Verdana, sans-serif"


def document(
    body: str,
    size: tuple[float, float],
    title: str,
    description: str,
    *,
    lang: str,
    low: bool = False,
) -> str:
    """A whole SVG of a size (wide, tall) in mm, its upper left at (-1, -1), with what it is called
    and what it shows in the language ``lang`` (BCP 47); ``low`` ink is black."""
    wide, tall = map(number, size)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 {wide} {tall}" '
        f'width="{wide}mm" height="{tall}mm" role="img" '
        f'lang="{lang}" xml:lang="{lang}" fill="currentColor" font-family="{FONTS}">'
        f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        f"<style>{BLACK if low else STYLE}</style>{body}</svg>"
    )


def number(value: float) -> str:
    """A coordinate to a hundredth of a millimetre, as short as can be."""
    text = f"{value:.2f}"
    if text[-1] != "0":
        return text
    text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


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


@lru_cache(maxsize=4096)
def text_width(words: str, size: float = 2.4, *, bold: bool = False) -> float:
    """How wide a line is at most, about; bold letters are wider."""
    return sum(map(_letter_width, words)) * size * (BOLD if bold else 1.0)


@lru_cache(maxsize=4096)
def _letter_width(letter: str) -> float:
    if letter in NARROW:
        return NARROW[letter]
    if letter in BROAD:
        return BROAD[letter]
    if unicodedata.combining(letter):
        return 0.0
    if unicodedata.east_asian_width(letter) in "WF":
        return FULL
    return CAPITAL if letter.isupper() else SMALL


def path_through(points: ArrayLike) -> str:
    """A line through points, each (right, down)."""
    # Nothing added to a negative nought makes it nought.
    rounded = (np.round(np.asarray(points, dtype=np.float64), 2) + 0.0).ravel().tolist()
    pairs = zip(rounded[::2], rounded[1::2], strict=True)
    return "M" + "L".join([f"{x:.9g} {y:.9g}" for x, y in pairs])


@lru_cache(maxsize=1024)
def wrapped(words: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """``words`` in lines no wider than ``width``: broken at spaces, between letters that are
    square, and within a word that is too long for a line; a number stays with the word before, and
    what a no-break space joins together."""
    lines: list[str] = []
    words = _NUMBER.sub(GLUE, _SPACES.sub(" ", words.strip()))
    for piece in _BREAKS.findall(words):
        longer = lines[-1] + piece if lines else piece
        if lines and text_width(longer.rstrip(), size, bold=bold) <= width:
            lines[-1] = longer
            continue
        while text_width(piece.rstrip(), size, bold=bold) > width and len(piece) > 1:
            fits = max(
                (n for n in range(1, len(piece))
                 if text_width(piece[:n], size, bold=bold) <= width), default=1,
            )  # fmt: skip
            lines.append(piece[:fits])
            piece = piece[fits:]
        lines.append(piece)
    return tuple(line.strip().replace(GLUE, " ") for line in lines)


@lru_cache(maxsize=1024)
def folded(words: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """As :func:`wrapped`, in lines of about one length."""
    lines = wrapped(words, width, size, bold=bold)
    while len(lines) > 1:
        width = max(text_width(line, size, bold=bold) for line in lines) - 0.1
        shorter = wrapped(words, width, size, bold=bold)
        if len(shorter) > len(lines):
            break
        lines = shorter
    return lines


GLUE = "\u2007"
"""Stands for a space at which no line is broken, while lines are: a space as wide as a digit."""

_SPACES = re.compile(r"[ \t\n\r]+")
_NUMBER = re.compile(r"(?<=[^\W\d]) (?=\d)")
_CLOSING = "め、。，．・：；？！）」』】ー々ぁぃぅぇぉっゃゅょァィゥェォッャュョ"
_SQUARE = "\u3040-\u30ff\u3400-\u9fff\uff00-\uff60"
_BREAKS = re.compile(
    rf"[（「『]*[{_SQUARE}][{_CLOSING}]* *|[（「『]*[^ {_SQUARE}（「『]+[{_CLOSING}]* *|[（「『]+"
)
"""Pieces between which a line may be broken: words, and Japanese letters but before those that
close (JIS X 4051, from memory) and before the ending of a round's number."""
