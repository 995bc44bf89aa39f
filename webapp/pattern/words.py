"""Which words a pattern explains: those it uses and no others."""

from __future__ import annotations

import re
from collections.abc import Iterator

from webapp.yarns import Gauge, LengthUnit, Terms, TermSet


def abbreviations_used(text: str, words: TermSet) -> Iterator[str]:
    """A line for each abbreviation that occurs in ``text`` as a word of its own."""
    every = sorted((*words.abbreviations, *words.rarer), key=lambda row: row[0].lower())
    for short, meaning in every:
        # A slip stitch also begins sentences; Rnd and Rnds are never small.
        how = re.IGNORECASE if short == words.sl_st else re.NOFLAG
        if re.search(rf"(?<![\w-]){re.escape(short)}(?![\w-])", text, how):
            yield f"{short} = {meaning}"


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
        terms=", ".join(words.unchecked),
    )


def round_words(line_first: int, line_last: int, words: TermSet, in_rows: bool) -> str:
    """`Rnd 3`, `Rnds 14-20`, or `Row` and `Rows` for a part worked flat."""
    if line_first == line_last:
        if in_rows:
            return words.say("{row} {number}", number=line_first)
        return words.say("{rnd} {number}", number=line_first)
    if in_rows:
        return words.say("{rows} {first}-{last}", first=line_first, last=line_last)
    return words.say("{rnds} {first}-{last}", first=line_first, last=line_last)


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
