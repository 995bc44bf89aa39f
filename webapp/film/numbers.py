"""Numbers in words, as a language counts them.

Counting itself is num2words'. What it leaves open is how a number stands before a noun: Spanish
`veintiuno` is `veintiún puntos` and `veintiuna vueltas`. So a number is a text that a sentence may
ask for in a form: `{number}` as it is counted, `{number:m}` and `{number:f}` before a masculine
and before a feminine noun (in Danish and Swedish `m` is before one of the common gender).
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from num2words import num2words

from webapp.yarns import Terms

COUNTED_AS: Mapping[str, str] = {"us": "en", "uk": "en", "pt": "pt_BR", "nb": "no"}
"""What num2words calls a language, where that is not its usual short name."""

BEFORE_NOUNS: Mapping[tuple[str, str], tuple[tuple[str, str], ...]] = {
    ("da", "m"): ((r"\bet$", "en"),),
    ("de", "f"): ((r"eins$", "eine"),),
    ("es", "m"): ((r"veintiuno$", "veintiún"), (r"\buno$", "un")),
    ("es", "f"): ((r"uno$", "una"), (r"(cient|quinient)os\b", r"\1as")),
    ("fr", "f"): ((r"\bun$", "une"),),
    ("it", "m"): ((r"^uno$", "un"),),
    ("it", "f"): ((r"^uno$", "una"),),
    ("pt", "f"): ((r"\bum$", "uma"), (r"\bdois$", "duas"), (r"entos\b", "entas")),
    ("sv", "m"): ((r"ett$", "en"),),
}
"""What changes in a number before a noun of a gender: the languages' grammar, from memory."""

DECIMALS: Mapping[str, tuple[str, str]] = {"es": (" punto ", " coma ")}
"""A decimal sign said otherwise than num2words does: Spanish has `punto` for stitches."""


class Number(str):
    """A number in words, and in the form that a noun after it asks for."""

    language: str

    def __new__(cls, said: str, language: str) -> Number:
        made = super().__new__(cls, said)
        made.language = language
        return made

    def __format__(self, form: str) -> str:
        said = str(self)
        for ending, other in BEFORE_NOUNS.get((self.language, form), ()):
            said = re.sub(ending, other, said)
        return said


def in_words(value: int | float, terms: Terms) -> Number:
    """A number as it is said; US English leaves out the `and` of hundreds.

    Raises :class:`NotImplementedError` for a language that num2words does not count in.
    """
    said: str = num2words(value, lang=COUNTED_AS.get(terms.value, terms.value))
    if isinstance(value, float):
        said = said.replace(*DECIMALS.get(terms.value, ("", "")))
    if terms is Terms.US:
        said = said.replace(" and ", " ")
    return Number(said, terms.value)
