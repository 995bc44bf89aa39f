"""What the pages of filming and of stitching along show."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import orjson

from webapp.errors import RoundlingError
from webapp.film import (
    Cue,
    FilmLine,
    FilmPart,
    Repeat,
    Step,
    Voice,
    counter_words,
    film_cues,
    film_parts,
    leaf_words,
    no_such_cue,
    shown_words,
    size_words,
    spoken_script,
    stitch_words,
    stitching_seconds,
)
from webapp.materials import Caution
from webapp.pattern import sewing_lines
from webapp.recipes import SLIDERS, Recipe
from webapp.terms import Language, term_table
from webapp.way import Toy
from webapp.web.addresses import Addressed
from webapp.web.fields import HEIGHTS, PACE, SWATCH, shown
from webapp.web.figures import address_of
from webapp.web.film_values import ROUNDS, FilmValues, length_name
from webapp.web.holds import PREFIX
from webapp.web.languages import tag
from webapp.yarns import CATEGORIES, Terms, TermSet, term_set

BESIDE = ("pace", "terms", "units", "fibre", "under_three")
"""Values that change no stitch: a toy under way is the same without them."""

PLAINLY = {
    "swatch_over": "counted over 4 inches",
    "stagger": "increases not staggered",
    "under_three": "for a child under three",
    "fibre": "{value}",
    "let_go": "rule {value} let go",
}
"""Choices of an address that are said in a few words; the usual ones stand in none."""

BOXES = ("pace",)
"""Values of the design that have a box on the page of a film."""


@dataclass(frozen=True)
class FilmPage:
    """A toy's caption cards and files."""

    addressed: Addressed
    made: Toy
    values: FilmValues
    cues: tuple[Cue, ...]
    problems: Mapping[str, RoundlingError]

    @property
    def recipe(self) -> Recipe:
        return self.addressed.recipe

    @property
    def address(self) -> str:
        return self.at("film")

    def at(self, file: str) -> str:
        """The address of a file of this film."""
        return self.addressed.at(file, **self.values.texts)

    @property
    def stitches_word(self) -> str:
        """What stitches are called on a card in another language; empty in English."""
        words = term_set(self.made.worked.design.terms)
        return "" if words.terms.english else words.sts

    @property
    def other_way(self) -> str:
        """The address with a caption a line, or a round, whichever it is not; without lengths."""
        kept = {n: t for n, t in self.values.texts.items() if n in ("faster", "begin")}
        if not self.values.each_round:
            kept["captions"] = ROUNDS
        return self.addressed.at("film", **kept)

    @property
    def without_lengths(self) -> str:
        kept = {n: t for n, t in self.values.texts.items() if not n.startswith("len.")}
        return self.addressed.at("film", **kept)

    @property
    def hidden(self) -> dict[str, str]:
        """What the form keeps: all of the address that has no box."""
        kept = {n: t for n, t in self.addressed.values.items() if n != "pace"}
        return {**kept, "captions": ROUNDS} if self.values.each_round else kept

    @property
    def pace(self) -> str:
        reading = self.addressed.reading
        if "pace" in self.problems:
            return reading.texts.get("pace", "")
        return shown(reading.design.stitches_per_minute)

    @property
    def pace_span(self) -> str:
        return f"{PACE.low} to {PACE.high}"

    @property
    def length(self) -> str:
        return clock_text(self.cues[-1].end_ms) if self.cues else "0:00"

    @property
    def terms(self) -> Terms:
        return self.made.worked.design.terms

    @property
    def name(self) -> str:
        """The toy's name in the pattern's language."""
        return term_set(self.terms).name(self.recipe.name)

    @property
    def parts(self) -> list[FilmPart]:
        return list({cue.part.name: cue.part for cue in self.cues}.values())


def film_page(addressed: Addressed, made: Toy, values: FilmValues) -> FilmPage:
    """The page of a film, with a reason for each value that cannot be and is left out: a length of
    no caption is one. Raises :class:`RoundlingError` in a language that has no words for a script.
    """
    problems = {n: e for n, e in addressed.reading.problems.items() if n in BOXES}
    voice = _voice(made)
    parts = film_parts(made.worked, made.materials, voice.words, each_round=values.each_round)
    there = {(part.name, line.first) for part in parts for line in part.lines}
    missing = [length_of for length_of in values.lengths if length_of not in there]
    for name, first in missing:
        problems[length_name(name, first)] = no_such_cue(name, first)
    known = values.without(missing)
    cues = film_cues(parts, known.timing(made.worked.design.stitches_per_minute), voice)
    return FilmPage(addressed, made, known, cues, {**problems, **values.problems})


def script_of(page: FilmPage) -> str:
    """The spoken script of a film."""
    voice, made = _voice(page.made), page.made
    sewing = list(sewing_lines(made.worked, made.materials, voice.whole))
    parts = film_parts(
        made.worked, made.materials, voice.whole, each_round=page.values.each_round
    )
    cues = film_cues(parts, page.values.timing(made.worked.design.stitches_per_minute), voice)
    return spoken_script(voice.words.name(page.recipe.name), cues, sewing, voice)


def _voice(made: Toy) -> Voice:
    return Voice(term_set(made.worked.design.terms))


def clock_text(ms: int) -> str:
    """`4:05`, `1:02:03`: as a clock shows it."""
    minutes, seconds = divmod(round(ms / 1000), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{seconds:02}" if hours else f"{minutes}:{seconds:02}"


@dataclass(frozen=True)
class AlongPage:
    """A toy to be stitched along: every part round by round, then the sewing."""

    addressed: Addressed
    made: Toy
    parts: tuple[FilmPart, ...]

    @property
    def recipe(self) -> Recipe:
        return self.addressed.recipe

    @property
    def address(self) -> str:
        return self.addressed.at("along")

    @cached_property
    def key(self) -> str:
        """What ticks are kept under: the address without what changes no stitch. A toy of one's
        own is in its address as a whole, so its digest stands for it."""
        values = {n: t for n, t in self.addressed.values.items() if n not in BESIDE}
        if "recipe" in values:
            values["recipe"] = hashlib.sha256(values["recipe"].encode()).hexdigest()[:16]
        return address_of(self.recipe, values)

    @cached_property
    def words(self) -> TermSet:
        return term_set(self.made.worked.design.terms)

    @property
    def language(self) -> str:
        """The language of pattern and page."""
        return tag(self.words.terms) or "en"

    @property
    def name(self) -> str:
        return self.words.name(self.recipe.name)

    @property
    def title(self) -> str:
        return self.words.say("{toy}, stitch along", toy=self.name)

    @cached_property
    def shown(self) -> Mapping[str, str]:
        """The page's own words."""
        return shown_words(self.words)

    @property
    def counter(self) -> str:
        """The sentences of the script, as JSON."""
        return orjson.dumps(counter_words(self.words)).decode()

    def size(self, part: FilmPart) -> str:
        return size_words(part.copies, part.stitches, self.words)

    def step_label(self, number: int) -> str:
        """The label of a step of the sewing."""
        return self.words.say("Step {number}", number=number)

    @property
    def choices(self) -> str:
        """What tells this design from others of its toy, in words; how tall it is, first."""
        design = self.made.worked.design
        tall = f"{shown(design.unit.from_mm(design.sliders['height']))} {design.unit.value} tall"
        others = [
            choice_words(name, value)
            for name, value in self.addressed.values.items()
            if name not in ("recipe", "pace", "units", *HEIGHTS)
        ]
        return ", ".join((tall, *others))

    @property
    def seconds_per_stitch(self) -> float:
        return stitching_seconds(1, self.made.worked.design.stitches_per_minute)

    @property
    def sewing_minutes(self) -> float:
        """What is left of the hours when every stitch is made."""
        hours = self.made.materials.hours.value
        stitching = self.made.materials.stitches * self.seconds_per_stitch
        return hours * 60.0 - stitching / 60.0

    @cached_property
    def sewing(self) -> Sequence[str]:
        return list(sewing_lines(self.made.worked, self.made.materials, self.words))

    @property
    def cautions(self) -> Sequence[Caution]:
        return self.made.cautions

    def steps(self, line: FilmLine) -> str:
        """The tree of a line's rounds for the counter, as JSON."""
        return orjson.dumps([_step_data(step, self.words) for step in line.steps]).decode()

    @cached_property
    def digest(self) -> str:
        """A mark of the rounds: another pattern under the same address has another."""
        rounds = [(p.name, p.copies, [(x.last, x.count) for x in p.lines]) for p in self.parts]
        return hashlib.sha256(orjson.dumps(rounds)).hexdigest()[:12]


def along_page(addressed: Addressed, made: Toy) -> AlongPage:
    words = term_set(made.worked.design.terms)
    parts = film_parts(made.worked, made.materials, words, each_round=True)
    return AlongPage(addressed, made, parts)


def choice_words(name: str, value: str) -> str:
    """A value of an address as a maker says it: `bulky yarn`, `German terms`."""
    if name == "yarn" and value.isdecimal():
        return f"{CATEGORIES[int(value)].name.lower()} yarn"
    if name == "terms":
        return term_table(Language(value)).name
    if name.startswith(PREFIX):
        measure, _, unit = name.removeprefix(PREFIX).rpartition("_")
        return f"{re.sub('[._]', ' ', measure)} held at {value} {unit}"
    if name == "pin":
        labels = (SLIDERS[one].label.lower() for one in value.split(",") if one in SLIDERS)
        return f"{' and '.join(labels)} pinned"
    if name in SWATCH:
        return f"swatch of {value} {name.removeprefix('swatch_')}"
    if name in PLAINLY:
        return PLAINLY[name].format(value=value)
    label = SLIDERS[name].label if name in SLIDERS else name.replace("_", " ")
    return f"{label.lower()} {value}"


def _step_data(step: Step, words: TermSet) -> Mapping[str, Any]:
    """A leaf: its words and those of one stitch, how many, and what each makes; a repeat: how
    often, words, and steps."""
    if isinstance(step, Repeat):
        inner = [_step_data(one, words) for one in step.steps]
        return {"times": step.times, "words": _row_words(step, words), "steps": inner}
    return {
        "words": leaf_words(step, words),
        "one": stitch_words(step, words),
        "n": step.number,
        "makes": step.made_each,
    }


def _row_words(repeat: Repeat, words: TermSet) -> str:
    """What is repeated, as the pattern writes it: `(sc, inc) x 3, 4 sc`."""
    manner = words.manner
    bracket = manner.bracket_among if len(repeat.steps) > 1 else manner.bracket
    return manner.comma.join(
        bracket.format(row=_row_words(step, words), times=step.times)
        if isinstance(step, Repeat)
        else leaf_words(step, words)
        for step in repeat.steps
    )
