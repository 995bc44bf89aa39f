"""Shared strategies: designs anywhere in the whole slider ranges of any toy."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from webapp.recipes import Design, Recipe, load_recipes
from webapp.web.fields import read_design
from webapp.yarns import CATEGORIES

TOYS = Path(__file__).resolve().parent.parent / "webapp" / "toys"
TEST_TOYS = Path(__file__).resolve().parent / "recipes"


@cache
def recipes() -> dict[str, Recipe]:
    """The shipped toys."""
    return load_recipes(TOYS)


def default_design(recipe: Recipe) -> Design:
    return read_design(recipe, {}).design


def design_of(recipe: Recipe, **texts: object) -> Design:
    """The design that an address with these values means; the values must be good."""
    reading = read_design(recipe, {name: [str(text)] for name, text in texts.items()})
    assert not reading.problems, reading.problems
    return reading.design


def with_height(design: Design, height_mm: float) -> Design:
    return replace(design, sliders={**design.sliders, "height": height_mm})


@st.composite
def designs(draw: st.DrawFn, toy: str, tallest_mm: float = 1000.0) -> Design:
    """A design of a shipped toy: every slider anywhere in its range, any yarn, any effort."""
    recipe = recipes()[toy]
    highest = {"height": tallest_mm}
    sliders = {
        name: draw(st.floats(span.low, min(span.high, highest.get(name, span.high))))
        for name, span in recipe.sliders.items()
    }
    category = CATEGORIES[draw(st.integers(0, 7))]
    return replace(
        default_design(recipe),
        sliders=sliders,
        category=category,
        gauge=category.toy_gauge,
        simplicity=draw(st.floats(0, 100)),
        staggered=draw(st.booleans()),
    )
