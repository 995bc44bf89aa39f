"""Gauge: the size of one single crochet, as a part sees it and as a maker counts it.

stitch_mm (w)  along the round          stitches in a length = length / w
round_mm (h)   across it                rounds in a length   = length / h
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from webapp.errors import RoundlingError

TEN_CM_MM = 100.0
FOUR_INCHES_MM = 101.6

STITCHES = (2.0, 80.0)
ROUNDS = (2.0, 90.0)
"""Counts a swatch may have: past the thickest yarn at one end, sewing thread at the other."""

TALLNESS = (0.7, 1.3)
"""Height over width of a single crochet. Published gauges that give both directions lie between
0.875 and 1.00 (manufacturers' leaflets); this leaves room for unusual hands on either side."""


@dataclass(frozen=True)
class Gauge:
    """Width and height of one single crochet worked in the round, mm; both positive."""

    stitch_mm: float
    round_mm: float

    def __post_init__(self) -> None:
        if not all(math.isfinite(mm) and mm > 0.0 for mm in (self.stitch_mm, self.round_mm)):
            raise ValueError(f"a stitch has a width and a height above 0 mm, not {self}")

    @classmethod
    def per_10cm(cls, stitches: float, rounds: float) -> Gauge:
        """The gauge of so many stitches and rounds in 10 cm."""
        return cls(TEN_CM_MM / stitches, TEN_CM_MM / rounds)

    @property
    def stitches_per_10cm(self) -> float:
        return TEN_CM_MM / self.stitch_mm

    @property
    def rounds_per_10cm(self) -> float:
        return TEN_CM_MM / self.round_mm

    @property
    def flat_increase(self) -> float:
        """Stitches that each round of a flat disc has more than the round before, 2 pi h / w."""
        return 2.0 * math.pi * self.round_mm / self.stitch_mm


class Swatch(Enum):
    """The length over which a maker counted."""

    TEN_CM = "10cm"
    FOUR_INCHES = "4in"

    @property
    def mm(self) -> float:
        return TEN_CM_MM if self is Swatch.TEN_CM else FOUR_INCHES_MM

    @property
    def words(self) -> str:
        """The length as makers write it."""
        return "10 cm" if self is Swatch.TEN_CM else "4 in"


def swatch_gauge(stitches: float, rounds: float, over: Swatch) -> Gauge:
    """The gauge counted on a maker's swatch.

    Raises :class:`RoundlingError` for a count that no swatch has (field ``swatch_stitches`` or
    ``swatch_rounds``), and for a fabric that cannot be single crochet (``swatch_rounds``).
    """
    _check_count(stitches, "stitches", STITCHES, over)
    _check_count(rounds, "rounds", ROUNDS, over)
    if not _is_single_crochet(stitches, rounds):
        raise _not_single_crochet(stitches, rounds, over)
    return Gauge(over.mm / stitches, over.mm / rounds)


def _is_single_crochet(stitches: float, rounds: float) -> bool:
    low, high = TALLNESS
    return low <= stitches / rounds <= high


def _check_count(count: float, what: str, limits: tuple[float, float], over: Swatch) -> None:
    low, high = limits
    span = f"between {low:g} and {high:g} {what} in {over.words}"
    if not math.isfinite(count):
        why, nearest = f"That is not a number of {what}.", f"Give a count {span}."
    elif count < low:
        why, nearest = f"A swatch has {span}.", f"The nearest is {low:g} {what}."
    elif count > high:
        why, nearest = f"A swatch has {span}.", f"The nearest is {high:g} {what}."
    else:
        return
    raise RoundlingError(
        asked=f"A swatch of {count:.6g} {what} in {over.words} was given.",
        why=why,
        nearest=nearest,
        field=f"swatch_{what}",
    )


def _not_single_crochet(stitches: float, rounds: float, over: Swatch) -> RoundlingError:
    tallness = stitches / rounds
    shape = "as tall as it is wide" if tallness > 1.0 else "as wide as it is tall"
    by = max(tallness, 1.0 / tallness)
    lowest, highest = (int(limit) for limit in ROUNDS)
    fitting = [r for r in range(lowest, highest + 1) if _is_single_crochet(stitches, r)]
    span = str(fitting[0]) if len(fitting) == 1 else f"{fitting[0]} to {fitting[-1]}"
    return RoundlingError(
        asked=f"A swatch of {stitches:g} stitches and {rounds:g} rounds in {over.words} was given.",
        why=f"Each stitch would be {by:.1f} times {shape}, and a single crochet (UK double "
        "crochet) is about square.",
        nearest=f"With {stitches:g} stitches it can have {span} rounds.",
        field="swatch_rounds",
    )
