"""The table beside a chart: rounds, their stitches, and by how many they changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.paper import text, text_width
from webapp.yarns import TermSet

SIZE = 2.5
HEAD_SIZE = 2.2
ROW = 3.7
GAP_MM = 3.0
BETWEEN_MM = 7.0
"""Between two columns of a line, and between two lines side by side."""

DEEPEST = 66
"""Rows of a column of the table on one page."""

LEAST_DEEP = 6


@dataclass(frozen=True)
class TableRow:
    """Equal rounds in the table: which, stitches of each, the change at the first, the yarn."""

    label: str
    count: int
    change: int
    letter: str

    def cells(self, first: bool) -> tuple[str, str, str, str]:
        change = f"{self.change:+d}".replace("-", "−") if self.change else "="
        return self.label, str(self.count), "" if first else change, self.letter


@dataclass(frozen=True)
class Table:
    """Lines of cells under ``heads``, on so much room, mm; ``edges`` are where the cells of a line
    begin (the first and the fourth) or end (those between), ``wide`` how wide a line is."""

    heads: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]
    edges: tuple[float, ...]
    wide: float
    room: float

    @property
    def columns(self) -> int:
        """How many lines stand side by side."""
        fit = int((self.room + BETWEEN_MM) // (self.wide + BETWEEN_MM))
        return max(1, min(fit, -(-len(self.lines) // LEAST_DEEP)))

    @property
    def deep(self) -> int:
        return -(-len(self.lines) // self.columns)

    @property
    def height(self) -> float:
        return ROW * (self.deep + 1)


def tables(
    rows: Sequence[TableRow], in_rows: bool, words: TermSet, lettered: bool, room: float
) -> list[Table]:
    """The rows as one table, or as one for each page where they are many."""
    cells = 4 if lettered else 3
    name = words.row if in_rows else words.rnd
    heads = (name, words.sts, "+/−", words.say("yarn"))[:cells]
    lines = tuple(row.cells(n == 0)[:cells] for n, row in enumerate(rows))
    widths = [
        max(text_width(head, HEAD_SIZE, bold=True), *(text_width(cell, SIZE) for cell in column))
        for head, column in zip(heads, zip(*lines, strict=True), strict=True)
    ]
    starts = [sum(widths[:n]) + GAP_MM * n for n in range(cells)]
    edges = tuple(
        start + (width if n in (1, 2) else 0.0)
        for n, (start, width) in enumerate(zip(starts, widths, strict=True))
    )
    whole = Table(heads, lines, edges, starts[-1] + widths[-1], room)
    most = DEEPEST * whole.columns
    return [
        Table(heads, lines[at : at + most], edges, whole.wide, room)
        for at in range(0, len(lines), most)
    ]


def table_svg(table: Table, left: float, top: float) -> str:
    """A table with its heads at ``top``, its lines in columns, down each."""
    out: list[str] = []
    for column in range(table.columns):
        x = left + column * (table.wide + BETWEEN_MM)
        out += _line(table, table.heads, x, top, HEAD_SIZE, bold=True)
        for n, line in enumerate(table.lines[column * table.deep : (column + 1) * table.deep]):
            out += _line(table, line, x, top + ROW * (n + 1), SIZE)
    return f'<g class="table">{"".join(out)}</g>'


def _line(
    table: Table, cells: Sequence[str], x: float, y: float, size: float, *, bold: bool = False
) -> list[str]:
    anchors = ("", "end", "end", "")
    return [
        text(x + edge, y, cell, size, anchor=anchor, bold=bold)
        for cell, edge, anchor in zip(cells, table.edges, anchors, strict=False)
    ]
