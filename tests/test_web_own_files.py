"""Files, sheets and pages of a toy of one's own over HTTP: each takes it or says why not."""

from __future__ import annotations

import io
import json
import re
from html import unescape
from urllib.parse import urlencode

import pytest
from flask.testing import FlaskClient
from werkzeug.http import parse_options_header
from werkzeug.test import TestResponse

from tests.strategies import recipes
from tests.test_web import HTMX, Page, reader
from tests.test_web_own import (
    BEGINNINGS,
    EDIT,
    TOO_SMALL,
    begun,
    hidden,
    problems,
    step,
    values_of,
)
from tests.test_web_own_steps import form_of, opened, pushed
from webapp.own import edits
from webapp.own.files import write_file
from webapp.own.packing import pack, unpack

client = pytest.fixture(reader, scope="module", name="client")


# --- files -------------------------------------------------------------------------------------


def test_a_file_of_an_old_version_opens(client: FlaskClient) -> None:
    """Version 0 had plain colour keys in parts, and cheeks were called bulge."""
    data = unpack(begun(client)["recipe"])
    old = json.loads(write_file(data, {"yarn": "4"}))
    old["version"] = 0
    for part in old["toy"]["parts"]:
        part["colours"] = [band["colour"] for band in part["colours"][:1]]
    answer = opened(client, json.dumps(old).encode())
    assert answer.status_code == 302, problems(answer)
    assert client.get(answer.headers["Location"]).status_code == 200
    assert values_of(answer.headers["Location"])["yarn"] == "4"


WRONG_FILES = {
    "nothing": b"",
    "binary": b"\x89PNG\r\n\x1a\n\x00\xff",
    "a word": b"hello",
    "cut off": b'{"format": "roundling-toy", "version": 1, "toy": {',
    "another kind": b'{"format": "x"}',
    "of the future": b'{"format": "roundling-toy", "version": 99, "toy": {}}',
    "no toy": b'{"format": "roundling-toy", "version": 1}',
    "deep": b"[" * 100_000,
    "large": b" " * 300_000,
    "script": b'{"format": "<script>alert(1)</script>"}',
}


@pytest.mark.parametrize("name", WRONG_FILES)
def test_a_wrong_file_is_refused_with_its_line(client: FlaskClient, name: str) -> None:
    answer = opened(client, WRONG_FILES[name])
    assert answer.status_code == 400
    assert re.match(r"Line 1\b", problems(answer)[0]), problems(answer)
    assert b"<script>alert" not in answer.data


def test_a_wrong_value_in_a_file_is_refused_with_the_line_it_is_on(client: FlaskClient) -> None:
    text = write_file(unpack(begun(client)["recipe"]), {})
    for old, new in (('"shape": "egg"', '"shape": "zzz"'), ('"level": "', '"level": "x')):
        assert old in text
        line = text[: text.index(old)].count("\n") + 1
        answer = opened(client, text.replace(old, new, 1).encode())
        assert answer.status_code == 400
        assert f"Line {line} " in problems(answer)[0]


def test_no_file_at_all_is_refused(client: FlaskClient) -> None:
    for data in ({}, {"file": "text"}, {"other": (io.BytesIO(b"{}"), "toy.json")}):
        answer = client.post("/own/open", data=data)
        assert answer.status_code == 400
        assert problems(answer)


# --- everything else takes a toy of one's own --------------------------------------------------


@pytest.mark.parametrize("toy", BEGINNINGS)
def test_files_and_sheets_of_a_toy_of_ones_own(client: FlaskClient, toy: str) -> None:
    """It is the shipped toy still, so its pattern differs in nothing but what names the toy."""
    recipe = begun(client, toy)["recipe"]
    query = urlencode({"recipe": recipe})
    for file in ("pattern.txt", "toy.json", "preview.json", "views.svg", "grading", "goal",
                 "design.json", "grading.zip"):  # fmt: skip
        answer = client.get(f"/toys/own/{file}?{query}")
        assert answer.status_code == 200, (file, answer.text[:200])
    own, shipped = (
        client.get(f"/toys/{at}").text for at in (f"own/pattern.txt?{query}", f"{toy}/pattern.txt")
    )
    assert own == shipped
    both = urlencode({"v": [f"/toys/own?{query}", f"/toys/{toy}"]}, doseq=True)
    assert client.get(f"/compare?{both}").status_code == 200
    goal = client.get(f"/toys/own/goal?{query}&goal=stitches&goal_value=4000")
    assert goal.status_code == 200, goal.text[:300]
    better = [link for link in Page(goal).links if "recipe=" in link]
    assert better
    assert all(recipe in link for link in better)
    assert client.get(better[0]).status_code == 200


def test_measures_of_a_toy_of_ones_own_are_held_and_let_go(client: FlaskClient) -> None:
    recipe = begun(client, "otter")["recipe"]
    at = {"recipe": recipe, "hold.head.girth_cm": "30"}
    page = client.get(f"/toys/own?{urlencode(at)}", headers=HTMX)
    assert page.status_code == 200, page.text[:300]
    assert values_of(page.headers["HX-Push-Url"])["hold.head.girth_cm"] == "30"
    step_after = step(client, form_of(page.headers["HX-Push-Url"]), do="open:face")
    assert values_of(pushed(step_after))["hold.head.girth_cm"] == "30"
    gone = client.get(f"/toys/own?{urlencode({**at, 'let_go': 'head.girth'})}", headers=HTMX)
    assert gone.status_code in (200, 422), gone.text[:300]
    bad = client.get(f"/toys/own?{urlencode({'recipe': recipe, 'hold.nobody.girth_cm': '3'})}")
    assert bad.status_code == 400
    # A part that is removed takes what was held of it along, and that is said.
    form = form_of(pushed(step_after))
    removed = step(client, form, do="part.remove:head")
    assert removed.status_code == 200, problems(removed)
    assert "hold.head.girth_cm" not in values_of(pushed(removed))
    assert "No longer chosen" in removed.text


# --- the page ----------------------------------------------------------------------------------

PANELS = ("toy", "colours", "face", "rules", "body", "head")


@pytest.mark.parametrize("panel", PANELS)
def test_a_page_of_ones_own_is_sound(client: FlaskClient, panel: str) -> None:
    form = begun(client, "otter")
    answer = client.get(f"/toys/own?{urlencode({'recipe': form['recipe'], 'open': panel})}")
    check_sound(answer)
    assert hidden(answer, "open") == panel


def test_pages_beside_it_are_sound(client: FlaskClient) -> None:
    form = begun(client)
    check_sound(client.get("/own"))
    check_sound(client.get(client.get("/own/empty").headers["Location"]))
    check_sound(step(client, form, False, **{"set.parts[0].place.tilt": "x"}), 422)
    small = {**form, "choices": urlencode(TOO_SMALL)}
    check_sound(step(client, small, False, **{"set.parts[0].label": "Trunk"}), 422)
    check_sound(opened(client, b"{}"), 400)


def check_sound(answer: TestResponse, status: int = 200) -> None:
    page = Page(answer)
    assert answer.status_code == status
    assert len(page.ids) == len(set(page.ids))
    named = page.attributes("for|aria-labelledby|aria-describedby")
    targets = [t for t in page.attributes("hx-target") if t != "this"]
    pointed_at = {word.lstrip("#") for value in (*named, *targets) for word in value.split()}
    assert pointed_at <= set(page.ids)
    assert page.attributes(r"on\w+|style") == []
    inline = re.findall(r"<(?:script|style)\b(?![^>]*\bsrc=)[^>]*>[^<]", page.text)
    assert inline == []
    labelled = set(page.attributes("for"))
    for tag in re.findall(r"<(?:input|select|textarea)\b[^>]*>", page.text):
        if 'type="hidden"' in tag or "aria-label" in tag:
            continue
        found = re.search(r' id="(.*?)"', tag)
        wrapped = re.search(rf"<label[^>]*>[^<]*{re.escape(tag)}", page.text)
        assert wrapped or (found and unescape(found[1]) in labelled), tag


def test_only_posts_edit(client: FlaskClient) -> None:
    for path in (EDIT, "/own/open"):
        assert client.get(path).status_code in (404, 405)
    for path in ("/own", "/own/empty", "/toy.schema.json", "/toys/own/design.json"):
        assert client.post(path).status_code == 405
    assert client.get("/own/from/zzz").status_code == 404


def test_a_toy_too_large_for_an_address_to_pass_on_says_to_save_it(client: FlaskClient) -> None:
    """2,000 characters is what everything that passes addresses on can take: common practice, no
    source. The page still works at its longer address."""
    data = edits.from_recipe(recipes()["otter"])
    for number in range(30):
        label = f"Part {number * 7919 % 1009} {'abcdefgh'[number % 8]}"
        data = edits.add_part(data, ("tube", "cone", "dome")[number % 3], label)
    large = client.get(f"/toys/own?recipe={pack(data)}")
    assert large.status_code == 200
    assert len(large.request.full_path) > 2000
    assert "Save it as a file." in large.text
    small = client.get("/own/empty", follow_redirects=True)
    assert len(small.request.full_path) < 2000
    assert "Save it as a file." not in small.text


@pytest.mark.parametrize(
    ("name", "plain", "whole"),
    [
        ("Pepper the Cat", "pepper-the-cat", "pepper-the-cat"),
        ("Größe 5", "groe-5", "größe-5"),
        ("ワニの子", "", "ワニの子"),
        ("../../etc/passwd\"; x=y", "etc-passwd-x-y", "etc-passwd-x-y"),
        ("!!!", "toy", "toy"),
    ],
)
def test_files_are_named_after_the_toy(
    client: FlaskClient, name: str, plain: str, whole: str
) -> None:
    """RFC 6266, 4.3: letters beyond ASCII in ``filename*`` (RFC 8187), beside a plain name."""
    data = {**unpack(begun(client)["recipe"]), "name": name}
    query = urlencode({"recipe": pack(data)})
    for file, ending in (
        ("pattern.txt", "-pattern.txt"), ("pattern.pdf", "-pattern.pdf"), ("toy.json", "-toy.json"),
        ("design.json", ".json"), ("preview.png", ".png"), ("shape.glb", ".glb"),
        ("materials.csv", "-materials.csv"), ("captions.vtt", "-captions.vtt"),
        ("grading.zip", "-grading.zip"),
    ):  # fmt: skip
        answer = client.get(f"/toys/own/{file}?{query}")
        assert answer.status_code == 200, (file, answer.text[:200])
        header = answer.headers["Content-Disposition"]
        assert header.isascii()
        _, names = parse_options_header(header)
        assert names["filename"] == f"{whole}{ending}"
        if plain != whole:
            assert f"filename={(plain + ending).lstrip('-.')};" in header
