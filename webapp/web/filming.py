"""The routes of filming a toy and of stitching along."""

from __future__ import annotations

from collections.abc import Callable

from flask import Blueprint, Response, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from webapp.errors import RoundlingError
from webapp.film import subrip, webvtt
from webapp.web.asking import Refusal, made_design, refused_page
from webapp.web.assets import stamped
from webapp.web.downloads import named, stem
from webapp.web.files import static_folder
from webapp.web.film_pages import BOXES, FilmPage, along_page, clock_text, film_page, script_of
from webapp.web.film_values import read_film
from webapp.web.languages import tag

filming = Blueprint("filming", __name__)

ALONG_FILES = ("/static/roundling.css", "/static/along.css", "/static/roundling.svg",
               "/static/along_store.js", "/static/along_words.js", "/static/along_steps.js",
               "/static/along.js", "/static/along_device.js", "/static/along_list.js")  # fmt: skip
"""What the pages of stitching along need besides themselves."""


@filming.get("/toys/<toy>/film")
def film(toy: str) -> AnyResponse:
    """Caption cards, one a round."""
    page = _film(toy)
    if isinstance(page, Refusal):
        return refused_page(page)
    if page.problems:
        return Response(render_template("film.html", page=page, clock=clock_text), 400)
    if page.values.untidy:
        return redirect(page.address, 303)
    return Response(render_template("film.html", page=page, clock=clock_text))


@filming.get("/toys/<toy>/captions.vtt")
def captions_vtt(toy: str) -> Response:
    """The captions as WebVTT."""
    return _file(toy, "captions.vtt", "text/vtt", lambda p: webvtt(p.name, p.cues))


@filming.get("/toys/<toy>/captions.srt")
def captions_srt(toy: str) -> Response:
    """The captions as SubRip, which has no media type of its own."""
    return _file(toy, "captions.srt", "text/plain", lambda p: subrip(p.cues))


@filming.get("/toys/<toy>/script.txt")
def script(toy: str) -> Response:
    """What is said while it is filmed."""
    return _file(toy, "script.txt", "text/plain", script_of)


@filming.get("/toys/<toy>/along")
def along(toy: str) -> AnyResponse:
    """One round at a time, with a counter."""
    found = made_design(toy, request.args.to_dict(flat=False))
    if isinstance(found, Refusal):
        return refused_page(found)
    page = along_page(*found)
    return Response(render_template("along.html", page=page, files=_along_files()))


@filming.get("/along")
def under_way() -> str:
    """What is under way on this device; the list is the browser's own."""
    return render_template("along_list.html", files=_along_files())


@filming.get("/along/worker.js")
def worker() -> Response:
    """The script that answers for pages of stitching along where there is no network.

    It has a stamp of its own, and may be registered for the pages of any toy.
    """
    body = (static_folder() / "along_worker.js").read_text(encoding="utf-8")
    response = Response(body, mimetype="text/javascript")
    response.headers["Service-Worker-Allowed"] = "/"
    return response


def _along_files() -> list[str]:
    return [stamped(address) for address in ALONG_FILES]


def _film(toy: str) -> FilmPage | Refusal:
    """The film asked for."""
    try:
        values = read_film(request.args.to_dict(flat=False))
        found = made_design(toy, values.design, boxes=BOXES)
        return found if isinstance(found, Refusal) else film_page(*found, values)
    except RoundlingError as error:
        return Refusal(error, 400)


def _file(toy: str, name: str, kind: str, write: Callable[[FilmPage], str]) -> Response:
    """A file of a film, or a plain refusal."""
    page = _film(toy)
    if isinstance(page, Refusal):
        return Response(f"{page.error}\n", page.status, mimetype="text/plain")
    for problem in page.problems.values():
        return Response(f"{problem}\n", 400, mimetype="text/plain")
    response = Response(write(page))
    response.headers["Content-Language"] = tag(page.terms) or "en"
    response.headers["Content-Type"] = f"{kind}; charset=utf-8"
    return named(response, f"{stem(page.recipe)}-{name}")
