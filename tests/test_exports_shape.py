"""The shape as glTF, read back by pygltflib (an independent reader of the standard) and, for what
it does not check, by the layout of bytes in glTF 2.0, section 4.4."""

from __future__ import annotations

import json
import math
import struct
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
import pytest
import trimesh
from flask.testing import FlaskClient
from pygltflib import FLOAT, GLTF2, UNSIGNED_INT

from tests.test_copies import arms, made
from tests.test_web import TOYS, at, reader
from tests.test_web_own import begun
from webapp.assembly import PlacedPart
from webapp.exports import shape_glb
from webapp.recipes import load_recipes
from webapp.rounds import Start
from webapp.way import Toy, make_toy
from webapp.web.fields import read_design
from webapp.web.toys import TOYS as FOLDER

client = pytest.fixture(reader, scope="module", name="client")


@lru_cache(maxsize=8)
def toy_of(key: str) -> Toy:
    recipe = load_recipes(FOLDER)[key]
    return make_toy(recipe, read_design(recipe, {}).design)


def meshes_of(data: bytes) -> dict[str, trimesh.Trimesh]:
    """The mesh of each piece by name, mm: the nodes below the toy's own, each with those below."""
    file = GLTF2.load_from_bytes(data)

    def below(number: int) -> Iterator[trimesh.Trimesh]:
        node = file.nodes[number]
        for primitive in file.meshes[node.mesh].primitives if node.mesh is not None else ():
            assert node.matrix is None
            points = array(file, primitive.attributes.POSITION)
            normals = array(file, primitive.attributes.NORMAL)
            corners = array(file, primitive.indices).reshape(-1, 3)
            yield trimesh.Trimesh(points, corners, vertex_normals=normals, process=False)
        for child in node.children or ():
            yield from below(child)

    (title,) = file.scenes[file.scene].nodes
    whole = {}
    for number in file.nodes[title].children:
        mesh = trimesh.util.concatenate(list(below(number)))
        mesh.apply_scale(1000.0)
        mesh.merge_vertices(merge_norm=True, merge_tex=True)
        whole[file.nodes[number].name] = mesh
    return whole


def array(file: GLTF2, number: int) -> np.ndarray[Any, Any]:
    """The numbers of an accessor, which must begin at whole ones and lie in the buffer (glTF 2.0,
    3.6.2.4)."""
    accessor = file.accessors[number]
    view = file.bufferViews[accessor.bufferView]
    first = view.byteOffset + (accessor.byteOffset or 0)
    kind, size = {FLOAT: ("<f4", 4), UNSIGNED_INT: ("<u4", 4)}[accessor.componentType]
    wide = {"VEC3": 3, "SCALAR": 1}[accessor.type]
    assert first % size == 0
    assert accessor.count * wide * size <= view.byteLength
    assert view.byteOffset + view.byteLength <= file.buffers[0].byteLength
    numbers = np.frombuffer(file.binary_blob(), kind, accessor.count * wide, first)
    return numbers.reshape(-1, wide)


def head_of(data: bytes) -> dict[str, Any]:
    """The JSON of a binary file, its header checked against glTF 2.0, 4.4."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    rest, binary = struct.unpack_from("<I4s", data, 20 + size)
    assert (binary, 28 + size + rest) == (b"BIN\0", len(data))
    assert size % 4 == rest % 4 == 0
    found: dict[str, Any] = json.loads(data[20 : 20 + size])
    return found


def capped_volume(mesh: trimesh.Trimesh) -> float:
    """The volume inside with each open end covered from its middle, by the divergence theorem."""
    corners = mesh.vertices[mesh.faces]
    volume = float((corners[:, 0] * np.cross(corners[:, 1], corners[:, 2])).sum())
    edges = mesh.edges[trimesh.grouping.group_rows(mesh.edges_sorted, require_count=1)]
    for rim in trimesh.graph.connected_components(edges, min_len=3) if len(edges) else ():
        middle = mesh.vertices[rim].mean(axis=0)
        a, b = (mesh.vertices[edges[np.isin(edges[:, 0], rim)][:, n]] for n in (0, 1))
        # The cover has the edges of the rim the other way round.
        volume += float((middle * np.cross(b, a)).sum())
    return volume / 6.0


@pytest.mark.parametrize("key", TOYS)
def test_each_piece_holds_what_its_rounds_say(key: str) -> None:
    """Between two laps lies a frustum of the areas inside them: h (A + B + sqrt(A B)) / 3, where a
    lap is an ellipse, with a straight stretch in an oval (closed geometry). Within a per cent."""
    toy = toy_of(key).worked
    meshes = meshes_of(shape_glb(toy, toy_of(key).materials.eyes))
    compared = 0
    for recipe in toy.recipe.parts:
        placed = toy.placed[recipe.name]
        shaped = isinstance(placed, PlacedPart) and placed.part.shaped
        if not isinstance(placed, PlacedPart) or shaped or recipe.place.lies_flat:
            continue
        if placed.part.order.outline.height_mm == 0.0:
            continue
        straight = placed.part.straight_mm / 2.0
        ref, side = placed.edge_ref_mm, placed.edge_side_mm - straight
        areas = math.pi * ref * side + 4.0 * ref * straight
        rises = np.diff(placed.part.rings.axial_mm)
        frusta = areas[:-1] + areas[1:] + np.sqrt(areas[:-1] * areas[1:])
        rings = float((rises * frusta).sum()) / 3.0
        for number in range(1, recipe.copies + 1):
            name = f"{recipe.label} {number}" if recipe.copies > 1 else recipe.label
            assert capped_volume(meshes[name]) == pytest.approx(rings, rel=0.01), name
            compared += 1
    assert compared >= 4


@pytest.mark.parametrize("key", TOYS)
def test_meshes_are_closed_where_their_parts_are(key: str) -> None:
    """Eyes and embroidery are closed; a part is where it begins in a ring or along a chain and is
    gathered at its end. Triangles agree about the outside, and normals point there."""
    toy = toy_of(key)
    meshes = meshes_of(shape_glb(toy.worked, toy.materials.eyes))
    of_parts = {}
    for recipe in toy.worked.recipe.parts:
        part = toy.worked.placed[recipe.name]
        closed = not isinstance(part, PlacedPart) or (
            part.part.closed and part.part.order.start in (Start.RING, Start.CHAIN)
        )
        for number in range(1, recipe.copies + 1):
            name = f"{recipe.label} {number}" if recipe.copies > 1 else recipe.label
            of_parts[name] = closed
    assert set(of_parts) < set(meshes)
    for name, mesh in meshes.items():
        assert mesh.is_watertight == of_parts.get(name, True), name
        assert mesh.is_winding_consistent, name
        assert capped_volume(mesh) > 0.0, name
    known = {"whale": "Body", "rabbit": "Scarf"}.get(key)
    assert known is None or meshes[known].is_watertight


@pytest.mark.parametrize(("key", "values"), [*((t, {}) for t in TOYS), ("otter", {"yarn": "6"})])
def test_bounds_are_the_sizes_on_the_page(
    client: FlaskClient, key: str, values: dict[str, str]
) -> None:
    """Metres, y up, the front towards z (glTF 2.0, 3.4). The page measures parts worked in rounds;
    eyes and scarves stand out from them."""
    size = client.get(at(key, values, "toy.json")).get_json()["size_mm"]
    meshes = meshes_of(client.get(at(key, values, "shape.glb")).data)
    recipe = toy_of(key).worked.recipe
    labels = tuple(p.label for p in recipe.parts if p.shape != "strip")
    bounds = np.array([m.bounds for name, m in meshes.items() if name.startswith(labels)])
    extent = bounds[:, 1].max(axis=0) - bounds[:, 0].min(axis=0)
    wanted = [size["width"], size["over_all"], size["depth"]]
    assert extent.tolist() == pytest.approx(wanted, rel=0.01)
    eyes = meshes["Eyes"].bounds.mean(axis=0)
    assert eyes[0] == pytest.approx(0.0, abs=2.0)  # a glint lies to one side
    assert eyes[2] > bounds.mean(axis=(0, 1))[2]


@pytest.mark.parametrize("key", TOYS)
def test_names_and_colours_are_kept(key: str) -> None:
    """Colours are linear light in the file (glTF 2.0, 3.9.2): back by the curve of IEC 61966-2-1
    they are those of the recipe."""
    toy = toy_of(key)
    data = shape_glb(toy.worked, toy.materials.eyes)
    head = head_of(data)
    names = [node["name"] for node in head["nodes"]]
    assert names[head["scenes"][head["scene"]]["nodes"][0]] == toy.worked.recipe.name
    notes = [node["extras"] for node in head["nodes"] if "extras" in node]
    assert {note["part"] for note in notes if "part" in note} == {
        part.name for part in toy.worked.recipe.parts
    }
    shown = {}
    for material in head["materials"]:
        *linear, alpha = material["pbrMetallicRoughness"]["baseColorFactor"]
        curve = [x * 12.92 if x <= 0.0031308 else 1.055 * x ** (1 / 2.4) - 0.055 for x in linear]
        shown[material["name"]] = "#" + "".join(f"{round(255 * x):02x}" for x in curve)
        assert alpha == 1.0
    yarns = {need.colour for need in toy.materials.yarns}
    for colour in (toy.worked.recipe.colours[key] for key in yarns):
        assert shown[colour.name] == colour.hex
    used = {p["material"] for mesh in head["meshes"] for p in mesh["primitives"]}
    assert used == set(range(len(head["materials"])))


@pytest.mark.parametrize("key", TOYS)
def test_the_file_keeps_the_rules_of_the_standard(key: str) -> None:
    """glTF 2.0: 3.6.2.4 (arrays begin at whole numbers and lie in their buffer), 3.6.2.5 (bounds
    of positions), 3.7.2.1 (unit normals; indices within, no triangle with a corner twice)."""
    toy = toy_of(key)
    data = shape_glb(toy.worked, toy.materials.eyes)
    head = head_of(data)
    file = GLTF2.load_from_bytes(data)
    for mesh in head["meshes"]:
        for primitive in mesh["primitives"]:
            number = primitive["attributes"]["POSITION"]
            points = array(file, number)
            normals = array(file, primitive["attributes"]["NORMAL"])
            assert np.isfinite(points).all()
            assert head["accessors"][number]["min"] == points.min(axis=0).tolist()
            assert head["accessors"][number]["max"] == points.max(axis=0).tolist()
            assert np.linalg.norm(normals, axis=1) == pytest.approx(1.0, abs=1e-5)
            corners = array(file, primitive["indices"]).reshape(-1, 3)
            assert corners.max() < len(points)
            a, b, c = corners.T
            assert ((a != b) & (b != c) & (c != a)).all()


def test_normals_of_a_ball_point_away_from_its_middle() -> None:
    """On a body worked in rounds a normal leans away from the axis, on its widest lap straight
    (geometry)."""
    toy = toy_of("otter").worked
    body = meshes_of(shape_glb(toy, None))["Head"]
    outwards = body.vertices - body.center_mass
    outwards /= np.linalg.norm(outwards, axis=1, keepdims=True)
    assert (body.vertex_normals * outwards).sum(axis=1).min() > 0.2


def test_copies_round_a_host_are_pieces_of_their_own() -> None:
    """Six arms turned by 60 degrees each: six meshes that hold the same (symmetry)."""
    toy = made(arms(6))
    meshes = meshes_of(shape_glb(toy.worked, None))
    found = [mesh for name, mesh in meshes.items() if name.startswith("Arm")]
    assert len(found) == 6
    first = capped_volume(found[0])
    assert [capped_volume(m) for m in found] == pytest.approx([first] * 6, rel=1e-4)
    middles = np.array([m.centroid for m in found])
    assert np.unique(middles.round(1), axis=0).shape == (6, 3)


def test_a_toy_of_ones_own_gives_the_same_shape_as_the_toy_it_came_from(
    client: FlaskClient,
) -> None:
    packed = {"recipe": begun(client, "rabbit")["recipe"]}
    own = meshes_of(client.get(at("own", packed, "shape.glb")).data)
    shipped = meshes_of(client.get(at("rabbit", {}, "shape.glb")).data)
    assert set(own) == set(shipped)
    for name, mesh in own.items():
        assert mesh.bounds == pytest.approx(shipped[name].bounds, abs=1e-3)


def test_a_part_may_be_called_what_its_toy_is() -> None:
    """Names are for people: two nodes may share one (glTF 2.0, 3.2)."""
    toy = toy_of("whale").worked
    called = replace(toy, recipe=replace(toy.recipe, name="Body"))
    assert set(meshes_of(shape_glb(called, None))) == set(meshes_of(shape_glb(toy, None)))
