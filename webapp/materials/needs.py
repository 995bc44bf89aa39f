"""What to have at hand before the first stitch."""

from __future__ import annotations

import math
from dataclasses import dataclass

from webapp.assembly import PlacedPart, WorkedToy
from webapp.materials import thread
from webapp.materials.eyes import EyeNeed, eyes_for
from webapp.materials.filling import DENSITY_G_PER_LITRE, inner_volume_mm3
from webapp.materials.thread import ThreadUse, threads_used
from webapp.materials.yarn import SPREAD, yarn_by_colour_mm
from webapp.recipes import Fibre, Seat
from webapp.words import noted
from webapp.yarns import METRES_PER_YARD, Hook, hook_for

OVERHEAD = (1.3, 1.45, 1.6)
SEWING_MINUTES = (10.0, 15.0, 20.0)
"""Counting and stuffing on top of stitching, and sewing a part: common practice, no source."""


def rounded(value: float) -> int:
    """To whole numbers, from 100 up to fives: no more than is known.

    >>> rounded(99.6), rounded(177.0)
    (100, 175)
    """
    return round(value) if value < 100 else 5 * round(value / 5)


@dataclass(frozen=True)
class Estimate:
    """A figure, its likely range, and in words how sure it is."""

    value: float
    low: float
    high: float
    how_sure: str


@dataclass(frozen=True)
class YarnNeed:
    """Yarn of one colour: length (m), mass (g), and balls of the stated mass and length."""

    colour: str
    metres: Estimate
    grams: float
    balls: int
    ball_grams: int
    ball_metres: int

    @property
    def yards(self) -> float:
        return self.metres.value / METRES_PER_YARD


@dataclass(frozen=True)
class ThreadNeed:
    """Embroidery thread of one colour (its words, and #rrggbb): length (m), and skeins of
    :data:`webapp.materials.thread.SKEIN_METRES`."""

    name: str
    hex: str
    metres: Estimate
    skeins: int

    @property
    def yards(self) -> float:
        return self.metres.value / METRES_PER_YARD


@dataclass(frozen=True)
class Materials:
    """Everything a toy takes."""

    yarns: tuple[YarnNeed, ...]
    threads: tuple[ThreadNeed, ...]
    hook: Hook
    filling_grams: Estimate
    hours: Estimate
    eyes: EyeNeed | None
    stitches: int


def materials_for(toy: WorkedToy) -> Materials:
    """The materials of a worked toy."""
    sewn = sum(
        p.copies for p in toy.recipe.parts if p.place.seat in (Seat.OPENING, Seat.SURFACE)
    )
    eyes = eyes_for(toy)
    return Materials(
        yarns=_yarns(toy),
        threads=tuple(_thread(use) for use in threads_used(toy, eyes)),
        hook=hook_for(toy.design.gauge),
        filling_grams=_filling(toy),
        hours=_hours(toy.stitches, sewn, toy.design.stitches_per_minute),
        eyes=eyes,
        stitches=toy.stitches,
    )


def _yarns(toy: WorkedToy) -> tuple[YarnNeed, ...]:
    category = toy.design.category
    cotton = toy.design.fibre is Fibre.COTTON
    per_100g = category.metres_per_100g_cotton if cotton else category.metres_per_100g_wool
    ball_grams = 50 if category.number <= 3 else 100
    ball_metres = per_100g * ball_grams / 100.0
    needs = []
    for colour, length in yarn_by_colour_mm(toy).items():
        metres = length / 1000.0
        needs.append(
            YarnNeed(
                colour,
                Estimate(
                    metres,
                    metres * (1.0 - SPREAD),
                    metres * (1.0 + SPREAD),
                    "within 15 %, tails and a tenth over included; your own tension decides",
                ),
                metres / per_100g * 100.0,
                math.ceil(metres / ball_metres),
                ball_grams,
                round(ball_metres),
            )
        )
    return tuple(needs)


def _thread(use: ThreadUse) -> ThreadNeed:
    metres = use.length_mm / 1000.0
    return ThreadNeed(
        use.name,
        use.hex,
        Estimate(
            metres,
            metres * (1.0 - thread.SPREAD),
            metres * (1.0 + thread.SPREAD),
            noted("within 30 %, ends and a tenth over included"),
        ),
        math.ceil(metres / thread.SKEIN_METRES),
    )


def _filling(toy: WorkedToy) -> Estimate:
    diameter = toy.design.category.diameter_mm
    grams = low = high = 0.0
    for placed in toy.placed.values():
        if not isinstance(placed, PlacedPart):
            continue
        density = DENSITY_G_PER_LITRE[placed.recipe.filling]
        if density == 0.0:
            continue
        litres = inner_volume_mm3(placed, diameter) * placed.recipe.copies / 1e6
        grams += litres * density
        low, high = low + litres * 20.0, high + litres * 50.0
    return Estimate(
        grams,
        low,
        high,
        "a guess to buy by: hands pack from 20 to 50 g a litre",
    )


def _hours(stitches: int, sewn: int, per_minute: float) -> Estimate:
    low, middle, high = (
        (stitches / per_minute * over + sewn * sewing) / 60.0
        for over, sewing in zip(OVERHEAD, SEWING_MINUTES, strict=True)
    )
    return Estimate(
        middle,
        low,
        high,
        f"at {per_minute:g} stitches a minute, with counting, stuffing and sewing",
    )
