"""Routes for a written pattern of one's own: read, checked, drawn, mended.

The text travels in the form of each page; nothing of it is kept here.
"""

from __future__ import annotations

import re

import orjson
from flask import Blueprint, Response, render_template, request
from werkzeug.exceptions import RequestEntityTooLarge

from webapp.errors import RoundlingError
from webapp.reading import ReadPattern
from webapp.reading.reading import read_pattern
from webapp.rework.figure import figure_of
from webapp.rework.mending import plain_of
from webapp.rework.writing import written
from webapp.web.read_contexts import ReadPage
from webapp.web.read_example import EXAMPLE
from webapp.web.read_input import LARGEST_BODY, Asked, asked_of, used_gauge
from webapp.web.read_mending import mend_at
from webapp.yarns import Terms, TermSet, term_set

reading = Blueprint("reading", __name__)

MEND = re.compile(r"([0-9]{1,7})-([0-9]{1,7})")
"""Which mend to make: the characters that it changes."""


@reading.before_request
def _limit() -> None:
    """A pattern is long for a form; what is longer still is refused before it is held."""
    request.max_content_length = LARGEST_BODY
    request.max_form_memory_size = LARGEST_BODY


@reading.get("/read")
def begin() -> Response:
    """The box to paste a pattern into."""
    return _page(ReadPage(Asked("")))


@reading.post("/read")
def read() -> Response:
    """The reading of a text; with ``mend`` the text is changed first."""
    asked = handed_in()
    if request.form.get("example"):
        asked = Asked(EXAMPLE)
    page = read_page(asked, only=request.form.get("only") == "yes")
    chosen = MEND.fullmatch(request.form.get("mend", ""))
    if page.pattern is not None and chosen:
        page = mend_at(page, int(chosen[1]), int(chosen[2]), read_page)
    return _page(page)


@reading.post("/read/figure.json")
def figure() -> Response:
    """The figure of a text's parts for the 3D view."""
    page = read_page(handed_in())
    if page.pattern is None:
        return refusal(page)
    data = figure_of(page.pattern, used_gauge(page.asked, page.pattern.gauge).gauge)
    return Response(orjson.dumps(data), mimetype="application/json")


@reading.post("/read/mended.txt")
def mended_text() -> Response:
    """The text mended, in our notation and the terms chosen."""
    page = read_page(handed_in())
    if page.pattern is None:
        return refusal(page)
    words = chosen_terms(page)
    plain, _ = plain_of(page.pattern, page.again, page.known_gauge)
    return download(written(plain, words), page.title, "mended")


@reading.errorhandler(RequestEntityTooLarge)
def too_large(_error: RequestEntityTooLarge) -> Response:
    """A body past the limit: the empty box again, with the reason."""
    error = RoundlingError(
        asked="A very long text was handed in.",
        why=f"More than {LARGEST_BODY / 1e6:g} MB is not taken.",
        nearest="Give one pattern at a time, as text and without pictures.",
        field="text",
    )
    return _page(ReadPage(Asked("").with_problem(error)), 413)


def handed_in() -> Asked:
    """What this request's form hands in."""
    file = request.files.get("file")
    given = file.stream if file is not None and file.filename else None
    return asked_of(request.form, given)


def read_page(asked: Asked, only: bool = False) -> ReadPage:
    """The page of a text: with its reading, or with why there is none."""
    pattern: ReadPattern | None = None
    if not asked.problems.keys() & {"text", "words"}:
        try:
            pattern = read_pattern(asked.text, asked.language)
        except RoundlingError as error:
            asked = asked.with_problem(error)
    return ReadPage(asked, pattern, only=only)


def chosen_terms(page: ReadPage) -> TermSet:
    """US or UK words, as the form says; those of the text where it says neither."""
    given = request.form.get("terms", page.terms)
    return term_set(Terms(given if given in ("us", "uk") else page.terms))


def download(text: str, title: str, kind: str) -> Response:
    """A text as a file, named after its pattern."""
    response = Response(text, mimetype="text/plain")
    name = "-".join(re.findall(r"[a-z0-9]+", title.lower()))[:60] or "pattern"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}-{kind}.txt"'
    return response


def refusal(page: ReadPage) -> Response:
    """A file that cannot be: the first reason, in plain text."""
    error = next(iter(page.problems.values()))
    return Response(f"{error}\n", 422, mimetype="text/plain")


def _page(page: ReadPage, status: int | None = None) -> Response:
    """The whole page, or what changes of it when htmx asks."""
    fragment = request.headers.get("HX-Request") == "true"
    template = "_read_page.html" if fragment else "read.html"
    response = Response(render_template(template, page=page, fragment=fragment))
    response.status_code = page.status if status is None else status
    response.headers["Cache-Control"] = "no-store"
    response.vary.add("HX-Request")
    return response
