"""Items grouped into parts: by headings, by numbers that start again, by words of a start."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from webapp.reading.headings import Heading, Strength
from webapp.reading.items import Item
from webapp.reading.kinds import copies_of_kinds, kinds_said
from webapp.reading.limits import check_parts
from webapp.reading.model import Span
from webapp.reading.sheet import RemarkLine, RoundLine, SheetPart
from webapp.reading.vocabulary import Vocabulary
from webapp.reading.work import COUNT_END

MOST_IN_RING = 12
"""Plain stitches of a round that may be worked into a ring without a word of it: common practice,
no source."""
MOST_BEFORE = 8
"""Lines that may stand between the heading of a section and a round for it to be a part."""
MOST_BEFORE_ROUND = 40
"""Lines that may stand between the heading of a part and its first round."""


@dataclass(frozen=True)
class Groups:
    """What a text comes to: its title, remarks in no part, its parts."""

    title: str
    remarks: list[RemarkLine]
    parts: list[SheetPart]


@dataclass
class _Open:
    """A part while lines are still added to it."""

    title: str
    copies: int
    start: int
    end: int
    said: bool = False
    lines: list[RoundLine | RemarkLine] = field(default_factory=list)
    rounds: int = 0
    last: int = 0
    labelled: bool = False
    ended: bool = False
    recoloured: bool = False


def grouped(text: str, items: Sequence[Item], words: Vocabulary) -> Groups:
    """The groups of all items."""
    return _Grouping(text, items, words).all()


class _Grouping:
    def __init__(self, text: str, items: Sequence[Item], words: Vocabulary) -> None:
        self.text = text
        self.low = text.lower()
        self.items = items
        self.words = words
        self.parts: list[_Open] = []
        self.remarks: list[RemarkLine] = []
        self.current: _Open | None = None
        self.section: Item | None = None
        self.held: list[Item] = []
        self.title = ""
        self.kinds = list(kinds_said(self.low, words))

    def all(self) -> Groups:
        for k, item in enumerate(self.items):
            if item.heading is not None:
                self._heading(k, item)
            elif item.copies is not None:
                self._copies(item)
            elif item.round is not None:
                self._round(item, item.round)
            else:
                self._remark(item, first=k == 0)
        self._release()
        self._share_copies()
        for empty in (part for part in self.parts if not part.rounds):
            self.remarks.append(RemarkLine(Span(empty.start, empty.end)))
        self.remarks.sort(key=lambda remark: remark.span)
        parts = [
            SheetPart(p.title, p.copies, Span(p.start, p.end), tuple(p.lines))
            for p in self.parts
            if p.rounds
        ]
        return Groups(self.title, self.remarks, parts)

    def _heading(self, k: int, item: Item) -> None:
        head = item.heading
        assert head is not None
        if head.strength in (Strength.SECTION, Strength.PATTERN):
            self._release()
            self.current = None
            self.section = item
            self.held.append(item)
        elif self._heads_part(k, item):
            self._release()
            self.section = None
            self._open(head.title, head.copies or 1, item.start, item.end)
            assert self.current is not None
            self.current.said = head.copies is not None
        elif k == 0:
            self.title = self._as_title(item)
        else:
            if head.strength is Strength.STRONG and self.current and self.current.rounds:
                self.current = None
            self._remark(item, first=False)

    def _heads_part(self, k: int, item: Item) -> bool:
        """Whether what follows a heading makes it the name of a part."""
        head = item.heading
        assert head is not None
        current = self.current
        strong = head.strength is Strength.STRONG
        if self._heads_kinds(k, item):
            return False
        if not strong and current and not current.rounds and (current.said or not head.noun):
            return False
        following = self._next_round(k, head)
        if k == 0 and head.copies is None and self._gap_after(k) and self._heading_comes(k):
            return False
        if following is None or following.round is None:
            return False
        if k == 0 and not head.noun and head.copies is None:
            return not (self._gap_after(k) or self._only_heading(k))
        first = following.round.first
        starts = first == 1 or following.begins or following.as_part
        if current and current.rounds and first == 1 and not head.noun and head.copies is None:
            return self._starts_anew(following, following.round, headed=strong)
        if strong:
            return True
        if head.noun:
            short = len(head.title.split()) <= 3 and (item.gap or self.text[item.end - 1] == ":")
            return starts or short
        if not self.parts and self._gap_after(k):
            return False
        return starts or (first is None and item.gap)

    def _heads_kinds(self, k: int, item: Item) -> bool:
        """Whether it says how many are made of each of the headings behind it."""
        for said in self.kinds:
            if item.start < said.end <= item.end:
                behind = [other.heading.title for other in self.items[k + 1 :] if other.heading]
                return copies_of_kinds(said, behind[: len(said.kinds)]) is not None
        return False

    def _next_round(self, k: int, head: Heading) -> Item | None:
        """The round a heading stands before, past lesser headings."""
        for item in self.items[k + 1 : k + MOST_BEFORE_ROUND]:
            other = item.heading
            if other and not (
                other.strength is Strength.WEAK
                and (head.copies is not None or (head.noun and not other.noun))
            ):
                return None
            if item.round is not None:
                return item
        return None

    def _heading_comes(self, k: int) -> bool:
        """Whether another heading stands before the next round (any, where this one is long)."""
        head = self.items[k].heading
        long = head is not None and len(head.title.split()) > 2
        for item in self.items[k + 1 : k + MOST_BEFORE_ROUND]:
            if item.round is not None:
                return False
            if item.heading is not None and (item.heading.noun or long):
                return True
        return False

    def _gap_after(self, k: int) -> bool:
        return k + 1 < len(self.items) and self.items[k + 1].gap

    def _only_heading(self, k: int) -> bool:
        return not any(item.heading for item in self.items[k + 1 :])

    def _share_copies(self) -> None:
        """`I make 2 big and 3 small`: to each of the headings behind it its own number."""
        for said in self.kinds:
            behind = [part for part in self.parts if part.rounds and part.start >= said.end]
            meant = behind[: len(said.kinds)]
            copies = copies_of_kinds(said, [part.title for part in meant])
            if copies is None or any(part.said for part in meant):
                continue
            for part, number in zip(meant, copies, strict=True):
                part.copies, part.said = number, True

    def _copies(self, item: Item) -> None:
        if self.current and not self.current.rounds and item.copies is not None:
            self.current.copies = item.copies
            self.current.said = True
            self.current.end = item.end
        else:
            self._remark(item, first=False)

    def _round(self, item: Item, line: RoundLine) -> None:
        if self.current is None and not self._may_begin(item, line):
            self._remark(item, first=False)
            return
        if self.current is None:
            self._begin_untitled(item, line)
        elif self._restarts(item, line):
            self._open(f"Part {len(self.parts) + 1}", 1, item.start, item.end)
        part = self.current
        assert part is not None
        part.lines.append(line)
        part.start, part.end = min(part.start, item.start), max(part.end, item.end)
        part.rounds += 1
        part.last = line.last or part.last + 1
        part.labelled = part.labelled or bool(line.label)
        part.ended = part.recoloured = False

    def _may_begin(self, item: Item, line: RoundLine) -> bool:
        """Whether a round in no part is one: in a section only what cannot be anything else."""
        inside = self.section is not None and not self._in_pattern()
        worded = any(c.isalpha() for c in line.label)
        if not inside:
            return bool(line.label) or item.begins or bool(self.parts) or self._in_pattern()
        return worded or (item.begins and self._counted(line))

    def _in_pattern(self) -> bool:
        section = self.section
        return bool(section and section.heading and section.heading.strength is Strength.PATTERN)

    def _counted(self, line: RoundLine) -> bool:
        return bool(COUNT_END.search(self.low, line.body.start, line.body.end))

    def _begin_untitled(self, item: Item, line: RoundLine) -> None:
        """A part for a round that has no heading of a part before it."""
        before = self.parts[-1] if self.parts else None
        if before and line.first and line.first > 1 and line.first == before.last + 1:
            before.lines += [RemarkLine(Span(held.start, held.end)) for held in self.held]
            self.held = []
            self.current, self.section = before, None
            return
        title = f"Part {len(self.parts) + 1}" if self.parts else ""
        if self._section_is_part(line):
            self._open_section(item)
        else:
            self._release()
            self._open(title, 1, item.start, item.end)
        self.section = None

    def _section_is_part(self, line: RoundLine) -> bool:
        """Whether the section a round stands in is what it belongs to (``Joining``)."""
        named = self.section is not None and not self._in_pattern()
        return bool(named and line.label and 0 < len(self.held) < MOST_BEFORE)

    def _open_section(self, item: Item) -> None:
        section, *before = self.held
        assert section.heading is not None
        self._open(section.heading.title, section.heading.copies or 1, section.start, item.end)
        assert self.current is not None
        self.current.lines += [RemarkLine(Span(held.start, held.end)) for held in before]
        self.held = []

    def _restarts(self, item: Item, line: RoundLine) -> bool:
        part = self.current
        assert part is not None
        if not part.rounds:
            return False
        if line.label and line.first != 1:
            return False
        if line.first == 1 and part.rounds == 1 and not part.labelled:
            return False
        return self._starts_anew(item, line, headed=False)

    def _starts_anew(self, item: Item, line: RoundLine, headed: bool) -> bool:
        """Whether a round 1 (or one without a number) begins a new piece, not a new colour."""
        if item.begins:
            return True
        if not line.label:
            return False
        part = self.current
        plain = re.match(r"\W{0,3}(\d{1,2})\s?[^\W\d_]", self.text[line.body.start : line.body.end])
        few = bool(plain) and int(plain[1]) <= MOST_IN_RING if plain else False
        return few and (headed or bool(part and (part.ended or not part.recoloured)))

    def _remark(self, item: Item, first: bool) -> None:
        span = Span(item.start, item.end)
        said = self.low[item.start : item.end]
        if self.current is not None:
            self.current.lines.append(RemarkLine(span))
            self.current.end = max(self.current.end, item.end)
            if self.words.colour.search(said):
                self.current.recoloured = True
            elif self.words.finish.search(said):
                self.current.ended = True
        elif first and len(said) <= 80 and not said.endswith((".", ",", ":")):
            self.title = self._as_title(item)
        elif self.section is not None:
            self.held.append(item)
        else:
            self.remarks.append(RemarkLine(span))

    def _as_title(self, item: Item) -> str:
        return " ".join(self.text[item.start : item.end].strip(" #*_=:<>").split())

    def _release(self) -> None:
        """What stood in a section that held no rounds becomes remarks in no part."""
        self.remarks += [RemarkLine(Span(item.start, item.end)) for item in self.held]
        self.held = []

    def _open(self, title: str, copies: int, start: int, end: int) -> None:
        check_parts(len(self.parts) + 1)
        self.current = _Open(title, copies, start, end)
        self.parts.append(self.current)
