"""The test gnome, as it is and with lines of its recipe changed, for the tests of its features."""

from __future__ import annotations

from tests.strategies import TEST_TOYS, design_of
from webapp.pattern import pattern_text
from webapp.recipes import Recipe, load_recipe, parse_recipe
from webapp.way import Toy, make_toy
from webapp.web.contexts import Page
from webapp.web.fields import read_design


def gnome(*changes: tuple[str, str]) -> Recipe:
    """The recipe with each first text replaced by the second; a text that is not there fails."""
    text = (TEST_TOYS / "gnome.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return parse_recipe(text, "gnome.toml")


def rabbit() -> Recipe:
    return load_recipe(TEST_TOYS.parent.parent / "webapp" / "toys" / "rabbit.toml")


def made(recipe: Recipe, **texts: object) -> Toy:
    return make_toy(recipe, design_of(recipe, **texts))


def text_of(toy: Toy) -> str:
    return pattern_text(toy.worked, toy.materials, toy.cautions)


def page_of(recipe: Recipe, **texts: object) -> Page:
    reading = read_design(recipe, {name: [str(text)] for name, text in texts.items()})
    return Page(recipe, reading, make_toy(recipe, reading.design), {})
