"""Publishing: the pattern as a PDF that can be sold (PDF/UA-1, fonts embedded, same bytes again).

Imports :mod:`webapp.way`, ``pattern``, ``preview``, ``exports``, ``charts`` and ``pictures``. Start
reading at :mod:`webapp.publish.pdf`; what may be asked for is in ``options``, charts and pictures
come from ``drawn``, what the template ``sheet.typ`` is given is in ``data``.
"""

from webapp.publish.drawn import drawings_of
from webapp.publish.options import OPTIONS, Drawings, SheetOptions, read_options
from webapp.publish.pdf import pattern_pdf

__all__ = ["OPTIONS", "Drawings", "SheetOptions", "drawings_of", "pattern_pdf", "read_options"]
