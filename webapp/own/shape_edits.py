"""Edits of a part's shape: another shape, control points, local shaping, bands of colour."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from webapp.errors import RoundlingError, an
from webapp.formulas import names_in
from webapp.own.defaults import (
    is_begun_open,
    is_open,
    lengths_of,
    points_of,
    surface_place,
    with_opening,
)
from webapp.own.dimensions import give_dimensions, let_go, tie_dimension, width_of
from webapp.own.editing import edit, entry_of, guests_of, host_of, label_of, part_of, seat_of
from webapp.own.errors import EditError
from webapp.own.heights import worked_out
from webapp.own.naming import Data, defined_by, names_of, parts_of, rule_of
from webapp.own.values import is_number, rounded, value_of
from webapp.shapes import SHAPES, build_meridian

AXIAL = {
    **dict.fromkeys(("egg", "pear", "cone", "dome"), "height"),
    **dict.fromkeys(("tube", "sleeve", "ear", "outline"), "length"),
}
"""The name of the length from one end of a part to the other: one length under two names."""

NARROWEST_BULGE = 0.1
"""Part of the outline; room for less is no room."""


@edit
def change_shape(data: Data, key: str, shape: str) -> None:
    """Another shape: lengths that both have stay, the others have usual values.

    Where those that stay do not go together with the rest, only the width stays. An open part
    stays open, a closed one closed where the shape can be.
    """
    part = part_of(data, key)
    old = str(part.get("shape"))
    if shape not in SHAPES:
        why, nearest = "There is no such shape.", f"Take one of: {', '.join(SHAPES)}."
        raise _refusal(part, shape, why, nearest)
    if shape == old:
        return
    was = deepcopy(data)
    known = worked_out(was)
    opened = is_open(part) or seat_of(part) in ("opening", "surface", "neck", "joined")
    if SHAPES[shape].in_rows:
        _make_strip(data, part)
    _check_legs(part, shape)
    lengths = part.setdefault("lengths", {})
    usual = lengths_of(shape, _scale(known, part, shape), opened)
    kind = SHAPES[shape]
    if old in AXIAL and shape in AXIAL and AXIAL[old] in lengths:
        lengths[AXIAL[shape]] = lengths.pop(AXIAL[old])
    # A strip's width is that of a band, and says nothing about a solid.
    shared = () if old == "strip" else kind.needs + kind.allows
    gone = [lengths.pop(k) for k in list(lengths) if k not in shared]
    if shape == "pear":
        usual["top"] = _top(known, lengths, usual)
    give_dimensions(data, part, {k: v for k, v in usual.items() if k not in lengths})
    part["shape"] = shape
    part.pop("points", None)
    if kind.has_points:
        part["points"] = points_of(opened)
    for staying in (("width", "opening", "start"), ("width",)):
        if _fits(known | _drawn(data), part):
            break
        kept = [k for k in usual if k in lengths and k not in staying]
        gone += [lengths.pop(k) for k in kept]
        give_dimensions(data, part, {k: usual[k] for k in kept})
    if is_begun_open(part) and "legs" not in part:
        part["filling"] = "none"
    if kind.in_rows or shape == "oval":
        part.pop("cheeks", None)
        part.pop("bulges", None)
    if old == "strip":
        host = host_of(part)
        part["place"] = surface_place(host, shape, len(guests_of(data, host)))
    _match_opening(data, part)
    if shape == "ball":
        _share_opening(data, part, known)
    let_go(data, {name for value in gone for name in names_of(value)
                  if name.startswith(f"{key}.")}, was)  # fmt: skip


@edit
def add_point(data: Data, key: str, after: int) -> None:
    """A control point half way between point ``after`` (from 0) and the next."""
    points = _points(data, key)
    entry_of(points[:-1], after, "Point")
    first, second = points[after], points[after + 1]
    points.insert(after + 1, [_half_way(a, b) for a, b in zip(first, second, strict=False)])


@edit
def remove_point(data: Data, key: str, number: int) -> None:
    """Take a control point away: not the ends, and three stay."""
    points = _points(data, key)
    entry_of(points, number, "Point")
    if number in (0, len(points) - 1) or len(points) <= 3:
        raise EditError(
            asked=f"Point {number + 1} of {len(points)} was to be removed.",
            why="An outline begins and ends with a point and has three or more.",
            nearest="Move it instead.",
            field=key,
        )
    del points[number]


@edit
def add_bulge(data: Data, key: str) -> None:
    """Local shaping at both sides, where it shares no rounds with other shaping."""
    part = part_of(data, key)
    shape = str(part.get("shape"))
    asked = f"Shaping was to be added to {label_of(part)}."
    if shape == "oval" or shape not in SHAPES or SHAPES[shape].in_rows:
        why = "Its rounds have no arcs to gather increases in."
        raise EditError(asked=asked, why=why, nearest="Choose a round part.", field=key)
    begin, end = _widest_gap(part)
    if end - begin < NARROWEST_BULGE:
        why = "Other shaping takes all its rounds, and one goes above the other."
        raise EditError(asked=asked, why=why, nearest="Make other shaping shorter.", field=key)
    depth = f"0.06 * {width_of(part)}"
    bulge = {"label": "Bulge", "begin": begin, "end": end, "arc": 0.25, "depth": depth}
    part.setdefault("bulges", []).append(bulge)


@edit
def remove_bulge(data: Data, key: str, number: int) -> None:
    """Take shaping away, by its number from 0; cheeks count first."""
    part = part_of(data, key)
    cheeks = 1 if "cheeks" in part else 0
    bulges = part.get("bulges", [])
    entry_of([None] * cheeks + bulges, number, "Shaping")
    if number < cheeks:
        del part["cheeks"]
    else:
        del bulges[number - cheeks]
    if not bulges:
        part.pop("bulges", None)


@edit
def add_band(data: Data, key: str, colour: str = "", begin: float | None = None) -> None:
    """Another colour from a share of the rounds on: unless said, half way from the last to the
    end, in the first colour that the last is not."""
    part = part_of(data, key)
    bands = part.setdefault("colours", [])
    asked = f"A colour was to be added to {label_of(part)}."
    if part.get("shape") == "strip":
        why = "A strip is worked in one colour."
        raise EditError(asked=asked, why=why, nearest="Change that colour.", field=key)
    begins = [band.get("begin", 0) for band in bands if "round" not in band]
    begins = [value for value in begins if is_number(value)]
    at = round((max(begins, default=0) + 1) / 2, 3) if begin is None else begin
    if not 0 < at < 1 or at in begins:
        why = f"It would begin at {at:g} of the rounds, which is taken or no place for it."
        nearest = "Begin above 0 and below 1, where no other colour begins."
        raise EditError(asked=asked, why=why, nearest=nearest, field=key)
    known = list(data.get("colours", {}))
    last = bands[-1].get("colour") if bands else None
    chosen = colour or next((c for c in known if c != last), known[0] if known else "main")
    shares = ((n, band.get("begin", 0)) for n, band in enumerate(bands) if "round" not in band)
    later = (n for n, share in shares if is_number(share) and share > at)
    bands.insert(next(later, len(bands)), {"begin": at, "colour": chosen})


@edit
def remove_band(data: Data, key: str, number: int) -> None:
    """Take a colour of a part away; the one before, or the next at the start, takes its rounds."""
    part = part_of(data, key)
    bands = part.get("colours", [])
    entry_of(bands, number, "Colour")
    if len(bands) == 1:
        raise EditError(
            asked=f"The only colour of {label_of(part)} was to be removed.",
            why="A part has a colour.",
            nearest="Change it instead.",
            field=key,
        )
    del bands[number]
    if number == 0:
        bands[0].pop("begin", None)
        bands[0].pop("round", None)


def _points(data: Data, key: str) -> list[list[Any]]:
    part = part_of(data, key)
    points: list[list[Any]] = part.get("points", [])
    if len(points) < 2:
        raise EditError(
            asked=f"A point of {label_of(part)} was to be changed.",
            why="It is not drawn through points.",
            nearest="Give it the shape outline first.",
            field=key,
        )
    return points


def _half_way(a: Any, b: Any) -> Any:
    if is_number(a) and is_number(b):
        return round((a + b) / 2, 4)
    return f"({a}) / 2 + ({b}) / 2"


def _widest_gap(part: Mapping[str, Any]) -> tuple[float, float]:
    """Where there is most room for shaping: at most 0.4 of the outline, from 0.1 to 0.9."""
    taken = [(0.0, 0.1), (0.9, 1.0)]
    for bulge in (part.get("cheeks", {}), *part.get("bulges", [])):
        begin, end = bulge.get("begin"), bulge.get("end")
        if is_number(begin) and is_number(end):
            taken.append((float(begin or 0), float(end or 0)))
    taken.sort()
    reach, best = 0.0, (0.0, 0.0)
    for begin, end in taken:
        if begin - reach > best[1] - best[0]:
            best = (reach, begin)
        reach = max(reach, end)
    middle, half = sum(best) / 2.0, min(best[1] - best[0], 0.4) / 2.0
    return round(middle - half, 3), round(middle + half, 3)


def _make_strip(data: Data, part: Data) -> None:
    """What a part gives up to become a strip round a neck; raises if it cannot."""
    key, shape = part["name"], "strip"
    host = host_of(part)
    faces = [f.get("on") for f in (data.get("eyes", {}), *data.get("marks", []))]
    legs = [other.get("legs", {}).get("part") for other in parts_of(data)]
    if not host:
        why = "It stands on the ground, and a strip is laid round a neck."
        raise _refusal(part, shape, why, "Add a strip instead.")
    if guests_of(data, key) or key in faces or key in legs:
        why = "Something is sewn to it or stitched on it, and nothing can be on a strip."
        raise _refusal(part, shape, why, "Move that to another part first.")
    part["place"] = {"seat": "neck", "on": host}
    part["colours"] = [{"colour": band["colour"]} for band in part.get("colours", [])[:1]]
    part.pop("ring", None)
    part.pop("legs", None)


def _check_legs(part: Mapping[str, Any], shape: str) -> None:
    """Legs that are joined end in a round opening; what is begun on them begins at one."""
    if seat_of(part) == "joined" and shape in ("strip", "oval", "ear"):
        why = "A body is begun on it, and such a part does not end in a round opening."
        raise _refusal(part, shape, why, "Take a tube, a cone or a ball.")
    start = shape == "sleeve" or ("start" in SHAPES[shape].allows and "start" in part["lengths"])
    if "legs" in part and not start:
        why = "It is begun on legs, and such a part does not begin at an opening."
        raise _refusal(part, shape, why, "Take a sleeve, or remove the legs first.")


def _scale(known: Mapping[str, float], part: Mapping[str, Any], shape: str) -> float:
    """How much larger than usual a shape is to be, to be as wide as the part is now."""
    width = value_of(part.get("lengths", {}).get("width"), known)
    if width is None or "strip" in (shape, part.get("shape")):
        return 1.0
    return min(max(width / lengths_of(shape, 1.0)["width"], 0.2), 10.0)


def _top(
    known: Mapping[str, float], lengths: Mapping[str, Any], usual: Mapping[str, float]
) -> int | float:
    """The width of a pear's narrow end, mm: wider than the opening it has, not than the pear."""
    width, opening = (value_of(lengths.get(key), known) for key in ("width", "opening"))
    top = max(usual["top"], 1.2 * (opening or 0.0))
    return rounded(top if width is None else min(top, 0.95 * width))


def _drawn(data: Mapping[str, Any]) -> dict[str, float]:
    """The dimensions that have a value of their own, mm."""
    return {k: float(v) for k, v in data.get("dimensions", {}).items() if is_number(v)}


def _fits(known: Mapping[str, float], part: Mapping[str, Any]) -> bool:
    """Whether the part's lengths make its shape; yes where they are not known."""
    values = {key: value_of(formula, known) for key, formula in part["lengths"].items()}
    lengths = {key: value for key, value in values.items() if value is not None}
    if len(lengths) < len(values) or part.get("points") or SHAPES[part["shape"]].in_rows:
        return True
    if min(lengths.values()) <= 0.0:
        return False
    try:
        build_meridian(part["shape"], lengths)
    except RoundlingError:
        return False
    return True


def _match_opening(data: Data, part: Data) -> None:
    """The opening that is new in a part sewn opening to opening is as wide as its host's."""
    name, host = part["lengths"].get("opening"), host_of(part)
    if seat_of(part) != "opening" or name not in data.get("dimensions", {}):
        return
    opening = part_of(data, host).get("lengths", {}).get("opening")
    if opening is not None and with_opening(str(part.get("shape"))):
        tie_dimension(data, name, str(opening))


def _share_opening(data: Data, part: Data, known: Mapping[str, float]) -> None:
    """The opening of a ball is a share of its width, where it was tied to other parts as well: so
    its height is a multiple of its width, and the finished height one that can be solved for."""
    name, width = (str(part["lengths"].get(key)) for key in ("opening", "width"))
    opening, wide = value_of(name, known), value_of(width, known)
    for at, rule in enumerate(map(rule_of, data.get("rules", []))):
        if rule is None or defined_by(rule) != name or opening is None or wide is None:
            continue
        if names_in(rule) - {name} - names_of(width):
            share = min(round(opening / wide, 2), 0.95)
            data["rules"][at] = f"{name} = {share} * {width_of(part)}"


def _refusal(part: Mapping[str, Any], shape: str, why: str, nearest: str) -> EditError:
    return EditError(
        asked=f"{label_of(part)} was to become {an(shape)}.",
        why=why,
        nearest=nearest,
        field="shape",
    )
