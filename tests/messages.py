"""The messages of the program: what its source says and what its toys are called.

``python -m tests.messages`` prints what each catalogue lacks, and what it has too much.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from babel.messages import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po

from tests.strategies import recipes
from webapp.words import FOLDER

SOURCE = Path(__file__).resolve().parent.parent / "webapp"
KEYWORDS = {"say": None, "many": (1, 2), "noted": None}

Message = str | tuple[str, str]


@cache
def said() -> tuple[Message, ...]:
    """Every sentence of the source, with its plural where it has one, in order; gathered once."""
    found = extract_from_dir(SOURCE, keywords=KEYWORDS)
    return tuple(dict.fromkeys(message for _, _, message, _, _ in found))


def names() -> Iterator[str]:
    """Names of the shipped toys, their parts, marks and colours, and their lines."""
    for recipe in recipes().values():
        yield from (recipe.name, recipe.line, recipe.height_word)
        yield from (part.label for part in recipe.parts)
        yield from (mark.label for mark in recipe.marks)
        yield from (colour.name for colour in recipe.colours.values())
    yield "black"


def messages() -> list[Message]:
    return [*said(), *dict.fromkeys(names())]


@cache
def translations(language: str) -> Catalog:
    with (FOLDER / f"{language}.po").open("rb") as file:
        return read_po(file)


if __name__ == "__main__":
    asked = messages()
    for path in sorted(FOLDER.glob("*.po")):
        has = {message.id for message in translations(path.stem) if message.id}
        print(path.stem, "lacks", [m for m in asked if m not in has])
        print(path.stem, "too much", [m for m in has if m not in asked])
