"""The toys on offer and a small memory of those lately worked out."""

from __future__ import annotations

from collections import OrderedDict
from pathlib import Path
from threading import Lock

from flask import current_app

from webapp.errors import RoundlingError
from webapp.recipes import Recipe, RecipeError, load_recipes
from webapp.sizing import size_design
from webapp.way import Toy, make_toy, nearest_that_works
from webapp.web.fields import Reading, read_design

TOYS = Path(__file__).resolve().parent.parent / "toys"
REMEMBERED = 32


def workshop() -> Workshop:
    """The workshop of the application that answers this request."""
    found = current_app.config["WORKSHOP"]
    assert isinstance(found, Workshop)
    return found


class Workshop:
    """Loads the recipes once and makes toys, one at a time, remembering the last few.

    Solving is pure Python: two at once would only slow each other down, so a lock queues them.
    """

    def __init__(self, folder: Path = TOYS) -> None:
        self.recipes = load_recipes(folder)
        for recipe in self.recipes.values():
            _make_ready(recipe)
        self._made: OrderedDict[tuple[str, tuple[tuple[str, str], ...]], Toy] = OrderedDict()
        self._lock = Lock()

    def make(self, recipe: Recipe, reading: Reading) -> Toy:
        """The toy of a reading; raises :class:`RoundlingError` when a part cannot be made."""
        key = (recipe.key, tuple(reading.accepted.items()))
        with self._lock:
            toy = self._made.get(key)
            if toy is None:
                toy = make_toy(recipe, reading.design)
                self._made[key] = toy
                if len(self._made) > REMEMBERED:
                    self._made.popitem(last=False)
            else:
                self._made.move_to_end(key)
        return toy

    def explained(
        self, recipe: Recipe, reading: Reading, error: RoundlingError
    ) -> RoundlingError:
        """An impossible part's refusal with the nearest height and yarn that can be worked."""
        with self._lock:
            height, finer = nearest_that_works(recipe, reading.design)
        unit = reading.design.unit
        help_by = []
        if height is not None:
            help_by.append(f"{unit.format(height)} tall works")
        if finer is not None:
            help_by.append(f"so does yarn category {finer} at this height")
        nearest = error.nearest
        if help_by:
            nearest = f"{nearest} {_sentence(', '.join(help_by))}"
        return RoundlingError(asked=error.asked, why=error.why, nearest=nearest, field=error.field)


def _make_ready(recipe: Recipe) -> None:
    """Solves and compiles a recipe's rules, so that no request waits for it.

    Raises :class:`RecipeError` when they do not settle every dimension.
    """
    try:
        size_design(recipe, read_design(recipe, {}).design)
    except RoundlingError as error:
        raise RecipeError(f"{recipe.key}.toml", "rules", str(error)) from error


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:] + "."
