"""Routes of what is drawn for paper: a chart of each part, and pictures for sewing together."""

from __future__ import annotations

from typing import NoReturn

from flask import Blueprint, Response, abort

from webapp.charts import chart_svg
from webapp.errors import RoundlingError
from webapp.pictures import View, assembly_svg
from webapp.web.pages import asked_recipe, made_toy, refusal
from webapp.yarns import term_set

drawings = Blueprint("drawings", __name__)

POLICY = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"
"""A drawing brings its own few lines of style, for dark screens, and may load nothing."""


@drawings.get("/toys/<toy>/chart/<part>.svg")
def chart(toy: str, part: str) -> Response:
    """The chart of one part."""
    recipe = asked_recipe(toy)
    made, reading = made_toy(recipe)
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    found = next((p for p in made.worked.recipe.parts if p.name == part), None)
    if found is None:
        names = ", ".join(p.name for p in recipe.parts)
        _there_is_none(f"There is no part {part[:24]!r}. This toy has {names}.")
    return _svg(chart_svg(made.worked, found, term_set(made.worked.design.terms)))


@drawings.get("/toys/<toy>/assembly/<view>.svg")
def assembly(toy: str, view: str) -> Response:
    """The toy from a side, or its parts apart."""
    recipe = asked_recipe(toy)
    made, reading = made_toy(recipe)
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    if view not in [known.value for known in View]:
        names = ", ".join(known.value for known in View)
        _there_is_none(f"There is no picture {view[:24]!r}. There are {names}.")
    terms = term_set(made.worked.design.terms)
    return _svg(assembly_svg(made.worked, made.materials.eyes, View(view), terms))


def _svg(drawn: str) -> Response:
    response = Response(drawn, mimetype="image/svg+xml")
    response.headers["Content-Security-Policy"] = POLICY
    return response


def _there_is_none(words: str) -> NoReturn:
    abort(Response(f"{words}\n", 404, mimetype="text/plain"))
