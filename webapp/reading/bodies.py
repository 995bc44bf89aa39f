"""The body of a line: which of its pieces are stitches, which its count, which remarks.

A count stands in brackets, behind ``=``, a dash or an arrow, or as a sentence of its own. What
comes after it, and what holds no stitches, are remarks. Stars and bars are made into brackets
here, so that the grammar of :mod:`webapp.reading.structure` need not guess what they are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from webapp.reading.lexicon import lexicon
from webapp.reading.model import Span
from webapp.reading.nodes import Act, Fill, Group, Node, Option
from webapp.reading.phrases import Mark, Piece, Sign, Times, phrases, plain
from webapp.reading.structure import Terminal, UnbalancedError, tree
from webapp.terms import Language

SEPARATORS = ",;.:&/-"
PAIRS = {"(": ")", "[": "]", "{": "}"}
KINDS = {"(": "LROUND", ")": "RROUND", "[": "LSQUARE", "]": "RSQUARE", "{": "LCURLY", "}": "RCURLY"}


@dataclass(frozen=True)
class Body:
    """A body as understood: its nodes, counts and where they stand, marks, remarks.

    ``noise`` are words among the stitches that are not known; ``trouble`` says why there are no
    nodes where stitches were written (with ``trouble_at``). ``said_rounds`` is how many rounds it
    says it covers.
    """

    nodes: tuple[Node, ...]
    counts: tuple[tuple[int, Span], ...] = ()
    marks: tuple[Mark, ...] = ()
    remarks: tuple[Span, ...] = ()
    noise: tuple[Span, ...] = ()
    trouble: str = ""
    trouble_at: Span | None = None
    said_rounds: int | None = None
    said_at: Span | None = None

    def mark(self, what: str) -> Mark | None:
        return next((mark for mark in self.marks if mark.what == what), None)


@dataclass
class _Draft:
    counts: list[tuple[int, Span]] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    remarks: list[Span] = field(default_factory=list)
    noise: list[Span] = field(default_factory=list)
    said_rounds: int | None = None
    said_at: Span | None = None


@lru_cache(maxsize=4096)
def read_body(text: str, language: Language, letters: bool = False) -> Body:
    """What a body says; places are those in ``text``, which is cleaned and in small letters.

    With ``letters`` an x is a single crochet, a v an increase and a caret a decrease.
    """
    pieces = phrases(list(lexicon(language).words(text, letters)))
    draft = _Draft()
    work = _cut(pieces, draft)
    terminals = _terminals(work, draft)
    try:
        nodes = tree(terminals)
    except UnbalancedError as error:
        return _body((), draft, error.says, error.span)
    return _body(nodes, draft)


def _body(
    nodes: tuple[Node, ...], draft: _Draft, trouble: str = "", at: Span | None = None
) -> Body:
    return Body(
        nodes,
        tuple(draft.counts),
        tuple(draft.marks),
        tuple(draft.remarks),
        tuple(draft.noise),
        trouble,
        at,
        draft.said_rounds,
        draft.said_at,
    )


# ---- counts and remarks --------------------------------------------------------------------------


def _cut(pieces: Sequence[Piece], draft: _Draft) -> list[Piece]:
    """The pieces of the work alone."""
    work: list[Piece] = []
    at, stitches = 0, False
    while at < len(pieces):
        piece = pieces[at]
        sign = piece.sign if isinstance(piece, Sign) else ""
        if sign in PAIRS and sign:
            close = _closing(pieces, at)
            inside = pieces[at + 1 : close]
            if close < len(pieces):
                after = pieces[close + 1] if close + 1 < len(pieces) else None
                rounds = _rounds_said(inside)
                count = _count_in(inside, after)
                if rounds is not None:
                    draft.said_rounds, draft.said_at = rounds, inside[0].span
                    at = close + 1
                    continue
                if count is not None and not _more_work(pieces, close + 1, inside):
                    draft.counts.append((count, _span(inside)))
                    at = close + 1
                    stitches = True
                    if not _is_count_next(pieces, at):
                        at = _tail(pieces, at, draft, work)
                    continue
                if not any(_is_work(p) for p in inside) and not _starred(inside):
                    draft.remarks.append(_span(pieces[at : close + 1]))
                    at = close + 1
                    continue
        elif sign == "Q" and not stitches and work == []:
            count_end = _bare_count(pieces, at, strict=True)
            if count_end is not None:
                value, end = count_end
                draft.counts.append((value, _span(pieces[at:end])))
                at = _tail(pieces, end, draft, work)
                continue
        elif sign == "|" and stitches and _column(pieces, at) is not None:
            value = _column(pieces, at) or 0
            draft.counts.append((value, _span(pieces[at:])))
            break
        elif work and not sign.strip("n") and (
            isinstance(work[-1], Times | Fill) or (sign == "n" and isinstance(work[-1], Act))
        ):
            # `*sc, inc* 6 times 18 sc`
            count_end = _bare_count(pieces, at, strict=True)
            if count_end is not None:
                value, end = count_end
                draft.counts.append((value, _span(pieces[at:end])))
                at = _tail(pieces, end, draft, work)
                continue
        elif sign == "=" or (sign == "-" and stitches):
            count_end = _bare_count(pieces, at + 1, strict=sign == "-")
            if count_end is not None:
                value, end = count_end
                draft.counts.append((value, _span(pieces[at + 1 : end])))
                at = _tail(pieces, end, draft, work)
                continue
        elif sign in (".", ",", ";") and stitches:
            count_end = _bare_count(pieces, at + 1, strict=True)
            if count_end is not None and sign != "." and isinstance(pieces[count_end[1] - 1], Act):
                count_end = None
            if count_end is not None:
                value, end = count_end
                draft.counts.append((value, _span(pieces[at + 1 : end])))
                at = _tail(pieces, end, draft, work)
                continue
            if (
                sign == "."
                and not _next_is_work(pieces, at + 1)
                and not _is_count_next(pieces, at + 1)
            ):
                at = _tail(pieces, at, draft, work)
                continue
        elif sign == "?" and _ends_work(work) and not any(_is_work(p) for p in pieces[at:]):
            # `(2 sc, dec) x 6 eyes here`: words behind the last stitches.
            at = _tail(pieces, at, draft, work)
            continue
        if _is_work(piece):
            stitches = True
        work.append(piece)
        at += 1
    return work


def _column(pieces: Sequence[Piece], at: int) -> int | None:
    """The number of a last column: `| 24 |`."""
    inside = [p for p in pieces[at:] if not (isinstance(p, Sign) and p.sign in "|pQ")]
    if len(inside) != 1:
        return None
    return _count_in(inside, None)


def _ends_work(work: Sequence[Piece]) -> bool:
    return bool(work) and isinstance(work[-1], Times | Fill)


def _is_work(piece: Piece) -> bool:
    return isinstance(piece, Act | Fill | Group | Times) or (
        isinstance(piece, Mark) and piece.what != "left"
    )


def _starred(pieces: Sequence[Piece]) -> bool:
    return any(isinstance(p, Sign) and p.sign in "*|" for p in pieces)


def _closing(pieces: Sequence[Piece], at: int) -> int:
    """Where the bracket opened at ``at`` closes; past the end if it does not."""
    opens, depth = pieces[at], 0
    assert isinstance(opens, Sign)
    for i in range(at, len(pieces)):
        piece = pieces[i]
        if isinstance(piece, Sign):
            if piece.sign == opens.sign:
                depth += 1
            elif piece.sign == PAIRS[opens.sign]:
                depth -= 1
                if depth == 0:
                    return i
    return len(pieces)


def _count_in(inside: Sequence[Piece], after: Piece | None) -> int | None:
    """The number of `(18)`, `[18 sts]`, `(18 sc)`, `(= 18)`, `(18 stitches in total)`."""
    if isinstance(after, Times) or not inside:
        return None
    if isinstance(after, Sign) and after.sign in "*O":
        return None
    number: int | None = None
    words = 0
    for piece in inside:
        if isinstance(piece, Act):
            option = piece.options[0].work
            if number is not None or len(option) != 1 or option[0][0] in ("skip",):
                return None
            kind, value = option[0]
            if kind not in ("sc", "hdc", "dc", "tr"):
                return None
            number = value
        elif isinstance(piece, Sign) and piece.sign == "n":
            if number is not None:
                return None
            number = piece.value
        elif isinstance(piece, Sign) and piece.sign in "pQ=.-:MI":
            continue
        elif isinstance(piece, Sign) and piece.sign == "?" and words < 3:
            words += 1
        else:
            return None
    return number


def _rounds_said(inside: Sequence[Piece]) -> int | None:
    """The number of `(4 rounds)`."""
    if (
        len(inside) == 2
        and isinstance(inside[0], Sign)
        and isinstance(inside[1], Sign)
        and inside[0].sign == "n"
        and inside[1].sign in "DW"
    ):
        return inside[0].value
    return None


def _more_work(pieces: Sequence[Piece], at: int, inside: Sequence[Piece]) -> bool:
    """Whether stitches follow in the same sentence: then `(2 sc)` was no count."""
    if not any(isinstance(piece, Act) for piece in inside):
        return False
    for piece in pieces[at:]:
        if isinstance(piece, Act | Fill | Group):
            return True
        if isinstance(piece, Sign) and piece.sign in ".?(":
            return False
    return False


def _is_count_next(pieces: Sequence[Piece], at: int) -> bool:
    """Whether another count stands right behind: `(12)(18)(27)`."""
    if at >= len(pieces):
        return False
    piece = pieces[at]
    if not (isinstance(piece, Sign) and piece.sign in PAIRS):
        return False
    close = _closing(pieces, at)
    after = pieces[close + 1] if close + 1 < len(pieces) else None
    return close < len(pieces) and _count_in(pieces[at + 1 : close], after) is not None


def _bare_count(pieces: Sequence[Piece], at: int, strict: bool) -> tuple[int, int] | None:
    """The count that begins at ``at``, and where it ends: `18`, `18 sts`, `(18)`.

    Strictly it is all there is up to the end of the sentence.
    """
    start = at
    while at < len(pieces) and isinstance(pieces[at], Sign) and pieces[at].sign in "Q:=I?(":  # type: ignore[union-attr]
        if at - start >= 4:
            return None
        at += 1
    if at >= len(pieces):
        return None
    piece = pieces[at]
    words = any(isinstance(p, Sign) and p.sign == "?" for p in pieces[start:at])
    if isinstance(piece, Sign) and piece.sign == "n":
        value = piece.value
    elif isinstance(piece, Act) and len(piece.options[0].work) == 1 and (
        piece.options[0].work[0][0] in ("sc", "hdc", "dc")
    ):
        value = piece.options[0].work[0][1]
    else:
        return None
    end = at + 1
    noun = isinstance(piece, Act)
    while end < len(pieces) and isinstance(pieces[end], Sign) and pieces[end].sign in "psQ":  # type: ignore[union-attr]
        noun = True
        end += 1
    if strict:
        last = pieces[end] if end < len(pieces) else None
        ends = last is None or (isinstance(last, Sign) and last.sign == ".")
        if not ends or (words and not noun):
            return None
        # A lone number behind a comma or full stop is a count only where nothing follows.
        lead = pieces[start - 1] if start else None
        if not noun and isinstance(lead, Sign) and lead.sign in ",;." and last is not None:
            return None
    return value, end


def _next_is_work(pieces: Sequence[Piece], at: int) -> bool:
    """Whether the sentence that begins here is stitches, and no remark that names some."""
    work = False
    for piece in pieces[at:]:
        if isinstance(piece, Sign) and piece.sign == "?":
            return False
        if isinstance(piece, Sign) and piece.sign == ".":
            break
        work = work or _is_work(piece)
    return work


def _tail(pieces: Sequence[Piece], at: int, draft: _Draft, work: list[Piece]) -> int:
    """What follows a count: a repeat or a mark that belongs to the work, else remarks."""
    rest = pieces[at:]
    if not rest:
        return at
    for piece in rest:
        if isinstance(piece, Mark):
            draft.marks.append(piece)
    if not draft.counts:
        _late_count(rest, draft)
    if rest and isinstance(rest[0], Sign) and rest[0].sign in ".,;:":
        rest = rest[1:]
    if rest:
        draft.remarks.append(_span(rest))
    return len(pieces)


def _late_count(rest: Sequence[Piece], draft: _Draft) -> None:
    """A count in brackets at the very end, behind remarks."""
    if len(rest) < 3 or not isinstance(rest[-1], Sign) or rest[-1].sign not in ")]}":
        return
    at = max((i for i, p in enumerate(rest) if isinstance(p, Sign) and p.sign in PAIRS), default=-1)
    if at < 0 or _closing(rest, at) != len(rest) - 1:
        return
    inside = rest[at + 1 : -1]
    words = any(isinstance(piece, Sign) and piece.sign not in "np" for piece in inside)
    count = None if words else _count_in(inside, None)
    if count is not None:
        draft.counts.append((count, _span(inside)))


def _span(pieces: Sequence[Piece]) -> Span:
    return Span(pieces[0].span.start, pieces[-1].span.end)


# ---- terminals of the grammar --------------------------------------------------------------------


def _terminals(pieces: Sequence[Piece], draft: _Draft) -> list[Terminal]:
    """Terminals for the grammar; clauses that hold no stitches become remarks."""
    out: list[Terminal] = []
    for clause in _clauses(pieces):
        _clause(clause, draft, out)
    _stars(out)
    _repeats(out)
    return out


def _clauses(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Pieces between separators, brackets and stars on their own."""
    clauses: list[list[Piece]] = [[]]
    for piece in pieces:
        if isinstance(piece, Sign) and piece.sign and piece.sign in SEPARATORS + "()[]{}*|":
            clauses += [[piece], []]
        else:
            clauses[-1].append(piece)
    return [clause for clause in clauses if clause]


def _clause(clause: list[Piece], draft: _Draft, out: list[Terminal]) -> None:
    first = clause[0]
    if isinstance(first, Sign) and first.sign and first.sign in SEPARATORS:
        out.append(Terminal("_SEP", None, first.span))
        return
    if isinstance(first, Sign) and first.sign in KINDS:
        out.append(Terminal(KINDS[first.sign], None, first.span))
        return
    if isinstance(first, Sign) and first.sign and first.sign in "*|":
        out.append(Terminal("STAR" if first.sign == "*" else "BAR", None, first.span))
        return
    if not any(_is_work(piece) or _is_end(piece) for piece in clause):
        _without_stitches(clause, draft, out)
        return
    for piece in clause:
        if isinstance(piece, Act | Fill | Group):
            out.append(Terminal("ACT", piece, piece.span))
        elif isinstance(piece, Times):
            out.append(Terminal("TIMES", piece, piece.span))
        elif isinstance(piece, Mark):
            draft.marks.append(piece)
        elif piece.sign == "O":
            out.append(Terminal("TIMES", Times(None, piece.span), piece.span))
        elif piece.sign == "?" or piece.sign == "n":
            draft.noise.append(piece.span)


def _is_end(piece: Piece) -> bool:
    return isinstance(piece, Sign) and piece.sign == "O"


def _without_stitches(clause: list[Piece], draft: _Draft, out: list[Terminal]) -> None:
    """A bare number is so many stitches; other words are a remark."""
    signs = [piece.sign for piece in clause if isinstance(piece, Sign)]
    draft.marks += [piece for piece in clause if isinstance(piece, Mark)]
    if "".join(signs) in ("n", "np"):
        number = next(p for p in clause if isinstance(p, Sign) and p.sign == "n")
        if number.value:
            act = plain("sc", number.value, number.span)
            out.append(Terminal("ACT", Act((*act.options, Option((), "no stitches")), act.span,
                                           "bare number"), number.span))
        return
    if "?" in signs or "n" in signs:
        draft.remarks.append(_span(clause))


def _stars(out: list[Terminal]) -> None:
    """Stars and bars made into brackets, or into times."""
    at = 0
    while at < len(out):
        # `(...) * 6`: a star before a bare number says times.
        here, after = out[at], out[at + 1] if at + 1 < len(out) else None
        if (
            here.kind == "STAR"
            and after is not None
            and isinstance(after.value, Act)
            and after.value.flag == "bare number"
            and at
            and out[at - 1].kind in ("RROUND", "RSQUARE", "RCURLY", "ACT")
        ):
            number = after.value.options[0].work[0][1]
            span = Span(here.span.start, after.span.end)
            out[at : at + 2] = [Terminal("TIMES", Times(number, span), span)]
        elif here.kind == "STAR" and after is not None and after.kind == "STAR":
            del out[at]
            continue
        at += 1
    for mark in ("STAR", "BAR"):
        _pair(out, mark)


def _pair(out: list[Terminal], mark: str) -> None:
    places = [i for i, terminal in enumerate(out) if terminal.kind == mark]
    if not places:
        return
    back = next(
        (i for i, t in enumerate(out) if isinstance(t.value, Times) and t.value.star), None
    )
    if len(places) % 2:
        if back is not None and places[-1] < back:
            # `*...; rep from *`: the repeat closes it.
            out.insert(back, Terminal(mark, None, out[back].span))
            places.append(back)
        elif places[-1] == _last_work(out) + 1 and (
            len(places) == 1 or places[0] > 0
        ):
            # A closing star alone: all that stands before it.
            out.insert(0, Terminal(mark, None, out[0].span))
            places = [0, *(i + 1 for i in places)]
        else:
            end = _last_work(out) + 1
            out.insert(end, Terminal(mark, None, out[-1].span))
            places.append(end)
    for i, place in enumerate(places):
        kind = "RSTAR" if i % 2 else "LSTAR"
        out[place] = Terminal(kind, None, out[place].span)
    for place in reversed(places[1::2]):
        follows = next((t for t in out[place + 1 :] if t.kind != "_SEP"), None)
        if follows is None or follows.kind != "TIMES":
            span = out[place].span
            out.insert(place + 1, Terminal("TIMES", Times(None, span), span))


def _last_work(out: list[Terminal]) -> int:
    """The place of the last stitches or closing bracket."""
    return max(
        (i for i, t in enumerate(out) if t.kind in ("ACT", "RROUND", "RSQUARE", "RCURLY")),
        default=-1,
    )


def _repeats(out: list[Terminal]) -> None:
    """Times stand right behind what is repeated; what no bracket holds gets one."""
    at = 0
    while at < len(out):
        terminal = out[at]
        if terminal.kind != "TIMES":
            at += 1
            continue
        said = terminal.value
        assert isinstance(said, Times)
        before = at - 1
        while before >= 0 and out[before].kind == "_SEP":
            before -= 1
        if before < 0:
            del out[at]
            continue
        apart = before != at - 1
        if out[before].kind[0] == "R":
            del out[before + 1 : at]
            at = before + 2
        elif out[before].kind == "ACT" and not said.rep and not (apart or said.number is None):
            at += 1
        elif out[before].kind == "TIMES":
            del out[at]
        else:
            # `3 sc, inc, repeat 6 times`, `5 sc, inc around`: all since the last bracket.
            start = before
            while start > 0 and out[start - 1].kind in ("ACT", "_SEP"):
                start -= 1
            while out[start].kind == "_SEP":
                start += 1
            span = out[start].span
            del out[before + 1 : at]
            out.insert(before + 1, Terminal("RSTAR", None, out[before].span))
            out.insert(start, Terminal("LSTAR", None, span))
            at = before + 4
