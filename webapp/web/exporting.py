"""The routes of files for other programs: picture, shape, materials, and the schema of data."""

from __future__ import annotations

import orjson
from flask import Blueprint, Response, request
from werkzeug.exceptions import HTTPException

from webapp.errors import RoundlingError
from webapp.exports import (
    RESULT_SCHEMA_ADDRESS,
    Background,
    materials_csv,
    picture_png,
    picture_svg,
    result_schema,
    shape_glb,
)
from webapp.exports.picture import WIDTHS
from webapp.preview import still_svg
from webapp.way import Toy
from webapp.web.addresses import brief
from webapp.web.asking import Refusal, made_design
from webapp.web.downloads import named, stem

exporting = Blueprint("exporting", __name__)

USUAL_WIDTH = 1200
OF_PICTURES = ("width", "background", "view")
VIEWS = {"both": ("front", "side"), "front": ("front",), "side": ("side",)}


@exporting.get(RESULT_SCHEMA_ADDRESS)
def schema() -> Response:
    """The JSON Schema of ``toy.json``."""
    text = orjson.dumps(result_schema(), option=orjson.OPT_INDENT_2)
    return Response(text, mimetype="application/schema+json")


@exporting.get("/toys/<toy>/preview.svg")
def preview_svg(toy: str) -> Response:
    """The picture as SVG; ``width`` in pixels, ``background`` transparent or paper, ``view``."""
    made, still, width, background = _picture(toy)
    svg = picture_svg(still, width, background)
    return _file(made, svg, "image/svg+xml; charset=utf-8", ".svg")


@exporting.get("/toys/<toy>/preview.png")
def preview_png(toy: str) -> Response:
    """The same as PNG."""
    made, still, width, background = _picture(toy)
    return _file(made, picture_png(still, width, background), "image/png", ".png")


@exporting.get("/toys/<toy>/shape.glb")
def shape(toy: str) -> Response:
    """The sewn toy as binary glTF 2.0, in metres."""
    made = _made(toy)
    data = shape_glb(made.worked, made.materials.eyes)
    return _file(made, data, "model/gltf-binary", ".glb")


@exporting.get("/toys/<toy>/materials.csv")
def materials(toy: str) -> Response:
    """What to have at hand, as a table."""
    made = _made(toy)
    table = materials_csv(made.worked, made.materials)
    return _file(made, table, "text/csv; charset=utf-8; header=present", "-materials.csv")


def _file(made: Toy, body: str | bytes, kind: str, ending: str) -> Response:
    response = Response(body)
    response.headers["Content-Type"] = kind
    return named(response, f"{stem(made.worked.recipe)}{ending}")


def _refused(error: RoundlingError, status: int) -> HTTPException:
    """The refusal as plain text, to be raised."""
    return HTTPException(response=Response(f"{error}\n", status, mimetype="text/plain"))


def _made(toy: str, extra: tuple[str, ...] = ()) -> Toy:
    """The toy of this request's address; ``extra`` are values of the file and not of the design.

    Answers 404 for a toy that is not known, 400 for a value that cannot be, and 422 for a part
    that cannot be made, with the three sentences.
    """
    values = {k: v for k, v in request.args.to_dict(flat=False).items() if k not in extra}
    found = made_design(toy, values)
    if isinstance(found, Refusal):
        raise _refused(found.error, found.status)
    return found[1]


def _picture(toy: str) -> tuple[Toy, str, int, Background]:
    """The toy, its still picture, and the width and background asked for."""
    made = _made(toy, OF_PICTURES)
    try:
        width = _width(_once("width", str(USUAL_WIDTH)))
        backgrounds = {background.value: background for background in Background}
        background = backgrounds[_word("background", tuple(backgrounds))]
        views = VIEWS[_word("view", tuple(VIEWS))]
    except RoundlingError as error:
        raise _refused(error, 400) from error
    return made, still_svg(made.worked, made.materials.eyes, views=views), width, background


def _width(text: str) -> int:
    low, high = WIDTHS
    plain = text.isascii() and text.isdigit() and len(text) <= 6
    if not plain or not low <= int(text) <= high:
        raise RoundlingError(
            asked=f"Width: {brief(text)} was asked for.",
            why="A picture is a whole number of pixels wide, and neither tiny nor huge.",
            nearest=f"It can be {low} to {high}.",
            field="width",
        )
    return int(text)


def _word(name: str, known: tuple[str, ...]) -> str:
    """One of a few words, the first if none is given."""
    given = _once(name, known[0])
    if given not in known:
        raise RoundlingError(
            asked=f"{name.capitalize()}: {brief(given)} was asked for.",
            why="There is none of that name.",
            nearest=f"Ask for {', '.join(known[:-1])} or {known[-1]}.",
            field=name,
        )
    return given


def _once(name: str, usual: str) -> str:
    given = request.args.getlist(name) or [usual]
    if len(given) > 1:
        raise RoundlingError(
            asked=f"{name.capitalize()} was given {len(given)} times.",
            why="It can have one value.",
            nearest="Give it once.",
            field=name,
        )
    return given[0]
