"""Every text of the corpora, and patterns of no sense, drawn and re-worked: what comes out can be
worked, or is refused in sentences."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.readings import NOWHERE, pattern_of, read_round
from webapp.errors import RoundlingError
from webapp.reading import USES, Begin, ReadPart, ReadPattern, ReadRound, Remark, RemarkKind
from webapp.reading.reading import read_pattern
from webapp.rework.figure import figure_of, still_svg_of
from webapp.rework.reworking import Change, Reworked, rework_pattern
from webapp.rounds import Effort
from webapp.yarns import Gauge

GAUGE = Gauge(3.1, 3.0)
TEXTS = sorted((Path(__file__).parent / "corpus").rglob("*.txt"))


@cache
def read(path: Path) -> ReadPattern:
    return read_pattern(path.read_text(encoding="utf-8"))


def check_all_workable(pattern: ReadPattern, made: Reworked) -> None:
    """Each round takes up the round before and makes what is said; every read round became one."""
    parts = zip(pattern.parts, made.pattern.parts, made.parts, strict=True)
    for was, plain, became in parts:
        assert len(became.rounds) == len(was.rounds)
        assert list(became.rounds) == sorted(became.rounds)
        if became.kept:
            continue
        for before, after in zip(plain.rounds, plain.rounds[1:], strict=False):
            work = [run for arc in after.arcs for run in arc]
            takes = sum(USES[kind][0] * n for kind, n in work)
            makes = sum(USES[kind][1] * n for kind, n in work)
            assert after.before == before.count
            assert takes == before.count - after.left
            assert makes in (after.count, after.count - after.left)


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_every_text_comes_out_the_same_at_its_own_gauge(path: Path) -> None:
    pattern = read(path)
    made = rework_pattern(pattern, Change(GAUGE, GAUGE, Effort(1080)))
    check_all_workable(pattern, made)
    for part, plain, became in zip(pattern.parts, made.pattern.parts, made.parts, strict=True):
        steep = any("more than double or less than half" in note for note in became.notes)
        if not became.kept and not steep:
            assert tuple(r.count for r in plain.rounds) == part.counts, part.title


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_every_text_is_drawn_and_worked_in_coarser_yarn(path: Path) -> None:
    pattern = read(path)
    made = rework_pattern(pattern, Change(GAUGE, Gauge(4.3, 4.1), Effort(1080)))
    check_all_workable(pattern, made)
    figure = figure_of(pattern, GAUGE)
    drawn = [part for part in pattern.parts if part.rounds and part.counts[0]]
    assert len({hover["part"] for hover in figure["hover"]}) == len(drawn)


@st.composite
def works(draw: st.DrawFn, before: int) -> tuple[tuple[str, int], ...]:
    """Stitches that take up so many, of any kind."""
    work: list[tuple[str, int]] = []
    left = before
    usual = draw(st.booleans())
    kinds = ["sc", "inc", "dec", "sc"] if usual else list(USES)
    while left > 0 and len(work) < 8:
        kind = draw(st.sampled_from(kinds))
        takes = USES[kind][0]
        most = left // takes if takes else 3
        if most:
            times = draw(st.integers(1, most))
            work.append((kind, times))
            left -= takes * times
    return (*work, ("sc", left)) if left else tuple(work)


@st.composite
def senseless_parts(draw: st.DrawFn) -> ReadPart:
    """Parts of any beginning and any stitches, some not understood, some of unknown count."""
    rounds: list[ReadRound] = []
    before: int | None = None
    for number in range(1, draw(st.integers(0, 14)) + 1):
        work = draw(works(before)) if before else (("sc", draw(st.integers(1, 30))),)
        count: int | None = sum(USES[kind][1] * n for kind, n in work) or None
        if count and count > 400:
            work, count = (("sc", before or 1),), before
        fate = draw(st.integers(0, 30))
        worked = read_round(number, before, () if fate == 0 else work, None if fate == 1 else count)
        if before and fate == 2:
            worked = replace(worked, left=draw(st.integers(1, before)))
        if fate == 3:
            worked = replace(worked, loops="front", joined=True, turned=True)
        rounds.append(worked)
        before = worked.count or 9
    words = draw(st.sampled_from(["Sew to the Head between rnds 5 and 9, 3 sts", "R0, 8 mm eyes"]))
    remark = Remark(draw(st.integers(0, len(rounds))), RemarkKind.SEW, words, NOWHERE)
    return ReadPart(
        title=draw(st.sampled_from(["Head", "Body", ""])),
        copies=1,
        span=NOWHERE,
        begin=draw(st.sampled_from(list(Begin))),
        rounds=tuple(rounds),
        remarks=(remark,),
        chain=draw(st.integers(0, 9)),
        per_leg=tuple(draw(st.lists(st.integers(1, 20), max_size=3))),
        rows=draw(st.integers(0, 5)) == 0,
        closed=draw(st.booleans()),
    )


GAUGES = st.builds(Gauge.per_10cm, st.floats(5.0, 60.0), st.floats(5.0, 60.0))


@settings(max_examples=120, deadline=None)
@given(
    st.lists(senseless_parts(), min_size=1, max_size=3),
    GAUGES,
    GAUGES,
    st.sampled_from([0.3, 1.0, 2.5]),
    st.sampled_from([0.5, 1.0, 3.0]),
)
def test_patterns_of_no_sense_are_worked_or_refused(
    parts: list[ReadPart], was: Gauge, new: Gauge, scale: float, wide: float
) -> None:
    pattern = pattern_of(*parts)
    figure = figure_of(pattern, was)
    assert bool(figure["data"]) == bool(still_svg_of(pattern, was))
    try:
        made = rework_pattern(
            pattern, Change(was, new, Effort(390), scale=scale, wider={0: wide})
        )
    except RoundlingError as error:
        assert error.asked
        assert error.why
        assert error.nearest
        return
    check_all_workable(pattern, made)
