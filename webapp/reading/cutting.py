"""The work of a line cut out of it: what is count and what is remark is put aside.

A count stands in brackets, behind ``=``, a dash or an arrow, in a last column, or as a sentence of
its own. What comes after it, and sentences that hold no stitches, are remarks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from webapp.reading.counted import count_in, number_of, rounds_said
from webapp.reading.model import Span
from webapp.reading.nodes import Act, Fill, Group
from webapp.reading.pieces import Mark, Piece, Sign, Times, is_sign, is_work, span_of

PAIRS = {"(": ")", "[": "]", "{": "}", "<": ">"}


@dataclass
class Cut:
    """What is left of a line: the pieces of its work, and what was put aside.

    ``said_rounds`` is how many rounds it says it covers, ``said_at`` where.
    """

    work: list[Piece] = field(default_factory=list)
    counts: list[tuple[int, Span]] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    remarks: list[Span] = field(default_factory=list)
    noise: list[Span] = field(default_factory=list)
    said_rounds: int | None = None
    said_at: Span | None = None


def cut(pieces: Sequence[Piece]) -> Cut:
    """The work of a line, its counts and its remarks."""
    cutter = _Cutter(pieces)
    at = 0
    while at < len(pieces):
        at = cutter.step(at)
    return cutter.cut


class _Cutter:
    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.closes = _closes(pieces)
        paired = {*self.closes, *self.closes.values()}
        self.pieces = [
            Sign("?", 0, piece.span) if is_sign(piece, "<>") and at not in paired else piece
            for at, piece in enumerate(pieces)
        ]
        self.cut = Cut()
        self.stitches = False
        work = [i for i, piece in enumerate(pieces) if is_work(piece)]
        self.last_work = work[-1] if work else -1

    def step(self, at: int) -> int:
        """Takes the piece at ``at``; returns where to go on."""
        piece = self.pieces[at]
        sign = piece.sign if isinstance(piece, Sign) else ""
        further = None
        if sign in PAIRS:
            further = self._bracket(at)
        elif sign == "n" and at == 0 and self._count_before():
            self.cut.counts.append((number_of(piece) or 0, piece.span))
            further = 3
        elif sign == "~" and self.stitches:
            further = self._other_way(at)
        elif sign == "Q" and not self.stitches and not self.cut.work:
            further = self._count_here(at)
        elif sign == "|" and self.stitches:
            further = self._column(at)
        elif sign == "=" or (sign == "-" and self.stitches):
            further = self._count_behind(at, strict=sign == "-")
        elif sign == ":" and self._behind_stitches():
            further = self._count_behind(at, strict=True)
        elif sign in (".", ",", ";") and self.stitches:
            further = self._sentence(at, sign)
        elif sign == "?" and self._behind_stitches() and at > self.last_work:
            # `(2 sc, dec) x 6 eyes here`: words behind the last stitches.
            further = self._tail(at)
        elif sign in ("", "n", "Q") and self._behind_stitches(with_acts=sign in ("n", "Q")):
            further = self._count_here(at)
        if further is not None:
            return further
        self.stitches = self.stitches or isinstance(piece, Act | Fill | Group)
        self.cut.work.append(piece)
        return at + 1

    def _behind_stitches(self, with_acts: bool = False) -> bool:
        last = self.cut.work[-1] if self.cut.work else None
        return isinstance(last, Times | Fill) or (with_acts and isinstance(last, Act))

    def _piece(self, at: int) -> Piece | None:
        return self.pieces[at] if at < len(self.pieces) else None

    # ---- brackets ----

    def _bracket(self, at: int) -> int | None:
        close = self.closes.get(at)
        if close is None:
            return None
        inside = self.pieces[at + 1 : close]
        rounds = rounds_said(inside)
        if rounds is not None:
            self.cut.said_rounds, self.cut.said_at = rounds, inside[0].span
            return close + 1
        if len(inside) == 1 and isinstance(inside[0], Times) and self.stitches:
            self.cut.work.append(inside[0])
            return close + 1
        if inside and is_sign(inside[0], "~"):
            self.cut.remarks.append(span_of(inside))
            return close + 1
        count = count_in(inside, self._piece(close + 1))
        if count is not None and not self._more_work(close + 1, inside):
            self.cut.counts.append((count, span_of(inside)))
            if not self.stitches and self._goes_on(close + 1):
                return close + 2
            if at == 0 and len(inside) == 1 and self._is_before_all(close + 1):
                return close + 1
            if at == 0 and any(map(is_work, self.pieces[close + 1 :])):
                rest = span_of(self.pieces[close + 1 :])
                self.cut.marks.append(Mark("behind count", 0, rest))
            self.stitches = True
            further = self._past_rounds_said(close + 1)
            return further if self._is_count(further) else self._tail(further)
        if not inside or any(is_work(p) or is_sign(p, "*|") for p in inside):
            return None
        self.cut.remarks.append(span_of(self.pieces[at : close + 1]))
        return close + 1

    def _count_before(self) -> bool:
        """Whether a count begins the line: `24 sts: (2 sc, inc) x 6`."""
        noun, colon = is_sign(self._piece(1), "p"), is_sign(self._piece(2), ":")
        return noun and colon and any(map(is_work, self.pieces[3:]))

    def _other_way(self, at: int) -> int:
        """`or ch 2 and 6 sc in the 2nd ch`: another way to do the same, up to the sentence's end or
        the count."""
        end = at + 1
        while not is_sign(self._piece(end), ".=-") and not self._is_count(end):
            if end == len(self.pieces):
                break
            end += 1
        self.cut.remarks.append(span_of(self.pieces[at:end]))
        return end

    def _past_rounds_said(self, at: int) -> int:
        """Where it goes on behind `(4 rounds)`, if that stands there."""
        close = self.closes.get(at)
        if close is None:
            return at
        inside = self.pieces[at + 1 : close]
        rounds = rounds_said(inside)
        if rounds is None:
            return at
        self.cut.said_rounds, self.cut.said_at = rounds, inside[0].span
        return close + 1

    def _goes_on(self, at: int) -> bool:
        """Whether stitches follow a count in front of them: `{24}: (2 sc, inc) x 6`."""
        return is_sign(self._piece(at), ":-=") and any(map(is_work, self.pieces[at:]))

    def _is_before_all(self, at: int) -> bool:
        """Whether a count begins the line and no other ends it: `(12) [inc] x 6`, not `(2) sc`."""
        first = self._piece(at)
        if isinstance(first, Act):
            work = first.options[0].work
            often = isinstance(self._piece(at + 1), Times)
            begins = often or (bool(work) and work[0][1] > 1)
        else:
            begins = is_sign(first, "([*") or isinstance(first, Mark)
        if not begins or not any(map(is_work, self.pieces[at:])):
            return False
        return not any(map(self._is_count, range(at, len(self.pieces))))

    def _is_count(self, at: int) -> bool:
        """Whether a bracket with a count stands here: `(12)(18)(27)`."""
        close = self.closes.get(at)
        if close is None:
            return False
        return count_in(self.pieces[at + 1 : close], self._piece(close + 1)) is not None

    def _more_work(self, at: int, inside: Sequence[Piece]) -> bool:
        """Whether stitches follow in the same sentence: then `(2 sc)` was no count."""
        if not any(isinstance(piece, Act) for piece in inside):
            return False
        for piece in self.pieces[at:]:
            if isinstance(piece, Act | Fill | Group):
                return True
            if is_sign(piece, ".?("):
                return False
        return False

    # ---- counts without brackets ----

    def _count_here(self, at: int) -> int | None:
        """`*sc, inc* 6 times 18 sc`, `in all 24 st`."""
        found = self._bare_count(at, strict=True)
        if found is None:
            return None
        value, end = found
        self.cut.counts.append((value, span_of(self.pieces[at:end])))
        return self._tail(end)

    def _count_behind(self, at: int, strict: bool) -> int | None:
        """`= 18`, `- 18 sts`, `-> 6, 7, 8`."""
        found = self._bare_count(at + 1, strict)
        if found is None:
            return None
        value, end = found
        self.cut.counts.append((value, span_of(self.pieces[at + 1 : end])))
        while is_sign(self._piece(end), ",") and is_sign(self._piece(end + 1), "n"):
            number = self.pieces[end + 1]
            assert isinstance(number, Sign)
            self.cut.counts.append((number.value, number.span))
            end += 2
        return self._tail(end)

    def _column(self, at: int) -> int | None:
        """The number of a last column: `| 24 |`."""
        rest = self.pieces[at:]
        inside = [p for p in rest if not is_sign(p, "|pQ")] if len(rest) < 8 else []
        count = count_in(inside, None) if len(inside) == 1 else None
        if count is None:
            return None
        self.cut.counts.append((count, span_of(rest)))
        return len(self.pieces)

    def _sentence(self, at: int, sign: str) -> int | None:
        """A count behind a comma or full stop, or a sentence that is a remark."""
        found = self._bare_count(at + 1, strict=True)
        if found is not None and sign == "." and self._is_work_before_a_count(found[1]):
            return None
        if found is not None and sign == "," and self._numbers_are_stitches(found[1]):
            return None
        if found is not None and (sign == "." or not isinstance(self.pieces[found[1] - 1], Act)):
            value, end = found
            self.cut.counts.append((value, span_of(self.pieces[at + 1 : end])))
            return self._tail(end)
        if sign == "." and not self._next_is_work(at + 1) and not self._is_count(at + 1):
            return self._tail(at)
        return None

    def _is_work_before_a_count(self, end: int) -> bool:
        """Whether the stitches that end there are none: `1 sc in each of next 2 ch. Turn. 3 sc.`"""
        if not isinstance(self.pieces[end - 1], Act):
            return False
        last = len(self.pieces) - 1
        while last > end and is_sign(self.pieces[last], ".psQ"):
            last -= 1
        stop = self._piece(last - 1)
        return last > end and is_sign(stop, ".") and number_of(self.pieces[last]) is not None

    def _numbers_are_stitches(self, end: int) -> bool:
        """Whether the number that ends there stands as bare as others do: `4, inc, 8, inc, 4`."""
        bare = [
            at
            for at, piece in enumerate(self.pieces[:end])
            if is_sign(piece, "n")
            and (at == 0 or is_sign(self.pieces[at - 1], ","))
            and (at + 1 == len(self.pieces) or is_sign(self.pieces[at + 1], ",."))
        ]
        return len(bare) > 1 and bare[-1] == end - 1

    def _bare_count(self, at: int, strict: bool) -> tuple[int, int] | None:
        """The count that begins at ``at``, and where it ends: `18`, `18 sts`, `total: 18`.

        Strictly it is all there is up to the end of the sentence.
        """
        start, words, named = at, False, False
        while is_sign(self._piece(at), "Q:=I?(") or self._names_stitches(at, start):
            if at - start >= 4:
                return None
            words = words or is_sign(self._piece(at), "?")
            named = named or is_sign(self._piece(at), "Qp")
            at += 1
        piece = self._piece(at)
        value = number_of(piece)
        if value is None:
            return None
        noun, end = named or isinstance(piece, Act), at + 1
        while is_sign(self._piece(end), "psQ"):
            noun, end = True, end + 1
        if strict:
            last = self._piece(end)
            if (last is not None and not is_sign(last, ".")) or (words and not noun):
                return None
            # A lone number behind a comma or full stop is a count only where nothing follows.
            lead = self._piece(start - 1) if start else None
            if not noun and is_sign(lead, ",;.") and last is not None:
                return None
        return value, end

    def _names_stitches(self, at: int, start: int) -> bool:
        """Whether `stitches` stands in front of a count: `total stitches: 18`, `stitches: 18`."""
        if not is_sign(self._piece(at), "p"):
            return False
        behind = is_sign(self._piece(at + 1), ":=")
        return behind or (at > start and is_sign(self._piece(at - 1), "Q"))

    # ---- remarks ----

    def _next_is_work(self, at: int) -> bool:
        """Whether the sentence that begins here is stitches, and no remark that names some."""
        work = False
        for piece in self.pieces[at:]:
            if is_sign(piece, "?"):
                return False
            if is_sign(piece, "."):
                break
            work = work or is_work(piece)
        return work

    def _tail(self, at: int) -> int:
        """What follows a count are remarks, but for the marks in it."""
        rest = self.pieces[at:]
        self.cut.marks += [piece for piece in rest if isinstance(piece, Mark)]
        if not self.cut.counts:
            self._late_count(at)
        if rest and is_sign(rest[0], ".,;:"):
            rest = rest[1:]
        if rest:
            self.cut.remarks.append(span_of(rest))
        return len(self.pieces)

    def _late_count(self, at: int) -> None:
        """A count in brackets at the very end, behind remarks."""
        last = len(self.pieces) - 1
        opens = next((i for i, close in self.closes.items() if close == last), None)
        if opens is None or opens < at:
            return
        inside = self.pieces[opens + 1 : last]
        words = any(isinstance(piece, Sign) and piece.sign not in "np" for piece in inside)
        count = None if words else count_in(inside, None)
        if count is not None:
            self.cut.counts.append((count, span_of(inside)))


def _closes(pieces: Sequence[Piece]) -> dict[int, int]:
    """For each bracket that is closed, where."""
    opened: dict[str, list[int]] = {closes: [] for closes in PAIRS.values()}
    found: dict[int, int] = {}
    for at, piece in enumerate(pieces):
        if not isinstance(piece, Sign):
            continue
        if piece.sign in PAIRS:
            opened[PAIRS[piece.sign]].append(at)
        elif opened.get(piece.sign):
            found[opened[piece.sign].pop()] = at
    return found
