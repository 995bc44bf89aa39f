"""A patch that lies flat on its host: each of its points follows the host's surface.

A point a along the host's outline and c round it from the middle of the patch lies on the host a
rounds' heights along and c / R round, raised by the thickness of the fabric and by what the patch
itself bulges there.
"""

from __future__ import annotations

import math

import numpy as np

from webapp.assembly.place import PlacedPart
from webapp.shapes.meridian import Floats

FABRIC = 0.35
"""Thickness of the fabric in stitch widths, for lying on other fabric."""


def draped(points: Floats, above_mm: Floats, guest: PlacedPart, host: PlacedPart) -> Floats:
    """Points of a patch laid on its host.

    ``points`` (rows, segments, 3) are where they would be if the patch were stiff; ``above_mm``
    (rows,) is how far each row lies above its sewn edge.
    """
    place = guest.recipe.place
    around, edge = math.radians(place.around), host.edge_at(place.along)
    way, turn = host.tangents(edge, around)
    away = points - guest.frame.at(guest.part.height_mm)
    radius = max(float(np.interp(edge, *_numbered(host.part.rings.smooth_mm))), 1e-6)
    edges = np.clip(
        edge + (away @ way) / host.part.gauge.round_mm, 0.0, len(host.part.rings.axial_mm) - 1.0
    )
    angles = around + (away @ turn) / radius
    lift = above_mm[:, None] + FABRIC * guest.part.gauge.stitch_mm
    return _raised(host, edges, angles, lift)


def _raised(host: PlacedPart, edges: Floats, angles: Floats, lift: Floats) -> Floats:
    """Points above the host at edge numbers and angles (any shape), ``lift`` along the normal."""
    rings, frame = host.part.rings, host.frame
    axial = np.interp(edges, *_numbered(rings.axial_mm))
    ref = np.interp(edges, *_numbered(host.edge_ref_mm))
    side = np.interp(edges, *_numbered(host.edge_side_mm))
    out_mm = host.part.stands_out_mm(edges, angles)
    ref, side = ref + out_mm, side + out_mm
    rise = np.interp(edges, *_numbered(np.gradient(rings.axial_mm)))
    grow = np.interp(edges, *_numbered(np.gradient(rings.smooth_mm)))
    cos, sin = np.cos(angles)[..., None], np.sin(angles)[..., None]
    out = cos * frame.reference + sin * frame.side
    normal = out * rise[..., None] - frame.axis * grow[..., None]
    normal = normal / np.maximum(np.linalg.norm(normal, axis=-1, keepdims=True), 1e-9)
    surface = (
        frame.start
        + axial[..., None] * frame.axis
        + ref[..., None] * cos * frame.reference
        + side[..., None] * sin * frame.side
    )
    return np.asarray(surface + lift[..., None] * normal, dtype=np.float64)


def _numbered(values: Floats) -> tuple[Floats, Floats]:
    return np.arange(float(len(values))), values
