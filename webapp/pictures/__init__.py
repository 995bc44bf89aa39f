"""Pictures for sewing together: line drawings of the toy from three sides, and of its parts apart.

Imports :mod:`webapp.preview` (its surfaces), :mod:`webapp.pattern` (its words) and what lies below
them. Start reading at :mod:`webapp.pictures.assembly`; what hides what is found in ``depth``, its
outlines in ``outlines``, the words beside them in ``labels`` and their places in ``margins``, where
parts go when they are apart in ``apart`` and the lines to them in ``ways``.
"""

from webapp.pictures.assembly import assembly_svg, assembly_svgs
from webapp.pictures.views import View

__all__ = ["View", "assembly_svg", "assembly_svgs"]
