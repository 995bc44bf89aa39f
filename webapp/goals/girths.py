"""A girth to the very stitch, where no height alone has it.

Simple counts pass some numbers over. Held, a girth is met simple or not; then the finished height
follows it, and everything else stays in proportion.
"""

from __future__ import annotations

from dataclasses import replace

from webapp.errors import RoundlingError
from webapp.goals.model import Goal, Reached, Step
from webapp.recipes import Design, Recipe
from webapp.rounds import WorkedPart
from webapp.way import work_parts

FEWEST = 4


def held_girth(recipe: Recipe, design: Design, goal: Goal) -> Reached | None:
    """The design whose part has exactly the stitches nearest to ``goal.value`` mm at its widest;
    None where holding the girth does not give that either."""
    stitch = design.gauge.stitch_mm
    wanted = max(FEWEST, round(goal.value / stitch))
    found = _with(recipe, design, goal.about, wanted)
    if found is None:
        return None
    up, down = (
        Step(beside.sliders["height"], count * stitch)
        if (beside := _with(recipe, design, goal.about, count)) is not None
        else None
        for count in (wanted + 1, wanted - 1)
    )
    return Reached(found, wanted * stitch, up, down)


def _with(recipe: Recipe, design: Design, part: str, count: int) -> Design | None:
    """The design with a part's girth held at so many stitches, if it comes out with them."""
    name = f"{part}.girth"
    if name not in recipe.measures.by_name or count < FEWEST:
        return None
    ratios = {n: v for n, v in design.sliders.items() if n != "height" and v > 0.0}
    held = {n: v for n, v in design.held.items() if n != "toy.height"} | ratios
    held[name] = count * design.gauge.stitch_mm
    try:
        sizing, parts = work_parts(recipe, replace(design, held=held))
    except RoundlingError:
        return None
    worked = parts[part]
    if not isinstance(worked, WorkedPart) or max(worked.counts) != count:
        return None
    return sizing.design
