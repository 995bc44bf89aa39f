"""Rounds as a spiral from the centre, and ovals round their chain.

        top side, to the left             Each round begins below, at its number, and runs
          .-<-----------<-.               anticlockwise, as the right-handed work it. A lane is the
         (  o o o o o o o  )  end         room of one round; the spiral climbs one lane a round, and
          `->-----------7->'              a band of equal rounds, drawn once, has room for a line of
         bottom side   number             words besides.

A round part is an oval whose sides have no length.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from webapp.charts.drawing import Drawing, use
from webapp.charts.lanes import Lane, rounds_text
from webapp.charts.laps import (
    LANE_MM,
    NUMBER_SIZE,
    Ring,
    laid,
    lap,
    oval_segments,
    spots,
    straight_mm,
)
from webapp.charts.starts import begun, ended
from webapp.paper import at, number, text, text_width
from webapp.pattern.words import round_words, stitches_text
from webapp.rounds import WorkedPart
from webapp.yarns import TermSet

WORDS_SIZE = 2.3


def spiral(
    part: WorkedPart,
    lanes: Sequence[Lane],
    name: str,
    coloured: dict[str, str],
    words: TermSet,
) -> Drawing:
    """The lanes of a part in the round; ``coloured`` are its yarns, by key, and how each is
    shown (#rrggbb, empty where it is not)."""
    straight = straight_mm(part, lanes)
    rings = laid(part, lanes)
    outer = rings[-1].base + rings[-1].pitch + LANE_MM
    body = [_tints(rings, straight, coloured)]
    body += [_ring_group(ring, straight, name, words) for ring in rings]
    start, used, says = begun(part, rings[0], straight, words)
    end, end_used = ended(part, rings[-1], straight)
    kinds = {kind for lane in lanes for kind in lane.stitches}
    width, height = 2.0 * outer + straight, 2.0 * outer
    drawn = f'<g transform="{at(width / 2.0, height / 2.0)}">{start}{"".join(body)}{end}</g>'
    return Drawing(drawn, width, height, frozenset({*kinds, *used, *end_used, "start"}), says)


def _ring_group(ring: Ring, straight: float, name: str, words: TermSet) -> str:
    lane = ring.lane
    segments = [("round", lane.stitches)]
    if straight:
        segments = oval_segments(lane)
    stitches = "".join(use(kind, place) for kind, place in spots(ring, straight, segments))
    times = f' data-times="{lane.times}"' if lane.is_band else ""
    said = _band_words(ring, straight, name, words) if lane.is_band else ""
    return (
        f'<g class="round" data-round="{lane.first}"{times} aria-label="{escape(lane.words)}">'
        f"{_edge(ring, straight)}{_start(ring, straight)}{stitches}{said}</g>"
    )


def _edge(ring: Ring, straight: float) -> str:
    """The fine line between a round and the one before; a band has heavier ones on both sides."""
    lines = lap(ring, straight, 0.0)
    width = 0.1
    if ring.lane.is_band:
        lines += lap(ring, straight, ring.pitch)
        width = 0.22
    return f'<path d="{lines}" fill="none" stroke="currentColor" stroke-width="{width}"/>'


def _tints(rings: Sequence[Ring], straight: float, coloured: dict[str, str]) -> str:
    """The yarn of each lane, where there are several."""
    if len(coloured) < 2 or not all(coloured.values()):
        return ""
    return "".join(
        f'<path class="yarn" d="{lap(ring, straight, ring.pitch / 2.0)}" fill="none" '
        f'stroke="{coloured[ring.lane.colour]}" stroke-width="{number(ring.pitch)}" '
        'stroke-opacity=".3"/>'
        for ring in rings
    )


def _start(ring: Ring, straight: float) -> str:
    """The number of a round and the arrow that starts it."""
    words, wide = ring.label, text_width(ring.label, NUMBER_SIZE, bold=True)
    far = ring.middle(0.0)
    if straight:
        # On the lower side, before the right-hand end.
        x = straight / 2.0 - 1.2
        named = text(x - 1.6, far + 0.85, words, NUMBER_SIZE, anchor="end", bold=True)
        return named + use("start", at(x, far))
    angle = (0.4 + wide / 2.0) / far
    x, y = far * math.sin(angle), far * math.cos(angle)
    turn = (ring.gap - 1.4) / far
    arrow = at(far * math.sin(turn), far * math.cos(turn))
    return text(x, y + 0.85, words, NUMBER_SIZE, anchor="middle", bold=True) + use(
        "start", f"{arrow}rotate({number(-math.degrees(turn))})"
    )


def _band_words(ring: Ring, straight: float, name: str, words: TermSet) -> str:
    """What a band holds, along its upper edge."""
    lane = ring.lane
    half = straight / 2.0
    above = LANE_MM + 0.55
    left, right = ring.inner(0.75) + above, ring.inner(0.25) + above
    top = ring.inner(0.5) + above
    key = f"{name}-band-{lane.first}"
    r1, r2 = number((left + top) / 2.0), number((right + top) / 2.0)
    path = (
        f"M{number(-half - left)} 0A{r1} {r1} 0 0 1 {number(-half)} {number(-top)}"
        f"L{number(half)} {number(-top)}A{r2} {r2} 0 0 1 {number(half + right)} 0"
    )
    room = math.pi * (left + right) / 2.0 + straight
    found = next(
        (said for said in band_says(lane, words) if text_width(said, WORDS_SIZE) < room), ""
    )
    return (
        f'<path id="{key}" d="{path}" fill="none"/>'
        f'<text font-size="{WORDS_SIZE}" text-anchor="middle">'
        f'<textPath href="#{key}" startOffset="50%">{escape(found)}</textPath></text>'
    )


def band_says(lane: Lane, words: TermSet) -> tuple[str, ...]:
    """What a band holds, from the fullest wording to the shortest."""
    many = rounds_text(lane.times, words)
    each = words.say(
        "{rounds}, {stitches} each", rounds=many, stitches=stitches_text(lane.count, words)
    )
    label = round_words(lane.first, lane.last, words, False)
    return f"{label}{words.manner.colon}{each}", each, many
