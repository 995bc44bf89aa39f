"""What is refused, and laws that hold for any text at all."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.errors import RoundlingError
from webapp.reading.limits import MOST_CHARACTERS, MOST_LINES, MOST_PARTS
from webapp.reading.sheet import RoundLine, Sheet
from webapp.reading.splitting import read_sheet
from webapp.terms import Language

PART = "Rnd 1: 6 sc in magic ring (6)\n"


def check_laws(sheet: Sheet, text: str) -> None:
    """Places lie in the text, in order, and do not overlap; labels are what is written there."""
    plain, origin = sheet.clean.text, sheet.clean.origin
    assert len(origin) == len(plain) + 1
    assert all(a <= b for a, b in zip(origin, origin[1:], strict=False))
    assert origin[-1] == len(text)
    end = 0
    for part in sheet.parts:
        assert end <= part.span.start < part.span.end <= len(plain)
        end = part.span.start
        assert part.copies >= 1
        assert any(isinstance(line, RoundLine) for line in part.lines)
        for line in part.lines:
            assert end <= line.span.start < line.span.end <= part.span.end
            end = line.span.end
            if isinstance(line, RoundLine):
                body = line.body
                assert line.span.start <= body.start <= body.end <= line.span.end
                assert plain[body.start : body.end] == plain[body.start : body.end].strip()
                assert line.label in plain[line.span.start : body.start]
    places = [(r.span.start, r.span.end) for r in sheet.remarks]
    assert places == sorted(places)
    assert all(0 <= start < stop <= len(plain) for start, stop in places)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("a" * (MOST_CHARACTERS + 1), str(MOST_CHARACTERS)),
        ("a\n" * (MOST_LINES + 1), "5000"),
        ((PART + "\n") * (MOST_PARTS + 1), "200"),
        ("", "nothing to read"),
        (" \n\t\u00a0\n", "nothing to read"),
        ("Rnd 1: 6 sc\0", "characters that no written pattern has"),
        ("\x01\x02\x03\x04abc", "characters that no written pattern has"),
        ("123 456 ((( )))", "words"),
        ("(" * 500 + "a", "words"),
    ],
)
def test_what_cannot_be_read_is_refused(text: str, why: str) -> None:
    with pytest.raises(RoundlingError) as caught:
        read_sheet(text)
    assert caught.value.field == "text"
    assert why in f"{caught.value.asked} {caught.value.why}"
    assert caught.value.nearest


def test_limits_themselves_are_read() -> None:
    assert len(read_sheet((PART + "\n") * MOST_PARTS).parts) == MOST_PARTS
    assert read_sheet("a" * MOST_CHARACTERS).parts == ()
    assert read_sheet("\n".join("a" * 2 for _ in range(MOST_LINES))).parts == ()


@pytest.mark.parametrize(
    "unit", ["(", "1.", "a", "* ", "1-", " ", "R1", "(sc ", "sc, ", "x6", "[]"]
)
def test_long_monotonous_texts_are_split_too(unit: str) -> None:
    # That this takes less than half a second each was measured; here only that it ends well.
    text = "abcdefgh " * 800 + unit * 10_000
    check_laws(read_sheet(text), text)


PIECES = st.sampled_from(
    [
        *("Rnd 1: ", "Rnd 2:", "R3-6 ", "3. ", "4-", "-7.", "2nd rnd: ", "Rounds 4, 5, 6: ", "1.2"),
        *("6 sc in magic ring", "inc x 6", "(sc, inc) x 6", "sc around", "fM", "6 ms", "dc2tog"),
        *(" (12)", "(18 sts)", " = 24", "[6]", ", ", "*", "(", ")", "\n", "\n\n", "\n  ", "  "),
        *("HEAD\n", "Legs (make 2)\n", "Ears x2\n", "Make 4.\n", "Materials\n", "# Tail\n"),
        *("Change to white.\n", "Fasten off.\n", "Repeat Rnd 2", "4 rounds", "–", "×", "ﬁ", "İ"),
        *(
            "24 sc and 25 rnds = 10 cm\n",
            "Head: Rnd 1: ",
            "ch 7; ",
            "With A, ",
            "3\nrd rnd: ",
            "12\n",
        ),
        *(
            "Second leg: repeat rows 1-3",
            "|",
            "**",
            "2 Stück\n",
            "Rl: ",
            "245C",
            "хs",
            "\r\n",
            "\t",
        ),
    ]
)


@settings(max_examples=300)
@given(st.lists(PIECES, max_size=30).map("".join), st.sampled_from([None, *Language]))
def test_any_pile_of_pattern_words_is_split_or_refused(
    text: str, language: Language | None
) -> None:
    try:
        sheet = read_sheet(text, language)
    except RoundlingError:
        return
    check_laws(sheet, text)


@given(st.text(max_size=200))
def test_any_text_is_split_or_refused(text: str) -> None:
    try:
        sheet = read_sheet(text)
    except RoundlingError:
        return
    check_laws(sheet, text)
