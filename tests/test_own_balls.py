"""A part that becomes a ball, in toys whose parts all hang together.

The height of a ball with an opening is that of a sphere cut off: w / 2 + sqrt(w^2 - o^2) / 2
(Pythagoras). That the finished height is what stands on each other is a law of any toy.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.strategies import recipes
from webapp.own import edits
from webapp.own.beginnings import from_recipe
from webapp.recipes import recipe_from_data
from webapp.sizing import size_design
from webapp.web.fields import read_design


def dimensions(data: dict[str, Any], **choices: str) -> dict[str, float]:
    recipe = recipe_from_data(data, "own")
    design = read_design(recipe, {key: [value] for key, value in choices.items()}).design
    return dict(size_design(recipe, design).dimensions)


@pytest.mark.parametrize("toy", ["otter", "owl", "rabbit"])
@pytest.mark.parametrize("key", ["body", "head"])
@pytest.mark.parametrize("to", ["0.7", "1.1"])
def test_head_or_body_becomes_a_ball(toy: str, key: str, to: str) -> None:
    data = edits.change_shape(from_recipe(recipes()[toy]), key, "ball")
    size = dimensions(data, height_cm="24", head_to_body=to)
    parts = {part["name"]: part for part in data["parts"]}
    opening, other = size[parts[key]["lengths"]["opening"]], {"body": "head", "head": "body"}[key]
    wide = size[parts[key]["lengths"]["width"]]
    assert opening < wide
    ball = 0.5 * wide + 0.5 * math.sqrt(wide**2 - opening**2)
    assert size[f"{other}.height"] + ball == pytest.approx(240.0)
    # The proportion between the two is still that of the slider, as it was asked for.
    assert size["head.height"] / size["body.height"] == pytest.approx(float(to))
    # Parts sewn opening to opening have one opening.
    assert parts["head"]["lengths"]["opening"] == parts["body"]["lengths"]["opening"]


def test_an_opening_of_its_own_is_left_alone() -> None:
    data = from_recipe(recipes()["otter"])
    rules = [r if not r.startswith("neck.width") else "neck.width = 0.5 * head.width"
             for r in data["rules"]]  # fmt: skip
    changed = edits.change_shape({**data, "rules": rules}, "head", "ball")
    assert "neck.width = 0.5 * head.width" in changed["rules"]
