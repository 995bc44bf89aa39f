"""The route of the printed sheet."""

from __future__ import annotations

from flask import Blueprint, Response, request

from webapp.errors import RoundlingError
from webapp.publish import OPTIONS, pattern_pdf, read_options
from webapp.web.pages import _made, _recipe, _refusal

publishing = Blueprint("publishing", __name__)


@publishing.get("/toys/<toy>/pattern.pdf")
def pattern_file(toy: str) -> Response:
    """The pattern as a PDF."""
    recipe = _recipe(toy)
    made, reading = _made(recipe, extra=OPTIONS)
    if isinstance(made, RoundlingError):
        return _refusal(made, reading)
    try:
        body = pattern_pdf(made, read_options(request.args.to_dict(flat=False)))
    except RoundlingError as error:
        return Response(f"{error}\n", 400, mimetype="text/plain")
    response = Response(body, mimetype="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{toy}-pattern.pdf"'
    return response
