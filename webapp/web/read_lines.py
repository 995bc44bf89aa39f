"""A read text as its page shows it: line by line, each with what was read of it.

text  |  lines, in sections (one a part)  |  beside each line its rounds, those alike as one
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from webapp.reading import (
    Begin,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    RemarkKind,
    Span,
    Verdict,
)
from webapp.web.read_words import round_words, words_of

WORDS = {
    Verdict.AGREES: "agrees",
    Verdict.DISAGREES: "does not agree",
    Verdict.CHOICE: "needed a choice",
    Verdict.UNREAD: "not understood",
}
SIGNS = {Verdict.AGREES: "=", Verdict.DISAGREES: "≠", Verdict.CHOICE: "?", Verdict.UNREAD: "…"}
WORST = (Verdict.DISAGREES, Verdict.UNREAD, Verdict.CHOICE, Verdict.AGREES)
"""Verdicts, what needs a look most first."""

ABOUT = {
    RemarkKind.STUFF: "filling",
    RemarkKind.EYES: "eyes",
    RemarkKind.COLOUR: "colour",
    RemarkKind.END: "ending off",
    RemarkKind.SEW: "sewing",
}
"""What a remark is about, as a word beside it."""

BEGINS = {
    Begin.RING: "begins in a ring",
    Begin.CHAIN_RING: "begins open, on a ring of chains",
    Begin.OVAL: "begins round a chain",
    Begin.LEGS: "begins on joined pieces",
    Begin.FLAT: "worked in rows",
    Begin.EDGE: "begins on an edge",
    Begin.UNKNOWN: "",
}


@dataclass(frozen=True)
class Piece:
    """Characters of a line: of a round of this verdict (None: of none), and whether they are what
    a mend would change."""

    text: str
    verdict: Verdict | None = None
    changes: bool = False


@dataclass(frozen=True)
class Entry:
    """One round as read, or several that share their words: ``works`` are their stitches in our
    notation, of unequal rounds each round's. ``look`` numbers the entries that need a look, from 1
    through the whole text."""

    label: str
    verdict: Verdict
    rounds: tuple[ReadRound, ...]
    works: tuple[str, ...]
    look: int | None

    @property
    def first(self) -> ReadRound:
        return self.rounds[0]

    @property
    def last(self) -> ReadRound:
        return self.rounds[-1]

    @property
    def word(self) -> str:
        return WORDS[self.verdict]

    @property
    def sign(self) -> str:
        return SIGNS[self.verdict]

    @property
    def counts(self) -> str:
        """``24 → 30``, or each count of unequal rounds in turn; ``24 → 32 ≠ 30`` where the stitches
        make another number than is written."""
        if self.verdict is Verdict.UNREAD:
            return f"{self.stated} written" if self.stated else ""
        if (wrong := self.wrong) is not None:
            before = "" if wrong.before is None else f"{wrong.before} → "
            differs = wrong.stated is not None and wrong.stated != wrong.gives
            return f"{before}{_count(wrong.gives)}{f' ≠ {wrong.stated}' if differs else ''}"
        known = [self.first.before, *(r.count for r in self.rounds)]
        if self.first.before is None and self.first.number == 1:
            known = known[1:]
        return " → ".join(_count(count) for count, _ in groupby(known))

    @property
    def stated(self) -> str:
        """The counts that are written, or "" where none is."""
        said = [str(r.stated) for r in self.rounds if r.stated is not None]
        return ", ".join(dict.fromkeys(said))

    @property
    def findings(self) -> list[str]:
        return list(dict.fromkeys(words for r in self.rounds for words in r.findings))

    @property
    def choices(self) -> list[tuple[str, str]]:
        """What was taken, and what else it could be."""
        told = [(c.taken, _other(c.other, c.other_count)) for r in self.rounds for c in r.choices]
        return list(dict.fromkeys(told))

    @property
    def wrong(self) -> ReadRound | None:
        """The round whose counts do not agree."""
        return next((r for r in self.rounds if r.verdict is Verdict.DISAGREES), None)

    @property
    def mended(self) -> ReadRound | None:
        """The round that has a mend."""
        return next((r for r in self.rounds if r.mend is not None), None)

    @property
    def settled(self) -> ReadRound | None:
        """The round whose choice a change to the text settles the other way."""
        return next((r for r in self.rounds if r.other is not None), None)


@dataclass(frozen=True)
class Line:
    """A line of the text: its number from 1, its characters, the rounds that begin on it, what the
    remarks on it are about, and the worst verdict of the rounds on it (None: it has none)."""

    number: int
    pieces: tuple[Piece, ...]
    entries: tuple[Entry, ...]
    about: tuple[str, ...]
    verdict: Verdict | None

    @property
    def blank(self) -> bool:
        return not "".join(piece.text for piece in self.pieces).strip()

    @property
    def calm(self) -> bool:
        """Whether nothing on it needs a look."""
        return self.verdict in (None, Verdict.AGREES)

    @property
    def sign(self) -> str:
        return SIGNS[self.verdict] if self.verdict else ""

    @property
    def word(self) -> str:
        return WORDS[self.verdict] if self.verdict else ""


@dataclass(frozen=True)
class Section:
    """Lines one after the other that belong to one part (None: to none)."""

    part: ReadPart | None
    number: int
    lines: tuple[Line, ...]

    @property
    def title(self) -> str:
        if self.part is None:
            return "Before and between the parts"
        return self.part.title.strip(" :*#") or f"Part {self.number}"

    @property
    def note(self) -> str:
        part = self.part
        if part is None:
            return ""
        made = f"make {part.copies}"
        ends = "" if part.rows else "closed" if part.closed else "open at the end"
        rounds = _plural(len(part.rounds), "row" if part.rows else "round")
        return " · ".join(word for word in (made, rounds, BEGINS[part.begin], ends) if word)

    @property
    def calm(self) -> bool:
        return all(line.calm for line in self.lines)


def sections_of(pattern: ReadPattern) -> tuple[Section, ...]:
    """The whole text, line by line, in its order."""
    starts = [0, *(at + 1 for at, sign in enumerate(pattern.text) if sign == "\n")]
    entries = entries_of(pattern)
    by_line: dict[int, list[Entry]] = {}
    for entry in entries:
        by_line.setdefault(_line_at(starts, entry.first.span.start), []).append(entry)
    marks = _marks(entries)
    remarks = _remarks_by_line(pattern, starts)
    owners = _owners(pattern, starts)
    lines = [
        _line(pattern.text, starts, n, by_line.get(n, ()), marks.on(starts, n, len(pattern.text)),
              remarks.get(n, ()))
        for n in range(len(starts))
    ]  # fmt: skip
    if not lines[-1].pieces:
        lines.pop()  # the end of the last line begins no other
    sections = []
    for owner, group in groupby(lines, key=lambda line: owners[line.number - 1]):
        part = None if owner is None else pattern.parts[owner]
        sections.append(Section(part, 0 if owner is None else owner + 1, tuple(group)))
    return tuple(sections)


def tally(pattern: ReadPattern) -> dict[Verdict, int]:
    """How many rounds have each verdict."""
    counted = Counter(r.verdict for part in pattern.parts for r in part.rounds)
    return {verdict: counted[verdict] for verdict in Verdict}


def line_of(text: str, at: int) -> int:
    """The number, from 1, of the line a place of the text is on."""
    return text.count("\n", 0, at) + 1


# --- rounds ------------------------------------------------------------------------------------


def entries_of(pattern: ReadPattern) -> list[Entry]:
    """Rounds that share their words as one, in the order of the text."""
    words = words_of(pattern)
    found = [
        (part, tuple(group))
        for part in pattern.parts
        for _, group in groupby(part.rounds, key=lambda r: r.span)
    ]
    found.sort(key=lambda each: each[1][0].span)
    entries, looks = [], 0
    for part, group in found:
        verdict = worst(r.verdict for r in group)
        looks += verdict is not Verdict.AGREES
        works = dict.fromkeys(round_words(part, r, words) for r in group if r.work)
        label = _label(group, "Row" if part.rows else "Rnd")
        look = None if verdict is Verdict.AGREES else looks
        entries.append(Entry(label, verdict, group, tuple(works), look))
    return entries


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    return min(verdicts, key=WORST.index)


def _label(group: Sequence[ReadRound], word: str) -> str:
    first, last = group[0].number, group[-1].number
    return f"{word} {first}" if first == last else f"{word}s {first}–{last}"


def _count(count: int | None) -> str:
    return "?" if count is None else str(count)


def _other(words: str, count: int | None) -> str:
    return words if count is None else f"{words}, which would make {count}"


def _plural(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


# --- lines -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Mark:
    span: Span
    verdict: Verdict
    changes: bool


class _Marks:
    """Stretches of the text that belong to rounds, in order and apart from each other."""

    def __init__(self, marks: Iterable[_Mark]) -> None:
        self._marks: list[_Mark] = []
        for mark in sorted(marks, key=lambda m: m.span):
            if mark.span.end > mark.span.start and (
                not self._marks or mark.span.start >= self._marks[-1].span.end
            ):
                self._marks.append(mark)
        self._ends = [mark.span.end for mark in self._marks]

    def on(self, starts: Sequence[int], line: int, size: int) -> list[_Mark]:
        """Those that reach into a line."""
        begin = starts[line]
        end = starts[line + 1] if line + 1 < len(starts) else size
        found = []
        for mark in self._marks[bisect_right(self._ends, begin) :]:
            if mark.span.start >= end:
                break
            found.append(mark)
        return found


def _marks(entries: Iterable[Entry]) -> _Marks:
    return _Marks(mark for entry in entries for mark in _marks_of(entry))


def _marks_of(entry: Entry) -> Iterator[_Mark]:
    """A round's words, and apart from them what its mend would change."""
    span = entry.first.span
    mended = entry.mended
    inner = None if mended is None or mended.mend is None else mended.mend.span
    if inner is None or not span.start <= inner.start < inner.end <= span.end:
        yield _Mark(span, entry.verdict, False)
        return
    yield _Mark(Span(span.start, inner.start), entry.verdict, False)
    yield _Mark(inner, entry.verdict, True)
    yield _Mark(Span(inner.end, span.end), entry.verdict, False)


def _line(
    text: str,
    starts: Sequence[int],
    at: int,
    entries: Sequence[Entry],
    marks: Sequence[_Mark],
    about: Sequence[str],
) -> Line:
    begin = starts[at]
    end = starts[at + 1] - 1 if at + 1 < len(starts) else len(text)
    pieces, here = [], begin
    for mark in marks:
        first, last = max(mark.span.start, begin), min(mark.span.end, end)
        if first > here:
            pieces.append(Piece(text[here:first]))
        if last > first:
            pieces.append(Piece(text[first:last], mark.verdict, mark.changes))
        here = max(here, last)
    if here < end:
        pieces.append(Piece(text[here:end]))
    verdicts = [m.verdict for m in marks if m.span.start < end]
    verdict = worst(verdicts) if verdicts else None
    return Line(at + 1, tuple(pieces), tuple(entries), tuple(about), verdict)


def _line_at(starts: Sequence[int], place: int) -> int:
    return bisect_right(starts, place) - 1


def _remarks_by_line(pattern: ReadPattern, starts: Sequence[int]) -> dict[int, tuple[str, ...]]:
    """What the remarks that begin on each line are about."""
    found: dict[int, dict[str, None]] = {}
    remarks: list[Remark] = [*pattern.remarks, *(r for p in pattern.parts for r in p.remarks)]
    for remark in remarks:
        line = _line_at(starts, remark.span.start)
        if remark.kind in ABOUT:
            found.setdefault(line, {})[ABOUT[remark.kind]] = None
    return {line: tuple(kinds) for line, kinds in found.items()}


def _owners(pattern: ReadPattern, starts: Sequence[int]) -> list[int | None]:
    """For each line the part it belongs to, None for none."""
    owners: list[int | None] = [None] * len(starts)
    for number, part in enumerate(pattern.parts):
        first = _line_at(starts, part.span.start)
        last = _line_at(starts, max(part.span.start, part.span.end - 1))
        owners[first : last + 1] = [number] * (last + 1 - first)
    for line in range(1, len(starts)):
        end = starts[line + 1] if line + 1 < len(starts) else len(pattern.text)
        if owners[line] is None and not pattern.text[starts[line] : end].strip():
            owners[line] = owners[line - 1]  # an empty line goes with what is above it
    return owners
