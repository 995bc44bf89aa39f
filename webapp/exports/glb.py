"""Meshes as a binary glTF 2.0 file (Khronos Group, ISO/IEC 12113:2022), written by trimesh."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from trimesh import Scene, Trimesh
from trimesh.exchange.gltf import export_glb
from trimesh.visual.material import PBRMaterial
from trimesh.visual.texture import TextureVisuals

from webapp.exports.mesh import Mesh
from webapp.light import linear_light
from webapp.shapes.meridian import Floats

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
    """The file: a node ``title``, below it a node for each piece, and below a piece of several
    paints a node for each of its stretches.

    Points are given in mm with x to the right, y to the back and z up; the file has metres, y up
    and the front towards z, as the standard asks (3.4).
    """
    paints = list(dict.fromkeys(paint for piece in pieces for paint in piece.paints))
    scene, names = Scene(base_frame="all"), {"toy": title}
    scene.graph.update("toy")
    for number, piece in enumerate(pieces):
        above, key = "toy", f"{number}"
        if several := len(piece.paints) > 1:
            scene.graph.update(key, above, metadata=piece.notes)
            names[key], above = piece.name, key
        for stretch, paint in enumerate(piece.paints):
            node = f"{key}.{stretch}"
            mesh = _stretch(piece.mesh, stretch, paints.index(paint))
            scene.add_geometry(mesh, node, node, above, metadata={} if several else piece.notes)
            names[node] = f"{piece.name}, {paint.name}" if several else piece.name

    def finished(tree: dict[str, Any]) -> None:
        """Names in words: trimesh wants one of its own for each node. And colours as they are: it
        would keep 256 steps of linear light, too few for dark yarn."""
        for named in (*tree["nodes"], *tree["meshes"]):
            named["name"] = names[named["name"]]
        tree["materials"] = [_material(paints[int(m["name"])]) for m in tree["materials"]]

    data: bytes = export_glb(scene, include_normals=True, tree_postprocessor=finished)
    return data


def _stretch(mesh: Mesh, number: int, paint: int) -> Trimesh:
    """A stretch with the points it needs, its material named by the number of its paint."""
    used, faces = np.unique(mesh.triangles[number], return_inverse=True)
    return Trimesh(
        _turned(mesh.points[used]) / MM_PER_METRE,
        faces.reshape(-1, 3),
        vertex_normals=_turned(mesh.normals[used]),
        visual=TextureVisuals(material=PBRMaterial(name=str(paint))),
        process=False,
    )


def _turned(points: Floats) -> Floats:
    """From z up and the front towards -y to y up and the front towards z."""
    return np.column_stack((points[:, 0], points[:, 2], -points[:, 1]))


def _material(paint: Paint) -> dict[str, Any]:
    """Fabric is seen from both sides: where an edge is open one looks inside."""
    return {
        "name": paint.name,
        "doubleSided": True,
        "pbrMetallicRoughness": {
            "baseColorFactor": [*linear_light(paint.hex), 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": SMOOTH if paint.glossy else ROUGH,
        },
        "extras": {"hex": paint.hex},
    }
