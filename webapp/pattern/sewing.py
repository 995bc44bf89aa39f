"""Sewing together, in rounds and stitches computed from where the parts sit."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.assembly import Seam, WorkedToy
from webapp.recipes import PartRecipe, Seat
from webapp.rounds import WorkedStrip
from webapp.yarns import TermSet


def sewing_lines(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    """One line for each part that is sewn on, and one for each embroidered mark."""
    for seam in toy.seams:
        guest, host = toy.recipe.part(seam.part), toy.recipe.part(seam.host)
        if seam.seat is Seat.OPENING:
            yield _opening(seam, guest, host, words)
        elif seam.seat is Seat.NECK:
            yield _neck(toy, guest, host)
        else:
            yield _surface(toy, seam, guest, host, words)
    for mark in toy.recipe.marks:
        host = toy.recipe.part(mark.on)
        where = "centred below the eyes" if toy.eyes and toy.eyes.on == mark.on else "centred"
        name = toy.recipe.colours[mark.colour].name
        yield (
            f"{mark.label}: embroider it in {name} on the {_one(host)}, {where}, with a few long "
            "stitches side by side."
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
        f"sew it to the {_one(host)} all round and where it crosses."
    )


def _surface(
    toy: WorkedToy, seam: Seam, guest: PartRecipe, host: PartRecipe, words: TermSet
) -> str:
    rounds = f"between {words.rnds} {seam.first_round} and {seam.last_round}"
    if seam.first_round == 0:
        rounds = f"over {words.rnds} 1 to {seam.last_round}"
    if guest.place.pair:
        side = {"front": " in front", "back": " at the back"}.get(seam.side, f" at the {seam.side}")
        where = f"{seam.apart} {words.sts} apart{side}"
        if seam.apart == 0:
            where = f"touching{side}"
        which = "one on each side of the"
    else:
        where = _centred(toy, seam, guest)
        which = "to the"
    flattened = "flatness" in guest.lengths
    flat = ", folded flat," if flattened else ""
    return f"{guest.label}: sew{flat} {which} {_one(host)} {rounds}, {where}."


def _centred(toy: WorkedToy, seam: Seam, guest: PartRecipe) -> str:
    if seam.side == "front" and toy.eyes is not None and toy.eyes.on == seam.host:
        low = seam.first_round >= toy.eyes.below_round
        return "centred below the eyes" if low else "centred between the eyes"
    return f"centred at the {seam.side}"


def _one(part: PartRecipe) -> str:
    return part.label.lower()
