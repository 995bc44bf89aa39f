"""The whole pattern as text, in the order in which patterns are read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from webapp.assembly import WorkedToy
from webapp.materials import Caution, EyeNeed, Materials, ThreadNeed, YarnNeed
from webapp.materials.thread import EYE_NAME, LARGEST_SATIN_MM, SKEIN_METRES
from webapp.materials.yarn import colours_worked
from webapp.pattern.eyes import has_cheeks
from webapp.pattern.paper import section, wrapped
from webapp.pattern.parts import Line, LineKind, part_lines, working_order
from webapp.pattern.sewing import sewing_lines
from webapp.pattern.sheet import PartSheet, Sheet
from webapp.pattern.words import (
    abbreviations_used,
    both_lengths,
    gauge_words,
    round_words,
    terms_line,
)
from webapp.recipes import EyeKind, Filling, PartRecipe, Seat
from webapp.rounds import WorkedStrip
from webapp.yarns import GRAMS_PER_OUNCE, METRES_PER_YARD, LengthUnit, TermSet, term_set

STUFFS = re.compile(r"Start stuffing|Stuff (firmly|lightly)|is stuffed")
SCRAP_METRES = 3.0


def pattern_text(
    toy: WorkedToy, materials: Materials, cautions: Iterable[Caution]
) -> str:
    """The pattern of a toy; ends with a line break."""
    words = term_set(toy.design.terms)
    sheet = pattern_sheet(toy, materials, cautions)
    blocks: list[str] = [
        sheet.name.upper() + "\n" + sheet.line,
        "\n".join(sheet.overview),
        section("MATERIALS", sheet.materials),
        section(words.gauge.upper(), sheet.gauge),
        section("ABBREVIATIONS", sheet.abbreviations),
        section("BEFORE YOU START", sheet.notes),
        section("SAFETY", sheet.safety),
        *(_part_text(part, words) for part in sheet.parts),
        section("SEWING TOGETHER", [
            *(f"{n}. {line}" for n, line in enumerate(sheet.sewing, 1)), *sheet.sewn
        ]),
    ]
    return "\n\n".join(wrapped(block) for block in blocks if block) + "\n"


def pattern_sheet(
    toy: WorkedToy, materials: Materials, cautions: Iterable[Caution]
) -> Sheet:
    """The pattern of a toy in its sections."""
    words = term_set(toy.design.terms)
    cautions = tuple(cautions)
    parts = tuple(
        _part(toy, materials, part, words, cautions) for part in working_order(toy.recipe)
    )
    instructions = "\n".join(_part_text(part, words) for part in parts)
    return Sheet(
        name=toy.recipe.name,
        line=toy.recipe.line,
        overview=tuple(_overview(toy, words)),
        materials=tuple(_materials(toy, materials)),
        gauge=tuple(_gauge(toy, words)),
        abbreviations=tuple(abbreviations_used(instructions, words)),
        notes=tuple(_notes(toy, words)),
        safety=tuple(c.text for c in cautions if c.where in ("eyes", "selling")),
        parts=parts,
        sewing=tuple(sewing_lines(toy, materials, words)),
        sewn=tuple(c.text for c in cautions if c.where == "sewing"),
    )


def _overview(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    size = toy.size
    yield f"Skill level: {toy.recipe.level.capitalize()}"
    tall = f"{_length(toy, size.height_mm)} {toy.recipe.height_word}"
    if size.overall_height_mm > size.height_mm * 1.03:
        tall += f", {_length(toy, size.overall_height_mm)} to the very top"
    lying = any(p.place.seat is Seat.GROUND and p.place.tilt < 45.0 for p in toy.recipe.parts)
    yield (
        f"Finished size: {tall}, {_length(toy, size.width_mm)} wide, "
        f"{_length(toy, size.depth_mm)} {'long' if lying else 'deep'}, worked to "
        f"{words.gauge.lower()} and stuffed"
    )
    yield terms_line(words)


def _materials(toy: WorkedToy, materials: Materials) -> Iterator[str]:
    category = toy.design.category
    ball = materials.yarns[0]
    metric = toy.design.unit is LengthUnit.CM
    long = f"{ball.ball_metres} m" if metric else f"{ball.ball_metres / METRES_PER_YARD:.0f} yd"
    yield (
        f"Yarn: {category.name} (category {category.number}: {', '.join(category.types_named)}), "
        f"{'cotton' if toy.design.fibre.value == 'cotton' else 'wool or acrylic'}, "
        f"{ball.ball_grams} g = {long} a ball:"
    )
    for need in materials.yarns:
        yield f"- {_yarn(toy, need)}"
    yield "Amounts are right within 15 %, with tails and a tenth over; your tension decides."
    if materials.threads:
        skein = f"{SKEIN_METRES:g} m" if metric else f"{SKEIN_METRES / METRES_PER_YARD:.1f} yd"
        yield f"Embroidery thread of six strands, {skein} a skein, used whole:"
        for thread in materials.threads:
            yield f"- {_thread(toy, thread)}"
        yield f"Thread is right {materials.threads[0].metres.how_sure}."
    yield f"Hook: {materials.hook.label}"
    if materials.eyes is not None:
        yield _eyes(materials.eyes)
    filling = materials.filling_grams
    grams, ounces = f"{_round(filling.value)} g", f"{filling.value / GRAMS_PER_OUNCE:.1f} oz"
    amount = f"{grams} ({ounces})" if metric else f"{ounces} ({grams})"
    yield (
        f"Filling: about {amount} of polyester toy filling; from {_round(filling.low)} to "
        f"{_round(filling.high)} g by how firmly you stuff"
    )
    needles = "yarn needle, embroidery needle" if materials.threads else "yarn needle"
    yield f"Also: {needles}, stitch markers, pins, scissors"


def _yarn(toy: WorkedToy, need: YarnNeed) -> str:
    name = toy.recipe.colours[need.colour].name
    metres, yards = f"{_round(need.metres.value)} m", f"{_round(need.yards)} yd"
    long = f"{metres} ({yards})" if toy.design.unit is LengthUnit.CM else f"{yards} ({metres})"
    balls = "1 ball" if need.balls == 1 else f"{need.balls} balls"
    if need.metres.value < SCRAP_METRES:
        return f"{name}: a scrap of {long}, {_round(need.grams) or 'under 1'} g, from {balls}"
    return f"{name}: {long}, {_round(need.grams)} g, {balls}"


def _eyes(eyes: EyeNeed) -> str:
    if eyes.kind is EyeKind.SAFETY:
        return f"Eyes: one pair of safety eyes, {eyes.stock_mm} mm"
    if eyes.kind is EyeKind.BUTTONS:
        return f"Eyes: two buttons, {eyes.stock_mm} mm, and strong sewing thread"
    if eyes.wanted_mm > LARGEST_SATIN_MM:
        felt = f"{EYE_NAME} felt for two discs {eyes.wanted_mm:.0f} mm across"
        return f"Eyes: embroidered over {felt} ({eyes.why})"
    return f"Eyes: embroidered ({eyes.why})"


def _thread(toy: WorkedToy, need: ThreadNeed) -> str:
    metres, yards = f"{need.metres.value:.1f} m", f"{need.yards:.1f} yd"
    long = f"{metres} ({yards})" if toy.design.unit is LengthUnit.CM else f"{yards} ({metres})"
    skeins = "1 skein" if need.skeins == 1 else f"{need.skeins} skeins"
    return f"{need.name}: {long}, {skeins}"


def _gauge(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    gauge = toy.design.gauge
    whose = "your own swatch" if toy.design.from_swatch else "tighter than the ball band says"
    yield f"{gauge_words(gauge, words)} in the round; {whose}."
    yield (
        f"Size follows {words.gauge.lower()}. Change the hook until it agrees, and no filling "
        "shows through."
    )


def _notes(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    rnd = words.rnd.lower()
    yield (
        f"Work in a spiral without joining; move a marker up to the first {words.st} of each "
        f"{rnd}. The number in square brackets at the end of a line is how many {words.sts} that "
        f"{rnd} has."
    )
    yield "(...) x 6 and [...] x 2: work what is inside that many times."
    yield _where_rounds_start(toy)
    yield (
        "Eyes are counted from post to post, parts from edge to edge. Where two parts meet, the "
        "later one lies over the earlier."
    )
    yield (
        "The first stitch of a round wanders a little to one side as the rounds go up. Pin every "
        "part, and what is sewn to the face before the eyes are fixed, and look from the front."
        if toy.recipe.eyes is not None
        else "Pin every part and look from the front before sewing."
    )
    strips = [
        p.label.lower() for p in toy.recipe.parts if isinstance(toy.parts[p.name], WorkedStrip)
    ]
    if strips:
        yield f"The {' and the '.join(strips)} is worked flat in rows."


def _where_rounds_start(toy: WorkedToy) -> str:
    if any(p.place.seat is Seat.GROUND and p.place.tilt < 45.0 for p in toy.recipe.parts):
        return "The rounds of the body start underneath; the top is half a round away."
    shaped = [p.label.lower() for p in toy.recipe.parts if has_cheeks(toy, p.name)]
    but = ""
    if shaped:
        but = f", but for the {' and the '.join(shaped)}, where they start at one side"
    return f"Rounds start at the centre back{but}; the front is half a round away."


def _part(
    toy: WorkedToy,
    materials: Materials,
    recipe: PartRecipe,
    words: TermSet,
    cautions: tuple[Caution, ...],
) -> PartSheet:
    part = toy.parts[recipe.name]
    colours = colours_worked(recipe, part)
    colour = toy.recipe.colours[colours[0]].name
    lines: list[Line] = []
    to_say = [c.text for c in cautions if c.where == "filling" and recipe is _first_stuffed(toy)]
    for line in part_lines(toy, materials, recipe, words):
        lines.append(line)
        if to_say and line.kind is LineKind.NOTE and STUFFS.search(line.text):
            lines += [Line(LineKind.NOTE, text) for text in to_say]
            to_say = []
    cords = (c.text for c in cautions if c.where == "cords" and c.part == recipe.name)
    lines += [Line(LineKind.NOTE, text) for text in cords]
    return PartSheet(
        name=recipe.name,
        label=recipe.label,
        copies=recipe.copies,
        colour=f"Start with {colour}." if len(colours) > 1 else f"In {colour}.",
        in_rows=isinstance(part, WorkedStrip),
        lines=tuple(lines),
    )


def _part_text(part: PartSheet, words: TermSet) -> str:
    title = f"{part.label.upper()} (make {part.copies})"
    lines = (_line(line, words, part.in_rows) for line in part.lines)
    return "\n".join((title, part.colour, *lines))


def _first_stuffed(toy: WorkedToy) -> PartRecipe | None:
    """The part at which the maker first takes up the filling."""
    stuffed = (p for p in working_order(toy.recipe) if p.filling is not Filling.NONE)
    return next(stuffed, None)


def _line(line: Line, words: TermSet, in_rows: bool) -> str:
    if line.kind is LineKind.NOTE:
        return line.text
    label = round_words(line.first, line.last, words, in_rows)
    return f"{label}: {line.text} [{line.count}]"


def _length(toy: WorkedToy, mm: float) -> str:
    return both_lengths(mm, toy.design.unit)


def _round(value: float) -> int:
    """To whole numbers, from 100 up to fives: no more than is known."""
    return round(value) if value < 100 else 5 * round(value / 5)
