"""Words of a line: each known word or phrase of a language as one sign, the rest as unknown.

A sign is one letter (``s`` a single crochet, ``n`` a number, ``I`` into, ``E`` each ...), so that
what comes after can look at a line as a short string of signs, whatever the language.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from webapp.terms import Language, term_table

SIGNS: Mapping[str, str] = MappingProxyType(
    {
        "sc": "s",
        "hdc": "h",
        "dc": "d",
        "tr": "t",
        "slst": "l",
        "inc": "i",
        "dec": "e",
        "tog": "g",
        "ch": "c",
        "st": "p",
        "ring": "R",
        "round": "D",
        "row": "W",
        "in": "I",
        "each": "E",
        "next": "N",
        "same": "A",
        "first": "F",
        "last": "L",
        "around": "O",
        "even": "V",
        "times": "x",
        "twice": "w",
        "rep": "r",
        "from": "f",
        "more": "m",
        "skip": "k",
        "turn": "T",
        "join": "J",
        "back_loops": "B",
        "front_loops": "b",
        "and": "&",
        "hook": "H",
        "other_side": "Z",
        "remaining": "M",
        "total": "Q",
        "leg": "G",
        "unworked": "U",
        "form": "Y",
        "or": "~",
        "the": "",
        "work": "",
    }
)
"""One letter for each concept of a term table; nothing for words that carry no meaning here."""

ORDINAL = re.compile(
    r"(\d+)(?:st|nd|rd|th|º|ª|°|ème|eme|e|er|ère|re|:(?:a|e|de|dje|te))(?!\w)"
)
TOGETHER = re.compile(r"(?:([a-z]+)[ .-]?)?(\d)[ .-]?(?:([a-z]+)[ .-]?)?(?:tog|t)(?:ether)?(?!\w)")
PIECE = re.compile(r"\d+|[^\W\d_]+(?:'(?:t|s|re|ve|ll)(?![^\W\d_]))?|->|\*\*+|[^\s']")
LETTERS = {"x": "s", "v": "i", "λ": "e", "ʌ": "e", "^": "e", "a": "e"}
"""Letters that charts of the East use for single crochet, increase and decrease: common practice,
no source."""
LARGEST = 100_000
"""No number of a pattern is larger; one that is has the sign ``!``."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word of a line: its sign, its number (of a number, an ordinal, a decrease), its place."""

    sign: str
    value: int
    start: int
    end: int


class Lexicon:
    """The words of one language."""

    def __init__(self, language: Language) -> None:
        table = term_table(language)
        self._forms: dict[str, list[tuple[tuple[str, ...], str]]] = {}
        for concept, sign in SIGNS.items():
            for form in table.forms.get(concept, ()):
                pieces = tuple(PIECE.findall(form.lower()))
                if len(pieces) == 1 and pieces[0] in table.numbers:
                    continue
                self._forms.setdefault(pieces[0], []).append((pieces, sign))
        for entries in self._forms.values():
            entries.sort(key=lambda entry: -len(entry[0]))
        self._numbers = dict(table.numbers)
        ordinals = enumerate(table.sheet.get("ordinals", ()), 1)
        self._ordinals = {word.lower(): k for k, word in ordinals if " " not in word and k > 1}
        self._ordinals |= {
            PIECE.findall(form.lower())[0]: 2 for form in table.forms.get("second", ())
        }
        self._every_other = {
            form
            for form in table.forms["second"]
            if any(form != each and each in form for each in table.forms["each"])
        }
        self._pointed = "1." in table.forms["first"]
        self._stitches = {
            form.lower() for form in table.forms["sc"] if " " not in form and "." not in form
        }

    def words(self, text: str, letters: bool = False) -> list[Word]:
        """The words of ``text`` (cleaned, small letters) in order; with ``letters`` those of charts
        stand for stitches."""
        found = list(self._words(text, letters))
        return _with_ordinals(found) if self._pointed else found

    def _words(self, text: str, letters: bool) -> Iterator[Word]:
        pieces = [(m.group(), m.start(), m.end()) for m in PIECE.finditer(text)]
        at = 0
        while at < len(pieces):
            piece, start, end = pieces[at]
            if letters and piece in LETTERS:
                after = pieces[at + 1][0] if at + 1 < len(pieces) else ""
                glued = at > 0 and pieces[at - 1][2] == start and pieces[at - 1][0].isdecimal()
                times = piece == "x" and after.isdecimal() and not glued
                sign = "x" if times else LETTERS[piece]
                yield Word(sign, 2 if sign == "e" else 0, start, end)
                at += 1
                continue
            if piece[0].isdecimal() or piece in self._stitches:
                found = TOGETHER.match(text, start)
                if found and self._joins(found):
                    while at < len(pieces) and pieces[at][1] < found.end():
                        at += 1
                    yield Word("e", int(found[2]), start, found.end())
                    continue
            if piece[0].isdecimal():
                ordinal = ORDINAL.match(text, start)
                if ordinal and len(piece) <= 3:
                    while at < len(pieces) and pieces[at][1] < ordinal.end():
                        at += 1
                    value = int(ordinal[1])
                    yield Word("F" if value == 1 else "o", value, start, ordinal.end())
                    continue
                known = len(piece) <= 6 and int(piece) <= LARGEST
                yield Word("n" if known else "!", int(piece) if known else 0, start, end)
                at += 1
                continue
            if piece in self._every_other:
                yield Word("E", 0, start, end)
                yield Word("o", 2, start, end)
                at += 1
                continue
            taken = self._longest(pieces, at)
            if taken is None:
                yield self._other(piece, start, end)
                at += 1
                continue
            length, sign = taken
            if sign:
                yield Word(sign, 2 if sign == "e" else 0, start, pieces[at + length - 1][2])
            at += length

    def _joins(self, found: re.Match[str]) -> bool:
        """Whether `sc2tog`, `2sctog`, `sc2t` is really one of these; `2t` alone is not."""
        one, _, two = found.groups()
        if one and two:
            return False
        word = one or two
        short = not found.group().endswith(("tog", "together"))
        return (word in self._stitches) if word else not short

    def _longest(
        self, pieces: list[tuple[str, int, int]], at: int
    ) -> tuple[int, str] | None:
        for form, sign in self._forms.get(pieces[at][0], ()):
            length = len(form)
            if length == 1 or (
                at + length <= len(pieces)
                and all(pieces[at + i][0] == form[i] for i in range(1, length))
            ):
                return length, sign
        return None

    def _other(self, piece: str, start: int, end: int) -> Word:
        number = self._numbers.get(piece)
        if number is not None:
            return Word("n", number, start, end)
        if piece in self._ordinals:
            return Word("o", self._ordinals[piece], start, end)
        if piece.startswith("**"):
            return Word("*", 0, start, end)
        if piece == "->":
            return Word("=", 0, start, end)
        sign = piece if len(piece) == 1 and piece in "()[]{}<>|*,;.:=-+/" else "?"
        return Word("&" if sign == "+" else sign, 0, start, end)


def _with_ordinals(words: list[Word]) -> list[Word]:
    """`into the 2. chain`: where ordinals are written with a point, the number and its point."""
    out: list[Word] = []
    for at, word in enumerate(words):
        before, after = words[max(at - 1, 0)], words[at + 1 : at + 2]
        if (
            word.sign == "."
            and at > 1
            and (before.sign, before.end) == ("n", word.start)
            and words[at - 2].sign in "IE"
            and after
            and after[0].sign in "pcshdt"
        ):
            sign = "F" if before.value == 1 else "o"
            out[-1] = Word(sign, before.value, before.start, word.end)
        else:
            out.append(word)
    return out


@cache
def lexicon(language: Language) -> Lexicon:
    """The words of a language, made once."""
    return Lexicon(language)
