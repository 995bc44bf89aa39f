"""The words of a worked part: what is ordered, and the part itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

import numpy as np

from webapp.rounds.fabric import Rings
from webapp.rounds.writing import Round, Sectors, write_rounds
from webapp.shapes import Meridian, Strip
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

CHEEKS = "cheeks"
WIDE_ARC = 0.125
"""Cheeks of this share of the round can take all that the outline gains: our own choice."""


class Start(Enum):
    """How a part is begun: on a ring, along both sides of a chain (an oval), on a chain joined into
    a ring (an opening), or on two legs with a chain between them."""

    RING = "ring"
    CHAIN = "chain"
    OPEN = "open"
    LEGS = "legs"


@dataclass(frozen=True)
class Effort:
    """What the maker wants of the rounds: ``weight`` of simple work against true shape
    (thousandths of a squared unit, see :mod:`webapp.rounds.counts`), and staggered increases."""

    weight: int
    staggered: bool = True


@dataclass(frozen=True)
class Bulge:
    """Local shaping: from where to where along the outline (0 to 1), over what part of the round
    (0 to 0.5), how deep in mm; its word, and the angle of its middle, degrees from the front. A
    ``pair`` has a twin on the other side."""

    begin: float
    end: float
    arc: float
    depth_mm: float
    label: str = CHEEKS
    around: float = 90.0
    pair: bool = True

    @property
    def in_two(self) -> bool:
        """Whether it is worked in two equal arcs: a pair, or halves on both sides of the back."""
        return self.pair or self.around == 180.0

    @property
    def rest(self) -> tuple[float, float]:
        """The shares of a round that lie in front and behind."""
        if not self.pair:
            return (0.0, 1.0 - self.arc) if self.around == 0.0 else (1.0 - self.arc, 0.0)
        in_front = self.around / 180.0
        return in_front - self.arc, 1.0 - in_front - self.arc

    @property
    def middles(self) -> tuple[float, ...]:
        """The angles of its middle, and of its twin's, radians from the front."""
        angle = math.radians(self.around)
        return (angle, -angle) if self.pair else (angle,)

    def wave(self, turn: Floats) -> Floats:
        """How far it stands out at angles from the front (radians), 1 at its middle: a wave of a
        cosine over its arc."""
        total = np.zeros_like(turn)
        for middle in self.middles:
            away = np.abs((turn - middle + math.pi) % (2.0 * math.pi) - math.pi)
            inside = away < math.pi * self.arc
            total += np.where(inside, (1.0 + np.cos(away / self.arc)) / 2.0, 0.0)
        return total


@dataclass(frozen=True)
class WorkOrder:
    """One part to be worked.

    ``end_count`` fixes the last round where a seam partner needs it, ``start_count`` the first of
    a part begun on legs, which have ``chain`` stitches between them. ``held`` says what must be
    met within half a stitch ("width") or half a round ("height"), simple or not.
    """

    name: str
    outline: Meridian
    start: Start = Start.RING
    ring: int = 6
    end_count: int | None = None
    bulges: tuple[Bulge, ...] = ()
    held: frozenset[str] = frozenset()
    start_count: int | None = None
    chain: int = 0

    @property
    def side_start(self) -> bool:
        """Whether its shaped rounds start at one side: for wide cheeks alone on their part."""
        if len(self.bulges) != 1:
            return False
        bulge = self.bulges[0]
        at_the_sides = bulge.label == CHEEKS and bulge.around == 90.0
        return at_the_sides and bulge.arc >= WIDE_ARC

    @property
    def open_start(self) -> bool:
        return self.start in (Start.OPEN, Start.LEGS)


@dataclass(frozen=True, eq=False)
class Shaped:
    """A bulge as worked: in which rounds, and how far it stands out at each edge, mm."""

    bulge: Bulge
    first_round: int
    last_round: int
    bump_mm: Floats


@dataclass(frozen=True, eq=False)
class WorkedPart:
    """A part in whole stitches, and the shape they make.

    ``sectors`` are the (before, after) counts of the arcs of each round; the rounds with their work
    are written from them when they are first asked for. ``shaped`` are its bulges as worked, one
    above the other.
    """

    order: WorkOrder
    gauge: Gauge
    sectors: tuple[Sectors, ...]
    staggered: bool
    rings: Rings
    straight_stitches: int
    shaped: tuple[Shaped, ...] = ()

    def stands_out_mm(self, edges: Floats, turn: Floats) -> Floats:
        """How far the bulges stand out at edge numbers and angles from the front (radians), any
        two shapes that go together."""
        total: Floats = np.zeros(np.broadcast_shapes(edges.shape, turn.shape))
        for group in self.shaped:
            at = np.interp(edges, np.arange(float(len(group.bump_mm))), group.bump_mm)
            total += at * group.bulge.wave(turn)
        return total

    @cached_property
    def rounds(self) -> tuple[Round, ...]:
        return write_rounds(self.sectors, self.staggered)

    @cached_property
    def counts(self) -> tuple[int, ...]:
        return tuple(
            r[0][1] if len(r) == 1 else sum(after for _, after in r) for r in self.sectors
        )

    @property
    def stitches(self) -> int:
        return sum(self.counts)

    @property
    def closed(self) -> bool:
        return self.order.outline.closed

    @property
    def straight_mm(self) -> float:
        return self.straight_stitches * self.gauge.stitch_mm

    @property
    def start_chains(self) -> int:
        """Chain stitches it is begun with."""
        if self.order.start is Start.OPEN:
            return self.counts[0]
        return self.straight_stitches + 3 if self.straight_stitches else self.order.chain

    @property
    def per_leg(self) -> int:
        """Stitches of each of the two legs it is begun on."""
        return self.counts[0] // 2 - self.order.chain

    @cached_property
    def widest_mm(self) -> float:
        """Width at the widest round as stitched, mm (lying flat where it is flattened)."""
        from_outline = self.order.outline
        scale = from_outline.widest_mm - from_outline.straight_mm
        radius = float(self.rings.radius_mm.max())
        return radius * scale / float(from_outline.radius_mm.max()) + self.straight_mm

    @property
    def height_mm(self) -> float:
        return self.rings.height_mm


@dataclass(frozen=True)
class WorkedStrip:
    """A strip in rows: stitches a row, rows, and its size as stitched."""

    name: str
    strip: Strip
    gauge: Gauge
    per_row: int
    rows: int

    @property
    def stitches(self) -> int:
        return self.per_row * self.rows

    @property
    def width_mm(self) -> float:
        return self.per_row * self.gauge.stitch_mm

    @property
    def length_mm(self) -> float:
        return self.rows * self.gauge.round_mm
