"""Meshes as a binary glTF 2.0 file (Khronos Group, ISO/IEC 12113:2022), written by its sections.

A file of ours needs a scene, nodes, meshes, materials and one buffer, which are a few tables; so
no package is asked for, and one that reads glTF is free to check what is written.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import orjson

from webapp.exports.mesh import Mesh
from webapp.shapes.meridian import Floats

MAGIC, VERSION, JSON_CHUNK, BIN_CHUNK = 0x46546C67, 2, 0x4E4F534A, 0x004E4942
FLOAT, UNSIGNED_INT = 5126, 5125
ARRAY, ELEMENTS = 34962, 34963
MM_PER_METRE = 1000.0
ROUGH, SMOOTH = 0.95, 0.25


@dataclass(frozen=True)
class Paint:
    """A material: its name, #rrggbb, and whether it shines."""

    name: str
    hex: str
    glossy: bool = False


@dataclass(frozen=True, eq=False)
class Piece:
    """A mesh with its name, in a paint for each of its stretches; ``notes`` go with it."""

    name: str
    mesh: Mesh
    paints: tuple[Paint, ...]
    notes: dict[str, Any]


def glb_of(title: str, pieces: Sequence[Piece]) -> bytes:
    """The file: a scene with a node ``title``, and below it a node for each piece.

    Points are given in mm with x to the right, y to the back and z up; the file has metres, y up
    and the front towards z, as the standard asks (3.4).
    """
    buffer = _Buffer()
    paints = list(dict.fromkeys(paint for piece in pieces for paint in piece.paints))
    meshes = [_mesh(buffer, piece, paints) for piece in pieces]
    nodes: list[dict[str, Any]] = [
        {"name": title, "children": list(range(1, len(pieces) + 1))},
        *(
            {"name": piece.name, "mesh": number, "extras": piece.notes}
            for number, piece in enumerate(pieces)
        ),
    ]
    head = {
        "asset": {"version": "2.0", "generator": "Roundling"},
        "scene": 0,
        "scenes": [{"name": title, "nodes": [0]}],
        "nodes": nodes,
        "meshes": meshes,
        "materials": [_material(paint) for paint in paints],
        "accessors": buffer.accessors,
        "bufferViews": buffer.views,
        "buffers": [{"byteLength": len(buffer.data)}],
    }
    return _packed(orjson.dumps(head), bytes(buffer.data))


class _Buffer:
    """The numbers of a file, with the tables that say where each array lies."""

    def __init__(self) -> None:
        self.data = bytearray()
        self.views: list[dict[str, Any]] = []
        self.accessors: list[dict[str, Any]] = []

    def add(self, numbers: np.ndarray[Any, Any], kind: int, target: int, shape: str) -> int:
        """Appends an array; the number of its accessor. Every array is of four-byte numbers, so
        each begins where four bytes begin."""
        packed = numbers.tobytes()
        self.views.append(
            {
                "buffer": 0,
                "byteOffset": len(self.data),
                "byteLength": len(packed),
                "target": target,
            }
        )
        self.data += packed
        self.accessors.append(
            {
                "bufferView": len(self.views) - 1,
                "componentType": kind,
                "count": len(numbers),
                "type": shape,
            }
        )
        return len(self.accessors) - 1


def _mesh(buffer: _Buffer, piece: Piece, paints: list[Paint]) -> dict[str, Any]:
    mesh = piece.mesh
    points = (_turned(mesh.points) / MM_PER_METRE).astype("<f4")
    position = buffer.add(points, FLOAT, ARRAY, "VEC3")
    # The standard asks for the bounds of positions (3.6.2.5).
    buffer.accessors[position] |= {
        "min": points.min(axis=0).tolist(),
        "max": points.max(axis=0).tolist(),
    }
    normal = buffer.add(_turned(mesh.normals).astype("<f4"), FLOAT, ARRAY, "VEC3")
    attributes = {"POSITION": position, "NORMAL": normal}
    return {
        "name": piece.name,
        "primitives": [
            {
                "attributes": attributes,
                "indices": buffer.add(
                    triangles.astype("<u4").reshape(-1), UNSIGNED_INT, ELEMENTS, "SCALAR"
                ),
                "material": paints.index(paint),
            }
            for triangles, paint in zip(mesh.triangles, piece.paints, strict=True)
        ],
    }


def _turned(points: Floats) -> Floats:
    """From z up and the front towards -y to y up and the front towards z."""
    return np.column_stack((points[:, 0], points[:, 2], -points[:, 1]))


def _material(paint: Paint) -> dict[str, Any]:
    """Fabric is seen from both sides: where an edge is open one looks inside."""
    return {
        "name": paint.name,
        "doubleSided": True,
        "pbrMetallicRoughness": {
            "baseColorFactor": [*(_linear(int(paint.hex[n : n + 2], 16)) for n in (1, 3, 5)), 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": SMOOTH if paint.glossy else ROUGH,
        },
        "extras": {"hex": paint.hex},
    }


def _linear(channel: int) -> float:
    """An sRGB channel (0 to 255) as linear light, as the standard has colours (3.9.2); the curve
    is that of IEC 61966-2-1."""
    value = channel / 255.0
    linear: float = value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
    return linear


def _packed(head: bytes, numbers: bytes) -> bytes:
    """Header and two chunks (4.4), each filled up to four bytes: JSON with spaces, numbers with
    zeros."""
    head += b" " * (-len(head) % 4)
    numbers += b"\0" * (-len(numbers) % 4)
    length = 12 + 8 + len(head) + 8 + len(numbers)
    return b"".join(
        (
            struct.pack("<III", MAGIC, VERSION, length),
            struct.pack("<II", len(head), JSON_CHUNK),
            head,
            struct.pack("<II", len(numbers), BIN_CHUNK),
            numbers,
        )
    )
