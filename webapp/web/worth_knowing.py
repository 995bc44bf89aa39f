"""What of a recipe's features did not come out in this very toy, in a sentence each."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.assembly import WorkedToy
from webapp.materials.yarn import bands_without_a_round, colours_worked
from webapp.recipes import PartRecipe
from webapp.rounds import WorkedPart


def feature_warnings(toy: WorkedToy) -> list[str]:
    """Sentences for the page, in the order of the parts."""
    return [text for part in toy.recipe.parts for text in _missing_colours(toy, part)]


def _missing_colours(toy: WorkedToy, recipe: PartRecipe) -> Iterator[str]:
    """Bands and stripes for which a part is too short."""
    part = toy.parts[recipe.name]
    if not isinstance(part, WorkedPart):
        return
    rounds = len(part.rounds)
    names = {key: colour.name for key, colour in toy.recipe.colours.items()}
    help_it = "A bigger toy or a finer yarn has more."
    missing = bands_without_a_round(recipe, rounds)
    for band in missing:
        where = f", which begins at round {band.at_round}," if band.at_round else ""
        yield (
            f"{recipe.label}: the band in {names[band.colour]}{where} gets no round; the part has "
            f"{rounds}. {help_it}"
        )
    worked = colours_worked(recipe, part)
    for band in recipe.colours:
        lost = [names[c] for c in band.others if c not in worked]
        if band not in missing and lost:
            yield (
                f"{recipe.label}: stripes of {band.every} rounds leave no round for "
                f"{' and '.join(lost)}. {help_it}"
            )
