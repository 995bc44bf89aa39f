"""The words a recipe is made of. All lengths in a recipe are formulas of its dimensions, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from webapp.formulas import Equation, Expression


class Filling(Enum):
    """How a part is stuffed."""

    FIRM = "firm"
    LIGHT = "light"
    NONE = "none"


class Seat(Enum):
    """How a part meets the toy.

    GROUND: it stands, or lies, and the others are sewn to it. OPENING: its opening is sewn to the
    equal opening of its host. SURFACE: its open edge is sewn onto the outside of its host. NECK: a
    strip laid round the seam of its host.
    """

    GROUND = "ground"
    OPENING = "opening"
    SURFACE = "surface"
    NECK = "neck"


@dataclass(frozen=True)
class Colour:
    """A yarn colour: the words for it in the pattern, and how it is drawn (#rrggbb)."""

    name: str
    hex: str


@dataclass(frozen=True)
class SliderRange:
    """Lowest, highest and default value of a slider; mm for a length."""

    low: float
    high: float
    default: float


@dataclass(frozen=True)
class BulgeSpec:
    """Cheeks: where along the outline (0 to 1), over what part of the round each, how deep."""

    begin: float
    end: float
    arc: float
    depth: Expression


@dataclass(frozen=True)
class Place:
    """Where a part goes.

    ``along`` is how far along the host's axis from where the host is begun (0 to 1), ``around``
    the angle round the host in degrees (0 front, or top of a host lying down; 90 the viewer's
    right). The part's own axis, from its sewn edge outwards, rises ``tilt`` degrees and heads
    ``swing`` degrees (0 front, 90 the viewer's right, 180 back). ``roll`` turns it about its axis.
    ``sink`` is how deep its edge is set into the host, as a part of the edge's width. ``pair``
    adds its mirror image. ``lies_flat`` lays a patch on its host, following it.
    """

    seat: Seat
    on: str = ""
    along: float = 0.0
    around: float = 0.0
    tilt: float = 90.0
    swing: float = 0.0
    roll: float = 0.0
    sink: float = 0.0
    pair: bool = False
    lies_flat: bool = False


@dataclass(frozen=True)
class PartRecipe:
    """A part: its shape and lengths, its start, colours and filling, and where it goes.

    ``colours`` are (from what part of its rounds, name), the first from 0.
    """

    name: str
    label: str
    shape: str
    lengths: Mapping[str, Expression]
    place: Place
    colours: tuple[tuple[float, str], ...]
    filling: Filling
    ring: int = 6
    points: tuple[tuple[Expression, Expression], ...] = ()
    bulge: BulgeSpec | None = None

    @property
    def copies(self) -> int:
        return 2 if self.place.pair else 1


@dataclass(frozen=True)
class EyeSpec:
    """A pair of eyes: on which part, how far along it, the angle from the front of each, and the
    diameter wanted."""

    on: str
    along: float
    around: float
    diameter: Expression


@dataclass(frozen=True)
class Mark:
    """A small embroidered feature (a nose, a blush): words, place, size and colour."""

    label: str
    on: str
    along: float
    around: float
    width: Expression
    height: Expression
    colour: str
    pair: bool = False


@dataclass(frozen=True)
class Recipe:
    """A toy as data. ``key`` is its name in addresses; ``parts`` are in working order. ``turn`` is
    how far it is turned in pictures, degrees towards the reader's right."""

    key: str
    name: str
    line: str
    level: str
    height_word: str
    colours: Mapping[str, Colour]
    sliders: Mapping[str, SliderRange]
    rules: tuple[Equation, ...]
    parts: tuple[PartRecipe, ...]
    eyes: EyeSpec | None = None
    marks: tuple[Mark, ...] = ()
    turn: float = 18.0

    @property
    def leads(self) -> tuple[str, ...]:
        """What the rules are given: the finished height and the ratios with a slider."""
        return tuple("toy.height" if name == "height" else name for name in self.sliders)

    def part(self, name: str) -> PartRecipe:
        return next(part for part in self.parts if part.name == name)
