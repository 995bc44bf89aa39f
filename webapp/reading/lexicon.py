"""Words of a line: each known word or phrase of a language as one sign, the rest as unknown."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from webapp.reading.signs import BOBBLE, LARGEST, SIGNS, STITCH_SIGNS, Key, Word, mark
from webapp.reading.unspaced_lexicon import UnspacedLexicon
from webapp.terms import Language, TermTable, term_table

ORDINAL = re.compile(
    r"(\d+)(?:st|nd|rd|th|º|ª|°|ème|eme|e|er|ère|re|:(?:a|e|de|dje|te))(?!\w)"
)
TOGETHER = re.compile(r"(?:([a-z]+)[ .-]?)?(\d)[ .-]?(?:([a-z]+)[ .-]?)?(?:tog|t)(?:ether)?(?!\w)")
INTO_ONE = re.compile(r"([a-z]+)[ .-]?(\d)[ .-]?inc(?:rease)?(?!\w)")
"""`dc2inc`: so many into one stitch, made like `dc2tog`."""
PIECE = re.compile(r"\d+|[^\W\d_]+(?:'(?:t|s|re|ve|ll)(?![^\W\d_]))?|->|\*\*+|[^\s']")
class Lexicon:
    """The words of one language."""

    def __init__(self, table: TermTable) -> None:
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

    def is_stitch(self, word: str) -> bool:
        """Whether a word alone is a stitch of this language."""
        forms = self._forms.get(word, ())
        return any(form == (word,) and sign in STITCH_SIGNS for form, sign in forms)

    def words(self, text: str, key: Key = ()) -> list[Word]:
        """The words of ``text`` (cleaned, small letters) in order; those of ``key`` stand for its
        stitches."""
        found = list(self._words(text, key))
        return _with_ordinals(found) if self._pointed else found

    def _words(self, text: str, key: Key) -> Iterator[Word]:
        own = {word: (sign, value) for word, sign, value in key}
        pieces = [(m.group(), m.start(), m.end()) for m in PIECE.finditer(text)]
        at = 0
        while at < len(pieces):
            piece, start, end = pieces[at]
            if piece in own:
                after = pieces[at + 1][0] if at + 1 < len(pieces) else ""
                glued = at > 0 and pieces[at - 1][2] == start and pieces[at - 1][0].isdecimal()
                times = piece == "x" and after.isdecimal() and not glued
                article = piece == "a" and len(after) > 2 and after.isalpha() and not glued
                if not article:
                    sign, value = ("x", 0) if times else own[piece]
                    if pieces[at - 1][0] in own and at and not times:
                        # `2x w`: each letter is a stitch of its own.
                        yield Word(",", 0, start, start)
                    yield Word(sign, value, start, end)
                    at += 1
                    continue
            if piece[0].isdecimal() or piece in self._stitches:
                found = TOGETHER.match(text, start)
                if found and self._joins(found):
                    while at < len(pieces) and pieces[at][1] < found.end():
                        at += 1
                    yield Word("e", int(found[2]), start, found.end())
                    continue
                found = INTO_ONE.match(text, start)
                if found and " " not in found[0] and found[1] in self._stitches:
                    while at < len(pieces) and pieces[at][1] < found.end():
                        at += 1
                    yield Word("i", int(found[2]), start, found.end())
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
            tens = self._tens(pieces, at)
            if tens is not None:
                yield Word("n", tens, start, pieces[at + 2][2])
                at += 3
                continue
            taken = self._longest(pieces, at)
            if taken is None:
                yield self._other(piece, start, end)
                at += 1
                continue
            length, sign = taken
            if sign == "y":
                # Worked into one stitch, and one stitch in the count, whatever it holds.
                yield Word("s", BOBBLE, start, pieces[at + length - 1][2])
            elif sign:
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

    def _tens(self, pieces: list[tuple[str, int, int]], at: int) -> int | None:
        """`twenty-four` is one number."""
        tens = self._numbers.get(pieces[at][0], 0)
        if tens < 20 or tens % 10 or at + 2 >= len(pieces) or pieces[at + 1][0] != "-":
            return None
        ones = self._numbers.get(pieces[at + 2][0], 0)
        return tens + ones if 0 < ones < 10 else None

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
        return mark(piece, start, end)


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


def is_stitch_word(word: str, language: Language) -> bool:
    """Whether a word alone is a stitch of this language already."""
    return lexicon(language).is_stitch(word)


@cache
def lexicon(language: Language) -> Lexicon | UnspacedLexicon:
    """The words of a language, made once."""
    table = term_table(language)
    return Lexicon(table) if table.spaced else UnspacedLexicon(table)
