"""The words a recipe is made of. All lengths in a recipe are formulas of its dimensions, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property

from webapp.formulas import Equation, Expression, names_in
from webapp.recipes.measures import Measures, measures_of

LYING = 45.0
"""A toy that its pictures turn further than so many degrees is best known from its side."""


class Filling(Enum):
    """How a part is stuffed."""

    FIRM = "firm"
    LIGHT = "light"
    NONE = "none"


class Seat(Enum):
    """How a part meets the toy.

    GROUND: it stands, or lies, and the others are sewn to it. OPENING: its opening is sewn to the
    equal opening of its host. SURFACE: its open edge is sewn onto the outside of its host. NECK: a
    strip laid round the seam of its host. JOINED: one of the legs that its host is begun on.
    """

    GROUND = "ground"
    OPENING = "opening"
    SURFACE = "surface"
    NECK = "neck"
    JOINED = "joined"


class EyeKind(Enum):
    """What the eyes are made of."""

    SAFETY = "safety"
    EMBROIDERED = "embroidered"
    BUTTONS = "buttons"


class MarkKind(Enum):
    """How a feature is embroidered: filled with long stitches, or as a line."""

    FILLED = "filled"
    LINE = "line"


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
class Band:
    """A colour of a part, from where it begins up to where the next begins.

    It begins at the share ``begin`` of the part's rounds or, unless 0, at the round ``at_round``.
    With ``every`` above 0 it is striped: ``colour`` and each of ``others`` take turns, so many
    rounds each.
    """

    colour: str
    begin: float = 0.0
    at_round: int = 0
    others: tuple[str, ...] = ()
    every: int = 0


@dataclass(frozen=True)
class BulgeSpec:
    """Local shaping: increases gathered in an arc, so that the part bulges there.

    ``label`` is its word in the pattern. ``begin`` and ``end`` are along the outline (0 to 1),
    ``arc`` is over what part of the round, ``depth`` how far it stands out. ``around`` is where
    its middle lies, degrees from the front; a ``pair`` has a twin on the other side.
    """

    label: str
    begin: float
    end: float
    arc: float
    depth: Expression
    around: float = 90.0
    pair: bool = True


@dataclass(frozen=True)
class Legs:
    """The two legs a part is begun on: which part they are, and the chain between them, in
    stitches."""

    part: str
    chain: int


@dataclass(frozen=True)
class Place:
    """Where a part goes.

    ``along`` is how far along the host's axis from where the host is begun (0 to 1), ``around``
    the angle round the host in degrees (0 front, or top of a host lying down; 90 the viewer's
    right). The part's own axis, from its sewn edge outwards, rises ``tilt`` degrees and heads
    ``swing`` degrees (0 front, 90 the viewer's right, 180 back). ``roll`` turns it about its axis.
    ``sink`` is how deep its edge is set into the host, as a part of the edge's width. ``pair``
    adds its mirror image; ``times`` more than 1 puts so many evenly round the host.
    ``lies_flat`` lays a patch on its host, following it.
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
    times: int = 1


@dataclass(frozen=True)
class PartRecipe:
    """A part: its shape and lengths, its start, colours and filling, and where it goes.

    The first of ``colours`` begins with the part. ``legs`` are those it is begun on, if it is.
    """

    name: str
    label: str
    shape: str
    lengths: Mapping[str, Expression]
    place: Place
    colours: tuple[Band, ...]
    filling: Filling
    ring: int = 6
    points: tuple[tuple[Expression, Expression], ...] = ()
    bulges: tuple[BulgeSpec, ...] = ()
    legs: Legs | None = None

    @property
    def colours_used(self) -> tuple[str, ...]:
        """The colours it is worked in, each once, in the order in which they come."""
        every = (c for band in self.colours for c in (band.colour, *band.others))
        return tuple(dict.fromkeys(every))

    @property
    def copies(self) -> int:
        return 2 if self.place.pair else self.place.times


@dataclass(frozen=True)
class EyeSpec:
    """A pair of eyes: on which part, how far along it, the angle from the front of each, the
    diameter wanted, and what they are made of."""

    on: str
    along: float
    around: float
    diameter: Expression
    kind: EyeKind = EyeKind.SAFETY


@dataclass(frozen=True)
class Mark:
    """A small embroidered feature (a nose, a blush, a mouth, a brow): words, place, size, colour.

    A line goes ``width`` across and ``height`` up at its ends (down where negative), slanted by
    ``slant`` degrees, outer end up.
    """

    label: str
    on: str
    along: float
    around: float
    width: Expression
    height: Expression
    colour: str
    pair: bool = False
    kind: MarkKind = MarkKind.FILLED
    slant: float = 0.0


@dataclass(frozen=True)
class Recipe:
    """A toy as data. ``key`` is its name in addresses; ``parts`` are in working order, hosts before
    what is sewn to them. ``dimensions`` are the values (mm, at the default height) of dimensions
    that the rules leave free. ``turn`` is how far it is turned in pictures, degrees towards the
    reader's right."""

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
    dimensions: Mapping[str, float] = field(default_factory=dict)
    turn: float = 18.0

    @property
    def lies_down(self) -> bool:
        """Whether it is best known from its side."""
        return self.turn >= LYING

    @property
    def leads(self) -> tuple[str, ...]:
        """What the rules are given: the finished height and the ratios with a slider."""
        return tuple("toy.height" if name == "height" else name for name in self.sliders)

    @cached_property
    def measures(self) -> Measures:
        """Everything that can be held, by name."""
        known = frozenset(name for rule in self.rules for name in names_in(rule))
        return measures_of(
            self.parts, self.eyes, self.marks, self.dimensions, known
        )

    def part(self, name: str) -> PartRecipe:
        return next(part for part in self.parts if part.name == name)
