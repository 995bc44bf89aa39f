"""A read pattern as a toy of one's own: its parts drawn by their rounds, and put where parts so
called usually go, or where the pattern says that they are sewn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from webapp.assembly import WorkedToy
from webapp.errors import RoundlingError
from webapp.own.beginnings import empty_toy
from webapp.own.dimensions import give_dimensions
from webapp.own.editing import tie_height
from webapp.own.naming import Data, new_key, new_label, new_part_key
from webapp.reading import Begin, ReadPart, ReadPattern, RemarkKind
from webapp.recipes import Design, recipe_from_data
from webapp.rework.own_face import eyes_of
from webapp.rework.own_gather import gathered
from webapp.rework.own_parts import (
    Gather,
    Shape,
    chain_of,
    filling_of_part,
    legs_of,
    otherwise,
    shape_of_part,
    strip_of,
)
from webapp.rework.own_places import Seated, places_of
from webapp.rework.own_words import Role, colour_in, known_colour, role_of
from webapp.rounds import WorkedPart, WorkedStrip
from webapp.way import work_toy
from webapp.yarns import CATEGORIES, Gauge

LONGEST_NAME = 60
USUAL_CATEGORY = 4
"""The yarn by which a toy is tried; its gauge is the one that is given."""


MOST_PARTS = 24
"""Parts of a toy of a read pattern: twice what toys have (common practice, no source); the
time for its dimensions grows with the square of their number and more."""


@dataclass(frozen=True)
class OwnToy:
    """A toy as plain data, and a sentence for each thing of the pattern that is not in it."""

    data: Data
    left_out: tuple[str, ...]


def own_toy(pattern: ReadPattern, gauge: Gauge, gather: Gather = gathered) -> OwnToy:
    """A toy of one's own of the parts of a read pattern, of the size they have at a gauge.

    ``gather`` finds shaping that is gathered in places. Parts with rounds that were not read, or
    that cannot be worked, are left out, and what is beyond :data:`MOST_PARTS`. Raises
    :class:`RoundlingError` where no part is left.
    """
    data = empty_toy()
    data["name"] = _words(pattern.title, data["name"])
    left_out: list[str] = []
    usable = list(_usable(pattern, left_out))
    taken = usable[:MOST_PARTS]
    if len(usable) > MOST_PARTS:
        left_out.append(
            f"The last {len(usable) - MOST_PARTS} parts are left out: a toy of a read pattern has "
            f"at most {MOST_PARTS}."
        )
    legs = _joined_legs(taken)
    ground = _on_ground(taken)
    seated: list[Seated] = []
    for index, part in enumerate(taken):
        if legs is not None and part in legs.parts[1:]:
            continue
        label = new_label(data, _words(part.title, f"Part {index + 1}"))
        try:
            shape = _shape(part, gauge, gather, legs, is_ground=part is ground)
        except RoundlingError as error:
            left_out.append(f"{label} is left out: {error.why}")
            continue
        left_out += [f"{label}: {what}." for what in shape.said]
        entry: Data = {"name": new_part_key(data, label), "label": label, **shape.data}
        give_dimensions(data, entry, shape.lengths)
        entry["colours"] = _colours(data, part, shape)
        entry["filling"] = filling_of_part(part, role_of(part.title), shape)
        data["parts"].append(entry)
        seated.append(Seated(entry, part, shape, gauge))
    if not seated:
        raise RoundlingError(
            asked="The read pattern was to become a toy.",
            why="None of its parts can be worked as it was read.",
            nearest="Mend the rounds that are marked, and try again.",
        )
    _place(data, seated, pattern, ground, legs, left_out)
    data = tie_height(data)
    data = _with_eyes(data, seated, gauge, left_out)
    left_out += _open_ends(seated)
    left_out += _otherwise(_worked(data, gauge).parts, seated)
    return OwnToy(data, tuple(left_out))


def _with_eyes(data: Data, seated: list[Seated], gauge: Gauge, left_out: list[str]) -> Data:
    """The toy with the eyes that are said, where they can be."""
    eyes = eyes_of(seated)
    if eyes is None:
        return data
    seeing = {**data, "eyes": eyes}
    try:
        _worked(seeing, gauge)
    except RoundlingError as error:
        left_out.append(f"The eyes are left out: {error.why}")
        return data
    return seeing


def _worked(data: Data, gauge: Gauge) -> WorkedToy:
    """The toy as a new design has it at the gauge."""
    recipe = recipe_from_data(data, "own")
    sliders = {name: span.default for name, span in recipe.sliders.items()}
    return work_toy(recipe, Design("own", sliders, CATEGORIES[USUAL_CATEGORY], gauge))


def _open_ends(seated: list[Seated]) -> Iterator[str]:
    cut = [str(s.data["label"]) for s in seated if s.shape.cut_open]
    if cut:
        yield f"Not gathered at the end, but left open to be sewn by: {', '.join(cut)}."


def _otherwise(
    parts: Mapping[str, WorkedPart | WorkedStrip], seated: list[Seated]
) -> Iterator[str]:
    """What parts come out otherwise than they were read."""
    for part in seated:
        worked = parts[part.key]
        how = otherwise(worked.counts, part.shape.counts) if isinstance(worked, WorkedPart) else ""
        if how:
            yield f"{part.data['label']}: {how}."


def _words(text: str, otherwise: str) -> str:
    """Somebody's words on one line, not too long."""
    kept = " ".join("".join(c if c.isprintable() else " " for c in text).split())[:LONGEST_NAME]
    return kept.strip() or otherwise


def _usable(pattern: ReadPattern, left_out: list[str]) -> Iterator[ReadPart]:
    """The parts of which all rounds are known."""
    for index, part in enumerate(pattern.parts):
        name = part.title or f"Part {index + 1}"
        unread = [r for r in part.rounds if not r.count]
        if unread:
            left_out.append(
                f"{name} is left out: how many stitches round {unread[0].number} (line "
                f"{unread[0].line}) has cannot be told."
            )
        elif part.rounds:
            yield part


@dataclass(frozen=True)
class Legs:
    """A body begun on two equal legs, and the part, or the two, that they are."""

    body: ReadPart
    parts: tuple[ReadPart, ...]


def _joined_legs(parts: list[ReadPart]) -> Legs | None:
    """The body that is begun on two legs which are parts too, where they are alike."""
    body = next((p for p in parts if p.begin is Begin.LEGS and not p.rows), None)
    if body is None:
        return None
    per_leg = legs_of(body)
    if len(per_leg) != 2 or per_leg[0] != per_leg[1]:
        return None
    if not 0 <= chain_of(body) <= 12 or sum(per_leg) + 2 * chain_of(body) != body.counts[0]:
        return None
    legs = [
        p
        for p in parts
        if p is not body
        and p.counts[-1] == per_leg[0]
        and not (p.rows or p.closed or p.begin is Begin.OVAL)
        and role_of(p.title) in (Role.LEG, Role.OTHER)
    ]
    legs.sort(key=lambda p: role_of(p.title) is not Role.LEG)
    if legs and legs[0].copies == 2:
        return Legs(body, (legs[0],))
    if len(legs) > 1 and legs[0].counts == legs[1].counts:
        return Legs(body, (legs[0], legs[1]))
    return None


def _on_ground(parts: list[ReadPart]) -> ReadPart | None:
    """What stands on the ground: the body, else the head, else the largest part in rounds."""
    solid = [p for p in parts if not p.rows and p.begin is not Begin.FLAT]
    ranks = {Role.BODY: 0, Role.HEAD: 1}
    return min(
        solid,
        key=lambda p: (
            p.begin is not Begin.LEGS,
            ranks.get(role_of(p.title), 2),
            -sum(count or 0 for count in p.counts),
        ),
        default=None,
    )


def _shape(
    part: ReadPart, gauge: Gauge, gather: Gather, legs: Legs | None, *, is_ground: bool
) -> Shape:
    if part.rows or part.begin is Begin.FLAT:
        return strip_of(part, gauge)
    on_legs = legs is not None and part is legs.body
    return shape_of_part(part, gauge, gather, legs=on_legs, end=not is_ground)


def _place(
    data: Data,
    seated: list[Seated],
    pattern: ReadPattern,
    ground: ReadPart | None,
    legs: Legs | None,
    left_out: list[str],
) -> None:
    """Put parts in working order, hosts first, each in its place."""
    base = next((s for s in seated if s.read is ground), None)
    if base is None or base.data["shape"] == "strip":
        raise RoundlingError(
            asked="The read pattern was to become a toy.",
            why="It has no part in rounds that could stand and carry the others.",
            nearest="Begin a toy of your own, and sew its parts to a body.",
        )
    joined = None
    if legs is not None and base.read is legs.body:
        joined = next((s for s in seated if s.read is legs.parts[0]), None)
        if joined is not None:
            base.data["legs"] = {"part": joined.data["name"], "chain": chain_of(legs.body)}
    data["parts"] = places_of(pattern, seated, base, joined, left_out)


def _colours(data: Data, part: ReadPart, shape: Shape) -> list[Data]:
    """Bands of colour by the part's remarks, the first also by its heading ("Belly (white)")."""
    in_title = known_colour(part.title)
    bands: list[Data] = [{"colour": _colour_key(data, *in_title) if in_title else "main"}]
    for remark in part.remarks:
        named = colour_in(remark.text) if remark.kind is RemarkKind.COLOUR else None
        if named is None:
            continue
        key = _colour_key(data, *named)
        if remark.after < 1:
            bands[0]["colour"] = key
        elif remark.after < len(part.rounds) and shape.data["shape"] != "strip":
            if bands[-1].get("round") == remark.after + 1:
                bands.pop()
            if bands[-1]["colour"] != key:
                bands.append({"colour": key, "round": remark.after + 1})
    return bands


def _colour_key(data: Data, name: str, drawn: str) -> str:
    """The key of a colour of that name, added where it is new."""
    for key, colour in data["colours"].items():
        if colour["name"] == name:
            return str(key)
    key = new_key(name, data["colours"], "colour")
    data["colours"][key] = {"name": name, "hex": drawn}
    return key
