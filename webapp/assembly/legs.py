"""A body begun on two legs: how its first laps lie on them.

            .--.                Seen from above. The first round goes round one leg, along one
          ( leg )==(chain)==    side of the chain, round the other leg and back along the chain's
            `--'                other side: a lap in the form of an 8 that the fabric then leaves
                                for an oval two legs wide, and at last for a round one.

A lap of so many stitches keeps its girth, so what is wider is less deep.
"""

from __future__ import annotations

import math

import numpy as np

from webapp.rounds import WorkedPart
from webapp.shapes.meridian import Floats, width_per_girth

OVAL_SHARE = 0.25
"""The share of a body's rounds over which its laps become round: our own choice."""

_FLATNESS = np.linspace(1.0, 0.1, 91)
_WIDTHS = np.array([width_per_girth(float(flatness)) for flatness in _FLATNESS])


def leg_radius_mm(body: WorkedPart) -> float:
    """Half the width of each leg where the body is begun on it."""
    return body.per_leg * body.gauge.stitch_mm / (2.0 * math.pi)


def leg_middle_mm(body: WorkedPart) -> float:
    """How far the middle of each leg lies from the middle of the body."""
    return leg_radius_mm(body) + body.order.chain * body.gauge.stitch_mm / 2.0


def laps_on_legs(body: WorkedPart, half_mm: Floats) -> tuple[Floats, Floats]:
    """Half depths and half widths of the laps of a body, shape (edges,), from their radii.

    The first lap is as wide as the two legs; the girth of each stays as it is.
    """
    edges = np.arange(float(len(half_mm)))
    left = np.clip(1.0 - edges / (OVAL_SHARE * (len(half_mm) - 1)), 0.0, 1.0)
    wider = (leg_middle_mm(body) + leg_radius_mm(body)) / float(half_mm[0]) - 1.0
    widths = np.clip(1.0 + wider * left * left * (3.0 - 2.0 * left), 1.0, float(_WIDTHS[-1]))
    flatness = np.interp(widths, _WIDTHS, _FLATNESS)
    side = half_mm * widths
    return side * flatness, side


def eight(body: WorkedPart, turn: Floats) -> tuple[Floats, Floats]:
    """Points of the first lap at angles round the body (0 front), forwards and to the side, mm.

    They follow the stitches: ``turn`` over a whole turn is the share of the round.
    """
    radius, middle = leg_radius_mm(body), leg_middle_mm(body)
    mirrored = turn > math.pi
    share = np.where(mirrored, 2.0 * math.pi - turn, turn) / math.pi
    bridge = middle - radius
    stitches = share * (2.0 * bridge + 2.0 * math.pi * radius)
    angle = np.clip((stitches - bridge) / radius, 0.0, 2.0 * math.pi)
    on_chain = np.minimum(stitches, 2.0 * bridge + 2.0 * math.pi * radius - stitches)
    side = np.where(on_chain < bridge, on_chain, middle - radius * np.cos(angle))
    return radius * np.sin(angle), np.where(mirrored, -side, side)


def leaving_the_legs(body: WorkedPart, edges: Floats) -> Floats:
    """How far laps at these edge numbers have left the form of an 8 for their own: 0 to 1.

    The fabric between the legs takes as much length to come out as the lap is deep.
    """
    reach = 1.2 * float(body.rings.smooth_mm[0]) / body.gauge.round_mm
    share = np.clip(edges / min(reach, 0.5 * (len(body.rings.smooth_mm) - 1)), 0.0, 1.0)
    return np.asarray(np.sin(share * math.pi / 2.0), dtype=np.float64)
