"""An oval begun on a chain: two half turns that grow, two straight sides that do not."""

from __future__ import annotations

import math

import numpy as np

from webapp.rounds.bounds import bound_by_widest, relaxed
from webapp.rounds.counts import CountProblem, choose_counts
from webapp.rounds.fabric import lay_rings
from webapp.rounds.refusals import too_small, unworkable
from webapp.rounds.worked import Effort, WorkedPart, WorkOrder
from webapp.shapes import Meridian
from webapp.shapes.meridian import Floats
from webapp.yarns import Gauge

FEWEST_IN_TURN = 3


def work_oval(
    order: WorkOrder, outline: Meridian, gauge: Gauge, effort: Effort, along: Floats
) -> WorkedPart:
    """Rounds round a chain: two half turns that grow, two straight sides that do not.

    The first round has 3 stitches in each end chain, so each half turn starts at 3.
    """
    turns = (outline.girth_at(along) - 2.0 * outline.straight_mm) / (2.0 * gauge.stitch_mm)
    widest = (order.outline.widest_girth_mm - 2.0 * outline.straight_mm) / (2 * gauge.stitch_mm)
    if widest < FEWEST_IN_TURN:
        short = outline.widest_mm - outline.straight_mm
        raise too_small(order.name, short, widest, FEWEST_IN_TURN, "round each end")
    turns, lows, highs = bound_by_widest(
        turns, widest, FEWEST_IN_TURN, "width" in order.held
    )
    lows[0] = highs[0] = FEWEST_IN_TURN
    problem = CountProblem(tuple(turns.tolist()), tuple(lows), tuple(highs), 3, effort.weight)
    chosen = choose_counts(problem) or choose_counts(relaxed(problem))
    if chosen is None:
        raise unworkable(order)
    # The chain makes up for what the half turns, in whole stitches, are short of or over.
    turns_mm = 2.0 * max(chosen.counts) * gauge.stitch_mm / math.pi
    straight = max(1, round((order.outline.widest_mm - turns_mm) / gauge.stitch_mm))
    side = (straight, straight)
    first = ((0, 2 * chosen.counts[0] + 2 * straight),)
    steps = zip(chosen.counts, chosen.counts[1:], strict=False)
    sectors = (first, *((turn, side, turn, side) for turn in steps))
    girths = 2.0 * gauge.stitch_mm * np.array(chosen.counts)
    rings = lay_rings(girths, gauge.round_mm, closed=False)
    # An oval is not staggered: its increases would wander off its ends.
    return WorkedPart(order, gauge, sectors, False, rings, straight)
