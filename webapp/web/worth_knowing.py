"""What of a recipe's features did not come out in this very toy, in a sentence each."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from webapp.assembly import MarkPlace, PlacedPart, Seam, WorkedToy
from webapp.materials import EyeNeed
from webapp.materials.yarn import bands_without_a_round, colours_worked
from webapp.recipes import PartRecipe
from webapp.rounds import WorkedPart

NOTHING_MM = 0.05
"""What is set to stand out no farther was not asked for; a slider at 0 comes to a little more."""


def size_warnings(toy: WorkedToy, length: Callable[[float], str]) -> list[str]:
    """Lengths that whole stitches miss by much; ``length`` words one, mm."""
    flat = {p.label.lower() for p in toy.recipe.parts if p.place.lies_flat}
    found = []
    for size in toy.sizes:
        off = abs(size.stitched_mm - size.asked_mm)
        telling = size.what != "open edge" and size.part not in flat
        if telling and off > 0.1 * size.asked_mm and off > 3.0:
            found.append(
                f"{size.part.capitalize()}: the {size.what} comes out {length(size.stitched_mm)} "
                f"where {length(size.asked_mm)} was asked for. Whole stitches do not come nearer "
                "in so small a part; a finer yarn or a bigger toy does."
            )
    return found


def eye_warnings(toy: WorkedToy, eyes: EyeNeed | None) -> list[str]:
    """Eyes that are not of the kind that the toy has, but for those of small children."""
    asked = toy.recipe.eyes.kind if toy.recipe.eyes is not None else None
    if eyes is not None and eyes.kind is not asked and not toy.design.under_three:
        return [f"The eyes are embroidered: {eyes.why}."]
    return []


def feature_warnings(toy: WorkedToy) -> list[str]:
    """Sentences for the page, in the order of the parts."""
    found = [text for part in toy.recipe.parts for text in _missing_colours(toy, part)]
    found += [text for part in toy.recipe.parts for text in _left_even(toy, part)]
    found += [text for seam in toy.seams for text in _crowded(toy, seam)]
    return found + [text for place in toy.marks for text in _cut_short(toy, place)]


def _crowded(toy: WorkedToy, seam: Seam) -> Iterator[str]:
    """Copies round a host that have less room than they are wide."""
    guest, host = toy.placed[seam.part], toy.placed[seam.host]
    if seam.evenly < 2 or not isinstance(guest, PlacedPart) or not isinstance(host, PlacedPart):
        return
    first, second = guest.copies[0].frame, guest.copies[1].frame
    gap = second.at(guest.part.height_mm) - first.at(guest.part.height_mm)
    room = float(np.linalg.norm(gap))
    wide = 2.0 * float(np.linalg.norm(
        np.array([guest.edge_ref_mm[-1] * (first.reference @ gap),
                  guest.edge_side_mm[-1] * (first.side @ gap)])
    )) / max(room, 1e-9)
    if wide > room:
        unit = toy.design.unit
        yield (
            f"{guest.recipe.label}: {seam.evenly} of them have {unit.format(room)} each round the "
            f"{host.recipe.label.lower()} and are {unit.format(wide)} wide, so their edges run "
            "into each other. Fewer or thinner ones fit."
        )


def _cut_short(toy: WorkedToy, place: MarkPlace) -> Iterator[str]:
    if place.line is not None and place.line.cut:
        host = toy.recipe.part(place.mark.on).label.lower()
        yield f"{place.mark.label}: the {host} ends before it does, so it is cut short."


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


def _left_even(toy: WorkedToy, recipe: PartRecipe) -> Iterator[str]:
    """Shaping that is asked for and of which nothing is worked."""
    part = toy.parts[recipe.name]
    if not isinstance(part, WorkedPart):
        return
    worked = [shaped.bulge for shaped in part.shaped if np.any(shaped.bump_mm > 0.0)]
    for bulge in part.order.bulges:
        if bulge.depth_mm > NOTHING_MM and bulge not in worked:
            out = toy.design.unit.format(bulge.depth_mm)
            yield (
                f"{recipe.label}: the shaping “{bulge.label}” is left out. Standing out {out}, it "
                "gains no stitch there or has too few rounds for one. One that stands out farther "
                "or goes on for longer is worked; so is one in a bigger toy or a finer yarn."
            )
