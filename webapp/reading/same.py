"""Rounds that are said by naming others: `work as the head to round 4`, `rounds 1-6 of the shell`,
and `continue in this way until you have 36 sts`."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import TYPE_CHECKING

from webapp.reading.bodies import Body
from webapp.reading.meanings import plain
from webapp.reading.model import Span
from webapp.reading.nodes import Act, Group, Node, Option
from webapp.reading.vocabulary import Vocabulary

if TYPE_CHECKING:
    from webapp.reading.entries import WorkLine

MOST_WORDS = 4
"""Words of the name of a part that is referred to."""
MOST_GROWN = 60
"""Rounds that `continue until` may stand for: no disc of a toy has more."""

_FIGURE = re.compile(r"\d")
_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True)
class Named:
    """A part that a text names: where it does so, up to which round (None: all), and where what
    is said behind it begins."""

    part: Told
    at: int
    last: int | None
    end: int


@dataclass
class Told:
    """A part as its lines told it: its name, its rounds in order, and by their labels."""

    title: str
    rounds: list[WorkLine] = field(default_factory=list)
    by_label: dict[int, WorkLine] = field(default_factory=dict)


def part_meant(low: str, told: Sequence[Told], words: Vocabulary) -> Named | None:
    """The part a text says to work alike, if it names one that was told."""
    for found in words.names_part.finditer(low):
        near = list(islice(_WORD.finditer(low, found.end()), MOST_WORDS))
        said = [_plain(m[0], words) for m in near]
        for number in range(min(MOST_WORDS, len(said)), 0, -1):
            meant = _of_name({*said[:number]} - {*words.the}, told, words)
            if meant is None:
                continue
            end = near[number - 1].end()
            otherwise = words.otherwise.search(low, end)
            stop = otherwise.start() if otherwise else len(low)
            last = words.up_to_round.search(low, end, stop)
            if last is None or _FIGURE.search(low, end, last.start()):
                return Named(meant, found.start(), None, end)
            return Named(meant, found.start(), int(last[1] or last[2]), last.end())
    return None


def _of_name(name: set[str], told: Sequence[Told], words: Vocabulary) -> Told | None:
    for part in reversed(told if name else ()):
        said = _WORD.findall(part.title.lower())
        title = {_plain(word, words) for word in said if word not in words.the}
        if name == title or (name < title and bool(words.part_noun.search(" ".join(name)))):
            return part
    return None


def _plain(word: str, words: Vocabulary) -> str:
    """A word without its plural, an ordinal as its number: `first leg` is `leg 1`."""
    number = words.ordinals.get(word)
    if number is not None:
        return str(number)
    return word[:-1] if len(word) > 3 and word.endswith("s") else word


def labels_meant(low: str, words: Vocabulary) -> tuple[int, int] | None:
    """The rounds of another part that are named: `repeat rounds 1-6 of the shell`."""
    found = words.rounds_of.search(low)
    if found is None:
        return None
    return int(found[1]), int(found[2] or found[1])


def grown(text: str, before: int, step: int, words: Vocabulary) -> list[tuple[Body, int]]:
    """The rounds of `continue in this way until 36 sts`, each with its count; none where they do
    not come out even. ``step`` is by how much the round before grew."""
    found = words.keep_on.match(text)
    target = int(found[1]) if found else 0
    if not step or (target - before) * step <= 0 or (target - before) % step:
        return []
    rounds: list[tuple[Body, int]] = []
    count = before
    while count != target and len(rounds) < MOST_GROWN:
        body = _evenly(count, step)
        if body is None:
            return []
        count += step
        rounds.append((body, count))
    return rounds if count == target else []


def _evenly(count: int, step: int) -> Body | None:
    """A round of ``count`` stitches with ``step`` increases or decreases at equal distances."""
    kind, uses = ("inc", 1) if step > 0 else ("dec", 2)
    times = abs(step)
    between = count // times - uses
    if count % times or between < 0:
        return None
    span = Span(0, 0)
    change = Act((Option(((kind, 1),), ""),), span)
    items: tuple[Node, ...] = (plain("sc", between, span), change) if between else (change,)
    return Body((Group(items, (times,), span),))


def of_labels(part: Told, first: int, last: int) -> list[WorkLine] | None:
    """The rounds of a part with these labels; None where one is not known."""
    known: Mapping[int, WorkLine] = part.by_label
    if not known:
        known = dict(enumerate(part.rounds, 1))
    labels = range(first, min(last, first + 200) + 1)
    return [known[k] for k in labels] if labels and all(k in known for k in labels) else None
