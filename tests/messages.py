"""The messages of the program: what its source says and what its toys are called.

``python -m tests.messages`` prints what each catalogue lacks, and what it has too much.
"""

from __future__ import annotations

import re
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

BRITISH = re.compile(
    r"colour|grey|harbour|neighbour|favour|centre|metre|litre|fibre|mould|jewell|labell|anticlock"
    r"|\bround (?:the|it|both)\b|\b(?:goes|way|all|evenly|work|than) +round\b",
    re.IGNORECASE,
)
"""What is said otherwise in the United States, where what encloses something goes around it: common
knowledge, no source."""


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


def is_british(message: Message) -> bool:
    """Whether a message is spelled otherwise in the United States; names of places are not said."""
    text = message if isinstance(message, str) else " ".join(message)
    return bool(BRITISH.search(re.sub(r"\{.*?\}", "", text)))


def asked_of(language: str) -> list[Message]:
    """The messages that a catalogue must have; US English only those spelled otherwise."""
    return [m for m in messages() if language != "us" or is_british(m)]


@cache
def translations(language: str) -> Catalog:
    with (FOLDER / f"{language}.po").open("rb") as file:
        return read_po(file)


if __name__ == "__main__":
    for path in sorted(FOLDER.glob("*.po")):
        asked = asked_of(path.stem)
        has = {message.id for message in translations(path.stem) if message.id}
        print(path.stem, "lacks", [m for m in asked if m not in has])
        print(path.stem, "too much", [m for m in has if m not in asked])
