"""Our own written patterns come apart exactly: parts, copies, labels, bodies."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.strategies import design_of, designs, recipes
from tests.test_pattern import TOYS, text_of
from webapp.errors import RoundlingError
from webapp.pattern import LineKind, part_lines, working_order
from webapp.reading.sheet import RoundLine, Sheet
from webapp.reading.splitting import read_sheet
from webapp.recipes import Design, Recipe, load_recipe
from webapp.terms import Language
from webapp.way import Toy, make_toy
from webapp.yarns import Terms, term_set

TEST_TOYS = sorted((Path(__file__).parent / "recipes").glob("*.toml"))


def rounds_of(sheet: Sheet) -> list[list[tuple[int | None, int | None, str]]]:
    """For each part the numbers and the body (its lines joined) of each round."""
    text = sheet.clean.text
    return [
        [
            (line.first, line.last, " ".join(text[line.body.start : line.body.end].split()))
            for line in part.lines
            if isinstance(line, RoundLine)
        ]
        for part in sheet.parts
    ]


def check_apart(recipe: Recipe, toy: Toy) -> Sheet:
    """The sheet of a toy's pattern has the writer's own lines (webapp.pattern is the source)."""
    words = term_set(toy.worked.design.terms)
    sheet = read_sheet(text_of(toy))
    asked = working_order(recipe)
    assert [(p.title, p.copies) for p in sheet.parts] == [
        (part.label.upper(), part.copies) for part in asked
    ]
    for part, got in zip(asked, rounds_of(sheet), strict=True):
        lines = part_lines(toy.worked, toy.materials, part, words)
        assert got == [
            (line.first, line.last, f"{line.text} [{line.count}]")
            for line in lines
            if line.kind is LineKind.ROUND
        ]
    assert sheet.language is (Language.US if words.terms is Terms.US else Language.UK)
    assert sheet.title == recipe.name.upper()
    for part in sheet.parts:
        for line in part.lines:
            if isinstance(line, RoundLine):
                assert line.label.startswith("Row" if line.says_row else "Rnd")
                assert line.label.endswith(":")
    return sheet


@pytest.mark.parametrize("terms", ["us", "uk"])
@pytest.mark.parametrize("name", TOYS)
def test_our_own_pattern_comes_apart_as_it_was_put_together(name: str, terms: str) -> None:
    recipe = recipes()[name]
    sheet = check_apart(recipe, make_toy(recipe, design_of(recipe, terms=terms)))
    assert sheet.gauge is not None
    assert (sheet.gauge.stitches, sheet.gauge.rounds) == (24.0, 25.0)  # category 3, as printed


@pytest.mark.parametrize("path", TEST_TOYS, ids=lambda path: path.stem)
def test_joined_legs_open_starts_and_stripes_come_apart_too(path: Path) -> None:
    recipe = load_recipe(path)
    check_apart(recipe, make_toy(recipe, design_of(recipe)))


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(st.sampled_from(TOYS).flatmap(designs))
def test_any_size_comes_apart(design: Design) -> None:
    recipe = recipes()[design.toy]
    try:
        toy = make_toy(recipe, design)
    except RoundlingError:
        assume(False)
    check_apart(recipe, toy)
