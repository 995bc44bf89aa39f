"""The app with its 3D view left undrawn, for tests that look at everything else.

Drawn in software, a figure keeps a processor busy for seconds, and the library that draws it is
5 MB to compile on every page. The page's own scripts, the figures they ask for and what they do
once one is drawn stay as they are: only the library is another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

LIBRARY = "/library/plotly.js"

STAND_IN = b"""// Takes the figures that a page wants drawn, and draws nothing.
window.Plotly = {
  async react(holder, data, layout) {
    Object.assign(holder, { data, layout, on() {} });
    return holder;
  },
};
"""
"""Only what every page needs: a test that does more with the view has to have it drawn."""


def undrawn(app: Callable[..., Iterable[bytes]]) -> Callable[..., Iterable[bytes]]:
    """The same app (WSGI), but for the library that draws."""

    def serve(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        if environ["PATH_INFO"] != LIBRARY:
            return app(environ, start)
        start("200 OK", [("Content-Type", "text/javascript"), ("Cache-Control", "max-age=3600")])
        return [STAND_IN]

    return serve
