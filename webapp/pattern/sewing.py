"""Sewing together, in rounds and stitches computed from where the parts sit."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.assembly import Seam, WorkedToy
from webapp.materials import Materials
from webapp.pattern.eyes import sewn_eye_line
from webapp.pattern.marks import OVER, mark_line
from webapp.pattern.words import over_rounds, stitches_text
from webapp.recipes import Filling, PartRecipe, Seat
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.words import noted
from webapp.yarns import TermSet

LONG_WAYS = {
    "across": noted(", long side across,"),
    "upright": noted(", long side up and down,"),
    "forward": noted(", long side pointing forward,"),
    "round": noted(", long sides going round it,"),
    "lengthwise": noted(", long sides from front to back,"),
    "outwards": noted(", long sides pointing outwards,"),
}

SIDES = {
    "front": noted("front"),
    "back": noted("back"),
    "side": noted("side"),
    "top": noted("top"),
    "underside": noted("underside"),
}


def sewing_lines(toy: WorkedToy, materials: Materials, words: TermSet) -> Iterator[str]:
    """One line for each part that is sewn on, each embroidered mark, and eyes that are sewn."""
    for seam in toy.seams:
        guest, host = toy.recipe.part(seam.part), toy.recipe.part(seam.host)
        if seam.seat is Seat.OPENING:
            yield _opening(seam, guest, host, words)
        elif seam.seat is Seat.NECK:
            yield _neck(toy, guest, host, words)
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
    return words.say(
        "{part}: sew its {number} open {sts} to the {number} {sts} of the {host}, {st} to {st}. "
        "Top up the filling at the neck before the last few, so that the head does not nod.",
        part=words.name(guest.label),
        number=seam.stitches,
        host=words.part(host.label),
    )


def _neck(toy: WorkedToy, guest: PartRecipe, host: PartRecipe, words: TermSet) -> str:
    part = toy.parts[guest.name]
    assert isinstance(part, WorkedStrip)
    return words.say(
        "{part} ({length} long): lay it round the neck with the ends crossed in front, and sew it "
        "to the {host} all round, where it crosses, and along both ends.",
        part=words.name(guest.label),
        length=words.length(part.length_mm, toy.design.unit),
        host=words.part(host.label),
    )


def _surface(
    toy: WorkedToy, seam: Seam, guest: PartRecipe, host: PartRecipe, words: TermSet
) -> str:
    flattened = "flatness" in guest.lengths
    how = words.say(", folded flat,") if flattened else ""
    if seam.long_way:
        how = words.name(LONG_WAYS[seam.long_way])
    if seam.evenly > 1:
        where = _round_the_host(seam, words)
    elif guest.place.pair:
        where = _pair_place(seam, words)
    else:
        where = _single_place(toy, seam, words)
    rounds = _flat_rounds(seam, words) if flattened else _rounds(seam, words)
    said = {
        "part": words.name(guest.label),
        "how": how,
        "host": words.part(host.label),
        "rounds": rounds,
        "where": where,
    }
    if seam.evenly > 1:
        line = words.say(
            "{part}: sew{how} all {number} evenly round the {host} {rounds}, {where}.",
            number=seam.evenly,
            **said,
        )
    elif not guest.place.pair:
        line = words.say("{part}: sew{how} to the {host} {rounds}, {where}.", **said)
    elif seam.side == "side":
        line = words.say(
            "{part}: sew{how} one to each side of the {host} {rounds}, {where}.", **said
        )
    else:
        line = words.say(
            "{part}: sew{how} side by side to the {side} of the {host} {rounds}, {where}.",
            side=words.name(seam.side),
            **said,
        )
    if cup_shaped(guest, toy.parts[guest.name]):
        if guest.filling is Filling.FIRM:
            line += words.say(" Sew three quarters of the way round, stuff firmly, and close.")
        else:
            line += words.say(" Sew three quarters of the way round, stuff lightly, and close.")
    return line


def _rounds(seam: Seam, words: TermSet) -> str:
    if seam.first_round == 0:
        return over_rounds(1, seam.last_round, words)
    return words.say(
        "between {rnds} {first} and {last}", first=seam.first_round, last=seam.last_round
    )


def _flat_rounds(seam: Seam, words: TermSet) -> str:
    """An edge folded flat lies along a round, or slants from one to another."""
    if seam.inner_round == seam.outer_round:
        return words.say("along {rnd} {number}", number=seam.inner_round)
    if seam.evenly > 1:
        low, high = sorted((seam.inner_round, seam.outer_round))
        return words.say(
            "each from {rnd} {first} to {rnd} {last}, all turned the same way", first=low, last=high
        )
    return words.say(
        "with the inner end at {rnd} {inner} and the outer end at {rnd} {outer}",
        inner=seam.inner_round,
        outer=seam.outer_round,
    )


def _pair_place(seam: Seam, words: TermSet) -> str:
    if seam.apart == 0:
        return words.say("touching each other")
    return words.say(
        "{stitches} apart{over} (counted on {rnd} {round})",
        stitches=stitches_text(seam.apart, words),
        over=words.name(OVER.get(seam.over, "")),
        round=seam.counted_on,
    )


def _round_the_host(seam: Seam, words: TermSet) -> str:
    """How far apart copies are that go all round, and where the first of them is."""
    apart = stitches_text(seam.apart, words)
    if seam.apart_most > seam.apart:
        more = stitches_text(seam.apart_most, words)
        apart = words.say("{number} or {stitches}", number=seam.apart, stitches=more)
    side = words.name(seam.over)
    first = words.say("one of them at the {side}", side=side)
    if seam.first_at:
        first = words.say(
            "the first {stitches} from the middle of the {side}",
            stitches=stitches_text(seam.first_at, words),
            side=side,
        )
    if seam.first_at and 2 * seam.first_at in (seam.apart, seam.apart_most):
        first = words.say("the middle of the {side} between two of them", side=side)
    return words.say(
        "{stitches} from middle to middle (counted on {rnd} {round}), {first}",
        stitches=apart,
        round=seam.counted_on,
        first=first,
    )


def _single_place(toy: WorkedToy, seam: Seam, words: TermSet) -> str:
    if seam.side == "front" and toy.eyes is not None and toy.eyes.on == seam.host:
        if seam.first_round > toy.eyes.below_round:
            return words.say("centred below the eyes")
        if seam.last_round < toy.eyes.below_round:
            if seam.first_round == 0:
                return words.say("centred over its start")
            return words.say("centred above the eyes")
        return words.say(
            "centred, reaching up between the eyes ({rnd} {round})", round=toy.eyes.below_round
        )
    return words.say("centred at the {side}", side=words.name(seam.side))
