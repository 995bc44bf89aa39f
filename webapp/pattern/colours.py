"""Colour changes in words: which colour comes in where, stripes, and what is carried up inside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from webapp.assembly import WorkedToy
from webapp.materials.yarn import Rest, bands, carried, striped_stretches
from webapp.pattern.words import both_lengths
from webapp.recipes import Band, PartRecipe
from webapp.rounds import WorkedPart
from webapp.yarns import TermSet

CUT_TAIL_MM = 150.0


@dataclass(frozen=True)
class ColourChanges:
    """``into`` is the colour that comes in with the last stitch of a round, by that round's number;
    ``apart`` the rounds that begin a line of their own for it: all that end in a change, but for
    stripes, where a stripe's equal rounds stay together."""

    into: Mapping[int, str]
    apart: frozenset[int]


def colour_changes(toy: WorkedToy, recipe: PartRecipe, part: WorkedPart) -> ColourChanges:
    """The changes of colour of a part."""
    total = len(part.rounds)
    spans = bands(recipe, total)
    into = {
        end: toy.recipe.colours[colour].name
        for (_, _, end), (colour, _, _) in zip(spans, spans[1:], strict=False)
    }
    striped = {
        n for _, first, last in striped_stretches(recipe, total) for n in range(first, last + 1)
    }
    return ColourChanges(into, frozenset(n - 1 for n in into if n not in striped))


def change_words(changes: ColourChanges, first: int, last: int, words: TermSet) -> str:
    """What to add to the line of rounds ``first`` to ``last``; empty where no colour changes."""
    colour = changes.into.get(last)
    return change_text(words.name(colour), first, last, words) if colour else ""


def change_text(colour: str, first: int, last: int, words: TermSet) -> str:
    """The same for a colour by the name it has in the pattern; empty where there is none."""
    if not colour:
        return ""
    if first == last:
        return words.say(", changing to {colour} in the last {st}", colour=colour)
    return words.say(
        ", changing to {colour} in the last {st} of {rnd} {round}", colour=colour, round=last
    )


def colour_notes(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedPart, words: TermSet
) -> Iterator[tuple[int, str]]:
    """(round it follows, note) for stripes, and for a colour that rests and comes back."""
    total = len(part.rounds)
    rests = carried(bands(recipe, total))
    stretches = striped_stretches(recipe, total)
    for band, first, last in stretches:
        within = [rest for rest in rests if _inside(rest, first, last)]
        yield first - 1, _stripes(toy, band, first, last, bool(within), words)
    for rest in rests:
        if not any(_inside(rest, first, last) for _, first, last in stretches):
            yield (
                rest.after,
                words.say(
                    "Do not cut the {colour}: carry it up inside, loosely. It comes back in "
                    "{rnd} {round}.",
                    colour=words.name(toy.recipe.colours[rest.colour].name),
                    round=rest.until,
                ),
            )


def _inside(rest: Rest, first: int, last: int) -> bool:
    return first <= rest.after and rest.until <= last


def _stripes(
    toy: WorkedToy, band: Band, first: int, last: int, carry: bool, words: TermSet
) -> str:
    names = [
        words.name(toy.recipe.colours[colour].name) for colour in (band.colour, *band.others)
    ]
    short = (last - first + 1) % band.every
    text = words.many(
        "{rnds} {first}-{last} are in stripes of {number} {rnd_small}: {colours}",
        "{rnds} {first}-{last} are in stripes of {number} {rnds_small}: {colours}",
        band.every,
        first=first,
        last=last,
        colours=words.manner.comma.join(names),
    )
    stripes = -(-(last - first + 1) // band.every)
    if stripes > len(names):
        text += words.say(", and so on in turn")
    if short:
        text += words.say("; the last has only {number}", number=short)
    if carry:
        return text + words.say(
            ". Do not cut the yarns: carry those that rest up inside, loosely."
        )
    return text + words.say(
        ". Cut each yarn after its stripe, leaving {tail}, and hide the end inside.",
        tail=both_lengths(CUT_TAIL_MM, toy.design.unit, words),
    )
