"""The written pattern: read back, it is the same rounds; read aloud, it has all that is needed."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.reader import read_parts, unwrapped
from tests.strategies import default_design, design_of, designs, recipes
from webapp.errors import RoundlingError
from webapp.pattern import pattern_text, working_order
from webapp.recipes import Design, Recipe
from webapp.rounds import WorkedPart
from webapp.way import Toy, make_toy
from webapp.yarns import Terms

TOYS = ("otter", "owl", "rabbit", "whale")


def text_of(toy: Toy) -> str:
    return pattern_text(toy.worked, toy.materials, toy.cautions)


def pattern(name: str, **texts: object) -> str:
    recipe = recipes()[name]
    return text_of(make_toy(recipe, design_of(recipe, **texts)))


def check_read_back(design: Design, recipe: Recipe | None = None) -> None:
    """Every part of the pattern, read back, has the rounds that were worked."""
    recipe = recipe or recipes()[design.toy]
    try:
        toy = make_toy(recipe, design)
    except RoundlingError:
        assume(False)
    single = "sc" if design.terms is Terms.US else "dc"
    read = read_parts(text_of(toy), single)
    parts = working_order(recipe)
    assert [(p.title, p.copies) for p in read] == [(p.label.upper(), p.copies) for p in parts]
    for got, asked in zip(read, parts, strict=True):
        part = toy.worked.parts[asked.name]
        if not isinstance(part, WorkedPart):
            assert [count for _, count in got.rounds] == [part.per_row] * part.rows
            continue
        assert len(got.rounds) == len(part.rounds)
        before = 0
        for (row, count), r in zip(got.rounds, part.rounds, strict=True):
            assert count == r.count
            assert row == [kind for kind, times in r.work for _ in range(times)]
            # A count after a line is its checksum: what is used up and what is made.
            assert len(row) + row.count("inc") == count
            if before:
                assert len(row) + row.count("dec") == before
            before = count


@pytest.mark.parametrize("name", TOYS)
@pytest.mark.parametrize("terms", ["us", "uk"])
def test_the_default_patterns_read_back(name: str, terms: str) -> None:
    recipe = recipes()[name]
    check_read_back(design_of(recipe, terms=terms))


@pytest.mark.parametrize("name", TOYS)
@given(data=st.data())
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_patterns_read_back_over_all_slider_ranges(name: str, data: st.DataObject) -> None:
    check_read_back(data.draw(designs(name)))


SECTIONS = (
    "Skill level:",
    "Finished size:",
    "Terms:",
    "MATERIALS",
    "GAUGE",
    "ABBREVIATIONS",
    "BEFORE YOU START",
    "SAFETY",
    "BODY (make 1)",
    "SEWING TOGETHER",
)


@pytest.mark.parametrize("name", TOYS)
def test_sections_come_in_the_usual_order(name: str) -> None:
    """Name, description, level, size, materials, gauge, abbreviations, instructions by part,
    finishing: the order of manufacturers' leaflets, which follow the Craft Yarn Council."""
    text = pattern(name)
    places = [text.index(section) for section in SECTIONS]
    assert places == sorted(places)


@pytest.mark.parametrize("name", TOYS)
@pytest.mark.parametrize("terms", ["us", "uk"])
def test_abbreviations_are_those_used_and_no_others(name: str, terms: str) -> None:
    text = pattern(name, terms=terms)
    listed = re.findall(r"^(\w[\w ]*?) = ", section(text, "ABBREVIATIONS"), re.MULTILINE)
    body = text[text.index("BODY (make") :]
    for short in ("sc", "dc", "inc", "dec", "ch", "sl st", "ss", "st", "sts", "Rnd", "Rnds"):
        used = bool(re.search(rf"(?<![\w-]){short}(?![\w-])", body, re.IGNORECASE))
        assert (short in listed) == used, short


def section(text: str, title: str) -> str:
    return text.split(f"\n\n{title}\n")[1].split("\n\n")[0]


def test_uk_terms_say_double_crochet_and_tension() -> None:
    """US sc is UK dc, gauge is tension: published conversion charts. 'dc' is the one abbreviation
    that changes the toy, so the pattern says whose it is."""
    text = pattern("rabbit", terms="uk")
    assert "Terms: UK" in text
    assert "\n\nTENSION\n" in text
    assert not re.search(r"\d sc\b", text)
    assert "6 dc in a magic ring [6]" in text


def test_eyes_are_placed_before_the_part_is_closed() -> None:
    for name in TOYS:
        lines = unwrapped(pattern(name))
        eyes = next(n for n, line in enumerate(lines) if re.match("Place the|Push each", line))
        end = next(n for n in range(eyes, len(lines)) if "fasten off" in lines[n].lower())
        assert not [line for line in lines[eyes:end] if "(make" in line]
        assert [line for line in lines[eyes:end] if line.startswith("Rnd")]
        assert re.search(r"between Rnds \d+ and \d+, \d+ sts apart", lines[eyes])


def test_a_closed_part_says_when_to_stuff_and_how_to_close() -> None:
    """Stuffing starts before the opening is small; the last stitches are gathered through their
    front loops (four published tutorials agree)."""
    text = " ".join(unwrapped(pattern("whale")))
    assert "Start stuffing firmly" in text
    assert "thread it through the front loops of the last" in text


def test_colour_changes_are_written_in_their_round() -> None:
    """The new colour comes in with the last stitch of the old: common practice, no source."""
    lines = [line for line in unwrapped(pattern("otter")) if "changing to bark brown" in line]
    assert len(lines) == 2
    assert all(re.match(r"Rnd \d+: .+, changing to bark brown in the last st \[", n) for n in lines)


def test_equal_rounds_are_gathered() -> None:
    for name in TOYS:
        lines = unwrapped(pattern(name))
        evens = [bool(re.search(r": sc in each st around \[", line)) for line in lines]
        notes = [not re.match(r"Rnds? ", line) for line in lines]
        for at in range(1, len(lines)):
            assert not (evens[at] and evens[at - 1]) or notes[at]


def test_both_units_of_everything_are_given() -> None:
    """Metric first, then what the other half of the readers use."""
    text = pattern("otter")
    assert re.search(r"\d m \(\d+ yd\), \d+ g, \d ball", text)
    assert re.search(r"Finished size: [\d.]+ cm \([\d /]+ in\)", text)
    assert re.search(r"Filling: about \d+ g \([\d.]+ oz\)", text)
    assert "Hook: 2.75 mm (US C-2)" in text


def test_the_cheeks_are_gathered_in_two_arcs() -> None:
    """Local shaping: increases in two arcs, the rest of the round plain, and taken away again."""
    recipe = recipes()["rabbit"]
    head = make_toy(recipe, default_design(recipe)).worked.parts["head"]
    assert isinstance(head, WorkedPart)
    shaped = [r for r in head.rounds if len(r.sectors) == 4]
    assert len(shaped) >= 6
    cheek = [r.sectors[0] for r in shaped]
    assert all(r.sectors[0] == r.sectors[2] for r in shaped)
    assert all(a == b for r in shaped for a, b in r.sectors[1::2])
    assert max(after for _, after in cheek) >= cheek[0][0] + 3
    assert cheek[-1][1] < max(after for _, after in cheek)
