"""The word sets by which a sheet is cut up, compiled once for each language.

All patterns are for text in small letters. English words are known in every language: patterns in
other tongues borrow them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from webapp.reading import unspaced
from webapp.terms import Language, TermTable, term_table

STITCHES = ("sc", "hdc", "dc", "tr", "inc", "dec", "slst")
COMPOUNDING = frozenset(
    {Language.GERMAN, Language.DUTCH, Language.DANISH, Language.SWEDISH, Language.NORWEGIAN}
)
"""Languages that write a noun of several as one word: `Vorderbein` ends with a part's name."""
_OWN_LABELS = {"part", "parts", "row", "rows"}


@dataclass(frozen=True)
class Vocabulary:
    """Compiled word sets of one language; ``numbers`` also has ordinals in words."""

    language: Language
    round_words: str
    plural_rounds: frozenset[str]
    row_words: frozenset[str]
    round_word: re.Pattern[str]
    stitch: re.Pattern[str]
    stitch_start: re.Pattern[str]
    work_start: re.Pattern[str]
    ring: re.Pattern[str]
    chain: re.Pattern[str]
    around: re.Pattern[str]
    all_round: re.Pattern[str]
    even: re.Pattern[str]
    repeat: re.Pattern[str]
    range_words: str
    both_words: str
    said_rounds: re.Pattern[str]
    every_end: re.Pattern[str]
    part_noun: re.Pattern[str]
    part_end: re.Pattern[str]
    part_named: re.Pattern[str]
    section: re.Pattern[str]
    pattern_section: re.Pattern[str]
    remark_start: re.Pattern[str]
    finish: re.Pattern[str]
    colour: re.Pattern[str]
    copies: re.Pattern[str]
    copies_said: str
    second_alike: re.Pattern[str]
    count_alone: re.Pattern[str]
    as_part: re.Pattern[str]
    as_round: re.Pattern[str]
    part_of: re.Pattern[str]
    names_part: re.Pattern[str]
    up_to_round: re.Pattern[str]
    rounds_of: re.Pattern[str]
    otherwise: re.Pattern[str]
    differs: re.Pattern[str]
    keep_on: re.Pattern[str]
    count_before: re.Pattern[str]
    hanging: re.Pattern[str]
    before_round: re.Pattern[str]
    ordinals: dict[str, int]
    one_piece: re.Pattern[str]
    next_words: str
    around_words: str
    the: tuple[str, ...]
    numbers: dict[str, int]
    spaced: bool = True


def either(words: Iterable[str]) -> str:
    """Words as alternatives of a pattern, the longest first; a space stands for any run of them.
    Of no words it is what nothing matches."""
    ways = sorted({word.lower() for word in words if word}, key=lambda w: (-len(w), w))
    return "|".join(re.escape(way).replace(r"\ ", r"\s{1,3}") for way in ways) or "(?!)"


def _alone(alternatives: str) -> re.Pattern[str]:
    """The words with no letter beside them (figures may be glued to stitches)."""
    return re.compile(rf"(?<![^\W\d_])(?:{alternatives})(?![^\W\d_])")


def _beginning(alternatives: str) -> re.Pattern[str]:
    return re.compile(rf"\W{{0,6}}(?:{alternatives})(?![^\W\d_])")


@cache
def vocabulary(language: Language) -> Vocabulary:
    """The word sets of a language, English ones with them where words stand apart."""
    own = term_table(language)
    alone = language in (Language.US, Language.UK) or not own.spaced
    tables = [own] if alone else [own, term_table(Language.US)]

    known = {way for ways in own.forms.values() for way in ways}

    def forms(*concepts: str) -> list[str]:
        mine = [w for c in concepts for w in own.forms.get(c, ())]
        borrowed = [w for table in tables[1:] for c in concepts for w in table.forms.get(c, ())]
        return mine + [w for w in borrowed if w not in known]

    def sheet(concept: str) -> list[str]:
        return [w for table in tables for w in table.sheet.get(concept, ())]

    # `as` names another part in English, and is an article in Portuguese.
    ours = {*own.sheet.get("as_part", ())}
    as_part = either(way for way in sheet("as_part") if way in ours or way not in known)
    hanging = forms("next", "in", "each", "the", "and", "from")
    rounds = [w for w in forms("round", "row") if w not in ("×",)]
    figure = r"\d{1,2}|" + either(_all_numbers(tables))
    # `2 st` is pieces in a heading, though "st" is short for a taller stitch in Swedish.
    stitches = either(w for w in forms(*STITCHES, "tog") if w not in sheet("copies"))
    stitch_start = (
        rf"[\s(*\[{{|'\"]{{0,6}}(?:(?:\d{{1,3}}|{either(_all_numbers(tables))})"
        rf"[\s.]{{0,2}}(?:x\s?)?)?(?:{stitches})(?![^\W\d_])"
    )
    leads = either([*forms("work", "and", "in", "back_loops", "front_loops", "the"), "now"])
    nouns = either(sheet("parts"))
    inside = "" if language in COMPOUNDING else r"(?<![^\W\d_])"
    more = either(forms("more"))
    many = either(w for w in rounds if len(w) > 1)
    found = Vocabulary(
        language=language,
        round_words=either(rounds),
        plural_rounds=frozenset(sheet("rounds")),
        row_words=frozenset(w.lower() for w in forms("row")),
        round_word=_alone(either(rounds)),
        stitch=_alone(stitches),
        stitch_start=re.compile(stitch_start),
        work_start=re.compile(rf"\W{{0,4}}(?:(?:{leads})[,:]?\s{{1,2}}){{0,3}}{stitch_start}"),
        # "11 cm" is a length, though "cm" is short for a magic ring in two languages.
        ring=re.compile(
            rf"(?<![^\W\d_])(?!(?<=\d)cm|(?<=\d )cm)(?:{either(forms('ring'))})(?![^\W\d_])"
        ),
        chain=re.compile(
            rf"(?<![^\W\d_])(?:{either(forms('ch'))})\s?\d{{1,3}}|\d{{1,3}}\s?(?:{either(forms('ch'))})(?![^\W\d_])"
        ),
        around=_alone(either(forms("around", "each", "even", "times", "twice"))),
        even=_alone(either(forms("even"))),
        all_round=_alone(either(forms("around", "each", "even"))),
        repeat=_beginning(either(forms("rep"))),
        range_words=either(w for table in _spaced() for w in table.sheet["range"]),
        both_words=either([*sheet("both")]),
        said_rounds=re.compile(
            rf"(?<![\d.,\-/])(?<![\d] )(?<!every )(?<!each )(?<!alle )({figure})"
            rf"[\s-]{{0,2}}(?:(?:{more})\s)?(?:{many})(?![^\W_])"
        ),
        every_end=re.compile(rf"(?<![^\W\d_])(?:{either(forms('each'))})\s{{1,2}}$"),
        part_noun=re.compile(rf"(?<![^\W\d_])(?:{nouns})(?:s|es|n|en|e|i)?(?![^\W\d_])"),
        part_named=re.compile(
            rf"(?:[^\W\d_]{{2,10}}\s){{0,2}}(?:{nouns})(?:s|es|n|en|e|i)?\s?:(?!\s?\d)"
        ),
        part_end=re.compile(rf"{inside}(?:{nouns})(?:s|es|n|en|e|i)?(?![^\W\d_])"),
        section=re.compile(rf"(?:{either(sheet('sections'))})(?:\s*[(/&,-].{{0,40}})?"),
        pattern_section=re.compile(rf"(?:{either(sheet('pattern'))})"),
        remark_start=_beginning(either(sheet("remark"))),
        finish=_alone(either(sheet("finish"))),
        colour=_alone(either(sheet("colours"))),
        count_alone=re.compile(rf"\d{{1,3}}\s?(?:{either(forms('sc', 'st'))})\.?$"),
        as_part=re.compile(
            rf"\W{{0,4}}(?:(?:{either(forms('work', 'rep', 'the'))})[,:]?\s{{1,2}}){{0,3}}"
            rf"(?:{as_part})(?![^\W_])"
        ),
        as_round=re.compile(
            rf"\W{{0,4}}(?:(?:{either(forms('work', 'the'))})\s{{1,2}}){{0,2}}"
            rf"(?:=|(?:{as_part})(?![^\W_]))\s{{0,2}}(?:(?:{either(forms('the'))})\s)?"
            rf"(?:(?:{either(rounds)})\.?\s?(?P<a>\d{{1,3}}|{either(_all_numbers(tables))})"
            rf"|(?P<b>\d{{1,3}})[^\W\d_]{{0,2}}[.ªº°]?\s?(?:{either(rounds)}))(?![^\W_])"
        ),
        part_of=re.compile(
            rf"\W{{0,4}}(?:(?:{either(forms('work', 'rep', 'the'))})\s{{1,2}}){{1,3}}"
            rf"(?:{either(rounds)})\.?\s?\d{{1,3}}[^\n.;(\[]{{0,20}}?\s(?:{either(sheet('of_part'))})"
            r"(?![^\W_])"
        ),
        names_part=re.compile(
            rf"(?<![^\W_])(?:{as_part}|{either(sheet('of_part'))})"
            rf"(?:\s{{1,2}}(?:{either(forms('the'))})(?![^\W_])){{0,2}}(?![^\W_])"
        ),
        up_to_round=re.compile(
            rf"(?:{either(sheet('range'))})\s{{1,2}}(?:[^\W\d_]{{2,6}}\s){{0,3}}"
            rf"(?:(?:{either(rounds)})\.?\s?(\d{{1,3}})"
            rf"|(\d{{1,3}})[^\W\d_]{{0,2}}[.ªº°]?\s?(?:{either(rounds)}))(?![^\W_])"
        ),
        rounds_of=re.compile(
            rf"(?<![^\W_])(?:{either(rounds)})\.?\s?(\d{{1,3}})(?:\s?(?:-|{either(sheet('range'))})"
            rf"\s?(?:(?:{either(rounds)})\.?\s?)?(\d{{1,3}}))?(?![^\W_])"
        ),
        otherwise=_alone(either(sheet("otherwise"))),
        differs=_alone(either(sheet("differs") + sheet("until"))),
        keep_on=re.compile(
            rf"\W{{0,4}}(?:{either(sheet('keep_on'))})(?![^\W_])[^\n.;(\[*]{{0,90}}?(?<![^\W_])"
            rf"(?:{either(sheet('until'))})(?![^\W_])[^\n.;(\[*]{{0,24}}?(?<!\d)(\d{{1,3}})"
            rf"\s?(?:{either(forms('sc', 'st'))})(?![^\W_])"
        ),
        count_before=re.compile(rf"\s?(?:{either(forms('st'))})\s?:\s"),
        hanging=re.compile(rf"(?<![^\W\d_])(?:{either(_short(hanging))})$"),
        before_round=re.compile(rf"(?<![^\W\d_])(?:{either(sheet('before_round'))})$"),
        copies=re.compile(either(sheet("copies"))),
        copies_said=either(sheet("copies_said")),
        second_alike=re.compile(
            rf"(?:^|[.;!]\s{{1,2}})(?P<work>(?:(?:{either(forms('work'))})\s{{1,2}}){{0,2}})"
            rf"(?:{either(sheet('second_one'))})\s{{1,2}}(?P<noun>[^\W\d_]{{3,16}})(?![^\W_])"
            rf"(?:[^.;!\n]{{0,50}}?(?<![^\W_])(?P<alike>{either(sheet('alike'))})(?![^\W_]))?"
        ),
        ordinals={w.lower(): k for t in tables for k, w in enumerate(t.sheet["ordinals"], 1)},
        one_piece=re.compile(rf"\s*[,-]?\s(?:{either(sheet('one_piece'))})$", re.IGNORECASE),
        next_words=either(forms("next", "last")),
        around_words=either(forms("around")),
        the=tuple(forms("the")),
        numbers=_all_numbers(tables),
    )
    if own.spaced:
        return found
    return replace(found, spaced=False, **unspaced.word_patterns(own))


def _spaced() -> list[TermTable]:
    tables = map(term_table, Language)
    return [table for table in tables if table.spaced]


def _short(ways: Iterable[str]) -> list[str]:
    """Words that cannot end a round: `in`, `next`, `the`; `sc across` can."""
    return [way for way in ways if way.isalpha() and (len(way) < 6 or way.endswith("ing"))]


def _all_numbers(tables: list[TermTable]) -> dict[str, int]:
    return {word.lower(): value for table in tables for word, value in table.numbers.items()}
