"""Two legs that are joined as the body begins, in words.

Legs that have a front are joined at their inner sides, a quarter of a round on from the centre
back; on others any stitch will do.
"""

from __future__ import annotations

from collections.abc import Iterator

from webapp.assembly import WorkedToy
from webapp.materials.yarn import last_colour
from webapp.recipes import Filling, PartRecipe
from webapp.rounds import WorkedPart
from webapp.yarns import TermSet


def legs_end(toy: WorkedToy, legs: PartRecipe, words: TermSet) -> str:
    """How the two legs end: the first is put by, the second goes on as its host."""
    host = toy.recipe.part(legs.place.on)
    ended = f"{words.sl_st} in the next {words.st}, {words.fasten_off}"
    how = {Filling.FIRM: "Stuff both firmly", Filling.LIGHT: "Stuff both lightly"}
    stuff = how.get(legs.filling)
    stuff = f"{stuff} up to the open edge." if stuff else "Do not stuff."
    on = f"it goes on as the {host.label.lower()}"
    second = f"do not cut the yarn, {on}"
    colour = host.colours[0].colour
    if last_colour(legs, toy.parts[legs.name]) != colour:
        name = toy.recipe.colours[colour].name
        second = f"change to {name} in the last {words.st}; {on}"
    return f"First one: {ended}. Second one: {second}. {stuff}"


def before_joining(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedPart, words: TermSet
) -> Iterator[str]:
    """What to do before the round that joins the legs; nothing for other parts."""
    if recipe.legs is None:
        return
    legs = toy.recipe.part(recipe.legs.part)
    legs_part = toy.parts[legs.name]
    yield (
        "Hold the legs side by side and work on from the second; the rounds now start at the "
        "back, between the legs. Close any gap there with the end left on the first leg."
    )
    if isinstance(legs_part, WorkedPart) and legs.bulges:
        quarter = round(part.per_leg / 4)
        yield (
            f"Both legs look forward, the second on your left as they face you. First work "
            f"{quarter} {words.sc} more on it, to its inner side; join to the inner side of the "
            "first."
        )
