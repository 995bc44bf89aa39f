"""Sewing together, in rounds and stitches computed from where the parts sit."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.assembly import MarkPlace, Seam, WorkedToy
from webapp.materials import Materials
from webapp.pattern.eyes import sewn_eye_line
from webapp.pattern.words import stitches_text
from webapp.recipes import Filling, PartRecipe, Seat
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.yarns import TermSet

LONG_WAYS = {
    "across": "long side across",
    "upright": "long side up and down",
    "forward": "long side pointing forward",
}

OVER = {
    "front": " across the front",
    "back": " across the back",
    "top": " over the top",
    "underside": " underneath",
}


def sewing_lines(toy: WorkedToy, materials: Materials, words: TermSet) -> Iterator[str]:
    """One line for each part that is sewn on, each embroidered mark, and eyes that are sewn."""
    for seam in toy.seams:
        guest, host = toy.recipe.part(seam.part), toy.recipe.part(seam.host)
        if seam.seat is Seat.OPENING:
            yield _opening(seam, guest, host, words)
        elif seam.seat is Seat.NECK:
            yield _neck(toy, guest, host)
        else:
            yield _surface(toy, seam, guest, host, words)
    line = sewn_eye_line(toy, materials, words)
    if line:
        yield line
    for mark in toy.marks:
        yield _mark(toy, mark, words)


def cup_shaped(recipe: PartRecipe, part: WorkedPart | WorkedStrip) -> bool:
    """Whether a part is too shallow to hold filling until it is sewn on."""
    return (
        isinstance(part, WorkedPart)
        and recipe.place.seat is Seat.SURFACE
        and recipe.filling is not Filling.NONE
        and part.height_mm < 0.9 * part.widest_mm
    )


def _opening(seam: Seam, guest: PartRecipe, host: PartRecipe, words: TermSet) -> str:
    return (
        f"{guest.label}: sew its {seam.stitches} open {words.sts} to the {seam.stitches} "
        f"{words.sts} of the {_one(host)}, {words.st} to {words.st}. Top up the filling at the "
        "neck before the last few, so that the head does not nod."
    )


def _neck(toy: WorkedToy, guest: PartRecipe, host: PartRecipe) -> str:
    part = toy.parts[guest.name]
    assert isinstance(part, WorkedStrip)
    long = toy.design.unit.format(part.length_mm)
    return (
        f"{guest.label} ({long} long): lay it round the neck with the ends crossed in front, and "
        f"sew it to the {_one(host)} all round, where it crosses, and along both ends."
    )


def _surface(
    toy: WorkedToy, seam: Seam, guest: PartRecipe, host: PartRecipe, words: TermSet
) -> str:
    flattened = "flatness" in guest.lengths
    how = ", folded flat," if flattened else ""
    if seam.long_way:
        how = f", {LONG_WAYS[seam.long_way]},"
    where = _pair_place(seam, words) if guest.place.pair else _single_place(toy, seam, words)
    rounds = _flat_rounds(seam, words) if flattened else _rounds(seam, words)
    line = f"{guest.label}: sew{how} {_which(seam, guest)} the {_one(host)} {rounds}, {where}."
    if cup_shaped(guest, toy.parts[guest.name]):
        amount = "firmly" if guest.filling is Filling.FIRM else "lightly"
        line += f" Sew three quarters of the way round, stuff {amount}, and close."
    return line


def _which(seam: Seam, guest: PartRecipe) -> str:
    if not guest.place.pair:
        return "to"
    if seam.side == "side":
        return "one to each side of"
    return f"side by side to the {seam.side} of"


def _rounds(seam: Seam, words: TermSet) -> str:
    if seam.first_round == 0:
        return f"over {words.rnds} 1 to {seam.last_round}"
    return f"between {words.rnds} {seam.first_round} and {seam.last_round}"


def _flat_rounds(seam: Seam, words: TermSet) -> str:
    """An edge folded flat lies along a round, or slants from one to another."""
    if seam.inner_round == seam.outer_round:
        return f"along {words.rnd} {seam.inner_round}"
    return (
        f"with the inner end at {words.rnd} {seam.inner_round} and the outer end at {words.rnd} "
        f"{seam.outer_round}"
    )


def _pair_place(seam: Seam, words: TermSet) -> str:
    if seam.apart == 0:
        return "touching each other"
    over = OVER.get(seam.over, "")
    return (
        f"{stitches_text(seam.apart, words)} apart{over} (counted on {words.rnd} "
        f"{seam.counted_on})"
    )


def _single_place(toy: WorkedToy, seam: Seam, words: TermSet) -> str:
    if seam.side == "front" and toy.eyes is not None and toy.eyes.on == seam.host:
        if seam.first_round > toy.eyes.below_round:
            return "centred below the eyes"
        if seam.last_round < toy.eyes.below_round:
            return "centred over its start" if seam.first_round == 0 else "centred above the eyes"
        return f"centred, reaching up between the eyes ({words.rnd} {toy.eyes.below_round})"
    return f"centred at the {seam.side}"


def _mark(toy: WorkedToy, place: MarkPlace, words: TermSet) -> str:
    mark = place.mark
    host = toy.recipe.part(mark.on)
    rounds = (
        f"over {words.rnd} {place.first_round}"
        if place.first_round == place.last_round
        else f"over {words.rnds} {place.first_round} to {place.last_round}"
    )
    where = "centred"
    if mark.pair:
        where = "on both sides, below the eyes" if _below_eyes(toy, place) else "on both sides"
    elif toy.eyes is not None and toy.eyes.on == mark.on:
        where = "centred"
        if place.first_round > toy.eyes.below_round:
            where = "centred below the eyes"
    name = toy.recipe.colours[mark.colour].name
    return (
        f"{mark.label}: embroider in {name} on the {_one(host)} {rounds}, "
        f"{stitches_text(place.stitches, words)} wide, {where}, with long stitches side by side."
    )


def _below_eyes(toy: WorkedToy, place: MarkPlace) -> bool:
    """Whether each of a pair of marks lies below an eye, on the same side of the part."""
    eyes = toy.recipe.eyes
    if eyes is None or eyes.on != place.mark.on:
        return False
    return 0.0 <= abs(place.mark.around) - eyes.around < 45.0


def _one(part: PartRecipe) -> str:
    return part.label.lower()
