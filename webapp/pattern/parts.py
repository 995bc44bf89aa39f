"""One part, round by round: equal rounds gathered, and between the rounds what to do then.

When to stuff, where the eyes go, colour changes and how to end are lines of their own, placed
after the round at which the maker must act.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from webapp.assembly import WorkedToy
from webapp.materials import Materials
from webapp.materials.yarn import sewing_tail_mm
from webapp.pattern.colours import change_words, colour_changes, colour_notes
from webapp.pattern.eyes import safety_eye_note
from webapp.pattern.joining import before_joining, legs_end
from webapp.pattern.sewing import cup_shaped
from webapp.pattern.shaping import shaping_notes
from webapp.pattern.starts import first_round_text, start_text
from webapp.pattern.wording import round_text, turned, work_text
from webapp.pattern.words import both_lengths
from webapp.reading import Begin
from webapp.recipes import Filling, PartRecipe, Recipe, Seat
from webapp.rounds import Work, WorkedPart, WorkedStrip
from webapp.yarns import TermSet

STUFF_FROM = 0.5
"""A closed part is stuffed first when its opening has shrunk to this share of its widest round,
while a hand still fits in: common practice, no source."""

LONGEST_TAIL_MM = 1000.0


class LineKind(Enum):
    ROUND = "round"
    NOTE = "note"


@dataclass(frozen=True)
class Line:
    """A line of a part: rounds ``first`` to ``last`` worked alike, or a note between rounds;
    ``stuffs`` where a note is the one by which the part gets its filling."""

    kind: LineKind
    text: str
    first: int = 0
    last: int = 0
    count: int = 0
    stuffs: bool = False


def part_lines(
    toy: WorkedToy, materials: Materials, recipe: PartRecipe, words: TermSet
) -> list[Line]:
    """All lines of one part in working order."""
    part = toy.parts[recipe.name]
    if isinstance(part, WorkedStrip):
        return list(_strip_lines(toy, part, words))
    notes = _notes(toy, materials, recipe, part, words)
    lines = [_note(text) for text in before_joining(toy, recipe, part, words)]
    lines += notes.get(0, [])
    first = 1
    rounds = part.rounds
    changes = colour_changes(toy, recipe, part)
    stops = set(notes) | set(changes.into) | changes.apart
    while first <= len(rounds):
        last = first
        if first > 1 and rounds[first - 1].is_even:
            while last < len(rounds) and last not in stops and rounds[last].is_even:
                last += 1
        text = first_round_text(part, words) if first == 1 else round_text(rounds[first - 1], words)
        text += change_words(changes, first, last, words)
        lines.append(Line(LineKind.ROUND, text, first, last, rounds[last - 1].count))
        lines += notes.get(last, [])
        first = last + 1
    return [*lines, _ending(toy, recipe, part, words)]


def _note(text: str, stuffs: bool = False) -> Line:
    return Line(LineKind.NOTE, text, stuffs=stuffs)


def _notes(
    toy: WorkedToy,
    materials: Materials,
    recipe: PartRecipe,
    part: WorkedPart,
    words: TermSet,
) -> dict[int, list[Line]]:
    """Notes by the number of the round they follow."""
    notes: dict[int, list[Line]] = {}
    total = len(part.rounds)
    for number, text in colour_notes(toy, recipe, part, words):
        notes.setdefault(number, []).append(_note(text))
    for number, text in shaping_notes(part, words):
        notes.setdefault(number, []).append(_note(text))
    if toy.eyes is not None and toy.eyes.on == recipe.name:
        note = safety_eye_note(toy, materials, words)
        at = min(total - 1, toy.eyes.below_round + 2)
        if note:
            notes.setdefault(at, []).append(_note(note))
    stuff = _stuffing_round(recipe, part)
    if stuff:
        if recipe.filling is Filling.FIRM:
            text = words.say("Start stuffing firmly, and add more as the opening closes.")
        else:
            text = words.say("Start stuffing lightly, and add more as the opening closes.")
        notes.setdefault(stuff, []).append(_note(text, stuffs=True))
    return notes


def _stuffing_round(recipe: PartRecipe, part: WorkedPart) -> int:
    """The round after which stuffing starts; 0 where it waits for the end, or there is none."""
    if recipe.filling is Filling.NONE or not part.closed:
        return 0
    counts = part.counts
    widest = counts.index(max(counts)) + 1
    small = STUFF_FROM * max(counts)
    return next((k + 1 for k in range(widest, len(counts)) if counts[k] <= small), widest)


def _ending(
    toy: WorkedToy, recipe: PartRecipe, part: WorkedPart, words: TermSet
) -> Line:
    last = part.counts[-1]
    if part.closed:
        text = words.say(
            "Cut the yarn, thread it through the front loops of the last {number} {sts}, pull "
            "tight, fasten off and hide the end inside.",
            number=last,
        )
        if recipe.filling is not Filling.NONE:
            text = words.manner.gap.join((words.say("Finish stuffing."), text))
        return _note(text)
    if recipe.place.seat is Seat.JOINED:
        return _note(legs_end(toy, recipe, words), stuffs=recipe.filling is not Filling.NONE)
    hosted = any(p.place.seat is Seat.OPENING and p.place.on == recipe.name
                 for p in toy.recipe.parts)
    firm = recipe.filling is Filling.FIRM
    close = _capital(words.say("{sl_st} in the next {st}, {fasten_off}"))
    tail = _tail(toy, part, words)
    if recipe.filling is Filling.NONE:
        if part.order.outline.flatness < 1.0:
            how = words.say("Flatten it and do not stuff.")
        else:
            how = words.say("Do not stuff.")
        return _note(words.manner.gap.join((_sentence(words, close, tail), how)))
    if hosted:
        stuff = words.say("Stuff lightly up to the open edge.")
        if firm:
            stuff = words.say("Stuff firmly up to the open edge.")
        return _note(words.manner.gap.join((_sentence(words, close), stuff)), stuffs=True)
    if cup_shaped(recipe, part):
        stuff = words.say("It is stuffed as it is sewn on.")
    elif firm:
        stuff = words.say("Stuff firmly.")
    else:
        stuff = words.say("Stuff lightly.")
    return _note(words.manner.gap.join((_sentence(words, close, tail), stuff)), stuffs=True)


def _sentence(words: TermSet, *clauses: str) -> str:
    return words.manner.then.join(clauses) + words.manner.stop


def _strip_lines(toy: WorkedToy, part: WorkedStrip, words: TermSet) -> Iterator[Line]:
    n, rows = part.per_row, part.rows
    row: Work = (("sc", n),)
    first = start_text(Begin.FLAT, row, words, chain=n + 1)
    yield Line(LineKind.ROUND, first, 1, 1, n)
    others = f"{turned(words)}{work_text((row,), words, 'across')}"
    yield Line(LineKind.ROUND, others, 2, rows, n)
    yield _note(_sentence(words, _capital(words.fasten_off), _tail(toy, part, words)))


def _tail(toy: WorkedToy, part: WorkedPart | WorkedStrip, words: TermSet) -> str:
    """The tail to leave for sewing; past a metre a length of its own tangles less."""
    length = sewing_tail_mm(part)
    text = both_lengths(length, toy.design.unit, words)
    if length > LONGEST_TAIL_MM:
        return words.say("and keep a separate length of {length} for sewing", length=text)
    return words.say("leaving a tail of {length} for sewing", length=text)


def working_order(recipe: Recipe) -> list[PartRecipe]:
    """Parts as they are made: a patch that an eye goes through comes before what it is sewn to,
    and legs before what is begun on them."""
    patches = [
        p
        for p in recipe.parts
        if recipe.eyes is not None and p.place.lies_flat and p.place.on == recipe.eyes.on
    ]
    first = [*patches, *(p for p in recipe.parts if p.place.seat is Seat.JOINED)]
    order: list[PartRecipe] = []
    for part in recipe.parts:
        if part.legs is not None:
            order.append(recipe.part(part.legs.part))
        if recipe.eyes is not None and part.name == recipe.eyes.on:
            order += patches
        if part not in first:
            order.append(part)
    return order


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
