"""One part read round by round, each round into the one before it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from webapp.reading.beginnings import Beginning, begun, oval_fits
from webapp.reading.bodies import Body, read_body
from webapp.reading.checking import Asked, Checked, check, fits_into, needed, unread
from webapp.reading.copies import copies_in, second_alike
from webapp.reading.entries import WorkLine
from webapp.reading.mending import Change, Tries
from webapp.reading.model import (
    Begin,
    Mend,
    ReadPart,
    ReadRound,
    Remark,
    Span,
    Verdict,
)
from webapp.reading.nodes import made_plainly, uses
from webapp.reading.places import Places
from webapp.reading.remarks import stays_open
from webapp.reading.same import Told
from webapp.reading.sheet import RemarkLine, Sheet, SheetPart
from webapp.reading.signs import Key
from webapp.reading.vocabulary import vocabulary
from webapp.reading.worklines import MOST_ROUNDS, LineReader, only_starts, says_again

SMALL = 12
"""As many stitches as a ring is begun with at most: common practice, no source."""
MOST_GATHERED = 6
"""Stitches that are gathered to a point without a word of it: common practice, no source."""

_FIGURES = re.compile(r"\d{1,4}")


@dataclass
class PartReader:
    """Reads a part of a sheet; ``earlier`` are those before it, ``told`` what their lines told."""

    sheet: Sheet
    place: Places
    part: SheetPart
    earlier: list[ReadPart]
    most: int
    key: Key
    tries: Tries
    told: list[Told]
    whole: int = 0
    again: bool = False
    rounds: list[ReadRound] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)

    def read(self) -> ReadPart:
        """The part, round by round."""
        reader = LineReader(self.sheet, self.part, self.earlier, self.key, told=self.told)
        lines = list(reader.lines())
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
                if only_starts(line.body) or says_again(line.body):
                    before_it = line.body
                    self.again = self.again or line.body.mark("again") is not None
                    self._remark_whole(line)
                    continue
                begun_yet = True
                start, rooms = self._begin(line, before_it)
                free = not rooms and start.begin is not Begin.UNKNOWN
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
            self._copies(reader.more),
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

    def _copies(self, more: int) -> int:
        """How many are made: as the heading says, else as a sentence among the rounds does."""
        if self.part.copies > 1:
            return self.part.copies
        words = vocabulary(self.sheet.language)
        said = (copies_in(remark.text, words) for remark in self.remarks)
        copies = next((copies for copies in said if copies), 1 + more)
        if copies == 1 and any(
            second_alike(remark.text, self.part.title, words) for remark in self.remarks
        ):
            return 2
        return copies

    def _heading(self) -> Span | None:
        """Where the heading stands: what the part has before its first line."""
        lines = self.part.lines
        end = min((line.span.start for line in lines), default=self.part.span.end)
        return self.place.span(Span(self.part.span.start, end)) if self.part.title else None

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

    def _begin(self, line: WorkLine, before_it: Body | None) -> tuple[Beginning, tuple[int, ...]]:
        last = tuple(p.rounds[-1].count or 0 for p in self.earlier if p.rounds)
        start = begun(line.body, before_it)
        if start.room is not None:
            return start, (start.room,)
        if start.begin is not Begin.UNKNOWN:
            return start, ()
        need = needed(line.body, line.stated[0])
        runs_on = line.line.first is not None and line.line.first > 1
        goes_on = line.stated[0] is not None or self._numbers_go_on(line)
        if last and runs_on and goes_on and fits_into(line.body, last[-1], line.stated[0]):
            return Beginning(Begin.EDGE), (last[-1],)
        if last and need is not None and need == last[-1] and (need > SMALL or runs_on):
            return Beginning(Begin.EDGE), (need,)
        made = made_plainly(line.body.nodes, line.stated[0])
        if made is not None and made.takes == made.makes <= SMALL:
            return Beginning(Begin.RING), ()
        return start, ()

    def _numbers_go_on(self, line: WorkLine) -> bool:
        """Whether its label is the next after the last one of the part before."""
        last = [part.rounds[-1].label for part in self.earlier if part.rounds]
        numbers = _FIGURES.findall(last[-1]) if last else []
        return bool(numbers) and line.line.first == int(numbers[-1]) + 1

    def _rounds_of(
        self,
        line: WorkLine,
        after: WorkLine | None,
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
            if i and not line.body.nodes and self.rounds[-1].verdict is Verdict.UNREAD:
                # A range whose first round is not understood is not understood.
                checked = unread(asked, "The round before it on this line is not understood.")
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
        self, line: WorkLine, checked: Checked, stated: int | None, needs: int | None
    ) -> ReadRound:
        span = self.place.span(line.line.span)
        row, column = self.place.line_column(span)
        # A count behind a range is that of its last round: of all only where it is even.
        takes, makes = uses(checked.work)
        other = checked.other if line.number == 1 or takes == makes else None
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
            mend=self._mend(line, checked.change),
            next_needs=needs,
            other=self._mend(line, other),
        )

    def _mend(self, line: WorkLine, change: Change | None) -> Mend | None:
        """A change to a line as one to the text; none to words that stand in another line."""
        if change is None or line.copied:
            return None
        at, there = line.line.body.start, change.span
        where = self.place.span(Span(at + there.start, at + there.end))
        return Mend(change.says, where, change.replacement)

    def _keep_unread(self, line: WorkLine, why: str) -> None:
        checked = Checked(Verdict.UNREAD, None, None, None, (), findings=(why,))
        self.rounds.append(self._round(line, checked, None, None))

    def _remark_whole(self, line: WorkLine) -> None:
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


def _after(lines: list[WorkLine | RemarkLine], at: int) -> WorkLine | None:
    return next((line for line in lines[at + 1 :] if isinstance(line, WorkLine)), None)


def _check_oval(checked: Checked, asked: Asked, chain: int) -> Checked:
    """An oval's first round must also fit its chain, as it stands and when it is mended."""
    if (change := checked.change) is not None:
        at = change.span
        after = asked.text[: at.start] + change.replacement + asked.text[at.end :]
        made = made_plainly(read_body(after, asked.language, asked.tries.key).nodes, asked.stated)
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
