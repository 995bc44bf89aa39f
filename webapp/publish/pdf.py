"""The sheet set as a PDF, by typst: PDF/UA-1, tagged, its fonts within it, no date."""

from __future__ import annotations

import re
from pathlib import Path

import orjson
import typst

from webapp.errors import RoundlingError
from webapp.publish.data import sheet_data
from webapp.publish.fonts import fonts
from webapp.publish.options import LONGEST, NO_DRAWINGS, Drawings, SheetOptions
from webapp.way import Toy

TEMPLATE = Path(__file__).with_name("sheet.typ").read_bytes()

_MISSING = re.compile(r'the text `"(.{1,12}?)"` could not be displayed')
_ESCAPED = re.compile(r"\\u\{([0-9a-f]{1,6})\}")
"""How typst writes a character that cannot be seen."""


def pattern_pdf(
    made: Toy, options: SheetOptions, drawings: Drawings = NO_DRAWINGS
) -> bytes:
    """The PDF of a toy, with charts and assembly pictures where some are given.

    The same design, options and drawings give the same bytes.

    Raises :class:`RoundlingError` for a character that the fonts have not.
    """
    data = orjson.dumps(sheet_data(made, options, drawings)).decode()
    try:
        found = typst.compile(
            TEMPLATE,
            sys_inputs={"data": data},
            font_paths=fonts(),
            pdf_standards="ua-1",
            format="pdf",
            timestamp=0,
        )
    except typst.TypstError as error:
        missing = _MISSING.search(str(error))
        if missing is None:
            raise
        letter = _ESCAPED.sub(lambda found: chr(int(found[1], 16)), missing[1])
        shown = letter if letter.isprintable() else f"U+{ord(letter[0]):04X}"
        raise RoundlingError(
            asked=f"The PDF was to show “{shown}”.",
            why="The fonts that it carries have no such character.",
            nearest="Write it in Latin, Greek, Cyrillic, Hebrew, Arabic or Japanese letters.",
            field=next((name for name in LONGEST if letter in getattr(options, name)), "toy"),
        ) from error
    assert isinstance(found, bytes)
    return found
