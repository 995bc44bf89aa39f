"""Written patterns of many styles, mended, written out in our notation, and read again.

The counts come from outside the program (``tests/corpus/README.md``).
"""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import HealthCheck, given, settings

from tests.corpus_check import Expected, all_expected, read_of
from tests.strategies import design_of, recipes
from tests.strategies_rework import plain_patterns
from webapp.pattern import pattern_text, working_order
from webapp.reading import Begin, Verdict, read_pattern
from webapp.rework.mending import mended, plain_of
from webapp.rework.model import PlainPart, PlainPattern, PlainRound
from webapp.rework.writing import written
from webapp.way import make_toy
from webapp.yarns import Terms, term_set

TEXTS = all_expected()
each_text = pytest.mark.parametrize("expected", TEXTS, ids=lambda e: e.name)


@cache
def plain_with_changes(expected: Expected) -> tuple[PlainPattern, tuple[str, ...]]:
    """The text as it is read and mended, and what was changed in it."""
    return plain_of(read_of(expected), read_pattern)


def stitches(r: PlainRound) -> list[str]:
    return [kind for arc in r.arcs for kind, number in arc for _ in range(number)]


def same(part: PlainPart, again: PlainPart) -> None:
    """Two parts say the same, round for round; a heading may have ended in a remark."""
    assert again.title
    assert part.title.upper().startswith(again.title.upper())
    assert again.copies == part.copies
    if part.begin is not Begin.EDGE:  # what is worked on an edge need not say so
        assert (again.begin, again.rows) == (part.begin, part.rows)
    assert len(again.rounds) == len(part.rounds)
    for got, r in zip(again.rounds, part.rounds, strict=True):
        assert (got.count, stitches(got)) == (r.count, stitches(r)), (part.title, r)
        assert (got.loops, got.left, got.joined) == (r.loops, r.left, r.joined), (part.title, r)


@pytest.mark.parametrize("terms", [Terms.US, Terms.UK])
@each_text
def test_what_is_written_is_read_again_without_doubt(expected: Expected, terms: Terms) -> None:
    plain, _ = plain_with_changes(expected)
    text = written(plain, term_set(terms))
    pattern = read_pattern(text)
    again, _ = plain_of(pattern, read_pattern)
    assert len(again.parts) == len(plain.parts)
    for index, part in enumerate(plain.parts):
        if any(r.unread for r in part.rounds):
            continue
        verdicts = {r.verdict for r in pattern.parts[index].rounds}
        assert verdicts == {Verdict.AGREES}
        same(part, again.parts[index])


def test_what_is_written_has_the_counts_that_were_meant() -> None:
    """Every round in our notation has the count its writer meant, whatever was printed; those
    with a planted fault that has no mend stand as they stood, to be checked. Whether all rounds
    were found at all is asked in ``test_corpus.py``: of 9 texts in 10 they have to be here."""
    compared = 0
    for expected in TEXTS:
        found = [len(part.rounds) for part in read_of(expected).parts]
        if found != [len(part.counts) for part in expected.parts]:
            continue
        compared += 1
        plain, changes = plain_with_changes(expected)
        for part, wanted in zip(plain.parts, expected.parts, strict=True):
            for r in part.rounds:
                if not r.unread:
                    assert r.count == wanted.counts[r.number - 1], (expected.name, part.title, r)
        kept = [r for part in plain.parts for r in part.rounds if r.check]
        assert len(kept) == sum("left as it stood" in change for change in changes)
    assert compared >= 0.9 * len(TEXTS)


def test_most_planted_faults_are_mended() -> None:
    """Of the planted faults four in five are mended; none of the others is written as right."""
    planted = sum(len(part.faults) for expected in TEXTS for part in expected.parts)
    done = 0
    for expected in TEXTS:
        _, changes = plain_with_changes(expected)
        done += sum(" instead of " in change or "added" in change for change in changes)
    assert planted >= 20
    assert done >= 0.8 * planted


@pytest.mark.parametrize("terms", [Terms.US, Terms.UK])
@given(pattern=plain_patterns(usual=True))
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_plain_pattern_is_read_again(terms: Terms, pattern: PlainPattern) -> None:
    """Rounds with all kinds of stitches but chains, which readers take for spaces; arcs, loops,
    joins and rows."""
    text = written(pattern, term_set(terms))
    read_again = read_pattern(text)
    assert len(read_again.parts) == len(pattern.parts)
    for got, part in zip(read_again.parts, pattern.parts, strict=True):
        assert [r.count for r in got.rounds] == [r.count for r in part.rounds]
        assert {r.verdict for r in got.rounds} == {Verdict.AGREES}
        for one, r in zip(got.rounds, part.rounds, strict=True):
            row = [kind for kind, number in one.work for _ in range(number)]
            if r.number > 1 or part.begin in (Begin.RING, Begin.CHAIN_RING):
                assert row == stitches(r)


@pytest.mark.parametrize("name", ["otter", "owl", "rabbit", "whale"])
@pytest.mark.parametrize("terms", ["us", "uk"])
def test_our_own_patterns_read_and_mended_stay_the_same_rounds(name: str, terms: str) -> None:
    toy = make_toy(recipes()[name], design_of(recipes()[name], terms=terms))
    text = pattern_text(toy.worked, toy.materials, toy.cautions)
    got = mended(read_pattern(text), term_set(Terms(terms)), read_pattern)
    assert got.changes == ()
    again = read_pattern(got.text)
    for part, recipe in zip(again.parts, working_order(toy.worked.recipe), strict=True):
        worked = toy.worked.parts[recipe.name]
        counts = getattr(worked, "counts", None) or (worked.per_row,) * worked.rows
        assert part.counts == counts
        assert part.copies == recipe.copies
