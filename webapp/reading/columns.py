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
    r"(?P<work>(?![:.)\]=*x|-] )[^\n]{2,300}?)(?P<space> {1,8}\d{1,3} {0,4})?$",
    re.MULTILINE,
)
_NAMES = {
    "number": (
        *("rnd", "rnds", "round", "rounds", "row", "rows", "r", "rd", "runde", "reihe", "tour"),
        *("rang", "rg", "vuelta", "v", "giro", "carr", "carreira", "toer", "no", "nr", "n°"),
    ),
    "work": (
        *("work", "instructions", "instruction", "what to do", "stitches to work", "pattern"),
        *("directions", "description", "anleitung", "was", "explications", "instrucciones"),
        *("lavorazione", "istruzioni", "instruções", "uitleg", "beschreibung", "stitch pattern"),
    ),
    "count": (
        *("sts", "st", "stitches", "total", "count", "stitch count", "sum", "anzahl", "summe", "m"),
        *("gesamt", "nombre", "totale", "totaal", "aantal", "total sts", "no of sts", "tot", "#"),
        *("maschen", "mailles", "puntos", "punti", "maglie", "pontos", "steken"),
    ),
    "part": ("part", "piece", "teil", "partie", "pièce", "parte", "pieza", "pezzo", "peça", "deel"),
}
"""Names that heads of columns have: common practice, no source."""
_PARTING = "|;\t,"
_CELL = re.compile(r'(?:^|(?<=,))(?:"[^"\n]{0,400}"|[^,"\n]{0,400})(?=,|$)')
"""A cell of a table parted by commas, which may stand in quotes."""
_NOT_BLANK = re.compile(r"[^\n\r]")
_NUMBER = re.compile(r"\s*(?:[A-Za-z]{1,5}\.? ?)?\d{1,3}(?:\s?[-–]\s?\d{1,3})?\s*")
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


def tables_parted(text: str) -> str:
    """The text with rows below a head of columns (`Rnd | Colour | Work | Sts`, also with tabs or
    semicolons) as `number:work=count`, other columns blank; a column of parts makes headings."""
    if sum(map(text.count, _PARTING)) < FEWEST - 1:
        return text
    lines = text.split("\n")
    columns: list[str] = []
    sign, part = "", ""
    for at, line in enumerate(lines):
        found = _columns_of(line)
        if found is not None:
            (sign, columns), part = found, ""
            lines[at] = _NOT_BLANK.sub(" ", line)
        elif columns and len(cells := _cells(line, sign)) == len(columns):
            row = dict(zip(columns, cells, strict=True))
            lines[at] = _row(row, cells, columns, part) or line
            part = row.get("part", "")
        elif line.strip():
            columns = []
    return "\n".join(lines)


def _cells(line: str, sign: str) -> list[str]:
    """The cells of a row, as long as they were: quotes round them become spaces."""
    if sign != ",":
        return line.split(sign)
    cells = [cell[0] for cell in _CELL.finditer(line.rstrip("\r"))]
    return [f" {cell[1:-1]} " if cell[:1] == '"' and cell[1:] else cell for cell in cells]


def _columns_of(line: str) -> tuple[str, list[str]] | None:
    """What the columns of a head are, and the sign between them."""
    for sign in _PARTING:
        cells = [cell.strip(" \r*#.\"").lower() for cell in _cells(line, sign)]
        if len(cells) < FEWEST:
            continue
        kinds = [next((k for k, names in _NAMES.items() if cell in names), "") for cell in cells]
        if "work" not in kinds and kinds.count("count") == 2:
            # `Rd | Maschen | Anzahl`: the stitches, and how many they are.
            kinds[kinds.index("count")] = "work"
        if kinds.count("number") == kinds.count("work") == 1 and kinds.count("count") < 2:
            return sign, kinds
    return None


def _row(row: dict[str, str], cells: list[str], columns: list[str], part: str) -> str | None:
    """A row with its cells parted by the signs of a label and a count, as long as it was."""
    if not _NUMBER.fullmatch(row["number"]):
        return _NOT_BLANK.sub(" ", "|".join(cells)) if set("".join(cells)) <= set("-: =") else None
    out = []
    for kind, cell in zip(columns, cells, strict=True):
        if kind == "number":
            out.append(f"{cell}:")
        elif kind == "work":
            out.append(f"{cell} ")
        elif kind == "count" and cell.strip() and columns.index("work") < columns.index("count"):
            out[-1] = f"{out[-1][:-1]}="
            out.append(f"{cell} ")
        elif kind == "part" and cell != part and columns.index("number") > columns.index("part"):
            out.append(f"{cell}\n")
        else:
            out.append(" " * (len(cell) + 1))
    return "".join(out)[: len("|".join(cells))]


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
