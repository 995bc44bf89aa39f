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
    part = words.part(host.label)
    first = words.say("First one: {sl_st} in the next {st}, {fasten_off}.")
    colour = host.colours[0].colour
    if last_colour(legs, toy.parts[legs.name]) != colour:
        second = words.say(
            "Second one: change to {colour} in the last {st}; it goes on as the {part}.",
            colour=words.name(toy.recipe.colours[colour].name),
            part=part,
        )
    else:
        second = words.say(
            "Second one: do not cut the yarn, it goes on as the {part}.", part=part
        )
    how = {
        Filling.FIRM: words.say("Stuff both firmly up to the open edge."),
        Filling.LIGHT: words.say("Stuff both lightly up to the open edge."),
    }
    stuff = how.get(legs.filling) or words.say("Do not stuff.")
    return words.manner.gap.join((first, second, stuff))


def before_joining(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedPart, words: TermSet
) -> Iterator[str]:
    """What to do before the round that joins the legs; nothing for other parts."""
    if recipe.legs is None:
        return
    legs = toy.recipe.part(recipe.legs.part)
    legs_part = toy.parts[legs.name]
    yield words.say(
        "Hold the legs side by side and work on from the second; the rounds now start at the "
        "back, between the legs. Close any gap there with the end left on the first leg."
    )
    if isinstance(legs_part, WorkedPart) and legs.bulges:
        yield words.say(
            "Both legs look forward, the second on your left as they face you. First work "
            "{number} {sc} more on it, to its inner side; join to the inner side of the first.",
            number=round(part.per_leg / 4),
        )
