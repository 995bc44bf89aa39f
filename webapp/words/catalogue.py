"""One language's sentences, asked for by the English ones.

Messages are GNU gettext's: an English sentence with named places (``{part}``) is its own key, and
a language has as many forms for numbers as its catalogue's header says. The keys are spelled as in
the United Kingdom; the catalogue of US English has those that are spelled otherwise there.
"""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from gettext import GNUTranslations, NullTranslations
from pathlib import Path

from babel.messages import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from babel.numbers import format_decimal, get_decimal_symbol

from webapp.terms import Language

FOLDER = Path(__file__).parent / "locale"
ENGLISH = (Language.US, Language.UK)

FOUR_TOGETHER = (Language.SPANISH, Language.ITALIAN)
"""Where numbers of four digits are not grouped: CLDR, which babel has but for this."""

NO_BREAK = "\N{NO-BREAK SPACE}"

_POINT = re.compile(r"(?<=\d)\.(?=\d)")
_BEFORE_MARKS = {Language.FRENCH: re.compile(" (?=[:;!?])")}
"""Spaces that no line may be broken at: in French those before marks (common practice, no source).
"""


class _Places(dict[str, object]):
    """What fills the places of a sentence: values, and words where there is no value."""

    def __init__(self, values: Mapping[str, object], words: Mapping[str, str]) -> None:
        super().__init__(values)
        self.words = words

    def __missing__(self, place: str) -> str:
        return self.words[place]


@dataclass(frozen=True, eq=False)
class Catalogue:
    """The sentences of one language; ``decimal`` is what stands before tenths, ``known`` the
    English sentences that it has (English says all, so those of US English are only respelled)."""

    language: Language
    messages: NullTranslations
    decimal: str
    known: frozenset[str] = frozenset()

    def has(self, sentence: str) -> bool:
        """Whether a sentence, or the first of its forms, can be said in the language."""
        return self.language in ENGLISH or sentence in self.known

    def say(self, sentence: str, values: Mapping[str, object], words: Mapping[str, str]) -> str:
        """A sentence with its places filled from ``values``, else from ``words``."""
        said = self.messages.gettext(sentence) if sentence in self.known else sentence
        return said.format_map(_Places(values, words)) if "{" in said else said

    def many(
        self,
        one: str,
        more: str,
        number: int,
        values: Mapping[str, object],
        words: Mapping[str, str],
    ) -> str:
        """A sentence in the form that ``number`` calls for; its place is ``{number}``."""
        said = self.messages.ngettext(one, more, number)
        return said.format_map(_Places({"number": number, **values}, words))

    def name(self, text: str) -> str:
        """A name, as it stands where the catalogue has none: somebody's own toy."""
        return self.messages.gettext(text) if text in self.known else text

    def figures(self, text: str) -> str:
        """Figures written with a decimal point, with the language's own sign."""
        return text if self.decimal == "." else _POINT.sub(self.decimal, text)

    def grouped(self, number: int) -> str:
        """A whole number, its thousands apart as the language writes them."""
        apart = number >= (10_000 if self.language in FOUR_TOGETHER else 1_000)
        return format_decimal(number, locale=_locale(self.language), group_separator=apart)


def noted(text: str) -> str:
    """A text that is said later, by name; marks it for whoever gathers messages."""
    return text


@cache
def catalogue(language: Language) -> Catalogue:
    """The catalogue of a language, read once."""
    if language is Language.UK:
        return Catalogue(language, NullTranslations(), ".")
    with (FOLDER / f"{language.value}.po").open("rb") as file:
        messages = read_po(file, locale=_locale(language))
    if language in _BEFORE_MARKS:
        _bind(messages, _BEFORE_MARKS[language])
    compiled = io.BytesIO()
    write_mo(compiled, messages)
    compiled.seek(0)
    decimal = get_decimal_symbol(_locale(language))
    said = (m.id if isinstance(m.id, str) else m.id[0] for m in messages if m.string)
    known = frozenset(sentence for sentence in said if sentence)  # the header has none
    return Catalogue(language, GNUTranslations(compiled), decimal, known)


def _bind(messages: Catalog, spaces: re.Pattern[str]) -> None:
    """Makes those spaces ones that a line is not broken at."""
    for message in messages:
        if isinstance(message.string, str):
            message.string = spaces.sub(NO_BREAK, message.string)
        else:
            message.string = tuple(spaces.sub(NO_BREAK, way) for way in message.string or ())


def _locale(language: Language) -> str:
    return _LOCALES.get(language, language.value)


_LOCALES = {Language.PORTUGUESE: "pt_BR", Language.US: "en_US", Language.UK: "en_GB"}
"""Where a language is that of one country."""
