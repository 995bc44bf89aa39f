"""Rounds said by others: `repeat rounds 3 and 4`, a leg made once more, all round a leg.

The texts are composed here; the counts are worked out by hand. That makers write so: common
practice, no source.
"""

from __future__ import annotations

from webapp.reading import Begin, Verdict, read_pattern

LEG = "Leg\nRnd 1: 6 sc in MR (6)\nRnd 2: inc x6 (12)\nRnd 3: sc around (12)\n"


def test_two_rounds_are_repeated_five_times() -> None:
    text = LEG + "Rnd 4: BLO sc around (12)\nRepeat rounds 3 and 4 five times.\n"
    text += "Rnd 15: dec x6 (6)\n"
    (part,) = read_pattern(text).parts
    assert part.counts == (6, 12, *[12] * 12, 6)
    assert {r.verdict for r in part.rounds} == {Verdict.AGREES}
    assert [r.loops for r in part.rounds[4:8]] == ["", "back", "", "back"]


def test_repeated_rounds_are_worked_into_what_is_there() -> None:
    """The count beside the repeat is held against them, not the count of the first time."""
    text = LEG + "Rnd 4: (sc, inc) x 6 (18)\nRnds 5-6: repeat rnds 3-4 ({})\n"
    (right,) = read_pattern(text.format(27)).parts
    assert right.counts[:4] == (6, 12, 12, 18)
    assert right.rounds[-1].verdict is Verdict.DISAGREES  # six increases take up 12 of 18
    same = LEG + "Rnds 4-5: repeat rnds 3-3 (12)\n"
    assert all(r.count == 12 for r in read_pattern(same).parts[0].rounds[1:])


def test_a_leg_once_more_is_another_copy() -> None:
    text = LEG + "Repeat rounds 1-3 for the other leg.\n\nBody\nRnd 4: 24 sc around (24)\n"
    leg = read_pattern(text).parts[0]
    assert leg.copies == 2
    assert leg.counts == (6, 12, 12)


def test_all_round_a_leg_are_its_stitches() -> None:
    """Twelve of each leg and two chains from both sides are 28."""
    text = LEG.replace("Leg", "Leg (make 2)") + (
        "\nBody\nRnd 4: ch 2, sc around leg 1, 2 sc in ch, sc around leg 2, 2 sc in ch ({})\n"
    )
    body = read_pattern(text.format(28)).parts[-1]
    assert body.begin is Begin.LEGS
    assert (body.rounds[0].verdict, body.counts) == (Verdict.AGREES, (28,))
    wrong = read_pattern(text.format(26)).parts[-1].rounds[0]
    assert wrong.verdict is Verdict.DISAGREES


def test_the_next_six_rounds_are_six() -> None:
    text = "Head\nRnd 1: 6 sc in MR (6)\nNext round: inc x6 (12)\nNext six rounds: sc around (12)\n"
    (part,) = read_pattern(text).parts
    assert part.counts == (6, 12, *[12] * 6)
