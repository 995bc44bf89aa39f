"""Edits of whole parts: add, copy, mirror, rename, move, remove."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from webapp.formulas import names_in, with_names
from webapp.own.defaults import (
    GROWN,
    HOST_WIDTH,
    filling_of,
    is_begun_open,
    is_open,
    lengths_of,
    points_of,
    surface_place,
    with_opening,
)
from webapp.own.dimensions import give_dimensions, let_go, tie_dimension, width_of
from webapp.own.editing import edit, guests_of, host_of, label_of, part_of, seat_of
from webapp.own.errors import EditError
from webapp.own.heights import worked_out
from webapp.own.naming import (
    Data,
    defined_by,
    names_of,
    names_under,
    new_label,
    new_part_key,
    parts_of,
    rename,
    rule_of,
    slots_of_part,
)
from webapp.own.values import is_number, value_of, values_without_height
from webapp.own.wonted import wonted_place
from webapp.shapes import RATIOS, SHAPES

TURNED = 30
"""Degrees round the host between a part and its copy."""


@edit
def add_part(data: Data, shape: str, label: str) -> None:
    """A part of usual size: the first on the ground, one with an opening onto a free one, others
    on the side of the first."""
    if shape not in SHAPES:
        raise EditError(
            asked=f"A part of the shape {shape!r} was to be added.",
            why="There is no such shape.",
            nearest=f"Take one of: {', '.join(SHAPES)}.",
            field="shape",
        )
    words = clean_label(data, label)
    parts = data.setdefault("parts", [])
    part: Data = {"name": new_part_key(data, words), "label": words, "shape": shape}
    ground = next((p for p in parts if seat_of(p) == "ground"), None)
    opening = free_opening(data) if with_opening(shape) else None
    rows = SHAPES[shape].in_rows
    if ground is None and rows:
        raise EditError(
            asked=f"A strip, {words}, was to be added.",
            why="A strip is laid round the neck of another part, and there is none.",
            nearest="Add a body first.",
            field="shape",
        )
    host = opening or ground
    scale = _scale(data, host)
    if ground is None or opening is not None:
        # Limbs that stand alone are grown too, or they would be smaller than a button.
        scale *= GROWN
    give_dimensions(data, part, lengths_of(shape, scale))
    if SHAPES[shape].has_points:
        part["points"] = points_of(opening=True)
    part["colours"] = [{"colour": next(iter(data.get("colours", {})), "main")}]
    part["filling"] = filling_of(shape)
    if ground is None:
        part["place"] = {"seat": "ground"}
    elif rows:
        part["place"] = {"seat": "neck", "on": ground["name"]}
    elif opening is not None:
        part["place"] = {"seat": "opening", "on": opening["name"]}
        _fit_onto(data, part, opening)
    else:
        on_it = sum(seat_of(guest) == "surface" for guest in guests_of(data, ground["name"]))
        usual = wonted_place(data, words)
        part["place"] = usual or surface_place(ground["name"], shape, on_it)
    parts.append(part)


@edit
def copy_part(data: Data, key: str) -> None:
    """A second part like one, right after it, with lengths of its own."""
    part = part_of(data, key)
    copy = deepcopy(part)
    copy["label"] = new_label(data, label_of(part))
    copy["name"] = new_part_key(data, key)
    names = {name: f"{copy['name']}{name[len(key) :]}" for name in names_under(data, key)}
    for table, slot in slots_of_part(copy):
        if isinstance(table[slot], str):
            table[slot] = with_names(table[slot], names)
    if "legs" in copy:
        without_legs(copy)
    if seat_of(part) in ("ground", "opening", "joined"):
        host = host_of(part) or key
        if not is_open(copy):
            give_opening(data, copy)
        copy["place"] = surface_place(host, str(part.get("shape")), len(guests_of(data, host)))
    elif seat_of(part) == "surface":
        around = part["place"].get("around", 0)
        if is_number(around):
            copy["place"]["around"] = (around + TURNED + 180) % 360 - 180
    parts_of(data).insert(parts_of(data).index(part) + 1, copy)
    _copy_names(data, names)


@edit
def mirror_part(data: Data, key: str) -> None:
    """Make a pair of one; of a pair, leave the twin alone, so that it is on the other side."""
    part = part_of(data, key)
    place = part.setdefault("place", {})
    asked = f"{label_of(part)} was to have a mirror image."
    if place.get("pair") is True and seat_of(part) != "joined":
        del place["pair"]
        for angle in ("around", "swing", "roll"):
            value = place.get(angle, 0)
            if is_number(value) and value not in (0, 180, -180):
                place[angle] = -value
        return
    if seat_of(part) != "surface" or place.get("times", 1) != 1:
        why = "Only a single part that is sewn onto the side of another can have one."
        nearest = "Sew it onto a side first, or copy it."
        raise EditError(asked=asked, why=why, nearest=nearest, field=key)
    if place.get("around", 0) in (0, 180, -180):
        why = "It sits in the middle of its host, where its mirror image would be too."
        raise EditError(asked=asked, why=why, nearest="Move it round the host first.", field=key)
    place["pair"] = True


@edit
def rename_part(data: Data, key: str, label: str) -> None:
    """Another label, and a key made of it; every use of the old key follows."""
    part = part_of(data, key)
    if label.strip().lower() != label_of(part).lower():
        clean_label(data, label, new=False)
    part["label"] = label.strip()
    new = new_part_key(data, label, own=key)
    if new == key:
        return
    rename(data, {name: f"{new}{name[len(key) :]}" for name in names_under(data, key)})
    part["name"] = new
    for other in parts_of(data):
        for table, slot in ((other.get("place", {}), "on"), (other.get("legs", {}), "part")):
            if table.get(slot) == key:
                table[slot] = new
    for feature in (data.get("eyes", {}), *data.get("marks", [])):
        if feature.get("on") == key:
            feature["on"] = new


@edit
def move_part(data: Data, key: str, by: int) -> None:
    """Earlier (``by`` below 0) or later in the order of working."""
    part = part_of(data, key)
    parts = parts_of(data)
    at = parts.index(part)
    to = min(max(at + by, 0), len(parts) - 1)
    parts.insert(to, parts.pop(at))
    order = [str(p["name"]) for p in parts]
    for guest in parts:
        host = host_of(guest)
        if host in order and order.index(host) > order.index(str(guest["name"])):
            raise EditError(
                asked=f"“{label_of(part)}” was to be moved to place {to + 1}.",
                why=f"{label_of(guest)} would come before {label_of(part_of(data, host))}, "
                "which it is sewn to.",
                nearest="Hosts come first: move it less far.",
                field=key,
            )


@edit
def remove_part(data: Data, key: str) -> None:
    """Take a part away; what was sewn to it goes to its host, with eyes and marks."""
    was = deepcopy(data)
    part = part_of(data, key)
    host, guests = host_of(part), guests_of(data, key)
    if not host and guests:
        raise EditError(
            asked=f"{label_of(part)} was to be removed.",
            why=f"It stands on the ground, and {_and(guests)} would be sewn to nothing.",
            nearest="Remove those first, or change its shape instead.",
            field=key,
        )
    for guest in guests:
        _move_to(guest, part, host)
    parts_of(data).remove(part)
    for other in parts_of(data):
        if other.get("legs", {}).get("part") == key:
            without_legs(other)
    face_host = host if host and not _in_rows(part_of(data, host)) else ""
    for feature in (data.get("eyes", {}), *data.get("marks", [])):
        if feature.get("on") == key:
            feature["on"] = face_host
            _measure_by(feature, part, part_of(data, host) if face_host else part)
    if data.get("eyes", {}).get("on") == "":
        del data["eyes"]
    data["marks"] = [mark for mark in data.get("marks", []) if mark.get("on") != ""]
    let_go(data, names_under(was, key), was)
    if not parts_of(data):
        data["rules"], data["dimensions"] = [], {}


def without_legs(part: Data) -> None:
    """A part that is no longer begun on legs: closed again where it can be, else not filled."""
    del part["legs"]
    part.get("lengths", {}).pop("start", None)
    if part.get("points"):
        part["points"][0] = [0, 0]
    if is_begun_open(part):
        part["filling"] = "none"


def clean_label(data: Mapping[str, Any], label: str, new: bool = True) -> str:
    """A label for a part. If it is taken, another with a number, or a refusal unless ``new``."""
    words = label.strip()
    if not words or not words.isprintable() or len(words) > 60:
        raise EditError(
            asked="A part was to be named.",
            why="It has no name, one of over 60 characters, or one that cannot be printed.",
            nearest="Write a word or two, such as Left arm.",
            field="label",
        )
    free = new_label(data, words)
    if not new and free != words:
        raise EditError(
            asked=f"A part was to be named {words}.",
            why="Another part has that name.",
            nearest=f"Name it {free}.",
            field="label",
        )
    return free


def free_opening(data: Mapping[str, Any]) -> Data | None:
    """The part on the ground, if its opening has a length and nothing is sewn to it."""
    for part in parts_of(data):
        taken = any(seat_of(guest) == "opening" for guest in guests_of(data, part["name"]))
        if seat_of(part) == "ground" and opening_of(part) and not taken:
            return part
    return None


def opening_of(part: Mapping[str, Any]) -> str:
    """How wide a part ends that a head can be sewn onto, as a formula; nothing if it cannot."""
    lengths, points = part.get("lengths", {}), part.get("points")
    if with_opening(str(part.get("shape"))):
        return str(lengths.get("opening", ""))
    if points and is_number(points[-1][1]) and points[-1][1] > 0:
        return f"{points[-1][1]} * {width_of(part)}"
    return ""


def give_opening(data: Data, part: Data) -> None:
    """An open edge for a part that has none; raises :class:`EditError` if its shape cannot."""
    shape = str(part.get("shape"))
    if part.get("points"):
        part["points"][-1] = [1, 0.45]
    elif with_opening(shape):
        usual = lengths_of(shape, 1.0)
        name = f"{part['name']}.opening"
        width = str(part.get("lengths", {}).get("width", usual["width"]))
        part["lengths"]["opening"] = name
        share = round(usual["opening"] / usual["width"], 2)
        tie_dimension(data, name, f"{share} * ({width})" if " " in width else f"{share} * {width}")


def _fit_onto(data: Data, part: Data, host: Data) -> None:
    """Lengths of a part that goes onto an opening: the same opening, and where rules make the
    host's height of the toy's, its own in proportion to the host's."""
    lengths = part["lengths"]
    height = host["lengths"].get("height", host["lengths"].get("width"))
    known = worked_out(data)
    tall = value_of(height, known)
    if tall is None or value_of(height, values_without_height(data)) is not None:
        tie_dimension(data, lengths["opening"], opening_of(host))
        return
    factor = f"({height})" if " " in str(height) else str(height)
    for key, name in lengths.items():
        if key == "opening" and part["shape"] != "ball":
            tie_dimension(data, name, opening_of(host))
        elif key == "top":
            tie_dimension(data, name, f"1.2 * {lengths['opening']}")
        elif key not in RATIOS:
            share = round(data["dimensions"][name] / tall, 3)
            tie_dimension(data, name, f"{share} * {factor}")


def _scale(data: Mapping[str, Any], host: Data | None) -> float:
    """How much larger than usual a host is, from its width."""
    if host is None:
        return 1.0
    width = value_of(host.get("lengths", {}).get("width"), worked_out(data))
    return min(max((width or HOST_WIDTH) / HOST_WIDTH, 0.7), 5.0)


def _copy_names(data: Data, names: Mapping[str, str]) -> None:
    """Values and rules of a copy's own names: like those of what it was copied from."""
    dimensions = data.setdefault("dimensions", {})
    for old, new in names.items():
        if old in dimensions:
            dimensions[new] = dimensions[old]
    # One rule for each name: that which asks least of other parts.
    own: dict[str, tuple[int, str]] = {}
    for text in data.get("rules", []):
        rule = rule_of(text)
        name = defined_by(rule) if rule is not None else None
        if rule is not None and name is not None and name in names:
            foreign = sum("." in other for other in names_in(rule) - set(names))
            own[name] = min(own.get(name, (foreign, text)), (foreign, text), key=lambda o: o[0])
    rules = data.setdefault("rules", [])
    rules += [with_names(text, names) for _, text in own.values()]
    settled = {*own, *dimensions}
    rules += [f"{new} = {old}" for old, new in names.items() if not {old, new} & settled]


def _move_to(guest: Data, part: Data, host: str) -> None:
    """Sew a guest of a part that goes to the part's host."""
    seat, place = seat_of(guest), guest["place"]
    if seat in ("surface", "neck") or seat_of(part) == seat == "opening":
        place["on"] = host
        return
    kept = {key: value for key, value in part["place"].items() if key not in
            ("pair", "times", "lies_flat", "seat", "on")}  # fmt: skip
    guest["place"] = {"seat": "surface", "on": host, **kept}


def _measure_by(feature: Data, old: Mapping[str, Any], new: Mapping[str, Any]) -> None:
    """A feature that was measured by one part's width is measured by another's."""
    widths = [part.get("lengths", {}).get("width") for part in (old, new)]
    if all(names_of(width) == {width} for width in widths):
        for key in ("diameter", "width", "height"):
            if isinstance(feature.get(key), str):
                feature[key] = with_names(feature[key], {widths[0]: widths[1]})


def _in_rows(part: Mapping[str, Any]) -> bool:
    shape = str(part.get("shape"))
    return shape in SHAPES and SHAPES[shape].in_rows


def _and(parts: list[Data]) -> str:
    words = [label_of(part) for part in parts]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
