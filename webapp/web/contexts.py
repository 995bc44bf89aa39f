"""What the templates show, gathered from a made toy. Formats figures; computes none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import Any

from webapp.errors import RoundlingError
from webapp.goals import GoalKind
from webapp.materials import rounded
from webapp.materials.thread import SKEIN_METRES
from webapp.pattern import sewing_lines
from webapp.proportions import counted
from webapp.recipes import SLIDERS, EyeKind, Recipe, SliderRange
from webapp.way import Toy
from webapp.web.editor import Editor
from webapp.web.fields import (
    CHOICES,
    HEIGHTS,
    SIMPLICITY,
    SWATCH,
    YARN,
    Reading,
    field_names,
    height_name,
    shown,
)
from webapp.web.figures import (
    Control,
    Figure,
    address_of,
    figure_text,
    grams_text,
    length_text,
    range_text,
)
from webapp.web.goals import GoalChoice, goal_choices
from webapp.web.held import HoldsPanel
from webapp.web.round_tables import part_tables
from webapp.web.worth_knowing import eye_warnings, feature_warnings, size_warnings
from webapp.yarns import CATEGORIES, LengthUnit, term_set


class Page:
    """Everything the designer page shows. ``toy`` is None where only problems are answered;
    ``refused`` is the address beside whose refusal the last good toy is shown."""

    def __init__(
        self,
        recipe: Recipe,
        reading: Reading,
        toy: Toy | None,
        problems: Mapping[str, RoundlingError],
        refused: Reading | None = None,
    ) -> None:
        self.recipe, self.reading = recipe, reading
        self.made = toy
        self.refused = refused
        self.editor: Editor | None = None
        """The editor, where the toy is one's own."""
        # Sliders that give way to what is held are shown as they come out.
        self.design = toy.worked.design if toy is not None else reading.design
        self.values = reading.accepted
        # A height in the other unit has no box of its own on this page.
        here = height_name(self.design.unit)
        self.problems = {
            here if name in HEIGHTS else name: error for name, error in problems.items()
        }

    @property
    def toy(self) -> Toy:
        assert self.made is not None
        return self.made

    @cached_property
    def holds(self) -> HoldsPanel:
        """What is held, and what follows from it."""
        asked = self.refused or self.reading
        return HoldsPanel(self.recipe, asked, self.made, self.problems, self._box)

    # --- addresses

    @property
    def address(self) -> str:
        return self.at()

    def at(self, file: str = "") -> str:
        """The address of this design, or of one of its files."""
        return address_of(self.recipe, self.values, file)

    @property
    def reset(self) -> str:
        """The address of the toy with nothing chosen."""
        return address_of(self.recipe, {k: v for k, v in self.values.items() if k == "recipe"})

    def without(self, *names: str) -> str:
        """The address of this design with the named values left at their defaults."""
        return address_of(self.recipe, {k: v for k, v in self.values.items() if k not in names})

    # --- controls

    @property
    def field_names(self) -> tuple[str, ...]:
        """Names of the controls on the page, for their problems."""
        other = "height_in" if self.design.unit is LengthUnit.CM else "height_cm"
        return (
            *(name for name in field_names(self.recipe) if name != other),
            *(box.name for box in self.holds.held),
        )

    @property
    def other_problems(self) -> list[RoundlingError]:
        """Problems that belong to no control on the page."""
        return [e for name, e in self.problems.items() if name not in self.field_names]

    @property
    def controls(self) -> list[Control]:
        unit = self.design.unit
        limits = self.recipe.sliders["height"]
        step = "0.5" if unit is LengthUnit.CM else "0.25"
        height = self._control(
            height_name(unit),
            "height",
            SliderRange(*(unit.from_mm(v) for v in (limits.low, limits.high, limits.default))),
            unit.from_mm(self.design.sliders["height"]),
            step,
            unit.value,
        )
        ratios = [
            self._control(
                name, name, span, self.design.sliders[name], shown(SLIDERS[name].step), "×"
            )
            for name, span in self.recipe.sliders.items()
            if name != "height"
        ]
        return [height, *ratios]

    def _box(self, name: str, value: str) -> str:
        """What stands in a box: while something is wrong, what was typed in it."""
        if not self.problems:
            return value
        texts = self.reading.texts
        if name in HEIGHTS and name in self.problems:
            return texts.get(name) or next((texts[n] for n in HEIGHTS if n in texts), value)
        return texts.get(name, value)

    def _control(
        self, name: str, kind: str, span: SliderRange, value: float, step: str, unit: str
    ) -> Control:
        value_text = self.holds.following.get(name, shown(value))
        return Control(
            name=name,
            label=SLIDERS[kind].label,
            hint=SLIDERS[kind].hint,
            text=self._box(name, value_text),
            value=value_text,
            low=shown(span.low),
            high=shown(span.high),
            step=step,
            default=shown(span.default),
            unit=unit,
            reset=self.without(*HEIGHTS) if name in HEIGHTS else self.without(name),
            problem=self.problems.get(name),
        )

    @property
    def simplicity(self) -> Control:
        value = shown(self.design.simplicity)
        name = "simplicity"
        return Control(
            name,
            "True or simple",
            "0 keeps truest to the shape, 100 is simplest to stitch",
            self._box(name, value),
            value,
            shown(SIMPLICITY.low),
            shown(SIMPLICITY.high),
            "5",
            shown(SIMPLICITY.default),
            "%",
            self.without(name),
            self.problems.get(name),
        )

    @property
    def yarn(self) -> Control:
        """The yarn category, 0 to 7; its name stands where other sliders have their unit."""
        value = str(self.design.category.number)
        return Control(
            "yarn",
            "Yarn weight",
            "Category, from 0 lace to 7 jumbo",
            self._box("yarn", value),
            value,
            shown(YARN.low),
            shown(YARN.high),
            "1",
            shown(YARN.default),
            self.design.category.name,
            self.without("yarn"),
            self.problems.get("yarn"),
            tuple(category.name for category in CATEGORIES),
        )

    @property
    def has_swatch(self) -> bool:
        return any(self.text(name) for name in SWATCH) or any(n in self.problems for n in SWATCH)

    @property
    def pace(self) -> str:
        """What stands in the box for stitches a minute."""
        return self._box("pace", shown(self.design.stitches_per_minute))

    def text(self, name: str) -> str:
        """What stands in a box that may be empty."""
        return self.reading.texts.get(name, self.values.get(name, ""))

    def chosen(self, name: str) -> str:
        """The word chosen in a field of a few words."""
        typed = self.reading.texts.get(name, "") if self.problems else ""
        if typed in CHOICES[name]:
            return typed
        words = {
            "units": self.design.unit.value,
            "terms": self.design.terms.value,
            "fibre": self.design.fibre.value,
            "swatch_over": self.values.get("swatch_over", CHOICES["swatch_over"][0]),
            "stagger": "yes" if self.design.staggered else "no",
            "under_three": "yes" if self.design.under_three else "no",
        }
        return words[name]

    # --- figures

    def length(self, mm: float) -> str:
        return length_text(self.design.unit, mm)

    @property
    def figures(self) -> list[Figure]:
        toy, materials = self.toy.worked, self.toy.materials
        asked = self.design.sliders["height"]
        gauge = self.design.gauge
        figures = [
            Figure(
                "Finished height",
                self.length(toy.size.height_mm),
                f"asked for {self.length(asked)}; {self.length(toy.size.width_mm)} wide, "
                f"{self.length(toy.size.depth_mm)} deep",
            ),
            Figure("Stitches", f"{toy.stitches:,}", f"in {counted(self._pieces(), 'piece')}"),
            Figure("Hours", range_text(materials.hours, 1), materials.hours.how_sure),
            Figure("Hook", f"{materials.hook.mm:g} mm", self._hook_note()),
            Figure(
                "Gauge",
                f"{figure_text(gauge.stitches_per_10cm)} × {figure_text(gauge.rounds_per_10cm)}",
                f"stitches × rounds in 10 cm, {self._whose_gauge()}",
            ),
            Figure(
                "Filling",
                f"{grams_text(materials.filling_grams.value)}",
                f"{range_text(materials.filling_grams, 0)} g: {materials.filling_grams.how_sure}",
            ),
        ]
        if materials.eyes is not None:
            eyes = materials.eyes
            size = {
                EyeKind.SAFETY: f"{eyes.stock_mm} mm",
                EyeKind.BUTTONS: f"{eyes.stock_mm} mm buttons",
                EyeKind.EMBROIDERED: "embroidered",
            }[eyes.kind]
            place = toy.eyes
            assert place is not None
            where = (
                f"{self.recipe.part(place.on).label.lower()} rounds {place.below_round}/"
                f"{place.below_round + 1}, {place.apart} stitches apart; {eyes.why}"
            )
            figures.append(Figure("Eyes", size, where))
        return figures

    def _pieces(self) -> int:
        return sum(part.copies for part in self.recipe.parts)

    def _hook_note(self) -> str:
        us = self.toy.materials.hook.us
        return f"US {us}; to begin with, then as your gauge asks" if us else "to begin with"

    def _whose_gauge(self) -> str:
        if self.design.from_swatch:
            return "from your swatch"
        return f"usual for toys in category {self.design.category.number}"

    @property
    def yarns(self) -> list[dict[str, str]]:
        return [
            {
                "name": self.recipe.colours[need.colour].name,
                "hex": self.recipe.colours[need.colour].hex,
                "length": f"{rounded(need.metres.value)} m",
                "yards": f"{rounded(need.yards)} yd",
                "grams": grams_text(need.grams),
                "balls": f"{need.balls} × {need.ball_grams} g",
            }
            for need in self.toy.materials.yarns
        ]

    @property
    def threads(self) -> list[dict[str, str]]:
        """Embroidery thread, a row each like the yarns."""
        return [
            {
                "name": need.name,
                "hex": need.hex,
                "length": f"{need.metres.value:.1f} m",
                "yards": f"{need.yards:.1f} yd",
                "skeins": f"{need.skeins} × {SKEIN_METRES:g} m",
            }
            for need in self.toy.materials.threads
        ]

    @property
    def goals(self) -> Sequence[GoalChoice]:
        """What the toy can be fitted to; for a child under three not to safety eyes."""
        choices = goal_choices(self.recipe, self.design.unit)
        under_three = self.design.under_three
        return [c for c in choices if c.kind is not GoalKind.EYES or not under_three]

    @property
    def goal_action(self) -> str:
        return f"/toys/{self.recipe.key}/goal"

    @property
    def yarn_note(self) -> str:
        note = self.toy.materials.yarns[0].metres.how_sure
        for thread in self.toy.materials.threads[:1]:
            note += f"; thread {thread.metres.how_sure}"
        return note

    @property
    def sizes(self) -> list[dict[str, str]]:
        """Asked for against as stitched, a row for each dimension of each part."""
        labels = {part.label.lower(): part.label for part in self.recipe.parts}
        return [
            {
                "part": labels[size.part],
                "what": size.what,
                "asked": self.length(size.asked_mm),
                "stitched": self.length(size.stitched_mm),
                "off": f"{(size.stitched_mm / size.asked_mm - 1) * 100:+.0f} %"
                if size.asked_mm
                else "",
            }
            for size in self.toy.worked.sizes
        ]

    @cached_property
    def warnings(self) -> list[str]:
        """What the maker should know of this very toy, besides the cautions."""
        made = self.toy
        return [
            *size_warnings(made.worked, self.length),
            *eye_warnings(made.worked, made.materials.eyes),
            *feature_warnings(made.worked),
        ]

    @property
    def cautions(self) -> Iterable[Any]:
        return self.toy.cautions

    # --- rounds

    @property
    def parts(self) -> list[dict[str, Any]]:
        """Each part's lines, for the tables of rounds."""
        return part_tables(self.toy, term_set(self.design.terms))

    @property
    def sewing(self) -> list[str]:
        return list(
            sewing_lines(self.toy.worked, self.toy.materials, term_set(self.design.terms))
        )
