"""Labels of rounds in every form that makers write them, and what belongs to a round.

The forms and traps are those counted over published patterns (common practice, no source); every
text here is composed, and what it should come to is written beside it.
"""

from __future__ import annotations

import pytest

from webapp.reading.sheet import RemarkLine, RoundLine, Sheet
from webapp.reading.splitting import read_sheet
from webapp.terms import Language

START = "Body\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n"


def bodies(sheet: Sheet, part: int = 0) -> list[tuple[int | None, int | None, str]]:
    text = sheet.clean.text
    return [
        (line.first, line.last, " ".join(text[line.body.start : line.body.end].split()))
        for line in sheet.parts[part].lines
        if isinstance(line, RoundLine)
    ]


def last_round(text: str, language: Language | None = None) -> RoundLine:
    sheet = read_sheet(text, language)
    return [line for line in sheet.parts[-1].lines if isinstance(line, RoundLine)][-1]


def body_of(sheet: Sheet, line: RoundLine) -> str:
    return " ".join(sheet.clean.text[line.body.start : line.body.end].split())


# --- the label of round 3, after two that are labelled `Rnd`


@pytest.mark.parametrize(
    "label",
    [
        *("3.", "3:", "3)", "3 –", "3-", "3 -", "Rnd 3:", "Rnd 3.", "Rnd3:", "RND 3:", "rnd 3)"),
        *(
            "R3:",
            "R 3:",
            "R3-",
            "R3 –",
            "R3.",
            "R3",
            "Round 3:",
            "Round 3 –",
            "ROUND 3",
            "round 3.",
        ),
        *(
            "3rd rnd:",
            "3rd row:",
            "3 row:",
            "3 rnd:",
            "3rd row.",
            "3rd round -",
            "Row 3:",
            "ROW 3—",
        ),
        *(
            "Rd 3:",
            "Rnd. 3:",
            "Rnd #3:",
            "Rnd no. 3:",
            "**Rnd 3:**",
            "- Rnd 3:",
            "• 3.",
            "* Rnd 3:",
        ),
        *(
            "Third round:",
            "In round 3,",
            "[Rnd 3]",
            "(R3)",
            "Rnd (3):",
            "> Rnd 3:",
            "☐ R3:",
            "| 3 |",
            "Round three:",
            "3rd:",
            "3rd.",
            "#3:",
            "Rnd 3 =>",
            "Rnd 3;",
            "Rnd 3\t",
            "Rnd 3 |",
        ),
    ],
)
def test_a_label_says_its_round(label: str) -> None:
    sheet = read_sheet(f"{START}{label} (sc, inc) x 6 (18)\nStuff.\n")
    assert [p.title for p in sheet.parts] == ["Body"]
    assert bodies(sheet)[2] == (3, 3, "(sc, inc) x 6 (18)")


def test_labels_beside_each_other_that_do_not_follow_are_no_range() -> None:
    sheet = read_sheet(f"{START}R3 R7 sc in each st around (12)\n")
    assert bodies(sheet)[2][:2] == (3, 3)


@pytest.mark.parametrize(
    ("label", "last"),
    [
        *(("3-7:", 7), ("R3 – R7", 7), ("3–7", 7), ("3. – 7.", 7), ("3 to 7:", 7)),
        *(("3rd to 7th rnds:", 7), ("Rnd 3 to Rnd 7", 7), ("Rnds 3-7", 7), ("Rounds 3 - 7:", 7)),
        *(("R3&4", 4), ("R3 & R4", 4), ("Rnd 3 and Rnd 4", 4), ("Rnds 3 and 4:", 4), ("3-7)", 7)),
        *(
            ("R3/4:", 4),
            ("rounds 3 , 4 and 5 :", 5),
            ("3~7:", 7),
            ("3...7:", 7),
            ("Rnd3 & Rnd4:", 4),
            ("3rd - 7th:", 7),
        ),
        *(("Round 3, 4:", 4), ("Round 3, 4, 5, 6:", 6), ("3, 4, 5:", 5), ("Rows 3-7:", 7)),
        *(("R3 R4.", 4), ("Rnd 3 Rnd 4:", 4)),
        *(("R3—R7:", 7), ("3- to 7-", 7), ("Rnds. 3-7:", 7), ("Rounds 3 thru 7:", 7)),
        *(("From 3 to 7:", 7), ("3rd-7th rows:", 7), ("-7.", 7), ("R3-7.", 7), ("Rnd 3 + 4:", 4)),
    ],
)
def test_a_label_says_a_range(label: str, last: int) -> None:
    sheet = read_sheet(f"{START}{label} sc in each st around (12)\n")
    assert bodies(sheet)[2] == (3, last, "sc in each st around (12)")


@pytest.mark.parametrize(
    ("language", "start", "line", "first", "last"),
    [
        *(("de", "1. Rd: 6 fM in Fadenring", label, 2, last) for label, last in [
            ("2. Rd:", 2), ("Rd 2:", 2), ("Runde 2 -", 2), ("2. - 5. Rd:", 5), ("Rd 2 bis 5:", 5),
            ("2.-5. Runde:", 5), ("2. Runde bis 5. Runde:", 5), ("Runde 2 und 3:", 3),
            ("R2:", 2), ("2. bis 5. Runde:", 5),
        ]),
        *(("fr", "T1 : 6 ms dans un cercle magique", label, 2, last) for label, last in [
            ("T2 :", 2), ("Tour 2 :", 2), ("Rang 2 -", 2), ("2e tour :", 2), ("Tours 2 à 5 :", 5),
            ("2ème rang :", 2), ("Tours 2 et 3 :", 3), ("Rg 2 :", 2), ("Du tour 2 au tour 5 :", 5),
        ]),
        *(("es", "Vuelta 1: 6 pb en anillo mágico", label, 2, last) for label, last in [
            ("Vuelta 2 –", 2), ("V2:", 2), ("2ª carr.:", 2), ("2 carr.:", 2), ("carr. 2:", 2),
            ("V2 a V5:", 5), ("2 a la 5:", 5), ("Vueltas 2 y 3:", 3), ("2ª vuelta:", 2),
        ]),
        *(("it", "Giro 1: 6 mb in anello magico", label, 2, last) for label, last in [
            ("Giro 2:", 2), ("2° giro:", 2), ("G2:", 2), ("Giri 2-5:", 5),
            ("Dal giro 2 al giro 5:", 5), ("Giri 2 e 3:", 3),
        ]),
        *(("pt", "Carr 1: 6 pb no anel mágico", label, 2, last) for label, last in [
            ("Carr 2:", 2), ("2ª carr.:", 2), ("2ª à 5ª carr.:", 5), ("Carreira 2 -", 2),
            ("Carr 2 a 5:", 5), ("Volta 2:", 2), ("Carreiras 2 e 3:", 3),
        ]),
        *(("nl", "Toer 1: 6 v in een magische ring", label, 2, last) for label, last in [
            ("Toer 2:", 2), ("T2:", 2), ("2e toer:", 2), ("Toer 2 t/m 5:", 5), ("Toer 2 en 3:", 3),
            ("2e t/m 5e toer:", 5), ("Ronde 2:", 2),
        ]),
        *(("da", "1. omg: 6 fm i magisk ring", label, 2, last) for label, last in [
            ("2. omg:", 2), ("Omg 2:", 2), ("Omgang 2 -", 2), ("2.-5. omg:", 5), ("R2 til R5:", 5),
            ("Omg. 2 og 3:", 3), ("På 2. omgang:", 2),
        ]),
        *(("sv", "Varv 1: 6 fm i magisk ring", label, 2, last) for label, last in [
            ("Varv 2:", 2), ("v 2:", 2), ("2:a varvet:", 2), ("Varv 2-5:", 5), ("V2 till 5:", 5),
            ("Varv 2 och 3:", 3),
        ]),
        *(("nb", "1. omg: 6 fm i magisk ring", label, 2, last) for label, last in [
            ("2. omg:", 2), ("Runde 2:", 2), ("Omg 2 til 5:", 5), ("2.-5. omgang:", 5),
            ("Fra omg 2 til omg 5:", 5), ("R2 og R3:", 3),
        ]),
    ],
)  # fmt: skip
def test_labels_of_other_languages(
    language: str, start: str, line: str, first: int, last: int
) -> None:
    single = {"de": "fM", "fr": "ms", "es": "pb", "it": "mb", "pt": "pb", "nl": "v"}
    words = single.get(language, "fm")
    sheet = read_sheet(f"{start} (6)\n{line} 6 {words} (6)\n", Language(language))
    assert bodies(sheet)[1] == (first, last, f"6 {words} (6)")


# --- traps


def test_a_number_glued_to_the_text_is_the_round_that_is_due() -> None:
    text = START + "".join(f"{k}: sc around (12)\n" for k in range(3, 12))
    sheet = read_sheet(text + "12.7 sc, inc, 4 sc (13)\n13:sc\n14:13 sc (13)\n")
    assert bodies(sheet)[11:] == [
        (12, 12, "7 sc, inc, 4 sc (13)"),
        (13, 13, "sc"),
        (14, 14, "13 sc (13)"),
    ]


@pytest.mark.parametrize(
    ("line", "first", "last", "body"),
    [
        ("R3 - 6 sc, inc, 5 sc (13)", 3, 3, "6 sc, inc, 5 sc (13)"),
        ("Rnd 3, 6 sc, inc, 5 sc (13)", 3, 3, "6 sc, inc, 5 sc (13)"),
        ("3-6 sc, inc, 5 sc (13)", 3, 3, "6 sc, inc, 5 sc (13)"),
        ("3-6 sc around (12)", 3, 6, "sc around (12)"),
        ("R3-6 12 sc (12)", 3, 6, "12 sc (12)"),
        ("3. **sc around** (12)", 3, 3, "**sc around** (12)"),
        ("Rnds 3, 5, 7: sc around (12)", 3, 3, ", 5, 7: sc around (12)"),
        ("R3-R6 sc in each st (12)", 3, 6, "sc in each st (12)"),
        ("Round 3 2 sc in next st, sc to end (13)", 3, 3, "2 sc in next st, sc to end (13)"),
        ("R3 – BLO: sc around (12)", 3, 3, "BLO: sc around (12)"),
        ("Rnd 3 (BLO): sc around (12)", 3, 3, "(BLO): sc around (12)"),
        ("Rnd 3: CHANGE COLOUR (sc2tog) x 6", 3, 3, "CHANGE COLOUR (sc2tog) x 6"),
    ],
)
def test_what_is_a_number_of_rounds_and_what_of_stitches(
    line: str, first: int, last: int, body: str
) -> None:
    assert bodies(read_sheet(f"{START}{line}\n"))[2] == (first, last, body)


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 3: sc (12) Rnd 4: inc x 6, 6 sc (18) Rnd 5: sc (18)",
        "3. sc (12) 4. inc x 6, 6 sc (18) 5. sc (18)",
        "3: sc (12)4: inc x 6, 6 sc (18)5: sc (18)",
        "R3: sc (12); R4: inc x 6, 6 sc (18); R5: sc (18)",
        "3) sc (12), 4) inc x 6, 6 sc (18), 5) sc (18)",
        "R 3: sc (12)R 4: inc x 6, 6 sc (18)R 5: sc (18)",
        "r3 sc (12) / r4 inc x 6, 6 sc (18) / r5 sc (18)",
    ],
)
def test_several_rounds_on_one_line(line: str) -> None:
    found = bodies(read_sheet(f"{START}{line}\n"))[2:]
    assert [(first, body.rstrip(";,")) for first, _, body in found] == [
        (3, "sc (12)"),
        (4, "inc x 6, 6 sc (18)"),
        (5, "sc (18)"),
    ]


def test_a_round_named_inside_a_round_does_not_cut_it() -> None:
    lines = "Rnd 3: in BLO of rnd 2, sc around (12)\nRnd 4: as Rnd 3. Rnd 5 is for the eyes.\n"
    assert [body for _, _, body in bodies(read_sheet(START + lines))[2:]] == [
        "in BLO of rnd 2, sc around (12)",
        "as Rnd 3. Rnd 5 is for the eyes.",
    ]


def test_the_next_label_tells_a_range_from_stitches() -> None:
    assert bodies(read_sheet(f"{START}R3-6 sc (12)\nR7 dec x 6\n"))[2:] == [
        (3, 6, "sc (12)"),
        (7, 7, "dec x 6"),
    ]
    assert bodies(read_sheet(f"{START}R3-6 sc, 6 dec (9)\nR4 sc (9)\n"))[2:] == [
        (3, 3, "6 sc, 6 dec (9)"),
        (4, 4, "sc (9)"),
    ]
    assert bodies(read_sheet(f"{START}Rnds 3-6 sc (12)\n"))[2] == (3, 6, "sc (12)")


def test_rows_of_a_table() -> None:
    # Copied from a spreadsheet: number, work and count with tabs between them.
    text = "Body\n1\t6 sc in MR\t6\n2\tinc around\t12\n3-5\tsc around\t12\n"
    assert bodies(read_sheet(text)) == [
        (1, 1, "6 sc in MR=6"),
        (2, 2, "inc around=12"),
        (3, 5, "sc around=12"),
    ]


def test_times_of_a_film_are_no_numbers_of_rounds() -> None:
    text = "Body\n02:10 Rnd 1: 6 sc in MR (6)\n02:58 Rnd 2: inc x 6 (12)\n"
    assert [first for first, _, _ in bodies(read_sheet(text))] == [1, 2]


def test_a_paragraph_of_rounds_with_remarks_between() -> None:
    text = (
        "Rnd 3: sc (12). Put the eyes between rnds 1 and 2. Rnd 4: dec x 6 (6). Stuff. Rnd 5: sc\n"
    )
    assert bodies(read_sheet(START + text))[2:] == [
        (3, 3, "sc (12). Put the eyes between rnds 1 and 2."),
        (4, 4, "dec x 6 (6). Stuff."),
        (5, 5, "sc"),
    ]


def test_labels_used_twice_or_skipped_stay_as_they_are_written() -> None:
    lines = "Rnd 3: sc (12)\nRnd 3: sc (12)\nRnd 6: sc (12)\n5. sc around (12)\n"
    assert [first for first, _, _ in bodies(read_sheet(START + lines))] == [1, 2, 3, 3, 6, 5]


def test_a_number_split_from_its_ordinal() -> None:
    line = last_round(f"{START}3\nrd rnd: sc around (12)\n")
    assert (line.first, line.last) == (3, 3)
    assert line.label.split() == ["3", "rd", "rnd:"]


@pytest.mark.parametrize("line", ["Repeat Rnd 2.", "Rep last round twice", "Repeat rows 1-2"])
def test_a_repeat_is_a_line_of_work_without_a_label(line: str) -> None:
    found = last_round(START + line + "\n")
    assert (found.label, found.first, found.last) == ("", None, None)


def test_an_open_range() -> None:
    found = last_round(f"{START}From round 3 to end: sc around\n")
    assert (found.first, found.last) == (3, None)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("Rnds 3-6: sc around (4 rounds) (12)", 4),
        ("Rnds 3-6: sc around (12) (3rnds)", 3),
        ("3-6. sc – 4 rows", 4),
        ("4 rows 12 sc", 4),
        ("Rnds 3-6: sc\n(4 rounds)", 4),
        ("Rnds 3-6: sc\n\n(4 rounds)", 4),
        ("sc around for 4 rounds (12)", 4),
        ("Rnd 3: sc around (12)", None),
        ("Rnd 3: as in Rnd 2, sc around", None),
    ],
)
def test_the_number_of_rounds_that_is_said(line: str, said: int | None) -> None:
    assert last_round(f"{START}{line}\n").said_rounds == said


def test_rows_say_so() -> None:
    assert last_round(f"{START}Row 3: sc across\n").says_row
    assert not last_round(f"{START}Rnd 3: sc\n").says_row


# --- lines without a label


def test_rounds_without_any_label() -> None:
    text = "6 sc in magic ring (6)\n• inc x 6 (12)\n• (sc, inc) x 6 (18)\nsc around (18)\nStuff.\n"
    sheet = read_sheet(text)
    assert [body for _, _, body in bodies(sheet)] == [
        "6 sc in magic ring (6)",
        "inc x 6 (12)",
        "(sc, inc) x 6 (18)",
        "sc around (18)",
    ]
    assert isinstance(sheet.parts[0].lines[-1], RemarkLine)


@pytest.mark.parametrize(
    ("line", "rounds"),
    [
        ("In BLO, sc around", None),
        ("BLO: sc around (12)", None),
        ("Then 6 sc, inc, 5 sc", None),
        ("Work even for 3 rounds.", 3),
        ("With white, work 2 rnds even.", 2),
        ("Sc around for 4 more rnds", 4),
        ("Now (sc, dec) x 4", None),
        ("Work 12 sc around.", None),
    ],
)
def test_work_said_in_a_sentence_is_not_lost(line: str, rounds: int | None) -> None:
    sheet = read_sheet(f"{START}{line}\nStuff.\nRnd 9: dec x 6 (6)\n")
    found = [piece for piece in sheet.parts[0].lines if isinstance(piece, RoundLine)]
    assert [piece.first for piece in found] == [1, 2, None, 9]
    assert found[2].said_rounds == rounds


def test_a_round_without_a_number_may_say_it_is_the_next() -> None:
    found = last_round(f"{START}Next round: sc in each st around\n")
    assert (found.label, found.first) == ("Next round:", None)


def test_a_first_round_without_a_number() -> None:
    sheet = read_sheet("Head\n6 sc in magic ring (6)\n1. inc x 6 (12)\n2. sc (12)\n")
    assert [(first, body) for first, _, body in bodies(sheet)] == [
        (None, "6 sc in magic ring (6)"),
        (1, "inc x 6 (12)"),
        (2, "sc (12)"),
    ]
    assert len(sheet.parts) == 1


@pytest.mark.parametrize(
    "remark",
    [
        *("Stuff firmly, only the lower half.", "Eyes between rnds 11 and 12, 7 sts apart."),
        *("Change to brown.", "Using white:", "With A", "(Blue)", "Fasten off.", "FO", "F/o"),
        *("Close with an inverted ring", "Sew ears between rnds 5 and 9", "Place marker"),
        *("Sl st in the next st, fasten off.", "Do not join", "pm on first sc", "bind off"),
        *("cut, leave a long tail for sewing", "Mark round 11, the eyes go there", "White:"),
        *("Rnds 3-6 are in stripes of 2 rnds: red, blue, and so on in turn.", "Rnd 3"),
        *("leave 6 stitches between", "Do not cut the yarn, continue with the body", "F.o."),
        *("sc = single crochet", "inc: 2 sc in the same st", "Insert eyes 12 sts apart (6 mm)"),
    ],
)
def test_a_remark_between_rounds_is_no_round(remark: str) -> None:
    sheet = read_sheet(f"{START}{remark}\nRnd 3: sc around (12)\n")
    assert len(sheet.parts) == 1
    kinds = [isinstance(line, RoundLine) for line in sheet.parts[0].lines]
    assert kinds == [True, True, False, True]
    assert bodies(sheet)[1][2] == "inc x 6 (12)"


# --- what belongs to a round


@pytest.mark.parametrize(
    "lines",
    [
        "Rnd 3: sc, inc,\nsc, inc, 8 sc\n(14)",
        "Rnd 3: sc, inc, sc, inc, 8 sc\n  (14)",
        "Rnd 3: sc, inc, sc,\n  inc, 8 sc (14)",
        "Rnd 3:\nsc, inc, sc, inc, 8 sc (14)",
        "Rnd 3\nsc, inc, sc, inc, 8 sc\n(14)",
        "Rnd 3: sc, inc, sc, inc, 8 sc\n\n(14)",
        "Rnd 3: (sc, inc,\nsc, inc), 8 sc (14)".replace("(sc", "sc").replace("inc),", "inc,"),
    ],
)
def test_a_round_over_several_lines_is_one(lines: str) -> None:
    sheet = read_sheet(f"{START}{lines}\nStuff.\nRnd 4: sc (14)\n")
    assert bodies(sheet)[2:] == [(3, 3, "sc, inc, sc, inc, 8 sc (14)"), (4, 4, "sc (14)")]


def test_a_line_that_begins_small_goes_on_where_there_is_no_count_yet() -> None:
    sheet = read_sheet(f"{START}Rnd 3: sc in each st\naround (12)\nRnd 4: sc (12)\nand stuff it\n")
    assert bodies(sheet)[2:] == [(3, 3, "sc in each st around (12)"), (4, 4, "sc (12)")]


def test_an_open_bracket_goes_on() -> None:
    sheet = read_sheet(f"{START}Rnd 3: (sc in next st, 2 sc\nIN next st) x 6 (18)\n")
    assert bodies(sheet)[2][2] == "(sc in next st, 2 sc IN next st) x 6 (18)"


def test_remarks_behind_the_count_stay_with_the_round() -> None:
    sheet = read_sheet(f"{START}Rnd 3: sc (12) Stuff. Change to black.\n")
    assert bodies(sheet)[2][2] == "sc (12) Stuff. Change to black."


def test_places_lead_to_the_text() -> None:
    sheet = read_sheet(f"{START}  R3 – sc, dec\n   (11)\n")
    line = last_round(f"{START}  R3 – sc, dec\n   (11)\n")
    text = sheet.clean.text
    assert text[line.span.start : line.span.end].startswith("R3 - sc")
    assert body_of(sheet, line) == "sc, dec (11)"
    assert line.body.end == line.span.end
