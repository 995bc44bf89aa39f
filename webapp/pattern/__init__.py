"""The written pattern: the toy in the trade's words, in a language that :class:`Terms` has.

Imports :mod:`webapp.materials` and what lies below it; writes plain text.
Start reading at :mod:`webapp.pattern.document` (the whole pattern); one part's rounds are in
``parts``, the wording of a round in ``wording``, eyes in ``eyes``, sewing in ``sewing``.
"""

from webapp.pattern.document import pattern_sheet, pattern_text
from webapp.pattern.parts import Line, LineKind, part_lines, working_order
from webapp.pattern.sewing import sewing_lines
from webapp.pattern.sheet import PartSheet, Sheet
from webapp.pattern.words import round_words

__all__ = [
    "Line",
    "LineKind",
    "PartSheet",
    "Sheet",
    "part_lines",
    "pattern_sheet",
    "pattern_text",
    "round_words",
    "sewing_lines",
    "working_order",
]
