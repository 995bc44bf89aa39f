"""Remarks led after their rounds: numbers, neighbours, other parts, lengths, eyes; words stay."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from tests.readings import NOWHERE, pattern_of, read_part
from webapp.reading import Remark, RemarkKind
from webapp.rework.moving import Moves, moved_text, offset_of
from webapp.rework.reworking import Change, rework_pattern
from webapp.rounds import Effort
from webapp.terms import Language
from webapp.yarns import Gauge

# Each round became one a half as far up again: 2 -> 3, 4 -> 6, 11 -> 16 (from 16.5, to even).
OWN = Moves(tuple(round(1.5 * n) for n in range(1, 31)), 2.0, 1.5)
HEAD = Moves(tuple(3 * n for n in range(1, 31)), 3.0, 1.5)
SAME = Moves(tuple(range(1, 31)), 1.0, 1.0)


def moved(text: str, own: Moves = OWN) -> str:
    return moved_text(text, own, {"Body": OWN, "Head": HEAD}, Language.US)[0]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Eyes between rnds 11 and 12, 7 sts apart.", "Eyes between rnds 16 and 17, 14 sts apart."),
        ("Stuff between Rnds 4-8.", "Stuff between Rnds 6-12."),
        ("Mark round 10, the eyes go there.", "Mark round 15, the eyes go there."),
        ("Mark the 2nd round.", "Mark the 3rd round."),
        ("Between the 20th and 21st rounds", "Between the 30th and 31st rounds"),
        ("Sew on at R6", "Sew on at R9"),
        ("Rows 2 to 10, 3 stitches to the left", "Rows 3 to 15, 6 stitches to the left"),
        ("(rnd 8)", "(rnd 12)"),
        ("Leave a 20 cm tail.", "Leave a 30 cm tail."),
        ("leave 2.5cm open, 6 sts", "leave 3.8cm open, 12 sts"),
        ('a tail of 8"', 'a tail of 12"'),
        ("a tail of 15-20 cm", "a tail of 22-30 cm"),
    ],
)
def test_numbers_of_rounds_stitches_and_lengths_move(text: str, wanted: str) -> None:
    assert moved(text) == wanted


@pytest.mark.parametrize(
    "text",
    [
        "Stuff firmly, only the lower half.",
        "Change to brown.",
        "Use a 2.5 mm hook.",
        "Make 2 of these.",
        "Fasten off, leave a long tail for sewing.",
        "",
    ],
)
def test_other_words_stay(text: str) -> None:
    assert moved_text(text, OWN, {}, Language.US) == (text, ())


def test_eyes_go_to_the_nearest_size_sold() -> None:
    # 8 mm x 1.5 = 12 mm, sold; 9 x 1.5 = 13.5: 14 is sold and 13 is not. Sizes of safety eyes in
    # shops, 3 to 30 mm, as webapp/materials/eyes.py has them.
    assert moved("Place 8 mm safety eyes.") == "Place 12 mm safety eyes."
    assert moved("9mm eyes") == "14mm eyes"


def test_rounds_of_the_part_that_is_named_move_with_that_part() -> None:
    sewn = moved("Sew to the head between rnds 5 and 9.")
    assert sewn == "Sew to the head between rnds 15 and 27."
    assert moved("Sew the ears at round 4 of the head.") == "Sew the ears at round 12 of the head."
    assert moved("Sew on the head at round 4.") == "Sew on the head at round 12."
    assert moved("Sew the arms on at round 4.") == "Sew the arms on at round 6."


def test_what_cannot_be_told_stays_and_is_said() -> None:
    parts = {"Body": OWN, "Head": HEAD}
    text, says = moved_text("Sew the ears at round 4.", None, parts, Language.US)
    assert text == "Sew the ears at round 4."
    assert says == ("“round 4” stays as it was: of which part it is cannot be told.",)
    text, says = moved_text("Eyes at round 99.", OWN, parts, Language.US)
    assert text == "Eyes at round 99."
    assert "no part that may be meant has such a round" in says[0]


def test_a_part_is_sewn_to_another_and_not_to_itself() -> None:
    parts = {"Ear": OWN, "Head (light brown)": HEAD}
    # The only other part; named; named as what is sewn on.
    for text, wanted in (
        ("Sew on between rnds 5 and 9.", "Sew on between rnds 15 and 27."),
        ("Sew to the head at round 5.", "Sew to the head at round 15."),
    ):
        assert moved_text(text, OWN, parts, Language.US, sewn=True)[0] == wanted
    text = moved_text("Sew the ear on at round 5.", HEAD, parts, Language.US, sewn=True)[0]
    assert text == "Sew the ear on at round 15."
    # Of three parts two may be meant, and do not agree.
    three = parts | {"Body": SAME}
    text, says = moved_text("Sew on at rnd 5.", OWN, three, Language.US, sewn=True)
    assert text == "Sew on at rnd 5."
    assert "cannot be told" in says[0]


def test_legs_that_are_joined_have_the_counts_they_are_joined_with() -> None:
    body = Moves(tuple(range(1, 20)), 0.7, 1.0, 0, {12: 9, 3: 2})
    text = "From the second leg chain 3, 12 sc on the first leg, 3 sc over the chain."
    wanted = "From the second leg chain 2, 9 sc on the first leg, 2 sc over the chain."
    assert moved_text(text, body, {"Body": body}, Language.US)[0] == wanted


@pytest.mark.parametrize(
    "text", ["inc: 2 sc in one st", "inc = 2 sc in the same st", "dec: 2 sts together"]
)
def test_what_a_stitch_is_does_not_change(text: str) -> None:
    assert moved_text(text, OWN, {"Body": OWN}, Language.US) == (text, ())
    assert moved_text(text, None, {"Body": OWN}, Language.US) == (text, ())


def test_each_change_is_said() -> None:
    _, says = moved_text("Eyes at round 10, 7 sts apart, 8 mm.", OWN, {}, Language.US)
    assert says == (
        "“round 10” is now “round 15”.",
        "“7 sts” is now “14 sts”.",
        "“8 mm” is now “12 mm”.",
    )


def test_at_the_same_gauge_and_size_nothing_is_changed() -> None:
    for text in ("Eyes between rnds 11 and 12, 7 sts apart, 8 mm.", "Leave a 20 cm tail."):
        assert moved_text(text, SAME, {}, Language.US) == (text, ())


def test_neighbours_stay_neighbours_in_fewer_rounds() -> None:
    fewer = Moves((1, 1, 2, 2, 3, 3), 0.5, 1.0)
    assert moved("Eyes between rounds 3 and 4.", fewer) == "Eyes between rounds 2 and 3."
    assert moved("Eyes between rounds 5 and 6.", fewer) == "Eyes between rounds 2 and 3."


def test_labels_that_go_on_counting_are_led_by_their_part() -> None:
    part = read_part([6, 12, 18])
    rounds = tuple(replace(r, label=f"Rnd {r.number + 30}") for r in part.rounds)
    assert offset_of(rounds) == 30
    on = Moves((2, 4, 6), 1.0, 1.0, 30)
    assert moved("Stuff after rnd 32.", on) == "Stuff after rnd 4."


def test_remarks_stand_after_the_round_they_stood_after() -> None:
    eyes = Remark(4, RemarkKind.EYES, "Eyes between rnds 3 and 4, 6 sts apart.", NOWHERE)
    head = read_part([6, 12, 18, 24, 24, 24, 18, 12, 6], closed=True, title="Head", remarks=(eyes,))
    made = rework_pattern(
        pattern_of(head), Change(Gauge(3.0, 3.0), Gauge(3.0, 3.0), Effort(1080), scale=2.0)
    )
    (plain,), (became,) = made.pattern.parts, made.parts
    # Twice as many rounds: half as far apart, each is twice as far up; twice the stitches.
    assert plain.remarks[0].after == became.rounds[3]
    assert became.rounds[3] == pytest.approx(8, abs=1)
    three, four = became.rounds[2], became.rounds[2] + 1
    assert plain.remarks[0].text == f"Eyes between rnds {three} and {four}, 12 sts apart."
    assert made.notes[0].startswith("Head: “rnds 3 and 4” is now")


@pytest.mark.parametrize(
    "piece", ["and 1 ", "1st and ", "to the ", "5-", "1 sts in the ", "5 cm eyes. "]
)
def test_long_words_of_no_sense_take_no_long_time(piece: str) -> None:
    # 60,000 characters in a fraction of a second; a search that starts again at each takes hours.
    start = time.perf_counter()
    moved("rnds 1 " + piece * (60_000 // len(piece)))
    assert time.perf_counter() - start < 10.0
