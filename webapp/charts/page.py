"""A chart on its page: title, drawings side by side or below each other, legend, table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.charts.drawing import Drawing, use
from webapp.charts.glyphs import ORDER, symbols
from webapp.paper import at, document, text, text_width, wrapped
from webapp.yarns import TermSet

WIDTH = 182.0
TALL = 277.0
"""The height of an A4 page within its margins: what does not fit goes on to the next."""

GAP = 7.0
TITLE_SIZE = 4.2
SIZE = 2.5
LINE = 4.4
ROW = 3.7
LEGEND_MM = 16.0
COLUMN_MM = {False: 34.0, True: 40.0}
"""Width of a column of the table, without and with the letters of yarns."""

DEEPEST = 66
"""Rows of a column of the table on one page."""

BESIDE_MM = 108.0
"""A drawing no wider than this has legend and table beside it."""


@dataclass(frozen=True)
class YarnKey:
    """A yarn of the part: its key, its letter in the chart, its name, and how it is drawn."""

    colour: str
    letter: str
    name: str
    hex: str


@dataclass(frozen=True)
class TableRow:
    """Equal rounds in the table: which, stitches of each, the change at the first, the yarn."""

    label: str
    count: int
    change: int
    letter: str


def page(
    *,
    title: str,
    description: str,
    drawings: Sequence[Drawing],
    meanings: Mapping[str, str],
    yarns: Sequence[YarnKey],
    rows: Sequence[TableRow],
    in_rows: bool,
    words: TermSet,
    low: bool,
) -> str:
    """The whole SVG, page below page, nothing across the end of one."""
    placed, wide, y = _placed(drawings)
    used = {name for drawing in drawings for name in drawing.used}
    says = list(dict.fromkeys(line for drawing in drawings for line in drawing.says))
    beside = wide <= BESIDE_MM
    left, top = (wide + GAP, 10.0) if beside else (0.0, _room_for(LEGEND_MM, y + 4.0))
    if low:
        yarns = [replace(yarn, hex="none") for yarn in yarns]
    legend, below = _legend(used, meanings, yarns, says, (left, top), WIDTH - left)
    body = [text(0.0, 4.6, title, TITLE_SIZE, bold=True), placed, legend]
    bottom = max(y, below)
    if rows:
        lettered, y = len(yarns) > 1, below + 3.0
        for chunk in _chunks(rows, WIDTH - left, lettered):
            deep = ROW * (-(-len(chunk) // _columns(chunk, WIDTH - left, lettered)) + 1)
            corner = (left, _room_for(deep + 3.0, y))
            tabled, y = _table(chunk, in_rows, words, lettered, corner, WIDTH - left)
            body.append(tabled)
        bottom = max(bottom, y)
    tall = bottom + 2.0
    height = tall if tall <= TALL else -(-tall // TALL) * TALL
    inner = f"<defs>{symbols(used)}</defs>{''.join(body)}"
    return document(inner, (WIDTH + 2.0, height), title, description, low=low)


def _placed(drawings: Sequence[Drawing]) -> tuple[str, float, float]:
    """Drawings in lines across the page; also how wide the widest line is and where they end."""
    lines: list[list[Drawing]] = []
    wide = 0.0
    for drawing in drawings:
        if lines and wide + GAP + drawing.width <= WIDTH:
            lines[-1].append(drawing)
            wide += GAP + drawing.width
        else:
            lines.append([drawing])
            wide = drawing.width
    out: list[str] = []
    y, widest = 9.0, 0.0
    alone = len(drawings) == 1
    for line in lines:
        y = _room_for(max(d.height for d in line), y)
        total = sum(d.width for d in line) + GAP * (len(line) - 1)
        widest = max(widest, total)
        # A single large drawing stands in the middle of the page.
        x = max(0.0, (WIDTH - total) / 2.0) if alone and total > BESIDE_MM else 0.0
        for drawing in line:
            out.append(f'<g transform="{at(x, y)}">{drawing.body}</g>')
            x += drawing.width + GAP
        y += max(d.height for d in line) + 3.0
    return "".join(out), widest, y


def _legend(
    used: set[str],
    meanings: Mapping[str, str],
    yarns: Sequence[YarnKey],
    says: Sequence[str],
    corner: tuple[float, float],
    width: float,
) -> tuple[str, float]:
    """The symbols used and the yarns; also where it ends."""
    left, top = corner
    items: list[tuple[str, str]] = [
        (use(name, at(2.4, -0.9)), meanings[name]) for name in ORDER if name in used
    ]
    for yarn in yarns:
        swatch = (
            f'<rect x=".6" y="-2.3" width="3.4" height="2.8" fill="{yarn.hex}" '
            'stroke="currentColor" stroke-width=".2"/>'
        )
        items.append((swatch, f"{yarn.letter}: {yarn.name}"))
    x, y = left, top + 2.5
    out: list[str] = []
    for mark, words in items:
        lines = wrapped(words, width - 6.0, SIZE)
        wide = 9.0 + max(text_width(line, SIZE) for line in lines)
        if x > left and x + wide - 3.0 > left + width:
            x, y = left, y + LINE
        said = "".join(text(5.8, n * 3.2, line, SIZE) for n, line in enumerate(lines))
        out.append(f'<g transform="{at(x, y)}">{mark}{said}</g>')
        if len(lines) > 1:
            x, y = left, y + LINE + 3.2 * (len(lines) - 1)
        else:
            x += wide
    if x > left:
        y += LINE
    for line in (part for said in says for part in wrapped(said, width, SIZE)):
        out.append(text(left, y, line, SIZE))
        y += 3.4
    return f'<g class="legend">{"".join(out)}</g>', y


def _room_for(height: float, y: float) -> float:
    """Where something so high is placed: at ``y``, or on the next page where it would not fit."""
    ends = (y // TALL + 1.0) * TALL
    return y if y + height <= ends - 3.0 or height > TALL else ends + 5.0


def _columns(rows: Sequence[TableRow], width: float, lettered: bool) -> int:
    return max(1, min(int((width + 2.0) // COLUMN_MM[lettered]), -(-len(rows) // 6)))


def _chunks(
    rows: Sequence[TableRow], width: float, lettered: bool
) -> list[Sequence[TableRow]]:
    """The rows of a table, page by page where they are many."""
    most = DEEPEST * int((width + 2.0) // COLUMN_MM[lettered])
    return [rows[at : at + most] for at in range(0, len(rows), most)]


def _table(
    rows: Sequence[TableRow],
    in_rows: bool,
    words: TermSet,
    lettered: bool,
    corner: tuple[float, float],
    width: float,
) -> tuple[str, float]:
    """Rounds, counts and changes in columns, down each; also where it ends."""
    left, top = corner
    one = COLUMN_MM[lettered]
    columns = _columns(rows, width, lettered)
    deep = -(-len(rows) // columns)
    heads = (words.row if in_rows else words.rnd, words.sts, "change", "yarn")
    stops = (0.0, 18.0, 28.0, 36.0)
    out: list[str] = []
    for column in range(columns):
        x = left + column * one
        for head, stop in zip(heads if lettered else heads[:3], stops, strict=False):
            anchor = "" if stop in (0.0, 36.0) else "end"
            shift = 1.0 if stop == 36.0 else 0.0
            out.append(text(x + stop - shift * 5.5, top, head, 2.2, anchor=anchor, bold=True))
        for n, row in enumerate(rows[column * deep : (column + 1) * deep]):
            y = top + ROW * (n + 1)
            change = f"{row.change:+d}".replace("-", "−") if row.change else "="
            if n == column == 0:
                change = ""
            out.append(text(x, y, row.label, SIZE))
            out.append(text(x + stops[1], y, str(row.count), SIZE, anchor="end"))
            out.append(text(x + stops[2], y, change, SIZE, anchor="end"))
            if lettered:
                out.append(text(x + 30.5, y, row.letter, SIZE))
    return f'<g class="table">{"".join(out)}</g>', top + ROW * deep + 2.0
