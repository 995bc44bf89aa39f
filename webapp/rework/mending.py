"""A read pattern with its doubts settled, and the list of what was changed for that.

A mend is a replacement in the text. It is tried by reading the text again, and kept only where its
round agrees then and there are fewer rounds in all that do not: a mend that only moves an error
on is none.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from webapp.pattern.starts import settled_start
from webapp.pattern.words import figure
from webapp.reading import (
    USES,
    Begin,
    Mend,
    ReadGauge,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    RemarkKind,
    Verdict,
)
from webapp.rework.model import PlainPart, PlainPattern, PlainRemark, PlainRound
from webapp.rework.writing import UNNAMED, written
from webapp.terms import Language, term_table
from webapp.yarns import Gauge, TermSet

USUAL_ROUNDS = 1.05
"""Rounds in the length of a stitch's number of stitches, where no rounds are stated: what the toy
gauges of :mod:`webapp.yarns` have in the middle."""

WHOSE_TERMS = re.compile(
    r"\b(US|UK|American|British)\b.{0,12}\bterm|\bterms?: (US|UK)\b", re.IGNORECASE
)
EXPLAINED = ("sc", "hdc", "dc", "tr", "slst", "inc", "dec", "ch", "st", "round", "row")
"""Concepts whose abbreviations patterns explain before they begin."""

JOINED_ONCE = (Begin.CHAIN_RING, Begin.LEGS)

CHAIN_ALONE = re.compile(r"[a-z]{1,9}\.?\s*\d{1,3}\s*[a-z.]{0,12}\.?", re.IGNORECASE)
"""A chain that is made before the first round: `Ch 25.`, `25 Lm`."""

MOST_TRIES = 60
"""Mends that are tried in one text: each is a reading of the whole of it."""

Reader = Callable[[str], ReadPattern]
Place = tuple[int, int]
"""Number of a part, from 0, and of a round in it, from 1."""


@dataclass(frozen=True)
class Mended:
    """A pattern written anew, and a sentence for each change."""

    text: str
    changes: tuple[str, ...]


def mended(pattern: ReadPattern, words: TermSet, read: Reader) -> Mended:
    """The whole pattern in our notation, mended where a mend is known."""
    plain, changes = plain_of(pattern, read)
    return Mended(written(plain, words), changes)


def plain_of(
    pattern: ReadPattern, read: Reader, gauge: Gauge | None = None
) -> tuple[PlainPattern, tuple[str, ...]]:
    """The pattern with its doubts settled, and what was changed or chosen.

    ``gauge`` is what the pattern is said to be worked to where its text states none.
    """
    pattern, changes = mend_all(pattern, read)
    choices = [
        f"{_where(pattern, index, r)}: read as {choice.taken}, not as {choice.other}"
        for index, part in enumerate(pattern.parts)
        for r in _once(part)
        if r.verdict in (Verdict.AGREES, Verdict.CHOICE)
        for choice in r.choices
    ]
    open_ones = [
        f"{_where(pattern, index, r)}: left as it stood, to be checked"
        for index, part in enumerate(pattern.parts)
        for r in _once(part)
        if r.verdict is Verdict.DISAGREES
    ]
    plain = PlainPattern(
        title=pattern.title,
        gauge=gauge_of(pattern.gauge) or gauge,
        parts=tuple(plain_part(pattern, index) for index in range(len(pattern.parts))),
        before=_paragraphs(pattern, follow=False),
        after=_paragraphs(pattern, follow=True),
    )
    return plain, (*changes, *choices, *open_ones, *_assumed(pattern.gauge))


def _assumed(stated: ReadGauge | None) -> Iterator[str]:
    gauge = gauge_of(stated)
    if stated is not None and stated.rounds is None and gauge is not None:
        rounds = figure(gauge.rounds_per_10cm)
        yield f"Gauge: no rounds were stated; {rounds} in 10 cm are taken, as is usual"


def mend_all(pattern: ReadPattern, read: Reader) -> tuple[ReadPattern, tuple[str, ...]]:
    """The pattern read again with every mend that helps, and these in words."""
    changes: list[str] = []
    tried: set[tuple[Place, str]] = set()
    while len(tried) < MOST_TRIES and (found := _next_mend(pattern, tried)) is not None:
        place, mend = found
        tried.add((place, mend.replacement))
        again = read(_replaced(pattern.text, mend))
        if _helps(pattern, again, place):
            index, number = place
            where = _where(pattern, index, pattern.parts[index].rounds[number - 1])
            changes.append(f"{where}: {mend.says}")
            pattern = again
    return pattern, tuple(changes)


def _next_mend(
    pattern: ReadPattern, tried: set[tuple[Place, str]]
) -> tuple[Place, Mend] | None:
    for index, part in enumerate(pattern.parts):
        for at, r in enumerate(part.rounds, 1):
            if r.verdict is Verdict.DISAGREES and r.mend is not None:
                place = (index, at)
                if (place, r.mend.replacement) not in tried:
                    return place, r.mend
    return None


def _replaced(text: str, mend: Mend) -> str:
    return text[: mend.span.start] + mend.replacement + text[mend.span.end :]


def _helps(before: ReadPattern, after: ReadPattern, place: Place) -> bool:
    index, number = place
    if len(after.parts) != len(before.parts) or len(after.parts[index].rounds) < number:
        return False
    good = after.parts[index].rounds[number - 1].verdict in (Verdict.AGREES, Verdict.CHOICE)
    return good and _doubtful(after) < _doubtful(before)


def _doubtful(pattern: ReadPattern) -> int:
    """How many rounds do not agree or were not read."""
    bad = (Verdict.DISAGREES, Verdict.UNREAD)
    return sum(r.verdict in bad for part in pattern.parts for r in part.rounds)


def _where(pattern: ReadPattern, index: int, r: ReadRound) -> str:
    """`Head, round 8 (line 31)`, or rounds 8-11 where they share a line of the text."""
    part = pattern.parts[index]
    numbers = [other.number for other in part.rounds if other.span == r.span]
    word = "row" if part.rows else "round"
    which = f"{word} {r.number}"
    if len(numbers) > 1:
        which = f"{word}s {numbers[0]}-{numbers[-1]}"
    return f"{title_of(pattern, index)}, {which} (line {r.line})"


def title_of(pattern: ReadPattern, index: int) -> str:
    """What a part is called, if need be by its number."""
    given = pattern.parts[index].title.strip()
    if given:
        return given
    return UNNAMED if len(pattern.parts) == 1 else f"{UNNAMED} {index + 1}"


def _once(part: ReadPart) -> Iterator[ReadRound]:
    """The rounds, but of those that share a line of the text only the first."""
    spans = set()
    for r in part.rounds:
        if r.span not in spans:
            spans.add(r.span)
            yield r


def plain_part(pattern: ReadPattern, index: int) -> PlainPart:
    """A part as it was read; lines that were not read, or do not agree, as they stood."""
    part = pattern.parts[index]
    return PlainPart(
        title=title_of(pattern, index),
        copies=part.copies,
        begin=part.begin,
        rounds=tuple(_rounds(pattern, part)),
        remarks=tuple(
            PlainRemark(remark.after, lines_of(remark.text))
            for remark in part.remarks
            if remark.text.strip() and not of_the_start(part, remark)
        ),
        chain=part.chain,
        per_leg=_per_leg(part),
        rows=part.rows,
        closed=part.closed,
    )


def _per_leg(part: ReadPart) -> tuple[int, ...]:
    first = part.rounds[0] if part.rounds else None
    if first is None or not first.work:
        return part.per_leg
    return settled_start(part.begin, first.work, part.chain, part.per_leg)[1]


def of_the_start(part: ReadPart, remark: Remark) -> bool:
    """Whether it only says how the first round is begun, which is written anew: a chain before it,
    or a piece of its own line."""
    if remark.kind is not RemarkKind.OTHER or part.begin is Begin.UNKNOWN:
        return False
    first = part.rounds[0].span
    inside = first.start <= remark.span.start and remark.span.end <= first.end
    return inside or (remark.after == 0 and bool(CHAIN_ALONE.fullmatch(remark.text.strip())))


def _rounds(pattern: ReadPattern, part: ReadPart) -> Iterator[PlainRound]:
    """The rounds; of a line that stays as it stood only one, whatever it stands for."""
    kept = set()
    for r in part.rounds:
        if r.verdict in (Verdict.AGREES, Verdict.CHOICE) and r.work and r.count is not None:
            yield _round(part, r)
        elif r.span not in kept:
            kept.add(r.span)
            yield _as_it_stood(pattern, r)


def _round(part: ReadPart, r: ReadRound) -> PlainRound:
    work = r.work
    if r.number == 1:
        # "6 sc in the 2nd ch" is as much a ring as 6 sc in one.
        work, _ = settled_start(part.begin, r.work, part.chain, part.per_leg)
    used = sum(number * USES[kind][0] for kind, number in work)
    first = r.number == 1 and part.begin is not Begin.UNKNOWN
    before = used + r.left if r.before is None and not first else r.before or 0
    return PlainRound(
        number=r.number,
        before=before,
        count=r.count or 0,
        arcs=(work,),
        loops=r.loops,
        left=r.left,
        joined=r.joined and joins_rounds(part),
        turned=r.turned,
    )


def joins_rounds(part: ReadPart) -> bool:
    """Whether its rounds are joined: one that only joins a ring, or legs, is no such round."""
    return part.begin not in JOINED_ONCE or any(r.joined for r in part.rounds[1:])


def _as_it_stood(pattern: ReadPattern, r: ReadRound) -> PlainRound:
    text = lines_of(pattern.text[r.span.start : r.span.end])
    check = ""
    if r.verdict is Verdict.DISAGREES:
        check = " ".join(r.findings) or "its stitches and its count do not agree"
    return PlainRound(
        number=r.number,
        before=r.before or 0,
        count=r.count or 0,
        arcs=(),
        unread=text or r.label,
        check=check,
    )


def lines_of(text: str) -> str:
    """Words as they stood, without blanks at the ends of their lines and without empty lines."""
    lines = (" ".join(line.split()) for line in text.splitlines())
    return "\n".join(line for line in lines if line)


def _paragraphs(pattern: ReadPattern, follow: bool) -> tuple[str, ...]:
    """The remarks in no part, before or after the parts, without what explains its own words."""
    return as_paragraphs(
        pattern,
        [
            (remark, words_of(remark, pattern.language))
            for remark in pattern.remarks
            if follows(pattern, remark) is follow
        ],
    )


def as_paragraphs(
    pattern: ReadPattern, said: Sequence[tuple[Remark, str]]
) -> tuple[str, ...]:
    """Remarks as they stood: those with no empty line between them are one paragraph. Where all
    but the first line of one was left out ("" for a remark), that was its heading, and goes too."""
    blocks: list[list[str]] = []
    end = None
    for remark, text in said:
        between = "\n\n" if end is None else pattern.text[end : remark.span.start]
        if len(re.findall(r"\n", between)) > 1:
            blocks.append([])
        blocks[-1].append(text)
        end = remark.span.end
    whole = (block for block in blocks if len(block) < 2 or any(block[1:]))
    kept = ([text for text in block if text] for block in whole)
    return tuple("\n".join(block) for block in kept if block)


def words_of(remark: Remark, language: Language) -> str:
    """A remark in no part, without the lines that explain its own words."""
    lines = lines_of(remark.text).splitlines()
    return "\n".join(line for line in lines if not _explains_words(line, language))


def _explains_words(line: str, language: Language) -> bool:
    """Whether a line says what an abbreviation means, or whose terms are used: the pattern has
    other words now, and explains them."""
    return bool(WHOSE_TERMS.search(line) or _explained(language).search(line))


@cache
def _explained(language: Language) -> re.Pattern[str]:
    forms = term_table(language).forms
    known = (form for concept in EXPLAINED for form in forms.get(concept, ()))
    words = "|".join(re.escape(form) for form in sorted(known, key=len, reverse=True))
    return re.compile(rf"(?<!\w)({words})\s*[=:]\s*[^\W\d]", re.IGNORECASE)


def follows(pattern: ReadPattern, remark: Remark) -> bool:
    """Whether a remark in no part stands after the first part."""
    return bool(pattern.parts) and remark.span.start >= pattern.parts[0].span.start


def gauge_of(stated: ReadGauge | None) -> Gauge | None:
    """The stated gauge; where only stitches are said, as many rounds as they usually go with."""
    if stated is None:
        return None
    return Gauge.per_10cm(stated.stitches, stated.rounds or USUAL_ROUNDS * stated.stitches)
