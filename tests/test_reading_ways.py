"""Texts in ways of few designers: words of their own, tables, other parts named.

The counts beside each text are sums of its stitches, added up by hand; that `V = 2 sc in one
stitch` makes two of one, and that a bobble is one stitch of the count: common practice, no source.
"""

from __future__ import annotations

import pytest

from webapp.reading import ReadPattern, Verdict, read_pattern

BALL = """Body
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc, inc) x 6 (18)
Rnd 4: sc around (18)
"""


def counts(read: ReadPattern) -> list[list[int | None]]:
    return [list(part.counts) for part in read.parts]


def sure(read: ReadPattern) -> bool:
    return all(r.verdict is Verdict.AGREES for part in read.parts for r in part.rounds)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        # A key of one's own: plain, two of one, two together, three of one.
        (
            "Q = single crochet\nV = 2 sc in one st\nZ = sc2tog\nT: 3 sc in one st\n\nBody\n"
            "R1: 6Q in MR (6)\nR2: 6V (12)\nR3: (Q, V) x 6 (18)\nR4: (Q, Z) x 6 (12)\n"
            "R5: T, 11Q (14)\n",
            [6, 12, 18, 12, 14],
        ),
        # A table that lost its rules.
        (
            "Body\n1 6 sc in magic ring 6\n2 inc x 6 12\n3 (sc, inc) x 6 18\n4-6 sc around 18\n",
            [6, 12, 18, 18, 18, 18],
        ),
        # Columns named by their head, one of them no work.
        (
            "Rnd;Colour;Work;Sts\n1;red;6 sc in magic ring;6\n2;red;inc x 6;12\n"
            "3-4;blue;sc around;12\n",
            [6, 12, 12, 12],
        ),
        # Rounds that are not alike, said by where they end.
        (
            "Body\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n"
            "Continue in this way, increasing evenly in every round, until you have 30 sts.\n"
            "Rnd 6: sc around (30)\n",
            [6, 12, 18, 24, 30, 30],
        ),
        # No dash parts labels here, so this one says rounds 4 to 8 (8 stitches would do as well).
        (
            "Paw\nR1 4 sc in magic ring (4)\nR2 inc x 4 (8)\nR3 sc around (8)\nR4-8 sc (8)\n"
            "fasten off\n\nTail\nR1 4 sc in magic ring (4)\nR2 sc around (4)\n",
            [4, 8, 8, 8, 8, 8, 8, 8],
        ),
    ],
)
def test_a_text_is_read(text: str, meant: list[int]) -> None:
    read = read_pattern(text)
    assert counts(read)[0] == meant
    assert sure(read)


@pytest.mark.parametrize(
    ("words", "more"),
    [
        ("Left ear\nSame as body.\n", [6, 12, 18, 18]),
        ("Belly\nRnds 1-3: as body.\nRnd 4: (sc, dec) x 6 (12)\n", [6, 12, 18, 12]),
        ("Belly\nWork as the body to round 3.\nRnd 4: (sc, dec) x 6 (12)\n", [6, 12, 18, 12]),
        ("Belly\nR1-3: repeat R1-3 of the body [18]\nR4: sc around [18]\n", [6, 12, 18, 18]),
    ],
)
def test_a_part_that_names_another_has_its_rounds(words: str, more: list[int]) -> None:
    read = read_pattern(f"{BALL}Fasten off.\n\n{words}")
    assert counts(read) == [[6, 12, 18, 18], more]
    assert sure(read)


def test_changes_to_another_part_are_not_guessed() -> None:
    read = read_pattern(f"{BALL}Fasten off.\n\nLeft ear\nSame as body, but 9 sc in the ring.\n")
    assert [r.verdict for r in read.parts[1].rounds] == [Verdict.UNREAD]


def test_a_range_whose_work_is_not_known_is_not_read_as_even() -> None:
    read = read_pattern("Belly\nRnds 1-4: repeat rnds 1-4 of the lid (18)\nRnd 5: sc around (18)\n")
    assert {r.verdict for r in read.parts[0].rounds[:4]} == {Verdict.UNREAD}


def test_a_bobble_is_one_stitch_and_said_to_be_a_choice() -> None:
    read = read_pattern(f"{BALL}Rnd 5: (2 sc, bobble) x 6 (18)\n")
    last = read.parts[0].rounds[-1]
    assert (last.verdict, last.count) == (Verdict.CHOICE, 18)


# Behind a round whose stitches make 21 and whose count says 18, a round without a count is either.
@pytest.mark.parametrize(
    ("doubtful", "settled"),
    [
        ("Rnd 4: sc around", "Rnd 4: sc around (21)"),
        ("Rnd 4: sc around. Stuff.", "Rnd 4: sc around (21). Stuff."),
        ("Rnds 4-6: sc around, in grey", "Rnds 4-6: sc around (21), in grey"),
        ("Rnd 4: (1 sc, dec) around", "Rnd 4: (1 sc, dec) around (14)"),
        ("Rnd 4: (1 sc, inc, 1 sc) around", "Rnd 4: (1 sc, inc, 1 sc) around (28)"),
    ],
)
def test_a_choice_is_settled_by_the_count_of_the_other_reading(doubtful: str, settled: str) -> None:
    before = BALL.replace("x 6 (18)\nRnd 4: sc around (18)", "x 7 (18)")
    text = f"{before}{doubtful}\n"
    found = read_pattern(text).parts[0].rounds[3]
    assert found.verdict is Verdict.CHOICE
    assert found.other is not None
    span = found.other.span
    after = f"{text[: span.start]}{found.other.replacement}{text[span.end :]}"
    assert after == f"{before}{settled}\n"
    again = read_pattern(after).parts[0].rounds[3:]
    assert {r.verdict for r in again} == {Verdict.AGREES}
    assert str(again[-1].count) in settled


def test_a_reading_that_is_not_told_of_is_not_offered() -> None:
    """Said once, or repeated to the end; an increase in every stitch fits too, and is no part of
    the choice."""
    last = read_pattern(f"{BALL}Rnd 5: 2 sc, inc\n").parts[0].rounds[-1]
    assert (last.verdict, last.count) == (Verdict.CHOICE, 24)
    assert [choice.other_count for choice in last.choices] == [4]
    assert last.other is None


def test_a_choice_that_no_count_settles_offers_none() -> None:
    last = read_pattern(f"{BALL}Rnd 5: (2 sc, bobble) x 6\n").parts[0].rounds[-1]
    assert (last.verdict, last.other) == (Verdict.CHOICE, None)


# A count fits both witnesses: 18 are taken up and 12 made with `2 sc` into one stitch, as with one
# skipped and two plain; without the count it is a choice.
@pytest.mark.parametrize(
    ("line", "verdict"),
    [
        ("Rnd 5: (sk 1, 2 sc) x 6 (12)", Verdict.AGREES),
        ("Rnd 5: (sk 2, 2 sc) x 6 (12)", Verdict.AGREES),
        ("Rnd 5: (sk 2, 2 sc) x 6", Verdict.CHOICE),
        ("Rnd 5: (sk 2, sc in next 2 sts) x 6 (12)", Verdict.DISAGREES),
        ("Rnd 5: (sk 2, 2 sc) x 5 (12)", Verdict.DISAGREES),
    ],
)
def test_skipped_stitches_are_settled_by_those_taken_up(line: str, verdict: Verdict) -> None:
    assert read_pattern(f"{BALL}{line}\n").parts[0].rounds[-1].verdict is verdict


@pytest.mark.parametrize(
    ("heading", "copies"),
    [
        ("LEGS (4 alike)", 4),
        ("LEGS (make one in red, one in green)", 2),
        ("LEGS (2 big and 2 small)", 4),
        ("Legs - two", 2),
        ("LEGS: I do six.", 6),
        ("LEG | 2x | blue", 2),
    ],
)
def test_copies_are_read(heading: str, copies: int) -> None:
    read = read_pattern(f"{BALL}\n{heading}\nRnd 1: 5 sc in magic ring (5)\nRnd 2: sc around (5)\n")
    assert [part.copies for part in read.parts] == [1, copies]


@pytest.mark.parametrize("end", ["Rnd 5).", "rnd 5)", "Rnd 5), and pin it first."])
def test_a_round_named_within_brackets_is_none_where_the_line_is_folded(end: str) -> None:
    """A line for sewing that goes on below with the round it counts on."""
    read = read_pattern(f"{BALL}\nTail: sew to the body, 6 sts apart (counted on\n{end}\n")
    assert counts(read)[0] == [6, 12, 18, 18]
    assert sum(len(part.rounds) for part in read.parts) == 4
    assert sure(read)


def test_a_numbered_round_below_an_open_bracket_is_one() -> None:
    """Somebody forgot to close a bracket; the round below it is worked."""
    text = BALL.replace("Rnd 4: ", "Use a marker (any colour\nRnd 4) ")
    assert counts(read_pattern(text)) == [[6, 12, 18, 18]]


@pytest.mark.parametrize(("count", "agrees"), [(17, True), (18, True), (16, False)])
def test_chains_that_begin_a_round_are_a_space_or_its_height(count: int, agrees: bool) -> None:
    """Behind a join the chain only takes the round up and is not counted (common practice, no
    source), or it spans the stitch that is left: the count says which."""
    read = read_pattern(
        f"{BALL}Rnd 5: ch 1, sk 1 st, sc in next 17 sts, join with sl st to first sc ({count})\n"
    )
    assert (read.parts[0].rounds[-1].verdict is Verdict.AGREES) is agrees
