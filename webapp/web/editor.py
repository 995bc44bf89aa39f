"""The editor of a toy of one's own: what it shows, and one step of editing.

A step reads the open panel's boxes into the toy's data, then does what a button says. Either all
of it becomes the new toy, or nothing does and the boxes keep what was written in them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

from webapp.errors import RoundlingError
from webapp.own import edits
from webapp.own.dimensions import width_of
from webapp.own.editing import without_idle_sliders
from webapp.own.errors import EditError
from webapp.own.face_edits import face_part
from webapp.own.naming import Data, all_names
from webapp.own.packing import pack, unpack
from webapp.own.setting import value_at, with_value
from webapp.own.writing import ordered
from webapp.recipes import Recipe, RecipeError, SliderRange, recipe_from_data
from webapp.shapes import SHAPES
from webapp.sizing import size_design
from webapp.web.boxes import Box, check_text, with_box, worded
from webapp.web.fields import Reading, read_design
from webapp.web.holds import PREFIX
from webapp.web.panels import COLOURS, FACE, GIVES_WAY, RULES, TOY, Group, panel_groups
from webapp.yarns import LengthUnit

OWN = "own"
NOT_CHOICES = ("recipe", "open", "view")
"""Parameters of an address that are no choices made for the toy."""

BESIDE = ("new_shape", "new_label", "set.new_rule")
"""Boxes that change nothing by themselves; what was written in them stays when a step fails."""

USED = {"part.add": ("new_shape", "new_label"), "rule.add": ("set.new_rule",)}
"""The buttons that take such boxes."""

TAKE = "take"
"""What Enter in a box says: whatever is written is taken, a new rule or part as well."""

LET_GO = "let_go"
LONGEST_ADDRESS = 2000
PANELS = {TOY: "The toy", COLOURS: "Colours", FACE: "Face", RULES: "Rules"}
SHORTEST, TALLEST = 0.4, 4.0
"""How far the height slider goes below and above the height a toy was drawn at."""


def given_twice(name: str) -> EditError:
    """The refusal of a value that came more than once."""
    return EditError(
        asked=f"“{name[:40]}” was given more than once.",
        why="Which of them is meant cannot be known.",
        nearest="Give it once.",
        field=name[:40],
    )


def packed_once(given: Sequence[str]) -> str:
    """The packed toy among the values of an address; raises where there are several."""
    if len(given) > 1:
        raise given_twice("recipe")
    return "".join(given)


@lru_cache(maxsize=64)
def own_recipe(packed: str) -> Recipe:
    """The recipe in a packed text; raises :class:`RoundlingError` for one that is none."""
    return recipe_of(unpack(packed))


def recipe_of(data: Mapping[str, Any]) -> Recipe:
    """The recipe of a toy's data, its height slider set by the height it was drawn at."""
    recipe = recipe_from_data(data, OWN)
    design = read_design(recipe, {}).design
    natural = size_design(recipe, design).dimensions.get("toy.height")
    if natural is None or not recipe.dimensions:
        return recipe
    span = SliderRange(
        round(natural * SHORTEST, 1), max(round(natural * TALLEST, 1), 100.0), round(natural, 2)
    )
    return replace(recipe, sliders={**recipe.sliders, "height": span})


def own_reading(
    recipe: Recipe,
    packed: str,
    values: Mapping[str, Sequence[str]],
    fallback: Mapping[str, str] | None = None,
) -> Reading:
    """A reading whose accepted values, and so its address, hold the toy itself."""
    plain = {k: v for k, v in values.items() if k not in NOT_CHOICES}
    reading = read_design(recipe, plain, fallback)
    return replace(reading, accepted={"recipe": packed, **reading.accepted})


@dataclass(frozen=True)
class Chip:
    """A button that opens a panel; ``colours`` are those of a part."""

    panel: str
    label: str
    colours: tuple[str, ...] = ()
    copies: int = 1


@dataclass
class Editor:
    """What the editor shows: the toy's ``data``, the ``panel`` that is open, the ``choices`` made
    beside it (as an address has them), what was ``typed`` and refused, and why (``problems`` by
    path; the empty path for the whole). ``notices`` say what had to change with the last step."""

    data: Data
    panel: str
    choices: Mapping[str, str]
    typed: Mapping[str, str] = field(default_factory=dict)
    problems: Mapping[str, RoundlingError] = field(default_factory=dict)
    notices: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        known = {chip.panel for chip in self.chips}
        if self.panel not in known:
            parts = self.data.get("parts", [])
            self.panel = str(parts[0]["name"]) if parts else TOY

    @property
    def unit(self) -> LengthUnit:
        return LengthUnit.INCH if self.choices.get("units") == "in" else LengthUnit.CM

    @property
    def packed(self) -> str:
        # In one order of keys, so that a file that is opened has the address it was saved at.
        return pack(ordered(self.data))

    @property
    def query(self) -> str:
        """The choices, for the form that keeps them."""
        return urlencode(self.choices)

    @property
    def address(self) -> str:
        return f"/toys/{OWN}?{urlencode({'recipe': self.packed, **self.choices})}"

    @property
    def here(self) -> str:
        """The address with the panel that is open."""
        return f"{self.address}&{urlencode({'open': self.panel})}"

    @property
    def too_long(self) -> bool:
        return len(self.address) > LONGEST_ADDRESS

    @property
    def file(self) -> str:
        return self.address.replace(f"/toys/{OWN}?", f"/toys/{OWN}/design.json?", 1)

    @property
    def chips(self) -> list[Chip]:
        parts = [
            Chip(
                str(part["name"]),
                str(part.get("label", part["name"])),
                tuple(str(band.get("colour", "")) for band in part.get("colours", [])),
                2 if part.get("place", {}).get("pair") else part.get("place", {}).get("times", 1),
            )
            for part in self.data.get("parts", [])
        ]
        return [*parts, *(Chip(panel, label) for panel, label in PANELS.items())]

    @property
    def groups(self) -> list[Group]:
        return panel_groups(self.data, self.panel, self.unit)

    @property
    def shapes(self) -> list[str]:
        return list(SHAPES)

    @property
    def names(self) -> list[str]:
        """The names of dimensions, offered while a formula is written."""
        return sorted(all_names(self.data))

    def text(self, box: Box) -> str:
        return self.typed.get(box.name, box.text)

    def hex_of(self, colour: str) -> str:
        return str(self.data.get("colours", {}).get(colour, {}).get("hex", "#999999"))

    @property
    def other_problems(self) -> list[RoundlingError]:
        """Problems that belong to no box of the open panel."""
        shown = {box.path for group in self.groups for box in group.boxes}
        return [error for path, error in self.problems.items() if path not in shown]


def boxes_of(data: Mapping[str, Any], panel: str, unit: LengthUnit) -> list[Box]:
    return [box for group in panel_groups(data, panel, unit) for box in group.boxes]


def step(editor: Editor, form: Mapping[str, str], checks: frozenset[str]) -> Editor:
    """The editor after one step; its ``problems`` say why nothing changed, if nothing did.

    ``form`` are the boxes by name and ``do``, the button; ``checks`` the check boxes on the page.
    """
    data, typed, problems = editor.data, {}, {}
    for box in boxes_of(data, editor.panel, editor.unit):
        given = form.get(box.name, "" if box.name in checks else None)
        if given is None or box.path == "new_rule" or given.strip() == box.text:
            continue
        typed[box.name] = given
        try:
            data = _with_box(data, editor, box, given)
        except RoundlingError as error:
            problems[box.path] = worded(box, given, error, editor.unit)
    panel, choices = editor.panel, editor.choices
    if not problems:
        # A size of one's own in place of a formula may leave a slider with nothing to move.
        data = without_idle_sliders(data, editor.data)
        # A part that was given another name is still the one that is open.
        panel = _renamed(editor, data)
        choices = _held_under(editor.choices, editor.panel, panel)
        for do in _dos(form, _do(form, editor.panel, panel)):
            doing = {**form, "do": do}
            try:
                data, panel = _done(data, panel, doing)
            except RoundlingError as error:
                problems[_path_of(doing, error)] = error
    beside = {name: form[name] for name in BESIDE if form.get(name)}
    if problems:
        typed |= beside
        return Editor(editor.data, editor.panel, editor.choices, typed, problems)
    used = {name for do in _dos(form, form.get("do", "")) for name in USED.get(do, ())}
    left = {name: text for name, text in beside.items() if name not in used}
    return Editor(data, panel, _let_go_still(choices, editor.data, data), left)


def refused(
    editor: Editor, form: Mapping[str, str], checks: frozenset[str], error: RoundlingError
) -> Editor:
    """The editor as it was, with what was typed, where the new toy cannot be made."""
    boxes = boxes_of(editor.data, editor.panel, editor.unit)
    typed = {b.name: form.get(b.name, "") for b in boxes if b.name in form or b.name in checks}
    typed |= {name: form[name] for name in BESIDE if form.get(name)}
    changed = [b for b in boxes if b.name in form and form[b.name].strip() != b.text]
    at = next((b for b in boxes if b.path == error.field), None)
    if at is None and len(changed) == 1 and isinstance(error, RecipeError):
        # The key at fault is not in a box of its own: it is what the one changed box changed.
        at = changed[0]
    if at is not None:
        error = worded(at, form.get(at.name, ""), error, editor.unit)
    path = "" if at is None else at.path
    return Editor(editor.data, editor.panel, editor.choices, typed, {path: error})


def _with_box(data: Data, editor: Editor, box: Box, given: str) -> Data:
    """What a box changes; some change more than their own value."""
    check_text(box, given)
    part = _part_at(data, box.path)
    if part is not None and box.path.endswith("].label") and ".bulges" not in box.path:
        return edits.rename_part(data, part, given.strip())
    if part is not None and box.path.endswith("].shape"):
        return edits.change_shape(data, part, given)
    if part is not None and box.path.endswith(".place.seat"):
        return edits.seat_part(data, part, given)
    if box.kind == GIVES_WAY:
        return edits.remove_colour(data, box.path.split(".")[1], given) if given else data
    if box.kind == "stripe":
        striped = with_value(data, box.path, [given] if given else None)
        every = box.path.removesuffix("with") + "every"
        return striped if given else with_value(striped, every, None)
    new = with_box(data, box, given, editor.unit)
    begun = re.fullmatch(r"(parts\[[0-9]+\]\.colours\[[0-9]+\]\.)(begin|round)", box.path)
    if begun is not None and given.strip():
        # A colour begins at a share of the rounds or at a round: what is written last counts.
        other = begun[1] + ("round" if begun[2] == "begin" else "begin")
        new = with_value(new, other, None)
    return edits.tie_height(new, data)


def _part_at(data: Data, path: str) -> str | None:
    if not path.startswith("parts["):
        return None
    part = value_at(data, path.split("]", 1)[0] + "]")
    return str(part["name"]) if isinstance(part, dict) else None


def _renamed(editor: Editor, data: Data) -> str:
    names = [part["name"] for part in editor.data.get("parts", [])]
    if editor.panel not in names:
        return editor.panel
    return str(data["parts"][names.index(editor.panel)]["name"])


def _held_under(choices: Mapping[str, str], was: str, panel: str) -> Mapping[str, str]:
    """The choices with what is held of a part held of it under its new name."""
    old, new = f"{PREFIX}{was}.", f"{PREFIX}{panel}."
    return {f"{new}{k[len(old):]}" if k.startswith(old) else k: v for k, v in choices.items()}


def _let_go_still(
    choices: Mapping[str, str], was: Mapping[str, Any], data: Mapping[str, Any]
) -> Mapping[str, str]:
    """The choices with the rules that are let go, which they have by number, under the numbers
    that those have now; one that is gone need not be let go."""
    if LET_GO not in choices:
        return choices
    old, new = was.get("rules", []), data.get("rules", [])
    numbers = []
    for item in map(str.strip, choices[LET_GO].split(",")):
        number = int(item) if re.fullmatch("[0-9]{1,4}", item) else 0
        if not 0 < number <= len(old):
            return choices  # No such rule: for the reader of choices to say.
        rule = old[number - 1]  # An address counts from 1.
        if rule in new:
            numbers.append(new.index(rule) + 1)
        elif len(old) == len(new):
            numbers.append(number)  # Written anew where it stood.
    kept = {key: value for key, value in choices.items() if key != LET_GO}
    return {**kept, LET_GO: ",".join(map(str, numbers))} if numbers else kept


def _do(form: Mapping[str, str], was: str, panel: str) -> str:
    """The button's words, which name the open part as it was called before this step."""
    verb, *words = form.get("do", "").split(":")
    if panel != was and words[:1] == [was]:
        words[0] = panel
    return ":".join((verb, *words))


def _dos(form: Mapping[str, str], do: str) -> list[str]:
    """What is to be done one after the other."""
    if do != TAKE:
        return [do]
    written = {"rule.add": "set.new_rule", "part.add": "new_label"}
    return [do for do, name in written.items() if form.get(name, "").strip()]


def _path_of(form: Mapping[str, str], error: RoundlingError) -> str:
    return "new_rule" if form.get("do") == "rule.add" else error.field or ""


def _done(data: Data, panel: str, form: Mapping[str, str]) -> tuple[Data, str]:
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
