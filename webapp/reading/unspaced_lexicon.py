"""Words of a line in a language without spaces, as signs."""

from __future__ import annotations

import re
from collections.abc import Iterator

from webapp.reading.signs import LARGEST, LETTERS, SIGNS, STITCH_SIGNS, Key, Word, mark
from webapp.reading.unspaced import CHART, either
from webapp.terms import TermTable


class UnspacedLexicon:
    """The words of a language that puts no space between them: at each place the longest form
    that fits is taken, and letters of no form are one unknown word together."""

    def __init__(self, table: TermTable) -> None:
        signs = {way: sign for concept, sign in SIGNS.items() for way in table.forms[concept]}
        self._signs = {**signs, **dict.fromkeys(table.sheet["whole"], "?")}
        self._numbers = table.numbers
        counted = [form for concept in ("st", "times", "round") for form in table.forms[concept]]
        counted += [way for way in table.sheet["copies"] if len(way) == 1]
        number = rf"\d{{1,6}}|{either(self._numbers)}"
        self._piece = re.compile(
            rf"(?P<nth>{number})(?:{either(table.sheet['nth'])})"
            rf"|(?P<form>{either(self._signs)})"
            rf"|(?P<chart>{CHART})"
            rf"|(?P<n>\d+|(?:{either(self._numbers)})(?={either(counted)}))"
            r"|(?P<letters>[a-z]+|[^\W\d_])|->|\*\*+|[^\s']"
        )

    def is_stitch(self, word: str) -> bool:
        """Whether a word alone is a stitch of this language."""
        return self._signs.get(word, "?") in STITCH_SIGNS

    def words(self, text: str, key: Key = ()) -> list[Word]:
        """The words of ``text`` (cleaned, small letters) in order; a ``key`` of a designer's own
        words is not asked for."""
        del key
        return list(self._words(text))

    def _words(self, text: str) -> Iterator[Word]:
        unknown: Word | None = None
        for match in self._piece.finditer(text):
            word = self._word(match)
            letters = match.lastgroup == "letters"
            # "and" of one letter behind a word that is not known is a letter of it.
            part = letters or (word.sign == "&" and len(match[0]) == 1 and match[0].isalpha())
            if part and unknown and unknown.end == word.start:
                unknown = Word("?", 0, unknown.start, word.end)
                continue
            if unknown:
                yield unknown
            unknown = word if letters else None
            if not unknown and word.sign:
                yield word
        if unknown:
            yield unknown

    def _word(self, match: re.Match[str]) -> Word:
        piece, kind, (start, end) = match[0], match.lastgroup, match.span()
        if kind == "nth":
            value = self._value(match["nth"])
            return Word("F" if value == 1 else "o", value, start, end)
        if kind in ("form", "chart"):
            sign = self._signs[piece] if kind == "form" else LETTERS[piece]
            return Word(sign, 2 if sign == "e" else 0, start, end)
        if kind == "n":
            known = len(piece) <= 6 and self._value(piece) <= LARGEST
            return Word("n" if known else "!", self._value(piece) if known else 0, start, end)
        if kind == "letters":
            return Word("?", 0, start, end)
        return Word(",", 0, start, end) if piece == "•" else mark(piece, start, end)

    def _value(self, number: str) -> int:
        return int(number) if number.isdecimal() else self._numbers[number]
