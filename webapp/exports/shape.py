"""The toy as a glTF file: every piece a mesh of its own, from the surfaces of the 3D view."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

import numpy as np

from webapp.assembly import WorkedToy
from webapp.exports.glb import Paint, Piece, glb_of
from webapp.exports.mesh import mesh_of, together
from webapp.materials import EyeNeed
from webapp.materials.thread import EYE_HEX, EYE_NAME
from webapp.preview import Surface, surfaces_of
from webapp.preview.surfaces import GLINT_COLOUR
from webapp.rounds import WorkedStrip
from webapp.shapes.meridian import Floats

SEGMENTS = 48
"""Points of a lap: its polygon has 0.3 % less inside than the lap."""


def shape_glb(toy: WorkedToy, eyes: EyeNeed | None) -> bytes:
    """The sewn toy as binary glTF 2.0, in metres.

    The fabric is drawn smooth, so that a mesh holds as much as its rounds say; the ridges of the
    3D view would add some per cent.
    """
    surfaces = surfaces_of(toy, eyes, segments=SEGMENTS, ridged=False)
    pieces = [*_parts(toy, surfaces), *_faces(toy, surfaces)]
    return glb_of(toy.recipe.name, _named_apart(pieces))


def _parts(toy: WorkedToy, surfaces: list[Surface]) -> Iterator[Piece]:
    """A piece for each copy and twin of each part, its bands of colour one after the other."""
    for recipe in toy.recipe.parts:
        of_part = [s for s in surfaces if s.part == recipe.name and s.rounds]
        strands: dict[tuple[int, int], list[Surface]] = defaultdict(list)
        met: Counter[int] = Counter()
        for surface in of_part:
            # Of a pair each band of the first is followed by that of its twin.
            twin = met[surface.copy] % 2 if recipe.place.pair else 0
            met[surface.copy] += 1
            strands[surface.copy, twin].append(surface)
        for number, strand in enumerate(strands.values(), 1):
            first, *more = strand
            # A band begins with the edge that the band before ended with.
            net = np.concatenate([first.points, *(s.points[1:] for s in more)])
            ends = np.cumsum([len(s.points) - 1 for s in strand]).tolist()
            worked = toy.parts[recipe.name]
            if isinstance(worked, WorkedStrip):
                net, ends = _closed(net), [len(net) + 1]
                rounds = {"rows": worked.rows}
            else:
                rounds = {"rounds": len(worked.counts)}
            yield Piece(
                f"{recipe.label} {number}" if len(strands) > 1 else recipe.label,
                mesh_of(net, ends),
                tuple(_paint(toy, s) for s in strand),
                {"part": recipe.name, "stitches": worked.stitches, **rounds},
            )


def _closed(net: Floats) -> Floats:
    """The tube that a strip is drawn as, with its two ends brought together."""
    first, last = (np.broadcast_to(row.mean(axis=0), row.shape)[None] for row in (net[0], net[-1]))
    return np.concatenate((first, net, last))


def _faces(toy: WorkedToy, surfaces: list[Surface]) -> Iterator[Piece]:
    """A piece for the eyes and for each mark, with all that belongs to it."""
    groups: dict[tuple[str, str], list[Surface]] = defaultdict(list)
    for surface in surfaces:
        if not surface.rounds:
            groups[surface.part, surface.label].append(surface)
    for (part, label), group in groups.items():
        meshes = [mesh_of(s.points, [len(s.points) - 1]) for s in group]
        paints = tuple(_paint(toy, s) for s in group)
        yield Piece(label, together(meshes), paints, {"on": part})


def _paint(toy: WorkedToy, surface: Surface) -> Paint:
    named = {colour.hex: colour.name for colour in reversed(tuple(toy.recipe.colours.values()))}
    if surface.glossy:
        glint = " glint" if surface.colour == GLINT_COLOUR else ""
        return Paint(f"{surface.label}{glint}", surface.colour, True)
    if surface.colour == EYE_HEX and not surface.rounds:
        return Paint(EYE_NAME, surface.colour)
    return Paint(named.get(surface.colour, surface.label), surface.colour)


def _named_apart(pieces: list[Piece]) -> list[Piece]:
    """The pieces, with a number behind each name that another has already."""
    taken: set[str] = set()
    found = []
    for piece in pieces:
        name, number = piece.name, 1
        while name in taken:
            number += 1
            name = f"{piece.name} ({number})"
        taken.add(name)
        found.append(Piece(name, piece.mesh, piece.paints, piece.notes))
    return found
