"""Characters made plain: each hazard, what is said of it, and the way back to the original."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.reading.typography import clean

# The left column writes the hazards of scanned and copied patterns (common practice, no source)
# with the code points Unicode gives them; the right column is what a typist would have typed.
HAZARDS = [
    ("Rnds 4–7", "Rnds 4-7", "dashes"),
    ("R3 — sc", "R3 - sc", "dashes"),
    ("5 − 3", "5 - 3", "dashes"),
    ("“Bun” and ‘ear’", "\"Bun\" and 'ear'", "quotes"),
    ("6\u00a0sc", "6 sc", "spaces"),
    ("6\u2009sc\u3000(6)", "6 sc (6)", "spaces"),
    ("in\u00adcrease", "increase", "invisible"),
    ("6\u200b sc\ufeff", "6 sc", "invisible"),
    ("ﬁnish oﬀ ﬂat", "finish off flat", "joined letters"),
    ("６ｓｃ", "6sc", "wide"),
    ("(3 sc, inc) × 6", "(3 sc, inc) x 6", "multiplication"),
    ("(3 sc, inc) х6", "(3 sc, inc) x6", "sign of times"),
    ("12 → 18", "12 -> 18", "arrows"),
    ("İNC in RİNG, ınc", "INC in RING, inc", "Turkish"),
    ("sс, іnc, rоw", "sc, inc, row", "look-alike"),
    ("ѕc ΙNC", "sc INC", "look-alike"),
    ("Rl: 6 sc", "R1: 6 sc", "number of a round"),
    ("R7-R1O: sc", "R7-R10: sc", "number of a round"),
    ("Rll: sc", "R11: sc", "number of a round"),
    ("R5: 245C", "R5: 24SC", "5C"),
    ("(25C, DEC) x 6", "(2SC, DEC) x 6", "5C"),
    ("l2 sc", "12 sc", "among figures"),
    ("(3O)", "(30)", "among figures"),
    ("sc in nexl 12 sts", "sc in next 12 sts", "nexl"),
    ("the fi rst st", "the first st", "gap after fi"),
    ("Stuff fi rmly", "Stuff firmly", "gap after fi"),
    ("(sc, inc> x 6", "(sc, inc) x 6", "closing brackets"),
    ("(4SC, DEC) 8 3 (15)", "(4SC, DEC) * 3 (15)", "number of times"),
    ("6 sc **(6)**", "6 sc (6)", "bold"),
    ("7 ’NC (14)", "7 INC (14)", "apostrophes"),
    ("(3 SC, ‘INC) x 6", "(3 SC, INC) x 6", "apostrophes"),
    ("6\u00c2 sc", "6 sc", "stray letters"),
    ("∗sc, inc∗ 6 times", "*sc, inc* 6 times", "stars"),
]


@pytest.mark.parametrize(("written", "plain", "said"), HAZARDS)
def test_a_hazard_is_read_and_said(written: str, plain: str, said: str) -> None:
    found = clean(written)
    assert found.text == plain
    assert any(said in slip for slip in found.slips), found.slips


@pytest.mark.parametrize(
    "text",
    [
        "Rnd 3: (sc, inc) x 6 [18]",
        "maille serrée, Häkelnadel, disminución, ponto baixíssimo, één",  # letters of languages
        "Ângulo",  # a letter that is no stray one
        "хвост и х",  # a Russian text stays Russian: no figure or bracket beside the letter
        "wash at 30 °C, hook C-2, 1o giro, 1º, 1ª",
        "don't, the dog's ear",
        "8 sc, 5 ch",
    ],
)
def test_what_is_no_slip_stays(text: str) -> None:
    found = clean(text)
    assert found.text == text
    assert found.slips == ()
    assert found.origin == tuple(range(len(text) + 1))


def test_letters_with_loose_accents_are_composed() -> None:
    # Unicode normalisation form C (standard library) is the source.
    loose = unicodedata.normalize("NFD", "maille serrée, Stäbchen")
    found = clean(loose)
    assert found.text == "maille serrée, Stäbchen"
    assert len(loose) > len(found.text)
    assert found.origin[-1] == len(loose)


def test_a_slip_is_said_once_with_its_number_and_first_line() -> None:
    found = clean("Rnd 1: sc\nRnds 2–4: sc\nRnds 5–7: sc\n")
    assert found.slips == ("2 × dashes were read as hyphens, first in line 2.",)


def test_the_way_back_is_exact() -> None:
    written = "ﬁ\r\nR2 – 6\u200bsc"
    found = clean(written)
    assert found.text == "fi\nR2 - 6sc"
    # Counted by hand: the ligature at 0, the line end at 1, R at 3, the invisible space at 9.
    assert found.origin == (0, 0, 1, 3, 4, 5, 6, 7, 8, 10, 11, 12)
    for place, character in zip(found.origin, found.text, strict=False):
        if character.isalnum() and written[place] != "ﬁ":
            assert written[place] == character


ODD = "\u200b\u00ad\ufeff\u00a0–—×хсеİıﬁﬀ→…Ấ \r\n0123456789()[]*lIO5C'>,.RncabcΛé\t"


@given(st.text(alphabet=st.sampled_from(ODD), max_size=80) | st.text(max_size=60))
def test_every_character_comes_from_somewhere(text: str) -> None:
    found = clean(text)
    assert len(found.origin) == len(found.text) + 1
    assert list(found.origin) == sorted(found.origin)
    assert all(0 <= place <= len(text) for place in found.origin)
    assert found.origin[-1] == len(text)
    assert clean(found.text).text == found.text or found.slips
