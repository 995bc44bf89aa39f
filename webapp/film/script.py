"""The script: everything that is said while a toy is filmed, in order, as plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from webapp.film.cues import Cue
from webapp.film.parts import FilmPart
from webapp.film.speaking import Voice, spoken_note


def spoken_script(title: str, cues: Iterable[Cue], sewing: Sequence[str], voice: Voice) -> str:
    """The script of a toy; ``sewing`` are the lines of the written pattern on sewing together.

    Ends with a line break. Every part begins with what it is and ends by saying so.
    """
    blocks = [title]
    for _, own in groupby(cues, lambda cue: cue.part.name):
        blocks.append("\n".join(_part(tuple(own), voice)))
    end = [f"That is {title}, finished."]
    if sewing:
        end = ["Sewing together.", *(spoken_note(line, voice) for line in sewing), *end]
    blocks.append("\n".join(end))
    return "\n\n".join(blocks) + "\n"


def _part(cues: Sequence[Cue], voice: Voice) -> Iterator[str]:
    part = cues[0].part
    yield spoken_opening(part, voice)
    for cue in cues:
        yield from (spoken_note(note, voice) for note in cue.line.before)
        yield cue.said
        yield from (spoken_note(note, voice) for note in cue.line.after)
    again = f" Make {voice.number(part.copies)} of them." if part.copies > 1 else ""
    yield f"That is the end of the {part.label.lower()}.{again}"


def spoken_opening(part: FilmPart, voice: Voice) -> str:
    """`The ears. Make two, in bark brown.`"""
    colour = f"Start with {part.colour}." if part.several_colours else f"In {part.colour}."
    return f"The {part.label.lower()}. Make {voice.number(part.copies)}. {colour}"
