"""The route of the printed sheet, and a small memory of those lately set.

A page may ask ahead (HEAD) whether there will be a sheet; the one it then fetches is at hand.
"""

from __future__ import annotations

from functools import lru_cache
from threading import Lock

from flask import Blueprint, Response, request

from webapp.errors import RoundlingError
from webapp.publish import OPTIONS, SheetOptions, drawings_of, pattern_pdf, read_options
from webapp.way import Toy
from webapp.web.downloads import named, stem
from webapp.web.pages import asked_recipe, made_toy, refusal

publishing = Blueprint("publishing", __name__)

REMEMBERED = 4
_ONE_AT_A_TIME = Lock()
"""Who asks for a sheet that is being made waits for that one."""


@publishing.get("/toys/<toy>/pattern.pdf")
def pattern_file(toy: str) -> Response:
    """The pattern as a PDF."""
    recipe = asked_recipe(toy)
    made, reading = made_toy(recipe, extra=OPTIONS)
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    try:
        options = read_options(request.args.to_dict(flat=False))
        with _ONE_AT_A_TIME:
            body = _sheet(made, options)
    except RoundlingError as error:
        return Response(f"{error}\n", 400, mimetype="text/plain")
    response = Response(body, mimetype="application/pdf")
    return named(response, f"{stem(recipe)}-pattern.pdf")


@lru_cache(maxsize=REMEMBERED)
def _sheet(made: Toy, options: SheetOptions) -> bytes:
    return pattern_pdf(made, options, drawings_of(made, options))
