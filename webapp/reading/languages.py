"""Whose words a text is written in, and the sentence that says how that was told.

English, German, ... by their stitch words and the commonest others; US and UK by what is said, else
by the stitch the rounds are worked in. A text with both ``sc`` and ``dc`` is US: ``dc`` is its
taller stitch then.

Danish and Norwegian share most of their words: a text that tells them no further apart is read by
Danish terms, which say the same of these words, and that is said.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cache

from webapp.reading.vocabulary import either
from webapp.terms import Language, term_table

ENGLISH = (Language.US, Language.UK)
OTHERS = tuple(language for language in Language if language not in ENGLISH)
STITCH_WEIGHT = 3
"""A stitch word tells as much as three others: it stands in every round, and in no other prose."""
FEW = 10
"""Rounds in dc and a tenth as many sc, or fewer: the sc only explain."""

_WORD = re.compile(r"[^\W\d_]+")
_DOTTED = re.compile(r"(?<![^\W_])([^\W\d_])\. ?([^\W\d_])\.")
"""Short words with points between their letters: ``p.b.``, ``f. M.``"""
_UNSPACED = re.compile("[\u3041-\u30fa\u4e00-\u9fff]")
_LEAN_UK = ("miss", "tension", "htr", "dtr", "ss", "treble", "trebles")


def tell_language(text: str, language: Language | None = None) -> tuple[Language, str]:
    """The language of a cleaned text, and why; a given language is taken as it is."""
    if language is not None:
        return language, f"Read by {term_table(language).name}, as asked."
    low = text.lower()
    met = Counter(_WORD.findall(low))
    met.update(a + b for a, b in _DOTTED.findall(low))
    if _UNSPACED.search(low):
        met.update(word for pattern in _unspaced() for word in pattern.findall(low))
    scores = {other: _score(met, _weights(other)) for other in (*ENGLISH, *OTHERS)}
    best = max(OTHERS, key=lambda other: scores[other])
    if scores[best] > max(scores[other] for other in ENGLISH):
        telling = _telling(met, best)
        words = " and ".join(f"`{word}`" for word in telling)
        alike = [o for o in OTHERS if o is not best and scores[o] == scores[best]]
        too = "".join(f", as in {term_table(o).name} too" for o in alike if _has(o, telling))
        return best, f"Read by {term_table(best).name}: the text says {words}{too}."
    return _us_or_uk(low, met)


@cache
def _unspaced() -> tuple[re.Pattern[str], ...]:
    """The words that tell of languages whose words stand without spaces."""
    tables = [term_table(language) for language in OTHERS]
    found = [table.language for table in tables if not table.spaced]
    return tuple(re.compile(either(_weights(language))) for language in found)


def _score(met: Mapping[str, int], weights: Mapping[str, int]) -> int:
    return sum(weight * met[word] for word, weight in weights.items() if word in met)


@cache
def _weights(language: Language) -> dict[str, int]:
    """What each word of a language tells."""
    table = term_table(language)
    others = [w for c in ("round", "row", "ring", "around", "rep", "each") for w in table.forms[c]]
    weights = dict.fromkeys(_words(others, shortest=3 if table.spaced else 1), 1)
    weights.update(dict.fromkeys(table.sheet.get("hints", ()), 1))
    weights.update(dict.fromkeys(_stitches(language), STITCH_WEIGHT))
    return weights


@cache
def _stitches(language: Language) -> tuple[str, ...]:
    table = term_table(language)
    concepts = ("sc", "inc", "dec", "slst", "tog")
    ways = [way for concept in concepts for way in table.forms[concept]]
    # A sign of a language without spaces tells as much as two letters.
    return tuple(_words(ways, shortest=2 if table.spaced else 1))


def _words(ways: Iterable[str], shortest: int) -> list[str]:
    return [word for way in ways for word in _WORD.findall(way) if len(word) >= shortest]


def _telling(met: Mapping[str, int], language: Language) -> list[str]:
    """The words that told most."""
    weights = _weights(language)
    found = [word for word in weights if met.get(word)]
    return sorted(found, key=lambda word: (-weights[word] * met[word], word))[:3]


def _has(language: Language, words: Iterable[str]) -> bool:
    return all(word in _weights(language) for word in words)


def _us_or_uk(low: str, met: Mapping[str, int]) -> tuple[Language, str]:
    for language, other in (ENGLISH, ENGLISH[::-1]):
        said = _says(low, language)
        if said and not _says(low, other):
            return language, f"Read by {language.name} terms: the text says `{said}`."
    single = _times(met, low, "sc", "single crochet")
    double = _times(met, low, "dc", "double crochet")
    leans = next((word for word in _LEAN_UK if met.get(word)), "")
    also = f", and it says `{leans}`" if leans else ""
    if double > FEW * single:
        none = "none" if not single else f"hardly any ({single})"
        return (
            Language.UK,
            f"Read by UK terms: its rounds are worked in dc and {none} in sc{also}.",
        )
    if single and double:
        return (
            Language.US,
            "Read by US terms: the text has both sc and dc, and dc is a taller stitch then.",
        )
    if single:
        return Language.US, "Read by US terms: its rounds are worked in sc."
    if leans:
        return Language.UK, f"Read by UK terms: the text says `{leans}`."
    return Language.US, "Read by US terms: nothing in the text says otherwise."


def _times(met: Mapping[str, int], low: str, short: str, long: str) -> int:
    return met.get(short, 0) + met.get(short + "s", 0) + low.count(long)


def _says(low: str, language: Language) -> str:
    """What a text says of its terms, if it names these."""
    if not any(word in low for word in ("terms", "termin", "english", "abbrev")):
        return ""
    match = _said(language).search(low)
    return match[0] if match else ""


@cache
def _said(language: Language) -> re.Pattern[str]:
    ways = either(term_table(language).sheet[language.value])
    named = r"us|usa|american" if language is Language.US else r"uk|british"
    return re.compile(
        rf"(?<![^\W_])(?:{ways}|(?:terms|terminology)\s?[:(-]\s?(?:{named}))(?![^\W_])"
    )
