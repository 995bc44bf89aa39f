"""Shapes: the smooth outline a part is asked to have, before any stitch is counted.

A shape turns a few lengths in mm into a :class:`Meridian`. Imports only :mod:`webapp.errors`.
Start reading at :mod:`webapp.shapes.meridian`; the catalogue is :mod:`webapp.shapes.catalogue`.
A strip worked in flat rows has no meridian and is in :mod:`webapp.shapes.strip`.
"""

from webapp.shapes.catalogue import RATIOS, SHAPES, ShapeKind, build_meridian
from webapp.shapes.meridian import Meridian, ellipse_girth, width_per_girth
from webapp.shapes.strip import Strip

__all__ = [
    "RATIOS",
    "SHAPES",
    "Meridian",
    "ShapeKind",
    "Strip",
    "build_meridian",
    "ellipse_girth",
    "width_per_girth",
]
