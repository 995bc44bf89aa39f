"""How much longer a lap becomes where it bulges, and how far it bulges with so many stitches more.

A bulge is one wave of a cosine over an arc of the lap, in radians.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from webapp.rounds.fabric import ROUNDS_PER_PASS
from webapp.shapes.meridian import Floats

PIECES = 48
"""Pieces of half a wave over which its length is summed."""

DEEPEST = 4.0
"""In radii of the lap; a bulge is never so deep."""


def bent(depths_mm: Floats) -> Floats:
    """How far a bulge stands out as the fabric bends, from its depth by each round's stitches;
    nothing at both ends."""
    smooth = depths_mm
    for _ in range(max(1, len(depths_mm) // ROUNDS_PER_PASS)):
        padded = np.concatenate(([0.0], smooth, [0.0]))
        smooth = (padded[:-2] + 2.0 * padded[1:-1] + padded[2:]) / 4.0
        smooth[0] = smooth[-1] = 0.0
    return smooth


def bump_extra(depth_mm: float, radius_mm: float, arc: float) -> float:
    """Girth (mm) that a bump adds to a lap: ``depth_mm`` high over ``arc`` radians of it.

    The bump is one wave of a cosine; arc length to second order in its slope, which is enough for
    cheeks: they are wide and shallow.
    """
    return depth_mm * arc / 2.0 + depth_mm**2 * math.pi**2 / (4.0 * arc * radius_mm)


def bump_depth(extra_mm: float, radius_mm: float, arc: float) -> float:
    """The inverse of :func:`bump_extra`: how high a bump the extra girth makes, mm."""
    a, b = math.pi**2 / (4.0 * arc * radius_mm), arc / 2.0
    return (-b + math.sqrt(b * b + 4.0 * a * max(0.0, extra_mm))) / (2.0 * a)


def wave_extra(depth_mm: float, radius_mm: float, arc: float) -> float:
    """The same for waves of any slope: the length of the wave is summed over short pieces."""
    depths, extras = _waves(arc)
    return radius_mm * float(np.interp(depth_mm / radius_mm, depths, extras))


def wave_depth(extra_mm: float, radius_mm: float, arc: float) -> float:
    """The inverse of :func:`wave_extra`, mm."""
    depths, extras = _waves(arc)
    return radius_mm * float(np.interp(extra_mm / radius_mm, extras, depths))


@lru_cache(maxsize=64)
def _waves(arc: float) -> tuple[Floats, Floats]:
    """Depths of waves over an arc of a lap of radius 1, and the girth they add; (depths,) each."""
    # The square brings more of them to where waves are shallow.
    depths = DEEPEST * np.linspace(0.0, 1.0, 401) ** 2
    phase = (np.arange(float(PIECES)) + 0.5) / PIECES * math.pi
    radii = 1.0 + depths[:, None] * (1.0 + np.cos(phase)) / 2.0
    slopes = math.pi / arc * depths[:, None] * np.sin(phase)
    extras = arc * (np.hypot(radii, slopes).mean(axis=1) - 1.0)
    extras[0] = 0.0
    return depths, extras
