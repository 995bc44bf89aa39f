"""Forms for languages that put no space between words: what the others tell by where a word begins
and ends is told here by the longest form, and by what a sentence ends with.

Each function gives compiled patterns by the names of the fields they stand for; text is cleaned and
in small letters.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from webapp.terms import TermTable

Patterns = dict[str, re.Pattern[str]]

CHART = r"(?<![a-z])[va∨∧λ](?=\s?x?\s?\d)"
"""Letters and symbols of charts for an increase and a decrease, with a number behind them."""
_CROSS = r"(?<![^\s(,•])x\s?\d"
NEVER = re.compile(r"(?!)")
_NUMBER = r"\d{1,3}"
_END = r"(?P<end>(?:\s{0,2}(?:[:.,;)\]=|/>}]|-{1,2}(?!\d)>?)){0,4})"
_TO = r"\s{0,2}(?:-{1,2}|~|/|\.{2,3}|から)\s{0,2}"
_GOES_ON = r"(?!の|と|で(?!は)|に|が|を|くらい|ほど|以降|ごと|分)"
"""What makes of a number of a round a word of a sentence: `3段めの目`, `24段めに`."""
APART = ("ずつ", "おきに", "おき")
"""Words for each that also stand in sentences about colours and rows."""
NOT_LOOKED_FOR = (
    *("hanging", "as_part", "as_round", "part_of", "names_part", "up_to_round", "rounds_of"),
    *("otherwise", "differs", "keep_on", "before_round", "second_alike"),
    "part_named",
)
"""Ways of languages whose words stand apart."""
LONGEST_NOUN = 5
"""Letters of a name of a part, which may end as a verb does."""
LONGEST_TITLE = 14
"""Letters of a line that may be a heading without saying so."""


def either(words: Iterable[str]) -> str:
    """Words as alternatives of a pattern, the longest first."""
    return "|".join(map(re.escape, sorted({*words}, key=lambda word: (-len(word), word))))


def word_patterns(table: TermTable) -> dict[str, Any]:
    """The patterns of a :class:`~webapp.reading.vocabulary.Vocabulary`."""

    def forms(*concepts: str) -> str:
        return either(way for concept in concepts for way in table.forms[concept])

    stitches = forms("sc", "hdc", "dc", "tr", "inc", "dec", "slst")
    place = forms("in", "each", "next", "same", "first", "last", "back_loops", "front_loops")
    start = rf"[\s(*\[{{|'\"]{{0,6}}(?:{stitches})"
    chain = forms("ch")
    all_round = either(
        [
            *table.forms["around"],
            *table.forms["even"],
            *(way for way in table.forms["each"] if way not in APART),
        ]
    )
    return {
        "round_word": re.compile(forms("round")),
        "stitch": re.compile(
            rf"{stitches}|{forms('back_loops')}|{CHART}|{_CROSS}|\d目ずつ(?:{forms('same')})"
        ),
        "stitch_start": re.compile(start),
        "work_start": re.compile(
            rf"\W{{0,4}}(?:(?:{place}|{forms('st')}|{forms('and')}|\d{{1,3}})\s?){{0,5}}{start}"
        ),
        "ring": re.compile(forms("ring")),
        "chain": re.compile(rf"(?:{chain})(?:を|で|編みを)?\s?\d{{1,3}}|\d{{1,3}}目の?(?:{chain})"),
        "around": re.compile(all_round),
        "even": re.compile(forms("even")),
        "all_round": re.compile(all_round),
        "repeat": re.compile(
            rf"(?:[^\n]{{0,24}}?(?:段め?|段目|回|を|\)))?(?:{forms('rep')}|と同じ|同様)"
        ),
        "said_rounds": re.compile(
            r"(?<![\d.,\-/~第])(\d{1,2})\s?段(?!め|目|数|差|ごと|おき|から|の|ずつ)"
        ),
        "every_end": NEVER,
        **dict.fromkeys(NOT_LOOKED_FOR, NEVER),
        "part_noun": re.compile(either(table.sheet["parts"])),
        "part_end": re.compile(either(table.sheet["parts"])),
        "remark_start": re.compile(rf"[^\n]{{0,200}}?(?:{either(table.sheet['remark'])})"),
        "finish": re.compile(either(table.sheet["finish"])),
        "colour": re.compile(rf"(?:{either(table.sheet['colours'])})(?:色|糸)?"),
        "count_alone": re.compile(rf"計?\d{{1,3}}\s?(?:{forms('st')})\.?$"),
    }


def label_patterns(table: TermTable, numbers: Iterable[str]) -> Patterns:
    """The patterns of :class:`~webapp.reading.labels.LabelForms`: ``3段め:``, ``第3段``,
    ``4〜8段め``, ``4段めから8段めまで``, ``R3:``."""
    # Atomic: of `25段め` the shorter word is never tried.
    word = rf"(?>{either(table.forms['round'])})"
    both = r"\s{0,2}(?:,|と|&|\+|•)\s{0,2}"
    a, b = rf"(?P<a>{_NUMBER})", rf"第?(?P<b>{_NUMBER})"
    one = rf"(?:{both}{_NUMBER}(?:{word})?)"
    ended = rf"(?=\s{{0,2}}(?:{word})?\s{{0,2}}[:.)-])"
    behind = r"(?:まで)?(?:は|では|も)?"
    listed = rf"(?P<list>(?:{one}|\)\s?{_NUMBER}){{1,8}}{ended})"
    bare_range = rf"(?:{listed}|(?P<to>{_TO})\(?(?P<b>{_NUMBER}))?"
    return {
        "word_first": re.compile(
            rf"(?P<w>r|rnd|row)\.?\s{{0,2}}{a}(?![^\W_])(?:(?P<list>(?!))"
            rf"|(?:(?P<to>{_TO})|(?P<both>{both}))r?(?P<b>{_NUMBER})(?![^\W_]))?{_END}"
        ),
        "number_first": re.compile(
            rf"第?{a}(?:(?:\s?{word})?(?:(?P<to>{_TO})|(?P<both>{both})){b})?"
            rf"\s{{0,2}}(?P<w>{word}){_GOES_ON}{behind}{_END}"
        ),
        "bare": re.compile(
            rf"(?P<lost>-)?[#(]?{a}\)?\.?{bare_range}(?P<end>(?:\s{{0,2}}(?:[:.;)|]|-{{1,2}}(?!\d)>?)){{1,4}})"
        ),
        "glued": NEVER,
        "hashed": NEVER,
        "said": re.compile(
            rf"(?:(?P<o>{either(table.sheet['ordinals'])})(?:の)?|次の|続く){word}\s?[:,=-]\s?"
            rf"|次の(?P<many>\d{{1,2}}|{either(numbers)})段\s?[:,=-]\s?|(?P<c>(?!))"
        ),
        "open_range": NEVER,
        "ordinal_rest": NEVER,
        "inner": re.compile(
            rf"(?<![^\W_])(?=第?\d{{1,3}}(?:(?:\s?{word})?(?:{_TO}|{both})第?\d{{1,3}})?"
            rf"\s?{word}{_GOES_ON})"
        ),
        "row": NEVER,
        "table": re.compile(
            rf"第?{a}(?:\s?{word})?(?:{_TO}第?(?P<b>{_NUMBER})(?:\s?{word})?)?[\s:|,]{{1,4}}"
            rf"(?=\d{{1,3}}目?[\s:|,(]{{1,4}}(?:[+-]\s?\d|\d{{1,2}}目[増減]|増減|±|わ|輪)"
            rf"|[+-]\s?\d{{1,2}}目?[\s:|,]{{1,4}}\d{{1,3}}目?\s*$)",
            re.MULTILINE,
        ),
    }


def copy_patterns(table: TermTable) -> Patterns:
    """How many copies are made: ``(2枚)``, ``腕 2本``, ``耳 x2``, ``同じものを2個編む``."""
    n = rf"(\d{{1,2}}|{either(table.numbers)})"
    make = f"(?:{either(way for way in table.sheet['copies'] if way != 'x')})"
    same = r"(?:同じものを|これを|同様に|全部で|各)?"
    many = rf"(?:[x*]\s?{n}(?:枚|個|本)?|{n}\s?{make})"
    # One group each, as the number that is found is the last.
    return {
        "note": re.compile(rf"(?:^|[,;•\s]){same}(?:[x*]\s?)?{n}\s?(?:{make})?\.?$"),
        "end": re.compile(
            rf"(?:^|[\s,:;•-]|(?<=[^\W\d_])){same}{many}(?:\s[^\W\d]{{1,8}})?\s?[.:]{{0,2}}$"
        ),
        "start": NEVER,
        "several": NEVER,
        "coloured": NEVER,
        "sentence": NEVER,
    }


_PAIR = re.compile(r"\s?左右(?:対称に|とも|各|に|で)?\s?(?:(?:1|一)(?:枚|本|個|つ)(?:ずつ)?)?")


def paired(text: str) -> tuple[str, int | None]:
    """A heading without its words for a pair (``左右各1枚``), and 2 if it has them."""
    bare = _PAIR.sub("", text)
    return (bare, 2) if bare != text else (text, None)


_BOX = re.compile(r"[\[<]([^\[\]<>\d][^\[\]<>]{0,28})[\]>](.{0,20})$")
_MARK = re.compile(r"^[■◆●◎◇□▼☆○]{1,3}\s?")
_SENTENCE = re.compile(r"を|.が.|^段数?[\s/|]|^目数[\s/|]")
_NOTE = re.compile(r"\([^()]{0,60}\)")
_VERB = re.compile(r"[るすくむうたい]\.?$")


def titled(text: str) -> tuple[str, bool]:
    """A line without the marks of a heading (``【頭】``, ``■頭``), and whether it had any."""
    bare = _MARK.sub("", text)
    box = _BOX.match(bare)
    if box:
        bare = box[1] + (box[2] if any(map(str.isdecimal, box[2])) else "")
    return bare.strip(), bare != text


def is_sentence(low: str, noun: bool) -> bool:
    """Whether a line is too long for a title, ends as sentences do, or heads a table; ``noun``
    tells whether it names a part."""
    low = _NOTE.sub("", low).strip()
    if len(low) > LONGEST_TITLE or _SENTENCE.search(low):
        return True
    return bool(_VERB.search(low)) and not (noun and len(low) <= LONGEST_NOUN)
