"""What is written is read back: the patterns of our own toys, and random rounds said in many ways.

What a pattern was written from is what the reading is held against: nothing here is a value of the
reader's own. That a chain's ends take three stitches each, and that a strip's first row misses one
chain, are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.strategies import TEST_TOYS, default_design, design_of, designs, recipes
from tests.strategies_own import own_toys
from tests.test_pattern import TOYS, text_of
from webapp.errors import RoundlingError
from webapp.pattern import LineKind, part_lines, working_order
from webapp.reading import Begin, ReadPart, ReadPattern, Verdict, Work, read_pattern
from webapp.recipes import Design, PartRecipe, Recipe, load_recipe, recipe_from_data
from webapp.rounds import Start, WorkedPart, WorkedStrip
from webapp.terms import Language
from webapp.way import Toy, make_toy
from webapp.yarns import LengthUnit, Terms, term_set

BEGINS = {
    Start.RING: Begin.RING,
    Start.CHAIN: Begin.OVAL,
    Start.OPEN: Begin.CHAIN_RING,
    Start.LEGS: Begin.LEGS,
}
LANGUAGES = {Terms.US: Language.US, Terms.UK: Language.UK}
TEST_RECIPES = sorted(path.stem for path in TEST_TOYS.glob("*.toml"))
SLOW = settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))


def plain(text: str) -> str:
    """The words of a text, however they are broken into lines."""
    return " ".join(text.split())


def check_reads_back(recipe: Recipe, design: Design) -> None:
    """The pattern of a toy, read, is what was worked."""
    try:
        toy = make_toy(recipe, design)
    except RoundlingError:
        assume(False)
    text = text_of(toy)
    read = read_pattern(text)
    assert read.language is LANGUAGES[design.terms]
    assert plain(read.title) == plain(recipe.name.upper())
    asked = working_order(recipe)
    assert [p.title for p in read.parts] == [p.label.upper() for p in asked]
    assert [p.copies for p in read.parts] == [p.copies for p in asked]
    for part, one in zip(read.parts, asked, strict=True):
        check_part(part, toy, one)
    check_sewing(read, toy)
    assert read_pattern(text, read.language).parts == read.parts


def check_part(read: ReadPart, toy: Toy, recipe: PartRecipe) -> None:
    part = toy.worked.parts[recipe.name]
    for r in read.rounds:
        assert r.verdict is Verdict.AGREES, (r.label, r.findings, r.choices)
        assert not r.choices
        assert r.stated == r.gives == r.count
    assert [r.number for r in read.rounds] == [*range(1, len(read.rounds) + 1)]
    if isinstance(part, WorkedStrip):
        check_strip(read, part)
    else:
        check_rounds(read, part)
    check_remarks(read, toy, recipe)


def check_strip(read: ReadPart, part: WorkedStrip) -> None:
    assert (read.begin, read.rows, read.closed) == (Begin.FLAT, True, False)
    assert read.chain == part.per_row + 1
    assert [r.work for r in read.rounds] == [(("sc", part.per_row),)] * part.rows
    assert all(r.turned for r in read.rounds[1:])


def check_rounds(read: ReadPart, part: WorkedPart) -> None:
    order = part.order
    assert (read.begin, read.rows) == (BEGINS[order.start], False)
    assert read.closed == part.closed
    assert read.counts == part.counts
    legs = order.start is Start.LEGS
    assert read.per_leg == ((part.per_leg, part.per_leg) if legs else ())
    chains = {
        Start.RING: 0,
        Start.CHAIN: part.straight_stitches + 3,
        Start.OPEN: part.counts[0],
        Start.LEGS: order.chain,
    }
    assert read.chain == chains[order.start]
    first: Work = (("sc", part.counts[0]),)
    if order.start is Start.CHAIN:
        side = ("sc", part.straight_stitches)
        first = (("inc3", 1), side, ("inc3", 1), side)
    assert read.rounds[0].work == first
    for r, worked in zip(read.rounds[1:], part.rounds[1:], strict=True):
        assert (r.before, r.work) == (worked.before, worked.work)
        assert (r.loops, r.joined, r.turned, r.left) == ("", False, False, 0)


def check_remarks(read: ReadPart, toy: Toy, recipe: PartRecipe) -> None:
    """What is said between two rounds of the part is a remark between those two."""
    words = term_set(toy.worked.design.terms)
    said: dict[int, str] = {}
    for remark in read.remarks:
        said[remark.after] = f"{said.get(remark.after, '')} {plain(remark.text)}"
    after = 0
    for line in part_lines(toy.worked, toy.materials, recipe, words):
        if line.kind is LineKind.ROUND:
            after = line.last
        else:
            assert plain(line.text) in said.get(after, ""), (read.title, after)


def check_sewing(read: ReadPattern, toy: Toy) -> None:
    """What is done when all parts are made belongs to none of them."""
    last = read.parts[-1]
    assert read.text.index("SEWING TOGETHER") >= last.span.end
    assert any(remark.span.start >= last.span.end for remark in read.remarks)
    assert not any("SEWING TOGETHER" in r.text for part in read.parts for r in part.remarks)


@pytest.mark.parametrize("name", TOYS)
@pytest.mark.parametrize("terms", ["us", "uk"])
@pytest.mark.parametrize("unit", ["cm", "in"])
def test_the_default_patterns_read_back(name: str, terms: str, unit: str) -> None:
    recipe = recipes()[name]
    check_reads_back(recipe, design_of(recipe, terms=terms, units=unit))


@pytest.mark.parametrize("name", TOYS)
@given(data=st.data())
@SLOW
def test_patterns_read_back_over_all_slider_ranges(name: str, data: st.DataObject) -> None:
    design = data.draw(designs(name))
    terms = data.draw(st.sampled_from(list(LANGUAGES)))
    unit = data.draw(st.sampled_from(LengthUnit))
    check_reads_back(recipes()[name], replace(design, terms=terms, unit=unit))


@pytest.mark.parametrize("name", TEST_RECIPES)
@pytest.mark.parametrize("terms", list(LANGUAGES))
@pytest.mark.parametrize("simplicity", [0.0, 100.0])
def test_the_patterns_of_more_toys_read_back(name: str, terms: Terms, simplicity: float) -> None:
    recipe = load_recipe(TEST_TOYS / f"{name}.toml")
    design = replace(default_design(recipe), terms=terms, simplicity=simplicity)
    check_reads_back(recipe, design)


@given(own_toys(), st.sampled_from(list(LANGUAGES)))
@settings(SLOW, max_examples=60)
def test_the_patterns_of_random_toys_of_ones_own_read_back(
    data: dict[str, Any], terms: Terms
) -> None:
    recipe = recipe_from_data(data, "own")
    check_reads_back(recipe, replace(default_design(recipe), terms=terms))
