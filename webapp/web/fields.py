"""Reading one design from an address: every value checked, nothing guessed, nothing clamped.

A field has a parameter name, a reading of its text, and a default. What cannot be read is said in
three sentences, and the field keeps the value of the last good toy, so that the page can still
show one. A value left out means its default; a value given twice, empty or unknown is refused.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from webapp.errors import RoundlingError
from webapp.recipes import SLIDERS, Design, Fibre, Recipe, SliderRange
from webapp.web.holds import Holds, is_hold, read_holds, with_new_hold, without_following
from webapp.yarns import Gauge, LengthUnit, Swatch, Terms, category, swatch_gauge

NUMBER = re.compile(r"[+-]?([0-9]{1,9}(\.[0-9]{0,9})?|\.[0-9]{1,9})")
LONGEST_TEXT = 24
PACE = SliderRange(3, 60, 15)
YARN = SliderRange(0, 7, 3)
SIMPLICITY = SliderRange(0, 100, 60)
SWATCH = ("swatch_stitches", "swatch_rounds")
HEIGHTS = ("height_cm", "height_in")

CHOICES: dict[str, tuple[str, ...]] = {
    "units": tuple(u.value for u in LengthUnit),
    "terms": tuple(t.value for t in Terms),
    "fibre": tuple(f.value for f in Fibre),
    "swatch_over": tuple(s.value for s in Swatch),
    "stagger": ("yes", "no"),
    "under_three": ("no", "yes"),
}
"""Fields that are one of a few words; the first is the default."""


@dataclass(frozen=True)
class Reading:
    """What an address says.

    ``design`` is made of every value that could be read. ``texts`` are the values as written, by
    parameter name, for putting back into their boxes. ``accepted`` are those that ``design`` is
    made of and that differ from their defaults, as they were written: the design's address.
    ``problems`` are what could not be read, by parameter name.
    """

    design: Design
    texts: Mapping[str, str]
    accepted: Mapping[str, str]
    problems: Mapping[str, RoundlingError]


@dataclass
class _Reader:
    """Takes the values one by one and keeps what went wrong."""

    recipe: Recipe
    values: Mapping[str, Sequence[str]]
    fallback: Mapping[str, str]
    problems: dict[str, RoundlingError] = field(default_factory=dict)
    accepted: dict[str, str] = field(default_factory=dict)

    def text(self, name: str, default: str) -> str:
        given = self.values.get(name)
        if given is None:
            return default
        if len(given) > 1:
            self.refuse(
                name,
                f"{name} was given {len(given)} times: {_brief(', '.join(given))}.",
                "It can have one value only.",
                f"Give one of them, or leave it out for {default or 'none'}.",
            )
            return self.fallback.get(name, default)
        return given[0].strip()

    def refuse(self, name: str, asked: str, why: str, nearest: str) -> None:
        self.problems.setdefault(
            name, RoundlingError(asked=asked, why=why, nearest=nearest, field=name)
        )

    def number(self, name: str, label: str, limits: SliderRange, unit: str = "") -> float:
        """A number within limits; of the last good toy, or the default, when it is not."""
        default = shown(limits.default)
        for text in (self.text(name, default), self.fallback.get(name, default)):
            try:
                value = _checked(name, label, text, limits, unit)
            except RoundlingError as error:
                self.problems.setdefault(name, error)
                continue
            # What a box shows of the default is the default, rounded though it is.
            if text == default:
                return limits.default
            if value != limits.default:
                self.accepted[name] = text
            return value
        return limits.default

    def choice(self, name: str) -> str:
        options = CHOICES[name]
        text = self.text(name, options[0])
        if text in options:
            return self._chosen(name, text)
        self.refuse(
            name,
            f"{_brief(text) or 'Nothing'} was asked for as {name}.",
            "It is not one of the choices.",
            f"Choose {_either(options)}.",
        )
        kept = self.fallback.get(name, options[0])
        return self._chosen(name, kept if kept in options else options[0])

    def _chosen(self, name: str, word: str) -> str:
        if word != CHOICES[name][0]:
            self.accepted[name] = word
        return word


def height_name(unit: LengthUnit) -> str:
    """The parameter that holds the height: ``height_cm`` or ``height_in``."""
    return f"height_{unit.value}"


def field_names(recipe: Recipe) -> tuple[str, ...]:
    """Every parameter that a toy's address can have."""
    ratios = tuple(name for name in recipe.sliders if name != "height")
    return (
        *HEIGHTS,
        *ratios,
        "simplicity",
        "yarn",
        *SWATCH,
        "pace",
        *CHOICES,
    )


def read_design(
    recipe: Recipe,
    values: Mapping[str, Sequence[str]],
    fallback: Mapping[str, str] | None = None,
) -> Reading:
    """The design in an address.

    ``values`` are all texts given for each parameter; ``fallback`` the texts of the last good
    toy, used where a value is refused.
    """
    fallback = fallback or {}
    values = without_following(values)
    reader = _Reader(recipe, values, fallback)
    _refuse_unknown(reader)
    unit = LengthUnit(reader.choice("units"))
    values = reader.values = with_new_hold(values, unit)
    sliders = {"height": _height(reader, unit)}
    for name, limits in recipe.sliders.items():
        if name != "height":
            sliders[name] = reader.number(name, SLIDERS[name].label, limits)
    yarn = category(int(reader.number("yarn", "Yarn weight", YARN)))
    explicit = {name for name in recipe.sliders if name in reader.accepted}
    if any(name in reader.accepted for name in HEIGHTS):
        explicit.add("height")
    holds = _holds(reader)
    held = {
        "toy.height" if name == "height" else name: sliders[name]
        for name in recipe.sliders
        if name in explicit or name in holds.pinned
    }
    swatch = _swatch(reader, reader.choice("swatch_over"))
    if swatch is None:
        reader.accepted.pop("swatch_over", None)
    design = Design(
        toy=recipe.key,
        sliders=sliders,
        category=yarn,
        gauge=swatch or yarn.toy_gauge,
        from_swatch=swatch is not None,
        fibre=Fibre(reader.choice("fibre")),
        simplicity=reader.number("simplicity", "True or simple", SIMPLICITY),
        staggered=reader.choice("stagger") == "yes",
        under_three=reader.choice("under_three") == "yes",
        unit=unit,
        terms=Terms(reader.choice("terms")),
        stitches_per_minute=reader.number("pace", "Stitches a minute", PACE),
        held=held | holds.held,
        let_go=frozenset(holds.let_go),
    )
    texts = {name: given[0] for name, given in values.items() if len(given) == 1}
    order = field_names(recipe)
    accepted = dict(sorted(reader.accepted.items(), key=lambda item: order.index(item[0])))
    return Reading(design, texts, accepted | holds.accepted, reader.problems)


def _holds(reader: _Reader) -> Holds:
    """What is held; of the last good toy where a value cannot be read."""
    holds = read_holds(reader.recipe, reader.values)
    if holds.problems:
        for parameter, problem in holds.problems.items():
            reader.problems.setdefault(parameter, problem)
        good = {n: v for n, v in reader.values.items() if n not in holds.problems}
        earlier = {n: (reader.fallback[n],) for n in holds.problems if n in reader.fallback}
        holds = read_holds(reader.recipe, {**good, **earlier})
    return holds


def shown(value: float) -> str:
    """A number as its box shows it: to the fourth decimal."""
    return repr(round(value, 4)).removesuffix(".0")


def _height(reader: _Reader, unit: LengthUnit) -> float:
    """Finished height in mm; given in cm or in inches, whichever the address says."""
    given = [name for name in HEIGHTS if name in reader.values]
    if len(given) == 2:
        reader.refuse(
            height_name(unit),
            "The height was given in cm and in inches.",
            "It can have one value only.",
            "Give one of them.",
        )
    # Without a height of its own, a fallback in the other unit still counts.
    name = (
        given[0]
        if given
        else next(
            (n for n in HEIGHTS if n in reader.fallback), height_name(unit)
        )
    )
    length = LengthUnit(name.removeprefix("height_"))
    limits = reader.recipe.sliders["height"]
    in_unit = SliderRange(
        length.from_mm(limits.low), length.from_mm(limits.high), length.from_mm(limits.default)
    )
    value = reader.number(name, "Finished height", in_unit, length.value)
    if name in reader.problems and name not in reader.fallback:
        earlier = _Reader(reader.recipe, {n: [t] for n, t in reader.fallback.items()}, {})
        if any(n in earlier.values for n in HEIGHTS):
            height = _height(earlier, unit)
            reader.accepted.update(earlier.accepted)
            return height
    return limits.default if value == in_unit.default else length.to_mm(value)


def _swatch(reader: _Reader, over: str) -> Gauge | None:
    """The gauge of the maker's own swatch, or None when none is given."""
    texts = [reader.text(name, "") for name in SWATCH]
    if texts == ["", ""]:
        return None
    numbers: list[float] = []
    for name, text in zip(SWATCH, texts, strict=True):
        what = name.removeprefix("swatch_")
        if not text:
            reader.refuse(
                name,
                f"A swatch was given without its {what}.",
                "Both are needed: stitches are wider than rounds are high.",
                f"Give the {what} as well, or clear both.",
            )
        elif not NUMBER.fullmatch(text) or len(text) > LONGEST_TEXT:
            reader.refuse(
                name,
                f"{_brief(text)} was asked for as {what} of the swatch.",
                "It is not a number.",
                "Write a number such as 24 or 24.5.",
            )
        else:
            numbers.append(float(text))
    if len(numbers) < 2:
        return _last_swatch(reader)
    try:
        gauge = swatch_gauge(numbers[0], numbers[1], Swatch(over))
    except RoundlingError as error:
        reader.problems.setdefault(error.field or "swatch_stitches", error)
        return _last_swatch(reader)
    reader.accepted.update(zip(SWATCH, texts, strict=True))
    return gauge


def _last_swatch(reader: _Reader) -> Gauge | None:
    """The gauge of the last good toy's swatch, if it had one."""
    texts = [reader.fallback.get(name, "") for name in SWATCH]
    over = reader.fallback.get("swatch_over", CHOICES["swatch_over"][0])
    if over not in CHOICES["swatch_over"]:
        return None
    if not all(NUMBER.fullmatch(text) and len(text) <= LONGEST_TEXT for text in texts):
        return None
    stitches, rounds = map(float, texts)
    try:
        gauge = swatch_gauge(stitches, rounds, Swatch(over))
    except RoundlingError:
        return None
    reader.accepted.update(zip(SWATCH, texts, strict=True))
    reader.accepted.pop("swatch_over", None)
    reader._chosen("swatch_over", over)
    return gauge


def _checked(name: str, label: str, text: str, limits: SliderRange, unit: str) -> float:
    """The number in ``text``, within limits; raises the three sentences."""
    # Limits are rounded inwards, so that what is offered can be had.
    low, high = (
        _plain(math.ceil(limits.low * 100 - 1e-6) / 100),
        _plain(math.floor(limits.high * 100 + 1e-6) / 100),
    )
    after = f" {unit}" if unit else ""
    span = f"{low} to {high}{after}"
    if not text:
        raise RoundlingError(
            asked=f"{label}: nothing was given.",
            why="It needs a number.",
            nearest=f"It can be {span}.",
            field=name,
        )
    if not NUMBER.fullmatch(text) or len(text) > LONGEST_TEXT:
        raise RoundlingError(
            asked=f"{label}: {_brief(text)} was asked for.",
            why="It is not a number written in figures, such as 18 or 1.25.",
            nearest=f"It can be {span}.",
            field=name,
        )
    value = float(text)
    # A box shows a limit to the fourth decimal; as shown it is still that limit.
    if not limits.low - 5e-5 <= value <= limits.high + 5e-5:
        raise RoundlingError(
            asked=f"{label}: {text}{after} was asked for.",
            why=f"For this toy it can be {span}.",
            nearest=f"The nearest is {low if value < limits.low else high}{after}.",
            field=name,
        )
    if name == "yarn" and value != int(value):
        raise RoundlingError(
            asked=f"{label}: {_plain(value)} was asked for.",
            why="Categories are whole numbers.",
            nearest=f"The nearest is {round(value)}.",
            field=name,
        )
    return value


def _refuse_unknown(reader: _Reader) -> None:
    known = field_names(reader.recipe)
    for name in reader.values:
        if name in known or is_hold(name):
            continue
        close = difflib.get_close_matches(name, known, n=1)
        if name in SLIDERS:
            why = f"{reader.recipe.name} has no such slider."
        else:
            why = "No such value is known."
        reader.refuse(
            name,
            f"{_brief(name)} was given.",
            why,
            f"Did you mean {close[0]}?" if close else f"Known are {', '.join(known)}.",
        )


def _plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _brief(text: str) -> str:
    shown = text if len(text) <= LONGEST_TEXT else text[:LONGEST_TEXT] + "…"
    return f"“{shown}”"


def _either(options: Sequence[str]) -> str:
    return " or ".join((", ".join(options[:-1]), options[-1])) if len(options) > 1 else options[0]
