"""Sewing together, in rounds and stitches computed from where the parts sit."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.assembly import Seam, WorkedToy
from webapp.materials import Materials
from webapp.pattern.eyes import sewn_eye_line
from webapp.pattern.marks import mark_line
from webapp.pattern.words import stitches_text
from webapp.recipes import Filling, PartRecipe, Seat
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.yarns import TermSet

LONG_WAYS = {
    "across": "long side across",
    "upright": "long side up and down",
    "forward": "long side pointing forward",
    "round": "long sides going round it",
    "lengthwise": "long sides from front to back",
    "outwards": "long sides pointing outwards",
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
        yield mark_line(toy, mark, words)


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
    if seam.evenly > 1:
        where = _round_the_host(seam, words)
    elif guest.place.pair:
        where = _pair_place(seam, words)
    else:
        where = _single_place(toy, seam, words)
    rounds = _flat_rounds(seam, words) if flattened else _rounds(seam, words)
    line = f"{guest.label}: sew{how} {_which(seam, guest)} the {_one(host)} {rounds}, {where}."
    if cup_shaped(guest, toy.parts[guest.name]):
        amount = "firmly" if guest.filling is Filling.FIRM else "lightly"
        line += f" Sew three quarters of the way round, stuff {amount}, and close."
    return line


def _which(seam: Seam, guest: PartRecipe) -> str:
    if seam.evenly > 1:
        return f"all {seam.evenly} evenly round"
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
    if seam.evenly > 1:
        low, high = sorted((seam.inner_round, seam.outer_round))
        return f"each from {words.rnd} {low} to {words.rnd} {high}, all turned the same way"
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


def _round_the_host(seam: Seam, words: TermSet) -> str:
    """How far apart copies are that go all round, and where the first of them is."""
    apart = stitches_text(seam.apart, words)
    if seam.apart_most > seam.apart:
        apart = f"{seam.apart} or {stitches_text(seam.apart_most, words)}"
    first = f"one of them at the {seam.over}"
    if seam.first_at:
        aside = stitches_text(seam.first_at, words)
        first = f"the first {aside} from the middle of the {seam.over}"
    if seam.first_at and 2 * seam.first_at in (seam.apart, seam.apart_most):
        first = f"the middle of the {seam.over} between two of them"
    return f"{apart} from middle to middle (counted on {words.rnd} {seam.counted_on}), {first}"


def _single_place(toy: WorkedToy, seam: Seam, words: TermSet) -> str:
    if seam.side == "front" and toy.eyes is not None and toy.eyes.on == seam.host:
        if seam.first_round > toy.eyes.below_round:
            return "centred below the eyes"
        if seam.last_round < toy.eyes.below_round:
            return "centred over its start" if seam.first_round == 0 else "centred above the eyes"
        return f"centred, reaching up between the eyes ({words.rnd} {toy.eyes.below_round})"
    return f"centred at the {seam.side}"


def _one(part: PartRecipe) -> str:
    return part.label.lower()
