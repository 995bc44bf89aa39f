"""Parts worked as another with a change: read where the change is clear, else told to be one.

How makers say so is common practice, no source; the words of languages other than English are from
memory. Counts are worked out by hand: the front foot has 5, 9 and five rounds of 9 stitches.
"""

from __future__ import annotations

import pytest

from webapp.reading import Begin, ReadPart, Verdict, read_pattern
from webapp.terms import Language

FRONT = (
    "Front foot (make 2)\nRnd 1: 5 sc in magic ring (5)\nRnd 2: 1 sc, inc x 4 (9)\n"
    "Rnds 3-7: sc around (9)\n\n"
)


def copied(said: str) -> ReadPart:
    """The hind foot that is said to be worked as the front one."""
    front, hind = read_pattern(f"Newt\n\n{FRONT}Hind foot (make 2)\n{said}\n", Language.US).parts
    assert front.counts == (5, *[9] * 6)
    assert hind.copies == 2
    return hind


@pytest.mark.parametrize(
    ("said", "counts"),
    [
        ("Same as front foot, but rounds 3-9: sc around (9)", (5, *[9] * 8)),
        ("Same as front foot, but work rounds 3 - 9 in every stitch.", (5, *[9] * 8)),
        ("Work as the front foot, except in rnd 2: inc x 5 (10), rnds 3-7: sc around (10)",
         (5, *[10] * 6)),
        ("Same as front foot, but rnd 2: inc x 5 (10) and rnds 3-8: sc around (10).",
         (5, *[10] * 7)),
        ("Same as front foot, but rnd 4: 3 sc, inc, dec, 3 sc (9)", (5, *[9] * 6)),
        ("Same as front foot to round 3, but rnd 3: (1 sc, dec) x 3 (6)", (5, 9, 6)),
        ("Same as front foot, but:\nRnds 3-9: sc around (9)", (5, *[9] * 8)),
        ("Same as front foot, with these changes:\nRnd 2: inc x 5 (10)\nRnds 3-4: sc around (10)\n"
         "Rnds 5-7: sc around (10)", (5, *[10] * 6)),
        ("Same as front foot, but rnds 8-9: sc around (9)", (5, *[9] * 8)),
        ("Same as front foot, except rnd 2: inc x 5 (10)\nRnds 3-9: sc around (10)",
         (5, *[10] * 8)),
        # What changes no stitch is no change.
        ("Same as front foot [9 sts].", (5, *[9] * 6)),
        ("Same as front foot (make 2).", (5, *[9] * 6)),
        ("Same as front foot, but in white.", (5, *[9] * 6)),
        ("Same as front foot, but without stuffing.", (5, *[9] * 6)),
        ("Same as front foot, but leave a long tail for sewing.", (5, *[9] * 6)),
        ("Same as front foot. Do not stuff.", (5, *[9] * 6)),
    ],
)  # fmt: skip
def test_a_clear_change_is_worked_out(said: str, counts: tuple[int, ...]) -> None:
    hind = copied(said)
    assert hind.counts == counts
    assert {r.verdict for r in hind.rounds} == {Verdict.AGREES}
    assert hind.begin is Begin.RING


@pytest.mark.parametrize(
    "said",
    [
        "Same as front foot, but two rounds longer.",
        "Same as front foot, a little shorter.",
        "Same as front foot, but with one more round at the end.",
        "Same as front foot. But leave out the increases.",
        "Same as front foot, but leave out round 4.",
        "Same as front foot, but repeat round 4 three more times.",
        "Same as front foot, but rounds 3-5 twice.",
        "Same as front foot, but start with 6 sc.",
        "Same as front foot; work until it is as long as the body.",
        "Same as front foot, half as long.",
        "Same as front foot, but in back loops only.",
        "Same as front foot, but rounds 3-5 in grey.",
        "Same as front foot, but stop after the fifth round.",
        "Same as front foot, but round 4: curl it round a pencil (9)",
        "Same as front foot, but rnds 3-4: sc around (9). Leave out round 7.",
        "Same as front foot, but rnds 9-11: sc around (9)",  # nothing is said of round 8
        "Same as front foot, but rnds 2-9: sc around (9)",  # is round 2 gone, or are all later?
        "Same as front foot.\nRnds 3-9: sc around (9)",  # are they instead, or more?
        "Same as front foot, but:\nWork it all in grey.",
    ],
)
def test_a_change_that_is_not_clear_is_told_to_be_one(said: str) -> None:
    first = copied(said).rounds[0]
    assert first.verdict is Verdict.UNREAD
    assert first.count is None
    assert "Front foot" in first.findings[0]


@pytest.mark.parametrize(
    ("said", "at"),
    [
        ("Same as front foot, but rnd 2: inc x 4 (10), rnds 3-7: sc around (10)", 2),
        ("Same as front foot, but rnd 2: inc x 5 (10); rnd 3: (1 sc, dec) x 3 (6)", 3),
        ("Same as front foot, but rnd 4: (1 sc, dec) x 2 (9)", 4),
        ("Same as front foot, but:\nRnds 3-9: sc around (10)", 3),
    ],
)
def test_a_fault_within_a_change_is_found(said: str, at: int) -> None:
    verdicts = [r.verdict for r in copied(said).rounds]
    assert verdicts[at - 1] is Verdict.DISAGREES
    assert {*verdicts[: at - 1]} == {Verdict.AGREES}


def test_a_part_is_known_by_whatever_it_is_called() -> None:
    told = "Zottel\nRd 1: 5 fM in Fadenring (5)\nRd 2-4: 5 fM (5)\n\nZipfel\n"
    said = "Wie Zottel, aber Rd 2-6: 5 fM (5)\n"
    assert read_pattern(f"Wicht\n\n{told}{said}", Language.GERMAN).parts[-1].counts == (5,) * 6


def test_rounds_behind_other_stitches_are_not_taken_over() -> None:
    """The front foot's rounds were written for 9 stitches; behind 8 they mean nothing."""
    hind = copied("Same as front foot, but rnd 4: 4 sc, dec, 3 sc (8)")
    assert hind.counts[:4] == (5, 9, 9, 8)
    assert [r.verdict for r in hind.rounds[4:]] == [Verdict.UNREAD] * 3
    assert "other stitches" in hind.rounds[4].findings[0]


def test_a_mend_of_a_change_lies_in_its_words() -> None:
    text = f"Newt\n\n{FRONT}Hind foot\nSame as front foot, but rnd 2: inc x 4, 1 sc (8)\n"
    (_, hind) = read_pattern(text, Language.US).parts
    mend = next(r.mend for r in hind.rounds if r.mend is not None)
    assert text[: mend.span.start].endswith("inc x 4, 1 sc (")
    assert text[mend.span.start : mend.span.end] == "8"
    assert mend.replacement == "9"


@pytest.mark.parametrize(
    ("language", "told", "clear", "unclear"),
    [
        ("de", "Vorderbein\nRd 1: 5 fM in Fadenring (5)\nRd 2-4: 5 fM (5)",
         "Wie Vorderbein, aber Rd 2-6: 5 fM (5)", "Wie Vorderbein, nur etwas kürzer."),
        ("fr", "Patte avant\nT1 : 5 ms dans un cercle magique (5)\nT2-4 : 5 ms (5)",
         "Comme la patte avant, sauf les tours 2 à 6 : 5 ms (5)",
         "Comme la patte avant, mais plus longue."),
        ("es", "Pata delantera\nV1: 5 pb en anillo mágico (5)\nV2-4: 5 pb (5)",
         "Igual que la pata delantera, pero las vueltas 2 a 6: 5 pb (5)",
         "Igual que la pata delantera, pero más larga."),
        ("it", "Zampa davanti\nGiro 1: 5 mb in anello magico (5)\nGiri 2-4: 5 mb (5)",
         "Come la zampa davanti, ma giri 2-6: 5 mb (5)", "Come la zampa davanti, ma più lunga."),
        ("pt", "Pata da frente\nCarr 1: 5 pb no anel mágico (5)\nCarr 2-4: 5 pb (5)",
         "Igual à pata da frente, mas carr 2-6: 5 pb (5)", "Igual à pata da frente, mas menor."),
        ("nl", "Voorpoot\nToer 1: 5 v in een magische ring (5)\nToer 2-4: 5 v (5)",
         "Zoals voorpoot, maar toer 2-6: 5 v (5)", "Zoals voorpoot, maar korter."),
        ("da", "Forben\n1. omg: 5 fm i magisk ring (5)\n2.-4. omg: 5 fm (5)",
         "Som forben, men 2.-6. omg: 5 fm (5)", "Som forben, men kortere."),
        ("sv", "Framben\nVarv 1: 5 fm i magisk ring (5)\nVarv 2-4: 5 fm (5)",
         "Som framben, men varv 2-6: 5 fm (5)", "Som framben, men kortare."),
        ("nb", "Framfot\n1. omg: 5 fm i magisk ring (5)\n2.-4. omg: 5 fm (5)",
         "Som framfot, men 2.-6. omg: 5 fm (5)", "Som framfot, men kortere."),
    ],
)  # fmt: skip
def test_other_languages_say_so_too(language: str, told: str, clear: str, unclear: str) -> None:
    heading = told.partition("\n")[0]
    for said, counts in ((clear, (5,) * 6), (unclear, (None,))):
        text = f"{told}\n\n{heading} 2\n{said}\n"
        found = read_pattern(text, Language(language)).parts[-1]
        assert found.counts == counts, said
        assert (found.rounds[0].verdict is Verdict.AGREES) == (said is clear)
