"""Embroidered features in words that a maker can follow with a needle: satin stitch for what is
filled, backstitch for lines (common practice)."""

from __future__ import annotations

import math

import numpy as np

from webapp.assembly import FabricLine, MarkPlace, PlacedPart, WorkedToy, round_at
from webapp.formulas import evaluate
from webapp.materials.thread import line_rows
from webapp.pattern.words import stitches_text
from webapp.recipes import MarkKind, PartRecipe
from webapp.yarns import TermSet


def mark_line(toy: WorkedToy, place: MarkPlace, words: TermSet) -> str:
    """How to embroider one mark, or a pair of them."""
    mark = place.mark
    thread = f"{mark.label}: with {toy.recipe.colours[mark.colour].name} embroidery thread"
    host = toy.recipe.part(mark.on)
    if place.line is None:
        return (
            f"{thread}, fill a patch on the {_one(host)} {_rounds(place, words)}, "
            f"{stitches_text(place.stitches, words)} wide, {_where_filled(toy, place)}, in satin "
            "stitch (long stitches side by side)."
        )
    rows = line_rows(evaluate(mark.width, toy.dimensions))
    thick = ""
    if rows > 1:
        thick = f" Work {rows} rows of {'each' if mark.pair else 'it'} side by side."
    each = "each " if mark.pair else ""
    lines = "two lines, mirror images of each other," if mark.pair else "a line"
    wide = "" if place.line.along else f", {each}{stitches_text(place.stitches, words)} wide"
    return (
        f"{thread}, backstitch {lines} on the {_one(host)} {_rounds(place, words)}{wide}, "
        f"{_course(toy, place, place.line, words)}; {_where_line(toy, place, place.line, words)}."
        f"{thick}"
    )


def _rounds(place: MarkPlace, words: TermSet) -> str:
    if place.first_round == place.last_round:
        return f"over {words.rnd} {place.first_round}"
    return f"over {words.rnds} {place.first_round} to {place.last_round}"


# --- what is filled ----------------------------------------------------------------------------


def _where_filled(toy: WorkedToy, place: MarkPlace) -> str:
    mark = place.mark
    below = _by_the_eyes(toy, place) == "below"
    if mark.pair:
        return "on both sides, below the eyes" if below else "on both sides"
    return "centred below the eyes" if below else "centred"


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
    name = (words.st, words.sts) if line.along else (words.rnd.lower(), words.rnds.lower())
    if place.mark.slant:
        inner, outer = (right, left) if place.mark.around < 0.0 else (left, right)
        ends = ("outer end", "inner end") if place.mark.pair else ("right end", "left end")
        if not place.mark.pair and place.mark.around < 0.0:
            ends = ("left end", "right end")
        text = f"its {ends[0]} {_step(outer - inner, name)} its {ends[1]}"
        bow = middle - (inner + outer) / 2.0
        return text + (f" and its middle {_step(bow, name)} both" if abs(bow) >= 1.0 else "")
    asked = evaluate(place.mark.height, toy.dimensions)
    rise = left - middle
    if rise == 0 and asked:
        return f"its ends a little {'higher' if asked > 0.0 else 'lower'} than its middle"
    return "straight" if rise == 0 else f"its ends {_step(rise, name)} its middle"


def _step(rise: float, name: tuple[str, str]) -> str:
    number = round(abs(rise))
    if number == 0:
        return "level with"
    return f"{number} {name[number > 1]} {'higher' if rise > 0.0 else 'lower'} than"


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
    by_eyes = f" {near} the eyes" if near else ""
    if place.mark.pair:
        gap, n, over = _gap(host, line)
        if round(gap) == 0:
            return f"they meet in the middle{by_eyes}"
        return (
            f"{stitches_text(round(gap), words)} apart{over}{by_eyes} (counted on {words.rnd} "
            f"{round_at(host, float(line.edges[n]))})"
        )
    aside = float(line.round_mm[len(line.edges) // 2]) / host.part.gauge.stitch_mm
    lying = abs(float(host.frame.axis[2])) < 0.5
    if abs(place.mark.around) > 120.0:
        half_lap = _half_lap(host, float(line.edges[len(line.edges) // 2]))
        back = "underneath" if lying else "at the back"
        aside = (half_lap - abs(aside)) * (1 if aside > 0 else -1)
        return f"centred {back}" if round(aside) == 0 else f"{_aside(aside, words)} {back}"
    if round(aside) == 0:
        return f"centred{by_eyes}"
    return f"{_aside(aside, words)}{by_eyes}"


def _gap(host: PlacedPart, line: FabricLine) -> tuple[float, int, str]:
    """Stitches between the lines of a pair over the nearer of front and back (top and underside),
    the end of the line that they are counted from, and words for that side unless it is the
    front."""
    lying = abs(float(host.frame.axis[2])) < 0.5
    near, far = (" over the top", " underneath") if lying else ("", " across the back")
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
    hand = "right" if stitches > 0.0 else "left"
    return f"its middle {stitches_text(round(abs(stitches)), words)} to your {hand} of the centre"


def _one(part: PartRecipe) -> str:
    return part.label.lower()
