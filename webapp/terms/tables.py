"""Tables of terms: what each concept is called in a language."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

FOLDER = Path(__file__).parent / "tables"


class Language(Enum):
    """Whose words: English by US and by UK terms, and other languages."""

    US = "us"
    UK = "uk"
    GERMAN = "de"
    FRENCH = "fr"
    SPANISH = "es"
    ITALIAN = "it"
    PORTUGUESE = "pt"
    DUTCH = "nl"
    DANISH = "da"
    SWEDISH = "sv"
    NORWEGIAN = "nb"
    JAPANESE = "ja"


@dataclass(frozen=True)
class OurTerm:
    """How our own patterns write a concept: short, its whole name (empty where the short word is
    that), and whether it was checked against a published source."""

    short: str
    name: str
    checked: bool


@dataclass(frozen=True)
class Manner:
    """How a language puts stitches into a row: patterns with named places.

    ``one`` and ``several`` stitches; ``shaped`` so many increases or decreases of a kind that has
    a word; ``together`` is a kind that has none, ``several_together`` many of it; ``bracket``
    with an ``outer`` one round it, said so often (``_among`` where other stitches stand beside);
    ``counted`` a whole line. What stands between a label and what it labels is ``colon``; what
    parts a chain from its stitches is ``after_chain``, one act from the next ``then``; what ends a
    sentence is ``stop``, what stands between two ``gap``.
    """

    one: str = "{stitch}"
    several: str = "{number} {stitch}"
    shaped_one: str = "{stitch}"
    shaped: str = "{stitch} x {number}"
    together: str = "{stitch}{width}tog"
    several_together: str = "{stitch}{width}tog x {number}"
    bracket: str = "({row}) x {times}"
    outer: str = "[{row}] x {times}"
    bracket_among: str = "({row}) x {times}"
    outer_among: str = "[{row}] x {times}"
    comma: str = ", "
    colon: str = ": "
    after_chain: str = "; "
    then: str = ", "
    stop: str = "."
    gap: str = " "
    counted: str = "{round}: {row} [{count}]"


@dataclass(frozen=True)
class TermTable:
    """The forms of each concept in one language, those we write first.

    ``forms`` has for each concept (``sc``, ``each``, ``round`` ...) all its written forms in small
    letters; ``numbers`` the number words; ``name`` is the English name of the language. ``sheet``
    has the words by which a text is cut up (what headings, copies and remarks are called);
    ``ours`` what our own patterns write, where that is more than the first forms; ``manner`` how
    they put it together; ``spaced`` tells whether words stand apart,
    ``place_first`` whether a place is named before its stitch.
    """

    language: Language
    name: str
    forms: Mapping[str, tuple[str, ...]]
    numbers: Mapping[str, int]
    sheet: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    ours: Mapping[str, OurTerm] = field(default_factory=dict)
    manner: Manner = field(default_factory=Manner)
    spaced: bool = True
    place_first: bool = False


@cache
def term_table(language: Language) -> TermTable:
    """The table of a language; what US and UK words share stands in one file."""
    own = _load(language.value)
    shared = _load("en") if language in (Language.US, Language.UK) else {"forms": {}}
    forms = {**shared.get("forms", {}), **own["forms"]}
    return TermTable(
        language=language,
        name=own["name"],
        forms=MappingProxyType({concept: tuple(ways) for concept, ways in forms.items()}),
        numbers=MappingProxyType({**shared.get("numbers", {}), **own.get("numbers", {})}),
        sheet=MappingProxyType(
            {
                concept: tuple(ways)
                for concept, ways in {**shared.get("sheet", {}), **own.get("sheet", {})}.items()
            }
        ),
        ours=MappingProxyType(
            {
                concept: OurTerm(short, name, tag == "R")
                for concept, (short, name, tag) in own.get("ours", {}).items()
            }
        ),
        manner=Manner(**own.get("manner", {})),
        spaced=own.get("spaced", True),
        place_first=own.get("place_first", False),
    )


def _load(name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
