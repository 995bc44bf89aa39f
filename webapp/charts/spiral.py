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
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from webapp.charts.drawing import Drawing, ending, use
from webapp.charts.glyphs import WIDE_MM
from webapp.charts.lanes import Lane, rounds_text
from webapp.paper import at, number, text, text_width
from webapp.pattern.words import round_words, stitches_text
from webapp.rounds import Start, WorkedPart
from webapp.yarns import TermSet

LANE_MM = 3.3
WORDS_MM = 2.9
"""Room for the words of a band, above its stitches."""

FIRST_MM = 5.1
"""Least middle radius of the first round."""

WIDEST_GAP = 1.3
"""The number of a round takes no more of its way than this angle."""

CHAIN_ROOM_MM = 3.6
"""From the middle of an oval's chain to its first lane."""

SPARSE = 0.4
"""Less of its way than this taken up by stitches, a spiral is hard to follow: our own eye."""

WORDS_SIZE = 2.3
NUMBER_SIZE = 2.4

ROOM = {"sc": 1.0, "inc": 2.0, "dec": 1.45}
"""Room of a symbol along its round, in stitches."""

Segment = tuple[str, list[str]]
"""A stretch of a lap (``right`` or ``left`` end, ``top`` or ``bottom`` side) and its stitches."""


@dataclass(frozen=True)
class Ring:
    """A lane as laid out: its inner edge where the round begins, and the room of its number."""

    lane: Lane
    base: float
    label: str

    @property
    def gap(self) -> float:
        return text_width(self.label, NUMBER_SIZE, bold=True) + 3.4

    @property
    def pitch(self) -> float:
        return LANE_MM + (WORDS_MM if self.lane.is_band else 0.0)

    def inner(self, share: float) -> float:
        """The inner edge at a share of the round."""
        return self.base + LANE_MM * share

    def middle(self, share: float) -> float:
        return self.inner(share) + LANE_MM / 2.0


def spiral(
    part: WorkedPart,
    lanes: Sequence[Lane],
    name: str,
    coloured: dict[str, str],
    words: TermSet,
) -> Drawing:
    """The lanes of a part in the round; ``coloured`` are its yarns, by key, and how each is
    shown (#rrggbb, empty where it is not)."""
    straight = _straight_mm(part, lanes)
    rings = _laid(lanes, straight, len(coloured) > 1)
    outer = rings[-1].base + rings[-1].pitch + LANE_MM
    body = [_tints(rings, straight, coloured)]
    body += [_ring_group(ring, straight, name, words) for ring in rings]
    begun, used, says = _begun(part, rings[0], straight, words)
    ended, end_used = _ended(part, rings[-1], straight)
    kinds = {kind for lane in lanes for kind in lane.stitches}
    width, height = 2.0 * outer + straight, 2.0 * outer
    drawn = f'<g transform="{at(width / 2.0, height / 2.0)}">{begun}{"".join(body)}{ended}</g>'
    return Drawing(drawn, width, height, frozenset({*kinds, *used, *end_used, "start"}), says)


def spiral_width(part: WorkedPart, lanes: Sequence[Lane]) -> float:
    """How wide :func:`spiral` would be, mm."""
    straight = _straight_mm(part, lanes)
    last = _laid(lanes, straight, False)[-1]
    return 2.0 * (last.base + last.pitch + LANE_MM) + straight


def is_sparse(part: WorkedPart, lanes: Sequence[Lane]) -> bool:
    """Whether the rounds would lie far apart: a narrow tube."""
    straight = _straight_mm(part, lanes)
    rings = _laid(lanes, straight, False)
    way = sum(2.0 * math.pi * ring.middle(0.5) + 2.0 * straight for ring in rings)
    return WIDE_MM * sum(lane.room(ROOM) for lane in lanes) < SPARSE * way


# --- laying out --------------------------------------------------------------------------------


def _straight_mm(part: WorkedPart, lanes: Sequence[Lane]) -> float:
    """Length of an oval's sides, with room for the numbers on the lower one."""
    if not part.straight_stitches:
        return 0.0
    longest = max(Ring(lane, 0.0, f"{lane.label} {lane.letter}").gap for lane in lanes)
    return max(3.0 * part.straight_stitches, 2.7 * (part.straight_stitches + 1)) + longest


def _laid(lanes: Sequence[Lane], straight: float, lettered: bool) -> list[Ring]:
    rings: list[Ring] = []
    base = CHAIN_ROOM_MM if straight else FIRST_MM - LANE_MM
    for lane in lanes:
        label = f"{lane.label} {lane.letter}" if lettered else lane.label
        gap = Ring(lane, 0.0, label).gap
        if straight:
            right, _, left, _ = _oval_segments(lane)
            least = max(_room(right[1]), _room(left[1])) / math.pi
        else:
            around = (WIDE_MM * lane.room(ROOM) + gap) / (2.0 * math.pi)
            least = max(around, gap / WIDEST_GAP + LANE_MM / 2.0)
        base = max(base, least - LANE_MM)
        rings.append(Ring(lane, base, label))
        base += rings[-1].pitch
    return rings


def _room(stitches: list[str]) -> float:
    return WIDE_MM * sum(ROOM[kind] for kind in stitches)


def _spots(ring: Ring, straight: float, part_of: list[Segment]) -> Iterator[tuple[str, str]]:
    """(kind, transform) of every symbol of a lap in order."""
    done, total = 0.0, sum(_room(row) for _, row in part_of)
    for where, row in part_of:
        room, along = _room(row), 0.0
        for kind in row:
            along += _room([kind])
            middle = along - _room([kind]) / 2.0
            share = (done + middle) / total
            x, angle = _on(where, middle / room, straight, ring, share)
            far = ring.middle(share)
            place = at(x + far * math.sin(angle), far * math.cos(angle))
            yield kind, f"{place}rotate({number(180.0 - math.degrees(angle))})"
        done += room


def _on(
    where: str, share: float, straight: float, ring: Ring, of_lap: float
) -> tuple[float, float]:
    """The middle of the turn on which a point lies, and its angle from straight below."""
    half = straight / 2.0
    if where == "round":
        gap = ring.gap / ring.middle(0.0)
        return 0.0, gap + share * (2.0 * math.pi - gap)
    if where == "right":
        return half, math.pi * share
    if where == "top":
        return half - straight * share, math.pi
    if where == "left":
        return -half, math.pi * (1.0 + share)
    return -half + (straight - ring.gap) * share, 2.0 * math.pi


# --- drawing -----------------------------------------------------------------------------------


def _ring_group(ring: Ring, straight: float, name: str, words: TermSet) -> str:
    lane = ring.lane
    segments = [("round", lane.stitches)]
    if straight:
        segments = _oval_segments(lane)
    stitches = "".join(use(kind, place) for kind, place in _spots(ring, straight, segments))
    times = f' data-times="{lane.times}"' if lane.is_band else ""
    said = _band_words(ring, straight, name, words) if lane.is_band else ""
    return (
        f'<g class="round" data-round="{lane.first}"{times} aria-label="{escape(lane.words)}">'
        f"{_edge(ring, straight)}{_start(ring, straight)}{stitches}{said}</g>"
    )


def _oval_segments(lane: Lane) -> list[Segment]:
    row = lane.arcs
    if len(row) == 4:
        names = ("right", "top", "left", "bottom")
        return [
            (where, [kind for kind, many in arc for _ in range(many)])
            for where, arc in zip(names, row, strict=True)
        ]
    # The first round: 3 into each end of the chain.
    stitches = lane.stitches
    side = len(stitches) // 2 - 3
    return [
        ("right", stitches[:3]),
        ("top", stitches[3 : 3 + side]),
        ("left", stitches[:3]),
        ("bottom", stitches[:side]),
    ]


def _lap(ring: Ring, straight: float, above: float) -> str:
    """The way round a lap, so far above its inner edge."""
    half = straight / 2.0
    turns = [(half, 0.0), (half, 0.5), (half, 1.0), (-half, 1.0), (-half, 1.5), (-half, 2.0)]
    out: list[str] = []
    before = 0.0
    for n, (x, turn) in enumerate(turns):
        far = ring.inner(turn / 2.0) + above
        angle = turn * math.pi
        point = f"{number(x + far * math.sin(angle))} {number(far * math.cos(angle))}"
        if n == 0:
            out.append(f"M{point}")
        elif n == 3:
            out.append(f"L{point}" if straight else "")
        else:
            r = number((far + before) / 2.0)
            out.append(f"A{r} {r} 0 0 0 {point}")
        before = far
    if straight:
        out.append(f"L{number(half)} {number(before)}")
    return "".join(out)


def _edge(ring: Ring, straight: float) -> str:
    """The fine line between a round and the one before; a band has heavier ones on both sides."""
    lines = _lap(ring, straight, 0.0)
    width = 0.1
    if ring.lane.is_band:
        lines += _lap(ring, straight, ring.pitch)
        width = 0.22
    return f'<path d="{lines}" fill="none" stroke="currentColor" stroke-width="{width}"/>'


def _tints(rings: Sequence[Ring], straight: float, coloured: dict[str, str]) -> str:
    """The yarn of each lane, where there are several."""
    if len(coloured) < 2 or not all(coloured.values()):
        return ""
    return "".join(
        f'<path class="yarn" d="{_lap(ring, straight, ring.pitch / 2.0)}" fill="none" '
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
        x = straight / 2.0 - ring.gap
        arrow = at(straight / 2.0 - 1.2, far)
        return text(x + 0.4, far + 0.85, words, NUMBER_SIZE, bold=True) + use("start", arrow)
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
    top_left, top_right = ring.inner(0.5) + above, ring.inner(0.5) + above
    key = f"{name}-band-{lane.first}"
    r1, r2 = number((left + top_left) / 2.0), number((right + top_right) / 2.0)
    path = (
        f"M{number(-half - left)} 0A{r1} {r1} 0 0 1 {number(-half)} {number(-top_left)}"
        f"L{number(half)} {number(-top_right)}A{r2} {r2} 0 0 1 {number(half + right)} 0"
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
    return f"{round_words(lane.first, lane.last, words, False)}: {each}", each, many


# --- where it begins and ends ------------------------------------------------------------------


def _begun(
    part: WorkedPart, first: Ring, straight: float, words: TermSet
) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """What the first round is worked into, the symbols that takes, and what to say of it."""
    if straight:
        many = part.straight_stitches + 2
        step = straight / (many - 1)
        chain = [use("ch", at(-straight / 2.0 + step * n, 0.0)) for n in range(many)]
        # The one that is left out stands at the hook's end, beside the one worked into first.
        chain.append(use("ch", at(straight / 2.0 + 2.8, 0.0)))
        return _begin("".join(chain)), ("ch",), ()
    start = part.order.start
    if start is Start.RING:
        return _begin(use("ring", at(0.0, 0.0))), ("ring",), ()
    inner = first.inner(0.0) - 1.1
    if start is Start.OPEN:
        many = part.start_chains
        angles = [(n + 0.5) * 2.0 * math.pi / many for n in range(many)]
        chain = [_turned("ch", inner, angle) for angle in angles]
        return _begin("".join([*chain, _turned("sl-st", inner, 0.0)])), ("ch", "sl-st"), ()
    return _on_legs(part, first, inner, words)


def _on_legs(
    part: WorkedPart, first: Ring, inner: float, words: TermSet
) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """Two legs as arcs with the chain between them, twice."""
    gap = first.gap / first.middle(0.0)
    step = (2.0 * math.pi - gap) / part.counts[0]
    leg, chain = part.per_leg, part.order.chain
    body: list[str] = []
    at_stitch = 0
    for name in (words.say("first leg"), words.say("second leg")):
        a, b = gap + step * at_stitch, gap + step * (at_stitch + leg)
        p, q = ((inner * math.sin(t), inner * math.cos(t)) for t in (a, b))
        r = number(inner)
        body.append(
            f'<path d="M{number(p[0])} {number(p[1])}A{r} {r} 0 0 0 {number(q[0])} {number(q[1])}" '
            'fill="none" stroke="currentColor" stroke-width=".5"/>'
        )
        middle = (a + b) / 2.0
        x, y = 0.5 * inner * math.sin(middle), 0.5 * inner * math.cos(middle)
        body.append(text(x, y - 0.6, name, anchor="middle"))
        body.append(text(x, y + 2.4, str(leg), anchor="middle"))
        places = (gap + step * (at_stitch + leg + k + 0.5) for k in range(chain))
        body += [_turned("ch", inner, angle) for angle in places]
        at_stitch += leg + chain
    says = (
        words.say("Round 1 goes round both legs and along both sides of the chain between them."),
    )
    return _begin("".join(body)), ("ch",) if chain else (), says


def _begin(body: str) -> str:
    return f'<g class="begin">{body}</g>'


def _turned(name: str, far: float, angle: float) -> str:
    place = at(far * math.sin(angle), far * math.cos(angle))
    return use(name, f"{place}rotate({number(180.0 - math.degrees(angle))})")


def _ended(part: WorkedPart, last: Ring, straight: float) -> tuple[str, tuple[str, ...]]:
    """How it is fastened off, where a further round would begin."""
    far = last.base + last.pitch + LANE_MM / 2.0
    names = ending(part)
    places = []
    for n, name in enumerate(names):
        angle = (1.2 + 2.4 * n) / far
        x, y = straight / 2.0 + far * math.sin(angle), far * math.cos(angle)
        places.append(use(name, at(x, y)))
    return f'<g class="end">{"".join(places)}</g>', names
