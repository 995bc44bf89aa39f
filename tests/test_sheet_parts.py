"""Parts: headings of every kind, copies, numbers that start again, sections that are no parts.

Forms of headings are common practice, no source; every text is composed for its test.
"""

from __future__ import annotations

import pytest

from webapp.reading.sheet import RoundLine, Sheet
from webapp.reading.splitting import read_sheet
from webapp.terms import Language

ROUNDS = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nFasten off.\n"


def parts(sheet: Sheet) -> list[tuple[str, int, int]]:
    """Title, copies and lines of rounds of each part."""
    return [
        (part.title, part.copies, sum(isinstance(line, RoundLine) for line in part.lines))
        for part in sheet.parts
    ]


def remarks(sheet: Sheet) -> list[str]:
    return [sheet.clean.text[r.span.start : r.span.end] for r in sheet.remarks]


@pytest.mark.parametrize(
    ("line", "title", "copies"),
    [
        *(
            ("LEGS", "LEGS", 1),
            ("Legs:", "Legs", 1),
            ("**Legs**", "Legs", 1),
            ("# Legs", "Legs", 1),
        ),
        *(
            ("## Legs ##", "Legs", 1),
            ("Legs", "Legs", 1),
            ("legs", "legs", 1),
            ("_Legs_", "Legs", 1),
        ),
        *(("=== LEGS ===", "LEGS", 1), ("First leg", "First leg", 1), ("Left leg:", "Left leg", 1)),
        *(("LEGS (make 2)", "LEGS", 2), ("Legs x2", "Legs", 2), ("Legs x 2:", "Legs", 2)),
        *(
            ("## ✨ Legs ✨", "Legs", 1),
            ("STEP 2: LEGS", "LEGS", 1),
            ("Legs (2 details)", "Legs", 2),
        ),
        *(("noggin (green)", "noggin", 1), ("Legs: in grey", "Legs", 1)),
        *(("Ears (2)", "Ears", 2), ("Ears * 2", "Ears", 2), ("Ears (x2)", "Ears", 2)),
        *(("Ears (2 pcs)", "Ears", 2), ("Legs (2 parts)", "Legs", 2), ("Legs - make 2", "Legs", 2)),
        *(("Legs (make 2, in grey)", "Legs", 2), ("Legs, make two", "Legs", 2)),
        *(("Legs (make two)", "Legs", 2), ("Legs (two)", "Legs", 2), ("2 x Legs", "Legs", 2)),
        *(
            ("Legs x4:", "Legs", 4),
            ("LEGS (grey, make 2)", "LEGS", 2),
            ("Legs [make 2]", "Legs", 2),
        ),
        *(
            ("Make 2 of the legs:", "legs", 2),
            ("Legs (make 2)\nIn brown.", "Legs", 2),
            ("Legs\nMake 4.", "Legs", 4),
        ),
        *(
            ("Legs\n(2 pcs)", "Legs", 2),
            ("Legs\nx2", "Legs", 2),
            ("Legs (start with grey)", "Legs", 1),
        ),
        *(("**LEGS (make 2)**", "LEGS", 2), ("Spikes (make 12)", "Spikes", 12)),
        *(("Zottel (make 3)", "Zottel", 3), ("ZOTTEL", "ZOTTEL", 1), ("Zottel:", "Zottel", 1)),
        *(("Head and body in one piece", "Head and body", 1), ("Legs, in grey", "Legs", 1)),
    ],
)
def test_a_heading_names_a_part_and_its_copies(line: str, title: str, copies: int) -> None:
    sheet = read_sheet(f"BODY\n{ROUNDS}\n{line}\n{ROUNDS}")
    assert parts(sheet) == [("BODY", 1, 2), (title, copies, 2)]


@pytest.mark.parametrize(
    ("language", "line", "title", "copies", "first"),
    [
        ("de", "Beine (2 Stück)", "Beine", 2, "1. Rd: 6 fM in Fadenring (6)"),
        ("de", "Ohr\n2 Stück", "Ohr", 2, "1. Rd: 6 fM in Fadenring (6)"),
        ("de", "ARME (2x häkeln)", "ARME", 2, "Rd 1: 6 fM in Fadenring (6)"),
        ("fr", "Oreilles (en faire 2)", "Oreilles", 2, "T1 : 6 ms dans un cercle magique (6)"),
        ("fr", "Bras (x2)", "Bras", 2, "Rang 1 : 6 ms dans un cercle magique (6)"),
        ("es", "Patas (hacer 4)", "Patas", 4, "V1: 6 pb en anillo mágico (6)"),
        ("es", "OREJAS (2 piezas)", "OREJAS", 2, "Vuelta 1: 6 pb en anillo mágico (6)"),
        ("it", "Orecchie (farne 2)", "Orecchie", 2, "Giro 1: 6 mb in anello magico (6)"),
        ("it", "Zampe x4", "Zampe", 4, "Giro 1: 6 mb in anello magico (6)"),
        ("pt", "Orelhas (fazer 2)", "Orelhas", 2, "Carr 1: 6 pb no anel mágico (6)"),
        ("pt", "Pernas (4x)", "Pernas", 4, "Carr 1: 6 pb no anel mágico (6)"),
        ("nl", "Oren (maak er 2)", "Oren", 2, "Toer 1: 6 v in een magische ring (6)"),
        ("nl", "Poot (4 keer maken)", "Poot", 4, "Toer 1: 6 v in een magische ring (6)"),
        ("da", "Ben (lav 2)", "Ben", 2, "1. omg: 6 fm i magisk ring (6)"),
        ("da", "Øre - lav 2 stk.", "Øre", 2, "1. omg: 6 fm i magisk ring (6)"),
        ("sv", "Svans - 1 st", "Svans", 1, "Varv 1: 6 fm i magisk ring (6)"),
        ("sv", "Öron, 2 st", "Öron", 2, "Varv 1: 6 fm i magisk ring (6)"),
        ("sv", "Tassar (gör 4 likadana)", "Tassar", 4, "Varv 1: 6 fm i magisk ring (6)"),
        ("nb", "Føtter x 4", "Føtter", 4, "1. omg: 6 fm i magisk ring (6)"),
        ("nb", "Armer (lag 2)", "Armer", 2, "1. omg: 6 fm i magisk ring (6)"),
    ],
)
def test_headings_of_other_languages(
    language: str, line: str, title: str, copies: int, first: str
) -> None:
    sheet = read_sheet(f"{line}\n{first}\n", Language(language))
    assert parts(sheet) == [(title, copies, 1)]


SPOTS = ("Big spot", "Small spot")


@pytest.mark.parametrize(
    ("said", "titles", "copies"),
    [
        ("SPOTS (yellow): I make 2 big and 3 small.", SPOTS, [2, 3]),
        ("SPOTS: make 2 big, 3 small.", SPOTS, [2, 3]),
        ("SPOTS\nMake three small ones and 2 big ones.", SPOTS, [2, 3]),
        ("SPOTS (make 2 big & 3 small)", SPOTS, [2, 3]),
        ("You need 2 big spots and one small spot.", SPOTS, [2, 1]),
        # Else it is left: no heading has a word, both have it, one says its own number.
        ("I make 2 red and 3 blue.", SPOTS, [1, 1]),
        ("SPOTS: I make 2 spots and 3 spots.", SPOTS, [1, 1]),
        ("I make 2 big and 3 small.", ("Big spot", "Stripe"), [1, 1]),
        ("I make 2 big and 3 small.", ("Big spot (make 4)", "Small spot"), [4, 1]),
        ("I make 2 big and 3 small.", ("Stripe", *SPOTS), [1, 1, 1]),
        ("With 2 big and 3 small beads.", SPOTS, [1, 1]),
    ],
)
def test_copies_of_each_kind_go_to_its_heading(
    said: str, titles: tuple[str, ...], copies: list[int]
) -> None:
    headed = "\n".join(f"{title}\n{ROUNDS}" for title in titles)
    sheet = read_sheet(f"BODY\n{ROUNDS}\n{said}\n{headed}")
    assert [part.copies for part in sheet.parts] == [1, *copies]


def test_no_number_of_copies_begins_within_a_word() -> None:
    """A German stone (`Stein`) is not `St. ein`, one piece."""
    sheet = read_sheet("Hof\n\nGroßer Stein\nRd 1: 6 fM in Fadenring (6)\n", Language.GERMAN)
    assert parts(sheet) == [("Großer Stein", 1, 1)]


@pytest.mark.parametrize(
    ("language", "section"),
    [
        *(("us", s) for s in ("Materials", "MATERIALS:", "Abbreviations", "Gauge", "**Notes**")),
        *(("us", s) for s in ("Assembly", "Sewing together", "Finishing:", "Before you start")),
        *(("us", s) for s in ("You will need:", "# Stitches used", "MAKING UP", "Safety")),
        *(("de", s) for s in ("Material", "Abkürzungen:", "Maschenprobe", "Zusammennähen")),
        *(("fr", s) for s in ("Matériel", "Abréviations", "ASSEMBLAGE", "Finitions")),
        *(("es", s) for s in ("Materiales", "Abreviaturas", "Montaje", "Antes de empezar")),
        *(("it", s) for s in ("Occorrente", "Abbreviazioni", "Assemblaggio", "Note")),
        *(("pt", s) for s in ("Materiais", "Abreviaturas", "Montagem", "Acabamento")),
        *(("nl", s) for s in ("Benodigdheden", "Afkortingen", "In elkaar zetten", "Afwerking")),
        *(("da", s) for s in ("Du skal bruge:", "Forkortelser", "Inden du begynder", "Montering")),
        *(("sv", s) for s in ("Material", "Förkortningar", "Innan du börjar", "Montering")),
        *(("nb", s) for s in ("Du trenger:", "Forkortelser", "Før du begynner", "Montering")),
    ],
)
def test_sections_are_no_parts(language: str, section: str) -> None:
    words = {"us": "sc", "de": "fM", "fr": "ms", "es": "pb", "it": "mb", "pt": "pb", "nl": "v"}
    lines = "1. 30 g of wool, 4 sts apart\n2. two eyes, 8 mm\n"
    first = f"R1: 6 {words.get(language, 'fm')} (6)"
    sheet = read_sheet(f"{first}\n\n{section}\n{lines}", Language(language))
    assert parts(sheet) == [("", 1, 1)]
    assert remarks(sheet) == [section, *lines.splitlines()]


def test_rounds_in_a_section_belong_to_a_part() -> None:
    sheet = read_sheet(f"BODY\n{ROUNDS}\nFinishing\nRnd 3: sc around (12)\nSew up.\n")
    assert parts(sheet) == [("BODY", 1, 3)]
    sheet = read_sheet(f"BODY\n{ROUNDS}\nJoining\nRnd 1: sc round both legs (24)\n")
    assert parts(sheet) == [("BODY", 1, 2), ("Joining", 1, 1)]


def test_no_heading_at_all_is_one_part_without_a_name() -> None:
    assert parts(read_sheet(ROUNDS)) == [("", 1, 2)]
    assert parts(read_sheet(f"Instructions:\n{ROUNDS}")) == [("", 1, 2)]


def test_numbers_that_start_again_begin_a_part() -> None:
    assert parts(read_sheet(f"{ROUNDS}\n{ROUNDS}\n{ROUNDS}")) == [
        ("", 1, 2),
        ("Part 2", 1, 2),
        ("Part 3", 1, 2),
    ]


def test_words_of_a_start_begin_a_part() -> None:
    text = "6 sc in magic ring (6)\ninc x 6 (12)\n\n5 sc in magic ring (5)\nsc around (5)\n"
    assert parts(read_sheet(text)) == [("", 1, 2), ("Part 2", 1, 2)]


@pytest.mark.parametrize("colour", ["Change to white.", "White:", "With white", "WHITE", ""])
def test_a_colour_change_that_numbers_anew_runs_on(colour: str) -> None:
    text = "TAIL\nR1: 6 sc in MR (6)\nR2: inc x 6 (12)\n"
    sheet = read_sheet(f"{text}{colour}\nR1: sc in each st around (12)\nR2: (sc, inc) x 6 (18)\n")
    assert parts(sheet) == [("TAIL", 1, 4)]


def test_numbers_that_run_on_stay_one_part_unless_a_heading_says_otherwise() -> None:
    more = "Rnd 3: sc around (12)\nRnd 4: sc around (12)\n"
    body = "BODY\nRnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)\n"
    assert parts(read_sheet(f"{body}Now the head.\n{more}")) == [("BODY", 1, 4)]
    assert parts(read_sheet(f"{body}\nHEAD\n{more}")) == [("BODY", 1, 2), ("HEAD", 1, 2)]


def test_the_first_line_is_the_title() -> None:
    sheet = read_sheet(f"Pip, a very small mouse\nby nobody\n\nMaterials\nwool\n\nHead\n{ROUNDS}")
    assert sheet.title == "Pip, a very small mouse"
    assert parts(sheet) == [("Head", 1, 2)]
    assert remarks(sheet) == ["by nobody", "Materials", "wool"]


def test_a_heading_and_its_first_round_on_one_line() -> None:
    assert parts(read_sheet("Head: Rnd 1: 6 sc in MR (6)\nRnd 2: inc x 6\n")) == [("Head", 1, 2)]
    second = "Second leg: repeat rows 1-2, do not cut.\n"
    assert parts(read_sheet(f"First leg\n{ROUNDS}{second}")) == [
        ("First leg", 1, 2),
        ("Second leg", 1, 1),
    ]


def test_headings_that_hold_nothing_are_remarks() -> None:
    sheet = read_sheet(f"HEAD\n{ROUNDS}\nEYES\nEmbroider them in black.\n\nTAIL\n{ROUNDS}")
    assert parts(sheet) == [("HEAD", 1, 2), ("TAIL", 1, 2)]
    assert remarks(sheet) == ["EYES", "Embroider them in black."]


def test_a_table_of_contents_names_no_parts() -> None:
    text = f"PIP\n\nCONTENTS\nHead ........ 2\nLegs ........ 3\n\nHEAD\n{ROUNDS}"
    assert parts(read_sheet(text)) == [("HEAD", 1, 2)]


def test_a_recipe_for_soup_has_no_rounds() -> None:
    soup = (
        "Leek soup\n\nYou need:\n3 leeks, 2 potatoes, 1 l of stock, salt\n\nMethod\n"
        "1. Wash the leeks and cut them in rings.\n2. Add the potatoes.\n"
        "3. Cook for 20 minutes, stir 3 times.\n4. Serve (4)\n"
    )
    sheet = read_sheet(soup)
    assert not any(isinstance(line, RoundLine) for part in sheet.parts for line in part.lines)


def test_every_line_is_somewhere() -> None:
    text = f"Pip\n\nNotes\nBe glad.\n\nHEAD\nIn red.\n{ROUNDS}\nASSEMBLY\nSew.\n"
    sheet = read_sheet(text)
    found = [*remarks(sheet), sheet.title]
    for part in sheet.parts:
        found += [part.title, sheet.clean.text[part.span.start : part.span.end]]
    for line in text.split("\n"):
        assert any(line in words for words in found), line
