"""The volume there is to stuff: inside the fabric, not its outside."""

from __future__ import annotations

import math

import numpy as np

from webapp.assembly import PlacedPart
from webapp.recipes import Filling

DENSITY_G_PER_LITRE = {Filling.FIRM: 30.0, Filling.LIGHT: 20.0, Filling.NONE: 0.0}
"""Polyester fibre as packed by hand: 20 to 50 g a litre, common practice, no measured source."""

THICKNESS_PER_DIAMETER = 2.25
"""Single crochet fabric is 2 to 2.5 yarn diameters thick: common practice, no source."""


def inner_volume_mm3(placed: PlacedPart, yarn_diameter_mm: float) -> float:
    """Volume inside one copy of a placed part, cubic mm.

    Laps are taken as ellipses (with a straight stretch for an oval), smaller than the outside by
    half the fabric's thickness.
    """
    wall = THICKNESS_PER_DIAMETER * yarn_diameter_mm / 2.0
    half_straight = placed.part.straight_mm / 2.0
    ref, side = placed.edge_ref_mm - wall, placed.edge_side_mm - half_straight - wall
    for group in placed.part.shaped:
        # A bulge adds about half its depth over a quarter of the lap.
        if group.bulge.pair:
            side = side + group.bump_mm / 2.0
        else:
            ref = ref + group.bump_mm * group.bulge.arc
    ref, side = np.maximum(0.0, ref), np.maximum(0.0, side)
    areas = math.pi * ref * side + 4.0 * ref * half_straight
    rises = np.diff(placed.part.rings.axial_mm)
    between = np.sqrt(areas[:-1] * areas[1:])
    return float((rises * (areas[:-1] + areas[1:] + between) / 3.0).sum())
