"""Filming and working along: a toy's rounds as cues with times, captions, a spoken script.

Imports :mod:`webapp.pattern`, ``materials`` and what lies below; writes plain text.
Start reading at :mod:`webapp.film.parts` (every part with what is worked in each line); the tree
of a round is in ``steps``, how it is said in ``speaking`` (by a ``voice``, with its ``numbers``),
times in ``cues``, files in ``captions`` and ``script``; what the counter says in ``along``.
"""

from webapp.film.along import counter_words, shown_words, size_words
from webapp.film.captions import subrip, webvtt
from webapp.film.cues import Cue, Timing, film_cues, no_such_cue, stitching_seconds
from webapp.film.parts import FilmLine, FilmPart, film_parts
from webapp.film.script import spoken_script
from webapp.film.steps import Leaf, Repeat, Step, leaf_words, made_by, stitch_words
from webapp.film.voice import Voice

__all__ = [
    "Cue",
    "FilmLine",
    "FilmPart",
    "Leaf",
    "Repeat",
    "Step",
    "Timing",
    "Voice",
    "counter_words",
    "film_cues",
    "film_parts",
    "leaf_words",
    "made_by",
    "no_such_cue",
    "shown_words",
    "size_words",
    "spoken_script",
    "stitch_words",
    "stitching_seconds",
    "subrip",
    "webvtt",
]
