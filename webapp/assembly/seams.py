"""Seams and eyes in the words a maker counts in: rounds and stitches of the host."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from webapp.assembly.place import Placed, PlacedPart
from webapp.recipes import EyeSpec, Seat
from webapp.shapes.meridian import Floats

RIM_POINTS = 24


@dataclass(frozen=True)
class Seam:
    """What is sewn where.

    ``first_round`` and ``last_round`` bound the sewn edge on the host (the edge of a round has the
    round's number; 0 is the start). ``apart`` are the host's stitches between the two of a pair
    on the side named ``side`` (front, back, or top and underside of a host lying down);
    ``stitches`` those of the sewn edge.
    """

    part: str
    host: str
    seat: Seat
    first_round: int
    last_round: int
    apart: int
    side: str
    stitches: int


@dataclass(frozen=True)
class EyePlace:
    """Between which rounds of which part, how many stitches apart."""

    on: str
    below_round: int
    apart: int


def seam_of(placed: Mapping[str, Placed], name: str) -> Seam | None:
    """The seam by which a part is sewn on; None for what nothing carries."""
    guest = placed[name]
    host = placed.get(guest.recipe.place.on)
    if host is None or not isinstance(host, PlacedPart):
        return None
    seat = guest.recipe.place.seat
    if not isinstance(guest, PlacedPart) or seat is not Seat.SURFACE:
        last = len(host.part.rounds)
        stitches = host.part.counts[-1]
        return Seam(name, host.recipe.name, seat, last, last, 0, "", stitches)
    edges, angles = _footprint(guest, host)
    rounds = len(host.part.rounds)
    first, last = max(0, math.floor(edges.min())), min(rounds, math.ceil(edges.max()))
    middle = min(rounds, max(1, round((first + last) / 2)))
    count = host.part.counts[middle - 1]
    front_gap, back_gap = 2.0 * float(angles.min()), 2.0 * (math.pi - float(angles.max()))
    apart, side = 0, _side(host, math.radians(abs(guest.recipe.place.around)))
    if guest.recipe.place.pair:
        side = _side(host, 0.0 if front_gap <= back_gap else math.pi)
        apart = max(0, round(min(front_gap, back_gap) / (2.0 * math.pi) * count))
    sewn = guest.part.counts[-1]
    return Seam(name, host.recipe.name, seat, first, max(last, first + 1), apart, side, sewn)


def _footprint(guest: PlacedPart, host: PlacedPart) -> tuple[Floats, Floats]:
    """Host edge numbers and angles (0 to pi from the reference) under the guest's sewn edge."""
    turn = np.linspace(0.0, 2.0 * math.pi, RIM_POINTS, endpoint=False)
    frame = guest.frame
    rim = (
        frame.at(guest.part.height_mm)[None, :]
        + np.outer(np.cos(turn) * guest.edge_ref_mm[-1], frame.reference)
        + np.outer(np.sin(turn) * guest.edge_side_mm[-1], frame.side)
    )
    away = rim - host.frame.start
    axial = away @ host.frame.axis
    rings = host.part.rings
    edges = np.interp(axial, rings.axial_mm, np.arange(len(rings.axial_mm)))
    angles = np.abs(np.arctan2(away @ host.frame.side, away @ host.frame.reference))
    return edges, angles


def _side(host: PlacedPart, angle: float) -> str:
    lying = abs(float(host.frame.axis[2])) < 0.5
    if angle < math.pi / 3:
        return "top" if lying else "front"
    if angle > 2 * math.pi / 3:
        return "underside" if lying else "back"
    return "side"


def eye_place(spec: EyeSpec, placed: Mapping[str, Placed]) -> EyePlace:
    """Where the eyes go, in rounds and stitches of the part that carries them."""
    host = placed[spec.on]
    assert isinstance(host, PlacedPart)
    rounds = len(host.part.rounds)
    below = min(rounds - 1, max(1, math.floor(host.edge_at(spec.along))))
    count = host.part.counts[below - 1]
    apart = max(1, round(count * 2.0 * spec.around / 360.0))
    return EyePlace(spec.on, below, apart)
