"""Refusals: a part that cannot be worked, in three sentences that name it."""

from __future__ import annotations

import math

from webapp.errors import RoundlingError
from webapp.rounds.worked import Bulge, WorkOrder

MOST_ROUNDS = 2000
MOST_STITCHES = 3000
"""In a round: the search for whole counts takes room and time by their square."""


def too_small(
    name: str, width_mm: float, stitches: float, fewest: int, where: str = "at its widest"
) -> RoundlingError:
    return RoundlingError(
        asked=f"The {name} would be {width_mm:.0f} mm wide.",
        why=f"That is {_down(stitches)} stitches {where}, and it needs at least {fewest}.",
        nearest=f"It can be {width_mm * fewest / stitches * 1.02:.0f} mm wide or more, "
        "or use a finer yarn.",
        field=name,
    )


def too_short(
    name: str, along_mm: float, round_mm: float, fewest: int, laps: str = "rounds"
) -> RoundlingError:
    return RoundlingError(
        asked=f"The {name} would be {along_mm:.0f} mm long, measured along the fabric.",
        why=f"That is {_down(along_mm / round_mm)} {laps}, and it needs at least {fewest}.",
        nearest=f"It can be {fewest * round_mm:.0f} mm long or more, or use a finer yarn.",
        field=name,
    )


def too_big(name: str, rounds: int, laps: str = "rounds") -> RoundlingError:
    return RoundlingError(
        asked=f"The {name} would have {rounds} {laps}.",
        why=f"No part may have more than {MOST_ROUNDS}.",
        nearest="Make the toy smaller or use a thicker yarn.",
        field=name,
    )


def too_wide(
    name: str, stitches: float, most: int = MOST_STITCHES, lap: str = "round"
) -> RoundlingError:
    return RoundlingError(
        asked=f"The {name} would have {stitches:.0f} stitches in a {lap}.",
        why=f"No {lap} may have more than {most}.",
        nearest="Make it smaller or use a thicker yarn.",
        field=name,
    )


def shaped_over_few_rounds(
    order: WorkOrder, bulge: Bulge, rounds: int, fewest: int
) -> RoundlingError:
    number = "1 round" if rounds == 1 else f"{rounds} rounds"
    return RoundlingError(
        asked=f"The {bulge.label} of the {order.name} would be worked over {number}.",
        why=f"To come out and go in again it needs at least {fewest}.",
        nearest="Let it go on for longer, make the toy larger or use a finer yarn.",
        field=order.name,
    )


def shaped_too_narrow(
    order: WorkOrder, bulge: Bulge, number: int, stitches: float
) -> RoundlingError:
    return RoundlingError(
        asked=f"The {bulge.label} of the {order.name} would be worked over "
        f"{100.0 * bulge.arc:.0f} % of the round.",
        why=f"Round {number} has only {_down(stitches)} stitches for it, and it needs at least 1.",
        nearest="Make it wider, begin it later, make the toy larger or use a finer yarn.",
        field=order.name,
    )


def shaped_too_steeply(order: WorkOrder, bulge: Bulge) -> RoundlingError:
    return RoundlingError(
        asked=f"The {bulge.label} of the {order.name} would stand out {bulge.depth_mm:.0f} mm.",
        why="Its stitches would have to more than double or more than halve in a round.",
        nearest="Make it less deep, wider or longer.",
        field=order.name,
    )


def legs_too_wide(order: WorkOrder, stitches: int, widest: float) -> RoundlingError:
    return RoundlingError(
        asked=f"The {order.name} would be begun on two legs, on {stitches} stitches.",
        why=f"It would have only {_down(widest)} at its widest.",
        nearest="Make the legs thinner, the chain between them shorter, or the part wider.",
        field=order.name,
    )


def unworkable(order: WorkOrder) -> RoundlingError:
    return RoundlingError(
        asked=f"The {order.name} would be {order.outline.widest_mm:.0f} mm wide and "
        f"{order.outline.height_mm:.0f} mm long.",
        why="Its rounds would have to more than double or more than halve.",
        nearest="Make it longer, or less wide, or use a finer yarn.",
        field=order.name,
    )


def _down(number: float) -> str:
    """To one decimal, rounded down: what is not enough does not read as enough."""
    return f"{math.floor(number * 10.0) / 10.0:.1f}"
