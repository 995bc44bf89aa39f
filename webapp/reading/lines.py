"""Lines of a text, each said to be a round, a heading, copies alone, or a remark.

Rounds are joined with what belongs to them: lines that go on, counts on a line of their own.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from webapp.reading.copies import copies_alone
from webapp.reading.headings import Heading, heading
from webapp.reading.labels import Label, LabelKind, inner_labels, label_at, label_forms
from webapp.reading.model import Span
from webapp.reading.sheet import RoundLine
from webapp.reading.vocabulary import Vocabulary


@dataclass(frozen=True)
class Item:
    """A line, or lines that belong together: a round, a heading, copies alone, or else a remark.

    ``begins`` tells that a round has the words of a start (a magic ring, a chain), ``gap`` that
    an empty line stands before it, ``indent`` how far it is set in.
    """

    start: int
    end: int
    indent: int
    gap: bool
    round: RoundLine | None = None
    begins: bool = False
    heading: Heading | None = None
    copies: int | None = None


LONGEST_ITEM = 4000
"""Characters of a round or remark over several lines."""

_NUMBERS = re.compile(r"\d{1,3}\s?(?:$|[(\[={,]|in(?![^\W_]))")
_LINE = re.compile(r"[^\n]+")
_BULLET = re.compile(r"(?:[•>☐□✓✔|]|\*{1,2}(?=\s|\w)|__|[-+](?=\s)|\[ ?\](?=\s))\s*")
_COUNT = re.compile(
    r"[=(\[{<>\s-]{0,6}\d{1,3}\s?[^\W\d_]{0,12}\.?\s?[)\]}.>]{1,3}$|=\s?\d{1,3}\s?[^\W\d_]{0,12}\.?$"
)
_COUNT_END = re.compile(
    r"(?:[(\[{]\s{0,2}=?\s?\d{1,3}[^()\[\]{}\n]{0,16}[)\]}]|(?:=|->|\s-{1,2})\s?\(?\d{1,3}\s?[^\W\d_]{0,9}\)?)[.,;*]{0,2}$"
)


def items(text: str, words: Vocabulary) -> list[Item]:
    """All items of a cleaned text, in order."""
    return _Lines(text, words).all()


class _Lines:
    """A walk over the lines, knowing which round is due."""

    def __init__(self, text: str, words: Vocabulary) -> None:
        self.text = text
        self.low = text.lower()
        self.words = words
        self.found: list[Item] = []
        self.due = 1
        self.fresh = True
        self.bare = False
        self.done = 0

    def all(self) -> list[Item]:
        gap = False
        last_end = 0
        for line in _LINE.finditer(self.text):
            gap = gap or self.text.count("\n", last_end, line.start()) > 1
            last_end = line.end()
            start, end = line.span()
            if start < self.done:
                continue
            while start < end and self.text[start] in " ":
                start += 1
            while end > start and self.text[end - 1] in " ":
                end -= 1
            if start == end:
                gap = True
                continue
            self._line(start, end, start - line.start(), gap)
            gap = False
        return self.found

    def _line(self, start: int, end: int, indent: int, gap: bool) -> None:
        if self._split_label(start, end, indent, gap):
            return
        bullet = _BULLET.match(self.text, start, end)
        at = bullet.end() if bullet else start
        label = self._label(at if at < end else start, end)
        if label is not None and not self._wrapped(label, indent, gap):
            self._rounds(start, end, indent, gap, label)
        elif self._goes_on(start, end, indent, gap):
            self._join(start, end)
        elif not self._said(start, end, indent, gap):
            self._other(start, at, end, indent, gap)

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
            or not self._unlabelled(at, stop)
        ):
            return False
        begin = rest.end() if rest else at
        while begin < stop and self.text[begin] == " ":
            begin += 1
        label = Label(LabelKind.WORD, start, begin, number, number, True, False)
        self._add_round(label, start, stop, indent, gap)
        self.done = stop
        return True

    def _wrapped(self, label: Label, indent: int, gap: bool) -> bool:
        """Whether a line is set in below another and its label is not the next in order."""
        above = self.found[-1] if self.found and not gap else None
        if above is None or above.heading or above.copies or indent < 2 or indent <= above.indent:
            return False
        return label.first != self.due

    def _label(self, at: int, end: int) -> Label | None:
        label = label_at(self.low, at, end, self.words)
        if label is None:
            return None
        if label.kind is LabelKind.SAID:
            return label if self._is_work(label.end, end) else None
        if label.kind is LabelKind.WORD:
            due = label.first == self.due or (self.fresh and label.first == 1)
            if due or label.ends or label.end >= end or self._is_work(label.end, end):
                return label
            return None
        if label.kind is LabelKind.LOST:
            lost = label.last is not None and label.last >= self.due > 1
            return replace(label, first=self.due) if lost else None
        assert label.first is not None
        if self._counts_alone(label, end):
            return label
        if label.end >= end or not self._is_stitches(label, end):
            return None
        near = self.due - 2 <= label.first <= self.due + 3 or label.first == 1
        due = label.first == self.due or (self.fresh and label.first == 1)
        glued = self.low[label.end - 1] == "." and self.low[label.end : label.end + 1].isdigit()
        if due or (near and not glued):
            return label
        return None

    def _counts_alone(self, label: Label, end: int) -> bool:
        """Whether a bare number that is due stands before a number of stitches alone (``14. 24``),
        as it may where rounds before it have bare numbers too."""
        due = label.first == self.due and self.bare
        return bool(due or self.fresh) and bool(_NUMBERS.match(self.low, label.end, end))

    def _rounds(self, start: int, end: int, indent: int, gap: bool, label: Label) -> None:
        due = (label.last or self.due) + 1
        labels = [label, *inner_labels(self.low, label.end, end, due, self.words)]
        stops = [found.start for found in labels[1:]] + [end]
        for k, (found, stop) in enumerate(zip(labels, stops, strict=True)):
            begin = start if k == 0 else found.start
            self._add_round(found, begin, stop, indent, gap and k == 0)

    def _add_round(self, label: Label, begin: int, stop: int, indent: int, gap: bool) -> None:
        stop = self._trim(label.end, stop)
        body = Span(label.end, max(stop, label.end))
        line = RoundLine(
            span=Span(begin, max(stop, label.end)),
            label=self.text[label.start : label.end].strip(" *_\n"),
            first=label.first,
            last=label.last,
            body=body,
            says_row=label.says_row,
            said_rounds=self._said_rounds(body),
        )
        self.due = (label.last or label.first or self.due) + 1
        self.fresh = False
        self.bare = label.kind is LabelKind.BARE
        self._put(line, indent, gap)

    def _put(self, line: RoundLine, indent: int, gap: bool) -> None:
        self.found.append(
            Item(
                line.span.start,
                line.span.end,
                indent,
                gap,
                round=line,
                begins=self._begins(line.body.start, line.body.end),
            )
        )

    def _trim(self, at: int, end: int) -> int:
        while end > at and self.text[end - 1] in " \n":
            end -= 1
        return end

    def _said_rounds(self, body: Span) -> int | None:
        match = self.words.said_rounds.search(self.low, body.start, body.end)
        if not match:
            return None
        number = match[1]
        value = int(number) if number.isdigit() else self.words.numbers.get(number, 0)
        return value if value >= 2 else None

    def _begins(self, start: int, end: int) -> bool:
        if self.words.ring.search(self.low, start, end):
            return True
        chain = self.words.chain.search(self.low, start, min(end, start + 30))
        return bool(chain and int("".join(filter(str.isdigit, chain[0]))) >= 2)

    def _is_work(self, start: int, end: int) -> bool:
        """Whether something stands there that can be the words of a round."""
        low = self.low
        if self.words.stitch.search(low, start, end):
            return True
        return bool(
            self.words.ring.search(low, start, end)
            or self.words.repeat.match(low, start, end)
            or _COUNT_END.search(low, start, end)
            or self.words.around.search(low, start, end)
        )

    def _is_stitches(self, label: Label, end: int) -> bool:
        """The same for a bare number, which may number anything (a recipe, steps of sewing)."""
        low, at = self.low, label.end
        if self.words.stitch.search(low, at, end) or self.words.ring.search(low, at, end):
            return True
        if label.first != self.due or not self.bare:
            return False
        return self._is_work(at, end)

    # What goes on

    def _goes_on(self, start: int, end: int, indent: int, gap: bool) -> bool:
        """Whether a line without a label belongs to the item above."""
        if not self.found or gap or end - self.found[-1].start > LONGEST_ITEM:
            return False
        above = self.found[-1]
        if above.heading is not None or above.copies is not None:
            return False
        if above.round is None:
            return indent >= 2 and above.indent < indent
        if _COUNT.match(self.low, start, end):
            return True
        alone = end - start <= 3 and self.text[start:end].isdecimal()
        body = self.text[above.round.body.start : above.round.body.end]
        if not body:
            return True
        if indent >= 2 and above.indent < indent:
            return True
        if alone:
            return not _COUNT_END.search(body)
        remark = self.words.remark_start.match(self.low, start, end)
        if body[-1] in ",(+&[{" or self._open(body):
            closes = self._open(body) and any(c in self.text[start:end] for c in ")]}")
            return not remark or closes or bool(self.words.stitch.search(self.low, start, end))
        if remark:
            return False
        first = self.text[start]
        lower = (
            first.islower()
            or first in "([{*="
            or bool(re.match(r"x ?\d", self.low[start : start + 4]))
        )
        return bool(above.round.label) and lower and not _COUNT_END.search(body)

    def _open(self, body: str) -> bool:
        """Whether a bracket is open at the end (a lost one further up does not count)."""
        tail = body[-60:]
        return any(tail.rfind(a) > tail.rfind(b) for a, b in ("()", "[]", "{}"))

    def _join(self, start: int, end: int) -> None:
        above = self.found.pop()
        line = above.round
        if line is not None:
            span = Span(line.span.start, end)
            empty = line.body.start >= line.body.end
            body = Span(start if empty else line.body.start, end)
            line = replace(line, span=span, body=body, said_rounds=self._said_rounds(body))
            above = replace(above, begins=self._begins(body.start, body.end))
        self.found.append(replace(above, end=end, round=line))

    # Headings, copies, work without labels

    def _said(self, start: int, end: int, indent: int, gap: bool) -> bool:
        text = self.text[start:end]
        if self._after_words(start, end, indent, gap):
            return True
        copies = copies_alone(text, self.words)
        if copies is not None:
            self.found.append(Item(start, end, indent, gap, copies=copies))
            return True
        head, colon, rest = text.partition(":")
        if colon and rest.strip() and len(head) <= 40:
            at = start + len(head) + 1
            while at < end and self.text[at] == " ":
                at += 1
            due, self.due = self.due, 1
            label = self._label(at, end)
            self.due = due
            work = self._begins(at, end) or self.words.repeat.match(self.low, at, end)
            found = None
            if (label and label.first == 1) or (work and self._unlabelled(at, end)):
                found = heading(head + ":", self.words)
            if found and (label or found.noun):
                self.found.append(Item(start, start + len(head) + 1, indent, True, heading=found))
                self.fresh = True
                if label:
                    self._rounds(at, end, indent, False, label)
                else:
                    self._other(at, at, end, indent, False)
                return True
        found = None if self._unlabelled(start, end) else heading(text, self.words)
        if found is not None:
            self.fresh = True
            self.found.append(Item(start, end, indent, gap, heading=found))
        return found is not None

    def _after_words(self, start: int, end: int, indent: int, gap: bool) -> bool:
        """A round behind a few words of another kind: ``With A, Rnd 3: sc around``."""
        if not self.words.remark_start.match(self.low, start, end):
            return False
        labels = inner_labels(self.low, start, end, self.due, self.words)
        if not labels or labels[0].kind is not LabelKind.WORD or labels[0].start - start > 60:
            return False
        stop = self._trim(start, labels[0].start)
        if self.text[stop - 1] not in ",;:.)":
            return False
        self.found.append(Item(start, stop, indent, gap))
        self._rounds(labels[0].start, end, indent, False, labels[0])
        return True

    def _other(self, start: int, at: int, end: int, indent: int, gap: bool) -> None:
        if self._unlabelled(at, end):
            body = Span(at, end)
            said = self._said_rounds(body)
            self.due += said or 1
            self._put(
                RoundLine(Span(start, end), "", None, None, body, said_rounds=said), indent, gap
            )
        else:
            self.found.append(Item(start, end, indent, gap))

    def _unlabelled(self, start: int, end: int) -> bool:
        """Whether a line without a label is work."""
        low, words = self.low, self.words
        counted = bool(_COUNT_END.search(low, start, end))
        stitch = words.stitch.search(low, start, end)
        several = words.said_rounds.match(low, start, end)
        if several and (counted or stitch):
            return True
        chain = words.chain.match(low, start, end)
        if chain and not words.finish.search(low, start, end):
            return int("".join(filter(str.isdigit, chain[0]))) >= 2
        if words.repeat.match(low, start, end):
            return bool(
                re.search(rf"(?<![^\W\d_])(?:{words.round_words})(?![^\W\d_])", low[start:end])
            )
        if not stitch and not words.ring.search(low, start, end):
            return bool(counted and words.all_round.search(low, start, end))
        if re.match(r"[\w. ]{1,20}\s?(?:=|:| - )\s?[a-z]", low[start:end]):
            return False
        if words.remark_start.match(low, start, end) and not counted:
            return False
        if words.finish.search(low, start, end) and not counted:
            return False
        if words.ring.search(low, start, end):
            return bool(re.search(r"\d", low[start:end]))
        if words.stitch_start.match(low, start, end):
            return counted or bool(words.around.search(low, start, end)) or "," in low[start:end]
        return counted
