"""The words of a worked part: what is ordered, and the part itself."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from webapp.rounds.fabric import Rings
from webapp.rounds.writing import Round, Sectors, write_rounds
from webapp.shapes import Meridian, Strip
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge


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
    """Two bulges on opposite sides (cheeks): from where to where along the outline (0 to 1), over
    what part of the round each (0 to 0.5), how deep in mm."""

    begin: float
    end: float
    arc: float
    depth_mm: float


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
    bulge: Bulge | None = None
    held: frozenset[str] = frozenset()
    start_count: int | None = None
    chain: int = 0

    @property
    def open_start(self) -> bool:
        return self.start in (Start.OPEN, Start.LEGS)


@dataclass(frozen=True, eq=False)
class WorkedPart:
    """A part in whole stitches, and the shape they make.

    ``sectors`` are the (before, after) counts of the arcs of each round; the rounds with their work
    are written from them when they are first asked for. ``bump_mm`` has an entry for each edge of
    ``rings``: how far the cheeks stand out there.
    """

    order: WorkOrder
    gauge: Gauge
    sectors: tuple[Sectors, ...]
    staggered: bool
    rings: Rings
    straight_stitches: int
    bump_mm: Floats

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
