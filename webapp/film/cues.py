"""Cues: what is on the screen from when to when.

A cue lasts as long as its stitches at the maker's pace, with the overhead that the hours of
:mod:`webapp.materials` have (a film that runs faster takes its share), and as long as it takes to
say it. Times are whole milliseconds; each cue begins where the one before it ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from webapp.errors import RoundlingError
from webapp.film.parts import FilmLine, FilmPart
from webapp.film.speaking import spoken_line
from webapp.film.voice import Voice
from webapp.materials.needs import OVERHEAD

WORDS_A_MINUTE = 150
"""Spoken slowly enough to follow: common practice, no source."""

NO_SPACES = re.compile("[\u3040-\u30ff\u4e00-\u9fff]")
"""Signs of a script that has no spaces: two are as long as a word, since 300 a minute are common
in newsreading (from memory)."""

SHORTEST_MS = 1000


@dataclass(frozen=True)
class Timing:
    """How long cues last: the pace of the hands, how many times as fast the film runs while they
    work, when the first cue begins (seconds), and lengths (seconds) given outright, by part and
    number of the cue's first round."""

    stitches_per_minute: float
    faster: float = 1.0
    begin: float = 0.0
    lengths: Mapping[tuple[str, int], float] = field(default_factory=dict)


@dataclass(frozen=True)
class Cue:
    """A line of a part, from ``start_ms`` for ``length_ms``; ``planned_ms`` is the length by pace.

    ``so_far`` are the stitches of one copy of the part when the cue is over.
    """

    part: FilmPart
    line: FilmLine
    said: str
    so_far: int
    start_ms: int
    length_ms: int
    planned_ms: int

    @property
    def end_ms(self) -> int:
        return self.start_ms + self.length_ms

    @property
    def key(self) -> str:
        """Its name within the film."""
        return f"{self.part.name}.{self.line.first}"


def stitching_seconds(stitches: int, stitches_per_minute: float) -> float:
    """How long so many stitches take, counting them and stuffing included."""
    return stitches / stitches_per_minute * 60.0 * OVERHEAD[1]


def film_cues(parts: Iterable[FilmPart], timing: Timing, voice: Voice) -> tuple[Cue, ...]:
    """The cues of all parts in order.

    Raises :class:`RoundlingError` for a length given to a cue that is not there.
    """
    cues: list[Cue] = []
    left = dict(timing.lengths)
    now = round(1000 * timing.begin)
    for part in parts:
        so_far = 0
        for line in part.lines:
            so_far += line.stitches
            said = spoken_line(line, part, voice)
            planned = _planned_ms(line, said, timing)
            given = left.pop((part.name, line.first), None)
            length = planned if given is None else max(SHORTEST_MS, round(1000 * given))
            cues.append(Cue(part, line, said, so_far, now, length, planned))
            now += length
    for name, first in left:
        raise no_such_cue(name, first)
    return tuple(cues)


def _planned_ms(line: FilmLine, said: str, timing: Timing) -> int:
    work = stitching_seconds(line.stitches, timing.stitches_per_minute) / timing.faster
    words = max(len(said.split()), len(NO_SPACES.findall(said)) / 2)
    saying = words * 60.0 / WORDS_A_MINUTE
    return max(SHORTEST_MS, round(1000 * (work + saying)))


def no_such_cue(name: str, first: int) -> RoundlingError:
    """Why a length cannot be given to a round at which no cue begins."""
    return RoundlingError(
        asked=f"A length was given for round {first} of “{name[:40]}”.",
        why="No caption of this film begins there.",
        nearest="Leave it out, or give it to a caption in the list.",
        field=f"len.{name[:40]}.{first}",
    )
