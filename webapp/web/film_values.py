"""What an address says of a film besides the design: its times, and how rounds are gathered.

`faster`, `begin` and `captions` are values of the film; `len.<part>.<round>` is the length, in
seconds, of the caption that begins with that round. All the others are the design's.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

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

    ``texts`` are the film's own values as they stand in its address, without those that cannot be:
    ``problems`` has a reason for each of these, and ``typed`` the values as they were given.
    ``untidy`` tells whether some stand there empty or as usual, which a form without script sends.
    """

    faster: float
    begin: float
    each_round: bool
    lengths: Mapping[tuple[str, int], float]
    texts: Mapping[str, str]
    typed: Mapping[str, str]
    problems: Mapping[str, RoundlingError]
    untidy: bool
    design: Mapping[str, Sequence[str]]

    def timing(self, stitches_per_minute: float) -> Timing:
        return Timing(stitches_per_minute, self.faster, self.begin, self.lengths)

    def without(self, left_out: Iterable[tuple[str, int]]) -> FilmValues:
        """The same film without some of its lengths."""
        cues = set(left_out)
        names = {length_name(*cue) for cue in cues}
        return replace(
            self,
            lengths={cue: s for cue, s in self.lengths.items() if cue not in cues},
            texts={n: text for n, text in self.texts.items() if n not in names},
        )

    @property
    def own_lengths(self) -> bool:
        return bool(self.lengths)


def length_name(part: str, first: int) -> str:
    """What the length of a caption is called in an address."""
    return f"{LENGTH}{part}.{first}"


def read_film(values: Mapping[str, Sequence[str]]) -> FilmValues:
    """The film in an address; a value that cannot be is left out, with its reason."""
    mine = {name: given for name, given in values.items() if _is_film(name)}
    typed = {name: given[0].strip() for name, given in mine.items() if given[0].strip()}
    problems: dict[str, RoundlingError] = {}
    numbers = {name: limits[3] for name, limits in LIMITS.items()}
    lengths: dict[tuple[str, int], float] = {}
    if len(mine) > MOST_LENGTHS:
        problems["len"] = _too_many(len(mine))
        mine = {name: given for name, given in mine.items() if not name.startswith(LENGTH)}
    for name, given in mine.items():
        try:
            if len(given) > 1:
                raise given_twice(name)
            if name in typed:
                _take(name, typed[name], numbers, lengths)
        except RoundlingError as error:
            problems[name] = error
    texts = {
        name: typed[name]
        for name in mine
        if name in typed
        and name not in problems
        and (name, typed[name]) != ("captions", LINES)
        and not (name in LIMITS and numbers[name] == LIMITS[name][3])
    }
    return FilmValues(
        faster=numbers["faster"],
        begin=numbers["begin"],
        each_round=texts.get("captions") == ROUNDS,
        lengths=lengths,
        texts=texts,
        typed=typed,
        problems=problems,
        untidy=len(texts) + len(problems) < len(mine),
        design={name: given for name, given in values.items() if not _is_film(name)},
    )


def _is_film(name: str) -> bool:
    return name in LIMITS or name == "captions" or name.startswith(LENGTH)


def _take(
    name: str, text: str, numbers: dict[str, float], lengths: dict[tuple[str, int], float]
) -> None:
    """A value into ``numbers`` or ``lengths``; raises the three sentences."""
    if name in LIMITS:
        label, low, high, _ = LIMITS[name]
        numbers[name] = _checked(name, label, text, low, high)
    elif name.startswith(LENGTH):
        part, first = _whose(name)
        label = f"Length of {part} {first}"
        lengths[part, first] = _checked(name, label, text, *LENGTH_LIMITS)
    elif text not in (LINES, ROUNDS):
        raise RoundlingError(
            asked=f"{brief(text)} was asked for as captions.",
            why="It is not one of the choices.",
            nearest=f"Choose {LINES} or {ROUNDS}.",
            field="captions",
        )


def _whose(name: str) -> tuple[str, int]:
    """The part and the first round that a length belongs to."""
    found = LENGTH_NAME.fullmatch(name)
    if found is None:
        raise RoundlingError(
            asked=f"{brief(name)} was given.",
            why="A length belongs to a part and a round.",
            nearest="Write it as len.head.3=12, with the part and the caption's first round.",
            field=name[:40],
        )
    return found[1], int(found[2])


def _too_many(number: int) -> RoundlingError:
    return RoundlingError(
        asked=f"{number} lengths were given.",
        why=f"A film's address holds {MOST_LENGTHS} at most.",
        nearest="Leave out those of captions that may last as long as their stitches take.",
        field="len",
    )


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
