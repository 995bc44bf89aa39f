"""Where a toy of one's own begins: with nothing, or with a toy that is there."""

from __future__ import annotations

from webapp.formulas import Name, Number, parse_expression
from webapp.own.dimensions import free_name, tie_dimension
from webapp.own.naming import Data, parts_of
from webapp.own.writing import recipe_data
from webapp.recipes import Recipe
from webapp.recipes.loading import LEAST_DIMENSION
from webapp.shapes import RATIOS


def empty_toy() -> Data:
    """A toy with a name, a colour and a height, and no parts yet.

    As a recipe it is refused for its parts alone.
    """
    return {
        "name": "My toy",
        "line": "A toy of one's own.",
        "level": "easy",
        "rules": [],
        "colours": {
            "main": {"name": "main colour", "hex": "#c9995f"},
            "dark": {"name": "dark brown", "hex": "#4a3428"},
        },
        "sliders": {"height": {"low": 50, "high": 500, "default": 150}},
        "dimensions": {},
        "parts": [],
    }


def from_recipe(recipe: Recipe) -> Data:
    """A toy as one's own: every length of a part a named dimension.

    A length in mm becomes a dimension with that value, a formula a rule; the length is then the
    dimension's name. Where that name means something else already, a number is added to it.
    """
    data = recipe_data(recipe)
    data.setdefault("dimensions", {})
    for part in parts_of(data):
        for key, value in part["lengths"].items():
            formula = parse_expression(str(value))
            if key in RATIOS or isinstance(formula, Name):
                continue
            if isinstance(formula, Number) and not LEAST_DIMENSION <= formula.value <= 5000.0:
                continue
            name = free_name(data, f"{part['name']}.{key}")
            part["lengths"][key] = name
            if isinstance(formula, Number):
                data["dimensions"][name] = value
            else:
                tie_dimension(data, name, str(value))
    return data
