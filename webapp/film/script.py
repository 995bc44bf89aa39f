"""The script: everything that is said while a toy is filmed, in order, as plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from webapp.film.cues import Cue
from webapp.film.parts import FilmPart
from webapp.film.speaking import spoken_note
from webapp.film.voice import Voice


def spoken_script(title: str, cues: Iterable[Cue], sewing: Sequence[str], voice: Voice) -> str:
    """The script of a toy; ``sewing`` are the lines of the written pattern on sewing together.

    Notes of the cues and the sewing are written in the whole words of ``voice``. Ends with a line
    break. Every part begins with what it is and ends by saying so.
    """
    blocks = [title]
    for _, own in groupby(cues, lambda cue: cue.part.name):
        blocks.append("\n".join(_part(tuple(own), voice)))
    end = [voice.say("That is {toy}, finished.", toy=title)]
    if sewing:
        lines = [spoken_note(line, voice) for line in sewing]
        end = [voice.say("Sewing together."), *lines, *end]
    blocks.append("\n".join(end))
    return "\n\n".join(blocks) + "\n"


def _part(cues: Sequence[Cue], voice: Voice) -> Iterator[str]:
    part = cues[0].part
    yield spoken_opening(part, voice)
    for cue in cues:
        yield from (spoken_note(note, voice) for note in cue.line.before)
        yield cue.said
        yield from (spoken_note(note, voice) for note in cue.line.after)
    end = voice.say("That is the end of the {part}.", part=voice.words.small(part.label))
    if part.copies > 1:
        end += voice.say(" Make {number} of them.", number=voice.number(part.copies))
    yield end


def spoken_opening(part: FilmPart, voice: Voice) -> str:
    """`The ears. Make two. In bark brown.`"""
    name = voice.words.small(part.label)
    if part.copies == 1:
        opening = voice.say("The {part}. Make one.", part=name)
    else:
        number = voice.number(part.copies)
        opening = voice.say("The {part}. Make {number}.", part=name, number=number)
    return f"{opening} {part.begin}"
