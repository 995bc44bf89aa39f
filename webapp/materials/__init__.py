"""Materials: yarn and thread of each colour, filling, eyes, hours, each with how sure it is.

Imports the worked toy of :mod:`webapp.assembly`.
Start reading at :mod:`webapp.materials.needs`; the model of yarn in a stitch is in ``yarn``, of
embroidery thread in ``thread``, the kinds of eyes in ``eyes``, the stuffed volume in ``filling``,
cautions about small parts and cords in ``cautions``.
"""

from webapp.materials.cautions import Caution, cautions_for
from webapp.materials.eyes import EyeNeed
from webapp.materials.filling import inner_volume_mm3
from webapp.materials.needs import (
    Estimate,
    Materials,
    ThreadNeed,
    YarnNeed,
    materials_for,
    rounded,
)
from webapp.materials.yarn import yarn_by_colour_mm

__all__ = [
    "Caution",
    "Estimate",
    "EyeNeed",
    "Materials",
    "ThreadNeed",
    "YarnNeed",
    "cautions_for",
    "inner_volume_mm3",
    "materials_for",
    "rounded",
    "yarn_by_colour_mm",
]
