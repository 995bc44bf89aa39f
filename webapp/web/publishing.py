"""The route of the printed sheet."""

from __future__ import annotations

from flask import Blueprint, Response, request

from webapp.errors import RoundlingError
from webapp.publish import OPTIONS, drawings_of, pattern_pdf, read_options
from webapp.web.pages import asked_recipe, made_toy, refusal

publishing = Blueprint("publishing", __name__)


@publishing.get("/toys/<toy>/pattern.pdf")
def pattern_file(toy: str) -> Response:
    """The pattern as a PDF."""
    recipe = asked_recipe(toy)
    made, reading = made_toy(recipe, extra=OPTIONS)
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    try:
        options = read_options(request.args.to_dict(flat=False))
        body = pattern_pdf(made, options, drawings_of(made, options))
    except RoundlingError as error:
        return Response(f"{error}\n", 400, mimetype="text/plain")
    response = Response(body, mimetype="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{toy}-pattern.pdf"'
    return response
