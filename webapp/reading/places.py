"""Places: from the cleaned text to the original, and to lines and columns."""

from __future__ import annotations

from bisect import bisect_right

from webapp.reading.model import Remark, Span
from webapp.reading.remarks import remark_kind
from webapp.reading.sheet import Sheet


class Places:
    """From places in the cleaned text to the original, and to lines and columns."""

    def __init__(self, text: str, sheet: Sheet) -> None:
        self._text = text
        self._origin = sheet.clean.origin
        self._starts = [0, *(i + 1 for i, letter in enumerate(text) if letter == "\n")]

    def span(self, clean: Span) -> Span:
        start = self._origin[clean.start]
        end = self._origin[clean.end - 1] + 1 if clean.end > clean.start else start
        return Span(start, max(start, end))

    def line_column(self, span: Span) -> tuple[int, int]:
        line = bisect_right(self._starts, span.start)
        return line, span.start - self._starts[line - 1] + 1

    def remark(self, after: int, clean: Span, sheet: Sheet) -> Remark:
        span = self.span(clean)
        text = " ".join(self._text[span.start : span.end].split())
        return Remark(after, remark_kind(text, sheet.language), text, span)
