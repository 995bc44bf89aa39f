"""Whose words a text is written in, and the sentence that says how that was told.

English, German, ... by the stitch words of each that stand beside numbers, brackets and commas, as
those of rounds do; US and UK by what is said, else by the stitch the rounds are worked in. A text
with both ``sc`` and ``dc`` is US: ``dc`` is its taller stitch then.
"""

from __future__ import annotations

import re
from functools import cache

from webapp.reading.vocabulary import either
from webapp.terms import Language, term_table

OTHERS = tuple(lang for lang in Language if lang not in (Language.US, Language.UK))
_LEAN_UK = re.compile(r"(?<![^\W\d_])(?:miss|tension|htr|dtr|ss|trebles?)(?![^\W\d_])")
_SAMPLE = 60_000
"""So many characters tell a language well enough."""


def tell_language(text: str, language: Language | None = None) -> tuple[Language, str]:
    """The language of a cleaned text, and why; a given language is taken as it is."""
    if language is not None:
        return language, f"Read by {term_table(language).name}, as asked."
    low = text[:_SAMPLE].lower()
    scores = {other: _score(low, other) for other in (Language.US, Language.UK, *OTHERS)}
    english = max(scores[Language.US], scores[Language.UK])
    best = max(OTHERS, key=lambda other: scores[other])
    if scores[best] > english:
        words = _met(low, best)
        return best, f"Read by {term_table(best).name}: the text says {_quoted(words)}."
    return _us_or_uk(low)


def _score(low: str, language: Language) -> int:
    """Stitch words (three for each), joining words and words for rounds of a language."""
    return 3 * _count(_stitches(language), low) + _count(_hints(language), low)


def _count(pattern: re.Pattern[str], low: str) -> int:
    return sum(1 for _ in pattern.finditer(low))


@cache
def _stitches(language: Language) -> re.Pattern[str]:
    """Stitches as rounds have them: after a number, a bracket, a comma or the start of a body."""
    forms = term_table(language).forms
    ways = [w for c in ("sc", "inc", "dec", "slst", "tog", "dc") for w in forms[c]]
    return re.compile(rf"(?:\d\s?|[(\[*,:x]\s?)(?:{either(ways)})(?![^\W_])")


@cache
def _hints(language: Language) -> re.Pattern[str]:
    table = term_table(language)
    ways = [
        w for c in ("round", "row", "ring", "around", "rep", "each", "next") for w in table.forms[c]
    ]
    ways = [w for w in ways if len(w) > 2] + list(table.sheet.get("hints", ()))
    return re.compile(rf"(?<![^\W_])(?:{either(ways)})(?![^\W_])")


def _met(low: str, language: Language) -> list[str]:
    """The stitch words of a language that a text has, those met most first."""
    counts: dict[str, int] = {}
    for match in _stitches(language).finditer(low):
        word = match[0].lstrip("0123456789([*,:x ").strip()
        counts[word] = counts.get(word, 0) + 1
    if not counts:
        for match in _hints(language).finditer(low):
            counts[match[0]] = counts.get(match[0], 0) + 1
    return sorted(counts, key=lambda word: -counts[word])[:3]


def _quoted(words: list[str]) -> str:
    return ", ".join(f'"{word}"' for word in words) or "no stitch word of another language"


_SC = re.compile(
    r"(?<![^\W\d_])(?:sc|scs|s\.c\.|single\s{1,2}crochets?|sc2tog|bsc|sc inc|sc dec)(?![^\W\d_])"
)
_DC = re.compile(r"(?<![^\W\d_])(?:dc|dcs|d\.c\.|double\s{1,2}crochets?|dc2tog)(?![^\W\d_])")


def _us_or_uk(low: str) -> tuple[Language, str]:
    us, uk = term_table(Language.US), term_table(Language.UK)
    says_uk = _says(low, uk.sheet.get("uk", ()))
    says_us = _says(low, us.sheet.get("us", ()))
    if says_uk and not says_us:
        return Language.UK, f'Read by UK terms: the text says "{says_uk}".'
    if says_us and not says_uk:
        return Language.US, f'Read by US terms: the text says "{says_us}".'
    single, double = _count(_SC, low), _count(_DC, low)
    if single and double:
        return (
            Language.US,
            "Read by US terms: the text has both sc and dc, and only US patterns call a stitch sc.",
        )
    if double:
        lean = _LEAN_UK.search(low)
        also = f', and says "{lean[0]}"' if lean else ""
        return Language.UK, f"Read by UK terms: its rounds are worked in dc and none in sc{also}."
    if single:
        return Language.US, "Read by US terms: its rounds are worked in sc."
    lean = _LEAN_UK.search(low)
    if lean:
        return Language.UK, f'Read by UK terms: the text says "{lean[0]}".'
    return Language.US, "Read by US terms: nothing in the text says otherwise."


def _says(low: str, ways: tuple[str, ...]) -> str:
    match = re.search(rf"(?<![^\W_])(?:{either(ways)})(?![^\W_])", low)
    if match:
        return match[0]
    lead = _LEAD.search(low)
    if lead is None:
        return ""
    return lead[0] if any(way.split(" ")[0] == lead[1] for way in ways) else ""


_LEAD = re.compile(r"(?:terms|terminology)\s?[:(-]\s?(us|uk|american|british)(?![^\W_])")
