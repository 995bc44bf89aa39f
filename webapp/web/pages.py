"""The routes. Each reads a design, calls the core, and renders; `_answer` decides the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from urllib.parse import parse_qs, urlsplit

import orjson
from flask import Blueprint, Response, abort, render_template, request

from webapp.errors import RoundlingError
from webapp.pattern import pattern_text
from webapp.preview import figure_json, still_svg
from webapp.recipes import Recipe
from webapp.way import Toy
from webapp.web.addresses import Addressed, make
from webapp.web.contexts import Page
from webapp.web.data import toy_data, toy_list
from webapp.web.downloads import named, stem
from webapp.web.editor import OWN, own_reading, own_recipe, packed_once
from webapp.web.fields import Reading, read_design
from webapp.web.figures import address_of
from webapp.web.goals import Answer, goal_answer
from webapp.web.own_pages import asked_editor, is_empty
from webapp.web.toys import workshop

pages = Blueprint("pages", __name__)


def asked_recipe(toy: str) -> Recipe:
    """The recipe asked for; of a toy of one's own that is none, a plain refusal."""
    if toy != OWN:
        return workshop().recipes.get(toy) or abort(404)
    try:
        return own_recipe(packed_once(request.args.getlist("recipe")))
    except RoundlingError as error:
        abort(Response(f"{error}\n", 400, mimetype="text/plain"))


@pages.get("/")
def start() -> str:
    """The start page with a card for each toy."""
    return render_template("start.html", toys=workshop().recipes.values())


@pages.get("/toys.json")
def toys() -> Response:
    """The toys, their sliders with ranges, and their addresses."""
    return _json(toy_list(workshop().recipes.values()))


@pages.get("/toys/<toy>")
def designer(toy: str) -> Response:
    """The designer: the whole page, or what changed when htmx asks."""
    if toy == OWN and is_empty(request.args.get("recipe", "")):
        return Response(render_template("own_empty.html", editor=asked_editor()))
    return _answer(asked_recipe(toy))


@pages.get("/toys/<toy>/pattern.txt")
def pattern(toy: str) -> Response:
    """The written pattern."""
    recipe = asked_recipe(toy)
    made, reading = made_toy(recipe)
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    response = Response(pattern_text(made.worked, made.materials, made.cautions), 200)
    response.headers["Content-Type"] = "text/plain; charset=utf-8"
    return named(response, f"{stem(recipe)}-pattern.txt")


@pages.get("/toys/<toy>/toy.json")
def toy_json(toy: str) -> Response:
    """The toy as data: parts, rounds, materials, sizes."""
    recipe = asked_recipe(toy)
    made, reading = made_toy(recipe)
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    return named(_json(toy_data(made)), f"{stem(recipe)}-toy.json")


@pages.get("/toys/<toy>/preview.json")
def preview(toy: str) -> Response:
    """The figure for the 3D view; ``view=apart`` moves the parts away from each other."""
    made, reading = made_toy(asked_recipe(toy), extra=("view",))
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    apart = 1.0 if _view(("together", "apart")) == "apart" else 0.0
    figure = figure_json(made.worked, made.materials.eyes, apart=apart)
    return Response(figure, mimetype="application/json")


@pages.get("/toys/<toy>/views.svg")
def views(toy: str) -> Response:
    """The still picture; ``view=front`` draws that view alone."""
    made, reading = made_toy(asked_recipe(toy), extra=("view",))
    if isinstance(made, RoundlingError):
        return refusal(made, reading)
    chosen = ("front",) if _view(("both", "front")) == "front" else ("front", "side")
    picture = still_svg(made.worked, made.materials.eyes, views=chosen)
    return Response(picture, mimetype="image/svg+xml")


@pages.get("/toys/<toy>/goal")
def goal(toy: str) -> Response:
    """What a goal comes to, with the address of the design that meets it."""
    recipe = asked_recipe(toy)
    given = request.args.to_dict(flat=False)
    values = {k: v for k, v in given.items() if k not in ("goal", "goal_value")}
    reading = _read(recipe, values)
    for problem in reading.problems.values():
        return refusal(problem, reading)
    words = {name: request.args.get(name, "").strip() for name in ("goal", "goal_value")}
    if not request.args.get("goal"):
        # An address that asks for nothing is answered with what could be asked for.
        answer = Answer("Choose a goal beside the toy.", address_of(recipe, reading.accepted))
    else:
        answer = goal_answer(recipe, reading, words["goal"], words["goal_value"])
    fragment = request.headers.get("HX-Request") == "true"
    back = address_of(recipe, reading.accepted)
    template = "_goal.html" if fragment else "goal.html"
    body = render_template(template, goal=answer, recipe=recipe, back=back)
    response = Response(body, 200 if answer.problem is None else 422)
    response.vary.add("HX-Request")
    return response


def _view(known: tuple[str, ...]) -> str:
    """The ``view`` asked for, the first known if none; anything else is a 400."""
    given = request.args.getlist("view") or [known[0]]
    if len(given) != 1 or given[0] not in known:
        asked = f"View {given[0][:24]!r} was asked for. There is none."
        words = f"{asked} Ask for {' or '.join(known)}."
        abort(Response(f"{words}\n", 400, mimetype="text/plain"))
    return given[0]


# --- reading and answering ---------------------------------------------------------------------


def made_toy(
    recipe: Recipe, extra: tuple[str, ...] = ()
) -> tuple[Toy | RoundlingError, Reading]:
    """The toy of this request's address, or why there is none."""
    values = {k: v for k, v in request.args.to_dict(flat=False).items() if k not in extra}
    reading = _read(recipe, values)
    if reading.problems:
        return next(iter(reading.problems.values())), reading
    try:
        return make(workshop(), Addressed(recipe, reading)), reading
    except RoundlingError as error:
        return error, reading


def _read(
    recipe: Recipe,
    values: Mapping[str, Sequence[str]],
    fallback: Mapping[str, str] | None = None,
) -> Reading:
    """A reading whose address holds the toy as well, where it is one's own."""
    if recipe.key != OWN:
        return read_design(recipe, values, fallback)
    return own_reading(recipe, request.args.get("recipe", ""), values, fallback)


def refusal(error: RoundlingError, reading: Reading) -> Response:
    """A download that cannot be: 400 for a value, 422 for a part that cannot be made."""
    status = 400 if reading.problems else 422
    return Response(f"{error}\n", status, mimetype="text/plain")


def _answer(recipe: Recipe) -> Response:
    """Whole page or fragment, good toy or the last good one: decided here and nowhere else."""
    wants_fragment = (
        request.headers.get("HX-Request") == "true"
        and request.headers.get("HX-History-Restore-Request") != "true"
    )
    made, reading = made_toy(recipe)
    problems = dict(reading.problems)
    if isinstance(made, RoundlingError):
        if not problems:
            problems["part"] = made
        status = 400 if reading.problems else 422
        if wants_fragment:
            return _problems(recipe, reading, problems)
        refused = reading
        found = _last_good(recipe, reading)
        if found is None:
            # A toy of one's own that cannot be made as it was drawn: only its editor is shown.
            error = next(iter(problems.values()))
            words = render_template("own_empty.html", editor=asked_editor(reading), error=error)
            return Response(words, status)
        made, reading = found
    else:
        status, refused = 200, None
    page = Page(recipe, reading, made, problems, refused)
    if recipe.key == OWN:
        page.editor = asked_editor(reading)
    template = "_changes.html" if wants_fragment else "designer.html"
    response = Response(render_template(template, page=page), status)
    response.vary.update(("HX-Request", "HX-History-Restore-Request"))
    if wants_fragment:
        response.headers["HX-Push-Url"] = page.editor.here if page.editor else page.address
    return response


def _problems(
    recipe: Recipe, reading: Reading, problems: dict[str, RoundlingError]
) -> Response:
    """Only the sentences, each to its control; the toy on the screen stays."""
    page = Page(recipe, reading, None, problems)
    response = Response(render_template("_problems.html", page=page), 422)
    response.headers["HX-Reswap"] = "none"
    response.vary.update(("HX-Request", "HX-History-Restore-Request"))
    return response


def _last_good(recipe: Recipe, reading: Reading) -> tuple[Toy, Reading] | None:
    """The toy to show beside a refusal: of the page the request came from, else the default.

    The boxes keep what was written in them.
    """
    earlier = _came_from()
    candidates = [
        _read(recipe, {k: [v] for k, v in reading.texts.items()}, earlier),
        _read(recipe, {k: [v] for k, v in earlier.items()}),
        _read(recipe, {}),
    ]
    for candidate in candidates:
        try:
            toy = workshop().make(recipe, candidate)
        except RoundlingError:
            continue
        return toy, replace(candidate, texts=reading.texts, problems=reading.problems)
    assert recipe.key == OWN, f"the default {recipe.key} cannot be made"
    return None


def _came_from() -> dict[str, str]:
    """The values in the address of the page that this request came from, if it was this toy's."""
    try:
        page = urlsplit(request.referrer or "")
        if page.path != request.path:
            return {}
        values = {k: v[0] for k, v in parse_qs(page.query).items()}
    except ValueError:
        return {}
    if values.pop("recipe", "") != request.args.get("recipe", ""):
        return {}
    values.pop("open", None)
    return values


def _json(data: object) -> Response:
    return Response(orjson.dumps(data), mimetype="application/json")


