"""Preview: the toy drawn from its whole stitches, for the 3D view and as a still picture.

Imports :mod:`webapp.assembly` and :mod:`webapp.materials`; writes plain dicts and SVG text.
Start reading at :mod:`webapp.preview.surfaces` (points of the fabric), then ``figure`` (data for
plotly) and ``still`` (the server-drawn views).
"""

from webapp.preview.figure import figure_json
from webapp.preview.still import still_svg
from webapp.preview.surfaces import Surface, surfaces_of

__all__ = ["Surface", "figure_json", "still_svg", "surfaces_of"]
