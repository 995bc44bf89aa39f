"""Tables that lost their rules: `2 inc x 6 12` is round 2, six increases, 12 stitches.

A row is one of a table only where its number goes on from the row before, from 1, and most rows
end in a count; signs are put for the spaces between columns, so that no character moves.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

FEWEST = 3
"""Rows of a table."""
APART = 3
"""Lines that may stand between two rows: words on stuffing and colours."""

_ROW = re.compile(
    r"^ {0,8}(?P<a>\d{1,3})(?: ?- ?(?P<b>\d{1,3}))?(?P<gap> {1,8})"
    r"(?P<work>(?![:.)\]=*x-] )[^\n]{2,300}?)(?P<space> {1,8}\d{1,3} {0,4})?$",
    re.MULTILINE,
)
_LETTER = re.compile(r"[^\W\d_]")
_TIMES = re.compile(r"[x*]$|\b(?:times|mal|fois|veces|volte|vezes|keer)$", re.IGNORECASE)
_BRACKET = re.compile(r"[(\[]=?\s?\d{1,3}[^()\[\]]{0,14}[)\]]\.?$")


def columns_parted(text: str) -> str:
    """The text with `:` behind the numbers of such rows, and `=` before their counts."""
    for rows in _tables(text):
        counted = [_count_at(row) is not None for row in rows]
        closed = [_BRACKET.search(row["work"]) is not None for row in rows]
        if 2 * sum(counted) <= len(rows) and 2 * sum(closed) <= len(rows):
            continue
        letters = list(text)
        for row in rows:
            letters[row.start("gap")] = ":"
            at = _count_at(row)
            if at is not None and 2 * sum(counted) > len(rows):
                letters[at] = "="
        text = "".join(letters)
    return text


def _count_at(row: re.Match[str]) -> int | None:
    """Where the space before the count of a row is, if it has one."""
    if row["space"] is None or _TIMES.search(row["work"].rstrip()):
        return None
    return row.start("space")


def _tables(text: str) -> Iterator[list[re.Match[str]]]:
    """Runs of rows whose numbers go on from 1."""
    rows: list[re.Match[str]] = []
    due = 1
    for row in _ROW.finditer(text):
        if not _LETTER.search(row["work"]):
            continue
        first, last = int(row["a"]), int(row["b"] or row["a"])
        near = not rows or text.count("\n", rows[-1].end(), row.start()) <= APART + 1
        if first != due or last < first or not near:
            if len(rows) >= FEWEST:
                yield rows
            rows, due = [], 1
        if first == due and last >= first:
            rows.append(row)
            due = last + 1
    if len(rows) >= FEWEST:
        yield rows
