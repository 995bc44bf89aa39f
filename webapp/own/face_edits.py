"""Edits of the face: eyes, and small embroidered features."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.own.defaults import ROUND
from webapp.own.dimensions import width_of
from webapp.own.editing import edit, entry_of, part_of, seat_of
from webapp.own.errors import EditError
from webapp.own.naming import Data, parts_of
from webapp.own.values import is_number
from webapp.own.writing import plain


@dataclass(frozen=True)
class Feature:
    """A feature of a face: how far below the eyes (part of the head), how far out (degrees,
    None where the eyes are), its size as parts of the head's width, and how it is stitched."""

    label: str
    below: float
    around: float | None
    width: float
    height: float
    pair: bool = False
    line: bool = False
    slant: float = 0


FEATURES: Mapping[str, Feature] = {
    "nose": Feature("Nose", 0.1, 0, 0.12, 0.08),
    "mouth": Feature("Mouth", 0.2, 0, 0.2, 0.05, line=True),
    "brows": Feature("Brows", -0.14, None, 0.12, 0.02, pair=True, line=True, slant=10),
    "blush": Feature("Blush", 0.12, 52, 0.13, 0.08, pair=True),
}
"""Sizes and places are ours, by eye."""


IN_FRONT = 20
ON_MUZZLE: Mapping[str, tuple[float, float]] = {"nose": (0.2, 0), "mouth": (0.3, 180)}
"""Where on a muzzle a nose and a mouth lie: how far from its middle, degrees from its top."""


@edit
def set_eyes(
    data: Data,
    on: str | None,
    kind: str | None = None,
    along: float | None = None,
    around: float | None = None,
    diameter: str | float | None = None,
) -> None:
    """Eyes on a part, or none (``on`` None); what is not said stays, or is as usual."""
    if on is None:
        data.pop("eyes", None)
        return
    part = _with_face(data, on)
    usual = {"on": on, "along": 0.5, "around": 33, "diameter": f"0.12 * {width_of(part)}"}
    said = {"kind": kind, "along": along, "around": around, "diameter": diameter}
    eyes = usual | data.get("eyes", {}) | {"on": on}
    data["eyes"] = eyes | {key: value for key, value in said.items() if value is not None}


@edit
def add_mark(data: Data, kind: str, on: str | None = None) -> None:
    """A nose, mouth, brows or blush, placed by the eyes: on the part that has them, unless said."""
    if kind not in FEATURES:
        raise EditError(
            asked=f"The feature {kind!r} was to be added.",
            why="There is no such feature.",
            nearest=f"Take one of: {', '.join(FEATURES)}.",
        )
    feature = FEATURES[kind]
    part = _with_face(data, on or face_part(data))
    eyes = data.get("eyes", {})
    with_eyes = eyes.get("on") == part["name"]
    usual = {"along": 0.5, "around": 33.0}
    if with_eyes:
        usual |= {key: float(eyes[key]) for key in usual if is_number(eyes.get(key))}
    # A head is begun at its crown; what stands on the ground at its foot.
    down = -1 if seat_of(part) in ("ground", "joined") else 1
    along = plain(round(min(max(usual["along"] + down * feature.below, 0.0), 1.0), 3))
    around = plain(usual["around"]) if feature.around is None else feature.around
    width = width_of(part)
    mark: Data = {"label": feature.label, "on": part["name"], "along": along}
    mark |= {"around": around} if around else {}
    mark |= {"width": f"{feature.width} * {width}", "height": f"{feature.height} * {width}"}
    mark["colour"] = _colour(data, part)
    mark |= {"pair": True} if feature.pair else {}
    mark |= {"kind": "line"} if feature.line else {}
    mark |= {"slant": feature.slant} if feature.slant else {}
    muzzle = None if on else _muzzle(data, part)
    if muzzle is not None and kind in ON_MUZZLE:
        # It would lie under what is sewn to the middle of the face.
        along, around = ON_MUZZLE[kind]
        mark |= {"on": muzzle["name"], "along": along, "around": around}
        mark["colour"] = _colour(data, muzzle)
    data.setdefault("marks", []).append(mark)


def _muzzle(data: Data, face: Data) -> Data | None:
    """What is sewn to the middle of a face and stands out from it."""
    for part in parts_of(data):
        place = part.get("place", {})
        around = place.get("around", 0)
        in_front = is_number(around) and abs(around) < IN_FRONT and not place.get("pair")
        if seat_of(part) != "surface" or place.get("on") != face["name"] or not in_front:
            continue
        if part.get("shape") in ("oval", "ball", "dome") and not place.get("lies_flat"):
            return part
    return None


@edit
def remove_mark(data: Data, number: int) -> None:
    """Take a feature away, by its number from 0."""
    entry_of(data.get("marks", []), number, "Feature")
    del data["marks"][number]


def face_part(data: Mapping[str, Any]) -> str:
    """The part with the face: that with the eyes, else the last that is round as a head is."""
    parts = [part for part in parts_of(data) if _has_room(part)]
    on = data.get("eyes", {}).get("on")
    if any(part["name"] == on for part in parts):
        return str(on)
    rounds = [part for part in parts if part.get("shape") in ROUND]
    # A pair is limbs, and the last round part that is sewn on may be a tail.
    heads = [part for part in rounds if seat_of(part) in ("ground", "opening")]
    for group in (heads, rounds, parts):
        if group:
            return str(group[-1]["name"])
    raise EditError(
        asked="A face was to be given a feature.",
        why="The toy has no part with a face yet.",
        nearest="Add a part first.",
    )


def _with_face(data: Data, key: str) -> Data:
    part = part_of(data, key)
    if not _has_room(part):
        raise EditError(
            asked=f"A face was to be put on {key!r}.",
            why="It is a strip, or there are several of it all round, which have no face.",
            nearest="Choose a round part of which there is one.",
            field=key,
        )
    return part


def _has_room(part: Mapping[str, Any]) -> bool:
    """Whether a face can be on a part."""
    return part.get("shape") != "strip" and part.get("place", {}).get("times", 1) == 1


def _colour(data: Mapping[str, Any], part: Mapping[str, Any]) -> str:
    """The last colour that the part is not worked in, so that the feature is seen."""
    worked = [band.get("colour") for band in part.get("colours", [])]
    known = list(data.get("colours", {}))
    others = [key for key in known if key not in worked]
    return str((others or known or ["main"])[-1])
