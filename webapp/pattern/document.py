"""The whole pattern as text, in the order in which patterns are read."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from functools import lru_cache

from webapp.assembly import WorkedToy
from webapp.materials import Caution, Materials, YarnNeed
from webapp.pattern.parts import Line, LineKind, part_lines
from webapp.pattern.sewing import sewing_lines
from webapp.pattern.words import abbreviations_used, round_words, terms_line
from webapp.recipes import Filling, PartRecipe, Seat
from webapp.rounds import WorkedStrip
from webapp.yarns import GRAMS_PER_OUNCE, LengthUnit, TermSet, term_set

WIDTH = 88


def pattern_text(
    toy: WorkedToy, materials: Materials, cautions: Iterable[Caution]
) -> str:
    """The pattern of a toy; ends with a line break."""
    words = term_set(toy.design.terms)
    cautions = tuple(cautions)
    instructions = [
        block for part in toy.recipe.parts
        for block in _part(toy, materials, part, words, cautions)
    ]
    sewing = [f"{n}. {line}" for n, line in enumerate(sewing_lines(toy, words), 1)]
    blocks: list[str] = [
        toy.recipe.name.upper() + "\n" + toy.recipe.line,
        "\n".join(_overview(toy, words)),
        _section("MATERIALS", _materials(toy, materials)),
        _section(words.gauge.upper(), _gauge(toy, words)),
        _section("ABBREVIATIONS", abbreviations_used("\n".join(instructions), words)),
        _section("BEFORE YOU START", _notes(toy, words)),
        _section("SAFETY", [c.text for c in cautions if c.where in ("eyes", "selling")]),
        *instructions,
        _section("SEWING TOGETHER", [
            *sewing, *(c.text for c in cautions if c.where == "sewing")
        ]),
    ]
    return "\n\n".join(_wrapped(block) for block in blocks if block) + "\n"


def _section(title: str, lines: Iterable[str]) -> str:
    body = list(lines)
    return "\n".join([title, *body]) if body else ""


def _wrapped(block: str) -> str:
    return "\n".join(
        line if len(line) <= WIDTH else _filled(line) for line in block.split("\n")
    )


@lru_cache(maxsize=512)
def _filled(line: str) -> str:
    """A long line folded. Most long lines are the same in every pattern."""
    return textwrap.fill(line, WIDTH, subsequent_indent="  ", break_on_hyphens=False)


def _overview(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    size = toy.size
    yield f"Skill level: {toy.recipe.level.capitalize()}"
    tall = f"{_length(toy, size.height_mm)} {toy.recipe.height_word}"
    if size.overall_height_mm > size.height_mm * 1.03:
        tall += f" ({_length(toy, size.overall_height_mm)} over all)"
    lying = any(p.place.seat is Seat.GROUND and p.place.tilt < 45.0 for p in toy.recipe.parts)
    yield (
        f"Finished size: {tall}, {_length(toy, size.width_mm)} wide, "
        f"{_length(toy, size.depth_mm)} {'long' if lying else 'deep'}, worked to "
        f"{words.gauge.lower()} and stuffed"
    )
    yield terms_line(words)


def _materials(toy: WorkedToy, materials: Materials) -> Iterator[str]:
    category = toy.design.category
    yield (
        f"Yarn: {category.name} (category {category.number}), "
        f"{'cotton' if toy.design.fibre.value == 'cotton' else 'wool or acrylic'}, "
        f"{materials.yarns[0].ball_grams} g = {materials.yarns[0].ball_metres} m a ball:"
    )
    for need in materials.yarns:
        yield f"- {_yarn(toy, need)}"
    yield "Amounts are right within 15 %, with tails and a tenth over; your tension decides."
    yield f"Hook: {materials.hook.label}"
    if materials.eyes is not None:
        if materials.eyes.stock_mm is not None:
            yield f"Eyes: one pair of safety eyes, {materials.eyes.stock_mm} mm"
        else:
            yield (
                f"Eyes: black thread, to embroider them {materials.eyes.wanted_mm:.0f} mm across "
                f"({materials.eyes.why})"
            )
    filling = materials.filling_grams
    yield (
        f"Filling: about {_round(filling.value)} g ({_round(filling.value) / GRAMS_PER_OUNCE:.1f} "
        f"oz) of polyester toy filling; from {_round(filling.low)} to {_round(filling.high)} g by "
        "how firmly you stuff"
    )
    yield "Also: yarn needle, stitch markers, pins, scissors"


def _yarn(toy: WorkedToy, need: YarnNeed) -> str:
    name = toy.recipe.colours[need.colour].name
    balls = "1 ball" if need.balls == 1 else f"{need.balls} balls"
    return (
        f"{name}: {_round(need.metres.value)} m ({_round(need.yards)} yd), "
        f"{_round(need.grams) or 'under 1'} g, {balls}"
    )


def _gauge(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    gauge = toy.design.gauge
    whose = "your own swatch" if toy.design.from_swatch else "tighter than the ball band says"
    yield (
        f"{_figure(gauge.stitches_per_10cm)} {words.sc} and {_figure(gauge.rounds_per_10cm)} "
        f"{words.rnds.lower()} = 10 x 10 cm (4 x 4 in) in the round; {whose}."
    )
    yield (
        f"Size follows {words.gauge.lower()}. Change the hook until it agrees, and no filling "
        "shows through."
    )


def _notes(toy: WorkedToy, words: TermSet) -> Iterator[str]:
    yield (
        f"Work in a spiral without joining; move a marker up to the first {words.st} of each "
        f"{words.rnd.lower()}. The number in square brackets at the end of a line is the "
        f"{words.sts} of that {words.rnd.lower()}."
    )
    yield "Work what is in brackets as many times as the number after them says."
    yield (
        "The first stitch of a round wanders a little to one side as the rounds go up. Pin every "
        "part and look from the front before sewing."
    )


def _part(
    toy: WorkedToy,
    materials: Materials,
    recipe: PartRecipe,
    words: TermSet,
    cautions: tuple[Caution, ...],
) -> Iterator[str]:
    part = toy.parts[recipe.name]
    colour = toy.recipe.colours[recipe.colours[0][1]].name
    title = f"{recipe.label.upper()} (make {recipe.copies})"
    lines = [title, f"Start with {colour}." if len(recipe.colours) > 1 else f"In {colour}."]
    in_rows = isinstance(part, WorkedStrip)
    to_say = [c.text for c in cautions if c.where == "filling" and recipe is _first_stuffed(toy)]
    for line in part_lines(toy, materials, recipe, words):
        lines.append(_line(line, words, in_rows))
        if to_say and line.kind is LineKind.NOTE and "stuff" in line.text.lower():
            lines += to_say
            to_say = []
    lines += [c.text for c in cautions if c.where == "cords" and c.part == recipe.name]
    yield "\n".join(lines)


def _first_stuffed(toy: WorkedToy) -> PartRecipe | None:
    """The part at which the maker first takes up the filling."""
    return next((p for p in toy.recipe.parts if p.filling is not Filling.NONE), None)


def _line(line: Line, words: TermSet, in_rows: bool) -> str:
    if line.kind is LineKind.NOTE:
        return line.text
    label = round_words(line.first, line.last, words, in_rows)
    return f"{label}: {line.text} [{line.count}]"


def _length(toy: WorkedToy, mm: float) -> str:
    other = LengthUnit.INCH if toy.design.unit is LengthUnit.CM else LengthUnit.CM
    return f"{toy.design.unit.format(mm)} ({other.format(mm)})"


def _round(value: float) -> int:
    """To whole numbers, from 100 up to fives: no more than is known."""
    return round(value) if value < 100 else 5 * round(value / 5)


def _figure(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
