"""The editor of a toy of one's own: the toy behind an address, and what the editor shows of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

from webapp.errors import RoundlingError
from webapp.own.errors import EditError
from webapp.own.naming import Data, all_names
from webapp.own.packing import pack, unpack
from webapp.own.writing import ordered
from webapp.recipes import Recipe, SliderRange, recipe_from_data
from webapp.shapes import SHAPES
from webapp.sizing import size_design
from webapp.web.boxes import Box
from webapp.web.fields import Reading, read_design
from webapp.web.panels import COLOURS, FACE, RULES, TOY, Group, panel_groups
from webapp.yarns import LengthUnit

OWN = "own"
NOT_CHOICES = ("recipe", "open", "view")
"""Parameters of an address that are no choices made for the toy."""

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
