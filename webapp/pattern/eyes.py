"""The eyes in words: safety eyes go in while a part is open, sewn ones on when it is done."""

from __future__ import annotations

from webapp.assembly import WorkedToy
from webapp.materials import Materials
from webapp.materials.thread import EYE_NAME, LARGEST_SATIN_MM
from webapp.pattern.words import stitches_text
from webapp.recipes import EyeKind, PartRecipe
from webapp.rounds import WorkedPart
from webapp.yarns import TermSet

OVER_THE_TOP = 60.0
"""Eyes farther round than this (degrees from the front or top) lie on the sides."""


def eye_patch(toy: WorkedToy) -> PartRecipe | None:
    """The patch that lies under each eye, if there is one."""
    eyes = toy.recipe.eyes
    if eyes is None:
        return None
    patches = (p for p in toy.recipe.parts if p.place.lies_flat and p.place.on == eyes.on)
    return next(patches, None)


def safety_eye_note(toy: WorkedToy, materials: Materials, words: TermSet) -> str:
    """When and where to push the safety eyes through; empty where there are none."""
    eyes = materials.eyes
    if eyes is None or eyes.kind is not EyeKind.SAFETY or toy.eyes is None:
        return ""
    patch = eye_patch(toy)
    where = _where(toy, words)
    if patch is not None:
        return words.say(
            "Push each {size} mm eye through the middle of one of the {patch}, then through the "
            "{host} {where}; see that they look at you, and push the washers on before stuffing. "
            "They do not come off again.",
            size=eyes.stock_mm,
            patch=words.part(patch.label),
            host=words.part(toy.recipe.part(toy.eyes.on).label),
            where=where,
        )
    return words.say(
        "Place the {size} mm eyes {where}; see that they look at you, and push the washers on "
        "before stuffing. They do not come off again.",
        size=eyes.stock_mm,
        where=where,
    )


def sewn_eye_line(toy: WorkedToy, materials: Materials, words: TermSet) -> str:
    """How to make eyes that are embroidered or sewn on; empty for safety eyes."""
    eyes = materials.eyes
    if eyes is None or eyes.kind is EyeKind.SAFETY or toy.eyes is None:
        return ""
    host = words.part(toy.recipe.part(toy.eyes.on).label)
    patch = eye_patch(toy)
    where = _where(toy, words)
    if patch:
        on = words.say("at the middle of each of the {patch}", patch=words.part(patch.label))
    else:
        on = words.say("on the {host}", host=host)
    if eyes.kind is EyeKind.BUTTONS:
        return words.say(
            "Eyes: sew the two {size} mm buttons on with strong thread, doubled, {on}, {where}. Go "
            "through button and fabric four times or more, draw the thread tight so that the "
            "button sits a little in the {host}, then knot it under the button and hide the ends "
            "inside.",
            size=eyes.stock_mm,
            on=on,
            where=where,
            host=host,
        )
    colour, size = words.name(EYE_NAME), f"{eyes.wanted_mm:.0f}"
    if eyes.wanted_mm > LARGEST_SATIN_MM:
        return words.say(
            "Embroider the eyes in {colour}, {size} mm across, over discs of {colour} felt sewn "
            "down all round, {on}, {where}.",
            colour=colour,
            size=size,
            on=on,
            where=where,
        )
    return words.say(
        "Embroider the eyes in {colour}, {size} mm across, {on}, {where}.",
        colour=colour,
        size=size,
        on=on,
        where=where,
    )


def _where(toy: WorkedToy, words: TermSet) -> str:
    place, spec = toy.eyes, toy.recipe.eyes
    assert place is not None
    assert spec is not None
    rounds = words.say(
        "between {rnds} {first} and {last}", first=place.below_round, last=place.below_round + 1
    )
    apart = stitches_text(place.apart, words)
    if spec.around > OVER_THE_TOP:
        return words.say(
            "{rounds}, {stitches} apart over the top (mark a {st} of {rnd} {round} as the top and "
            "count {down} down each side)",
            rounds=rounds,
            stitches=apart,
            round=place.below_round,
            down=stitches_text(max(1, round(place.apart / 2)), words),
        )
    if has_cheeks(toy, place.on):
        return words.say(
            "{rounds}, {stitches} apart over the middle of the face", rounds=rounds, stitches=apart
        )
    return words.say("{rounds}, {stitches} apart", rounds=rounds, stitches=apart)


def has_cheeks(toy: WorkedToy, name: str) -> bool:
    """Whether a part is shaped in arcs that start at one side, its face between them."""
    part = toy.parts[name]
    return isinstance(part, WorkedPart) and part.order.side_start and bool(part.shaped)
