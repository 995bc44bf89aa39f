"""One number of a pattern that agrees is changed: a wrong count is never shown right.

A changed line is really consistent where its stitches still go into the round before and still
make the count that is written. That is told by the tests' own reader (:mod:`tests.reader`), which
shares no code with the one that is tested.
"""

from __future__ import annotations

import random
import re
from functools import cache

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.reader import LINE, any_stitches, unwrapped
from tests.strategies import default_design, recipes
from tests.strategies_reading import check_laws
from tests.test_pattern import TOYS, text_of
from webapp.errors import RoundlingError
from webapp.reading import ReadPattern, ReadRound, Verdict, read_pattern
from webapp.way import make_toy

QUICK = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
NUMBER = re.compile(r"\d+")
TAKEN = {"dec": 2, "skip": 1}
MADE = {"inc": 2, "skip": 0}


@cache
def rounds_alone(name: str) -> str:
    """A shipped toy's pattern from its first part on, each round in one line."""
    text = text_of(make_toy(recipes()[name], default_design(recipes()[name])))
    text = text[text.index("(make") :].partition("SEWING TOGETHER")[0]
    return "PART " + "\n".join(unwrapped(text))


def changed(text: str, source: random.Random) -> str:
    """One number in a round's stitches or count made another."""
    places = [
        found
        for line in re.finditer(r"^(?:Rnds?|Rows?) [\d-]+: (.+)$", text, re.MULTILINE)
        for found in NUMBER.finditer(text, line.start(1), line.end())
    ]
    place = source.choice(places)
    was = int(place[0])
    other = source.choice([n for n in {was - 1, was + 1, was + 6, 2 * was, 1, 6} if n != was])
    return text[: place.start()] + str(max(other, 0)) + text[place.end() :]


def consistent(r: ReadRound, text: str) -> bool:
    """Whether the line goes into the round before and makes what it says, read otherwise."""
    found = LINE.match(text[r.span.start : r.span.end])
    assert found, text[r.span.start : r.span.end]
    work = re.sub(r", changing to .+$", "", found[4]).removeprefix("ch 1, turn, ")
    count = int(found[5])
    if re.match(r"sc in each st", work):
        return r.before == count
    row = any_stitches(work, "sc")
    takes = sum(TAKEN.get(stitch, 1) for stitch in row)
    return takes == r.before and sum(MADE.get(stitch, 1) for stitch in row) == count


def check_changed(read: ReadPattern) -> None:
    """Every round that is said to agree does."""
    check_laws(read)
    for part in read.parts:
        for before, r in zip(part.rounds, part.rounds[1:], strict=False):
            if r.verdict is Verdict.AGREES:
                assert r.before in (before.count, before.gives, before.stated)
                assert consistent(r, read.text), read.text[r.span.start : r.span.end]


@pytest.mark.parametrize("name", TOYS)
@given(seed=st.integers(0, 2**32))
@QUICK
def test_a_wrong_count_is_never_shown_right_and_a_mend_makes_its_round_agree(
    name: str, seed: int
) -> None:
    """The mend applied to the text, and the text read again."""
    text = changed(rounds_alone(name), random.Random(seed))
    read = read_pattern(text)
    check_changed(read)
    for at, part in enumerate(read.parts):
        for r in part.rounds:
            if r.mend is None:
                continue
            span = r.mend.span
            again = text[: span.start] + r.mend.replacement + text[span.end :]
            try:
                mended = read_pattern(again).parts[at].rounds[r.number - 1]
            except RoundlingError:
                pytest.fail(f"{r.mend} leaves no pattern")
            assert mended.verdict is Verdict.AGREES, (text[r.span.start : r.span.end], r.mend)


@pytest.mark.parametrize("name", TOYS)
def test_a_changed_count_is_found_in_every_round(name: str) -> None:
    """Each count in turn, one more than it was: its round disagrees, and the mend puts it back."""
    text = rounds_alone(name)
    places = list(re.finditer(r"\[(\d+)\]$", text, re.MULTILINE))
    for place in random.Random(name).sample(places, min(25, len(places))):
        wrong = f"{text[: place.start(1)]}{int(place[1]) + 1}{text[place.end(1) :]}"
        read = read_pattern(wrong)
        lines = [
            r for p in read.parts for r in p.rounds if r.span.start <= place.start() < r.span.end
        ]
        assert lines
        assert lines[0].verdict is Verdict.DISAGREES, wrong[lines[0].span.start : place.end()]
