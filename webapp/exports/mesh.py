"""Nets of points as meshes: points that coincide welded, triangles facing outwards, normals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from webapp.shapes.meridian import Floats

Ints = np.ndarray[tuple[int, ...], np.dtype[np.int64]]

SAME_MM = 1e-5
"""Points of a row nearer than this are one."""


@dataclass(frozen=True, eq=False)
class Mesh:
    """Points (points, 3), mm, a unit normal at each, and the triangles (triangles, 3) of each of
    some stretches of rows, wound counter-clockwise as seen from outside."""

    points: Floats
    normals: Floats
    triangles: tuple[Ints, ...]


def mesh_of(net: Floats, ends: Sequence[int]) -> Mesh:
    """The mesh of a net (rows, segments, 3), closed round each row, in stretches that end at the
    row numbers ``ends``, the last of which is the net's last row.

    A row that comes together in a point, or in the line of a chain, is welded there; so a net is
    closed where its fabric is, and stays open at an edge that is to be sewn.
    """
    points, corners = _welded(net)
    stretches, first = [], 0
    for end in ends:
        stretches.append(_between(corners, first, end))
        first = end
    inside = _signed_volume(points, np.concatenate(stretches), corners) < 0.0
    if inside:
        stretches = [triangles[:, ::-1] for triangles in stretches]
    normals = _normals(points, np.concatenate(stretches))
    return Mesh(points, normals, tuple(stretches))


def together(meshes: Sequence[Mesh]) -> Mesh:
    """Some meshes as one, each a stretch of its own."""
    starts = np.cumsum([0, *(len(mesh.points) for mesh in meshes[:-1])])
    return Mesh(
        np.concatenate([mesh.points for mesh in meshes]),
        np.concatenate([mesh.normals for mesh in meshes]),
        tuple(
            np.concatenate(mesh.triangles) + start
            for mesh, start in zip(meshes, starts.tolist(), strict=True)
        ),
    )


def _welded(net: Floats) -> tuple[Floats, Ints]:
    """The points of a net without those that coincide within a row, and which of them each corner
    of the net is; shapes (points, 3) and (rows, segments)."""
    rows, segments, _ = net.shape
    steps = np.rint(net.reshape(-1, 3) / SAME_MM).astype(np.int64)
    keys = np.column_stack((np.repeat(np.arange(rows), segments), steps))
    _, first, which = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    return net.reshape(-1, 3)[first], which.reshape(rows, segments)


def _between(corners: Ints, first: int, last: int) -> Ints:
    """The triangles between two rows of corners; without those that welding made lines of."""
    here = corners[first:last]
    above = corners[first + 1 : last + 1]
    right, beyond = np.roll(here, -1, axis=1), np.roll(above, -1, axis=1)
    found = np.concatenate(
        (
            np.stack((here, right, above), axis=-1).reshape(-1, 3),
            np.stack((right, beyond, above), axis=-1).reshape(-1, 3),
        )
    )
    a, b, c = found.T
    whole: Ints = found[(a != b) & (b != c) & (c != a)]
    return whole


def _signed_volume(points: Floats, triangles: Ints, corners: Ints) -> float:
    """Six times the volume inside, open ends covered; less than 0 where triangles face inwards."""
    origin = points.mean(axis=0)
    a, b, c = (points[triangles[:, n]] - origin for n in range(3))
    volume = float((a * np.cross(b, c)).sum())
    for row, sign in ((0, -1.0), (-1, 1.0)):
        rim = points[corners[row]] - origin
        ahead, middle = np.roll(rim, -1, axis=0), rim.mean(axis=0)
        volume += sign * float((middle * np.cross(rim, ahead)).sum())
    return volume


def _normals(points: Floats, triangles: Ints) -> Floats:
    """At each point the mean of the normals of its triangles, each by its area."""
    a, b, c = (points[triangles[:, n]] for n in range(3))
    faces = np.cross(b - a, c - a)
    sums = np.zeros_like(points)
    for n in range(3):
        np.add.at(sums, triangles[:, n], faces)
    long = np.linalg.norm(sums, axis=1, keepdims=True)
    normals: Floats = np.where(long > 1e-12, sums / np.maximum(long, 1e-12), (0.0, 0.0, 1.0))
    return normals
