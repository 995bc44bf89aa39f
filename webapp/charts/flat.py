"""Rows, to and fro: odd rows from right to left, even ones back, each from its turning chain."""

from __future__ import annotations

from html import escape

from webapp.charts.drawing import Drawing, use
from webapp.charts.glyphs import WIDE_MM
from webapp.paper import at, text, text_width
from webapp.pattern.starts import start_text
from webapp.pattern.wording import turned, work_text
from webapp.pattern.words import round_words, stitches_text
from webapp.reading import Begin
from webapp.rounds import Work, WorkedStrip
from webapp.yarns import TermSet

ROW_MM = 3.6
NUMBER_SIZE = 2.4
DRAWN_ROWS = 3
"""Rows drawn one by one; the others are alike and gathered in a band."""

LONGEST = 48
"""The most stitches of a row that fit on a page; a longer row is one symbol and its number."""


def flat(part: WorkedStrip, words: TermSet) -> Drawing:
    """The rows of a strip, the chain below."""
    many = part.per_row if part.per_row <= LONGEST else 1
    rows = [(n, n) for n in range(1, min(DRAWN_ROWS, part.rows) + 1)]
    if part.rows > DRAWN_ROWS:
        rows.append((DRAWN_ROWS + 1, part.rows))
    labels = (f"{a}–{b}" if b > a else str(a) for a, b in rows)
    side = 6.0 + max(text_width(label, NUMBER_SIZE, bold=True) for label in labels)
    each = stitches_text(part.per_row, words)
    says = words.say("{number} rows, {stitches} each", number=part.rows - DRAWN_ROWS, stitches=each)
    note = text_width(says, NUMBER_SIZE)
    width = 2.0 * max(side, note + 8.0) + WIDE_MM * many
    left = (width - WIDE_MM * many) / 2.0
    height = ROW_MM * (len(rows) + 1) + 2.0
    y = height - ROW_MM / 2.0 - 1.0
    chain = "".join(use("ch", at(left + WIDE_MM * (n + 0.5), y)) for n in range(many))
    body = [f'<g class="begin">{chain}</g>']
    for first, last in rows:
        y -= ROW_MM
        body.append(_row(part, (first, last), (left, y), many, words))
        if last > first:
            x = left - 4.4 if first % 2 else left + WIDE_MM * many + 4.4
            body.append(text(x, y + 0.85, says, NUMBER_SIZE, anchor="end" if first % 2 else ""))
    end = left - 1.8 if part.rows % 2 else left + WIDE_MM * many + 1.8
    body.append(f'<g class="end">{use("cut", at(end, y))}</g>')
    notes: tuple[str, ...] = ()
    if many < part.per_row:
        notes = (
            words.say("Each row is {stitches} alike, of which one is drawn.", stitches=each),
        )
    used = frozenset(("sc", "ch", "start", "cut"))
    return Drawing("".join(body), width, height, used, notes)


def _row(
    part: WorkedStrip,
    span: tuple[int, int],
    corner: tuple[float, float],
    many: int,
    words: TermSet,
) -> str:
    first, last = span
    left, y = corner
    to_left = first % 2 == 1
    right = left + WIDE_MM * many
    edge, out = (right, 1.0) if to_left else (left, -1.0)
    stitches = "".join(use("sc", at(left + WIDE_MM * (n + 0.5), y)) for n in range(many))
    turning = use("ch", at(edge + 0.9 * out, y + 0.6) + "rotate(90)")
    arrow = use("start", at(edge + 3.4 * out, y) + ("rotate(180)" if to_left else ""))
    label = str(first) if first == last else f"{first}–{last}"
    named = text(
        edge + 5.2 * out, y + 0.85, label, NUMBER_SIZE, bold=True, anchor="" if to_left else "end"
    )
    times = (last - first + 1) * part.per_row // many
    more = f' data-times="{times}"' if times > 1 else ""
    said = escape(_said(part, span, words))
    return (
        f'<g class="round" data-round="{first}"{more} aria-label="{said}">'
        f"{turning}{arrow}{named}{stitches}</g>"
    )


def _said(part: WorkedStrip, span: tuple[int, int], words: TermSet) -> str:
    """A row, or equal rows, in words."""
    row: Work = (("sc", part.per_row),)
    text = f"{turned(words)}{work_text((row,), words, 'across')}"
    if span[0] == 1:
        text = start_text(Begin.FLAT, row, words, chain=part.per_row + 1)
    return f"{round_words(*span, words, True)}{words.manner.colon}{text} [{part.per_row}]"
