"""Symbols with numbers, a round a line: for rounds that are too long for a page otherwise.

A number before a symbol says how many of it, brackets with a number after them how often what is
inside is worked; it is the wording of the round, in symbols.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from webapp.charts.drawing import Drawing, caption, use
from webapp.charts.lanes import Lane, rounds_text
from webapp.paper import at, number, text, text_width
from webapp.rounds import Group, Run, shortest
from webapp.yarns import TermSet

ROW_MM = 4.2
SIZE = 2.5
GAP_MM = 1.1
COLUMN_MM = 86.0
SYMBOL_MM = {"sc": 2.4, "inc": 3.4, "dec": 3.8, "sl-st": 2.0, "cut": 2.0}


@dataclass(frozen=True)
class Piece:
    """A word or a symbol of a line; ``times`` is how often it is worked all told, ``stays`` that it
    is not parted from the one before."""

    text: str
    kind: str = ""
    times: int = 1
    stays: bool = False

    @property
    def width(self) -> float:
        return SYMBOL_MM[self.kind] if self.kind else text_width(self.text, SIZE)


def runs(
    lanes: Sequence[Lane], coloured: dict[str, str], words: TermSet, ends: Sequence[str]
) -> Drawing:
    """The lanes as lines, the first on top; ``ends`` stand behind the last."""
    lettered = len(coloured) > 1
    labels = [f"{lane.label} {lane.letter}" if lettered else lane.label for lane in lanes]
    start = 2.0 + max(text_width(label, SIZE, bold=True) for label in labels)
    stop = 2.0 + max(text_width(f"[{lane.count}]", SIZE) for lane in lanes)
    said, top = caption(
        words.say("Long rounds in short, read from left to right"),
        words.say("number before a symbol: how many; after brackets: how often"),
        COLUMN_MM,
    )
    y = top + ROW_MM / 2.0
    body = [said]
    for lane, label in zip(lanes, labels, strict=True):
        pieces = [*_pieces(_items(lane), 1, words)]
        if lane.is_band:
            alike = words.say("({rounds} alike)", rounds=rounds_text(lane.times, words))
            pieces.append(Piece(alike))
        if lane is lanes[-1]:
            pieces += [Piece("", kind, 0, stays=n > 0) for n, kind in enumerate(ends)]
        lines = _lines(pieces, COLUMN_MM - start - stop)
        body.append(_group(lane, label, lines, (start, y), coloured))
        y += ROW_MM * len(lines)
    kinds = {kind for lane in lanes for kind in lane.stitches}
    return Drawing("".join(body), COLUMN_MM, y - ROW_MM / 2.0, frozenset({*kinds, *ends}))


def _group(
    lane: Lane,
    label: str,
    lines: list[list[Piece]],
    corner: tuple[float, float],
    coloured: dict[str, str],
) -> str:
    start, y = corner
    out = []
    if len(coloured) > 1 and coloured[lane.colour]:
        out.append(
            f'<rect x="0" y="{number(y - ROW_MM / 2.0)}" width="{number(start - 1.0)}" '
            f'height="{number(ROW_MM * len(lines))}" fill="{coloured[lane.colour]}" '
            'fill-opacity=".3" class="yarn"/>'
        )
    out.append(text(0.3, y + 0.9, label, SIZE, bold=True))
    for n, line in enumerate(lines):
        x, middle = start, y + n * ROW_MM
        for piece in line:
            if piece.kind:
                times = f' data-times="{piece.times}"' if piece.times > 1 else ""
                out.append(use(piece.kind, at(x + piece.width / 2.0, middle), times))
            else:
                out.append(text(x, middle + 0.9, piece.text, SIZE))
            x += piece.width + GAP_MM
    out.append(text(COLUMN_MM, middle + 0.9, f"[{lane.count}]", SIZE, anchor="end"))
    times = f' data-times="{lane.times}"' if lane.is_band else ""
    return (
        f'<g class="round" data-round="{lane.first}"{times} aria-label="{escape(lane.words)}">'
        f"{''.join(out)}</g>"
    )


def _items(lane: Lane) -> tuple[Run | Group, ...]:
    """The shortest wording of a lane, arc by arc; two halves alike are said once."""
    arcs = lane.arcs
    half = len(arcs) // 2
    if half and arcs[:half] == arcs[half:]:
        return (Group(tuple(i for arc in arcs[:half] for i in shortest(arc)), 2),)
    return tuple(i for arc in arcs for i in shortest(arc))


def _lines(pieces: Sequence[Piece], width: float) -> list[list[Piece]]:
    """Pieces in lines no wider than ``width``, a number beside its symbol."""
    lines: list[list[Piece]] = [[]]
    x = 0.0
    for cluster in _clusters(pieces):
        wide = sum(piece.width + GAP_MM for piece in cluster)
        if lines[-1] and x + wide > width:
            lines.append([])
            x = 0.0
        lines[-1] += cluster
        x += wide
    return lines


def _clusters(pieces: Sequence[Piece]) -> Iterator[list[Piece]]:
    """Pieces that are not parted."""
    cluster: list[Piece] = []
    for piece in pieces:
        if cluster and not piece.stays:
            yield cluster
            cluster = []
        cluster.append(piece)
    if cluster:
        yield cluster


def _pieces(
    items: Sequence[Run | Group], times: int, words: TermSet, opened: bool = False
) -> Iterator[Piece]:
    """What items are written as; what follows an ``opened`` bracket stays with it."""
    for item in items:
        if isinstance(item, Group) and len(item.items) == 1 and not isinstance(
            item.items[0], Group
        ):
            kind, many = item.items[0]
            item = (kind, many * item.times)
        if isinstance(item, Group):
            yield Piece("(", stays=opened)
            yield from _pieces(item.items, times * item.times, words, opened=True)
            times_said = words.say("{number} times over", number=item.times)
            yield Piece(f") {times_said}", stays=True)
        else:
            kind, many = item
            if many > 1:
                yield Piece(str(many), stays=opened)
            yield Piece("", kind, many * times, stays=opened or many > 1)
        opened = False
