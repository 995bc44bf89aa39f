"""Which words a pattern explains: those it uses and no others."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from webapp.yarns import Gauge, LengthUnit, Terms, TermSet, term_set


def abbreviations_used(text: str, words: TermSet) -> Iterator[str]:
    """A line for each abbreviation that occurs in ``text`` as a word of its own."""
    every = sorted((*words.abbreviations, *words.rarer), key=lambda row: row[0].lower())
    # A slip stitch also begins sentences; Rnd and Rnds are never small.
    small = text.lower()
    if not words.spaced:
        yield from (f"{short} = {meaning}" for short, meaning in every if short in text)
        return
    for short, meaning in every:
        if _is_there(short.lower(), small) if short == words.sl_st else _is_there(short, text):
            yield f"{short} = {meaning}"


def _is_there(short: str, text: str) -> bool:
    """Whether a word stands in a text with no letter, figure or hyphen beside it."""
    at = text.find(short)
    while at >= 0:
        end = at + len(short)
        beside = text[max(at - 1, 0) : at] + text[end : end + 1]
        if not any(letter.isalnum() or letter in "_-" for letter in beside):
            return True
        at = text.find(short, end)
    return False


def terms_line(words: TermSet) -> str:
    """Whose terms the pattern uses; the one abbreviation that changes the toy is named. In other
    languages, which of them were checked against a published source."""
    if words.terms is Terms.UK:
        return "Terms: UK (dc is the double crochet that US patterns call single crochet, sc)"
    if words.terms is Terms.US:
        return "Terms: US (sc is the single crochet that UK patterns call double crochet, dc)"
    if not words.unchecked:
        return words.say(
            "Terms checked against a published source; sentences wait for a native reader."
        )
    return words.say(
        "Terms checked against a published source, but for {terms}; these and the sentences wait "
        "for a native reader.",
        terms=words.manner.comma.join(words.unchecked),
    )


def round_words(line_first: int, line_last: int, words: TermSet, in_rows: bool) -> str:
    """`Rnd 3`, `Rnds 14-20`, or `Row` and `Rows` for a part worked flat."""
    return _round_words(line_first, line_last, words.terms, in_rows)


@lru_cache(maxsize=4096)
def _round_words(first: int, last: int, terms: Terms, in_rows: bool) -> str:
    words = term_set(terms)
    if first == last:
        if in_rows:
            return words.say("{row} {number}", number=first)
        return words.say("{rnd} {number}", number=first)
    if in_rows:
        return words.say("{rows} {first}-{last}", first=first, last=last)
    return words.say("{rnds} {first}-{last}", first=first, last=last)


def over_rounds(first: int, last: int, words: TermSet) -> str:
    """`over Rnd 3`, `over Rnds 3 and 4`, `over Rnds 3 to 6`."""
    if last == first:
        return words.say("over {rnd} {number}", number=first)
    if last == first + 1:
        return words.say("over {rnds} {first} and {last}", first=first, last=last)
    return words.say("over {rnds} {first} to {last}", first=first, last=last)


def stitches_text(number: int, words: TermSet) -> str:
    """`1 st` or `5 sts`."""
    return words.many("{number} {st}", "{number} {sts}", number)


def both_lengths(mm: float, unit: LengthUnit, words: TermSet) -> str:
    """A length in the maker's unit, the other in brackets."""
    other = LengthUnit.INCH if unit is LengthUnit.CM else LengthUnit.CM
    return f"{words.length(mm, unit)} ({words.length(mm, other)})"


def gauge_words(gauge: Gauge, words: TermSet) -> str:
    """`22 sc and 22 rnds = 10 x 10 cm (4 x 4 in)`."""
    stitches, rounds = figure(gauge.stitches_per_10cm), figure(gauge.rounds_per_10cm)
    return words.say(
        "{stitches} {sc} and {rounds} {rnds_small} = 10 x 10 cm (4 x 4 in)",
        stitches=words.figures(stitches),
        rounds=words.figures(rounds),
    )


def figure(value: float) -> str:
    """To one place, and none where it is whole."""
    return f"{value:.1f}".removesuffix(".0")
