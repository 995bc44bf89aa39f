"""Recipes: a toy as data, its parts, proportions, colours and face, checked on loading.

Imports :mod:`webapp.formulas` and :mod:`webapp.shapes` (for the names of a shape's lengths).
Start reading at :mod:`webapp.recipes.model`; files are read by :mod:`webapp.recipes.loading`; what
a maker can set is in :mod:`webapp.recipes.sliders`. The toys themselves lie in ``webapp/toys``.
"""

from webapp.recipes.design import Design, Fibre
from webapp.recipes.loading import load_recipe, load_recipes, parse_recipe, recipe_from_data
from webapp.recipes.measures import EYE_GAP, SCALE, Measure, drawn
from webapp.recipes.model import (
    Band,
    BulgeSpec,
    Colour,
    EyeKind,
    EyeSpec,
    Filling,
    Legs,
    Mark,
    MarkKind,
    PartRecipe,
    Place,
    Recipe,
    Seat,
    SliderRange,
)
from webapp.recipes.sliders import SLIDERS, SliderKind
from webapp.recipes.tables import RecipeError

__all__ = [
    "EYE_GAP",
    "SCALE",
    "SLIDERS",
    "Band",
    "BulgeSpec",
    "Colour",
    "Design",
    "EyeKind",
    "EyeSpec",
    "Fibre",
    "Filling",
    "Legs",
    "Mark",
    "MarkKind",
    "Measure",
    "PartRecipe",
    "Place",
    "Recipe",
    "RecipeError",
    "Seat",
    "SliderKind",
    "SliderRange",
    "drawn",
    "load_recipe",
    "load_recipes",
    "parse_recipe",
    "recipe_from_data",
]
