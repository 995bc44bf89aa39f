"""Directions of the toy, and a part's own axes.

        z up          The toy looks towards the reader: its front is -y, the reader's right is +x.
        |   y back    A part's axis runs from where it is begun to where it ends; its angle 0 is the
        | /           reference direction: the front, or up where the part itself points forward
        +---- x       or back. Angles grow towards the reader's right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from webapp.shapes.meridian import Floats

RIGHT: Floats = np.array([1.0, 0.0, 0.0])
FRONT: Floats = np.array([0.0, -1.0, 0.0])
UP: Floats = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, eq=False)
class Frame:
    """A part's axes, unit vectors of shape (3,), and the place of its start, mm."""

    start: Floats
    axis: Floats
    reference: Floats
    side: Floats

    def at(self, axial_mm: float) -> Floats:
        """The point of the axis that far from the start, mm."""
        return self.start + self.axis * axial_mm


def heading(tilt_degrees: float, swing_degrees: float) -> Floats:
    """The unit vector that rises ``tilt`` and heads ``swing`` (0 front, 90 reader's right)."""
    tilt, swing = math.radians(tilt_degrees), math.radians(swing_degrees)
    level = math.cos(swing) * FRONT + math.sin(swing) * RIGHT
    return math.cos(tilt) * level + math.sin(tilt) * UP


def frame_along(start: Floats, axis: Floats, roll_degrees: float = 0.0) -> Frame:
    """A frame with the given axis, turned about it by ``roll``."""
    wanted = UP if abs(float(axis @ FRONT)) > 0.8 else FRONT
    reference = wanted - axis * float(axis @ wanted)
    reference = reference / math.sqrt(float(reference @ reference))
    side = cross(axis, reference)
    if float(side @ RIGHT) < -1e-9 or (abs(float(side @ RIGHT)) < 1e-9 and float(side @ UP) < 0):
        side = -side
    if roll_degrees:
        c, s = math.cos(math.radians(roll_degrees)), math.sin(math.radians(roll_degrees))
        reference, side = c * reference + s * side, c * side - s * reference
    return Frame(start, axis, reference, side)


def cross(a: Floats, b: Floats) -> Floats:
    """The cross product of two vectors of shape (3,)."""
    # numpy's own cross costs ten times as much on single vectors.
    return np.array(
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    )


def turned(vector: Floats, about: Frame, radians: float) -> Floats:
    """A vector turned about a frame's axis, from its reference towards its side direction."""
    ref, side = float(vector @ about.reference), float(vector @ about.side)
    c, s = math.cos(radians), math.sin(radians)
    return np.asarray(
        about.axis * float(vector @ about.axis)
        + about.reference * (c * ref - s * side)
        + about.side * (s * ref + c * side),
        dtype=np.float64,
    )
