"""Which ends of a part are open, as far as its recipe says so."""

from __future__ import annotations

from webapp.formulas import Number
from webapp.recipes.model import PartRecipe

ALWAYS_OPEN = ("tube", "sleeve", "cone", "dome", "disc", "oval", "ear")


def is_open(part: PartRecipe) -> bool:
    """Whether a part ends in an open edge."""
    if part.points:
        return part.points[-1][1] != Number(0.0)
    return part.shape in ALWAYS_OPEN or "opening" in part.lengths


def is_open_at_start(part: PartRecipe) -> bool:
    """Whether a part is begun at an opening: on a ring of chains, or on two legs."""
    if part.points:
        return part.points[0][1] != Number(0.0)
    return part.shape == "sleeve" or "start" in part.lengths
