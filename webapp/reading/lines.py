"""Lines of a text, each said to be a round, a heading, copies alone, or a remark.

A walk from the first line to the last, which knows what round is due: a bare number is a label
only in its place.
"""

from __future__ import annotations

import re
from dataclasses import replace

from webapp.reading.copies import copies_alone
from webapp.reading.headings import heading
from webapp.reading.items import Item, Line, finished, goes_on, joined, upwards
from webapp.reading.labels import Label, LabelKind, inner_labels, label_at, label_forms
from webapp.reading.model import Span
from webapp.reading.sheet import RoundLine
from webapp.reading.vocabulary import Vocabulary
from webapp.reading.work import (
    COUNT_ALONE,
    NUMBERS,
    begins,
    can_be_work,
    has_stitches,
    is_work,
    names_part,
    said_rounds,
)

LONGEST_LEAD = 60
"""Characters of the words that may stand before the label of a round on its line."""
LONGEST_HEAD = 40
"""Characters of a heading that stands on the line of its first round."""
LONGEST_BOTH = 88
"""Characters of a heading over two lines."""

FEWEST_ALONE = 3
"""Stitches of a line that says no more than them, to be a round."""

_LINE = re.compile(r"[^\n]+")
_FIGURES = re.compile(r"\d{1,4}")
_BULLET = re.compile(
    r"(?:(?:[•>☐□✓✔|]|#{1,6}(?=\s)|\*{1,2}(?=\s|\w)|__|[-+](?=\s)|\[[ x]?\](?=\s))\s*){1,3}"
)
_HEAD_END = re.compile(r"(?<=[\w)])(?::|\.(?: ?-)?(?= ?[^\W\d_a-z]))")
"""What parts a heading from what it says on its line."""
_TIME = re.compile(r"\d{1,2}:\d\d(?::\d\d)?\s{1,2}")
"""A time of a film in front of a round; ``14:12 sc`` is a round."""


def items(text: str, words: Vocabulary) -> list[Item]:
    """All items of a cleaned text, in order."""
    walk = _Walk(text, words)
    walk.all()
    found = [finished(item, walk.low, words) for item in walk.found]
    return found if words.spaced else upwards(found)


class _Walk:
    """A walk over the lines. ``due`` is the number of the next round; after a heading (``fresh``)
    it may be 1 as well; ``bare`` tells that the last label was a bare number; lines that start
    before ``done`` are taken already."""

    def __init__(self, text: str, words: Vocabulary) -> None:
        self.text = text
        self.low = text.lower()
        self.words = words
        self.found: list[Item] = []
        self.due = 1
        self.fresh = True
        self.bare = False
        self.done = 0

    def all(self) -> None:
        gap = False
        last_end = 0
        for line in _LINE.finditer(self.text):
            gap = gap or self.text.count("\n", last_end, line.start()) > 1
            last_end = line.end()
            start = self._skip(line.start(), line.end())
            end = self._trim(start, line.end())
            if start < self.done:
                continue
            if start == end:
                gap = True
                continue
            self._line(start, end, start - line.start(), gap)
            gap = False

    def _line(self, start: int, end: int, indent: int, gap: bool) -> None:
        if self._split_label(start, end, indent, gap):
            return
        bullet = _BULLET.match(self.text, start, end)
        at = bullet.end() if bullet else start
        time = _TIME.match(self.text, at, end)
        if time and not self.words.stitch_start.match(self.low, time.end(), end):
            at = time.end()
        label = self._label(at if at < end else start, end)
        above = self.found[-1] if self.found else None
        if gap and not (above and above.round and COUNT_ALONE.match(self.low, start, end)):
            above = None
        if label is not None and not self._wrapped(label, indent, above):
            self._rounds(start, end, indent, gap, label)
        elif above and self._goes_on(start, end, indent, above):
            self.found[-1] = joined(above, start, end)
        elif not (
            self._after_words(start, end, indent, gap)
            or self._copies(start, end, indent, gap)
            or self._head_and_round(start, end, indent, gap)
        ):
            self._other(start, at, end, indent, gap)

    def _goes_on(self, start: int, end: int, indent: int, above: Item) -> bool:
        line = Line(self.low, start, end, indent, self.text[start].islower())
        return goes_on(line, above, self.words)

    def _skip(self, at: int, end: int) -> int:
        while at < end and self.text[at] == " ":
            at += 1
        return at

    def _trim(self, at: int, end: int) -> int:
        while end > at and self.text[end - 1] in " \n":
            end -= 1
        return end

    # Labels

    def _split_label(self, start: int, end: int, indent: int, gap: bool) -> bool:
        """A number on a line of its own whose round stands on the next one."""
        if end - start > 3 or not self.text[start:end].isdecimal():
            return False
        at = end
        while at < len(self.text) and self.text[at] in " \n":
            at += 1
        stop = self.text.find("\n", at)
        stop = len(self.text) if stop < 0 else stop
        number = int(self.text[start:end])
        rest = label_forms(self.words.language).ordinal_rest.match(self.low, at, stop)
        if rest is None and (
            number != self.due
            or label_at(self.low, at, stop, self.words)
            or not is_work(self.low, at, stop, self.words)
        ):
            return False
        begin = self._skip(rest.end() if rest else at, stop)
        label = Label(LabelKind.WORD, start, begin, number, number, True, False)
        self._add_round(label, start, stop, indent, gap)
        self.done = stop
        return True

    def _wrapped(self, label: Label, indent: int, above: Item | None) -> bool:
        """Whether a line is set in below another and its label is not the next in order, or the
        words above lead up to it: `eyes between` / `round 12 and 13`, `(counted on` / `Rnd 4).`"""
        if above is not None and above.round is None and self._closes(label, above):
            return True
        if above is None or above.heading or above.copies:
            return False
        if (
            above.round is None
            and self.text[label.start].islower()
            and self.words.before_round.search(self.low, above.start, above.end)
        ):
            return True
        if indent < 2 or indent <= above.indent:
            return False
        comma = self.low[label.start : label.end].rstrip().endswith(",")
        return label.first != self.due or not label.ends or comma

    def _closes(self, label: Label, above: Item) -> bool:
        """Whether a bracket that is left open above is closed by what looks like a label, with no
        work behind it."""
        end = self.text.find("\n", label.start)
        end = len(self.text) if end < 0 else end
        left = self.text.count("(", above.start, above.end)
        open_above = left - self.text.count(")", above.start, above.end) == 1
        first = self.text.find(")", label.start, end)
        return (
            open_above
            and 0 <= first <= label.end
            and self.text.count("(", label.start, first) == 0
            and not is_work(self.low, first + 1, end, self.words)
        )

    def _label(self, at: int, end: int) -> Label | None:
        """The label that begins there, if it is one in this place."""
        label = label_at(self.low, at, end, self.words)
        if label is None:
            return None
        due = label.first == self.due or (self.fresh and label.first == 1)
        if label.kind is LabelKind.WORD and (label.ends or label.end >= end):
            return label
        work = can_be_work(self.low, label.end, end, self.words)
        if label.kind is LabelKind.WORD and due and self._opens(label.end, work):
            return label
        if label.kind in (LabelKind.SAID, LabelKind.WORD):
            return label if work else None
        if label.kind is LabelKind.LOST:
            lost = label.last is not None and label.last >= self.due > 1
            return replace(label, first=self.due) if lost else None
        return label if self._numbers_a_round(label, end, due, work) else None

    def _opens(self, at: int, work: bool) -> bool:
        """Whether a bracket or a number stands there that can begin a round."""
        return self.low[at] in "0123456789([{*|" and (self.words.spaced or work)

    def _numbers_a_round(self, label: Label, end: int, due: bool, work: bool) -> bool:
        """Whether a bare number labels a round: it may number anything (steps of sewing), and
        glued to the next figure it may be a length."""
        assert label.first is not None
        in_order = label.first == self.due and self.bare
        numbers = NUMBERS if self.words.spaced else self.words.count_alone
        if (in_order or self.fresh) and numbers.match(self.low, label.end, end):
            return True
        if label.end >= end or not (
            has_stitches(self.low, label.end, end, self.words) or (in_order and work)
        ):
            return False
        near = self.due - 2 <= label.first <= self.due + 3 or label.first == 1
        glued = self.low[label.end - 1] == "." and self.low[label.end].isdecimal()
        return due or (near and not glued)

    # Rounds

    def _rounds(self, start: int, end: int, indent: int, gap: bool, label: Label) -> None:
        due = (label.last or self.due) + 1
        labels = [label, *inner_labels(self.low, label.end, end, due, self.words)]
        stops = [found.start for found in labels[1:]] + [end]
        for k, (found, stop) in enumerate(zip(labels, stops, strict=True)):
            begin = start if k == 0 else found.start
            self._add_round(found, begin, stop, indent, gap and k == 0)

    def _add_round(self, label: Label, begin: int, stop: int, indent: int, gap: bool) -> None:
        stop = max(self._trim(label.end, stop), label.end)
        if stop > label.end and self.text[stop - 1] == "/":
            stop = max(self._trim(label.end, stop - 1), label.end)
        line = RoundLine(
            span=Span(begin, stop),
            label=self.text[label.start : label.end].strip(" *_\n"),
            first=label.first,
            last=label.last,
            body=Span(label.end, stop),
            says_row=label.says_row,
            said_rounds=label.rounds,
        )
        self.due = (label.last or label.first or self.due + (label.rounds or 1) - 1) + 1
        self.fresh = False
        self.bare = label.kind is LabelKind.BARE
        self.found.append(Item(begin, stop, indent, gap, round=line))

    def _after_words(self, start: int, end: int, indent: int, gap: bool) -> bool:
        """A round behind a few words of another kind: ``With A, Rnd 3: sc around``."""
        if not self.words.remark_start.match(self.low, start, end):
            return False
        labels = inner_labels(self.low, start, end, self.due, self.words)
        if not labels or labels[0].kind is not LabelKind.WORD:
            return False
        stop = self._trim(start, labels[0].start)
        if stop - start > LONGEST_LEAD or self.text[stop - 1] not in ",;:.)":
            return False
        self.found.append(Item(start, stop, indent, gap))
        self._rounds(labels[0].start, end, indent, False, labels[0])
        return True

    # Headings, copies, work without labels, remarks

    def _copies(self, start: int, end: int, indent: int, gap: bool) -> bool:
        copies = copies_alone(self.text[start:end], self.words)
        if copies is not None:
            self.found.append(Item(start, end, indent, gap, copies=copies))
        return copies is not None

    def _head_and_round(self, start: int, end: int, indent: int, gap: bool) -> bool:
        """A heading and its first round, or its start, on one line: ``Head: Rnd 1: 6 sc in magic
        ring``, ``Head. With grey make a magic ring.``"""
        ends = _HEAD_END.search(self.text, start, min(end, start + LONGEST_HEAD))
        if ends is None:
            return False
        colon = ends.start()
        at = self._skip(ends.end(), end)
        if at == end:
            return False
        self.due, due = 1, self.due
        label = self._label(at, end)
        self.due = due
        if label is None or label.first != 1:
            label = None
            starts = begins(self.low, at, end, self.words)
            repeats = self.words.repeat.match(self.low, at, end)
            if not (starts or repeats or names_part(self.low, at, end, self.words)):
                return False
        found = heading(self.text[start:colon] + ":", self.words)
        capitals = self.text[start:colon].isupper()
        if found is None or not (label or found.noun or (capitals and starts)):
            return False
        self.found.append(Item(start, colon + 1, indent, True, heading=found))
        self.fresh = True
        if label:
            self._rounds(at, end, indent, False, label)
        else:
            self._other(at, at, end, indent, False)
        return True

    def _to_closing(self, start: int, end: int) -> int:
        """The end of a line, or of the next where that closes the bracket this one leaves open:
        `Head (worked in` / `one piece)`."""
        stop = self.text.find("\n", end + 1)
        stop = len(self.text) if stop < 0 else stop
        below = self.text[end:stop]
        left = self.text.count("(", start, end) - self.text.count(")", start, end)
        if left != 1 or below.count(")") != 1 or "(" in below or stop - start > LONGEST_BOTH:
            return end
        if not below.rstrip().endswith((")", "):")) or below[:2] == "\n\n":
            return end
        self.done = stop
        return self._trim(start, stop)

    def _other(self, start: int, at: int, end: int, indent: int, gap: bool) -> None:
        named = heading(self.text[start:end], self.words)
        # `Wings (MC, make 2)` is no ring: there MC is a yarn. `Same as left arm (24)` is work.
        alike = names_part(self.low, at, end, self.words)
        copied = named is not None and named.noun and (named.copies or 0) > 1 and not alike
        work = is_work(self.low, at, end, self.words) and not self._is_aside(at, end)
        work = work or self._says_count(at, end)
        if not copied and work:
            self._unlabelled(start, at, end, indent, gap)
            return
        end = self._to_closing(start, end)
        found = heading(self.text[start:end].replace("\n", " "), self.words)
        self.fresh = self.fresh or found is not None
        self.found.append(Item(start, end, indent, gap, heading=found))

    def _is_aside(self, at: int, end: int) -> bool:
        """Whether it begins as a remark among rounds with labels: `Flatten and sc through both
        layers (6 sts)`."""
        before = next((item for item in reversed(self.found) if item.round or item.heading), None)
        return bool(
            before
            and before.round
            and before.round.label
            and self.words.spaced
            and self.words.remark_start.match(self.low, at, end)
            and not self.words.work_start.match(self.low, at, end)
            and not self.words.round_word.search(self.low, at, end)
        )

    def _says_count(self, at: int, end: int) -> bool:
        """Whether it is `18 sc` and no more, below rounds that have no labels either."""
        before = next((item for item in reversed(self.found) if item.round or item.heading), None)
        if before is None or before.round is None or before.round.label:
            return False
        if self.low[at:end].isdecimal():
            # `24` below `(2 sc, inc) x 6 (24)`.
            counts = _FIGURES.findall(self.low, before.round.body.start, before.round.body.end)
            return bool(counts) and counts[-1] == self.low[at:end]
        found = self.words.stitch_start.match(self.low, at, end)
        if found is None or found.end() < end - 1 or self.low[found.end() : end] not in ("", "."):
            return False
        figures = "".join(filter(str.isdecimal, found[0]))
        return bool(figures) and int(figures) >= FEWEST_ALONE

    def _unlabelled(self, start: int, at: int, end: int, indent: int, gap: bool) -> None:
        """A round without a label; where words stand without spaces, also with others behind it:
        ``わの作り目に細編み6目、2段目 ...``."""
        more = None
        if not self.words.spaced:
            more = next(iter(inner_labels(self.low, at, end, 2, self.words)), None)
        stop = self._trim(at, more.start) if more else end
        line = RoundLine(Span(start, stop), "", None, None, Span(at, stop))
        if self.fresh and begins(self.low, at, stop, self.words):
            self.due = 1
        self.due += said_rounds(self.low, at, stop, self.words) or 1
        self.found.append(Item(start, stop, indent, gap, round=line))
        if more:
            self._rounds(more.start, end, indent, False, more)
