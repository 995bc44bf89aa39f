"""The web face: reads an address into a design, calls the core, and renders. No arithmetic.

The only stage that knows Flask; imports :mod:`webapp.way`, ``pattern`` and ``preview``.
Start reading at :mod:`webapp.web.pages` (the routes); addresses are read in ``fields``, what a
page shows is gathered in ``contexts``.
"""

from webapp.web.app import create_app

__all__ = ["create_app"]
