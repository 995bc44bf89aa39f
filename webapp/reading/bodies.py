"""The body of a line: from words to phrases, to work without counts and remarks, to a tree."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from webapp.reading.cutting import Cut, cut
from webapp.reading.lexicon import lexicon
from webapp.reading.model import Span
from webapp.reading.nodes import Node
from webapp.reading.phrases import phrases
from webapp.reading.pieces import Mark
from webapp.reading.rows import terminals
from webapp.reading.signs import BOBBLE, Key
from webapp.reading.structure import UnbalancedError, tree
from webapp.reading.vocabulary import either, vocabulary
from webapp.terms import Language, term_table

LONGEST = 3000
"""No round is said in more characters than this; a longer line is not read."""
_FOR = 9
"""`for 5 rounds`: the word before the number is within so many characters."""
_COLOUR_LETTER = re.compile(r"(?:^|(?<![^\W_]))\W?[^\W\d_]:(?!\S)")
"""A letter for a colour in front of its stitches: ``W: 12 sc, B: 12 sc``."""
LONGEST_KEPT = 300
"""Bodies of more characters are not remembered: thousands of long ones would fill the memory."""


@dataclass(frozen=True)
class Body:
    """A body as understood: its nodes, counts and where they stand, marks, remarks.

    ``noise`` are words among the stitches that are not known; ``trouble`` says why there are no
    nodes where stitches were written. ``said_rounds`` is how many rounds it says it covers.
    """

    nodes: tuple[Node, ...]
    counts: tuple[tuple[int, Span], ...] = ()
    marks: tuple[Mark, ...] = ()
    remarks: tuple[Span, ...] = ()
    noise: tuple[Span, ...] = ()
    trouble: str = ""
    said_rounds: int | None = None
    said_at: Span | None = None

    def mark(self, what: str) -> Mark | None:
        return next((mark for mark in self.marks if mark.what == what), None)


def read_body(text: str, language: Language, key: Key = ()) -> Body:
    """What a body says; places are those in ``text``, which is cleaned and in small letters.

    The words of ``key`` stand for the stitches it says.
    """
    if len(text) > LONGEST:
        return Body((), trouble=f"it is longer than {LONGEST} characters")
    read = _kept if len(text) <= LONGEST_KEPT else _kept.__wrapped__
    return read(text, language, key)


@lru_cache(maxsize=2048)
def _kept(text: str, language: Language, key: Key) -> Body:
    words = lexicon(language).words(text, key)
    huge = next((word for word in words if word.sign == "!"), None)
    if huge is not None:
        says = f"{text[huge.start : huge.end][:12]} is more stitches than any round has"
        return Body((), trouble=says)
    found = cut(phrases(words, term_table(language).place_first))
    row = terminals(found)
    bobbles = [Span(w.start, w.end) for w in words if w.sign == "s" and w.value == BOBBLE]
    found.marks += [Mark("bobble", 1, span) for span in bobbles]
    harmless = _harmless(language)
    said = vocabulary(language).said_rounds
    rounds = [match.span() for match in said.finditer(text)] if found.noise else []
    found.noise = [
        s
        for s in found.noise
        if not harmless.fullmatch(text, s.start, s.end)
        and not _COLOUR_LETTER.match(text, max(s.start - 1, 0))
        and not any(a - _FOR <= s.start and s.end <= b for a, b in rounds)
    ]
    try:
        return _body(tree(row), found)
    except UnbalancedError as error:
        return _body((), found, str(error))


def forget_bodies() -> None:
    """Nothing of what was read stays in memory."""
    _kept.cache_clear()


@cache
def _harmless(language: Language) -> re.Pattern[str]:
    """Words among stitches that are none for certain: colours, and words of changing them."""
    table = term_table(language)
    begun = [w.strip() for w in table.forms.get("about_colour", ()) if len(w.strip()) > 3]
    return re.compile(
        rf"{either(table.sheet.get('colours', ()))}|(?:{either(begun)})[^\W\d_]{{0,8}}"
    )


def _body(nodes: tuple[Node, ...], found: Cut, trouble: str = "") -> Body:
    return Body(
        nodes,
        tuple(found.counts),
        tuple(found.marks),
        tuple(found.remarks),
        tuple(found.noise),
        trouble,
        found.said_rounds,
        found.said_at,
    )
