"""A whole pattern written out, in the words and the form of our own patterns.

    HEAD (make 1)
    Rnd 1: 6 sc in a magic ring [6]
    Rnd 2: inc x 6 [12]
    Rnds 3-5: sc in each st around [12]

Rounds and starts are worded by :mod:`webapp.pattern`. Chains at the start of a row or a joined
round are no stitch; that is said where there are any. A line that was not read stands as it stood.
"""

from __future__ import annotations

from collections.abc import Iterator

from webapp.pattern.paper import section
from webapp.pattern.starts import start_text
from webapp.pattern.wording import exact_text, turned, work_text
from webapp.pattern.words import (
    abbreviations_used,
    gauge_words,
    round_words,
    stitches_text,
    terms_line,
)
from webapp.reading import Begin, Work
from webapp.rework.model import PlainPart, PlainPattern, PlainRound
from webapp.rounds.repeats import joined
from webapp.yarns import TermSet

UNNAMED = "Part"

TALL = {"hdc": 2, "hdc inc": 2, "hdc dec": 2, "dc": 3, "dc inc": 3, "dc dec": 3, "tr": 4}
"""Chains that are as tall as a stitch, where it is more than one: common practice, no source."""


def written(pattern: PlainPattern, words: TermSet) -> str:
    """The pattern as text, in the terms of ``words``; ends with a line break."""
    parts = [part_text(part, words) for part in pattern.parts]
    rounds = [r for part in pattern.parts for r in part.rounds]
    blocks = [
        "\n".join(line for line in (pattern.title.upper(), terms_line(words)) if line),
        section(words.gauge.upper(), _gauge(pattern, words)),
        section("ABBREVIATIONS", abbreviations_used("\n".join(parts), words)),
        section("BEFORE YOU START", _notes(rounds, any(p.rows for p in pattern.parts), words)),
        *pattern.before,
        *parts,
        *pattern.after,
    ]
    # Not folded: a line that begins with "round 5" because it was would be one to read.
    return "\n\n".join(block for block in blocks if block) + "\n"


def _gauge(pattern: PlainPattern, words: TermSet) -> Iterator[str]:
    if pattern.gauge is not None:
        yield f"{gauge_words(pattern.gauge, words)}."


def _notes(rounds: list[PlainRound], rows: bool, words: TermSet) -> Iterator[str]:
    rnd, st = words.rnd.lower(), words.st
    if not rows and not any(r.joined for r in rounds):
        yield (
            f"Work in a spiral without joining; move a marker up to the first {st} of each {rnd}."
        )
    yield (
        f"The number in square brackets at the end of a line is how many {words.sts} that {rnd} "
        "has."
    )
    if rows or any(r.joined for r in rounds):
        yield f"Chains at the start of a {rnd} or row are not counted as a {st}."
    yield "(...) x 6 and [...] x 2: work what is inside that many times."
    if any(r.unread for r in rounds):
        yield (
            "Lines with other words than these are as they were found: they could not be read, or "
            "do not agree."
        )


def part_text(part: PlainPart, words: TermSet) -> str:
    """One part: its heading, its rounds with equal ones gathered, and the remarks at their
    rounds."""
    lines = [f"{(part.title or UNNAMED).upper()} (make {part.copies})"]
    lines += [_sentence(remark.text) for remark in part.remarks if remark.after <= 0]
    stops = {remark.after for remark in part.remarks}
    last = 0
    rounds = part.rounds
    while last < len(rounds):
        first = last
        text = _line_text(part, rounds[first], words)
        last += 1
        while (
            last < len(rounds)
            and rounds[last - 1].number not in stops
            and _same(part, rounds[first], rounds[last], text, words)
        ):
            last += 1
        lines.append(_line(part, rounds[first], rounds[last - 1], text, words))
        lines += _remarks(part, rounds, last)
    return "\n".join(lines)


def _remarks(part: PlainPart, rounds: tuple[PlainRound, ...], last: int) -> list[str]:
    """The remarks after the round before ``rounds[last]``; all that are left at the end."""
    low = rounds[last - 1].number
    high = rounds[last].number if last < len(rounds) else None
    return [
        _sentence(remark.text)
        for remark in part.remarks
        if remark.after >= max(low, 1) and (high is None or remark.after < high)
    ]


def _sentence(text: str) -> str:
    """A remark that looks like no heading and no round: with a full stop, and as a note where it
    is a piece of a sentence."""
    text = f"{text}." if text[-1:].isalnum() else text
    return f"Note: {text}" if text[:1].islower() else text


def _same(
    part: PlainPart, one: PlainRound, other: PlainRound, text: str, words: TermSet
) -> bool:
    """Whether a round is worked like one before it, word for word, and both are even."""
    even = one.before == one.count == other.before == other.count
    if not even or one.number <= 1 or one.unread or other.unread:
        return False
    return _line_text(part, other, words) == text


def _line(
    part: PlainPart, first: PlainRound, last: PlainRound, text: str, words: TermSet
) -> str:
    if first.unread:
        return text
    label = round_words(first.number, last.number, words, part.rows)
    return f"{label}: {text} [{last.count}]"


def _line_text(part: PlainPart, r: PlainRound, words: TermSet) -> str:
    """The work of a round with all that is said of it, without label and count."""
    if r.unread:
        check = f" [please check: {r.check}]" if r.check else ""
        return f"{r.unread}{check}"
    work = joined(run for arc in r.arcs for run in arc)
    if r.number == 1:
        text = start_text(part.begin, work, words, chain=part.chain, per_leg=part.per_leg)
        if part.begin in (Begin.EDGE, Begin.UNKNOWN):
            text = _loops(r, words) + text
        return text + _ends(r, words)
    return _begins(part, r, work, words) + _loops(r, words) + _stitches(part, r, words) + _ends(
        r, words
    )


def _begins(part: PlainPart, r: PlainRound, work: Work, words: TermSet) -> str:
    chains = TALL.get(work[0][0], 1) if work else 1
    if part.rows or r.turned:
        return turned(words, chains)
    return f"{words.ch} {chains}, " if r.joined else ""


def _loops(r: PlainRound, words: TermSet) -> str:
    return f"in {r.loops} loops only, " if r.loops else ""


def _stitches(part: PlainPart, r: PlainRound, words: TermSet) -> str:
    if r.left:
        # "In each stitch" would go on over those that are left.
        return ", ".join(exact_text(arc, words) for arc in r.arcs)
    return work_text(r.arcs, words, "across" if part.rows else "around")


def _ends(r: PlainRound, words: TermSet) -> str:
    text = f", leave {stitches_text(r.left, words)} unworked" if r.left else ""
    if r.joined:
        text += f", {words.sl_st} in the first {words.st} to join"
    return text
