"""The fonts of the sheet: those inside typst, and one for Japanese from its package."""

from __future__ import annotations

from functools import cache

import pylopdf_fonts_jp
import typst


@cache
def fonts() -> typst.Fonts:
    """The same on every machine: none of its own are looked for."""
    return typst.Fonts(
        include_system_fonts=False, font_paths=[str(pylopdf_fonts_jp.serif_path().parent)]
    )
