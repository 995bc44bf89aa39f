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
    size = f"{eyes.stock_mm} mm"
    patch = eye_patch(toy)
    if patch is not None:
        host = toy.recipe.part(toy.eyes.on).label.lower()
        start = (
            f"Push each {size} eye through the middle of one of the {patch.label.lower()}, then "
            f"through the {host} {_where(toy, words)}"
        )
    else:
        start = f"Place the {size} eyes {_where(toy, words)}"
    return (
        f"{start}; see that they look at you, and push the washers on before stuffing. They do not "
        "come off again."
    )


def sewn_eye_line(toy: WorkedToy, materials: Materials, words: TermSet) -> str:
    """How to make eyes that are embroidered or sewn on; empty for safety eyes."""
    eyes = materials.eyes
    if eyes is None or eyes.kind is EyeKind.SAFETY or toy.eyes is None:
        return ""
    host = toy.recipe.part(toy.eyes.on).label.lower()
    patch = eye_patch(toy)
    on = f"at the middle of each of the {patch.label.lower()}" if patch else f"on the {host}"
    if eyes.kind is EyeKind.BUTTONS:
        return (
            f"Eyes: sew the two {eyes.stock_mm} mm buttons on with strong thread, doubled, {on}, "
            f"{_where(toy, words)}. Go through button and fabric four times or more, draw the "
            f"thread tight so that the button sits a little in the {host}, then knot it under the "
            "button and hide the ends inside."
        )
    felt = ""
    if eyes.wanted_mm > LARGEST_SATIN_MM:
        felt = f", over discs of {EYE_NAME} felt sewn down all round"
    return (
        f"Embroider the eyes in {EYE_NAME}, {eyes.wanted_mm:.0f} mm across{felt}, {on}, "
        f"{_where(toy, words)}."
    )


def _where(toy: WorkedToy, words: TermSet) -> str:
    place, spec = toy.eyes, toy.recipe.eyes
    assert place is not None
    assert spec is not None
    rounds = f"between {words.rnds} {place.below_round} and {place.below_round + 1}"
    if spec.around > OVER_THE_TOP:
        down = stitches_text(max(1, round(place.apart / 2)), words)
        return (
            f"{rounds}, {stitches_text(place.apart, words)} apart over the top (mark a {words.st} "
            f"of {words.rnd} {place.below_round} as the top and count {down} down each side)"
        )
    middle = " over the middle of the face" if has_cheeks(toy, place.on) else ""
    return f"{rounds}, {stitches_text(place.apart, words)} apart{middle}"


def has_cheeks(toy: WorkedToy, name: str) -> bool:
    """Whether a part is shaped in arcs that start at one side, its face between them."""
    part = toy.parts[name]
    return isinstance(part, WorkedPart) and part.order.side_start and bool(part.shaped)
