"""A chart on its page: title, drawings side by side or below each other, legend, table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.charts.drawing import Drawing, use
from webapp.charts.glyphs import ORDER, symbols
from webapp.charts.table import TableRow, table_svg, tables
from webapp.paper import at, document, text, text_width, wrapped
from webapp.yarns import TermSet

WIDTH = 182.0
TALL = 277.0
"""The height of an A4 page within its margins: what does not fit goes on to the next."""

GAP = 7.0
TITLE_SIZE = 4.2
SIZE = 2.5
LINE = 4.4
LEGEND_MM = 16.0

BESIDE_MM = 108.0
"""A drawing no wider than this has legend and table beside it."""


@dataclass(frozen=True)
class YarnKey:
    """A yarn of the part: its key, its letter in the chart, its name, and how it is drawn."""

    colour: str
    letter: str
    name: str
    hex: str


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
    named = [(yarn.hex, f"{yarn.letter}{words.manner.colon}{yarn.name}") for yarn in yarns]
    legend, below = _legend(used, meanings, named, says, (left, top), WIDTH - left)
    body = [*_title(title), placed, legend]
    bottom = max(y, below)
    if rows:
        y = below + 3.0
        for table in tables(rows, in_rows, words, len(yarns) > 1, WIDTH - left):
            y = _room_for(table.height + 3.0, y)
            body.append(table_svg(table, left, y))
            y += table.height - 1.7
        bottom = max(bottom, y)
    tall = bottom + 2.0
    height = tall if tall <= TALL else -(-tall // TALL) * TALL
    inner = f"<defs>{symbols(used)}</defs>{''.join(body)}"
    paper = (WIDTH + 2.0, height)
    return document(inner, paper, title, description, lang=words.terms.tag, low=low)


def _title(words: str) -> list[str]:
    """On one line, smaller where it is long."""
    wide = text_width(words, TITLE_SIZE, bold=True)
    size = TITLE_SIZE * min(1.0, WIDTH / wide)
    return [text(0.0, 4.6, words, size, bold=True)]


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
    yarns: Sequence[tuple[str, str]],
    says: Sequence[str],
    corner: tuple[float, float],
    width: float,
) -> tuple[str, float]:
    """The symbols used and the yarns (#rrggbb, what is said of them); also where it ends."""
    left, top = corner
    items: list[tuple[str, str]] = [
        (use(name, at(2.4, -0.9)), meanings[name]) for name in ORDER if name in used
    ]
    for colour, named in yarns:
        swatch = (
            f'<rect x=".6" y="-2.3" width="3.4" height="2.8" fill="{colour}" '
            'stroke="currentColor" stroke-width=".2"/>'
        )
        items.append((swatch, named))
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
