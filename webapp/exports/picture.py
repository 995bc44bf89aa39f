"""The picture of the toy as a file: SVG of any width, and PNG drawn from it.

The PNG is rendered by resvg, which comes in one wheel and needs no browser and no fonts.
"""

from __future__ import annotations

import math
from enum import Enum

import resvg_py

PAPER = "#fbf5ea"
WIDTHS = (64, 4096)
"""Narrowest and widest picture, pixels: a PNG of the widest is two or three megabytes."""


STILL_STROKE = 4
"""Width of the strokes round the facets of the still picture, in its own units."""

OVERLAP_PIXELS = 2.5


class Background(Enum):
    """What lies behind the toy."""

    TRANSPARENT = "transparent"
    PAPER = "paper"


def picture_svg(still: str, width: int, background: Background) -> str:
    """The still picture (SVG, see :mod:`webapp.preview.still`) with a width in pixels and what
    lies behind it."""
    across, down = _sides(still)
    height = max(1, round(width * down / across))
    opening, rest = still.split(">", 1)
    # Facets overlap by their strokes: thinner than this, what lies behind shows at their seams.
    stroke = max(STILL_STROKE, math.ceil(OVERLAP_PIXELS * across / width))
    rest = rest.replace(f'<g stroke-width="{STILL_STROKE}"', f'<g stroke-width="{stroke}"')
    sized = f'{opening} width="{width}" height="{height}">'
    if background is Background.TRANSPARENT:
        return sized + rest
    # The title stays first, where readers of pictures look for it.
    title, drawing = rest.split("</title>", 1)
    sheet = f'<rect width="{across}" height="{down}" fill="{PAPER}"/>'
    return f"{sized}{title}</title>{sheet}{drawing}"


def picture_png(still: str, width: int, background: Background) -> bytes:
    """The same as PNG, ``width`` pixels wide."""
    drawn = picture_svg(still, width, background)
    return bytes(resvg_py.svg_to_bytes(svg_string=drawn, skip_system_fonts=True))


def _sides(still: str) -> tuple[int, int]:
    """Width and height of the drawing in its own units."""
    box = still.split('viewBox="', 1)[1].split('"', 1)[0]
    across, down = box.split()[2:]
    return int(across), int(down)
