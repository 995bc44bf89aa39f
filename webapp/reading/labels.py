"""Labels of rounds: ``Rnd 3:``, ``R4-6.``, ``3rd row:``, ``3.``, and several on one line.

A label with a word for round needs no more; a bare number needs a body that is work and a place
in the sequence (:mod:`webapp.reading.lines` knows it). Patterns are for text in small letters,
every repetition in them is bounded.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from functools import cache

from webapp.reading.vocabulary import Vocabulary, either, vocabulary
from webapp.terms import Language

_ORDINAL = r"(?:st|nd|rd|th|ª|º|°|a|o|e|er|ère|ere|ème|eme|ième|te|ste|de)?"
_END = r"(?P<end>(?:\s{0,2}(?:[:.;)\]=|>}]|-{1,2}(?!\d)>?|\*\*|__)){0,4})"
_NUMBER = r"\d{1,3}"


class LabelKind(Enum):
    WORD = "word"  # says round or row
    BARE = "bare"  # a number alone
    LOST = "lost"  # "-15.": the start of a range was lost


@dataclass(frozen=True)
class Label:
    """A label found at ``start``: up to ``end``, where its words begin, and what it says."""

    kind: LabelKind
    start: int
    end: int
    first: int
    last: int
    ends: bool
    says_row: bool


@dataclass(frozen=True)
class LabelForms:
    """The compiled forms of one language."""

    word_first: re.Pattern[str]
    number_first: re.Pattern[str]
    bare: re.Pattern[str]
    ordinal_rest: re.Pattern[str]
    inner: re.Pattern[str]
    row: re.Pattern[str]


@cache
def label_forms(language: Language) -> LabelForms:
    words = vocabulary(language)
    w = rf"(?:{words.round_words})\.?"
    to = rf"(?:\s{{0,2}}-{{1,2}}\s{{0,2}}|\s{{1,2}}(?:{words.range_words})\s{{1,2}})"
    both = rf"\s{{0,2}}(?:,\s{{0,2}})?(?:{words.both_words}|,)\s{{0,2}}"
    more = (
        rf"(?:(?P<to>{to})|(?P<both>{both}))(?:{w}\s{{0,2}})?(?P<b>{_NUMBER}){_ORDINAL}(?![^\W_])"
    )
    lead = r"(?:(?:in|for|from|on|work|auf|en|na|in der)\s{1,2}(?:the\s{1,2})?)?[\[(]?"
    word_first = (
        rf"{lead}(?P<w>{w})(?:\s{{0,2}}(?:no\.?|nr\.?|\#|\())?\s{{0,2}}"
        rf"(?P<a>{_NUMBER}){_ORDINAL}(?![^\W\d_])(?:{more})?{_END}"
    )
    number_first = (
        rf"{lead}(?P<a>{_NUMBER}){_ORDINAL}\.?"
        rf"(?:(?:(?P<to>{to})|(?P<both>{both}))(?P<b>{_NUMBER}){_ORDINAL}\.?)?"
        rf"[\s-]{{0,2}}(?P<w>{w})(?![^\W_]){_END}"
    )
    bare = (
        rf"(?P<lost>-)?(?P<a>{_NUMBER})[ªº°]?\.?(?:(?P<to>{to})(?P<b>{_NUMBER})[ªº°]?)?"
        r"(?P<end>(?:\s{0,2}(?:[:.;)|]|-{1,2}(?!\d)>?|\*\*|__)){1,4})"
    )
    return LabelForms(
        word_first=re.compile(word_first),
        number_first=re.compile(number_first),
        bare=re.compile(bare),
        ordinal_rest=re.compile(rf"(?:st|nd|rd|th)\s{{0,2}}{w}(?![^\W_]){_END}"),
        inner=re.compile(
            rf"(?<![^\W_])(?:{w}\s{{0,2}}\d|\d{{1,3}}[^\W\d_]{{0,3}}\.?\s{{0,1}}{w}(?![^\W_])|(?<=[)\]}}.,;])\s{{0,3}}\d{{1,3}}\s?[.:)-])"
        ),
        row=re.compile(rf"(?:{either(words.row_words)})\.?"),
    )


def label_at(low: str, at: int, end: int, words: Vocabulary) -> Label | None:
    """The label that begins at ``at`` of the text in small letters, if one does."""
    forms = label_forms(words.language)
    match = forms.word_first.match(low, at, end) or forms.number_first.match(low, at, end)
    if match:
        return _worded(match, low, end, words)
    match = forms.bare.match(low, at, end)
    return _bare(match, low, end, words) if match else None


def _worded(match: re.Match[str], low: str, end: int, words: Vocabulary) -> Label | None:
    first, last = int(match["a"]), int(match["b"] or match["a"])
    ends = bool(match["end"])
    stop = match.end()
    if match["b"] and _is_stitches(match, low, end, words):
        last, ends, stop = first, True, match.end("to") if match["to"] else match.start("b")
    number_first = match.start("a") < match.start("w")
    if (
        number_first
        and not match["b"]
        and match["w"].rstrip(".") in words.plural_rounds
        and not ends
    ):
        return None
    row = match["w"].rstrip(".") in words.row_words
    return Label(LabelKind.WORD, match.start(), _skip(low, stop, end), first, last, ends, row)


def _is_stitches(match: re.Match[str], low: str, end: int, words: Vocabulary) -> bool:
    """Whether the second number counts stitches: ``R3 - 6 sc, inc``, ``Rnd 4, 6 sc``."""
    if match["end"]:
        return int(match["b"]) <= int(match["a"]) and bool(
            words.stitch_start.match(low, match.end(), end)
        )
    stitch = words.stitch_start.match(low, match.end(), end)
    if not stitch:
        return False
    rest = low[stitch.end() : min(end, stitch.end() + 14)]
    return not words.around.search(rest) or int(match["b"]) <= int(match["a"])


def _bare(match: re.Match[str], low: str, end: int, words: Vocabulary) -> Label | None:
    first, last = int(match["a"]), int(match["b"] or match["a"])
    kind = LabelKind.LOST if match["lost"] else LabelKind.BARE
    if match["lost"] and match["b"]:
        return None
    return Label(kind, match.start(), _skip(low, match.end(), end), first, last, True, False)


def _skip(low: str, at: int, end: int) -> int:
    while at < end and low[at] in " \t":
        at += 1
    return at


def inner_labels(low: str, at: int, end: int, due: int, words: Vocabulary) -> list[Label]:
    """Labels of further rounds on the same line, each exactly the next in the sequence."""
    found: list[Label] = []
    for match in label_forms(words.language).inner.finditer(low, at, end):
        start = _skip(low, match.start(), end)
        if (found and start < found[-1].end) or start == at:
            continue
        label = label_at(low, start, end, words)
        if label is None or label.first != due or not label.ends or label.end >= end:
            continue
        before = low[at:start].rstrip()
        if not before or (before[-1] not in ")]}.;,:" and label.kind is not LabelKind.WORD):
            continue
        if label.kind is LabelKind.WORD and (low[label.end - 1] == ")" or before[-1] in "([,"):
            continue
        if label.kind is LabelKind.BARE and not _counts(before):
            continue
        found.append(label)
        due = label.last + 1
    return found


_COUNT_END = re.compile(r"[(\[{]\s{0,2}\d{1,3}\b[^()\[\]{}]{0,12}[)\]}][.,;]?$|[a-z]\.$|[;]$")


def _counts(before: str) -> bool:
    """Whether what stands before a bare number ends as a round does."""
    return bool(_COUNT_END.search(before[-24:]))
