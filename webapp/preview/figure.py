"""Data for the 3D view: plain dicts with packed numbers, as plotly.js reads them.

Arrays go as {dtype, bdata}: little-endian numbers in base64. One mesh for each colour of a part
and its twin. The hover table says part, round and stitches for each row of points.
"""

from __future__ import annotations

import base64
from functools import lru_cache
from itertools import groupby
from typing import Any

import numpy as np
import orjson

from webapp.assembly import WorkedToy
from webapp.materials import EyeNeed
from webapp.preview.surfaces import Surface, surfaces_of
from webapp.shapes.meridian import Floats

SOFT = {"ambient": 0.62, "diffuse": 0.55, "specular": 0.06, "roughness": 0.95, "fresnel": 0.12}
SHINY = {"ambient": 0.5, "diffuse": 0.6, "specular": 0.9, "roughness": 0.25, "fresnel": 0.4}
EDGE_SHADE, RIDGE_SHADE = 0.74, 1.05

Packed = dict[str, str]


def figure_json(toy: WorkedToy, eyes: EyeNeed | None, *, apart: float = 0.0) -> bytes:
    """The figure as JSON: ``data`` (meshes), ``reach`` (the cube that holds the toy, mm) and
    ``hover`` (for each mesh its part, label, points a row, and round and stitches of each row)."""
    return orjson.dumps(figure_of(surfaces_of(toy, eyes, apart=apart)))


def figure_of(surfaces: list[Surface]) -> dict[str, Any]:
    """The same as plain dicts."""
    meshes, hover = [], []
    low, high = np.full(3, np.inf), np.full(3, -np.inf)
    for _, same in groupby(surfaces, key=lambda s: (s.part, s.label, s.colour, s.glossy)):
        group = list(same)
        points = np.concatenate([s.points.reshape(-1, 3) for s in group])
        low, high = np.minimum(low, points.min(axis=0)), np.maximum(high, points.max(axis=0))
        meshes.append(_mesh(group, points))
        hover.append(_hover(group[0]))
    middle, half = (low + high) / 2.0, float((high - low).max()) / 2.0 * 1.02
    reach = [[float(m - half), float(m + half)] for m in middle]
    return {"data": meshes, "reach": reach, "hover": hover}


def _mesh(group: list[Surface], points: Floats) -> dict[str, Any]:
    first = group[0]
    rows, segments, _ = first.points.shape
    faces = _faces(rows, segments, len(group))
    raised = np.concatenate([np.repeat(s.raised, segments) for s in group])
    columns = np.ascontiguousarray(points.T.astype("<f4"))
    return {
        "type": "mesh3d",
        "name": first.part,
        "x": _packed(columns[0], "f4"),
        "y": _packed(columns[1], "f4"),
        "z": _packed(columns[2], "f4"),
        "i": faces[0],
        "j": faces[1],
        "k": faces[2],
        "intensity": _packed(raised.astype("<f4"), "f4"),
        "cmin": 0,
        "cmax": 1,
        "colorscale": _shades(first.colour, first.glossy),
        "showscale": False,
        "hoverinfo": "none",
        "flatshading": False,
        "lighting": SHINY if first.glossy else SOFT,
        "lightposition": {"x": -4000, "y": -9000, "z": 9000},
    }


def _hover(surface: Surface) -> dict[str, Any]:
    return {
        "part": surface.part,
        "label": surface.label,
        "segments": surface.points.shape[1],
        "rows": surface.points.shape[0],
        "rounds": surface.rounds,
        "counts": surface.counts,
    }


def _packed(numbers: np.ndarray[Any, Any], dtype: str) -> Packed:
    return {"dtype": dtype, "bdata": base64.b64encode(numbers.tobytes()).decode("ascii")}


@lru_cache(maxsize=512)
def _faces(rows: int, segments: int, copies: int) -> tuple[Packed, Packed, Packed]:
    """Corner numbers of the triangles of nets of rows x segments points, closed round each row."""
    row, column = np.meshgrid(np.arange(rows - 1), np.arange(segments), indexing="ij")
    here, right = row * segments + column, row * segments + (column + 1) % segments
    quads = np.stack((here, right, here + segments, right + segments)).reshape(4, -1)
    a, b, c, d = quads
    corners = np.stack((np.concatenate((a, b)), np.concatenate((b, d)), np.concatenate((c, c))))
    everywhere = np.concatenate([corners + n * rows * segments for n in range(copies)], axis=1)
    i, j, k = (_packed(numbers.astype("<i4"), "i4") for numbers in everywhere)
    return i, j, k


@lru_cache(maxsize=128)
def _shades(colour: str, glossy: bool) -> list[list[Any]]:
    low, high = (1.0, 1.0) if glossy else (EDGE_SHADE, RIDGE_SHADE)
    return [[0, shade(colour, low)], [1, shade(colour, high)]]


def shade(colour: str, factor: float) -> str:
    """``colour`` (#rrggbb) with its light multiplied by ``factor``, as rgb(...)."""
    channels = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    red, green, blue = (min(255, round(channel * factor)) for channel in channels)
    return f"rgb({red},{green},{blue})"
