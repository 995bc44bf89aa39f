"""Labels of rounds: ``Rnd 3:``, ``R4-6.``, ``3rd row:``, ``3.``, and several on one line.

A label with a word for round needs no more; a bare number needs a body that is work and a place
in the sequence (:mod:`webapp.reading.lines` knows it). Patterns are for text in small letters,
every repetition in them is bounded.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from functools import cache, lru_cache

from webapp.reading import unspaced
from webapp.reading.vocabulary import Vocabulary, either, vocabulary
from webapp.terms import Language, term_table

_ORDINAL = r"(?:st|nd|rd|th|ª|º|°|a|o|e|er|ère|ere|ème|eme|ième|te|ste|de|:a|:e)?"
_END = r"(?P<end>(?:\s{0,2}(?:[:.,;)\]=|>}]|-{1,2}(?!\d)>?|\*\*|__)){0,4})"
_NTH = r"(?:st|nd|rd|th|[ªº°e]|er|ème|:a|:e)?"
_NUMBER = r"\d{1,3}"


class LabelKind(Enum):
    WORD = "word"  # says round or row
    BARE = "bare"  # a number alone
    LOST = "lost"  # "-15.": the start of a range was lost
    SAID = "said"  # "Next round:", "First rnd:"


@dataclass(frozen=True)
class Label:
    """A label at ``start``: up to ``end``, where its words begin, and what it says; ``rounds``
    is how many rounds it says, where it does not say which."""

    kind: LabelKind
    start: int
    end: int
    first: int | None
    last: int | None
    ends: bool
    says_row: bool
    rounds: int | None = None


@dataclass(frozen=True)
class LabelForms:
    """The compiled forms of one language."""

    word_first: re.Pattern[str]
    number_first: re.Pattern[str]
    bare: re.Pattern[str]
    hashed: re.Pattern[str]
    glued: re.Pattern[str]
    said: re.Pattern[str]
    open_range: re.Pattern[str]
    ordinal_rest: re.Pattern[str]
    inner: re.Pattern[str]
    row: re.Pattern[str]
    table: re.Pattern[str] = unspaced.NEVER


@cache
def label_forms(language: Language) -> LabelForms:
    words = vocabulary(language)
    if not words.spaced:
        return LabelForms(**unspaced.label_patterns(term_table(language), words.numbers))
    w = rf"(?:{words.round_words})\.?"
    to = (
        rf"(?:\s{{0,2}}(?:-{{1,2}}|~|/|\.{{2,3}})\s{{0,2}}"
        rf"|-?\s{{1,2}}(?:{words.range_words})\s{{1,2}}|\s{{1,2}}all')"
    )
    both = rf"\s{{0,2}}(?:,\s{{0,2}})?(?:{words.both_words}|,)\s{{0,2}}"
    one = rf"(?:{both}(?:{w}\s{{0,2}})?{_NUMBER})"
    ended = r"(?=\s{0,2}[:.)-])"
    listed = rf"(?P<list>(?:{one}{{2,8}}|(?:[/-]{_NUMBER}){{2,8}}){ended})"
    bare_list = rf"(?P<list>{one}{{1,8}}{ended})"
    # `R3 R4:`, with nothing between them.
    beside = rf"\s{{1,2}}(?={w}\s{{0,2}}\d)"
    more = (
        rf"(?:[.:)](?={to}{w}\s{{0,2}}\d))?(?:(?P<to>{to})|(?P<both>{both}|{beside}))(?:{w}\s{{0,2}})?"
        rf"(?P<b>{_NUMBER}){_ORDINAL}(?![^\W_])"
    )
    before = (
        r"in|for|from|on|work|auf|en|na|in der|du|dal|del|da|de|de la|dalla|von|vom|van|på|fra|från"
        r"|i"
    )
    lead = rf"(?:(?:{before})\s{{1,2}}(?:the\s{{1,2}})?|dall'|l'|vom\s|de l')?[\[(]?"
    word_first = (
        rf"{lead}(?P<w>{w})(?:\s{{0,2}}(?:no\.?|nr\.?|\#|\())?\s{{0,2}}"
        rf"(?P<a>{_NUMBER}){_ORDINAL}(?![^\W\d_])(?:{listed}|{more})?{_END}"
    )
    number_first = (
        rf"{lead}(?P<a>{_NUMBER}){_ORDINAL}\.?(?:\s{{0,2}}{w}(?={to}))?"
        rf"(?:(?:(?P<to>{to})|(?P<both>{both}))(?P<b>{_NUMBER}){_ORDINAL}\.?)?"
        rf"[\s-]{{0,2}}(?!(?<=\d)rd(?![^\W_]))(?P<w>{w})(?![^\W_]){_END}"
    )
    bare = (
        rf"(?P<lost>-)?#?(?:(?:from|von|de|da|van|du|dal)\s{{1,2}})?(?P<a>{_NUMBER}){_NTH}\.?"
        rf"(?:\)(?=\s?-\s?{_NUMBER}\)))?"
        rf"(?:{bare_list}|(?P<to>{to}|\s?(?:{words.both_words})\s?)(?P<b>{_NUMBER}){_NTH})?"
        r"(?P<end>(?:\s{0,2}(?:[:.;)|]|-{1,2}(?!\d)>?|\*\*|__)){1,4})"
    )
    number = rf"(?:{either(words.numbers)})(?:[\s-](?:{either(words.numbers)}))?"
    return LabelForms(
        word_first=re.compile(word_first),
        number_first=re.compile(number_first),
        bare=re.compile(bare),
        hashed=re.compile(
            rf"(?P<lost>(?!))?#\s?(?P<a>{_NUMBER})(?:{to}(?P<b>{_NUMBER}))?(?P<list>(?!))?(?P<end>)"
            r"(?=\s)"
        ),
        glued=re.compile(rf"(?P<a>{_NUMBER})\s?-(?P<b>{_NUMBER})\s?(?=[^\W\d_(*\[])"),
        said=re.compile(
            rf"(?:(?:{either(words.the)})\s{{1,2}})?(?:(?P<o>{either(words.ordinals)})"
            rf"|(?:{words.next_words})|short)\s{{1,2}}{w}(?![^\W_])(?:\s?\d{{1,2}})?\s?[:,=-]\s?"
            rf"|(?:for\s{{1,2}})?(?:(?:{either(words.the)})\s{{1,2}})?(?:{words.next_words})\s{{1,2}}"
            rf"(?P<many>\d{{1,2}}|{either(words.numbers)})\s{{1,2}}{w}(?![^\W_])\s?[:,=-]\s?"
            rf"|(?:(?:{before})\s{{1,2}}(?:the\s{{1,2}})?)?{w}\s{{1,2}}(?P<c>{number})(?:\s?(?:-|{words.range_words}|{words.both_words})\s?"
            rf"(?P<d>{number}))?\s?[:.,=-]\s?"
        ),
        open_range=re.compile(
            rf"(?:from|ab|von|desde|de|da|dal|vanaf|depuis|du|fra|från)\s{{1,2}}(?:the\s)?(?:{w}\s{{0,2}})?"
            rf"(?P<a>{_NUMBER}){_ORDINAL}\.?\s{{0,2}}(?:{words.around_words}){_END}"
        ),
        ordinal_rest=re.compile(rf"(?:st|nd|rd|th)\s{{0,2}}{w}(?![^\W_]){_END}"),
        inner=re.compile(
            rf"(?<![^\W_])(?=(?:{w}\s{{0,2}}\d|\d{{1,3}}[^\W\d_]{{0,3}}\.?\s?{w}(?![^\W_])"
            rf"|(?<=[)\]}}.,;/])\s{{0,3}}\d{{1,3}}\s?[.:)-]))"
        ),
        row=re.compile(rf"(?:{either(words.row_words)})\.?"),
    )


def label_at(low: str, at: int, end: int, words: Vocabulary) -> Label | None:
    """The label that begins at ``at`` of the text in small letters, if one does."""
    forms = label_forms(words.language)
    match = forms.open_range.match(low, at, end)
    if match:
        stop = _skip(low, match.end(), end)
        return Label(LabelKind.WORD, at, stop, int(match["a"]), None, bool(match["end"]), False)
    match = forms.table.match(low, at, end)
    if match:
        a, b = int(match["a"]), int(match["b"] or match["a"])
        return Label(LabelKind.WORD, at, match.end(), a, b, True, False)
    match = forms.word_first.match(low, at, end) or forms.number_first.match(low, at, end)
    if match:
        return _worded(match, low, end, words)
    match = forms.bare.match(low, at, end) or forms.hashed.match(low, at, end)
    if match:
        return _bare(match, low, end, words)
    match = forms.glued.match(low, at, end)
    if match:
        return _glued(match, low, end, words)
    match = forms.said.match(low, at, end)
    if match:
        number = words.ordinals[match["o"]] if match["o"] else None
        if match["c"]:
            first = _in_words(match["c"], words)
            last = _in_words(match["d"], words) if match["d"] else first
            if not first or not last or last < first:
                return None
            return Label(LabelKind.SAID, at, match.end(), first, last, True, False)
        if match["many"]:
            said = match["many"]
            many = int(said) if said.isdecimal() else words.numbers[said]
            return Label(LabelKind.SAID, at, match.end(), None, None, True, False, many)
        return Label(LabelKind.SAID, at, match.end(), number, number, True, False)
    return None


def _in_words(said: str, words: Vocabulary) -> int | None:
    """`twelve`, `twenty-four`; None for two words that are no number together."""
    tens, _, ones = said.replace(" ", "-").partition("-")
    value = words.numbers[tens]
    if not ones:
        return value
    return value + words.numbers[ones] if value % 10 == 0 and words.numbers[ones] < 10 else None


def _worded(match: re.Match[str], low: str, end: int, words: Vocabulary) -> Label | None:
    first, last = int(match["a"]), int(match["b"] or match["a"])
    ends = bool(match["end"])
    stop = _stop(match, low)
    if match.groupdict().get("list"):
        last, stop = _listed(match, stop)
    if match["b"] and (match["both"] or "").isspace() and last != first + 1:
        last, stop = first, match.start("both")
    number_first = match.start("a") < match.start("w")
    many = match["w"].rstrip(".") in words.plural_rounds
    if match["b"] and not (number_first or many) and _is_stitches(match, low, end, words):
        last, ends, stop = first, True, match.end("to") if match["to"] else match.start("b")
    word = match["w"].rstrip(".")
    sentence_end = word != match["w"] and word in words.plural_rounds and len(word) > 4
    if sentence_end and not number_first:
        return None
    if number_first and not match["b"] and word in words.plural_rounds and ":" not in match["end"]:
        return None
    row = match["w"].rstrip(".") in words.row_words
    return Label(LabelKind.WORD, match.start(), _skip(low, stop, end), first, last, ends, row)


def _is_stitches(match: re.Match[str], low: str, end: int, words: Vocabulary) -> bool:
    """Whether the second number counts stitches: ``R3 - 6 sc, inc``, ``Rnd 4, 6 sc``."""
    if words.count_before.match(low, match.end(), end):
        return True
    if match["end"]:
        return int(match["b"]) <= int(match["a"]) and bool(
            words.stitch_start.match(low, match.end(), end)
        )
    return int(match["b"]) <= int(match["a"]) or _is_count(match, low, end, words)


_FOLLOWING = re.compile(r"[\n/)\].;]\W{0,4}(?:[^\W\d_]{1,7}\.?\s?)?(\d{1,3})(?![\d,])")
_AHEAD = 200
FEW_LABELS = 4
"""Labels of single rounds that show how labels end in a text."""


def _is_count(match: re.Match[str], low: str, end: int, words: Vocabulary) -> bool:
    """Whether a number counts stitches: they follow it, are not worked all round, and the next
    label does not go on from it (``R5-8 sc``, and then R9); or chains (``Rd 1 - 7 Lm``)."""
    chain = words.chain.match(low, match.start("b"), end)
    if chain and not low[chain.end() : chain.end() + 2].strip()[:1].isdecimal():
        return True
    if low[match.end() : match.end() + 2].strip()[:1].isdecimal():
        return False
    dashes = match.groupdict().get("both") or _labels_end_in_dashes(low, words.language)
    if not dashes and int(match["b"]) > int(match["a"]):
        return False
    following = _FOLLOWING.search(low, match.end(), match.end() + _AHEAD)
    if following and int(following[1]) == int(match["b"]) + 1:
        return False
    stitch = words.stitch_start.match(low, match.end(), end)
    return bool(stitch and not words.around.search(low[stitch.end() : stitch.end() + 14]))


@lru_cache(maxsize=8)
def _labels_end_in_dashes(low: str, language: Language) -> bool:
    """Whether a dash is what parts a label from its words in this text (``R3 - inc``), or no other
    sign is seen to: then ``R5-8 sc`` may be round 5."""
    w = rf"(?:(?:{vocabulary(language).round_words})\.?\s?)?"
    dashed = re.search(rf"^\W{{0,4}}{w}\d{{1,3}}\s?-\s?[^\W\d]", low, re.MULTILINE)
    others = re.findall(
        rf"^\W{{0,4}}{w}\d{{1,3}}(?:\s?[:.)]|\s(?=[^\s\d-]|\d{{1,2}}\s?[^\W\d]))", low, re.MULTILINE
    )
    return dashed is not None or len(others) < FEW_LABELS


def forget_labels() -> None:
    """Nothing of what was read stays in memory."""
    _labels_end_in_dashes.cache_clear()


def _bare(match: re.Match[str], low: str, end: int, words: Vocabulary) -> Label | None:
    first, last = int(match["a"]), int(match["b"] or match["a"])
    stop = _stop(match, low)
    if match["list"]:
        last, stop = _listed(match, stop)
    kind = LabelKind.LOST if match["lost"] else LabelKind.BARE
    if match["lost"] and match["b"]:
        return None
    return Label(kind, match.start(), _skip(low, stop, end), first, last, True, False)


_FIGURES = re.compile(r"\d+")


def _listed(match: re.Match[str], stop: int) -> tuple[int, int]:
    """The last of a list of rounds (``Round 5, 6, 7:``) and where the label ends.

    A list with gaps (``Rnds 3, 5, 7``) is left to the words of its first round: which rounds lie
    between is said elsewhere, and is not for a label to guess."""
    first = int(match["a"])
    numbers = [int(number) for number in _FIGURES.findall(match["list"])]
    if numbers == [first + k + 1 for k in range(len(numbers))]:
        return numbers[-1], stop
    return first, match.start("list")


def _stop(match: re.Match[str], low: str) -> int:
    """Where a label ends: marks of bold type belong to it only if it has them in front too."""
    bold = match.start("end") + match["end"].find("**") if "**" in match["end"] else -1
    opened = low[max(0, match.start() - 2) : match.start()] == "**"
    return match.end() if bold < 0 or opened else bold


def _glued(match: re.Match[str], low: str, end: int, words: Vocabulary) -> Label | None:
    """``4-7 sc around`` is a range, ``3-6 sc, inc`` is round 3."""
    first, last = int(match["a"]), int(match["b"])
    if last > first and not _is_count(match, low, end, words):
        return Label(LabelKind.BARE, match.start(), match.end(), first, last, True, False)
    return Label(LabelKind.BARE, match.start(), match.start("b"), first, first, True, False)


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
        if label is None or label.first != due or label.end >= end:
            continue
        if label.last is None or label.kind is LabelKind.SAID:
            continue
        before = low[at:start].rstrip()
        if not label.ends and before[-1:] not in tuple("/)]};" if words.spaced else "/)]},."):
            continue
        if not before or (before[-1] not in ")]}.;,:/" and label.kind is not LabelKind.WORD):
            continue
        if label.kind is LabelKind.WORD and (low[label.end - 1] == ")" or before[-1] in "(["):
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
