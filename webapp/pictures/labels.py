"""The words beside a picture, from the same seams as the sewing instructions."""

from __future__ import annotations

from webapp.assembly import Seam, WorkedToy
from webapp.pattern.words import round_words, stitches_text
from webapp.pictures.views import View
from webapp.recipes import PartRecipe, Seat
from webapp.words import noted
from webapp.yarns import TermSet

TITLES = {
    View.FRONT: noted("{toy}, from the front"),
    View.SIDE: noted("{toy}, from the side"),
    View.BACK: noted("{toy}, from the back"),
    View.APART: noted("{toy}, parts apart"),
}


def title_of(toy: WorkedToy, view: View, words: TermSet) -> str:
    """What a picture shows."""
    return words.say(TITLES[view], toy=words.name(toy.recipe.name))


def name_of(recipe: PartRecipe, words: TermSet) -> str:
    """A part, and how many there are of it where they are several."""
    name = words.name(recipe.label)
    return f"{name} ({recipe.copies})" if recipe.copies > 1 else name


def part_words(toy: WorkedToy, recipe: PartRecipe, words: TermSet) -> tuple[str, ...]:
    """Where a part is sewn: rounds of its host, and stitches; nothing for what carries the rest."""
    seam = next((s for s in toy.seams if s.part == recipe.name), None)
    if seam is None:
        joined = recipe.place.seat is Seat.JOINED
        return (words.say("the body goes on from them"),) if joined else ()
    host = toy.recipe.part(seam.host)
    if seam.seat is Seat.OPENING:
        to = words.say("{st} to {st} to the {host}", host=words.part(host.label))
        return to, stitches_text(seam.stitches, words)
    if seam.seat is Seat.NECK:
        return (words.say("round the {host}", host=words.part(host.label)),)
    where = _rounds(seam, words)
    if "flatness" in recipe.lengths:
        where = _flat(seam, words)
    lines = [f"{words.name(host.label)}{words.manner.colon}{where}"]
    if seam.evenly > 1:
        apart = stitches_text(seam.apart, words)
        if seam.apart_most > seam.apart:
            more = stitches_text(seam.apart_most, words)
            apart = words.say("{number} or {stitches}", number=seam.apart, stitches=more)
        lines.append(
            words.say(
                "{number} evenly, {stitches} from middle to middle",
                number=seam.evenly,
                stitches=apart,
            )
        )
    elif recipe.place.pair and not seam.apart:
        lines.append(words.say("touching each other"))
    elif recipe.place.pair:
        lines.append(
            words.say(
                "{stitches} apart on {rnd} {round}",
                stitches=stitches_text(seam.apart, words),
                round=seam.counted_on,
            )
        )
    return tuple(lines)


def _rounds(seam: Seam, words: TermSet) -> str:
    """As the sewing words have it: over the start, from round 1; else between two rounds."""
    return round_words(max(1, seam.first_round), seam.last_round, words, False)


def _flat(seam: Seam, words: TermSet) -> str:
    if seam.inner_round == seam.outer_round:
        return words.say("along {rnd} {number}", number=seam.inner_round)
    if seam.evenly > 1:
        low, high = sorted((seam.inner_round, seam.outer_round))
        return round_words(low, high, words, False)
    return words.say(
        "inner end {rnd} {inner}, outer end {rnd} {outer}",
        inner=seam.inner_round,
        outer=seam.outer_round,
    )


def eye_words(toy: WorkedToy, words: TermSet) -> tuple[str, ...]:
    """Between which rounds the eyes are, and how far apart."""
    eyes = toy.eyes
    assert eyes is not None
    between = words.say(
        "between {rnds} {first} and {last}", first=eyes.below_round, last=eyes.below_round + 1
    )
    host = words.name(toy.recipe.part(eyes.on).label)
    apart = words.say("{stitches} apart", stitches=stitches_text(eyes.apart, words))
    return f"{host}{words.manner.colon}{between}", apart
