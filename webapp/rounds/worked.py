"""The words of a worked part: what is ordered, its rounds, and the part itself."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from webapp.rounds.fabric import Rings
from webapp.rounds.repeats import Work, joined
from webapp.shapes import Meridian, Strip
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge


class Start(Enum):
    """How a part is begun."""

    RING = "ring"
    CHAIN = "chain"


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
    """One part to be worked. ``end_count`` fixes the last round where a seam partner needs it."""

    name: str
    outline: Meridian
    start: Start = Start.RING
    ring: int = 6
    end_count: int | None = None
    bulge: Bulge | None = None


@dataclass(frozen=True)
class Round:
    """A round: its number, the stitches it is worked into, those it makes, and the work.

    ``sectors`` are (before, after) counts of the arcs of the round in order, one if it is even all
    round; ``arcs`` the work of each, and ``work`` all of it.
    """

    number: int
    before: int
    count: int
    sectors: tuple[tuple[int, int], ...]
    arcs: tuple[Work, ...]

    @cached_property
    def work(self) -> Work:
        return self.arcs[0] if len(self.arcs) == 1 else joined(r for arc in self.arcs for r in arc)

    @property
    def is_even(self) -> bool:
        return len(self.work) == 1 and self.work[0][0] == "sc"


@dataclass(frozen=True, eq=False)
class WorkedPart:
    """A part in whole stitches, and the shape they make.

    ``bump_mm`` has an entry for each edge of ``rings``: how far the cheeks stand out there.
    """

    order: WorkOrder
    gauge: Gauge
    rounds: tuple[Round, ...]
    rings: Rings
    straight_stitches: int
    bump_mm: Floats

    @cached_property
    def counts(self) -> tuple[int, ...]:
        return tuple(r.count for r in self.rounds)

    @property
    def stitches(self) -> int:
        return sum(r.count for r in self.rounds)

    @property
    def closed(self) -> bool:
        return self.order.outline.closed

    @property
    def straight_mm(self) -> float:
        return self.straight_stitches * self.gauge.stitch_mm

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
