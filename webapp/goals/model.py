"""The words of a goal: what is wanted, and what was reached."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from webapp.recipes import Design


class GoalKind(Enum):
    """What is wanted of the whole toy, and the unit of its value.

    Limits: YARN of a colour at most so many m, BALLS of a colour, STITCHES, HOURS (the middle
    estimate at the design's pace), the largest ROUND in stitches. To be met: the GIRTH of a part
    in mm, as near as whole stitches allow; EYES of exactly so many mm; the finished WIDTH in mm.
    """

    YARN = "yarn"
    BALLS = "balls"
    STITCHES = "stitches"
    HOURS = "hours"
    ROUND = "round"
    GIRTH = "girth"
    EYES = "eyes"
    WIDTH = "width"


LIMITS = (GoalKind.YARN, GoalKind.BALLS, GoalKind.STITCHES, GoalKind.HOURS, GoalKind.ROUND)
"""Kinds that are 'at most'; the others are met as nearly as can be."""


@dataclass(frozen=True)
class Goal:
    """What is wanted; ``about`` is the key of a colour or the name of a part."""

    kind: GoalKind
    value: float
    about: str = ""


@dataclass(frozen=True)
class Step:
    """What another finished height (mm) would give, in the unit of the goal."""

    height_mm: float
    value: float


@dataclass(frozen=True)
class Reached:
    """The design at the height found, and what it gives in the unit of the goal.

    ``up`` and ``down`` are the next heights at which that changes, None where the slider ends
    first. ``exact`` is False where whole stitches do not give what was wanted at any height looked
    at, and the nearest was taken.
    """

    design: Design
    value: float
    up: Step | None
    down: Step | None
    exact: bool = True
