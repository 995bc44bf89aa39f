"""Routes for toys of one's own: beginning one, editing it, its file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from urllib.parse import parse_qsl

import orjson
from flask import Blueprint, Response, abort, redirect, render_template, request
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response as AnyResponse

from webapp.errors import RoundlingError
from webapp.own.beginnings import empty_toy, from_recipe
from webapp.own.editing import problem_of
from webapp.own.files import LARGEST, read_file, write_file
from webapp.own.naming import Data
from webapp.own.packing import unpack
from webapp.own.schema import file_schema
from webapp.recipes import SLIDERS, Recipe
from webapp.web.contexts import Page
from webapp.web.downloads import in_a_name, named
from webapp.web.editor import (
    NOT_CHOICES,
    OWN,
    Editor,
    given_twice,
    own_reading,
    own_recipe,
    packed_once,
)
from webapp.web.fields import Reading, read_design
from webapp.web.stepping import refused, step
from webapp.web.toys import workshop

own = Blueprint("own", __name__)


@own.get("/own")
def begin() -> str:
    """Where a toy of one's own begins."""
    return render_template("own_start.html", toys=workshop().recipes.values(), error=None)


@own.get("/own/empty")
def empty() -> AnyResponse:
    """An empty table."""
    return redirect(Editor(empty_toy(), "toy", {}).here)


@own.get("/own/from/<toy>")
def from_shipped(toy: str) -> AnyResponse:
    """A shipped toy as one's own, with the choices of this address."""
    recipe = workshop().recipes.get(toy) or abort(404)
    try:
        _check_choices(recipe)
    except RoundlingError as error:
        return Response(f"{error}\n", 400, mimetype="text/plain")
    choices = _given_choices()
    return redirect(Editor(from_recipe(recipe), "", choices).here)


@own.post("/own/open")
def open_file() -> AnyResponse:
    """A design file, opened."""
    given = request.files.get("file")
    text = given.stream.read(LARGEST + 1).decode("utf-8", "replace") if given else ""
    try:
        found = read_file(text)
    except RoundlingError as error:
        toys = workshop().recipes.values()
        return Response(render_template("own_start.html", toys=toys, error=error), 400)
    return redirect(Editor(found.data, "", found.choices).here)


@own.get("/toy.schema.json")
def schema() -> Response:
    """The JSON Schema of design files."""
    return Response(orjson.dumps(file_schema(), option=orjson.OPT_INDENT_2),
                    mimetype="application/schema+json")  # fmt: skip


@own.get("/toys/<toy>/design.json")
def design_file(toy: str) -> Response:
    """The design as a file that opens again."""
    choices = _given_choices()
    try:
        if toy == OWN:
            packed = packed_once(request.args.getlist("recipe"))
            data = _unpacked(packed)
            recipe = own_recipe(packed) if data.get("parts") else None
        else:
            recipe = workshop().recipes.get(toy) or abort(404)
            data = from_recipe(recipe)
        if recipe is not None:
            _check_choices(recipe)
    except RoundlingError as error:
        return Response(f"{error}\n", 400, mimetype="text/plain")
    response = Response(write_file(data, choices), mimetype="application/json")
    return named(response, f"{in_a_name(str(data.get('name', '')), 'toy')}.json", saved=True)


@own.post(f"/toys/{OWN}/edit")
def edit() -> AnyResponse:
    """One step of editing: the boxes of the open panel, and a button."""
    form, checks = request.form.to_dict(), frozenset(request.form.getlist("checks"))
    try:
        _check_once(request.form)
        data = _unpacked(form.get("recipe", ""))
        choices = _choices(form["recipe"], data, form.get("choices", ""))
        before = Editor(data, form.get("open", ""), choices)
    except RoundlingError as error:
        return Response(f"{error}\n", 400, mimetype="text/plain")
    after = step(before, form, checks)
    if not after.problems:
        after = _made(before, after, form, checks)
    bare = form["bare"] == "yes" if "bare" in form else _empty(before)
    return _edited(after, bare)


def _edited(after: Editor, bare: bool) -> AnyResponse:
    """The answer to a step: what changed, the whole page, or the way to its address. ``bare`` is a
    page without a stage to show a toy on: for one it has to become another page."""
    fragment = request.headers.get("HX-Request") == "true"
    if not fragment and not after.problems:
        return redirect(after.here, 303)
    elsewhere = Response("", 204, {"HX-Redirect": after.here})
    if fragment and not after.problems and _empty(after) and not bare:
        return elsewhere
    status = 422 if after.problems else 200
    if _empty(after):
        template = "_edited_empty.html" if fragment else "own_empty.html"
        response = Response(render_template(template, editor=after), status)
        if fragment and not after.problems:
            response.headers["HX-Push-Url"] = after.here
        return response
    if fragment and after.problems:
        return Response(render_template("_editor.html", editor=after), status)
    try:
        recipe = own_recipe(after.packed)
        reading = own_reading(recipe, after.packed, {k: [v] for k, v in after.choices.items()})
        page = Page(recipe, reading, workshop().make(recipe, reading), {})
    except RoundlingError as error:
        # It could not be made before this step either: there is no toy to show, only the editor.
        after = after if after.problems else replace(after, problems={"": error})
        words = render_template("_editor.html" if fragment else "own_empty.html", editor=after)
        return Response(words, 422)
    if fragment and bare:
        return elsewhere
    page.editor = after
    template = "_edited.html" if fragment else "designer.html"
    response = Response(render_template(template, page=page, editor=after), status)
    if fragment:
        response.headers["HX-Push-Url"] = after.here
    return response


def _empty(editor: Editor) -> bool:
    return not editor.data.get("parts")


def _unpacked(packed: str) -> Data:
    """The toy in an address or a form, which makes a recipe or has no parts yet.

    Raises :class:`RoundlingError`; all that edits and shows toys relies on it.
    """
    data = unpack(packed)
    if data.get("parts"):
        own_recipe(packed)
    elif (problem := problem_of(data)) is not None:
        raise problem
    return data


def _choices(packed: str, data: Data, text: str) -> dict[str, str]:
    """The choices made beside a toy; raises :class:`RoundlingError` for one that cannot be."""
    pairs = parse_qsl(text, keep_blank_values=True)
    choices = dict(pairs)
    if len(choices) < len(pairs):
        raise given_twice("choices")
    if data.get("parts"):
        reading = read_design(own_recipe(packed), {k: [v] for k, v in choices.items()})
        for problem in reading.problems.values():
            raise problem
    return choices


def _given_choices() -> dict[str, str]:
    """The choices in this request's address."""
    return {k: v for k, v in request.args.items() if k not in NOT_CHOICES}


def _check_choices(recipe: Recipe) -> None:
    """Raises :class:`RoundlingError` for a choice in this request's address that cannot be."""
    values = {k: v for k, v in request.args.lists() if k not in NOT_CHOICES}
    for problem in read_design(recipe, values).problems.values():
        raise problem


def _check_once(form: MultiDict[str, str]) -> None:
    for name, values in form.lists():
        if len(values) > 1 and name != "checks":
            raise given_twice(name)


def _made(before: Editor, after: Editor, form: Mapping[str, str], checks: frozenset[str]) -> Editor:
    """The editor after a step, if its toy can be made; else as it was, with the reason."""
    if after.data == before.data or not after.data.get("parts"):
        return after
    try:
        recipe = own_recipe(after.packed)
        reading, gone = _still_good(recipe, after.choices)
        reading = replace(reading, accepted={"recipe": after.packed, **reading.accepted})
        workshop().make(recipe, reading)
    except RoundlingError as error:
        return refused(before, form, checks, error)
    left = after.data.get("sliders", {})
    idle = [key for key in before.data.get("sliders", {}) if key not in left]
    notices = (
        *(f"The slider {SLIDERS[key].label} is gone: nothing of the toy follows it now."
          for key in idle),
        *(f"No longer chosen: {e.asked} {e.why}" for e in gone if e.field not in idle),
    )  # fmt: skip
    kept = {k: v for k, v in reading.accepted.items() if k not in NOT_CHOICES}
    return Editor(after.data, after.panel, kept, after.typed, notices=notices)


def _still_good(recipe: Recipe, choices: Mapping[str, str]) -> tuple[Reading, list[RoundlingError]]:
    """The choices without those that the toy no longer has, and why each went."""
    reading = read_design(recipe, {k: [v] for k, v in choices.items()})
    gone = list(reading.problems.values())
    kept = {k: [v] for k, v in choices.items() if k not in reading.problems}
    return read_design(recipe, kept) if gone else reading, gone


def is_empty(packed: str) -> bool:
    """Whether a packed toy is one without parts yet."""
    try:
        return not _unpacked(packed).get("parts")
    except RoundlingError:
        return False


def asked_editor(reading: Reading | None = None) -> Editor:
    """The editor of the toy in this request's address."""
    data = unpack(request.args.get("recipe", ""))
    if reading is None:
        choices = _given_choices()
    else:
        choices = {k: v for k, v in reading.accepted.items() if k not in NOT_CHOICES}
    return Editor(data, request.args.get("open", ""), choices)
