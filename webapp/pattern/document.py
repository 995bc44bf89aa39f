"""The whole pattern as text, in the order in which patterns are read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from webapp.assembly import WorkedToy
from webapp.materials import Caution, EyeNeed, Materials, ThreadNeed, YarnNeed, rounded
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
from webapp.words import noted
from webapp.yarns import GRAMS_PER_OUNCE, METRES_PER_YARD, Hook, LengthUnit, TermSet, term_set

SCRAP_METRES = 3.0

LEVELS = {
    "basic": noted("Basic"),
    "easy": noted("Easy"),
    "intermediate": noted("Intermediate"),
    "complex": noted("Complex"),
}


def pattern_text(
    toy: WorkedToy, materials: Materials, cautions: Iterable[Caution]
) -> str:
    """The pattern of a toy; ends with a line break."""
    words = term_set(toy.design.terms)
    sheet, instructions = _sheet(toy, materials, cautions, words)
    blocks: list[str] = [
        sheet.name.upper() + "\n" + sheet.line,
        "\n".join(sheet.overview),
        section(words.say("MATERIALS"), sheet.materials),
        section(words.gauge.upper(), sheet.gauge),
        section(words.say("ABBREVIATIONS"), sheet.abbreviations),
        section(words.say("BEFORE YOU START"), _notes_on_lines(sheet, words)),
        section(words.say("SAFETY"), sheet.safety),
        *instructions,
        section(words.say("SEWING TOGETHER"), [
            *(f"{n}. {line}" for n, line in enumerate(sheet.sewing, 1)), *sheet.sewn
        ]),
    ]
    return "\n\n".join(wrapped(block) for block in blocks if block) + "\n"


def pattern_sheet(
    toy: WorkedToy, materials: Materials, cautions: Iterable[Caution]
) -> Sheet:
    """The pattern of a toy in its sections."""
    sheet, _ = _sheet(toy, materials, cautions, term_set(toy.design.terms))
    return sheet


def _sheet(
    toy: WorkedToy, materials: Materials, cautions: Iterable[Caution], words: TermSet
) -> tuple[Sheet, list[str]]:
    """The sections, and the text of each part."""
    cautions = tuple(cautions)
    stuffed = _first_stuffed(toy)
    parts = tuple(
        _part(toy, materials, part, words, cautions, part is stuffed)
        for part in working_order(toy.recipe)
    )
    instructions = [_part_text(part, words) for part in parts]
    sewing = tuple(sewing_lines(toy, materials, words))
    sheet = Sheet(
        name=words.name(toy.recipe.name),
        line=words.name(toy.recipe.line),
        overview=tuple(_overview(toy, words)),
        materials=tuple(_materials(toy, materials, words)),
        gauge=tuple(_gauge(toy, words)),
        abbreviations=tuple(abbreviations_used("\n".join((*instructions, *sewing)), words)),
        notes=tuple(_notes(toy, words)),
        safety=tuple(c.text for c in cautions if c.where in ("eyes", "selling")),
        parts=parts,
        sewing=sewing,
        sewn=tuple(c.text for c in cautions if c.where == "sewing"),
    )
    return sheet, instructions


def _overview(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    size = toy.size
    level = words.name(LEVELS.get(toy.recipe.level, toy.recipe.level.capitalize()))
    yield words.say("Skill level: {level}", level=level)
    tall = words.say(
        "{length} {height_word}",
        length=_length(toy, size.height_mm, words),
        height_word=words.name(toy.recipe.height_word),
    )
    if size.overall_height_mm > size.height_mm * 1.03:
        tall += words.say(
            ", {length} to the very top", length=_length(toy, size.overall_height_mm, words)
        )
    lying = any(p.place.seat is Seat.GROUND and p.place.tilt < 45.0 for p in toy.recipe.parts)
    width, depth = _length(toy, size.width_mm, words), _length(toy, size.depth_mm, words)
    if lying:
        yield words.say(
            "Finished size: {tall}, {width} wide, {depth} long, worked to {gauge_small} and "
            "stuffed",
            tall=tall,
            width=width,
            depth=depth,
        )
    else:
        yield words.say(
            "Finished size: {tall}, {width} wide, {depth} deep, worked to {gauge_small} and "
            "stuffed",
            tall=tall,
            width=width,
            depth=depth,
        )
    yield terms_line(words)


def _materials(toy: WorkedToy, materials: Materials, words: TermSet) -> Iterator[str]:
    category = toy.design.category
    ball = materials.yarns[0]
    metric = toy.design.unit is LengthUnit.CM
    long = f"{ball.ball_metres} m" if metric else f"{ball.ball_metres / METRES_PER_YARD:.0f} yd"
    cotton = toy.design.fibre.value == "cotton"
    yield words.say(
        "Yarn: {category} (category {number}: {types}), {fibre}, {grams} g = {length} a ball:",
        category=category.name,
        number=category.number,
        types=words.manner.comma.join(category.types_named),
        fibre=words.say("cotton") if cotton else words.say("wool or acrylic"),
        grams=ball.ball_grams,
        length=long,
    )
    for need in materials.yarns:
        yield f"- {_yarn(toy, need, words)}"
    yield words.say(
        "Amounts are right within 15 %, with tails and a tenth over; your tension decides."
    )
    if materials.threads:
        skein = f"{SKEIN_METRES:g} m" if metric else f"{SKEIN_METRES / METRES_PER_YARD:.1f} yd"
        yield words.say(
            "Embroidery thread of six strands, {length} a skein, used whole:",
            length=words.figures(skein),
        )
        for thread in materials.threads:
            yield f"- {_thread(toy, thread, words)}"
        yield words.say(
            "Thread is right {how_sure}.", how_sure=words.name(materials.threads[0].metres.how_sure)
        )
    yield words.say("Hook: {hook}", hook=_hook(materials.hook, words))
    if materials.eyes is not None:
        yield _eyes(materials.eyes, words)
    filling = materials.filling_grams
    grams = f"{rounded(filling.value)} g"
    ounces = words.figures(f"{filling.value / GRAMS_PER_OUNCE:.1f} oz")
    yield words.say(
        "Filling: about {amount} of polyester toy filling; from {low} to {high} g by how firmly "
        "you stuff",
        amount=f"{grams} ({ounces})" if metric else f"{ounces} ({grams})",
        low=rounded(filling.low),
        high=rounded(filling.high),
    )
    if materials.threads:
        yield words.say(
            "Also: yarn needle, embroidery needle, stitch markers, pins, scissors"
        )
    else:
        yield words.say("Also: yarn needle, stitch markers, pins, scissors")


def _hook(hook: Hook, words: TermSet) -> str:
    us = f"US {hook.us}" if hook.us else words.say("no common US size")
    return f"{words.figures(f'{hook.mm:g}')} mm ({us})"


def _yarn(toy: WorkedToy, need: YarnNeed, words: TermSet) -> str:
    metres, yards = f"{rounded(need.metres.value)} m", f"{rounded(need.yards)} yd"
    long = f"{metres} ({yards})" if toy.design.unit is LengthUnit.CM else f"{yards} ({metres})"
    colour = words.name(toy.recipe.colours[need.colour].name)
    balls = words.many("{number} ball", "{number} balls", need.balls)
    if need.metres.value < SCRAP_METRES:
        return words.say(
            "{colour}: a scrap of {length}, {grams} g, from {balls}",
            colour=colour,
            length=long,
            grams=rounded(need.grams) or words.say("under 1"),
            balls=balls,
        )
    amounts = words.manner.comma.join((long, f"{rounded(need.grams)} g", balls))
    return f"{colour}{words.manner.colon}{amounts}"


def _eyes(eyes: EyeNeed, words: TermSet) -> str:
    if eyes.kind is EyeKind.SAFETY:
        return words.say("Eyes: one pair of safety eyes, {size} mm", size=eyes.stock_mm)
    if eyes.kind is EyeKind.BUTTONS:
        return words.say(
            "Eyes: two buttons, {size} mm, and strong sewing thread", size=eyes.stock_mm
        )
    why = words.name(eyes.why)
    if eyes.wanted_mm > LARGEST_SATIN_MM:
        return words.say(
            "Eyes: embroidered over {colour} felt for two discs {size} mm across ({why})",
            colour=words.name(EYE_NAME),
            size=f"{eyes.wanted_mm:.0f}",
            why=why,
        )
    return words.say("Eyes: embroidered ({why})", why=why)


def _thread(toy: WorkedToy, need: ThreadNeed, words: TermSet) -> str:
    metres, yards = f"{need.metres.value:.1f} m", f"{need.yards:.1f} yd"
    long = f"{metres} ({yards})" if toy.design.unit is LengthUnit.CM else f"{yards} ({metres})"
    skeins = words.many("{number} skein", "{number} skeins", need.skeins)
    amounts = words.manner.comma.join((words.figures(long), skeins))
    return f"{words.name(need.name)}{words.manner.colon}{amounts}"


def _gauge(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    gauge = gauge_words(toy.design.gauge, words)
    if toy.design.from_swatch:
        yield words.say("{gauge} in the round; your own swatch.", gauge=gauge)
    else:
        yield words.say("{gauge} in the round; tighter than the ball band says.", gauge=gauge)
    yield words.say(
        "Size follows {gauge_small}. Change the hook until it agrees, and no filling shows through."
    )


def _notes_on_lines(sheet: Sheet, words: TermSet) -> Iterator[str]:
    """The notes, with what the number at the end of a line means behind the first."""
    spiral, *others = sheet.notes
    count = words.say(
        "The number in square brackets at the end of a line is how many {sts} that {rnd_small} has."
    )
    yield words.manner.gap.join((spiral, count))
    yield from others


def _notes(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    yield words.say(
        "Work in a spiral without joining; move a marker up to the first {st} of each {rnd_small}."
    )
    yield words.say("(...) x 6 and [...] x 2: work what is inside that many times.")
    yield _where_rounds_start(toy, words)
    yield words.say(
        "Eyes are counted from post to post, parts from edge to edge. Where two parts meet, the "
        "later one lies over the earlier."
    )
    if toy.recipe.eyes is not None:
        yield words.say(
            "The first stitch of a round wanders a little to one side as the rounds go up. Pin "
            "every part, and what is sewn to the face before the eyes are fixed, and look from the "
            "front."
        )
    else:
        yield words.say("Pin every part and look from the front before sewing.")
    strips = [
        words.part(p.label)
        for p in toy.recipe.parts
        if isinstance(toy.parts[p.name], WorkedStrip)
    ]
    if strips:
        yield words.say("The {parts} is worked flat in rows.", parts=_and_the(strips, words))


def _and_the(names: list[str], words: TermSet) -> str:
    return words.say(" and the ").join(names)


def _where_rounds_start(toy: WorkedToy, words: TermSet) -> str:
    if any(p.place.seat is Seat.GROUND and p.place.tilt < 45.0 for p in toy.recipe.parts):
        return words.say("The rounds of the body start underneath; the top is half a round away.")
    shaped = [words.part(p.label) for p in toy.recipe.parts if has_cheeks(toy, p.name)]
    if shaped:
        return words.say(
            "Rounds start at the centre back, but for the {parts}, where they start at one side; "
            "the front is half a round away.",
            parts=_and_the(shaped, words),
        )
    return words.say("Rounds start at the centre back; the front is half a round away.")


def _part(
    toy: WorkedToy,
    materials: Materials,
    recipe: PartRecipe,
    words: TermSet,
    cautions: tuple[Caution, ...],
    is_first_stuffed: bool,
) -> PartSheet:
    part = toy.parts[recipe.name]
    colours = colours_worked(recipe, part)
    colour = words.name(toy.recipe.colours[colours[0]].name)
    lines: list[Line] = []
    to_say = [c.text for c in cautions if c.where == "filling"] if is_first_stuffed else []
    for line in part_lines(toy, materials, recipe, words):
        lines.append(line)
        if to_say and line.stuffs:
            lines += [Line(LineKind.NOTE, text) for text in to_say]
            to_say = []
    cords = (c.text for c in cautions if c.where == "cords" and c.part == recipe.name)
    lines += [Line(LineKind.NOTE, text) for text in cords]
    return PartSheet(
        name=recipe.name,
        label=words.name(recipe.label),
        copies=recipe.copies,
        colour=(
            words.say("Start with {colour}.", colour=colour)
            if len(colours) > 1
            else words.say("In {colour}.", colour=colour)
        ),
        in_rows=isinstance(part, WorkedStrip),
        lines=tuple(lines),
    )


def _part_text(part: PartSheet, words: TermSet) -> str:
    title = words.say("{part} (make {number})", part=part.label.upper(), number=part.copies)
    lines = (_line(line, words, part.in_rows) for line in part.lines)
    return "\n".join((title, part.colour, *lines))


def _first_stuffed(toy: WorkedToy) -> PartRecipe | None:
    """The part at which the maker first takes up the filling."""
    stuffed = (
        p
        for p in working_order(toy.recipe)
        if p.filling is not Filling.NONE and not isinstance(toy.parts[p.name], WorkedStrip)
    )
    return next(stuffed, None)


def _line(line: Line, words: TermSet, in_rows: bool) -> str:
    if line.kind is LineKind.NOTE:
        return line.text
    label = round_words(line.first, line.last, words, in_rows)
    return words.manner.counted.format(round=label, row=line.text, count=line.count)


def _length(toy: WorkedToy, mm: float, words: TermSet) -> str:
    return both_lengths(mm, toy.design.unit, words)
