"""The materials as CSV: RFC 4180, a row for each thing to have at hand."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from webapp.assembly import WorkedToy
from webapp.materials import Estimate, Materials
from webapp.materials.thread import SKEIN_METRES
from webapp.recipes import EyeKind

COLUMNS = (
    "item", "quantity", "unit", "least", "most", "colour", "colour_code", "buy", "how_sure",
)  # fmt: skip

STARTS_A_FORMULA = "=+-@＝＋－＠"
"""Signs at which programs for tables take a cell for a formula, wide forms with them."""

Row = tuple[str, str, str, str, str, str, str, str, str]


def materials_csv(toy: WorkedToy, materials: Materials) -> str:
    """The materials as a table with a heading; lines end with CR LF.

    No cell can be taken for a formula, whatever somebody calls a colour: an apostrophe goes before
    it, which is how such a cell is written by hand.
    """
    written = io.StringIO(newline="")
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows(toy, materials):
        writer.writerow([_plain(cell) for cell in row])
    return written.getvalue()


def _rows(toy: WorkedToy, materials: Materials) -> Iterator[Row]:
    category = toy.design.category
    yarn = f"{category.name} yarn, category {category.number}, {toy.design.fibre.value}"
    for need in materials.yarns:
        colour = toy.recipe.colours[need.colour]
        balls = "ball" if need.balls == 1 else "balls"
        buy = f"{need.balls} {balls} of {need.ball_grams} g ({need.ball_metres} m)"
        yield _measured(yarn, need.metres, "m", 1, (colour.name, colour.hex), buy)
    for thread in materials.threads:
        skeins = "skein" if thread.skeins == 1 else "skeins"
        buy = f"{thread.skeins} {skeins} of {SKEIN_METRES:g} m"
        item = "Embroidery thread, six strands"
        yield _measured(item, thread.metres, "m", 1, (thread.name, thread.hex), buy)
    hook = materials.hook
    us = f" (US {hook.us})" if hook.us else ""
    yield _counted(f"Crochet hook, {hook.mm:g} mm{us}", 1)
    eyes = materials.eyes
    if eyes is not None and eyes.kind is not EyeKind.EMBROIDERED:
        kind = "Safety eyes" if eyes.kind is EyeKind.SAFETY else "Buttons for eyes"
        yield _counted(f"{kind}, {eyes.stock_mm} mm", 2, eyes.why)
    yield _measured("Polyester toy filling", materials.filling_grams, "g", 0)
    yield _counted("Yarn needle", 1)
    if materials.threads:
        yield _counted("Embroidery needle", 1)


def _measured(
    item: str,
    amount: Estimate,
    unit: str,
    digits: int,
    colour: tuple[str, str] = ("", ""),
    buy: str = "",
) -> Row:
    value, low, high = (f"{n:.{digits}f}" for n in (amount.value, amount.low, amount.high))
    return (item, value, unit, low, high, *colour, buy, amount.how_sure)


def _counted(item: str, number: int, how_sure: str = "") -> Row:
    text = str(number)
    return (item, text, "piece" if number == 1 else "pieces", text, text, "", "", "", how_sure)


def _plain(cell: str) -> str:
    """A cell of one line that is no formula."""
    line = " ".join(cell.split())
    return f"'{line}" if line[:1] in STARTS_A_FORMULA and line else line
