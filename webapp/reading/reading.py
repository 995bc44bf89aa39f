"""The whole way from a text to what is read of it."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from webapp.errors import RoundlingError
from webapp.reading.beginnings import Beginning, begun, oval_fits
from webapp.reading.bodies import Body, read_body
from webapp.reading.checking import Asked, Checked, check, needed
from webapp.reading.meanings import ALL_ROUND_A_LEG, plain
from webapp.reading.mending import Change, Tries
from webapp.reading.model import (
    Begin,
    Mend,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    RemarkKind,
    Span,
    Verdict,
)
from webapp.reading.nodes import Act, made_plainly, uses
from webapp.reading.remarks import remark_kind, stays_open
from webapp.reading.sheet import RemarkLine, RoundLine, Sheet, SheetPart
from webapp.reading.splitting import read_sheet
from webapp.terms import Language

CHART_LETTERS = re.compile(r"\bx, ?v\b|\dx, ?v\b", re.IGNORECASE)
"""`(2x, V) * 6`: the letters of charts written in a line."""
SMALL = 12
"""As many stitches as a ring is begun with at most: common practice, no source."""
MOST_GATHERED = 6
"""Stitches that are gathered to a point without a word of it: common practice, no source."""
MOST_ROUNDS = 5000
"""Rounds of a whole text: no toy has more, and a slip of the pen in a range may say a million."""


def read_pattern(text: str, language: Language | None = None) -> ReadPattern:
    """What a written pattern says, round by round. ``language`` forces whose words it uses.

    Raises :class:`RoundlingError` for a text that is too long, is no text, or holds no rounds.
    """
    sheet = read_sheet(text, language)
    place = _Places(text, sheet)
    english = sheet.language in (Language.US, Language.UK)
    letters = english and CHART_LETTERS.search(sheet.clean.text) is not None
    parts: list[ReadPart] = []
    tries = Tries()
    rounds = 0
    for sheet_part in sheet.parts:
        most = MOST_ROUNDS - rounds
        part = _PartReader(sheet, place, sheet_part, parts, most, letters, tries).read()
        rounds += len(part.rounds)
        parts.append(part)
    parts, loose = _with_rounds(parts)
    if not parts:
        raise RoundlingError(
            asked="No rounds were found in this text.",
            why="A pattern says them one by one, such as `Rnd 2: (sc, inc) x 3 [9]`.",
            nearest="Paste the part of the text that holds the rounds.",
            field="text",
        )
    remarks = (*(place.remark(0, line.span, sheet) for line in sheet.remarks), *loose)
    return ReadPattern(
        text,
        sheet.title,
        sheet.language,
        sheet.why,
        sheet.gauge and replace(sheet.gauge, span=place.span(sheet.gauge.span)),
        tuple(parts),
        tuple(sorted(remarks, key=lambda remark: remark.span)),
        sheet.clean.slips,
    )


def _with_rounds(parts: list[ReadPart]) -> tuple[list[ReadPart], list[Remark]]:
    """The parts that have rounds. The words of the others stay: as remarks at the end of the part
    before them, or, before the first, as remarks of no part. `Leg 2: repeat rnds 1-5` makes the
    part before it once more."""
    kept: list[ReadPart] = []
    loose: list[Remark] = []
    for part in parts:
        if part.rounds:
            kept.append(part)
            continue
        title = [Remark(0, RemarkKind.OTHER, part.title, part.heading)] if part.heading else []
        words = [*title, *part.remarks]
        if not kept:
            loose += words
            continue
        last = kept[-1]
        ended = tuple(replace(remark, after=len(last.rounds)) for remark in words)
        # `Leg (make 2)` counts them already.
        copies = last.copies + (part.copies if part.again and last.copies == 1 else 0)
        kept[-1] = replace(last, copies=copies, remarks=(*last.remarks, *ended))
    return kept, loose


class _Places:
    """From places in the cleaned text to the original, and to lines and columns."""

    def __init__(self, text: str, sheet: Sheet) -> None:
        self._text = text
        self._origin = sheet.clean.origin
        self._starts = [0, *(i + 1 for i, letter in enumerate(text) if letter == "\n")]

    def span(self, clean: Span) -> Span:
        start = self._origin[clean.start]
        end = self._origin[clean.end - 1] + 1 if clean.end > clean.start else start
        return Span(start, max(start, end))

    def line_column(self, span: Span) -> tuple[int, int]:
        line = bisect_right(self._starts, span.start)
        return line, span.start - self._starts[line - 1] + 1

    def remark(self, after: int, clean: Span, sheet: Sheet) -> Remark:
        span = self.span(clean)
        text = " ".join(self._text[span.start : span.end].split())
        return Remark(after, remark_kind(text, sheet.language), text, span)


@dataclass
class _Line:
    """A line of work with its body and what it is checked for."""

    line: RoundLine
    text: str
    body: Body
    number: int
    """How many rounds it covers."""
    stated: tuple[int | None, ...]


@dataclass
class _PartReader:
    sheet: Sheet
    place: _Places
    part: SheetPart
    earlier: list[ReadPart]
    most: int
    letters: bool
    tries: Tries
    whole: int = 0
    again: bool = False
    more: int = 0
    rounds: list[ReadRound] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    by_label: dict[int, _Line] = field(default_factory=dict)

    def read(self) -> ReadPart:
        """The part, round by round."""
        lines = list(self._lines())
        start = Beginning(Begin.UNKNOWN)
        rooms: tuple[int, ...] = ()
        before_it: Body | None = None
        begun_yet = False
        for at, line in enumerate(lines):
            if isinstance(line, RemarkLine):
                self.remarks.append(self.place.remark(len(self.rounds), line.span, self.sheet))
                if not begun_yet:
                    before_it = self._start_said(line) or before_it
                continue
            if not begun_yet:
                if _only_starts(line.body) or _says_again(line.body):
                    before_it = line.body
                    self.again = self.again or line.body.mark("again") is not None
                    self._remark_whole(line)
                    continue
                begun_yet = True
                start, rooms = self._begin(line, before_it)
                free = not rooms
            else:
                free = line.body.mark("leg") is not None
            rooms = self._rounds_of(line, _after(lines, at), rooms, free, start)
        counts = [r.count for r in self.rounds]
        legs = self._per_leg(start)
        if legs and not start.chain and counts[0] and (counts[0] - sum(legs)) % 2 == 0:
            # The chain was said with the leg before.
            start = replace(start, chain=max(0, counts[0] - sum(legs)) // 2)
        return ReadPart(
            self.part.title,
            self.part.copies + (self.more if self.part.copies == 1 else 0),
            self.place.span(self.part.span),
            start.begin,
            tuple(self.rounds),
            tuple(self.remarks),
            chain=start.chain,
            per_leg=legs,
            rows=start.begin is Begin.FLAT,
            closed=_closed(counts, start) and not self._left_open(counts),
            heading=self._heading(),
            again=self.again,
        )

    def _heading(self) -> Span | None:
        """Where the heading stands: what the part has before its first line."""
        lines = self.part.lines
        end = lines[0].span.start if lines else self.part.span.end
        return self.place.span(Span(self.part.span.start, end)) if self.part.title else None

    def _starts(self, line: RemarkLine) -> bool:
        """Whether words before the first round are that round: `Start with 6 sc in a ring.`"""
        text = self.sheet.clean.text[line.span.start : line.span.end].lower()
        body = read_body(text, self.sheet.language)
        return bool(body.nodes) and not body.trouble and body.mark("into ring") is not None

    def _left_open(self, counts: list[int | None]) -> bool:
        """Whether what is said at its end leaves it open, to be sewn on."""
        few = (counts[-1] or 0) <= MOST_GATHERED
        end = " ".join(remark.text for remark in self.remarks if remark.after == len(counts))
        return stays_open(end, self.sheet.language, few)

    def _start_said(self, line: RemarkLine) -> Body | None:
        """The ring or chain that words before the first round make."""
        text = self.sheet.clean.text[line.span.start : line.span.end].lower()
        body = read_body(text, self.sheet.language)
        self.again = self.again or body.mark("again") is not None
        return body if body.marks and not body.nodes else None

    def _lines(self) -> Iterator[_Line | RemarkLine]:
        clean = self.sheet.clean.text
        begun_yet = False
        for line in self.part.lines:
            if isinstance(line, RemarkLine):
                if begun_yet or not self._starts(line):
                    yield line
                    continue
                line = RoundLine(line.span, "", None, None, line.span)
            begun_yet = True
            text = clean[line.body.start : line.body.end].lower()
            body = read_body(text, self.sheet.language, self.letters)
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
            body = self._with_legs(body)
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
            entry = _Line(line, text, body, number, _stated(body, number))
            if line.first is not None:
                for label in range(line.first, min(line.first + number, line.first + 200)):
                    self.by_label[label] = entry
            self._last = entry
            yield entry

    def _again(self, label: int, body: Body) -> Body:
        """The body that `repeat rnd 4` or `rep last round` means, with this line's own count."""
        meant = self.by_label.get(label) if label else getattr(self, "_last", None)
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

    def _is_other_piece(self, label: int) -> bool:
        """Whether rounds repeated from this one on begin a piece anew: `repeat rnds 1-8`."""
        meant = self.by_label.get(label)
        if meant is None:
            return False
        return any(meant.body.mark(what) for what in ("into ring", "ring", "into chain"))

    def _repeated(self, line: RoundLine, body: Body) -> list[_Line]:
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
        for label, stated in zip(list(labels) * number, _stated(body, number), strict=False):
            meant = self.by_label[label]
            alone = replace(meant.body, remarks=(), counts=())
            found.append(_Line(line, meant.text, alone, 1, (stated,)))
        for at, label in enumerate(range(line.first or 0, (line.last or 0) + 1)):
            if line.first is not None and at < len(found):
                self.by_label[label] = replace(found[at], line=replace(line, first=label))
        self._last = found[-1]
        return found

    def _begin(self, line: _Line, before_it: Body | None) -> tuple[Beginning, tuple[int, ...]]:
        last = tuple(p.rounds[-1].count or 0 for p in self.earlier if p.rounds)
        start = begun(line.body, before_it)
        if start.room is not None:
            return start, (start.room,)
        if start.begin is not Begin.UNKNOWN:
            return start, ()
        need = needed(line.body, line.stated[0])
        runs_on = line.line.first is not None and line.line.first > 1
        if last and need is not None and need == last[-1] and (need > SMALL or runs_on):
            return Beginning(Begin.EDGE), (need,)
        made = made_plainly(line.body.nodes, line.stated[0])
        if made is not None and made.takes == made.makes <= SMALL:
            return Beginning(Begin.RING), ()
        return start, ()

    def _rounds_of(
        self,
        line: _Line,
        after: _Line | None,
        rooms: tuple[int, ...],
        free: bool,
        start: Beginning,
    ) -> tuple[int, ...]:
        """The rounds a line covers; returns what the next may be worked into."""
        number = line.number
        if len(self.rounds) + number > self.most:
            self._keep_unread(line, f"It would be more than {MOST_ROUNDS} rounds.")
            return ()
        said = line.body.said_rounds or line.line.said_rounds
        contradicts = said is not None and number > 1 and said != number
        for i in range(number):
            needs = None
            if i + 1 < number:
                needs = needed(line.body, line.stated[i + 1])
            elif after is not None:
                needs = needed(after.body, after.stated[0])
            stated = line.stated[i]
            asked = Asked(
                line.text,
                line.body,
                self.sheet.language,
                rooms,
                stated,
                needs,
                free and i == 0,
                self.tries,
            )
            checked = check(asked)
            if start.begin is Begin.OVAL and not self.rounds:
                checked = _check_oval(checked, asked, start.chain)
            if contradicts:
                finding = f"The label says {number} rounds, the words say {said}."
                checked = replace(
                    checked,
                    verdict=Verdict.DISAGREES,
                    findings=(*checked.findings, finding),
                    change=checked.change or _rounds_change(line.body, number),
                )
            self.rounds.append(self._round(line, checked, stated, needs))
            rooms = self._rooms_after(checked)
        for span in line.body.remarks:
            here = Span(line.line.body.start + span.start, line.line.body.start + span.end)
            self.remarks.append(self.place.remark(len(self.rounds), here, self.sheet))
        return rooms

    def _rooms_after(self, checked: Checked) -> tuple[int, ...]:
        """What the next round may be worked into: after part of a round, the whole one as well."""
        if checked.left and checked.before is not None:
            self.whole = max(checked.before, self.whole)
        elif checked.before == self.whole:
            self.whole = 0
        if not self.whole:
            return checked.rooms
        return tuple(dict.fromkeys((*checked.rooms, self.whole)))

    def _round(
        self, line: _Line, checked: Checked, stated: int | None, needs: int | None
    ) -> ReadRound:
        span = self.place.span(line.line.span)
        row, column = self.place.line_column(span)
        mend = None
        if checked.change is not None:
            at = line.line.body.start
            there = checked.change.span
            where = self.place.span(Span(at + there.start, at + there.end))
            mend = Mend(checked.change.says, where, checked.change.replacement)
        loops = "back" if line.body.mark("back") else "front" if line.body.mark("front") else ""
        return ReadRound(
            len(self.rounds) + 1,
            line.line.label,
            span,
            row,
            column,
            checked.verdict,
            checked.before,
            checked.gives,
            stated,
            checked.count,
            work=checked.work,
            left=checked.left,
            loops=loops,
            joined=line.body.mark("join") is not None,
            turned=line.body.mark("turn") is not None,
            findings=checked.findings,
            choices=checked.choices,
            mend=mend,
            next_needs=needs,
        )

    def _keep_unread(self, line: _Line, why: str) -> None:
        checked = Checked(Verdict.UNREAD, None, None, None, (), findings=(why,))
        self.rounds.append(self._round(line, checked, None, None))

    def _remark_whole(self, line: _Line) -> None:
        self.remarks.append(self.place.remark(len(self.rounds), line.line.span, self.sheet))

    def _per_leg(self, start: Beginning) -> tuple[int, ...]:
        """The last counts of the two pieces joined: the same leg twice, or the last two parts."""
        last = [part.rounds[-1].count or 0 for part in self.earlier if part.rounds]
        if start.begin is not Begin.LEGS or not last or not self.rounds:
            return ()
        first = self.rounds[0].count or 0
        if len(last) < 2 or first == 2 * last[-1] + 2 * start.chain:
            return (last[-1], last[-1])
        return (last[-2], last[-1])


def _rounds_change(body: Body, number: int) -> Change | None:
    """The number of rounds in words made that of the label."""
    if body.said_at is None:
        return None
    return Change(body.said_at, str(number), f"{number} instead of {body.said_rounds} rounds")


def _says_nothing(body: Body) -> bool:
    """Whether no stitches, no count and no start were found, and nothing is wrong with it."""
    return not (body.nodes or body.counts or body.trouble or _only_starts(body)) and (
        body.mark("again") is None
    )


def _only_starts(body: Body) -> bool:
    """A line that makes a ring or a chain and no stitches."""
    whats = {mark.what for mark in body.marks}
    return not body.nodes and not body.counts and bool(whats & {"ring", "chain"})


def _says_again(body: Body) -> bool:
    """A line that repeats rounds of another part, and has no stitches of its own."""
    return not body.nodes and not body.counts and body.mark("again") is not None


def _stated(body: Body, number: int) -> tuple[int | None, ...]:
    """The count written for each of the rounds a line covers."""
    counts = [count for count, _ in body.counts]
    if not counts:
        return (None,) * number
    if len(counts) == number:
        return tuple(counts)
    made = made_plainly(body.nodes, counts[-1])
    plain = made is not None and made.takes == made.makes
    if number == 1 or plain or not body.nodes:
        return (counts[-1],) * number
    # Rounds of a range that are not alike: the count is that of the last.
    return (*(None,) * (number - 1), counts[-1])


def _after(lines: list[_Line | RemarkLine], at: int) -> _Line | None:
    return next((line for line in lines[at + 1 :] if isinstance(line, _Line)), None)


def _check_oval(checked: Checked, asked: Asked, chain: int) -> Checked:
    """An oval's first round must also fit its chain, as it stands and when it is mended."""
    if (change := checked.change) is not None:
        at = change.span
        after = asked.text[: at.start] + change.replacement + asked.text[at.end :]
        made = made_plainly(read_body(after, asked.language).nodes, asked.stated)
        if made is None or not oval_fits(chain, made.takes):
            checked = replace(checked, change=None)
    if checked.verdict is not Verdict.AGREES:
        return checked
    takes, _ = uses(checked.work)
    if oval_fits(chain, takes):
        return checked
    finding = (
        f"A chain of {chain} has {chain - 1} to work into, from both sides; these stitches go "
        f"into {takes}."
    )
    return replace(checked, verdict=Verdict.DISAGREES, findings=(*checked.findings, finding))


def _closed(counts: list[int | None], start: Beginning) -> bool:
    """Whether the last round is gathered to a point: as few stitches as a ring has."""
    last = counts[-1] if counts else None
    if last is None or len(counts) < 4 or start.begin is Begin.FLAT:
        return False
    return last <= 9 and max(count or 0 for count in counts) > last
