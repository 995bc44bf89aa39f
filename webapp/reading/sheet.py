"""The sheet of a pattern: a cleaned text cut into parts, lines of rounds, and remarks.

Nothing here knows stitches: a :class:`RoundLine` has its label read and its body still to read.
Places are spans of the CLEAN text; :attr:`Clean.origin` leads back to the text as handed in.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.reading.model import ReadGauge, Span
from webapp.terms import Language


@dataclass(frozen=True)
class Clean:
    """A text with one spelling for each character: dashes are ``-``, quotes straight, spaces plain,
    signs of times ``x``, letters of other alphabets that look Latin (inside Latin words) Latin.

    ``origin`` has for each character of ``text`` its place in the original, and one more for the
    end. ``slips`` are sentences about what was read as something else.
    """

    text: str
    origin: tuple[int, ...]
    slips: tuple[str, ...]


@dataclass(frozen=True)
class RoundLine:
    """A piece of work: the whole of it, its label as written, the numbers the label gives (None
    where it has none), and what follows the label: stitches, count and remarks, still unread.

    ``said_rounds`` is how many rounds the line says it covers besides its label ("4 rounds").
    """

    span: Span
    label: str
    first: int | None
    last: int | None
    body: Span
    says_row: bool = False
    said_rounds: int | None = None


@dataclass(frozen=True)
class RemarkLine:
    """A line, or lines, that are no round."""

    span: Span


@dataclass(frozen=True)
class SheetPart:
    """A part: its heading as written ("" before any), copies, and its lines in order."""

    title: str
    copies: int
    span: Span
    lines: tuple[RoundLine | RemarkLine, ...]


@dataclass(frozen=True)
class Sheet:
    """A text cut up: the words it is read by and why, title, gauge, remarks in no part, parts."""

    clean: Clean
    language: Language
    why: str
    title: str
    gauge: ReadGauge | None
    remarks: tuple[RemarkLine, ...]
    parts: tuple[SheetPart, ...]
