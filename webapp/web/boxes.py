"""The boxes of the editor: what stands in one, and what its text means in a toy's data."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.errors import RoundlingError
from webapp.own.errors import EditError
from webapp.own.rule_edits import check_names
from webapp.own.setting import length_text, value_at, with_length, with_value
from webapp.web.fields import shown
from webapp.yarns import LengthUnit

NUMBER = re.compile(r"-?([0-9]{1,6}(\.[0-9]{0,6})?|\.[0-9]{1,6})")
LONGEST = 500


@dataclass(frozen=True)
class Box:
    """A box for the value at a path of the data.

    ``kind``: "text", "colour", "choice", "check", "whole", "number", "percent" (a share of 1),
    "formula" (a whole rule), or "size": a length in the maker's unit, or a formula. ``text`` is
    what stands in it. ``options`` are (value, words).
    """

    path: str
    label: str
    kind: str
    text: str
    unit: str = ""
    options: tuple[tuple[str, str], ...] = ()
    hint: str = ""
    empty: str = ""
    """What an empty box means, shown faintly in it."""

    @property
    def formula(self) -> bool:
        """Whether a formula stands in it: longer than a size, without a unit of its own."""
        return self.kind == "formula" or (
            self.kind == "size" and bool(self.text) and not NUMBER.fullmatch(self.text)
        )

    @property
    def name(self) -> str:
        return f"set.{self.path}"


def box_for(
    data: Mapping[str, Any],
    path: str,
    label: str,
    kind: str,
    unit: LengthUnit,
    *,
    default: Any = "",
    options: Sequence[tuple[str, str]] = (),
    hint: str = "",
) -> Box:
    """The box for the value at a path; ``default`` where the data leaves it out."""
    value = value_at(data, path)
    value = default if value is None else value
    shown_unit = {"size": unit.value, "percent": "%"}.get(kind, "")
    return Box(path, label, kind, _text(kind, value, unit), shown_unit, tuple(options), hint)


def length_box(
    data: Mapping[str, Any], part: int, key: str, unit: LengthUnit, hint: str = ""
) -> Box:
    """The box for a length of a part: its size as drawn, or the formula that says it."""
    mm, formula = length_text(data, part, key)
    text = formula if mm is None else shown(round(unit.from_mm(mm), 3))
    label = key.replace("_", " ").capitalize()
    there = key in data["parts"][part].get("lengths", {})
    return Box(
        f"parts[{part}].lengths.{key}",
        label,
        "size",
        text,
        unit.value,
        hint=hint,
        empty="follows" if there else "",
    )


def _text(kind: str, value: Any, unit: LengthUnit) -> str:
    if kind == "check":
        return "yes" if value is True else ""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return str(value)
    if kind == "size":
        return shown(round(unit.from_mm(value), 3))
    return shown(round(value * 100.0, 2)) if kind == "percent" else shown(value)


def with_box(
    data: Mapping[str, Any], box: Box, text: str, unit: LengthUnit
) -> dict[str, Any]:
    """The data with what was written in a box; raises :class:`EditError` (or the formula reader's
    refusal) with the box's path as its field."""
    text = text.strip()
    length = re.fullmatch(r"parts\[([0-9]+)\]\.lengths\.([a-z]+)", box.path)
    value = _value(box, text, unit)
    if isinstance(value, str) and box.kind in ("size", "formula"):
        check_names(data, value, box.path)
    if length is not None and box.kind == "size":
        return with_length(data, int(length[1]), length[2], value)
    return with_value(data, box.path, value)


def check_text(box: Box, text: str) -> None:
    """Raises :class:`EditError` for a text that is too long for any box, or none of its choices.
    """
    if len(text.strip()) > LONGEST:
        raise _wrong(box, text.strip()[:40] + "…", f"It is longer than {LONGEST} characters.")
    if box.options and text not in dict(box.options):
        raise _wrong(box, text[:40], "It is none of the choices.")


def _value(box: Box, text: str, unit: LengthUnit) -> Any:
    """What a text means; None where an emptied box takes its value out."""
    if box.kind == "check":
        return True if text else None
    if not text and box.path.endswith("]"):
        raise EditError(
            asked=f"{box.label}: nothing was given.",
            why="A rule is an equation." if box.kind == "formula" else "A point needs both shares.",
            nearest=f"Write another, or “{box.text}” as it was.",
            field=box.path,
        )
    if box.kind in ("text", "choice", "colour", "formula"):
        return text or None
    if not text:
        return None
    if not NUMBER.fullmatch(text):
        if box.kind == "size":
            return text
        raise _wrong(box, text, "It is not a number written in figures.")
    number = float(text)
    if box.kind == "size":
        return _plain(round(unit.to_mm(number), 4))
    if box.kind == "whole" and number != int(number):
        raise _wrong(box, text, "It is not a whole number.")
    return _plain(round(number / 100.0, 6) if box.kind == "percent" else number)


def _plain(value: float) -> int | float:
    return int(value) if value == int(value) else value


def _wrong(box: Box, text: str, why: str) -> EditError:
    return EditError(
        asked=f"{box.label}: “{text}” was given.",
        why=why,
        nearest=f"It was “{box.text}”." if box.text else "Leave it empty, or give a number.",
        field=box.path,
    )


RANGE = re.compile(r"It can be (-?[0-9.]+) to (-?[0-9.]+)\.")
KEY_WORDS = "Mend that key."
IN_A_FILE = ("Write {", "Write [")
"""What is written in a file, not in a box."""


def worded(box: Box, given: str, error: RoundlingError, unit: LengthUnit) -> RoundlingError:
    """What the reader of toys says of a key, said of the box that it stands in."""
    of_a_key = error.asked.endswith(":") or "one that cannot be" in error.asked
    if not of_a_key:
        return error
    why, nearest = error.why, error.nearest
    found = RANGE.search(nearest)
    if found is not None and box.kind in ("percent", "size"):
        ends = [float(end) for end in found.groups()]
        in_box = [100.0 * e if box.kind == "percent" else unit.from_mm(e) for e in ends]
        low, high = (shown(round(end, 2)) for end in in_box)
        why, nearest = "That is out of its range.", f"It can be {low} to {high} {box.unit}."
    if nearest == KEY_WORDS or nearest.startswith(IN_A_FILE):
        nearest = "Choose another, or leave it as it was."
    what = f"“{given.strip()[:60]}”" if given.strip() else "nothing"
    return EditError(
        asked=f"{box.label}: {what} was given.", why=why, nearest=nearest, field=box.path
    )
