"""Assembly: where every worked part sits on the toy, and what is sewn to what, in stitches.

Imports the worked parts of :mod:`webapp.rounds` and the recipe's words for places.
Start reading at :mod:`webapp.assembly.place`; a part's own axes are in ``frames``; the rounds and
stitches of each seam and of the eyes are in ``seams``, embroidered lines in ``lines``.
"""

from webapp.assembly.drape import FABRIC, draped
from webapp.assembly.frames import FRONT, RIGHT, UP, Frame
from webapp.assembly.legs import eight, leaving_the_legs
from webapp.assembly.lines import FabricLine
from webapp.assembly.place import (
    Placed,
    PlacedPart,
    PlacedStrip,
    Size,
    half_widths,
    place_parts,
    size_of,
)
from webapp.assembly.seams import (
    EyePlace,
    MarkPlace,
    Seam,
    eye_place,
    mark_place,
    plain_count,
    round_at,
    seam_of,
)
from webapp.assembly.sizes import part_sizes
from webapp.assembly.toy import PartSize, WorkedToy

__all__ = [
    "FABRIC",
    "FRONT",
    "RIGHT",
    "UP",
    "EyePlace",
    "FabricLine",
    "Frame",
    "MarkPlace",
    "PartSize",
    "Placed",
    "PlacedPart",
    "PlacedStrip",
    "Seam",
    "Size",
    "WorkedToy",
    "draped",
    "eight",
    "eye_place",
    "half_widths",
    "leaving_the_legs",
    "mark_place",
    "part_sizes",
    "place_parts",
    "plain_count",
    "round_at",
    "seam_of",
    "size_of",
]
