"""The gauge a text states: so many stitches, and rounds, to a length of fabric.

``24 sc and 25 rnds = 10 x 10 cm``, ``13 sc and 14 rows = 4 in``, ``5 sc = 1 inch``. By custom of
the trade 4 in are 10 cm; any other number of inches is taken at 25.4 mm.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from webapp.reading.model import ReadGauge, Span
from webapp.reading.vocabulary import either
from webapp.terms import Language, term_table

FEWEST, MOST = 2.0, 80.0
"""Stitches in 10 cm: outside of these it is no gauge."""

MM = {"cm": 10.0, "mm": 1.0, "in": 25.4}
_UNIT = (
    r"(?P<unit>cm|mm|inch(?:es)?|ins?|\"|zoll|pouces?|pulgadas?|pollic[ei]|polegadas?|duim|tommer|tum"
    r"|centim[a-zèé]{3,7})"
)
_LENGTH = (
    rf"(?P<a>\d{{1,3}}(?:[.,]\d{{1,2}})?)\s?(?:{_UNIT.replace('unit', 'first')})?"
    rf"(?:\s?x\s?\d{{1,3}}(?:[.,]\d{{1,2}})?)?\s?(?:{_UNIT})?"
)
_ANY_LENGTH = re.compile(_UNIT.replace("(?P<unit>", r"\d\s?(?:"))
_MEASURE = (
    r"=|(?<![^\W_])(?:to|over|per|on|measures?|equals?|is|are|auf|ergeben|ergibt|sind|pour|sur|font"
    r"|mesurent|en|para|son|miden|in|su|misurano|medem|op|zijn|på|er|är|blir|måler|mäter)(?![^\W_])"
)
_GAP = rf"[^\d\n.;]{{0,24}}?(?:{_MEASURE})[^\d\n.;]{{0,16}}?"


def find_gauge(text: str, language: Language) -> ReadGauge | None:
    """The first gauge a cleaned text states that can be one; its span is in that text."""
    low = text.lower()
    for match in _candidates(low, language):
        unit = match["unit"] or match["first"]
        if not unit:
            continue
        length = float(match["a"].replace(",", ".")) * _mm(unit)
        if unit[0] in '"ipzdt' and float(match["a"].replace(",", ".")) == 4:
            length = 100.0
        if length < 10:
            continue
        stitches = float(match["st"].replace(",", ".")) * 100 / length
        rows = match["rows"]
        rounds = float(rows.replace(",", ".")) * 100 / length if rows else None
        if FEWEST <= stitches <= MOST and (rounds is None or FEWEST <= rounds <= MOST):
            span = Span(match.start(), match.end())
            return ReadGauge(round(stitches, 3), round(rounds, 3) if rounds else None, span)
    return None


def _candidates(low: str, language: Language) -> Iterator[re.Match[str]]:
    """What looks like a gauge, in lines that have a length at all."""
    done = 0
    for length in _ANY_LENGTH.finditer(low):
        if length.start() < done:
            continue
        start = low.rfind("\n", 0, length.start()) + 1
        end = low.find("\n", length.end())
        done = len(low) if end < 0 else end
        for pattern in _gauges(language):
            yield from pattern.finditer(low, start, done)


def _mm(unit: str) -> float:
    if unit in ("cm", "mm"):
        return MM[unit]
    return MM["cm"] if unit.startswith("centim") else MM["in"]


@cache
def _gauges(language: Language) -> tuple[re.Pattern[str], ...]:
    if term_table(language).spaced:
        return (_gauge(language),)
    number = r"\d{1,2}(?:\.\d{1,2})?"
    counts = rf"(?P<st>{number})\s?目(?:[^\d\n]{{0,6}}(?P<rows>{number})\s?段)?"
    return (
        re.compile(rf"(?<![\d.,/]){counts}\s?[=:]\s?{_LENGTH}"),
        re.compile(rf"(?<![\d.,/]){_LENGTH}(?![a-z])[^\d\n]{{0,16}}{counts}"),
    )


@cache
def _gauge(language: Language) -> re.Pattern[str]:
    own = term_table(language)
    tables = [own, term_table(Language.US)]
    stitches = either(w for t in tables for c in ("sc", "st") for w in t.forms[c])
    rounds = either(w for t in tables for c in ("round", "row") for w in t.forms[c])
    number = r"\d{1,2}(?:[.,]\d{1,2})?"
    return re.compile(
        rf"(?<![\d.,/])(?P<st>{number})\s?(?:{stitches})(?![^\W\d_])"
        rf"(?:[^\d\n]{{0,16}}?(?P<rows>{number})\s?(?:{rounds})(?![^\W\d_]))?"
        rf"{_GAP}(?<![\d.,/]){_LENGTH}(?![^\W\d_])"
    )
