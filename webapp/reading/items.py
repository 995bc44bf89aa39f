"""Items of a text: lines, or lines that belong together, and what goes on in the next line."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from webapp.reading.headings import Heading
from webapp.reading.model import Span
from webapp.reading.sheet import RoundLine
from webapp.reading.vocabulary import Vocabulary
from webapp.reading.work import COUNT_ALONE, COUNT_END, begins, can_be_work, names_part, said_rounds

LONGEST = 4000
"""Characters of a round or remark over several lines."""
SET_IN = 2
"""Spaces by which a line is set in that goes on from the one above."""
_TAIL = 80
"""The end of a round is told from so many characters."""


@dataclass(frozen=True)
class Item:
    """A line, or lines that belong together: a round, a heading, copies alone, or else a remark.

    ``begins`` tells that a round has the words of a start (a magic ring, a chain), ``as_part`` that
    it names another piece to be worked alike, ``gap`` that
    an empty line stands before it, ``indent`` how far it is set in.
    """

    start: int
    end: int
    indent: int
    gap: bool
    round: RoundLine | None = None
    begins: bool = False
    as_part: bool = False
    heading: Heading | None = None
    copies: int | None = None


@dataclass(frozen=True)
class Line:
    """A line without the spaces round it: where it stands, how far it is set in, and whether it
    begins with a small letter. ``low`` is the whole text in small letters."""

    low: str
    start: int
    end: int
    indent: int
    small: bool


def goes_on(line: Line, above: Item, words: Vocabulary) -> bool:
    """Whether a line without a label belongs to the item above (no empty line between them)."""
    low, start, end = line.low, line.start, line.end
    if above.heading is not None or above.copies is not None or end - above.start > LONGEST:
        return False
    set_in = line.indent >= SET_IN and above.indent < line.indent
    if above.round is None:
        leads = words.before_round.search(low, above.start, above.end)
        return set_in or (line.small and leads is not None)
    body = above.round.body
    tail = low[max(body.start, body.end - _TAIL) : body.end]
    if not tail or set_in or COUNT_ALONE.match(low, start, end):
        return True
    counted = bool(COUNT_END.search(tail))
    remark = bool(words.remark_start.match(low, start, end))
    told = not remark or words.stitch.search(low, start, end)
    if above.round.label and not counted and told and _hangs(tail, low, body, words):
        return True
    alone = low[body.start : body.end].isdecimal()
    if not above.round.label and (alone or words.count_alone.match(low, body.start, body.end)):
        # `18 sc` below `18 sc`: each is a round.
        return False
    if above.round.label and words.part_named.match(low, start, end):
        return False
    number_alone = end - start <= 3 and low[start:end].isdecimal()
    if number_alone or words.count_alone.match(low, start, end):
        return not counted
    opened = _is_open(tail)
    if opened or tail[-1] in ",(+&[{":
        closes = opened and any(bracket in low[start:end] for bracket in ")]}")
        return not remark or closes or bool(words.stitch.search(low, start, end))
    if remark or counted or not above.round.label:
        return False
    return line.small or low[start] in "([{*=" or bool(_TIMES.match(low, start, end))


def _hangs(tail: str, low: str, body: Span, words: Vocabulary) -> bool:
    """Whether a round breaks off: behind `in next`, or before any stitch is said."""
    return words.hanging.search(tail) is not None or not can_be_work(
        low, body.start, body.end, words
    )


_TIMES = re.compile(
    r"x ?\d|\d{1,2} ?(?:x|times|mal|fois|veces|volte|vezes|keer|ganger?|gånger|ggr)(?![^\W_])"
)


def _is_open(tail: str) -> bool:
    """Whether a bracket is open at the end (a lost one further up does not count)."""
    return any(tail.rfind(a) > tail.rfind(b) for a, b in ("()", "[]", "{}"))


def joined(above: Item, start: int, end: int) -> Item:
    """An item with one more line."""
    line = above.round
    if line is not None:
        empty = line.body.start >= line.body.end
        body = Span(start if empty else line.body.start, end)
        line = replace(line, span=Span(line.span.start, end), body=body)
    return replace(above, end=end, round=line)


def finished(item: Item, low: str, words: Vocabulary) -> Item:
    """An item with what the whole of its round says; a name of a round alone is a remark."""
    line = item.round
    if line is None:
        return item
    start, end = line.body.start, line.body.end
    if start == end and line.label[-1:].isalnum():
        return replace(item, round=None)
    said = said_rounds(low, start, end, words)
    if said is not None:
        line = replace(line, said_rounds=said)
    starts = begins(low, start, end, words)
    alike = not line.label and names_part(low, start, end, words)
    return replace(item, round=line, begins=starts, as_part=alike)


FEWEST_UPWARDS = 3
"""Rounds of a table that is read from the bottom up."""


def upwards(found: list[Item]) -> list[Item]:
    """The items with tables turned round whose numbers go down, line by line, to round 1: tables
    beside charts are read from the bottom up (lesson pages on Japanese charts)."""
    turned: list[Item] = []
    run: list[Item] = []
    for item in found:
        if run and not _is_below(run[-1], item):
            turned += _upright(run)
            run = []
        if item.round is not None and item.round.first is not None:
            run.append(item)
        else:
            turned.append(item)
    return [*turned, *_upright(run)]


def _is_below(above: Item, item: Item) -> bool:
    here, before = item.round, above.round
    if here is None or before is None or here.first is None or before.first is None:
        return False
    return (here.last or here.first) == before.first - 1


def _upright(run: list[Item]) -> list[Item]:
    first = run[-1].round.first if run and run[-1].round else None
    return run[::-1] if first == 1 and len(run) >= FEWEST_UPWARDS else run
