"""Embroidered features in words that a maker can follow with a needle: satin stitch for what is
filled, backstitch for lines (common practice)."""

from __future__ import annotations

import math

import numpy as np

from webapp.assembly import FabricLine, MarkPlace, PlacedPart, WorkedToy, round_at
from webapp.formulas import evaluate
from webapp.materials.thread import line_rows
from webapp.pattern.words import over_rounds, stitches_text
from webapp.recipes import MarkKind
from webapp.words import noted
from webapp.yarns import TermSet

OVER = {
    "front": noted(" across the front"),
    "back": noted(" across the back"),
    "top": noted(" over the top"),
    "underside": noted(" underneath"),
}
"""Over which side of its host something lies."""

BY_EYES = {
    "": "",
    "above": noted(" above the eyes"),
    "below": noted(" below the eyes"),
    "between": noted(" between the eyes"),
}


def mark_line(toy: WorkedToy, place: MarkPlace, words: TermSet) -> str:
    """How to embroider one mark, or a pair of them."""
    mark = place.mark
    label = words.name(mark.label)
    colour = words.name(toy.recipe.colours[mark.colour].name)
    host = words.part(toy.recipe.part(mark.on).label)
    stitches = stitches_text(place.stitches, words)
    rounds = over_rounds(place.first_round, place.last_round, words)
    if place.line is None:
        return words.say(
            "{mark}: with {colour} embroidery thread, fill a patch on the {host} {rounds}, "
            "{stitches} wide, {where}, in satin stitch (long stitches side by side).",
            mark=label,
            colour=colour,
            host=host,
            rounds=rounds,
            stitches=stitches,
            where=_where_filled(toy, place, words),
        )
    if not place.line.along and mark.pair:
        rounds = words.say("{rounds}, each {stitches} wide", rounds=rounds, stitches=stitches)
    elif not place.line.along:
        rounds = words.say("{rounds}, {stitches} wide", rounds=rounds, stitches=stitches)
    course = _course(toy, place, place.line, words)
    where = _where_line(toy, place, place.line, words)
    if mark.pair:
        text = words.say(
            "{mark}: with {colour} embroidery thread, backstitch two lines, mirror images of each "
            "other, on the {host} {rounds}, {course}; {where}.",
            mark=label,
            colour=colour,
            host=host,
            rounds=rounds,
            course=course,
            where=where,
        )
    else:
        text = words.say(
            "{mark}: with {colour} embroidery thread, backstitch a line on the {host} {rounds}, "
            "{course}; {where}.",
            mark=label,
            colour=colour,
            host=host,
            rounds=rounds,
            course=course,
            where=where,
        )
    rows = line_rows(evaluate(mark.width, toy.dimensions))
    if rows > 1 and mark.pair:
        text += words.say(" Work {number} rows of each side by side.", number=rows)
    elif rows > 1:
        text += words.say(" Work {number} rows of it side by side.", number=rows)
    return text


# --- what is filled ----------------------------------------------------------------------------


def _where_filled(toy: WorkedToy, place: MarkPlace, words: TermSet) -> str:
    below = _by_the_eyes(toy, place) == "below"
    if place.mark.pair:
        if below:
            return words.say("on both sides, below the eyes")
        return words.say("on both sides")
    return words.say("centred below the eyes") if below else words.say("centred")


def _by_the_eyes(toy: WorkedToy, place: MarkPlace) -> str:
    """Whether a mark lies above, below or between the eyes; empty if it has none near it."""
    mark, spec = place.mark, toy.recipe.eyes
    if spec is None or spec.on != mark.on:
        return ""
    aside = abs(mark.around)
    least = 0.0 if mark.pair and mark.kind is MarkKind.FILLED else -180.0
    if not least <= aside - spec.around < 45.0:
        return ""
    host = toy.placed[mark.on]
    assert isinstance(host, PlacedPart)
    at, _ = host.surface(host.edge_at(mark.along), math.radians(mark.around))
    eye, _ = host.surface(host.edge_at(spec.along), math.radians(spec.around))
    above = float(at[2] - eye[2])
    if abs(above) < host.part.gauge.round_mm / 2.0:
        return "between" if aside < spec.around else ""
    return "above" if above > 0.0 else "below"


# --- lines -------------------------------------------------------------------------------------


def _course(toy: WorkedToy, place: MarkPlace, line: FabricLine, words: TermSet) -> str:
    """How a line runs: straight, or its ends higher or lower than its middle, or slanting."""
    left, middle, right = _heights(toy, place, line)
    if place.mark.slant:
        inner, outer = (right, left) if place.mark.around < 0.0 else (left, right)
        step = _step(outer - inner, line, words)
        if place.mark.pair:
            text = words.say("its outer end {step} its inner end", step=step)
        elif place.mark.around < 0.0:
            text = words.say("its left end {step} its right end", step=step)
        else:
            text = words.say("its right end {step} its left end", step=step)
        bow = middle - (inner + outer) / 2.0
        if abs(bow) >= 1.0:
            text += words.say(" and its middle {step} both", step=_step(bow, line, words))
        return text
    asked = evaluate(place.mark.height, toy.dimensions)
    rise = left - middle
    if rise == 0 and asked > 0.0:
        return words.say("its ends a little higher than its middle")
    if rise == 0 and asked:
        return words.say("its ends a little lower than its middle")
    if rise == 0:
        return words.say("straight")
    return words.say("its ends {step} its middle", step=_step(rise, line, words))


def _step(rise: float, line: FabricLine, words: TermSet) -> str:
    number = round(abs(rise))
    if number == 0:
        return words.say("level with")
    if line.along:
        steps = stitches_text(number, words)
    else:
        steps = words.many("{number} {rnd_small}", "{number} {rnds_small}", number)
    if rise > 0.0:
        return words.say("{steps} higher than", steps=steps)
    return words.say("{steps} lower than", steps=steps)


def _heights(toy: WorkedToy, place: MarkPlace, line: FabricLine) -> tuple[int, int, int]:
    """How high the ends and the middle of a line lie, in whole rounds or stitches."""
    host = toy.placed[place.mark.on]
    assert isinstance(host, PlacedPart)
    found = []
    for n in (0, len(line.edges) // 2, len(line.edges) - 1):
        if line.along:
            found.append(round(float(line.rise_mm[n]) / host.part.gauge.stitch_mm))
        else:
            found.append(line.upwards * round_at(host, float(line.edges[n])))
    return found[0], found[1], found[2]


def _where_line(toy: WorkedToy, place: MarkPlace, line: FabricLine, words: TermSet) -> str:
    host = toy.placed[place.mark.on]
    assert isinstance(host, PlacedPart)
    near = _by_the_eyes(toy, place)
    by_eyes = words.name(BY_EYES[near])
    if place.mark.pair:
        gap, n, over = _gap(host, line)
        if round(gap) == 0:
            return words.say("they meet in the middle{by_eyes}", by_eyes=by_eyes)
        return words.say(
            "{stitches} apart{over}{by_eyes} (counted on {rnd} {round})",
            stitches=stitches_text(round(gap), words),
            over=words.name(over),
            by_eyes=by_eyes,
            round=round_at(host, float(line.edges[n])),
        )
    aside = float(line.round_mm[len(line.edges) // 2]) / host.part.gauge.stitch_mm
    lying = abs(float(host.frame.axis[2])) < 0.5
    if abs(place.mark.around) > 120.0:
        half_lap = _half_lap(host, float(line.edges[len(line.edges) // 2]))
        back = words.say("underneath") if lying else words.say("at the back")
        aside = (half_lap - abs(aside)) * (1 if aside > 0 else -1)
        if round(aside) == 0:
            return words.say("centred {where}", where=back)
        return f"{_aside(aside, words)} {back}"
    if round(aside) == 0:
        return words.say("centred{by_eyes}", by_eyes=by_eyes)
    return f"{_aside(aside, words)}{by_eyes}"


def _gap(host: PlacedPart, line: FabricLine) -> tuple[float, int, str]:
    """Stitches between the lines of a pair over the nearer of front and back (top and underside),
    the end of the line that they are counted from, and words for that side unless it is the
    front."""
    lying = abs(float(host.frame.axis[2])) < 0.5
    near, far = (OVER["top"], OVER["underside"]) if lying else ("", OVER["back"])
    found = []
    for n in (0, len(line.edges) - 1):
        aside = abs(float(line.round_mm[n])) / host.part.gauge.stitch_mm
        found.append((2.0 * aside, n, near))
        found.append((2.0 * (_half_lap(host, float(line.edges[n])) - aside), n, far))
    return min(found)


def _half_lap(host: PlacedPart, edge: float) -> float:
    """Stitches half way round a part at an edge, without those that its cheeks have more."""
    radii = host.part.rings.smooth_mm
    radius = float(np.interp(edge, np.arange(len(radii)), radii))
    return host.part.straight_stitches + math.pi * radius / host.part.gauge.stitch_mm


def _aside(stitches: float, words: TermSet) -> str:
    number = stitches_text(round(abs(stitches)), words)
    if stitches > 0.0:
        return words.say("its middle {stitches} to your right of the centre", stitches=number)
    return words.say("its middle {stitches} to your left of the centre", stitches=number)
