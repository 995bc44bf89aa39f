"""A table of a recipe file that knows where it is, so that a refusal names file and key."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from webapp.errors import RoundlingError
from webapp.formulas import Expression, parse_expression


class RecipeError(RoundlingError):
    """A recipe file that cannot be used: which file, which key, why."""

    def __init__(self, file: str, key: str, why: str, nearest: str = "") -> None:
        self.file = file
        super().__init__(
            asked=f"{file}: {key}:", why=why, nearest=nearest or "Mend that key.", field=key
        )


class Table:
    """A table of the file that knows where it is, and which of its keys nobody asked for."""

    def __init__(self, data: Mapping[str, Any], file: str, where: str) -> None:
        self.data, self.file, self.where = data, file, where
        self.asked: set[str] = set()

    def refuse(self, key: str, why: str, nearest: str = "") -> RecipeError:
        return RecipeError(self.file, f"{self.where}{key}", why, nearest)

    def take(self, key: str, kind: type | tuple[type, ...], default: Any = None) -> Any:
        self.asked.add(key)
        if key not in self.data:
            if default is None:
                raise self.refuse(key, "It is missing.")
            return default
        value = self.data[key]
        if (isinstance(value, bool) and kind is not bool) or not isinstance(value, kind):
            raise self.refuse(key, f"It is {value!r}, which is the wrong kind of value.")
        return value

    def text(self, key: str, default: str | None = None) -> str:
        value = str(self.take(key, str, default))
        if not value.strip() and default is None:
            raise self.refuse(key, "It is empty.")
        if not value.isprintable():
            raise self.refuse(key, "It has a line break or another mark that cannot be printed.")
        return value

    def number(self, key: str, low: float, high: float, default: float | None = None) -> float:
        given = self.take(key, (int, float), default)
        try:
            value = float(given)
        except OverflowError as error:
            why = "It has more figures than any number here."
            raise self.refuse(key, why, f"It can be {low:g} to {high:g}.") from error
        if not low <= value <= high:
            raise self.refuse(key, f"It is {value:g}.", f"It can be {low:g} to {high:g}.")
        return value

    def whole(self, key: str, low: int, high: int, default: int) -> int:
        value = self.number(key, low, high, default)
        if value != int(value):
            raise self.refuse(key, f"It is {value:g}, which is no whole number.")
        return int(value)

    def choice(self, key: str, options: tuple[str, ...], default: str | None = None) -> str:
        value = self.text(key, default)
        if value not in options:
            raise self.refuse(key, f"{value!r} is not known.", f"One of: {', '.join(options)}.")
        return value

    def table(self, key: str, default: Mapping[str, Any] | None = None) -> Table:
        return Table(self.take(key, dict, default), self.file, f"{self.where}{key}.")

    def tables(self, key: str, default: list[Any] | None = None) -> list[Table]:
        items = self.take(key, list, default)
        for number, item in enumerate(items):
            if not isinstance(item, dict):
                raise self.refuse(f"{key}[{number}]", "It is not a table.")
        return [
            Table(item, self.file, f"{self.where}{key}[{number}].")
            for number, item in enumerate(items)
        ]

    def texts(self, key: str) -> list[str]:
        items: list[str] = self.take(key, list)
        for number, item in enumerate(items):
            if not isinstance(item, str):
                why = f"It is {item!r}, which is the wrong kind of value."
                raise self.refuse(f"{key}[{number}]", why)
        return items

    def formula(self, key: str) -> Expression:
        value = self.take(key, (str, int, float))
        formula: Expression = self.parsed(key, str(value), parse_expression)
        return formula

    def parsed(self, key: str, text: str, parse: Callable[[str], Any]) -> Any:
        try:
            return parse(text)
        except RoundlingError as error:
            raise self.refuse(key, str(error)) from error

    def done(self) -> None:
        unknown = sorted(set(self.data) - self.asked)
        if unknown:
            known = ", ".join(sorted(self.asked))
            raise self.refuse(unknown[0], "No such key is known here.", f"Known: {known}.")
