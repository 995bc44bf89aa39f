"""Routes for a written pattern of one's own: read, checked, drawn, mended.

The text travels in the form of each page; nothing of it is kept here.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import orjson
from flask import Blueprint, Response, redirect, render_template, request
from werkzeug.exceptions import RequestEntityTooLarge
from werkzeug.wrappers import Response as AnyResponse

from webapp.errors import RoundlingError
from webapp.own.files import write_file
from webapp.reading import ReadPattern
from webapp.reading.reading import read_pattern
from webapp.rework.figure import figure_of
from webapp.rework.writing import written
from webapp.web.addresses import LONGEST
from webapp.web.downloads import in_a_name, named
from webapp.web.editor import Editor
from webapp.web.read_contexts import ReadPage
from webapp.web.read_example import EXAMPLE
from webapp.web.read_input import LARGEST_BODY, Asked, asked_of, used_gauge
from webapp.web.read_mending import mend_at
from webapp.web.read_rework import Rework, panel_kept, rework_of
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
        return refusal(page.problems)
    data = figure_of(page.pattern, used_gauge(page.asked, page.pattern.gauge).gauge)
    return Response(orjson.dumps(data), mimetype="application/json")


@reading.post("/read/mended.txt")
def mended_text() -> Response:
    """The text mended, in our notation and the terms chosen."""
    page = read_page(handed_in())
    if page.pattern is None:
        return refusal(page.problems)
    if page.mend_problem is not None:
        return refusal({"text": page.mend_problem})
    return download(written(page.mended, chosen_terms(page)), page.title, "mended")


@reading.post("/read/rework")
def rework() -> Response:
    """The pattern worked anew: the panel alone when htmx asks, else the page with it."""
    page = read_page(handed_in(), only=request.form.get("only") == "yes")
    if page.pattern is None:
        return _page(page)
    panel = rework_of(page, request.form)
    if request.headers.get("HX-Request") != "true":
        return _page(page, panel=panel)
    return _answer("_read_rework.html", 422 if panel.problems else 200, page=page, rework=panel)


@reading.post("/read/rework.txt")
def reworked_text() -> Response:
    """The pattern worked anew, as a file."""
    page = read_page(handed_in())
    if page.pattern is None:
        return refusal(page.problems)
    panel = rework_of(page, request.form)
    if panel.problems:
        return refusal(panel.problems)
    return download(panel.text, page.title, "reworked")


@reading.post("/read/own")
def as_own() -> AnyResponse:
    """The pattern as a toy of one's own: the way to its address, or its file where it is too
    long for one."""
    page = read_page(handed_in())
    if page.pattern is None:
        return _page(page)
    if page.own_problem is not None:
        return _page(page, 422)
    # It is drawn for these stitches: in others its rounds would not be those that were read.
    editor = Editor(page.own.data, "", page.own_choices)
    if len(editor.here) <= LONGEST:
        return redirect(editor.here, 303)
    text = write_file(editor.data, editor.choices)
    return download(text, page.title, "toy", "application/json")


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
    if file is None or not file.filename:
        return asked_of(request.form, None)
    with file.stream as opened:
        return asked_of(request.form, opened)


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


def download(text: str, title: str, kind: str, mimetype: str = "text/plain") -> Response:
    """A text as a file, named after its pattern."""
    response = Response(text, mimetype=mimetype)
    ending = "json" if mimetype == "application/json" else "txt"
    return named(response, f"{in_a_name(title, 'pattern')}-{kind}.{ending}", saved=True)


def refusal(problems: Mapping[str, RoundlingError]) -> Response:
    """A file that cannot be: the first reason, in plain text."""
    return Response(f"{next(iter(problems.values()))}\n", 422, mimetype="text/plain")


def _page(page: ReadPage, status: int | None = None, panel: Rework | None = None) -> Response:
    """The whole page, or what changes of it when htmx asks."""
    fragment = request.headers.get("HX-Request") == "true"
    template = "_read_page.html" if fragment else "read.html"
    shown = panel if panel is not None or page.pattern is None else panel_kept(page, request.form)
    if status is None:
        status = 422 if page.problems or (panel is not None and panel.problems) else 200
    return _answer(template, status, page=page, rework=shown, fragment=fragment)


def _answer(template: str, status: int, **context: object) -> Response:
    response = Response(render_template(template, **context), status)
    # The page holds somebody's pattern: no cache is to keep it.
    response.headers["Cache-Control"] = "no-store"
    response.vary.add("HX-Request")
    return response
