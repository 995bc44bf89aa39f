"""Cautions, each at the point where it matters.

Figures: small-parts cylinder 31.7 x 57.1 mm (16 CFR 1501, figure 1); a cord that can form a noose
220 mm, a loop 360 mm round (EN 71-1:2014+A1:2018 and ASTM F963, from memory); 90 N pull on a part
over 6 mm (EN 71-1, 8.4.2.1, as laboratories quote it).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.assembly import WorkedToy
from webapp.materials.eyes import EyeNeed
from webapp.materials.needs import Materials
from webapp.recipes import EyeKind, PartRecipe
from webapp.rounds import WorkedStrip
from webapp.yarns import TermSet, term_set

LONGEST_CORD_MM = 220.0
LONGEST_LOOP_MM = 360.0


@dataclass(frozen=True)
class Caution:
    """A caution; ``where`` is eyes, cords, filling, sewing or selling; ``part`` if about one."""

    where: str
    text: str
    part: str = ""


def cautions_for(toy: WorkedToy, materials: Materials) -> tuple[Caution, ...]:
    """The cautions that this toy calls for."""
    return tuple(_cautions(toy, materials))


def _cautions(toy: WorkedToy, materials: Materials) -> Iterator[Caution]:
    words = term_set(toy.design.terms)
    if materials.eyes is not None:
        yield Caution("eyes", _about_eyes(materials.eyes, words))
    yield from _cords(toy, words)
    yield Caution(
        "filling",
        words.say(
            "Use new, clean, washable polyester filling, and stitches tight enough that none shows."
        ),
    )
    yield Caution(
        "sewing",
        words.say(
            "Count pins and needles in and out. Sew every part down twice, then pull each seam and "
            "eye hard (about 9 kg, 20 lb). A pull at home is not a test certificate. Keep the toy "
            "away from flames."
        ),
    )
    yield Caution(
        "selling",
        words.say(
            "Giving or selling toys is regulated, differently from place to place (testing, "
            "labels, registration). Check the rules where the toy is given or sold."
        ),
    )


def _about_eyes(eyes: EyeNeed, words: TermSet) -> str:
    if eyes.kind is EyeKind.EMBROIDERED:
        return words.say(
            "The eyes are embroidered. Add nothing hard (buttons, beads, bells, wire) for a "
            "child under three."
        )
    small = words.say(
        "small parts: whatever fits a tube 32 mm wide and 57 mm deep can choke a child. For a "
        "child under three, embroider the eyes and use no buttons, beads or bells."
    )
    if eyes.kind is EyeKind.BUTTONS:
        return words.say(
            "Buttons of {size} mm, never for a child under three, are {small_parts}",
            size=eyes.stock_mm,
            small_parts=small,
        )
    return words.say(
        "Safety eyes of {size} mm are {small_parts}", size=eyes.stock_mm, small_parts=small
    )


def _cords(toy: WorkedToy, words: TermSet) -> Iterator[Caution]:
    for recipe in toy.recipe.parts:
        part = toy.parts[recipe.name]
        if isinstance(part, WorkedStrip):
            yield _strip_caution(toy, recipe, part, words)
        elif part.order.outline.flatness < 0.5 and part.height_mm > LONGEST_CORD_MM:
            yield Caution(
                "cords",
                words.say(
                    "A soft strip as long as the {part} ({length}) can be judged a cord; for a "
                    "small child keep it under {most}.",
                    part=words.part(recipe.label),
                    length=_length(toy, part.height_mm, words),
                    most=_length(toy, LONGEST_CORD_MM, words),
                ),
                recipe.name,
            )


def _strip_caution(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedStrip, words: TermSet
) -> Caution:
    length = part.length_mm
    name = recipe.name if toy.design.terms.english else words.part(recipe.label)
    limits = words.say(
        "a free end may be no longer than {cord} and a loop no more than {loop} round",
        cord=_length(toy, LONGEST_CORD_MM, words),
        loop=_length(toy, LONGEST_LOOP_MM, words),
    )
    if length > LONGEST_CORD_MM:
        text = words.say(
            "The {part} is {length} long and could strangle a small child: {limits}. Leave it off "
            "for a small child, or sew it down flat along its whole length.",
            part=name,
            length=_length(toy, length, words),
            limits=limits,
        )
    else:
        text = words.say(
            "The {part} is a cord to a small child: {limits}. Sew it down flat along its whole "
            "length, so that it cannot come off or be drawn tight.",
            part=name,
            limits=limits,
        )
    return Caution("cords", text, recipe.name)


def _length(toy: WorkedToy, mm: float, words: TermSet) -> str:
    return words.length(mm, toy.design.unit)
