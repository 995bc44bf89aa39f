"""Rounds: from a smooth outline to whole stitches, each round worked into the one before.

:func:`work_part` goes the way of one part; imports :mod:`webapp.shapes` and :mod:`webapp.yarns`.
Start reading at :mod:`webapp.rounds.part`; the optimal choice of counts is in ``counts``, the
placing of increases in ``spread``, the shortest wording in ``repeats``, the shape in ``fabric``.
"""

from webapp.rounds.counts import FEWEST, REACH_SHARE, REACH_STITCHES
from webapp.rounds.fabric import Rings
from webapp.rounds.part import opening_count, work_part
from webapp.rounds.repeats import Group, Run, Work, shortest
from webapp.rounds.strip import work_strip
from webapp.rounds.worked import (
    Bulge,
    Effort,
    Shaped,
    Start,
    WorkedPart,
    WorkedStrip,
    WorkOrder,
)
from webapp.rounds.writing import Round

__all__ = [
    "FEWEST",
    "REACH_SHARE",
    "REACH_STITCHES",
    "Bulge",
    "Effort",
    "Group",
    "Rings",
    "Round",
    "Run",
    "Shaped",
    "Start",
    "Work",
    "WorkOrder",
    "WorkedPart",
    "WorkedStrip",
    "opening_count",
    "shortest",
    "work_part",
    "work_strip",
]
