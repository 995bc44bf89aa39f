"""What the buttons of the editor do to a toy of one's own, by the words that they send."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from webapp.errors import RoundlingError
from webapp.own import edits
from webapp.own.dimensions import width_of
from webapp.own.errors import EditError
from webapp.own.face_edits import face_part
from webapp.own.naming import Data
from webapp.web.editor import PANELS


def done(data: Data, panel: str, form: Mapping[str, str]) -> tuple[Data, str]:
    """The data and the panel after what a button says."""
    verb, _, rest = form.get("do", "").partition(":")
    words = rest.split(":") if rest else []
    if not form.get("do"):
        return data, panel
    if verb == "open" and len(words) == 1:
        if words[0] not in PANELS and words[0] not in [p["name"] for p in data.get("parts", [])]:
            raise EditError(
                asked=f"“{words[0][:30]}” was to be opened.",
                why="The toy has no such part, and the editor no such panel.",
                nearest="Load the page again.",
            )
        return data, words[0]
    if verb == "part.add" and not words:
        label = form.get("new_label", "").strip() or form.get("new_shape", "part").capitalize()
        added = edits.add_part(data, form.get("new_shape", ""), label)
        return added, str(added["parts"][-1]["name"])
    action = ACTIONS.get(verb)
    if action is None or len(words) != action[0]:
        raise EditError(
            asked=f"“{verb[:30]}” was to be done.",
            why="The editor has no such button.",
            nearest="Load the page again.",
        )
    try:
        return action[1](data, form, *words), panel
    except ValueError as error:
        if isinstance(error, RoundlingError):
            raise
        raise EditError(
            asked=f"“{form['do'][:40]}” was to be done.",
            why="It has no such number.",
            nearest="Load the page again.",
        ) from error


def _number(text: str) -> int:
    """A number of a list's entry; raises ValueError for what the editor's buttons do not say."""
    if not re.fullmatch("[0-9]{1,4}", text):
        raise ValueError(text[:40])
    return int(text)


SHAPINGS: Mapping[str, tuple[str, float, float, float]] = {
    "snout": ("Snout", 0, 0.2, 0.16),
    "belly": ("Belly", 0, 0.4, 0.13),
    "heel": ("Heel", 180, 0.3, 0.2),
}
"""Local shaping by its word: its label, where round the part it lies, how much of it it takes, and
how far it stands out, in widths of the part: far enough to gain stitches, by trying."""
CHEEKS_OUT = 0.1
"""The same of cheeks."""


def _shaped(data: Data, key: str, kind: str) -> Data:
    """The data with one more shaping of a part."""
    new = edits.add_bulge(data, key)
    part = next(part for part in new["parts"] if part["name"] == key)
    bulge = part["bulges"][-1]
    if kind == "cheeks" and "cheeks" not in part:
        part["cheeks"] = {k: bulge[k] for k in ("begin", "end", "arc")}
        part["cheeks"]["depth"] = f"{CHEEKS_OUT} * {width_of(part)}"
        part["bulges"].pop()
        if not part["bulges"]:
            del part["bulges"]
        return new
    if kind not in SHAPINGS:
        raise EditError(
            asked=f"The shaping “{kind[:30]}” was to be added.",
            why="There is no such shaping, or the part has it.",
            nearest=f"There is {', '.join(SHAPINGS)}.",
        )
    label, around, arc, out = SHAPINGS[kind]
    bulge.update(label=label, around=around, arc=arc, depth=f"{out} * {width_of(part)}")
    return edits.tie_height(new, data)


Act = Callable[..., Data]
ACTIONS: dict[str, tuple[int, Act]] = {
    "part.copy": (1, lambda d, f, key: edits.copy_part(d, key)),
    "part.mirror": (1, lambda d, f, key: edits.mirror_part(d, key)),
    "part.remove": (1, lambda d, f, key: edits.remove_part(d, key)),
    "part.up": (1, lambda d, f, key: edits.move_part(d, key, -1)),
    "part.down": (1, lambda d, f, key: edits.move_part(d, key, 1)),
    "colour.add": (0, lambda d, f: edits.add_colour(d)),
    "colour.remove": (1, lambda d, f, key: edits.remove_colour(d, key)),
    "band.add": (1, lambda d, f, key: edits.add_band(d, key)),
    "band.remove": (2, lambda d, f, key, n: edits.remove_band(d, key, _number(n))),
    "bulge.add": (2, lambda d, f, key, kind: _shaped(d, key, kind)),
    "bulge.remove": (2, lambda d, f, key, n: edits.remove_bulge(d, key, _number(n))),
    "point.add": (2, lambda d, f, key, n: edits.add_point(d, key, _number(n))),
    "point.remove": (2, lambda d, f, key, n: edits.remove_point(d, key, _number(n))),
    "rule.add": (0, lambda d, f: edits.add_rule(d, f.get("set.new_rule", ""))),
    "rule.remove": (1, lambda d, f, n: edits.remove_rule(d, _number(n))),
    "eyes.add": (0, lambda d, f: edits.set_eyes(d, face_part(d))),
    "eyes.remove": (0, lambda d, f: edits.set_eyes(d, None)),
    "mark.add": (1, lambda d, f, kind: edits.add_mark(d, kind)),
    "mark.remove": (1, lambda d, f, n: edits.remove_mark(d, _number(n))),
}
