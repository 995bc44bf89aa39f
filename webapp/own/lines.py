"""Reading JSON (RFC 8259) so that each key still knows its line.

Stricter than Python's own reader where the standard leaves room: a key may come once only, what is
no number (NaN, Infinity) is none, and nesting has a bound. Numbers and strings are read by the
standard library.
"""

from __future__ import annotations

import json
import math
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.own.errors import OwnFileError

DEEPEST = 16
"""A recipe nests 6 deep, in a file 8."""

SPACE = " \t\n\r"
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Located:
    """A value and, by path, the line (from 1) on which each key or list entry begins."""

    value: Any
    lines: Mapping[Path, int]


def read_json(text: str) -> Located:
    """The value in a JSON text; raises :class:`OwnFileError` with the line at fault."""
    reader = _Reader(text)
    value = reader.value((), 0)
    reader.skip()
    if reader.at < len(text):
        raise reader.refuse("Something follows the end of the file's contents.", "Take it out.")
    return Located(value, reader.lines)


class _Reader:
    """A text and how far it has been read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.breaks = [number for number, char in enumerate(text) if char == "\n"]
        self.lines: dict[Path, int] = {}
        self.scalars = json.JSONDecoder(parse_constant=lambda _: math.nan)

    @property
    def line(self) -> int:
        return bisect_right(self.breaks, self.at - 1) + 1

    def refuse(self, why: str, nearest: str, path: Path = ()) -> OwnFileError:
        return OwnFileError(self.line, key_of(path), why, nearest)

    def skip(self) -> None:
        while self.at < len(self.text) and self.text[self.at] in SPACE:
            self.at += 1

    def next(self) -> str:
        """The next character that is no space; nothing at the end."""
        self.skip()
        return self.text[self.at : self.at + 1]

    def take(self, char: str, path: Path) -> None:
        found = self.next()
        if found != char:
            there = f"“{found}”" if found.isprintable() and found else "the end"
            why = f"It is not JSON: there is {there}, where “{char}” was expected."
            raise self.refuse(why, f"Put “{char}” there.", path)
        self.at += 1

    def value(self, path: Path, depth: int) -> Any:
        self.skip()
        self.lines.setdefault(path, self.line)
        if depth > DEEPEST:
            why = f"It is nested deeper than {DEEPEST} tables and lists."
            raise self.refuse(why, "A toy needs no more than 8.", path)
        opening = self.next()
        if opening == "{":
            return self.table(path, depth)
        if opening == "[":
            return self.list(path, depth)
        return self.scalar(path)

    def table(self, path: Path, depth: int) -> dict[str, Any]:
        self.at += 1
        table: dict[str, Any] = {}
        more = self.next() != "}"
        while more:
            if self.next() != '"':
                self.take('"', path)
            line = self.line
            key = self.scalar(path)
            if key in table:
                why = "It comes twice in one table."
                raise self.refuse(why, "Keep one of the two.", (*path, key))
            self.lines[(*path, key)] = line
            self.take(":", (*path, key))
            table[key] = self.value((*path, key), depth + 1)
            more = self.next() == ","
            self.at += more
        self.take("}", path)
        return table

    def list(self, path: Path, depth: int) -> list[Any]:
        self.at += 1
        items: list[Any] = []
        more = self.next() != "]"
        while more:
            items.append(self.value((*path, len(items)), depth + 1))
            more = self.next() == ","
            self.at += more
        self.take("]", path)
        return items

    def scalar(self, path: Path) -> Any:
        """A string, a number, true, false or null."""
        self.skip()
        try:
            value, end = self.scalars.raw_decode(self.text, self.at)
            if isinstance(value, str):
                value.encode()
        except json.JSONDecodeError as error:
            why = f"It is not JSON: {error.msg[:1].lower()}{error.msg[1:].removesuffix(' at')}."
            raise self.refuse(why, "Mend that line.", path) from error
        except UnicodeEncodeError as error:
            why = "Half of a character stands there alone."
            raise self.refuse(why, "Write the whole character.", path) from error
        except ValueError as error:
            raise self.refuse("A number has too many figures.", "Round it.", path) from error
        if isinstance(value, float) and not math.isfinite(value):
            raise self.refuse("It is no number, or one too large.", "Write a number.", path)
        self.at = end
        return value


def key_of(path: Path) -> str:
    """A path as a recipe's refusals write it: ``parts[2].lengths.width``."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def path_of(key: str, data: Any) -> Path:
    """The path of a refusal's key as far as it is there in ``data``.

    Names of dimensions hold dots themselves, so the longest key that fits is taken.
    """
    path: Path = ()
    while key:
        step: str | int | None = None
        if isinstance(data, dict):
            fits = [k for k in data if key == k or key.startswith((f"{k}.", f"{k}["))]
            step = max(fits, key=len, default=None)
            rest = key[len(step) :] if step is not None else ""
        elif isinstance(data, list) and key.startswith("[") and "]" in key:
            number, rest = key[1:].split("]", 1)
            step = int(number) if number.isdecimal() and int(number) < len(data) else None
        if step is None:
            break
        path, data, key = (*path, step), data[step], rest.removeprefix(".")
    return path
