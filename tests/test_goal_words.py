"""Goals as they are written in a form: read in the maker's unit, refused in three sentences."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.strategies import recipes
from webapp.errors import RoundlingError
from webapp.goals import Goal, GoalKind, Step, solve_goal
from webapp.way import make_toy
from webapp.web.fields import Reading, read_design
from webapp.web.goals import (
    goal_choices,
    reached_address,
    reached_sentence,
    reached_values,
    read_goal,
)
from webapp.yarns import LengthUnit

TOYS = ("otter", "owl", "rabbit", "whale")


def reading(toy: str, **texts: str) -> Reading:
    return read_design(recipes()[toy], {name: [text] for name, text in texts.items()})


def test_values_are_read_in_the_makers_unit() -> None:
    """An inch is 25.4 mm and a yard 0.9144 m by definition (agreement of 1959)."""
    otter = recipes()["otter"]
    for word, text, cm, inches in (
        ("yarn.fur", "100", 100.0, 91.44),
        ("girth.head", "10", 100.0, 254.0),
        ("width", "4.5", 45.0, 114.3),
        ("eyes", "9", 9.0, 9.0),
        ("hours", ".5", 0.5, 0.5),
        ("balls.cream", "2", 2.0, 2.0),
    ):
        for unit, value in ((LengthUnit.CM, cm), (LengthUnit.INCH, inches)):
            goal = read_goal(otter, unit, f" {word} ", f" {text} ")
            assert goal.value == pytest.approx(value, rel=1e-12)
            assert f"{goal.kind.value}.{goal.about}".rstrip(".") == word


@pytest.mark.parametrize("toy", TOYS)
@pytest.mark.parametrize("unit", list(LengthUnit))
def test_every_choice_can_be_read(toy: str, unit: LengthUnit) -> None:
    recipe = recipes()[toy]
    choices = goal_choices(recipe, unit)
    assert len({c.word for c in choices}) == len(choices) == len({c.label for c in choices})
    for choice in choices:
        goal = read_goal(recipe, unit, choice.word, "7")
        assert (goal.kind, goal.about) == (choice.kind, choice.about)
    kinds = {choice.kind for choice in choices}
    assert kinds == set(GoalKind)
    strips = {p.name for p in recipe.parts if p.shape == "strip"}
    assert not strips & {choice.about for choice in choices}


@pytest.mark.parametrize(
    ("word", "text", "field"),
    [
        ("", "5", "goal"),
        ("yarn", "5", "goal"),
        ("yarn.gold", "5", "goal"),
        ("girth.scarf", "5", "goal"),
        ("Hours", "5", "goal"),
        ("hours", "", "goal_value"),
        ("hours", "0", "goal_value"),
        ("hours", "-3", "goal_value"),
        ("hours", "nan", "goal_value"),
        ("hours", "1e3", "goal_value"),
        ("hours", "12,5", "goal_value"),
        ("girth.head", "x" * 500, "goal_value"),
    ],
)
def test_what_is_no_goal_is_refused(word: str, text: str, field: str) -> None:
    with pytest.raises(RoundlingError) as refused:
        read_goal(recipes()["rabbit"], LengthUnit.CM, word, text)
    error = refused.value
    assert error.field == field
    assert all(s.endswith(".") for s in (error.asked, error.why, error.nearest))
    assert len(str(error)) < 700


@given(st.text(max_size=40), st.text(max_size=40))
@settings(max_examples=200, deadline=None)
def test_any_texts_are_read_or_refused(word: str, text: str) -> None:
    recipe = recipes()["whale"]
    for goal_word in (word, "hours"):
        try:
            goal = read_goal(recipe, LengthUnit.CM, goal_word, text)
        except RoundlingError as error:
            assert error.field in ("goal", "goal_value")
        else:
            assert goal.value > 0.0


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize(
    ("word", "text"),
    [("yarn.fur", "110"), ("stitches", "5000"), ("round", "60"), ("eyes", "12"), ("width", "5")],
)
def test_the_address_reached_is_the_design_reached(word: str, text: str, units: str) -> None:
    """Whatever else the page's address says is kept; its height gives way."""
    otter = recipes()["otter"]
    page = reading("otter", height_cm="25", units=units, head_to_body="1.1", pace="20", terms="uk")
    goal = read_goal(otter, page.design.unit, word, text)
    reached = solve_goal(otter, page.design, goal)
    values = reached_values(page, reached)
    assert "height_cm" not in values or units == "cm"
    again = read_design(otter, {name: [value] for name, value in values.items()})
    assert not again.problems
    assert again.design.sliders["height"] == pytest.approx(reached.design.sliders["height"])
    assert (again.design.terms, again.design.stitches_per_minute) == (page.design.terms, 20.0)
    one, other = (make_toy(otter, d).worked.stitches for d in (again.design, reached.design))
    assert one == other
    assert reached_address(otter, page, reached).startswith("/toys/otter?height_")


def test_the_sentence_says_what_was_reached_and_what_lies_beside_it() -> None:
    otter = recipes()["otter"]
    design = reading("otter").design
    goal = Goal(GoalKind.STITCHES, 5000.0)
    reached = solve_goal(otter, design, goal)
    said = reached_sentence(otter, goal, reached)
    assert reached.up is not None
    assert f"{reached.value:,.0f} stitches; asked for: at most 5,000 stitches." in said
    for step in (reached.up, reached.down):
        assert isinstance(step, Step)
        assert f"{step.value:,.0f} stitches" in said
        assert f"{step.height_mm / 10:.2f}".rstrip("0").rstrip(".") + " cm tall" in said
    assert "slider ends" not in said


def test_the_sentence_says_when_the_slider_ends_or_stitches_do_not_come_nearer() -> None:
    otter = recipes()["otter"]
    design = reading("otter").design
    most = Goal(GoalKind.BALLS, 9.0, "cream")
    assert "slider ends" in reached_sentence(otter, most, solve_goal(otter, design, most))
    stitch = design.gauge.stitch_mm
    for stitches in (n for n in range(60, 120) if n % 3):
        girth = Goal(GoalKind.GIRTH, stitches * stitch, "head")
        reached = solve_goal(otter, design, girth)
        said = reached_sentence(otter, girth, reached)
        found = re.search(r", (\d+) stitches\.", said)
        assert found
        assert (int(found[1]) == stitches) == reached.exact
        assert (f"has {stitches} stitches" in said) != reached.exact


@pytest.mark.parametrize("toy", TOYS)
def test_no_yarn_is_offered_as_a_goal_that_a_toy_takes_none_of(toy: str) -> None:
    """What is only embroidered takes thread: common practice, no source."""
    recipe = recipes()[toy]
    taken = {need.colour for need in make_toy(recipe, reading(toy).design).materials.yarns}
    choices = {choice.word for choice in goal_choices(recipe, LengthUnit.CM)}
    for kind in ("yarn", "balls"):
        assert {word for word in choices if word.startswith(f"{kind}.")} == {
            f"{kind}.{colour}" for colour in taken
        }
    for colour in recipe.colours.keys() - taken:
        with pytest.raises(RoundlingError):
            read_goal(recipe, LengthUnit.CM, f"yarn.{colour}", "50")
