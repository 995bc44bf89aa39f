"""The editor of toys of one's own against hostile users: refused with a sentence, or done.

What an answer's status means is RFC 9110 (303 after a post: 15.4.4; 400: 15.5.1; 413: 15.5.14;
422: 15.5.21); what is safe in an address RFC 3986. Damaged texts are made with zlib and base64
alone. All other checks are laws of the editor itself: nothing changes when something is refused,
and an address gives the toy it was given for.
"""

from __future__ import annotations

import base64
import random
import re
import zlib
from copy import deepcopy
from html import unescape
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from tests.test_web import HTMX, SCRIPT, reader
from webapp.own.packing import pack, unpack
from webapp.own.words import WORDS

EDIT = "/toys/own/edit"
BEGINNINGS = ("otter", "owl", "rabbit", "whale")
TOO_SMALL = {"yarn": "7", "height_cm": "10"}
"""Stitches 16 mm wide: too few of them in the small parts of a toy of that height."""

client = pytest.fixture(reader, scope="module", name="client")
stranger = pytest.fixture(reader, scope="module", name="stranger")


def values_of(address: str) -> dict[str, str]:
    return dict(parse_qsl(urlsplit(address).query, keep_blank_values=True))


def begun(client: FlaskClient, toy: str = "owl", **choices: str) -> dict[str, str]:
    """The form's hidden boxes of a shipped toy as one's own, with choices made."""
    at = values_of(client.get(f"/own/from/{toy}?{urlencode(choices)}").headers["Location"])
    return {"recipe": at["recipe"], "open": at["open"], "choices": urlencode(choices)}


def step(client: FlaskClient, form: dict[str, Any], htmx: bool = True, **more: Any) -> TestResponse:
    return client.post(EDIT, data={**form, **more}, headers=HTMX if htmx else {})


def problems(answer: TestResponse) -> list[str]:
    """The three sentences of each problem that is shown."""
    found = re.findall(r'<p class="problem"[^>]*>(.*?)</p>', answer.text, re.S)
    said = (re.findall(r"<(?:span|strong)>(.*?)</", words, re.S) for words in found)
    return [unescape(" ".join(sentences)) for sentences in said if sentences]


def hidden(answer: TestResponse, name: str) -> str:
    found = re.search(rf'<input type="hidden" name="{name}"[^>]* value="(.*?)"', answer.text)
    assert found
    return unescape(found[1])


def typed(answer: TestResponse, name: str) -> str | None:
    """What stands in a box of the editor."""
    tag = re.search(rf'<input [^>]*name="{re.escape(name)}"[^>]*>', answer.text)
    value = re.search(r' value="(.*?)"', tag[0]) if tag else None
    return unescape(value[1]) if value else None


def check_unchanged(answer: TestResponse, form: dict[str, Any]) -> None:
    """422, a reason in sentences, and the toy as it was; no other address."""
    assert answer.status_code == 422, answer.text[:300]
    assert problems(answer)
    assert "HX-Push-Url" not in answer.headers
    assert hidden(answer, "recipe") == form["recipe"]
    assert "<script>alert" not in answer.text


def check_plainly_refused(answer: TestResponse) -> None:
    """400 in plain text: two sentences or more, and no markup to run."""
    assert (answer.status_code, answer.mimetype) == (400, "text/plain"), answer.text[:300]
    assert len(re.findall(r"[.”](?:\s|$)", answer.text)) >= 2, answer.text


def check_not_run(answer: TestResponse) -> None:
    """What was given stands in no page as markup; a plain text is no page (nosniff)."""
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.mimetype == "text/plain" or b"<script>alert" not in answer.data


def packed(raw: bytes) -> str:
    packer = zlib.compressobj(9, zlib.DEFLATED, zlib.MAX_WBITS, 9, zdict=WORDS)
    return base64.urlsafe_b64encode(packer.compress(raw) + packer.flush()).decode().rstrip("=")


def changed(data: dict[str, Any], path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    new = deepcopy(data)
    here: Any = new
    for key in path[:-1]:
        here = here[key]
    here[path[-1]] = value
    return new


# --- damaged toys ------------------------------------------------------------------------------

DAMAGED = {
    "missing": "",
    "a word": "nonsense",
    "binary": "\x00\xff\x01",
    "script": SCRIPT,
    "look-alikes": "\uff45\uff30",
    "half a character": packed(b'{"name": "\\ud800"}'),
    "a list": packed(b"[1]"),
    "nothing in it": packed(b"{}"),
    "parts are a number": packed(b'{"parts": 3}'),
    "no parts, no name": packed(b'{"parts": []}'),
    "a bomb": packed(b" " * 30_000_000),
    "deep": packed(b"[" * 20_000),
    "long": "A" * 250_000,
}
FILES = ("", "/pattern.txt", "/toy.json", "/preview.json", "/views.svg", "/design.json",
         "/chart/body.svg", "/assembly/apart.svg",
         "/goal", "/grading", "/grading.zip")  # fmt: skip


@pytest.mark.parametrize("name", DAMAGED)
def test_a_damaged_toy_is_refused_everywhere(client: FlaskClient, name: str) -> None:
    check_plainly_refused(client.post(EDIT, data={"recipe": DAMAGED[name], "do": "part.add"}))
    check_plainly_refused(step(client, {"recipe": DAMAGED[name]}))
    for file in FILES:
        answer = client.get(f"/toys/own{file}?{urlencode({'recipe': DAMAGED[name]})}")
        assert answer.status_code == 400, file
        check_not_run(answer)


WRONG_INSIDE: tuple[tuple[tuple[Any, ...], Any], ...] = (
    (("parts", 0, "shape"), "zzz"),
    (("parts", 0, "lengths", "width"), "((("),
    (("parts", 0, "lengths"), {}),
    (("parts", 0, "place"), {}),
    (("parts", 0, "colours"), [{"with": [3]}]),
    (("parts", 0, "colours"), []),
    (("parts", 1, "place", "times"), "x"),
    (("parts", 1, "place", "on"), "head"),
    (("parts", 0, "points"), [[1]]),
    (("parts", 0, "label"), 3),
    (("parts", 0, "label"), "x\x00y"),
    (("parts", 0, "name"), "__class__"),
    (("parts", 0, "name"), SCRIPT),
    (("parts", 0, "bulges"), [{}]),
    (("name",), "\u202e"),
    (("level",), 9),
    (("rules",), [3]),
    (("rules",), ["a = b"]),
    (("rules",), []),
    (("colours",), {}),
    (("colours", "extra"), {"name": "x", "hex": "red;}"}),
    (("dimensions",), {"x": "y"}),
    (("dimensions",), {"head.width": 1e300}),
    (("sliders",), {}),
    (("eyes", "on"), "nobody"),
    (("eyes", "diameter"), "__import__"),
    (("unknown",), True),
)


@pytest.mark.parametrize(("path", "value"), WRONG_INSIDE, ids=str)
def test_a_toy_that_is_wrong_inside_is_refused_everywhere(
    client: FlaskClient, path: tuple[Any, ...], value: Any
) -> None:
    """Whole by zlib's check, so somebody made it so."""
    wrong = pack(changed(unpack(begun(client)["recipe"]), path, value))
    for htmx in (True, False):
        answer = step(client, {"recipe": wrong, "do": "open:face"}, htmx)
        check_plainly_refused(answer)
    for file in FILES:
        answer = client.get(f"/toys/own{file}?{urlencode({'recipe': wrong})}")
        assert answer.status_code == 400, file
        check_not_run(answer)


@pytest.mark.parametrize("key", ["name", "line", "colours", "marks", "eyes", "level", "rules"])
def test_an_empty_table_that_is_wrong_inside_is_refused(client: FlaskClient, key: str) -> None:
    data = unpack(values_of(client.get("/own/empty").headers["Location"])["recipe"])
    wrong = pack({**data, key: {"x": {}} if key in ("colours", "eyes") else [{"label": 3}]})
    check_plainly_refused(step(client, {"recipe": wrong, "new_shape": "ball", "do": "part.add"}))
    assert client.get(f"/toys/own?{urlencode({'recipe': wrong})}").status_code == 400


# --- parameters --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["recipe", "open", "choices", "do", "set.parts[0].label"])
def test_what_is_given_twice_is_refused(client: FlaskClient, name: str) -> None:
    form = {**begun(client), "do": "open:face", "set.parts[0].label": "Trunk"}
    for htmx in (True, False):
        answer = step(client, {**form, name: [form[name], form[name]]}, htmx)
        check_plainly_refused(answer)
        assert name[:40] in answer.text


def test_a_toy_given_twice_in_an_address_is_refused(client: FlaskClient) -> None:
    recipe = begun(client)["recipe"]
    for file in FILES:
        query = urlencode({"recipe": [recipe, recipe]}, doseq=True)
        assert client.get(f"/toys/own{file}?{query}").status_code == 400, file


DOS = ("zzz", ":", "open", "open:", "open:zzz", "open:face:colours", "open:__class__", "part.add:x",
       "part.copy", "part.copy:zzz", "part.copy:body:head", "part.up:zzz", "part.down:",
       "part.remove:", "colour.remove:zzz", "colour.remove:__class__", "band.add:zzz",
       "band.remove:body:9", "band.remove:body:-1", "band.remove:body:x", "band.remove:body:1e9",
       "band.remove:body:" + "9" * 5000, "band.remove:body:\u0661", "bulge.add:body:zzz",
       "bulge.remove:body:99", "point.add:body:0", "point.remove:body:0", "rule.remove:-1",
       "rule.remove:999", "rule.remove:" + "1" * 20, "rule.add", "mark.add:zzz", "mark.remove:9",
       "mark.remove:-1", "eyes.add:x", SCRIPT, "\x00", "do" * 50_000, "part.mirror:body",
       "PART.ADD", " part.add", "__init__", "part.add\n")  # fmt: skip


@pytest.mark.parametrize("do", DOS, ids=lambda do: repr(do[:24]))
def test_a_button_that_is_none_or_cannot_is_refused(client: FlaskClient, do: str) -> None:
    form = begun(client)
    for htmx in (True, False):
        answer = step(client, form, htmx, do=do, new_shape="ball", new_label="More")
        check_unchanged(answer, form)
        assert typed(answer, "new_label") == "More"


TRICKS = ("set.", "set.__class__", "set.parts", "set.parts[99].label", "set.parts[-1].label",
          "set.parts[0].place.pair[0]", "set.parts[0].__class__", "set.parts[0].name",
          "set.parts[0].lengths.__init__", "set.rules[0]", "set.colours.main.hex", "set.sliders",
          "set.sliders.height.high", "set.dimensions.x", "set.recipe", "set.parts[0].label[0]",
          "set.parts[0]..label", "set.parts[0].label\x00", "set.../../etc", "data", "typed",
          "set.parts[00].label", "set.parts[\u0660].label", "set." + "a." * 5000)  # fmt: skip


@pytest.mark.parametrize("name", TRICKS, ids=lambda name: repr(name[:30]))
def test_boxes_that_are_not_on_the_panel_change_nothing(client: FlaskClient, name: str) -> None:
    """The other boxes of the form are what may be set, not any path that somebody thinks of."""
    form = begun(client)
    for value in ("", "7", SCRIPT):
        answer = step(client, form, **{name: value})
        assert answer.status_code in (200, 422), (name, value)
        assert hidden(answer, "recipe") == form["recipe"]


BOXES = ("label", "shape", "filling", "ring", "place.seat", "place.tilt", "lengths.width",
         "colours[0].colour", "colours[0].with")  # fmt: skip


@pytest.mark.parametrize("name", BOXES)
def test_what_no_box_can_hold_is_refused_beside_it(client: FlaskClient, name: str) -> None:
    form, path = begun(client), f"parts[0].{name}"
    for text in (SCRIPT, "\x00", "\ufffd\u202e", "x" * 100_000, "9" * 400, "{{ 7 * 7 }}"):
        if name == "label" and text in (SCRIPT, "{{ 7 * 7 }}"):
            continue  # names like others, written as they are: see below
        for htmx in (True, False):
            answer = step(client, form, htmx, **{f"set.{path}": text})
            check_unchanged(answer, form)
            assert f'id="why-set.{path}"' in answer.text, (name, text[:20])


def test_a_million_characters_are_refused(client: FlaskClient) -> None:
    """413 by RFC 9110, 15.5.14, or as any other bad value."""
    form = begun(client)
    for name in ("set.parts[0].label", "set.parts[0].shape", "do", "choices", "new_label", "open"):
        answer = step(client, {**form, "do": "part.add", name: "x" * 1_000_000})
        assert answer.status_code in (400, 413, 422), name


def test_braces_and_tags_in_names_stay_what_they_are(client: FlaskClient) -> None:
    form = begun(client)
    for label in ("{{ 7 * 7 }}", "<b>Trunk</b>", SCRIPT, 'Trunk & "Co"', "\N{BALL OF YARN}"):
        answer = step(client, form, **{"set.parts[0].label": label})
        assert answer.status_code == 200, problems(answer)
        assert typed(answer, "set.parts[0].label") == label
        assert "<b>Trunk</b>" not in answer.text
        check_not_run(answer)


@pytest.mark.parametrize("choices", [
    "yarn=9", "yarn=nonsense", "yarn=3&yarn=4", "zzz=1", "height_cm=", "hold.zzz=3", "units=ell",
    "\x00=1", "view=front", "recipe=x", "hold.head.width=nan"])  # fmt: skip
def test_choices_that_cannot_be_are_refused(client: FlaskClient, choices: str) -> None:
    if not choices.startswith(("view", "recipe")):
        recipe = urlencode({"recipe": begun(client)["recipe"]})
        for address in (
            f"/toys/own/design.json?{recipe}&{choices}",
            f"/toys/owl/design.json?{choices}",
        ):
            check_plainly_refused(client.get(address))
        check_plainly_refused(client.get(f"/own/from/owl?{choices}"))
    for htmx in (True, False):
        answer = step(client, {**begun(client), "choices": choices}, htmx, do="open:face")
        check_plainly_refused(answer)


ANYTHING = ("", "0", "-5", "999999", "0.0001", "x", "head.width", "toy.height", "-180", "zzz",
            "#12345", "surface", "opening", "joined", "neck", "ground", "strip", "outline", "oval",
            "body", "head", "yes", "5 cm", "0.5 * body.width", SCRIPT)  # fmt: skip


@pytest.mark.parametrize("toy", BEGINNINGS)
def test_no_mixture_of_boxes_and_buttons_breaks_it(client: FlaskClient, toy: str) -> None:
    """Some boxes filled with anything, and any button pressed: done, or refused and unchanged."""
    chance = random.Random(toy)
    form, statuses = begun(client, toy), set()
    for _ in range(80):
        parts = [part["name"] for part in unpack(form["recipe"])["parts"]]
        form["open"] = chance.choice([*parts, "toy", "colours", "face", "rules"])
        page = client.get(f"/toys/own?{urlencode(form)}".replace("&choices=", ""))
        boxes = re.findall(r'name="(set\..*?)"', page.text)
        buttons = [*map(unescape, re.findall(r'name="do" value="(.*?)"', page.text)), "", "", ""]
        few = chance.sample(boxes, min(len(boxes), chance.randint(0, 3)))
        more = {name: chance.choice(ANYTHING) for name in few}
        more |= {"do": chance.choice(buttons), "new_shape": chance.choice(ANYTHING)}
        answer = step(client, form, **more)
        statuses.add(answer.status_code)
        if answer.status_code == 422:
            check_unchanged(answer, form)
        else:
            assert answer.status_code == 200, more
            form = {"recipe": hidden(answer, "recipe"), "choices": ""}
    assert statuses == {200, 422}
