"""The work of a line as terminals of the grammar: stars and bars are made into brackets here, so
that the grammar of :mod:`webapp.reading.structure` need not guess what they are."""

from __future__ import annotations

from collections.abc import Sequence

from webapp.reading.cutting import Cut
from webapp.reading.meanings import plain
from webapp.reading.model import Span
from webapp.reading.nodes import Act, Fill, Group, Option
from webapp.reading.pieces import Mark, Piece, Sign, Times, is_sign, is_work, span_of
from webapp.reading.structure import Terminal

SEPARATORS = ",;.:&/-"
CLOSES = ("RROUND", "RSQUARE", "RCURLY", "RANGLE")
KINDS = {
    "(": "LROUND",
    ")": "RROUND",
    "[": "LSQUARE",
    "]": "RSQUARE",
    "{": "LCURLY",
    "}": "RCURLY",
    "<": "LANGLE",
    ">": "RANGLE",
}


def terminals(draft: Cut) -> list[Terminal]:
    """Terminals for the grammar; clauses that hold no stitches become remarks."""
    out: list[Terminal] = []
    clauses = _clauses(draft.work)
    last = max((at for at, clause in enumerate(clauses) if any(map(_is_stitch, clause))), default=0)
    for at, clause in enumerate(clauses):
        _clause(clause, draft, out, between=bool(out) and at < last)
    _stars(out)
    _repeats(out)
    return out


def _clauses(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Pieces between separators, brackets and stars on their own."""
    clauses: list[list[Piece]] = [[]]
    for piece in pieces:
        if isinstance(piece, Sign) and piece.sign and piece.sign in SEPARATORS + "()[]{}<>*|":
            clauses += [[piece], []]
        elif _says_times(clauses):
            clauses += [[piece]]
        else:
            clauses[-1].append(piece)
    return [clause for clause in clauses if clause]


def _says_times(clauses: list[list[Piece]]) -> bool:
    """Whether the clause is the 6 of `(x v) * 6 9x`: what comes behind it is another."""
    full = [clause for clause in clauses if clause][-3:]
    if len(full) < 3 or full[-1] is not clauses[-1] or len(full[-1]) > 1:
        return False
    closes, star, number = (clause[0] for clause in full)
    return is_sign(closes, ")]}") and is_sign(star, "*") and is_sign(number, "n")


def _is_stitch(piece: Piece) -> bool:
    return isinstance(piece, Act | Fill | Group)


def _clause(clause: list[Piece], draft: Cut, out: list[Terminal], between: bool) -> None:
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
    if not any(is_work(piece) or _is_end(piece) for piece in clause):
        inside = sum({"L": 1, "R": -1}.get(terminal.kind[0], 0) for terminal in out) > 0
        _without_stitches(clause, draft, out, inside, between)
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


def _without_stitches(
    clause: list[Piece], draft: Cut, out: list[Terminal], inside: bool, between: bool
) -> None:
    """A bare number is so many stitches; other words are a remark, ``inside`` brackets not, and
    one word ``between`` stitches not."""
    signs = [piece.sign for piece in clause if isinstance(piece, Sign)]
    draft.marks += [piece for piece in clause if isinstance(piece, Mark)]
    if "".join(signs) in ("n", "np"):
        number = next(p for p in clause if isinstance(p, Sign) and p.sign == "n")
        closed = bool(out) and out[-1].kind in CLOSES
        if closed and len(signs) == 1 and draft.counts and number.value:
            # `(3 sc, inc)6 [30]`: the count stands elsewhere, so this is how often.
            out.append(Terminal("TIMES", Times(number.value, number.span), number.span))
        elif number.value:
            # A number of stitches is them; a number alone may be a label or a count.
            act = plain("sc", number.value, number.span)
            if len(signs) == 1:
                ways = (*act.options, Option((), "no stitches"))
                act = Act(ways, number.span, "bare number")
            out.append(Terminal("ACT", act, number.span))
        return
    said = "".join(signs)
    if inside or said in ("n?", "?n", "n?p", "?np?", "?n?") or (between and said in ("?", "?p")):
        # Within brackets, or with a number, these may be stitches by a name not known.
        draft.noise += [p.span for p in clause if is_sign(p, "?")]
    elif "?" in signs or "n" in signs:
        draft.remarks.append(span_of(clause))


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
            and out[at - 1].kind in (*CLOSES, "ACT")
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
        (i for i, t in enumerate(out) if t.kind in ("ACT", *CLOSES)),
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
        elif out[before].kind == "ACT" and not (
            said.rep or said.all or apart or said.number is None
        ):
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
