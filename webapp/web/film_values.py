"""What an address says of a film besides the design: its times, and how rounds are gathered.

`faster`, `begin` and `captions` are values of the film; `len.<part>.<round>` is the length, in
seconds, of the caption that begins with that round. All the others are the design's.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.errors import RoundlingError
from webapp.film import Timing
from webapp.web.addresses import brief
from webapp.web.editor import given_twice
from webapp.web.fields import LONGEST_TEXT, NUMBER

LENGTH = "len."
LENGTH_NAME = re.compile(r"len\.(.{1,80})\.([1-9][0-9]{0,3})")
LINES, ROUNDS = "lines", "rounds"

LIMITS: Mapping[str, tuple[str, float, float, float]] = {
    "faster": ("How many times as fast the film runs", 1.0, 1000.0, 1.0),
    "begin": ("Seconds before the first caption", 0.0, 36_000.0, 0.0),
}
"""For each number its label, the least, the most, and the usual."""

LENGTH_LIMITS = (1.0, 36_000.0)
"""Seconds of a caption."""

MOST_LENGTHS = 5000


@dataclass(frozen=True)
class FilmValues:
    """What a film's address says, and what is left of it for the design.

    ``texts`` are the film's own values as they stand in its address; ``untidy`` whether some stand
    there empty or as usual, which a form without script sends.
    """

    faster: float
    begin: float
    each_round: bool
    lengths: Mapping[tuple[str, int], float]
    texts: Mapping[str, str]
    untidy: bool
    design: Mapping[str, Sequence[str]]

    def timing(self, stitches_per_minute: float) -> Timing:
        return Timing(stitches_per_minute, self.faster, self.begin, self.lengths)

    @property
    def own_lengths(self) -> bool:
        return bool(self.lengths)


def read_film(values: Mapping[str, Sequence[str]]) -> FilmValues:
    """The film in an address; raises :class:`RoundlingError` for a value that cannot be."""
    mine = {name: given for name, given in values.items() if _is_film(name)}
    if len(mine) > MOST_LENGTHS:
        raise RoundlingError(
            asked=f"{len(mine)} lengths were given.",
            why=f"A film's address holds {MOST_LENGTHS} at most.",
            nearest="Leave out those of captions that may last as long as their stitches take.",
            field="len",
        )
    texts: dict[str, str] = {}
    for name, given in mine.items():
        if len(given) > 1:
            raise given_twice(name)
        if text := given[0].strip():
            texts[name] = text
    numbers = {name: _number(name, texts) for name in LIMITS}
    captions = texts.get("captions", LINES)
    if captions not in (LINES, ROUNDS):
        raise RoundlingError(
            asked=f"{brief(captions)} was asked for as captions.",
            why="It is not one of the choices.",
            nearest=f"Choose {LINES} or {ROUNDS}.",
            field="captions",
        )
    usual = {name: limits[3] for name, limits in LIMITS.items()}
    kept = {
        name: text
        for name, text in texts.items()
        if (name, text) != ("captions", LINES)
        and not (name in usual and numbers[name] == usual[name])
    }
    return FilmValues(
        faster=numbers["faster"],
        begin=numbers["begin"],
        each_round=captions == ROUNDS,
        lengths=_lengths(texts),
        texts=kept,
        untidy=len(kept) < len(mine),
        design={name: given for name, given in values.items() if not _is_film(name)},
    )


def _is_film(name: str) -> bool:
    return name in LIMITS or name == "captions" or name.startswith(LENGTH)


def _number(name: str, texts: Mapping[str, str]) -> float:
    label, low, high, usual = LIMITS[name]
    return _checked(name, label, texts[name], low, high) if name in texts else usual


def _lengths(texts: Mapping[str, str]) -> dict[tuple[str, int], float]:
    lengths: dict[tuple[str, int], float] = {}
    for name, text in texts.items():
        if not name.startswith(LENGTH):
            continue
        found = LENGTH_NAME.fullmatch(name)
        if found is None:
            raise RoundlingError(
                asked=f"{brief(name)} was given.",
                why="A length belongs to a part and a round.",
                nearest="Write it as len.head.3=12, with the part and the caption's first round.",
                field=name[:40],
            )
        label = f"Length of {found[1]} {found[2]}"
        lengths[found[1], int(found[2])] = _checked(name, label, text, *LENGTH_LIMITS)
    return lengths


def _checked(name: str, label: str, text: str, low: float, high: float) -> float:
    """The number in a text; raises the three sentences."""
    span = f"It can be {low:g} to {high:g}."
    if not NUMBER.fullmatch(text) or len(text) > LONGEST_TEXT:
        why = "It is not a number written in figures, such as 12 or 2.5."
        raise RoundlingError(
            asked=f"{label}: {brief(text)} was asked for.", why=why, nearest=span, field=name
        )
    value = float(text)
    if not low <= value <= high:
        nearest = f"The nearest is {low if value < low else high:g}."
        raise RoundlingError(
            asked=f"{label}: {text} was asked for.", why=span, nearest=nearest, field=name
        )
    return value
