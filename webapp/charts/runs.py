"""Symbols with numbers, a round a line: for rounds that are too long for a page otherwise.

A number before a symbol says how many of it, brackets with a number after them how often what is
inside is worked; it is the wording of the round, in symbols.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from webapp.charts.drawing import Drawing, use
from webapp.charts.lanes import Lane
from webapp.paper import at, number, text, text_width
from webapp.rounds import Group, Run, shortest

ROW_MM = 4.2
SIZE = 2.5
GAP_MM = 1.1
COLUMN_MM = 86.0
CAPTION_MM = 7.0
CLOSING_MM = 8.0
"""Kept free in each line: what is behind a bracket stays with it."""

SYMBOL_MM = {"sc": 2.4, "inc": 3.2, "dec": 3.4}


@dataclass(frozen=True)
class Piece:
    """A word or a symbol of a line; ``times`` is how often it is worked all told."""

    text: str
    kind: str = ""
    times: int = 1

    @property
    def width(self) -> float:
        return SYMBOL_MM[self.kind] if self.kind else text_width(self.text, SIZE)


def runs(lanes: Sequence[Lane], coloured: dict[str, str]) -> Drawing:
    """The lanes as lines, the first on top."""
    lettered = len(coloured) > 1
    labels = [f"{lane.label} {lane.letter}" if lettered else lane.label for lane in lanes]
    start = 2.0 + max(text_width(label, SIZE, bold=True) for label in labels)
    ends = 2.0 + max(text_width(f"[{lane.count}]", SIZE) for lane in lanes)
    y = CAPTION_MM + ROW_MM / 2.0
    body = [
        text(0.0, 2.6, "Long rounds in short, read from left to right", SIZE, bold=True),
        text(0.0, 5.6, "number before a symbol: how many; × after brackets: how often", 2.2),
    ]
    for lane, label in zip(lanes, labels, strict=True):
        lines = _lines(lane, COLUMN_MM - start - ends)
        body.append(_group(lane, label, lines, (start, y), coloured))
        y += ROW_MM * len(lines)
    kinds = {kind for lane in lanes for kind in lane.stitches}
    return Drawing("".join(body), COLUMN_MM, y - ROW_MM / 2.0, frozenset(kinds))


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
    if lane.is_band:
        out.append(text(x, middle + 0.9, f", {lane.times} rounds alike", SIZE))
    out.append(text(COLUMN_MM, middle + 0.9, f"[{lane.count}]", SIZE, anchor="end"))
    times = f' data-times="{lane.times}"' if lane.is_band else ""
    return (
        f'<g class="round" data-round="{lane.first}"{times} aria-label="{escape(lane.words)}">'
        f"{''.join(out)}</g>"
    )


def _lines(lane: Lane, width: float) -> list[list[Piece]]:
    """The pieces of a lane in lines no wider than ``width``."""
    arcs = lane.arcs
    half = len(arcs) // 2
    items: tuple[Run | Group, ...]
    if half and arcs[:half] == arcs[half:]:
        items = (Group(tuple(i for arc in arcs[:half] for i in shortest(arc)), 2),)
    else:
        items = tuple(i for arc in arcs for i in shortest(arc))
    lines: list[list[Piece]] = [[]]
    x = 0.0
    reserved = text_width(f", {lane.times} rounds alike", SIZE) if lane.is_band else 0.0
    for piece in _pieces(items, 1):
        closing = piece.text.startswith(")")
        if lines[-1] and not closing and x + piece.width > width - reserved - CLOSING_MM:
            lines.append([])
            x = 0.0
        lines[-1].append(piece)
        x += piece.width + GAP_MM
    return lines


def _pieces(items: Sequence[Run | Group], times: int) -> Iterator[Piece]:
    for item in items:
        if isinstance(item, Group) and len(item.items) == 1 and not isinstance(
            item.items[0], Group
        ):
            kind, many = item.items[0]
            item = (kind, many * item.times)
        if isinstance(item, Group):
            yield Piece("(")
            yield from _pieces(item.items, times * item.times)
            yield Piece(f") × {item.times}")
        else:
            kind, many = item
            if many > 1:
                yield Piece(str(many))
            yield Piece("", kind, many * times)
