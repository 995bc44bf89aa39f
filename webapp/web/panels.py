"""The panels of the editor: which boxes each has. One panel is open at a time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from webapp.own.colour_edits import is_used
from webapp.recipes import EyeKind, Filling, MarkKind, Seat
from webapp.recipes.loading import LEVELS
from webapp.shapes import RATIOS, SHAPES
from webapp.web.boxes import Box, box_for, length_box
from webapp.yarns import LengthUnit

TOY, COLOURS, FACE, RULES = "toy", "colours", "face", "rules"
GIVES_WAY = "gives way"
"""The kind of box that has another colour take the place of one."""

SEATS = {
    Seat.GROUND: "stands on the ground",
    Seat.OPENING: "opening to opening",
    Seat.SURFACE: "sewn onto",
    Seat.NECK: "laid round the neck of",
    Seat.JOINED: "a leg of",
}
FILLINGS = {Filling.FIRM: "firm", Filling.LIGHT: "light", Filling.NONE: "none"}
EYES = {
    EyeKind.SAFETY: "safety eyes",
    EyeKind.EMBROIDERED: "embroidered",
    EyeKind.BUTTONS: "buttons",
}
MARKS = {MarkKind.FILLED: "filled", MarkKind.LINE: "a line"}
HINTS = {
    "widest": "share of its height, from where it is begun",
    "flatness": "thickness over width, lying flat",
    "cap": "rounded end: 1 is half a ball",
    "start": "empty: begun on a ring",
}
OPENINGS = {
    "ball": "empty: gathered closed",
    "egg": "empty: gathered closed",
    "pear": "empty: gathered closed",
    "tube": "empty: as wide as the tube",
    "sleeve": "empty: as wide as its start",
}


@dataclass(frozen=True)
class Action:
    """A button: what it does (a word for the server), its words, and whether it takes away."""

    do: str
    words: str
    away: bool = False


@dataclass(frozen=True)
class Group:
    """Boxes that belong together, and what can be done with them."""

    title: str
    boxes: tuple[Box, ...] = ()
    actions: tuple[Action, ...] = ()
    outline: tuple[tuple[float, float], ...] = field(default=())


def panel_groups(data: Mapping[str, Any], panel: str, unit: LengthUnit) -> list[Group]:
    """The groups of a panel, which is one of the four words above or a part's key."""
    if panel == COLOURS:
        return list(_colours(data, unit))
    if panel == FACE:
        return list(_face(data, unit))
    if panel == RULES:
        return list(_rules(data, unit))
    for number, part in enumerate(data.get("parts", [])):
        if part["name"] == panel:
            return list(_part(data, number, part, unit))
    return list(_toy(data, unit))


def _toy(data: Mapping[str, Any], unit: LengthUnit) -> Iterator[Group]:
    levels = [(level, level) for level in LEVELS]
    yield Group(
        "The toy",
        (
            box_for(data, "name", "Name", "text", unit),
            box_for(data, "line", "In a line", "text", unit),
            box_for(data, "level", "Level", "choice", unit, options=levels),
        ),
    )


def _colours(data: Mapping[str, Any], unit: LengthUnit) -> Iterator[Group]:
    palette = _palette(data)
    for key, colour in data.get("colours", {}).items():
        boxes = [
            box_for(data, f"colours.{key}.name", "Name", "text", unit),
            box_for(data, f"colours.{key}.hex", "Colour", "colour", unit),
        ]
        others = [option for option in palette if option[0] != key]
        used = is_used(data, key)
        if used and others:
            options = (("", "nothing"), *others)
            boxes.append(Box(f"colours.{key}.place", "Replace by", GIVES_WAY, "", options=options))
        remove = Action(f"colour.remove:{key}", "Remove", away=True)
        yield Group(str(colour.get("name", key)), tuple(boxes), () if used else (remove,))
    yield Group("", (), (Action("colour.add", "Add a colour"),))


def _rules(data: Mapping[str, Any], unit: LengthUnit) -> Iterator[Group]:
    for number, _ in enumerate(data.get("rules", [])):
        yield Group(
            "",
            (box_for(data, f"rules[{number}]", f"Rule {number + 1}", "formula", unit),),
            (Action(f"rule.remove:{number}", f"Remove rule {number + 1}", away=True),),
        )
    hint = "such as ear.width = 0.4 * head.width; plain numbers are mm"
    yield Group(
        "A new rule",
        (Box("new_rule", "Rule", "formula", "", hint=hint),),
        (Action("rule.add", "Add this rule"),),
    )


def _face(data: Mapping[str, Any], unit: LengthUnit) -> Iterator[Group]:
    parts = _parts(data)
    if "eyes" in data:
        yield Group(
            "Eyes",
            (
                box_for(data, "eyes.on", "On", "choice", unit, options=parts),
                box_for(data, "eyes.kind", "Made as", "choice", unit, default="safety",
                        options=_words(EYES)),
                box_for(data, "eyes.diameter", "Diameter", "size", unit),
                box_for(data, "eyes.along", "How far along", "percent", unit),
                box_for(data, "eyes.around", "From the middle", "number", unit, hint="degrees"),
            ),
            (Action("eyes.remove", "Remove the eyes", away=True),),
        )  # fmt: skip
    elif parts:
        yield Group("Eyes", (), (Action("eyes.add", "Add eyes"),))
    colours = _palette(data)
    for number, mark in enumerate(data.get("marks", [])):
        at = f"marks[{number}]"
        line = mark.get("kind") == MarkKind.LINE.value
        tall = "Ends higher by" if line else "Height"
        boxes = [
            box_for(data, f"{at}.label", "Name", "text", unit),
            box_for(data, f"{at}.on", "On", "choice", unit, options=parts),
            box_for(data, f"{at}.kind", "Made as", "choice", unit, default="filled",
                    options=_words(MARKS)),
            box_for(data, f"{at}.colour", "Thread", "choice", unit, options=colours),
            box_for(data, f"{at}.width", "Width", "size", unit),
            box_for(data, f"{at}.height", tall, "size", unit),
            box_for(data, f"{at}.along", "How far along", "percent", unit),
            box_for(data, f"{at}.around", "From the middle", "number", unit, default=0,
                    hint="degrees"),
            box_for(data, f"{at}.pair", "On both sides", "check", unit),
        ]  # fmt: skip
        if line:
            # What is filled lies straight.
            slant = box_for(data, f"{at}.slant", "Slant", "number", unit, default=0, hint="degrees")
            boxes.insert(-1, slant)
        name = str(mark.get("label", "feature"))
        remove = Action(f"mark.remove:{number}", f"Remove {name.lower()}", away=True)
        yield Group(name, tuple(boxes), (remove,))
    if parts:
        kinds = ("nose", "mouth", "brows", "blush")
        yield Group(
            "Embroider", (), tuple(Action(f"mark.add:{kind}", f"Add {kind}") for kind in kinds)
        )


def _part(
    data: Mapping[str, Any], number: int, part: Mapping[str, Any], unit: LengthUnit
) -> Iterator[Group]:
    at, key = f"parts[{number}]", part["name"]
    shape = str(part.get("shape"))
    yield Group(
        "",
        (
            box_for(data, f"{at}.label", "Name", "text", unit),
            box_for(data, f"{at}.shape", "Shape", "choice", unit,
                    options=[(name, name) for name in SHAPES]),
            *_start(data, at, shape, unit),
            box_for(data, f"{at}.filling", "Filling", "choice", unit, options=_words(FILLINGS)),
        ),
        (
            Action(f"part.copy:{key}", "Copy"),
            Action(f"part.mirror:{key}", "Mirror"),
            *([Action(f"part.up:{key}", "Earlier")] if number else []),
            *([Action(f"part.down:{key}", "Later")] if part is not data["parts"][-1] else []),
            Action(f"part.remove:{key}", "Remove", away=True),
        ),
    )  # fmt: skip
    yield Group("Size", tuple(_lengths(data, number, shape, unit)))
    if part.get("points"):
        yield _outline(data, at, key, part["points"], unit)
    yield Group("Place", tuple(_place(data, at, part.get("place", {}), unit)))
    yield from _bands(data, at, key, part, unit)
    if not SHAPES[shape].in_rows and shape != "oval":
        yield from _bulges(data, at, key, part, unit)


def _start(data: Mapping[str, Any], at: str, shape: str, unit: LengthUnit) -> Iterator[Box]:
    if not SHAPES[shape].in_rows and shape not in ("oval", "sleeve"):
        rings = [(str(n), f"a ring of {n}") for n in range(4, 9)]
        yield box_for(data, f"{at}.ring", "Begun on", "whole", unit, default=6, options=rings)


def _lengths(
    data: Mapping[str, Any], number: int, shape: str, unit: LengthUnit
) -> Iterator[Box]:
    kind = SHAPES[shape]
    for key in (*kind.needs, *kind.allows):
        if key in RATIOS:
            default = "" if key not in kind.needs else 0.5
            path = f"parts[{number}].lengths.{key}"
            label = key.capitalize()
            yield box_for(data, path, label, "number", unit, default=default,
                          hint=HINTS[key])  # fmt: skip
        else:
            hint = OPENINGS.get(shape, "") if key == "opening" else HINTS.get(key, "")
            yield length_box(data, number, key, unit, hint)


def _outline(
    data: Mapping[str, Any], at: str, key: str, points: Sequence[Sequence[Any]], unit: LengthUnit
) -> Group:
    boxes = []
    for n in range(len(points)):
        along, out = f"Point {n + 1} along", f"Point {n + 1} out"
        boxes.append(box_for(data, f"{at}.points[{n}][0]", along, "percent", unit))
        boxes.append(box_for(data, f"{at}.points[{n}][1]", out, "percent", unit))
    plain = [p for p in points if all(isinstance(v, (int, float)) for v in p)]
    drawn = tuple((float(p[0]), float(p[1])) for p in plain) if len(plain) == len(points) else ()
    last = len(points) - 1
    # A new point goes where they are farthest from each other, the last gap if formulas say where.
    gap = max(range(last), key=lambda n: drawn[n + 1][0] - drawn[n][0]) if drawn else last - 1
    actions = [Action(f"point.add:{key}:{gap}", "Add a point")]
    actions += [
        Action(f"point.remove:{key}:{n}", f"Remove point {n + 1}", away=True)
        for n in range(1, last)
        if len(points) > 3
    ]
    return Group("Outline", tuple(boxes), tuple(actions), drawn)


def _place(
    data: Mapping[str, Any], at: str, place: Mapping[str, Any], unit: LengthUnit
) -> Iterator[Box]:
    seats = [(seat.value, words) for seat, words in SEATS.items()]
    yield box_for(data, f"{at}.place.seat", "How it meets the toy", "choice", unit, options=seats)
    seat = place.get("seat")
    here = data["parts"].index(next(p for p in data["parts"] if p.get("place") is place))
    before = [(p["name"], str(p.get("label", p["name"]))) for p in data["parts"][:here]]
    if seat != Seat.GROUND.value:
        yield box_for(data, f"{at}.place.on", "On", "choice", unit, options=before)
    if seat == Seat.JOINED.value:
        hosts = [n for n, p in enumerate(data["parts"]) if p["name"] == place.get("on")]
        for n in hosts:
            yield box_for(data, f"parts[{n}].legs.chain", "Chain between the legs", "whole", unit,
                          default=2, hint="stitches")  # fmt: skip
    if seat == Seat.SURFACE.value:
        yield box_for(data, f"{at}.place.along", "How far along it", "percent", unit, default=0,
                      hint="0 where that is begun, 100 its end")  # fmt: skip
        yield box_for(data, f"{at}.place.around", "How far round", "number", unit, default=0,
                      hint="degrees: 0 front, 90 side, 180 back")  # fmt: skip
        if not place.get("lies_flat"):
            yield box_for(data, f"{at}.place.sink", "Sunk in", "percent", unit, default=0,
                          hint="of its edge's width")  # fmt: skip
        yield box_for(data, f"{at}.place.pair", "A mirrored pair", "check", unit)
        yield box_for(data, f"{at}.place.times", "Or how many round it", "whole", unit, default=1)
        yield box_for(data, f"{at}.place.lies_flat", "Lies flat on it", "check", unit)
    if seat in (Seat.SURFACE.value, Seat.GROUND.value):
        yield box_for(data, f"{at}.place.tilt", "Tilt", "number", unit, default=90,
                      hint="degrees: 90 up, 0 level")  # fmt: skip
        yield box_for(data, f"{at}.place.swing", "Heading", "number", unit, default=0,
                      hint="degrees: 0 front, 90 side")  # fmt: skip
        yield box_for(data, f"{at}.place.roll", "Turned", "number", unit, default=0,
                      hint="degrees about itself")  # fmt: skip


def _bands(
    data: Mapping[str, Any], at: str, key: str, part: Mapping[str, Any], unit: LengthUnit
) -> Iterator[Group]:
    colours = _palette(data)
    bands = part.get("colours", [])
    in_rows = SHAPES[str(part.get("shape"))].in_rows
    for n, band in enumerate(bands):
        boxes = [box_for(data, f"{at}.colours[{n}].colour", "Colour", "choice", unit,
                         options=colours)]  # fmt: skip
        if n:
            boxes.append(box_for(data, f"{at}.colours[{n}].begin", "From", "percent", unit,
                                 hint="of its rounds"))  # fmt: skip
            boxes.append(box_for(data, f"{at}.colours[{n}].round", "Or from round", "whole", unit))
        if not in_rows:
            stripe = f"{at}.colours[{n}].with"
            boxes.append(Box(stripe, "Striped with", "stripe", "".join(band.get("with", [])[:1]),
                             options=(("", "no stripes"), *colours)))  # fmt: skip
        if band.get("with") and not in_rows:
            boxes.append(box_for(data, f"{at}.colours[{n}].every", "Rounds a stripe", "whole",
                                 unit, default=2))  # fmt: skip
        actions = [Action(f"band.remove:{key}:{n}", "Remove", away=True)] if n else []
        yield Group("Colour" if n == 0 else f"Then, {n}", tuple(boxes), tuple(actions))
    if not in_rows:
        yield Group("", (), (Action(f"band.add:{key}", "Add a colour higher up"),))


def _bulges(
    data: Mapping[str, Any], at: str, key: str, part: Mapping[str, Any], unit: LengthUnit
) -> Iterator[Group]:
    places = [(f"{at}.cheeks", part["cheeks"])] if "cheeks" in part else []
    places += [(f"{at}.bulges[{n}]", bulge) for n, bulge in enumerate(part.get("bulges", []))]
    for n, (where, bulge) in enumerate(places):
        boxes = [
            box_for(data, f"{where}.begin", "From", "percent", unit, hint="of its outline"),
            box_for(data, f"{where}.end", "To", "percent", unit),
            box_for(data, f"{where}.arc", "How wide", "percent", unit, hint="of the round"),
            box_for(data, f"{where}.depth", "How far it stands out", "size", unit),
        ]
        if not where.endswith("cheeks"):
            boxes.insert(0, box_for(data, f"{where}.label", "Name", "text", unit))
            boxes.append(box_for(data, f"{where}.around", "How far round", "number", unit,
                                 default=90, hint="degrees: 0 front, 180 back"))  # fmt: skip
        name = str(bulge.get("label", "Cheeks"))
        remove = Action(f"bulge.remove:{key}:{n}", f"Remove {name.lower()}", away=True)
        yield Group(f"Shaping: {name}", tuple(boxes), (remove,))
    kinds = ("cheeks", "snout", "belly", "heel")
    shown = [kind for kind in kinds if kind != "cheeks" or "cheeks" not in part]
    yield Group(
        "Shape a place",
        (),
        tuple(Action(f"bulge.add:{key}:{kind}", f"Add {kind}") for kind in shown),
    )


def _parts(data: Mapping[str, Any]) -> list[tuple[str, str]]:
    return [
        (part["name"], str(part.get("label", part["name"])))
        for part in data.get("parts", [])
        if not SHAPES[str(part.get("shape"))].in_rows
    ]


def _palette(data: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    return tuple((key, str(c.get("name", key))) for key, c in data.get("colours", {}).items())


def _words(kinds: Mapping[Any, str]) -> list[tuple[str, str]]:
    return [(kind.value, words) for kind, words in kinds.items()]
