"""Where the rounds of a spiral lie, and each symbol on its round.

Each lane has an inner edge, where its round begins; from there it climbs by one lane in the course
of the round. A round part is an oval whose sides have no length.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from webapp.charts.glyphs import WIDE_MM
from webapp.charts.lanes import Lane
from webapp.paper import at, number, text_width
from webapp.rounds import Start, WorkedPart

LANE_MM = 3.3
WORDS_MM = 2.9
"""Room for the words of a band, above its stitches."""

FIRST_MM = 5.1
"""Least middle radius of the first round."""

WIDEST_GAP = 1.3
"""The number of a round takes no more of its way than this angle."""

CHAIN_ROOM_MM = 3.6
"""From the middle of an oval's chain to its first lane."""

CHAIN_MM, CHAIN_IN_MM = 2.6, 1.1
"""Room of a chain along an open start, and how far inside the first lane it lies."""

SPARSE = 0.4
"""Less of its way than this taken up by stitches, a spiral is hard to follow: our own eye."""

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
    least_gap: float = 0.0

    @cached_property
    def gap(self) -> float:
        """The way that the number takes up. On the lower side of an oval all take up the same: a
        round ends beside the number of the next."""
        return max(self.least_gap, text_width(self.label, NUMBER_SIZE, bold=True) + 3.4)

    @property
    def pitch(self) -> float:
        return LANE_MM + (WORDS_MM if self.lane.is_band else 0.0)

    def inner(self, share: float) -> float:
        """The inner edge at a share of the round."""
        return self.base + LANE_MM * share

    def middle(self, share: float) -> float:
        return self.inner(share) + LANE_MM / 2.0


def spiral_width(part: WorkedPart, lanes: Sequence[Lane]) -> float:
    """How wide :func:`spiral` would be, mm."""
    straight = straight_mm(part, lanes)
    last = laid(part, lanes)[-1]
    return 2.0 * (last.base + last.pitch + LANE_MM) + straight


def is_sparse(part: WorkedPart, lanes: Sequence[Lane]) -> bool:
    """Whether the rounds would lie far apart: a narrow tube."""
    straight = straight_mm(part, lanes)
    rings = laid(part, lanes)
    way = sum(2.0 * math.pi * ring.middle(0.5) + 2.0 * straight for ring in rings)
    return WIDE_MM * sum(lane.room(ROOM) for lane in lanes) < SPARSE * way


def straight_mm(part: WorkedPart, lanes: Sequence[Lane]) -> float:
    """Length of an oval's sides, with room for the numbers on the lower one."""
    if not part.straight_stitches:
        return 0.0
    least = max(3.0 * part.straight_stitches, 2.7 * (part.straight_stitches + 1))
    return least + _longest_gap(lanes)


def _longest_gap(lanes: Sequence[Lane]) -> float:
    return max(Ring(lane, 0.0, f"{lane.label} {lane.letter}").gap for lane in lanes)


def laid(part: WorkedPart, lanes: Sequence[Lane]) -> list[Ring]:
    """Lanes as they lie, the first inside; where yarns differ, labels have their letters."""
    lettered = len({lane.letter for lane in lanes}) > 1
    rings: list[Ring] = []
    straight = straight_mm(part, lanes)
    longest = _longest_gap(lanes) if straight else 0.0
    base = CHAIN_ROOM_MM if straight else FIRST_MM - LANE_MM
    if part.order.start is Start.OPEN:
        base = _chain_round_mm(part) / (2.0 * math.pi) + CHAIN_IN_MM
    for lane in lanes:
        label = f"{lane.label} {lane.letter}" if lettered else lane.label
        gap = Ring(lane, 0.0, label).gap
        if straight:
            right, _, left, _ = oval_segments(lane)
            least = max(_room(right[1]), _room(left[1])) / math.pi
        else:
            around = (WIDE_MM * lane.room(ROOM) + gap) / (2.0 * math.pi)
            least = max(around, gap / WIDEST_GAP + LANE_MM / 2.0)
        base = max(base, least - LANE_MM)
        rings.append(Ring(lane, base, label, longest))
        base += rings[-1].pitch
    return rings


def _chain_round_mm(part: WorkedPart) -> float:
    """The way round a ring of chains, with the slip stitch that closes it."""
    return CHAIN_MM * (part.start_chains + 1)


def _room(stitches: list[str]) -> float:
    return WIDE_MM * sum(ROOM[kind] for kind in stitches)


def spots(ring: Ring, straight: float, part_of: list[Segment]) -> Iterator[tuple[str, str]]:
    """(kind, transform) of every symbol of a lap in order."""
    done, total = 0.0, sum(_room(row) for _, row in part_of)
    for where, row in part_of:
        room, along = _room(row), 0.0
        for kind in row:
            wide = WIDE_MM * ROOM[kind]
            along += wide
            middle = along - wide / 2.0
            share = (done + middle) / total
            x, angle = _on(where, middle / room, straight, ring)
            far = ring.middle(share)
            place = at(x + far * math.sin(angle), far * math.cos(angle))
            yield kind, f"{place}rotate({number(180.0 - math.degrees(angle))})"
        done += room


def _on(where: str, share: float, straight: float, ring: Ring) -> tuple[float, float]:
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


def oval_segments(lane: Lane) -> list[Segment]:
    """The stretches of an oval's lap in order, from the right-hand end."""
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


def lap(ring: Ring, straight: float, above: float) -> str:
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
