"""The lines of a part with their bodies read: how many rounds each covers, what is written.

`Repeat rnd 4` becomes the rounds it means, words before the first round that are one become it, and
lines without label that say no stitches are remarks.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from webapp.reading.bodies import Body, read_body
from webapp.reading.changed import (
    Anew,
    changes_in,
    ends_with_copies,
    is_changed,
    leaves_off,
    worked_anew,
)
from webapp.reading.entries import WorkLine, alone, counts_of, not_worked_out, stated_in
from webapp.reading.meanings import ALL_ROUND_A_LEG, plain
from webapp.reading.model import ReadPart, Span
from webapp.reading.nodes import Act
from webapp.reading.same import (
    MOST_GROWN,
    Named,
    Told,
    grown,
    labels_meant,
    of_labels,
    part_meant,
)
from webapp.reading.sheet import RemarkLine, RoundLine, Sheet, SheetPart
from webapp.reading.signs import Key
from webapp.reading.vocabulary import Vocabulary, vocabulary
from webapp.reading.work import keeps_on, names_part

MOST_ROUNDS = 5000
"""Rounds of a whole text: no toy has more, and a slip of the pen in a range may say a million."""


@dataclass
class LineReader:
    """Reads the lines of one part. ``more`` are copies that its lines add: `repeat rnds 1-8`."""

    sheet: Sheet
    part: SheetPart
    earlier: list[ReadPart]
    key: Key
    more: int = 0
    by_label: dict[int, WorkLine] = field(default_factory=dict)
    last: WorkLine | None = None
    told: list[Told] = field(default_factory=list)
    taken: set[Span] = field(default_factory=set)
    done: int = 0

    def __post_init__(self) -> None:
        self._work = [line for line in self.part.lines if isinstance(line, RoundLine)]
        self._numbered = [line for line in self._work if line.first]

    def lines(self) -> Iterator[WorkLine | RemarkLine]:
        """All lines in order; what they told is kept for the parts that name this one."""
        here = Told(self.part.title)
        before: list[WorkLine] = []
        number, last = 0, None
        for line in self._lines(before):
            if isinstance(line, WorkLine):
                before.append(line)
                self.done += line.number
                if line.line.first is not None and line.line is not last:
                    number = line.line.first - 1
                last = line.line
                for stated in line.stated:
                    number += 1
                    entry = replace(line, number=1, stated=(stated,), copied=True)
                    here.rounds.append(entry)
                    here.by_label[number] = entry
            yield line
        self.told.append(here)

    def _lines(self, before: list[WorkLine]) -> Iterator[WorkLine | RemarkLine]:
        clean = self.sheet.clean.text
        begun_yet = False
        for line in self.part.lines:
            if line.span in self.taken:
                continue
            if isinstance(line, RemarkLine):
                if begun_yet or not self._starts(line):
                    yield line
                    continue
                line = RoundLine(line.span, "", None, None, line.span)
            begun_yet = True
            text = clean[line.body.start : line.body.end].lower()
            body = read_body(text, self.sheet.language, self.key)
            others = self._said_otherwise(line, text, body, before)
            if others:
                yield from others
                self.last = others[-1]
                continue
            again = body.mark("again")
            if again is not None and body.mark("again to") is not None:
                if self._is_other_piece(again.number):
                    self.more += 1
                    yield RemarkLine(line.span)
                    continue
                repeated = self._repeated(line, body)
                if repeated:
                    yield from repeated
                    continue
            elif again is not None:
                body = self._again(again.number, body)
            elif not body.nodes and (alike := self.words.as_round.match(text)):
                said = alike["a"] or alike["b"]
                number = int(said) if said.isdecimal() else self.words.numbers[said]
                body = self._again(number, body)
            body = self._with_legs(body)
            if body.mark("counted") and self.last is None and not body.nodes:
                body = replace(body, nodes=(plain("sc", *body.counts[0]),))
            if not line.label and _says_nothing(body):
                yield RemarkLine(line.span)
                continue
            number = 1
            if line.first is not None and line.last is not None and line.last > line.first:
                number = line.last - line.first + 1
            times = body.mark("rounds")
            said = times.number if times else body.said_rounds or line.said_rounds
            if number == 1 and said and line.last is None:
                number = said
            number = min(number, MOST_ROUNDS + 1)
            entry = WorkLine(line, text, body, number, stated_in(body, number))
            if line.first is not None:
                for label in range(line.first, min(line.first + number, line.first + 200)):
                    self.by_label[label] = entry
            self.last = entry
            yield entry

    def _said_otherwise(
        self, line: RoundLine, text: str, body: Body, before: list[WorkLine]
    ) -> list[WorkLine]:
        """The rounds of a line that names those of another part, or goes on until so many."""
        whole = (text, 0, len(text), self.words)
        alike = not line.label and (names_part(*whole) or self._names_told(text))
        if body.nodes and not (alike or keeps_on(*whole)):
            return []
        rounds = self._as_part(line, text, body) or self._grown(line, text, before)
        for at, entry in enumerate(rounds):
            if line.first is not None:
                self.by_label[line.first + at] = entry
        return rounds

    def _names_told(self, text: str) -> bool:
        """Whether it begins by naming a part that was told, whatever that is called."""
        begins = self.words.as_part.match(text)
        named = part_meant(text, self.told, self.words) if begins else None
        return bool(begins and named and named.at < begins.end())

    def _as_part(self, line: RoundLine, text: str, body: Body) -> list[WorkLine]:
        named = part_meant(text, self.told, self.words)
        if named is None:
            return []
        part, last = named.part, named.last
        if is_changed(text[named.end :], self.words):
            return self._as_changed(line, text, named)
        labels = labels_meant(text[: named.at], self.words)
        if labels is not None:
            meant = of_labels(part, *labels)
        elif line.first is not None and line.last is not None:
            meant = of_labels(part, line.first, last or line.last)
        elif last is not None:
            meant = of_labels(part, 1, last)
        else:
            meant = part.rounds
        covers = (line.last or 0) - (line.first or 0) + 1 if line.first else None
        if not meant or (covers is not None and len(meant) != covers):
            return []
        if not line.label and self._number_below(line) <= self.done + len(meant):
            why = f"it is worked as {part.title}, and some of its rounds are told anew below it"
            return [not_worked_out(line, why)]
        rounds = [
            replace(entry, line=line, body=alone(entry.body), copied=True) for entry in meant
        ]
        if body.counts and not ends_with_copies(text, self.words):
            rounds[-1] = replace(rounds[-1], stated=(body.counts[-1][0],))
        return rounds

    def _as_changed(self, line: RoundLine, text: str, named: Named) -> list[WorkLine]:
        """The rounds of another part with a change, where that is clear; else one round that is
        said not to be worked out."""
        part, title = named.part, named.part.title
        base = of_labels(part, 1, named.last or len(part.rounds))
        alone_here = not line.label and labels_meant(text[: named.at], self.words) is None
        if base and alone_here and (named.last or len(part.by_label)) == len(base):
            below = leaves_off(text[named.end :], self.words)
            changes = (
                self._told_below(line)
                if below
                else changes_in(line, text, named.end, self.words, self.key)
            )
            more = sum(change.work.number for change in changes) + len(base)
            if changes and not below and self._number_below(line) <= more:
                # Some changes stand on the line, others below it.
                told = self._told_below(line)
                below, changes = True, [*changes, *told] if told else []
            rounds = worked_anew(line, title, base, changes)
            if rounds:
                spans = {change.work.line.span for change in changes if below}
                self.taken |= spans - {line.span}
                return rounds
        why = f"it is worked as {title}, with a change that is not worked out"
        return [not_worked_out(line, why)]

    def _number_below(self, line: RoundLine) -> int:
        """The number of the next round behind a line that has one."""
        at = bisect_right(self._numbered, line.span.start, key=lambda other: other.span.start)
        return self._numbered[at].first or 0 if at < len(self._numbered) else MOST_ROUNDS + 1

    def _told_below(self, line: RoundLine) -> list[Anew]:
        """The rounds behind a line, where all of them say which they are."""
        below: list[Anew] = []
        behind = bisect_right(self._work, line.span.start, key=lambda other: other.span.start)
        for other in self._work[behind:]:
            if other.first is None or other.last is None:
                return []
            text = self.sheet.clean.text[other.body.start : other.body.end].lower()
            body = read_body(text, self.sheet.language, self.key)
            number = other.last - other.first + 1
            if not body.nodes or not 0 < number <= MOST_ROUNDS:
                return []
            work = WorkLine(other, text, body, number, stated_in(body, number))
            below.append(Anew(other.first, other.last, work))
        return below

    def _grown(self, line: RoundLine, text: str, before: list[WorkLine]) -> list[WorkLine]:
        if not keeps_on(text, 0, len(text), self.words):
            return []
        counts = counts_of(before)
        if len(counts) < 2 or counts[-1] is None or counts[-2] is None:
            return _not_known(line, text)
        rounds = grown(text, counts[-1], counts[-1] - counts[-2], self.words)
        covers = (line.last or line.first) - line.first + 1 if line.first else len(rounds)
        if not rounds or len(rounds) != covers:
            return _not_known(line, text)
        return [WorkLine(line, text, body, 1, (count,), True) for body, count in rounds]

    def _again(self, label: int, body: Body) -> Body:
        """The body that `repeat rnd 4` or `rep last round` means, with this line's own count."""
        meant = self.by_label.get(label) if label else self.last
        if meant is None:
            return body
        return replace(body, nodes=meant.body.nodes, trouble=meant.body.trouble)

    def _with_legs(self, body: Body) -> Body:
        """`sc around the first leg` takes as many as the leg before ended with."""
        if not any(isinstance(n, Act) and n.flag == ALL_ROUND_A_LEG for n in body.nodes):
            return body
        legs = [part.rounds[-1].count for part in self.earlier if part.rounds]
        count = legs[-1] if legs else None
        if not count:
            return replace(body, nodes=(), trouble="how many stitches the leg has is not known")
        return replace(
            body,
            nodes=tuple(
                plain("sc", count, n.span)
                if isinstance(n, Act) and n.flag == ALL_ROUND_A_LEG
                else n
                for n in body.nodes
            ),
        )

    @property
    def words(self) -> Vocabulary:
        return vocabulary(self.sheet.language)

    def _is_other_piece(self, label: int) -> bool:
        """Whether rounds repeated from this one on begin a piece anew: `repeat rnds 1-8`."""
        meant = self.by_label.get(label)
        if meant is None:
            return False
        return any(meant.body.mark(what) for what in ("into ring", "ring", "into chain"))

    def _repeated(self, line: RoundLine, body: Body) -> list[WorkLine]:
        """The rounds that `repeat rounds 3 and 4 five times` means; none if one is not known."""
        first, last, times = (
            mark.number if (mark := body.mark(what)) else 0
            for what in ("again", "again to", "again times")
        )
        labels = range(first, min(last, first + 200) + 1)
        if not labels or not all(label in self.by_label for label in labels):
            return []
        number = len(labels) * min(times, MOST_ROUNDS)
        found = []
        for label, stated in zip(list(labels) * number, stated_in(body, number), strict=False):
            meant = self.by_label[label]
            found.append(WorkLine(line, meant.text, alone(meant.body), 1, (stated,), True))
        for at, label in enumerate(range(line.first or 0, (line.last or 0) + 1)):
            if line.first is not None and at < len(found):
                self.by_label[label] = replace(found[at], line=replace(line, first=label))
        self.last = found[-1]
        return found

    def _starts(self, line: RemarkLine) -> bool:
        """Whether words before the first round are that round: `Start with 6 sc in a ring.`"""
        text = self.sheet.clean.text[line.span.start : line.span.end].lower()
        body = read_body(text, self.sheet.language)
        return bool(body.nodes) and not body.trouble and body.mark("into ring") is not None


def _not_known(line: RoundLine, text: str) -> list[WorkLine]:
    """A line that goes on until so many stitches, where how it grows cannot be told."""
    number = (line.last or line.first) - line.first + 1 if line.first else 1
    body = Body((), trouble="by how much each round grows is not known")
    return [WorkLine(line, text, body, 1, (None,), True)] * min(number, MOST_GROWN)


def _says_nothing(body: Body) -> bool:
    """Whether no stitches, no count and no start were found, and nothing is wrong with it."""
    return not (body.nodes or body.counts or body.trouble or only_starts(body)) and (
        body.mark("again") is None
    )


def only_starts(body: Body) -> bool:
    """A line that makes a ring or a chain and no stitches."""
    whats = {mark.what for mark in body.marks}
    return not body.nodes and not body.counts and bool(whats & {"ring", "chain"})


def says_again(body: Body) -> bool:
    """A line that repeats rounds of another part, and has no stitches of its own."""
    return not body.nodes and not body.counts and body.mark("again") is not None
