"""Whose words are spoken: the sentences of one language, its numbers, and its stitches in full."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from functools import cached_property

from webapp.errors import RoundlingError
from webapp.film.numbers import Number, in_words
from webapp.terms import Language, term_table
from webapp.yarns import LengthUnit, TermSet


class WholeWords(TermSet):
    """Words of a pattern with nothing cut short, so that its notes can be said aloud."""

    def length(self, mm: float, unit: LengthUnit) -> str:
        """`18.3 centimetres`, `7 1/8 inches`, in the pattern's language."""
        text = self.figures(unit.format(mm).removesuffix(f" {unit.value}"))
        one = 1 if text == "1" else 2
        if unit is LengthUnit.CM:
            return self.many("{number} centimetre", "{number} centimetres", one, number=text)
        return self.many("{number} inch", "{number} inches", one, number=text)


def whole_words(words: TermSet) -> WholeWords:
    """The same words with the names of stitches and rounds in full."""
    full = dict(_english(words) if words.terms.english else _foreign(words))
    kept = {field.name: getattr(words, field.name) for field in fields(TermSet)}
    return WholeWords(**{**kept, **full})


def _english(words: TermSet) -> Iterator[tuple[str, str]]:
    long = dict(words.abbreviations)
    yield from (("sc", words.sc_name), ("sl_st", long[words.sl_st]), ("ch", long[words.ch]))
    yield from (("inc", "increase"), ("dec", "decrease"), ("st", "stitch"), ("sts", "stitches"))
    yield from (("rnd", "round"), ("rnds", "rounds"), ("row", "row"), ("rows", "rows"))


def _foreign(words: TermSet) -> Iterator[tuple[str, str]]:
    """The names of a language's table; those with two forms have the plural second."""
    ours = term_table(Language(words.terms.value)).ours
    named = {"sl_st": "slst", "rnd_small": "rnd", "rnds_small": "rnds"}
    for field in ("sc", "inc", "dec", "sl_st", "ch", "st", "sts", "rnd", "rnds", "rnd_small",
                  "rnds_small"):  # fmt: skip
        term = ours[named.get(field, field)]
        yield field, (term.name or term.short).split(",")[0]


@dataclass(frozen=True)
class Voice:
    """Says sentences in the language of ``words``."""

    words: TermSet

    @cached_property
    def whole(self) -> WholeWords:
        """The same words, with nothing cut short."""
        return whole_words(self.words)

    def say(self, sentence: str, /, **values: object) -> str:
        """A sentence; raises :class:`RoundlingError` where the language has it not."""
        self._check(sentence)
        return self.words.say(sentence, **values)

    def many(self, one: str, more: str, number: int, said: str = "", /) -> str:
        """A sentence in the form that a number calls for, with the number in words, or as it is
        ``said``."""
        self._check(one)
        return self.words.many(one, more, number, number=said or self.number(number))

    def number(self, value: int | float) -> Number:
        """A number in words."""
        try:
            return in_words(value, self.words.terms)
        except NotImplementedError as error:
            raise _not_spoken(self.words) from error

    def times(self, number: int) -> str:
        if number == 1:
            return self.say("once")
        if number == 2:
            return self.say("twice")
        return self.say("{number} times", number=self.number(number))

    def stitches(self, number: int) -> str:
        return self.many("one stitch", "{number} stitches", number)

    def _check(self, sentence: str) -> None:
        if not self.words.catalogue.has(sentence):
            raise _not_spoken(self.words)


def _not_spoken(words: TermSet) -> RoundlingError:
    name = term_table(Language(words.terms.value)).name.removesuffix(" terms")
    return RoundlingError(
        asked=f"A film was asked for in another language than English: {name}.",
        why="What is said over a film is not there in that language yet.",
        nearest="Choose US or UK terms for the film; the written pattern keeps its own.",
        field="terms",
    )
