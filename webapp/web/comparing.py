"""What the compare page shows: up to four designs beside each other, in figures."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from webapp.errors import RoundlingError
from webapp.materials import rounded
from webapp.recipes import SLIDERS
from webapp.way import Toy
from webapp.web.addresses import Addressed, brief, make, read_address
from webapp.web.fields import HEIGHTS, SWATCH, height_name
from webapp.web.figures import grams_text, length_text
from webapp.web.toys import Workshop

MOST = 4
"""Designs beside each other."""

NO_BREAK = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True)
class Column:
    """One design: its address as given, and the toy, or why there is none.

    ``bad`` tells an address that cannot be read from a toy that cannot be made.
    """

    number: int
    given: str
    addressed: Addressed | None
    toy: Toy | None
    problem: RoundlingError | None
    remove: str

    @property
    def bad(self) -> bool:
        return self.problem is not None and self.addressed is None

    @property
    def name(self) -> str:
        return self.addressed.recipe.name if self.addressed else "Not a design"

    @property
    def address(self) -> str:
        return self.addressed.address if self.addressed else ""

    @property
    def shown(self) -> str:
        """The address as it is written beside the picture."""
        return self.address or brief(self.given)

    @property
    def still(self) -> str:
        assert self.addressed is not None
        return self.addressed.at("views.svg", view="front")


@dataclass(frozen=True)
class Cell:
    """A figure of one design, and its difference to the first in per cent."""

    text: str
    difference: str = ""


@dataclass(frozen=True)
class Row:
    """A figure of every design; None where there is no toy."""

    label: str
    cells: tuple[Cell | None, ...]


@dataclass(frozen=True)
class Comparison:
    """The designs, their figures, the form for one more, and what was wrong."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    changes: tuple[tuple[str, str], ...]
    problem: RoundlingError | None
    form: Mapping[str, str]

    @property
    def status(self) -> int:
        """400 for an address or a value that cannot be read, 422 for a toy that cannot be made."""
        if self.problem is not None or any(c.bad for c in self.columns):
            return 400
        return 422 if any(c.problem for c in self.columns) else 200

    @property
    def made(self) -> list[Column]:
        return [c for c in self.columns if c.addressed is not None]


def compare(
    workshop: Workshop,
    given: Sequence[str],
    host: str,
    problem: RoundlingError | None = None,
    form: Mapping[str, str] | None = None,
) -> Comparison:
    """The designs at the addresses given; what cannot be shown says why in its own column."""
    if len(given) > MOST and problem is None:
        problem = RoundlingError(
            asked=f"{len(given)} designs were given.",
            why=f"{MOST} fit beside each other.",
            nearest=f"The first {MOST} are shown; remove one to see another.",
            field="v",
        )
    given = list(given)[:MOST]
    columns = tuple(_column(workshop, given, at, host) for at in range(len(given)))
    return Comparison(columns, _rows(columns), _changes(columns), problem, form or {})


def compare_address(given: Sequence[str]) -> str:
    """The address of the page with these designs."""
    return f"/compare?{urlencode([('v', v) for v in given])}" if given else "/compare"


def with_variant(
    workshop: Workshop, given: Sequence[str], host: str, form: Mapping[str, str]
) -> list[str]:
    """The designs with a variant of one of them: ``of`` is its number, ``change`` the slider or
    the yarn, ``to`` its value. Raises :class:`RoundlingError` when it cannot be."""
    if len(given) >= MOST:
        raise RoundlingError(
            asked="One more design was asked for.",
            why=f"{MOST} fit beside each other.",
            nearest="Remove one first.",
            field="of",
        )
    of = form["of"].strip()
    if of not in {str(n) for n in range(1, len(given) + 1)}:
        raise RoundlingError(
            asked=f"A variant of design {brief(of)} was asked for.",
            why=f"There are {len(given)} here.",
            nearest="Choose one of them.",
            field="of",
        )
    base = read_address(workshop, given[int(of) - 1], host)
    change = form["change"].strip()
    variant = base.meeting(changed(base, change, form["to"].strip()), change)
    for problem in variant.reading.problems.values():
        raise problem
    return [*given, variant.address]


def changed(base: Addressed, name: str, text: str) -> dict[str, str]:
    """The values of a design with one of them changed.

    A swatch is of one yarn: in another it is left out.
    """
    values = base.values
    if name == "height":
        name = height_name(base.reading.design.unit)
        values = {k: v for k, v in values.items() if k not in HEIGHTS}
    elif name == "yarn" and text != str(base.reading.design.category.number):
        values = {k: v for k, v in values.items() if k not in (*SWATCH, "swatch_over")}
    values[name] = text
    return values


def _column(workshop: Workshop, given: Sequence[str], at: int, host: str) -> Column:
    remove = compare_address([v for n, v in enumerate(given) if n != at])
    addressed = toy = None
    problem: RoundlingError | None = None
    try:
        addressed = read_address(workshop, given[at], host)
        toy = make(workshop, addressed)
    except RoundlingError as error:
        problem = error
    return Column(at + 1, given[at], addressed, toy, problem, remove)


def _changes(columns: Sequence[Column]) -> tuple[tuple[str, str], ...]:
    """What a variant can change: the sliders of the toys on the page, and the yarn."""
    names = {n for c in columns if c.addressed for n in c.addressed.recipe.sliders}
    sliders = [(kind.name, kind.label) for kind in SLIDERS.values() if kind.name in names]
    return (*sliders, ("yarn", "Yarn weight (0 to 7)"))


def _rows(columns: Sequence[Column]) -> tuple[Row, ...]:
    toys = [c.toy for c in columns]
    colours = dict.fromkeys(
        toy.worked.recipe.colours[need.colour].name
        for toy in toys
        if toy
        for need in toy.materials.yarns
    )
    rows = [
        _row(toys, "Height", lambda t: t.worked.size.height_mm, _length),
        _row(toys, "Width", lambda t: t.worked.size.width_mm, _length),
        _row(toys, "Depth", lambda t: t.worked.size.depth_mm, _length),
        _words(toys, "Yarn weight", lambda t: f"{_category(t)}, {t.materials.hook.mm:g} mm hook"),
        _row(toys, "Stitches", lambda t: t.materials.stitches, lambda t, v: f"{v:,.0f}"),
        _row(toys, "Hours, about", lambda t: t.materials.hours.value, lambda t, v: f"{v:.1f}"),
        *(_row(toys, f"Yarn: {colour}", _metres(colour), _yarn(colour)) for colour in colours),
        _row(
            toys,
            "Yarn in all",
            lambda t: rounded(sum(n.metres.value for n in t.materials.yarns)),
            lambda t, v: f"{v:.0f} m",
        ),
        _words(toys, "Eyes", _eyes),
        _row(
            toys,
            "Filling, about",
            lambda t: t.materials.filling_grams.value,
            lambda t, v: grams_text(v),
        ),
    ]
    return tuple(rows) if any(toys) else ()


def _row(
    toys: Sequence[Toy | None],
    label: str,
    value: Callable[[Toy], float],
    words: Callable[[Toy, float], str],
) -> Row:
    values = [value(toy) if toy else 0.0 for toy in toys]
    first = next((n for n, toy in enumerate(toys) if toy), 0)
    cells = [
        Cell(words(toy, v), _difference(v, values[first]) if n != first else "") if toy else None
        for n, (toy, v) in enumerate(zip(toys, values, strict=True))
    ]
    return Row(label, tuple(cells))


def _words(toys: Sequence[Toy | None], label: str, words: Callable[[Toy], str]) -> Row:
    return Row(label, tuple(Cell(words(toy)) if toy else None for toy in toys))


def _difference(value: float, first: float) -> str:
    """In per cent of the first; nothing where either has none of it."""
    if not value or not first:
        return ""
    percent = round((value / first - 1.0) * 100.0)
    return f"{percent:+d} %" if percent else "the same"


def _length(toy: Toy, mm: float) -> str:
    return length_text(toy.worked.design.unit, mm)


def _category(toy: Toy) -> str:
    category = toy.worked.design.category
    own = ", own swatch" if toy.worked.design.from_swatch else ""
    return f"{category.name} ({category.number}{own})"


def _metres(colour: str) -> Callable[[Toy], float]:
    """As shown, so that the difference is that of the figures on the page."""
    return lambda toy: rounded(
        sum(
            n.metres.value
            for n in toy.materials.yarns
            if toy.worked.recipe.colours[n.colour].name == colour
        )
    )


def _yarn(colour: str) -> Callable[[Toy, float], str]:
    def words(toy: Toy, metres: float) -> str:
        balls = [
            f"{n.balls} × {n.ball_grams}{NO_BREAK}g"
            for n in toy.materials.yarns
            if toy.worked.recipe.colours[n.colour].name == colour
        ]
        return f"{metres:.0f} m, {' and '.join(balls)}" if balls else "none"

    return words


def _eyes(toy: Toy) -> str:
    eyes = toy.materials.eyes
    if eyes is None:
        return "none"
    return f"{eyes.stock_mm} mm" if eyes.stock_mm else "embroidered"
