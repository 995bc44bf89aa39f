"""One step of editing a toy of one's own.

A step reads the open panel's boxes into the toy's data, then does what a button says. Either all
of it becomes the new toy, or nothing does and the boxes keep what was written in them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from webapp.errors import RoundlingError
from webapp.own import edits
from webapp.own.editing import without_idle_sliders
from webapp.own.naming import Data
from webapp.own.setting import value_at, with_value
from webapp.recipes import RecipeError
from webapp.web.boxes import Box, check_text, with_box, worded
from webapp.web.buttons import done
from webapp.web.editor import Editor, boxes_of
from webapp.web.holds import PREFIX
from webapp.web.panels import GIVES_WAY

BESIDE = ("new_shape", "new_label", "set.new_rule")
"""Boxes that change nothing by themselves; what was written in them stays when a step fails."""

USED = {"part.add": ("new_shape", "new_label"), "rule.add": ("set.new_rule",)}
"""The buttons that take such boxes."""

TAKE = "take"
"""What Enter in a box says: whatever is written is taken, a new rule or part as well."""

LET_GO = "let_go"


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
                data, panel = done(data, panel, doing)
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
