"""What is checked before a pattern is published, each computed from the toy and its written sheet.

Imports :mod:`webapp.pattern`, :mod:`webapp.reading` and what lies below them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from webapp.assembly import WorkedToy
from webapp.materials import Caution, Materials
from webapp.materials.cautions import LONGEST_CORD_MM
from webapp.materials.yarn import OVER, YARN_PER_WIDTH
from webapp.pattern import Sheet
from webapp.pattern.document import LEVELS as LEVEL_WORDS
from webapp.pattern.words import both_lengths
from webapp.reading import USES, Verdict, read_pattern
from webapp.recipes import EyeKind, Filling, Seat
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.yarns import term_set

LEVELS = ("basic", "easy", "intermediate", "complex")
"""Project levels of the Craft Yarn Council, 2018."""


@dataclass(frozen=True)
class Check:
    """What should hold, whether it does, and how that was found."""

    what: str
    holds: bool
    how: str


def publishing_checks(
    toy: WorkedToy, materials: Materials, cautions: Iterable[Caution], sheet: Sheet, text: str
) -> tuple[Check, ...]:
    """All checks of a toy; ``sheet`` and ``text`` are its pattern in sections and as written."""
    return (
        _stitches(toy),
        _read_back(toy, sheet, text),
        _all_made(toy, sheet),
        _seams(toy, sheet),
        _yarn(toy, materials),
        _cautions(toy, materials, tuple(cautions), text),
        _abbreviations(toy, sheet),
        *_stated(toy, sheet, text),
    )


def _said(what: str, wrong: Iterable[str], how: str) -> Check:
    found = list(wrong)
    return Check(what, not found, f"Not so: {'; '.join(found[:3])}." if found else how)


def _stitches(toy: WorkedToy) -> Check:
    wrong = []
    number = 0
    for name, part in toy.parts.items():
        before = 0
        for r in part.rounds if isinstance(part, WorkedPart) else ():
            number += 1
            used = sum(USES[kind][0] * times for kind, times in r.work)
            made = sum(USES[kind][1] * times for kind, times in r.work)
            if made != r.count or (r.number > 1 and used != before):
                wrong.append(f"{name}, round {r.number}")
            before = r.count
    how = f"Stitches of {number} rounds added up against their counts and the rounds before."
    return _said("Every round has the stitches it says", wrong, how)


def _read_back(toy: WorkedToy, sheet: Sheet, text: str) -> Check:
    read = read_pattern(text)
    wrong = [
        f"`{part.title}, {r.label}`"
        for part in read.parts
        for r in part.rounds
        if r.verdict is not Verdict.AGREES
    ]
    if len(read.parts) != len(sheet.parts):
        wrong.append(f"{len(read.parts)} parts read, {len(sheet.parts)} written")
    for found, part in zip(read.parts, sheet.parts, strict=False):
        worked = toy.parts[part.name]
        if isinstance(worked, WorkedStrip):
            counts = (worked.per_row,) * worked.rows
        else:
            counts = worked.counts
        if found.counts != counts or found.copies != part.copies:
            wrong.append(f"{part.label} reads otherwise than it is worked")
    how = f"The written text of {len(read.parts)} parts was read again, and each round agrees."
    return _said("The written rounds say the same", wrong, how)


def _all_made(toy: WorkedToy, sheet: Sheet) -> Check:
    written = {part.name: part for part in sheet.parts}
    wrong = [
        f"{p.label} is not written {p.copies} times"
        for p in toy.recipe.parts
        if p.name not in written or written[p.name].copies != p.copies
        or not written[p.name].lines
    ]
    how = f"{len(toy.recipe.parts)} parts of the toy looked for among the instructions."
    return _said("Every part is made, as often as it is needed", wrong, how)


def _seams(toy: WorkedToy, sheet: Sheet) -> Check:
    words = term_set(toy.design.terms)
    seams = {seam.part: seam for seam in toy.seams}
    wrong = []
    for part in toy.recipe.parts:
        if part.place.seat in (Seat.GROUND, Seat.JOINED):
            continue
        seam = seams.get(part.name)
        if seam is None or seam.host not in toy.parts:
            wrong.append(f"{part.label} is sewn to nothing")
            continue
        ends = [toy.parts[part.name], toy.parts[seam.host]]
        counts = {end.counts[-1] for end in ends if isinstance(end, WorkedPart)}
        if seam.seat is Seat.OPENING and counts != {seam.stitches}:
            wrong.append(f"{part.label} and its host have edges of different counts")
        if not any(step.startswith(words.name(part.label)) for step in sheet.sewing):
            wrong.append(f"no step sews {part.label}")
    how = f"{len(seams)} seams: both parts are there, openings match, each has its step."
    return _said("Every part is sewn on, and every seam has two ends", wrong, how)


def _yarn(toy: WorkedToy, materials: Materials) -> Check:
    bare = sum(
        YARN_PER_WIDTH * toy.design.gauge.stitch_mm * toy.parts[p.name].stitches * p.copies
        for p in toy.recipe.parts
    ) / 1000.0
    total = sum(need.metres.value for need in materials.yarns)
    wrong = [
        f"{need.balls} balls do not hold {need.metres.value:.0f} m"
        for need in materials.yarns
        if need.balls * need.ball_metres < need.metres.value * 0.99
    ]
    if total < bare * OVER:
        wrong.append(f"{total:.0f} m listed, the stitches alone take {bare:.0f} m")
    how = f"{total:.0f} m listed for stitches that take {bare:.0f} m; each colour's balls hold it."
    return _said("Yarn has a tenth over", wrong, how)


def _cautions(
    toy: WorkedToy, materials: Materials, cautions: tuple[Caution, ...], text: str
) -> Check:
    needed = {"sewing", "selling"}
    if materials.eyes is not None and materials.eyes.kind is not EyeKind.EMBROIDERED:
        needed.add("eyes")
    round_parts = (p for p in toy.recipe.parts if isinstance(toy.parts[p.name], WorkedPart))
    if any(part.filling is not Filling.NONE for part in round_parts):
        needed.add("filling")
    for part in toy.parts.values():
        if isinstance(part, WorkedStrip) and part.length_mm > LONGEST_CORD_MM:
            needed.add("cords")
    # Where words stand without spaces, a folded line ends in none.
    gap = term_set(toy.design.terms).manner.gap
    said = gap.join(text.split())
    present = {c.where for c in cautions if gap.join(c.text.split()) in said}
    wrong = [f"nothing is said about {where}" for where in sorted(needed - present)]
    how = f"Looked for in the text: {', '.join(sorted(needed))}."
    return _said("Cautions stand where they are called for", wrong, how)


def _abbreviations(toy: WorkedToy, sheet: Sheet) -> Check:
    words = term_set(toy.design.terms)
    said = "\n".join([*(line.text for p in sheet.parts for line in p.lines), *sheet.sewing])
    explained = {line.split(" = ")[0] for line in sheet.abbreviations}
    used = [
        short
        for short, _ in (*words.abbreviations, *words.rarer)
        if (re.search(rf"(?<![\w-]){re.escape(short)}(?![\w-])", said) if words.spaced
            else short in said)
    ]
    how = f"Looked for in rounds and sewing: {', '.join(f'`{short}`' for short in used)}."
    wrong = [f"`{short}` is not explained" for short in used if short not in explained]
    return _said("Every abbreviation is explained", wrong, how)


def _stated(toy: WorkedToy, sheet: Sheet, text: str) -> Iterator[Check]:
    overview = " ".join(sheet.overview).lower()
    words = term_set(toy.design.terms)
    level = words.name(LEVEL_WORDS.get(toy.recipe.level, toy.recipe.level)).lower()
    known = toy.recipe.level.lower() in LEVELS
    wrong = [] if known and level in overview else [f"level `{level}`"]
    how = f"`{level}` is one of the four project levels and stands in the overview."
    yield _said("The level is stated", wrong, how)
    gauge = read_pattern(text).gauge
    asked = toy.design.gauge
    near = gauge is not None and abs(gauge.stitches - asked.stitches_per_10cm) < 0.06
    yield _said(
        "The gauge is stated",
        [] if near else ["the text has not the gauge of the design"],
        f"Read from the text: {asked.stitches_per_10cm:g} stitches in 10 cm.",
    )
    height = both_lengths(toy.size.height_mm, toy.design.unit, words)
    missing = [] if height.lower() in overview else [f"`{height}` does not stand in the overview"]
    yield _said("The finished size is stated", missing, f"`{height}` stands in the overview.")
