"""The toy in whole stitches, sewn together: what all later stages read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.assembly.place import Placed, Size
from webapp.assembly.seams import EyePlace, MarkPlace, Seam
from webapp.recipes import Design, Recipe
from webapp.rounds import WorkedPart, WorkedStrip


@dataclass(frozen=True)
class PartSize:
    """A dimension of a part asked for and as stitched, mm."""

    part: str
    what: str
    asked_mm: float
    stitched_mm: float


@dataclass(frozen=True, eq=False)
class WorkedToy:
    """A design worked out: dimensions (mm), parts, places, seams, eyes, marks, sizes.

    ``following`` are the sliders that give way to what is held, ``free`` the dimensions that rules
    let go leave at the recipe's own values.
    """

    recipe: Recipe
    design: Design
    dimensions: Mapping[str, float]
    parts: Mapping[str, WorkedPart | WorkedStrip]
    placed: Mapping[str, Placed]
    seams: tuple[Seam, ...]
    eyes: EyePlace | None
    marks: tuple[MarkPlace, ...]
    size: Size
    sizes: tuple[PartSize, ...]
    following: tuple[str, ...] = ()
    free: tuple[str, ...] = ()

    @property
    def stitches(self) -> int:
        """Stitches of all parts, copies counted."""
        return sum(self.parts[p.name].stitches * p.copies for p in self.recipe.parts)
