"""A design: one toy with every choice of its maker made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from webapp.yarns import Gauge, LengthUnit, Terms, YarnCategory


class Fibre(Enum):
    """What the yarn is made of; cotton is heavier for its length."""

    COTTON = "cotton"
    WOOL = "wool"


@dataclass(frozen=True)
class Design:
    """Every choice.

    ``sliders`` hold the recipe's sliders by name (height in mm, the rest ratios); ``simplicity``
    runs from 0, truest shape, to 100, simplest to stitch. ``from_swatch`` says that ``gauge`` is
    the maker's own. ``under_three``: for a child under three years. ``held`` are values that hold
    whatever the rules would give (mm by name, ratios by the name of their slider); sliders not
    among them give way. ``let_go`` are numbers of rules that need not hold.
    """

    toy: str
    sliders: Mapping[str, float]
    category: YarnCategory
    gauge: Gauge
    from_swatch: bool = False
    fibre: Fibre = Fibre.COTTON
    simplicity: float = 60.0
    staggered: bool = True
    under_three: bool = False
    unit: LengthUnit = LengthUnit.CM
    terms: Terms = Terms.US
    stitches_per_minute: float = 15.0
    held: Mapping[str, float] = field(default_factory=dict)
    let_go: frozenset[int] = frozenset()
