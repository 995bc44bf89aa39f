"""Rounds said aloud: numbers as words, repeats so that a listener knows where they end.

A repeat that is the whole round comes after what is repeated (`one single crochet, then an
increase, six times`); one among other stitches comes before it (`five times: four single crochet,
then an increase; after that, two single crochet`). A repeat that holds repeats is opened by how
often it is worked, or, within a round, between points that have numbers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from num2words import num2words

from webapp.film.parts import FilmLine, FilmPart
from webapp.film.steps import Leaf, Place, Repeat, Step
from webapp.pattern.wording import INTO_ONE, PLAIN, TOGETHER
from webapp.yarns import Terms, TermSet

TIMES = {1: "once", 2: "twice"}
THEN = ", then "
AFTER_THAT = "; after that, "

UNITS = {
    "mm": "millimetres",
    "cm": "centimetres",
    "m": "metres",
    "yd": "yards",
    "in": "inches",
    "g": "grams",
    "oz": "ounces",
}
UNIT = re.compile(
    rf"(?<=\d) ({'|'.join(UNITS)})\b(?! the\b| a\b| each\b)( eyes?\b| buttons?\b)?"
)
FIGURE = re.compile(r"\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+")
RANGE = re.compile(r"(?<=\d)[-–](?=\d)")
PARTS_OF_ONE = {2: "half", 4: "quarter", 8: "eighth"}


@dataclass(frozen=True)
class Voice:
    """Whose words are spoken: the names of stitches, and how numbers are said."""

    words: TermSet

    def number(self, value: int | float) -> str:
        """A number as it is said; US English leaves out the `and` of hundreds."""
        said: str = num2words(value)
        return said if self.words.terms is Terms.UK else said.replace(" and ", " ")

    def times(self, number: int) -> str:
        return TIMES.get(number) or f"{self.number(number)} times"

    def stitches(self, number: int) -> str:
        return "one stitch" if number == 1 else f"{self.number(number)} stitches"

    def name(self, kind: str) -> str:
        """The full name of a plain kind of stitch."""
        return stitch_names(self.words)[kind]


def stitch_names(words: TermSet) -> Mapping[str, str]:
    """Full names of the plain kinds, by kind."""
    long = dict((*words.abbreviations, *words.rarer))
    return {
        "sc": words.sc_name,
        "sl st": long[words.sl_st],
        "hdc": long[words.hdc],
        "dc": long[words.dc],
        "tr": long[words.tr],
        "ch": long[words.ch],
    }


def spoken_line(line: FilmLine, part: FilmPart, voice: Voice) -> str:
    """A line of rounds: `Round three: one single crochet, then an increase, six times; eighteen
    stitches.`"""
    each = ""
    if line.last > line.first:
        each = " in each row" if part.in_rows else " in each round"
    said = f"{spoken_label(line, part.in_rows, voice)}: {spoken_steps(line.steps, voice)}"
    if line.colour:
        said += f"; change to {line.colour} in the last stitch"
        said += f" of round {voice.number(line.last)}" if each else ""
    return f"{said}; {voice.stitches(line.count)}{each}."


def spoken_label(line: FilmLine, in_rows: bool, voice: Voice) -> str:
    """`Round three`, `Rounds fourteen to twenty`."""
    one = "Row" if in_rows else "Round"
    if line.first == line.last:
        return f"{one} {voice.number(line.first)}"
    return f"{one}s {voice.number(line.first)} to {voice.number(line.last)}"


def spoken_steps(steps: Sequence[Step], voice: Voice) -> str:
    """The steps of a round as they are said."""
    if len(steps) == 1 and isinstance(steps[0], Repeat):
        whole = steps[0]
        if all(isinstance(step, Leaf) for step in whole.steps):
            return f"{_run(whole.steps, voice)}, {voice.times(whole.times)}"
        return f"all of this {voice.times(whole.times)}: {_clauses(whole.steps, voice, [0])}"
    return _clauses(steps, voice, [0])


def _clauses(steps: Sequence[Step], voice: Voice, points: list[int]) -> str:
    return AFTER_THAT.join(_each_clause(steps, voice, points))


def _each_clause(steps: Sequence[Step], voice: Voice, points: list[int]) -> Iterator[str]:
    """Stretches of plain steps, and repeats; ``points`` counts those that are marked."""
    for is_repeat, stretch in groupby(steps, lambda step: isinstance(step, Repeat)):
        if not is_repeat:
            yield _run(tuple(stretch), voice)
            continue
        for step in stretch:
            assert isinstance(step, Repeat)
            if all(isinstance(inner, Leaf) for inner in step.steps):
                yield f"{voice.times(step.times)}: {_run(step.steps, voice)}"
                continue
            points[0] += 1
            point = f"point {voice.number(points[0])}"
            inside = _clauses(step.steps, voice, points)
            yield f"from {point}: {inside}; all from {point}, {voice.times(step.times)} in all"


def _run(steps: Sequence[Step], voice: Voice) -> str:
    return THEN.join(spoken_leaf(step, voice) for step in steps if isinstance(step, Leaf))


def spoken_leaf(leaf: Leaf, voice: Voice) -> str:
    """So many of one kind, and where they go."""
    number, kind = voice.number(leaf.number), leaf.kind
    if leaf.place in (Place.AROUND, Place.ACROSS, Place.CHAINS_AROUND, Place.CHAINS_ACROSS):
        return f"one {voice.name(kind)} {_each_place(leaf.place)}"
    if kind in PLAIN:
        return f"{number} {voice.name(kind)}{_where(leaf)}"
    if kind == "ch":
        return f"chain {number}" + (", turn" if leaf.place is Place.TURNED else "")
    if kind == "skip":
        return f"{voice.words.skip} {voice.stitches(leaf.number)}"
    if kind in INTO_ONE:
        how_many, one = INTO_ONE[kind]
        many = f"{voice.number(how_many)} {voice.name(one)}"
        if leaf.number == 1:
            return f"{many} in the next stitch"
        return f"{many} in each of the next {voice.stitches(leaf.number)}"
    if kind in TOGETHER:
        one, how_many = TOGETHER[kind]
        together = f"{voice.number(how_many)} {voice.name(one)} together"
        return together if leaf.number == 1 else f"{together} {voice.times(leaf.number)} running"
    word = "increase" if kind == "inc" else "decrease"
    if leaf.number == 1:
        return f"an {word}" if kind == "inc" else f"a {word}"
    return f"{number} {word}s"


def _each_place(place: Place) -> str:
    return {
        Place.AROUND: "in each stitch around",
        Place.ACROSS: "in each stitch across",
        Place.CHAINS_AROUND: "in each chain around",
        Place.CHAINS_ACROSS: "in the second chain from the hook and in each chain across",
    }[place]


def _where(leaf: Leaf) -> str:
    return {
        Place.RING: " in a magic ring",
        Place.FIRST_CHAIN: " in the first chain to form a ring",
        Place.SECOND_CHAIN: " in the second chain from the hook",
        Place.CHAINS: " along the chain, one in each" if leaf.number > 1 else " in the next chain",
        Place.LAST_CHAIN: " in the last chain",
        Place.OTHER_SIDE: " along the other side of the chain",
        Place.FIRST_LEG: " round the first leg",
        Place.SECOND_LEG: " round the second leg",
    }.get(leaf.place, "")


def spoken_note(text: str, voice: Voice) -> str:
    """A note with its short words in full and its figures as words."""
    text = re.sub(r"(?<=[\d)]) x (?=\d)", " by ", RANGE.sub(" to ", text))
    text = UNIT.sub(lambda m: f" {UNITS[m[1]].removesuffix('s' if m[2] else '')}{m[2] or ''}", text)
    for short, long in _in_full(voice.words).items():
        text = re.sub(rf"(?<![\w-]){re.escape(short)}(?![\w-])", long, text)
    return FIGURE.sub(lambda m: _figure(m[0], voice), text)


def _in_full(words: TermSet) -> dict[str, str]:
    names = stitch_names(words)
    full = {
        words.sl_st: names["sl st"],
        words.sl_st.capitalize(): names["sl st"].capitalize(),
        words.sc: words.sc_name,
        words.sts: "stitches",
        words.st: "stitch",
        words.ch: names["ch"],
        words.rnds: "rounds",
        words.rnd: "round",
        words.rnds.lower(): "rounds",
        words.rnd.lower(): "round",
        words.inc: "increase",
        words.dec: "decrease",
    }
    # What holds another short word is replaced before it.
    return dict(sorted(full.items(), key=lambda pair: -len(pair[0])))


def _figure(text: str, voice: Voice) -> str:
    whole, _, part = text.rpartition(" ")
    if "/" in part:
        above, below = map(int, part.split("/"))
        name = PARTS_OF_ONE.get(below)
        if name is None:
            said = f"{voice.number(above)} over {voice.number(below)}"
        elif above == 1:
            said = f"{'an' if name == 'eighth' else 'a'} {name}"
        else:
            said = f"{voice.number(above)} {name}s"
        return f"{voice.number(int(whole))} and {said}" if whole else said
    return voice.number(float(text) if "." in text else int(text))
