"""Ways of setting a text down that differ from hand to hand: several rounds a line, no labels,
cells parted by commas, pages that cut a round in two, keys on one line.

Common practice, no source. Every text is composed, and its counts are worked out by hand.
"""

from __future__ import annotations

import pytest

from webapp.reading import ReadPart, Verdict, read_pattern
from webapp.terms import Language

ALL_AGREE = {Verdict.AGREES}


def parts_of(text: str, language: Language = Language.US) -> list[ReadPart]:
    return [part for part in read_pattern(text, language).parts if part.rounds]


def counts_of(text: str, language: Language = Language.US) -> list[list[int | None]]:
    """The counts of each part; all rounds agree."""
    parts = parts_of(text, language)
    assert {r.verdict for part in parts for r in part.rounds} == ALL_AGREE
    return [list(part.counts) for part in parts]


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        (
            "HEAD: R1 6 sc in mr (6); R2 inc all (12); R3-5 sc all (12); stuff; R6 dec all (6).",
            [6, 12, 12, 12, 12, 6],
        ),
        (
            "head\n6 sc in mr\n6 inc = 12\n12 sc\n12 sc\n(4 sc, inc) x 2, 2 sc = 14\n14 sc\n",
            [6, 12, 12, 12, 14, 14],
        ),
        (
            "Head\nRound One: 6 sc in a magic ring. (6)\nRound Two: inc in every stitch. (12)\n"
            "Round Three: sc in every stitch. (12)\nRound Four: the same as Round Three.\n",
            [6, 12, 12, 12],
        ),
        (
            "Head\n[ ] #1 6 sc in MR = 6\n[ ] #2 inc x6 = 12\n[x] #3-4 sc12 = 12\n"
            "[ ] #5 dec x6 = 6\n",
            [6, 12, 12, 12, 6],
        ),
        ("# Head\n\n### Round 1\n6 sc in MR (6)\n\n### Rounds 2-3\nsc in each st (6)\n", [6, 6, 6]),
        (
            "Head\nR1: 6 sc in mr (6)\nR2: inc x6 (12)\nR3, R4, R5: 12 sc (12)\n"
            "R6/7/8: 12 sc (12)\nR9. - R10. 12 sc (12)\n",
            [6, *[12] * 9],
        ),
        (
            "Head\nRnd 1: 6 sc in MR. 6 sc.\nRnd 2: 2 sc in each sc around. 12 sc.\n"
            "Rnd 3: 1 sc in each sc around. 12 sc.\nRep last rnd 4 times more.\n"
            "Rnd 8: (Sc2tog) around. 6 sc.\n",
            [6, *[12] * 6, 6],
        ),
        (
            "Part,Round,Stitches,Total\nHead,1,6 sc in MR,6\nHead,2,inc x 6,12\n"
            'Head,3,"(sc, inc) x 6",18\nHead,4-5,sc around,18\n',
            [6, 12, 18, 18, 18],
        ),
        (
            "HEAD\nRound 1. 6 sc in magic ring. (6)\nRound 2. 2 sc in each st. (12)\n"
            "Rounds 3-4. Single crochet in each stitch\nBertram Badger\nPage 3 of 6\n"
            "around. (12)\nBertram Badger\nPage 4 of 6\nRound 5. Sc2tog around. (6)\n",
            [6, 12, 12, 12, 6],
        ),
        (
            "Bun\n6 sc in mr (6)\n6 inc (12)\n(sc, inc) x 6 (18)\n18\n18\n(sc, dec) x 6 (12)\n",
            [6, 12, 18, 18, 18, 12],
        ),
        (
            "Alien\n-Head-\nR1 - mr, 6 sc -6-\nR2 - inc*6 -12-\nR3-R5 - sc all -12-\n",
            [6, 12, 12, 12, 12],
        ),
        (
            "Toad\nHead\nstart: 6 sc into a magic circle\n2: inc in each (12)\n3: sc (12)\n",
            [6, 12, 12],
        ),
        (
            "Head\nIn the first round, work 6 sc into a magic ring. (6 stitches)\n"
            "In the second round, work 2 sc into every stitch. (12 stitches)\n"
            "In rounds three to five, work 1 sc into every stitch. (12 stitches)\n",
            [6, 12, 12, 12, 12],
        ),
        (
            "Key: y = increase; z = decrease; sc = single crochet\n\nHead\nR1: 6 sc in MR (6)\n"
            "R2: y x 6 (12)\nR3: (sc, y) x 6 (18)\nR4: (sc, z) x 6 (12)\n",
            [6, 12, 18, 12],
        ),
    ],
)
def test_rounds_are_found_however_they_are_set_down(text: str, counts: list[int]) -> None:
    assert counts_of(text)[0] == counts


def test_lines_that_go_on_below_do_not_take_in_a_heading_in_small_letters() -> None:
    text = (
        "head: white\n1. 6sc mr 6\n2. 6inc 12\n3. 12sc\n"
        "leg: beige x4\n1. 5sc mr 5\n2. 5inc 10\n3. 10sc\n"
    )
    assert counts_of(text) == [[6, 12, 12], [5, 10, 10]]
    assert [part.copies for part in parts_of(text)] == [1, 4]


@pytest.mark.parametrize(
    ("said", "copies"),
    [
        ("Make the second leg the same way, but do not fasten off.", 2),
        ("Fasten off. Work a second leg, do not fasten off.", 2),
        ("The other leg is worked in the same way.", 2),
        ("Sew the second leg three stitches apart.", 1),
        ("The second arm is worked in the same way.", 1),
    ],
)
def test_a_second_piece_made_alike_is_a_copy(said: str, copies: int) -> None:
    text = f"Legs\nRnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)\nRnds 3-5: sc around (12)\n{said}\n"
    assert parts_of(text)[0].copies == copies


@pytest.mark.parametrize(
    ("heading", "copies"),
    [("2. WING (black, 2 pcs)", 2), ("wings x2 w/ blue", 2), ("Wings (4 in white)", 4)],
)
def test_headings_say_their_copies(heading: str, copies: int) -> None:
    text = f"{heading}\nRnd 1: 6 sc in MR (6)\nRnd 2: (sc, inc) x 3 (9)\n"
    part = parts_of(text)[0]
    assert (part.copies, "wing" in part.title.lower()) == (copies, True)


def test_a_total_in_words_is_a_witness() -> None:
    text = "Head\nRnd 1: 6 sc in MR. Total stitches: 6.\nRnd 2: inc around. Total stitches: 13.\n"
    wrong = parts_of(text)[0].rounds[1]
    assert (wrong.verdict, wrong.gives, wrong.stated) == (Verdict.DISAGREES, 12, 13)


def test_a_decrease_over_the_next_two_is_no_stitch_besides() -> None:
    """30 stitches in fives make 24; as a stitch and a decrease they would make 25."""
    text = (
        "Head\nRnd 1: 30 sc in ring (30)\n"
        "Rnd 2: *Sc in each of next 3 sc, sc next 2 sc together, repeat from * around. (25 sts)\n"
    )
    assert parts_of(text)[0].rounds[1].verdict is Verdict.DISAGREES


@pytest.mark.parametrize("said", ["(18) sc x19", "(18) sc, skip the rest", "(18) 19 sc"])
def test_stitches_behind_a_count_are_not_passed_over(said: str) -> None:
    hat = "Hat\nRnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\n"
    text = f"{hat}Rnd 4: {said}\n"
    assert parts_of(text)[0].rounds[3].verdict is not Verdict.AGREES


def test_unknown_words_with_one_witness_are_never_sure() -> None:
    """The stitches are worked into something that is not known, so a count alone vouches."""
    text = (
        "Hat\nRnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\n\n"
        "FACE: pick up from the inside of the hat\nRnd 1: 18 sc into the loops behind the sl sts"
    )
    for count in (17, 18, 19, 24):
        rounds = parts_of(f"{text} ({count})\n")[-1].rounds
        assert rounds[0].verdict is not Verdict.AGREES


def test_a_row_of_a_table_whose_change_makes_another_count_is_mended() -> None:
    """24 less 6 are 18; the row below has 18 as well."""
    text = "胴体\n段　目数　増減\n1　6　わの中に\n2　12　＋6\n3　18　＋6\n4　24　＋6\n"
    found = parts_of(f"{text}5　20　−6\n6　18　増減なし\n", Language.JAPANESE)[0].rounds[4]
    assert (found.verdict, found.gives) == (Verdict.DISAGREES, 18)
    assert found.mend is not None
    assert found.mend.replacement == "18"


@pytest.mark.parametrize(
    ("language", "text", "counts"),
    [
        (
            Language.FRENCH,
            "Tête\nTour 1 : 6 ms dans un cercle magique (6)\nTour 2 : 6 aug (12)\n"
            "Tour 3 : augmenter 1 maille sur 2 (18)\n",
            [6, 12, 18],
        ),
        (
            Language.PORTUGUESE,
            "Corpo\nVolta 1: 6 mb no anel mágico (6 m)\nVolta 2: 2 mb em cada malha (12 m)\n"
            "Volta 3: *1 mb, 2 mb na malha seguinte*, repetir 6 vezes (18 m)\n",
            [6, 12, 18],
        ),
        (
            Language.SPANISH,
            "Concha\n1. 6 p.b. en círculo mágico (6 p.)\n2. 2 p.b. en cada p. (12 p.)\n"
            "3. *1 p.b., 2 p.b. en el sig. p.* repetir 6 veces (18 p.)\n",
            [6, 12, 18],
        ),
        (
            Language.JAPANESE,
            "頭\n1段目　わに細編み6目（6目）\n2段目　1目に2目ずつ編み入れ、12目にする。\n"
            "3段目　1目おきに増し目をして18目にする。\n"
            "4段目　（1目編んで2目一度）を6回、12目にする。\n",
            [6, 12, 18, 12],
        ),
    ],
)
def test_other_tongues(language: Language, text: str, counts: list[int]) -> None:
    assert counts_of(text, language)[0] == counts
    assert read_pattern(text).language is language
