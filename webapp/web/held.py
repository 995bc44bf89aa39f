"""What the page shows of held measures: their boxes, what follows, and ways out of a conflict."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from webapp.assembly import WorkedToy
from webapp.errors import RoundlingError
from webapp.holding import eye_gap_mm
from webapp.proportions import HoldError, ProportionError, in_words, listed
from webapp.recipes import EYE_GAP, SLIDERS, Design, Recipe
from webapp.sizing import measure_values, size_design
from webapp.way import Toy
from webapp.web.fields import HEIGHTS, Reading, height_name, shown
from webapp.web.figures import address_of, length_text
from webapp.web.holds import HeldBox, hold_field
from webapp.yarns import LengthUnit


class HoldsPanel:
    """``made`` is None where only problems are answered; ``box`` says what stands in a box, by
    parameter and usual text."""

    def __init__(
        self,
        recipe: Recipe,
        reading: Reading,
        made: Toy | None,
        problems: Mapping[str, RoundlingError],
        box: Callable[[str, str], str],
    ) -> None:
        self.recipe, self.reading, self.made = recipe, reading, made
        self.problems, self._box = problems, box
        self.design = made.worked.design if made is not None else reading.design
        self.values = reading.accepted

    @property
    def _toy(self) -> WorkedToy:
        assert self.made is not None
        return self.made.worked

    @property
    def held(self) -> list[HeldBox]:
        """The measures held, each with its box."""
        unit, measures = self.design.unit, self.recipe.measures.by_name
        return [
            HeldBox(
                hold_field(name, unit),
                measures[name].label,
                self._box(hold_field(name, unit), shown(round(unit.from_mm(mm), 3))),
                unit.value,
                self._without_hold(name),
            )
            for name, mm in self.reading.design.held.items()
            if name in measures and name != "toy.height"
        ]

    def _without_hold(self, name: str) -> str:
        if name == "toy.height":
            return self._changed({"pin": self._pins_without("height")}, *HEIGHTS)
        if name in self.recipe.sliders:
            return self._changed({"pin": self._pins_without(name)}, name)
        return self._changed({}, *(hold_field(name, unit) for unit in LengthUnit))

    def _pins_without(self, name: str) -> str:
        pins = [pin for pin in self.values.get("pin", "").split(",") if pin and pin != name]
        return ",".join(pins)

    def _changed(self, values: Mapping[str, str], *without: str) -> str:
        """This address with other values, those left empty and those in ``without`` left out."""
        kept = {k: v for k, v in self.values.items() if k not in without}
        return address_of(self.recipe, {k: v for k, v in {**kept, **values}.items() if v})

    @property
    def measures(self) -> list[tuple[str, str, str]]:
        """What can be held and is not yet: name, label, and how much it is now."""
        unit = self.design.unit
        now = measure_values(self.recipe, self._toy.dimensions)
        if self._toy.eyes is not None:
            now[EYE_GAP] = eye_gap_mm(self._toy)
        return [
            (
                name,
                f"{measure.label}, {length_text(unit, now[name])}",
                shown(round(unit.from_mm(now[name]), 2)),
            )
            for name, measure in self.recipe.measures.by_name.items()
            if name in now and name not in self.reading.design.held and name != "toy.height"
        ]

    @property
    def following(self) -> dict[str, str]:
        """The boxes of sliders that give way to what is held, with what they come out as."""
        if self.made is None:
            return {}
        unit = self.design.unit
        return {
            height_name(unit) if name == "height" else name: shown(
                round(unit.from_mm(value) if name == "height" else value, 2)
            )
            for name in self._toy.following
            for value in (self.design.sliders[name],)
        }

    @property
    def following_words(self) -> str:
        """What follows, in a sentence."""
        labels = [SLIDERS[name].label.lower() for name in self._toy.following]
        follow = "follows" if len(labels) == 1 else "follow"
        return f"{listed(labels).capitalize()} {follow}."

    @property
    def pins(self) -> list[tuple[str, str, bool]]:
        """Sliders at their defaults that could be held there: name, words, whether they are."""
        pinned = self.values.get("pin", "").split(",")
        given = {"height" if name in HEIGHTS else name for name in self.values}
        return [
            (name, SLIDERS[name].label, name in pinned)
            for name in self.recipe.sliders
            if name not in given and name not in self._toy.following
        ]

    @property
    def let_go(self) -> list[tuple[str, str]]:
        """Rules that need not hold: the rule, and the address in which it does again."""
        gone = sorted(self.reading.design.let_go)
        return [
            (
                self.recipe.rules[number].text,
                self._changed({"let_go": ",".join(str(n + 1) for n in gone if n != number)}),
            )
            for number in gone
        ]

    @property
    def free(self) -> list[str]:
        """Dimensions that rules let go leave free, with the recipe's value that is used."""
        dimensions = self._toy.dimensions
        unit = self.design.unit
        return [f"{in_words(n)} {length_text(unit, dimensions[n])}" for n in self._toy.free]

    @property
    def ways_out(self) -> list[tuple[str, str]]:
        """What can be let go where holds conflict: in words, and the address without it."""
        error = next((e for e in self.problems.values() if isinstance(e, HoldError)), None)
        if error is None:
            return []
        design = self.reading.design
        ways = [
            (f"the {in_words(name)}", self._without_hold(name))
            for name in error.holds
            if self._leads_out(replace(design, held=_without(design.held, name)))
        ]
        for number, rule in enumerate(self.recipe.rules):
            gone = design.let_go | {number}
            if rule.text in error.rules and self._leads_out(replace(design, let_go=gone)):
                numbers = ",".join(str(n + 1) for n in sorted(gone))
                ways.append((f"the rule “{rule.text}”", self._changed({"let_go": numbers})))
        return ways

    def _leads_out(self, design: Design) -> bool:
        try:
            size_design(self.recipe, design)
        except ProportionError:
            return False
        return True


def _without(held: Mapping[str, float], name: str) -> dict[str, float]:
    return {n: value for n, value in held.items() if n != name}
