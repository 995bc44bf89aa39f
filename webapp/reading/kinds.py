"""How many are made of each kind, said once before their headings: `I make 2 big and 3 small.`"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from webapp.reading.copies import MOST, number_of
from webapp.reading.vocabulary import Vocabulary, either, vocabulary
from webapp.terms import Language

LEAST_SHARED = 3
"""Letters that a word of the sentence and one of the heading begin with alike."""
ENDING = 2
"""Letters of an ending by which such words may differ: `große`, `Großer`."""

_WORD = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True)
class Kinds:
    """Where it is said, and of each kind how many and by which words it is called."""

    end: int
    kinds: tuple[tuple[int, frozenset[str]], ...]


@cache
def _form(language: Language) -> re.Pattern[str]:
    words = vocabulary(language)
    make = rf"(?:{words.copies_said})"
    one = rf"(?:{make}\s)?(?:\d{{1,2}}|{either(words.numbers)})(?:\s[^\W\d_]{{2,16}}){{1,3}}?"
    both = rf"(?:\s?(?:,|&|\+)\s?(?:(?:{words.both_words})\s)?|\s(?:{words.both_words})\s)"
    return re.compile(
        rf"(?:^|[.:;!?,(]\s?)(?={make}\s)(?P<all>{one}(?:{both}{one}){{1,3}})\s?(?=[.;!)]|$)",
        re.MULTILINE,
    )


@cache
def _kind(language: Language) -> re.Pattern[str]:
    words = vocabulary(language)
    return re.compile(
        rf"(?<![^\W_])(?P<n>\d{{1,2}}|{either(words.numbers)})\s(?P<said>[^\d,&+]+?)"
        rf"(?=\s?[,&+]|\s(?:{words.both_words})\s|$)"
    )


def kinds_said(low: str, words: Vocabulary) -> Iterator[Kinds]:
    """The sentences of a text, in small letters, that say so of two kinds or more."""
    if not words.spaced:
        return
    for found in _form(words.language).finditer(low):
        kinds = []
        for kind in _kind(words.language).finditer(found["all"]):
            number = number_of(kind["n"], words)
            if number is not None and 1 <= number <= MOST:
                kinds.append((number, frozenset(_WORD.findall(kind["said"]))))
        if len(kinds) > 1:
            yield Kinds(found.end(), tuple(kinds))


def copies_of_kinds(said: Kinds, titles: Sequence[str]) -> list[int] | None:
    """How many of each title, in their order, where every kind is called by a word that one title
    alone has; else None."""
    named = [frozenset(_WORD.findall(title.lower())) for title in titles]
    if len(named) != len(said.kinds):
        return None
    copies = [0] * len(named)
    for number, called in said.kinds:
        hits = [k for k, own in enumerate(named) if _names(called, own, named)]
        if len(hits) != 1 or copies[hits[0]]:
            return None
        copies[hits[0]] = number
    return copies


def _names(called: frozenset[str], own: frozenset[str], all_of: Sequence[frozenset[str]]) -> bool:
    """Whether a word of a title that not all of them have is among those of a kind."""
    return any(
        any(_alike(word, other) for other in called)
        for word in own
        if not all(any(_alike(word, other) for other in title) for title in all_of)
    )


def _alike(one: str, other: str) -> bool:
    """Whether two words are one but for an ending."""
    least = max(LEAST_SHARED, max(len(one), len(other)) - ENDING)
    return one == other or (min(len(one), len(other)) >= least and one[:least] == other[:least])
