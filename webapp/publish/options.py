"""What a maker may choose for the printed sheet: paper, ink, and words of their own."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from webapp.errors import RoundlingError
from webapp.publish.figures import Figure

CHOICES: Mapping[str, tuple[str, ...]] = {
    "paper": ("a4", "letter"),
    "ink": ("full", "low"),
    "charts": ("yes", "no"),
}
"""The first is the default."""

LONGEST: Mapping[str, int] = {"by": 80, "licence": 240, "intro": 1200}
OPTIONS = (*CHOICES, *LONGEST)


@dataclass(frozen=True)
class SheetOptions:
    """``by``, ``licence`` and ``intro`` are plain text, empty where nothing is wanted."""

    paper: str = "a4"
    ink: str = "full"
    charts: str = "yes"
    by: str = ""
    licence: str = ""
    intro: str = ""


@dataclass(frozen=True)
class Drawings:
    """Drawings: ``charts``, page by page, by the name of their part, and for sewing together
    ``assembly``, each with what it shows in words; as SVG alone, ``parts`` are single parts by
    their names, ``cover`` is the toy."""

    charts: Mapping[str, Sequence[Figure]] = field(default_factory=dict)
    assembly: Sequence[tuple[str, Figure]] = ()
    parts: Mapping[str, str] = field(default_factory=dict)
    cover: str = ""


NO_DRAWINGS = Drawings()


def read_options(values: Mapping[str, Sequence[str]]) -> SheetOptions:
    """The options in the values of an address; raises :class:`RoundlingError`."""
    found: dict[str, str] = {}
    for name in OPTIONS:
        given = values.get(name, [""])
        if len(given) > 1:
            raise _refused(name, f"{name} was given {len(given)} times.", "It can be said once.",
                           "Give one of them.")  # fmt: skip
        text = given[0].replace("\r\n", "\n").strip()
        if name in CHOICES:
            known = CHOICES[name]
            text = text or known[0]
            if text not in known:
                asked = f"{name} “{text[:24]}” was asked for."
                raise _refused(name, asked, "There is none.", f"Ask for {' or '.join(known)}.")
        elif len(text) > LONGEST[name]:
            raise _refused(name, f"{name} has {len(text)} letters.",
                           f"There is room for {LONGEST[name]}.", "Shorten it.")  # fmt: skip
        elif any(unicodedata.category(c) in ("Cc", "Cs") and c != "\n" for c in text):
            raise _refused(name, f"{name} holds a control character.", "It cannot be printed.",
                           "Leave it out.")  # fmt: skip
        found[name] = text
    return SheetOptions(**found)


def _refused(name: str, asked: str, why: str, nearest: str) -> RoundlingError:
    return RoundlingError(asked=asked, why=why, nearest=nearest, field=name)
