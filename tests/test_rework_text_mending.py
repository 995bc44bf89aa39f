"""Mends are kept where they help, doubts are said, and what could not be read stays as it stood.

The reader here is a small one for lines such as `R3: (sc, inc) x 6 (18)`; it shares no code with
:mod:`webapp.reading`, and offers as a mend any of a few multipliers that makes the count right, or
what a test tells it to.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reader import any_stitches, read_all_kinds
from webapp.reading import (
    Begin,
    Choice,
    Mend,
    ReadGauge,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    RemarkKind,
    Run,
    Span,
    Verdict,
)
from webapp.rework.mending import mended, plain_of
from webapp.rework.writing import written
from webapp.terms import Language
from webapp.yarns import Gauge, Terms, term_set

US = term_set(Terms.US)
LINE = re.compile(r"R(\d+)(?:-(\d+))?: (.*) \((\d+)\)$")
ONES = {"sc": (1, 1), "inc": (1, 2), "dec": (2, 1), "3 sc in one": (1, 3)}
TIMES = re.compile(r"x (\d+)")


def run_lengths(row: list[str]) -> tuple[Run, ...]:
    names = {"3 sc in one": "inc3"}
    runs: list[Run] = []
    for stitch in row:
        kind = names.get(stitch, stitch)
        if runs and runs[-1][0] == kind:
            runs[-1] = (kind, runs[-1][1] + 1)
        else:
            runs.append((kind, 1))
    return tuple(runs)


def small_reader(offers: Callable[[str, int, int], str] | None = None):
    """A reader of parts under capital headings; ``offers`` turns a line's work, what it is worked
    into and its count into the work of a mend ("" for none)."""

    def read(text: str) -> ReadPattern:
        parts: list[ReadPart] = []
        at = 0
        for line_number, line in enumerate(text.splitlines(keepends=True), 1):
            span = Span(at, at + len(line.rstrip()))
            if re.fullmatch(r"[A-Z ]+\n?", line) and line.strip():
                parts.append(ReadPart(line.strip().title(), 1, span, Begin.RING, ()))
            elif line.strip() and parts:
                part = parts[-1]
                new = read_line(line.rstrip(), span, line_number, part.rounds)
                if new:
                    parts[-1] = with_rounds(part, (*part.rounds, *new))
                else:
                    note = Remark(len(part.rounds), RemarkKind.OTHER, line.strip(), span)
                    parts[-1] = ReadPart(**{**part.__dict__, "remarks": (*part.remarks, note)})
            at += len(line)
        return ReadPattern(text, "Toy", Language.US, "", None, tuple(parts))

    def read_line(
        line: str, span: Span, number: int, earlier: tuple[ReadRound, ...]
    ) -> tuple[ReadRound, ...]:
        found = LINE.match(line)
        before = earlier[-1].count or 0 if earlier else 0
        at = len(earlier) + 1
        if not found:
            if not re.match(r"R\d", line):
                return ()
            return (ReadRound(at, "", span, number, 1, Verdict.UNREAD, before, None, None, None),)
        first, last, work, stated = found.groups()
        if " in a magic ring" in work:
            row = any_stitches(work.removesuffix(" in a magic ring"), "sc")
        elif work == "sc around":
            row = ["sc"] * before
        else:
            row = any_stitches(work, "sc")
        takes = sum(ONES[stitch][0] for stitch in row)
        gives = sum(ONES[stitch][1] for stitch in row)
        good = gives == int(stated) and (not before or takes == before)
        mend = None
        if not good and offers is not None:
            better = offers(work, before, int(stated))
            if better:
                start = span.start + found.start(3)
                says = f"{better} instead of {work}"
                mend = Mend(says, Span(start, start + len(work)), better)
        verdict = Verdict.AGREES if good else Verdict.DISAGREES
        findings = () if good else (f"It makes {gives}, not {stated}.",)
        times = int(last or first) - int(first) + 1
        return tuple(
            ReadRound(at + k, f"R{first}", span, number, 1, verdict, before, gives, int(stated),
                      int(stated), run_lengths(row), findings=findings, mend=mend)
            for k in range(times)
        )  # fmt: skip

    return read


def with_rounds(part: ReadPart, rounds: tuple[ReadRound, ...]) -> ReadPart:
    return ReadPart(**{**part.__dict__, "rounds": rounds})


def other_times(work: str, before: int, count: int) -> str:
    """The work with the multiplier that makes it right, if one does."""
    for times in range(1, 40):
        changed = TIMES.sub(f"x {times}", work)
        row = any_stitches(changed, "sc")
        takes = sum(ONES[s][0] for s in row)
        if takes == before and sum(ONES[s][1] for s in row) == count:
            return changed
    return ""


HEAD = """\
HEAD
R1: 6 sc in a magic ring (6)
R2: inc x 6 (12)
R3: (sc, inc) x 8 (18)
R4-5: sc around (18)
Stuff.
R6: (sc, dec) x 6 (12)
"""


def test_a_wrong_multiplier_is_mended_and_said() -> None:
    read = small_reader(other_times)
    got = mended(read(HEAD), US, read)
    assert got.changes == (
        "Head, round 3 (line 4): (sc, inc) x 6 instead of (sc, inc) x 8",
    )
    assert "Rnd 3: (sc, inc) x 6 [18]\nRnds 4-5: sc in each st around [18]\nStuff.\n" in got.text
    assert "please check" not in got.text


@given(st.integers(1, 20).filter(lambda times: times != 6), st.sampled_from([3, 6]))
def test_any_wrong_multiplier_is_mended(times: int, number: int) -> None:
    """The mended text holds the stitches of the right one, whichever line was wrong."""
    lines = HEAD.replace("x 8", "x 6").splitlines(keepends=True)
    at = next(k for k, line in enumerate(lines) if line.startswith(f"R{number}:"))
    lines[at] = TIMES.sub(f"x {times}", lines[at])
    read = small_reader(other_times)
    got = mended(read("".join(lines)), US, read)
    right = mended(read(HEAD.replace("x 8", "x 6")), US, read)
    assert right.changes == ()
    assert got.text == right.text
    assert len(got.changes) == 1


def test_two_mends_in_a_row() -> None:
    read = small_reader(other_times)
    text = HEAD.replace("(sc, dec) x 6", "(sc, dec) x 5")
    got = mended(read(text), US, read)
    assert [change.split(":")[0] for change in got.changes] == [
        "Head, round 3 (line 4)",
        "Head, round 6 (line 7)",
    ]
    ((_, _, rounds),) = read_all_kinds(got.text, "sc")
    assert [r.count for r in rounds] == [6, 12, 18, 18, 18, 12]


def test_a_round_with_no_mend_stays_as_it_stood_and_is_marked() -> None:
    read = small_reader()
    got = mended(read(HEAD), US, read)
    assert "R3: (sc, inc) x 8 (18) [please check: It makes 24, not 18.]" in got.text
    assert "Rnd 3" not in got.text
    assert "Rnds 4-5: sc in each st around [18]" in got.text
    assert got.changes == ("Head, round 3 (line 4): left as it stood, to be checked",)


def test_a_mend_that_does_not_make_its_round_agree_is_not_kept() -> None:
    def wrong(work: str, before: int, count: int) -> str:
        return TIMES.sub("x 7", work)

    read = small_reader(wrong)
    got = mended(read(HEAD), US, read)
    assert "R3: (sc, inc) x 8 (18) [please check:" in got.text
    assert "x 7" not in got.text


def test_a_mend_that_only_moves_the_error_on_is_not_kept() -> None:
    """R3 would agree with 24 stitches, but then R4-5 would be wrong."""

    def read(text: str) -> ReadPattern:
        pattern = small_reader()(text)
        rounds = list(pattern.parts[0].rounds)
        wrong = rounds[2]
        if wrong.verdict is Verdict.DISAGREES:
            at = text.index("(18)") + 1
            rounds[2] = ReadRound(
                **{**wrong.__dict__, "mend": Mend("24", Span(at, at + 2), "24")}
            )
        else:
            rounds[3:5] = [
                ReadRound(**{**r.__dict__, "verdict": Verdict.DISAGREES}) for r in rounds[3:5]
            ]
        part = with_rounds(pattern.parts[0], tuple(rounds))
        return ReadPattern(**{**pattern.__dict__, "parts": (part,)})

    text = HEAD.replace("R3: (sc, inc) x 8", "R3: inc x 12")
    got = mended(read(text), US, read)
    assert "R3: inc x 12 (18) [please check:" in got.text
    assert got.changes == ("Head, round 3 (line 4): left as it stood, to be checked",)


def test_a_line_that_was_not_read_stays_as_it_stood() -> None:
    text = HEAD.replace("x 8", "x 6").replace("R4-5: sc around (18)", "R4: puff all round")
    read = small_reader(other_times)
    got = mended(read(text), US, read)
    assert "\nRnd 3: (sc, inc) x 6 [18]\nR4: puff all round\nStuff.\n" in got.text
    assert "could not be read" in got.text
    assert got.changes == ()


def test_rounds_that_share_an_unread_line_keep_it_once() -> None:
    read = small_reader()
    text = HEAD.replace("x 8", "x 6").replace("R4-5: sc around (18)", "R4-5: (sc, inc) x 9 (18)")
    got = mended(read(text), US, read)
    assert got.text.count("R4-5: (sc, inc) x 9 (18) [please check:") == 1
    assert got.changes == ("Head, rounds 4-5 (line 5): left as it stood, to be checked",)


def one_round(verdict: Verdict, **more: object) -> ReadPattern:
    text = "1. 6 sc\n"
    r = ReadRound(1, "1.", Span(0, 7), 1, 1, verdict, 0, 6, None, 6, (("sc", 6),), **more)
    part = ReadPart("", 1, Span(0, 7), Begin.RING, (r,))
    gauge = ReadGauge(22.0, None, Span(0, 0))
    return ReadPattern(text, "", Language.US, "", gauge, (part,))


def test_choices_and_what_was_assumed_are_said() -> None:
    """1.05 rounds a stitch lies in the middle of the toy gauges (webapp.yarns.categories)."""
    choice = Choice("6 single crochet", "6 increases", 12)
    pattern = one_round(Verdict.CHOICE, choices=(choice,))
    plain, changes = plain_of(pattern, lambda text: pattern)
    assert changes == (
        "Part, round 1 (line 1): read as 6 single crochet, not as 6 increases",
        "Gauge: no rounds were stated; 23.1 in 10 cm are taken, as is usual",
    )
    assert plain.gauge is not None
    assert plain.gauge.rounds_per_10cm == pytest.approx(23.1)
    assert "PART (make 1)\nRnd 1: 6 sc in a magic ring [6]\n" in written(plain, US)


def test_a_gauge_from_outside_is_used_only_where_none_is_stated() -> None:
    pattern = one_round(Verdict.AGREES)
    given_gauge = Gauge.per_10cm(30, 30)
    stated, _ = plain_of(pattern, lambda text: pattern, given_gauge)
    none = ReadPattern(**{**pattern.__dict__, "gauge": None})
    unstated, _ = plain_of(none, lambda text: none, given_gauge)
    assert stated.gauge is not None
    assert stated.gauge.stitches_per_10cm == pytest.approx(22.0)
    assert unstated.gauge == given_gauge
