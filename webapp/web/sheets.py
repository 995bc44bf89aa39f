"""The routes of designs beside each other: comparing some, and grading one."""

from __future__ import annotations

from urllib.parse import urlencode

from flask import Blueprint, Response, abort, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from webapp.errors import RoundlingError
from webapp.web.comparing import compare, compare_address, with_variant
from webapp.web.downloads import named, stem
from webapp.web.grading import Sheet, archive, grade
from webapp.web.toys import workshop
from webapp.yarns import CATEGORIES

sheets = Blueprint("sheets", __name__)

VARIANT = ("of", "change", "to")
"""Parameters of the form for a variant."""


@sheets.get("/compare")
def comparing() -> AnyResponse:
    """Up to four designs side by side; with ``of``, ``change`` and ``to`` one variant more."""
    given = [v for v in request.args.getlist("v") if v.strip()]
    form = {name: request.args.get(name, "") for name in VARIANT}
    problem = None
    if any(name in request.args for name in VARIANT):
        try:
            more = with_variant(workshop(), given, request.host, form)
            return redirect(compare_address(more), 303)
        except RoundlingError as error:
            problem = error
    page = compare(workshop(), given, request.host, problem, form)
    body = render_template("compare.html", page=page, toys=workshop().recipes.values())
    return Response(body, page.status)


@sheets.get("/toys/<toy>/grading")
def grading(toy: str) -> Response:
    """One design over yarn weights and finished heights."""
    sheet = _sheet(toy)
    body = render_template(
        "grading.html",
        sheet=sheet,
        categories=CATEGORIES,
        archive=f"/toys/{toy}/grading.zip?{urlencode(sheet.values)}",
    )
    return Response(body, sheet.status)


@sheets.get("/toys/<toy>/grading.zip")
def grading_archive(toy: str) -> Response:
    """All the patterns of a grading sheet, and a summary."""
    sheet = _sheet(toy)
    problems = [sheet.problem, *(row.problem for row in sheet.rows)]
    if not any(row.toy for row in sheet.rows):
        said = next(problem for problem in problems if problem is not None)
        status = sheet.status if sheet.status != 200 else 422
        return Response(f"{said}\n", status, mimetype="text/plain")
    response = Response(archive(sheet), mimetype="application/zip")
    return named(response, f"{stem(sheet.addressed.recipe)}-grading.zip", saved=True)


def _sheet(toy: str) -> Sheet:
    try:
        return grade(workshop(), toy, request.args.to_dict(flat=False)) or abort(404)
    except RoundlingError as error:
        # A toy of one's own that is none; what is wrong with a sheet stands on it.
        abort(Response(f"{error}\n", 400, mimetype="text/plain"))
