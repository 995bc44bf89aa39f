"""Boxes of the editor of toys of one's own, each by what it changes.

That a box does what its label says is a law of any form, with no other source. What a stripe, a
satin-stitched nose or a patch that lies flat can have is common practice, no source.
"""

from __future__ import annotations

import itertools
import json
import re
from typing import Any
from urllib.parse import urlencode

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from tests.test_web import reader
from tests.test_web_own import (
    BEGINNINGS,
    begun,
    check_unchanged,
    problems,
    step,
    typed,
    values_of,
)
from tests.test_web_own_steps import form_of, pushed, toy_at
from webapp.own.packing import unpack

client = pytest.fixture(reader, scope="module", name="client")


def number_of(form: dict[str, str], part: str) -> int:
    return [p["name"] for p in unpack(form["recipe"])["parts"]].index(part)


def done(answer: TestResponse) -> dict[str, Any]:
    """The toy's data after a step that was done."""
    assert answer.status_code == 200, problems(answer)
    return dict(unpack(form_of(pushed(answer))["recipe"]))


# --- a size instead of a formula -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("toy", "part", "key", "size", "slider"),
    [
        ("otter", "head", "height", 85, "head_to_body"),
        ("otter", "ear", "width", 22, "ear_size"),
        ("owl", "tuft", "width", 25, "ear_size"),
        ("rabbit", "ear", "width", 35, "ear_size"),
    ],
)
def test_a_size_takes_the_place_of_a_formula_that_only_a_slider_moved(
    client: FlaskClient, toy: str, part: str, key: str, size: int, slider: str
) -> None:
    form = {**begun(client, toy), "open": part}
    number = number_of(form, part)
    assert slider in unpack(form["recipe"])["sliders"]
    answer = step(client, form, **{f"set.parts[{number}].lengths.{key}": f"{size / 10}"})
    after = done(answer)
    assert after["dimensions"][f"{part}.{key}"] == size
    asked = toy_at(client, pushed(answer))["parts"][number]["sizes_mm"]
    assert asked["width" if key == "width" else "length"]["asked"] == pytest.approx(size)
    # A slider that moves nothing is none, and somebody is told that it went.
    still = any(slider in text for text in after["rules"])
    assert (slider in after["sliders"]) == still
    assert ("is gone: nothing of the toy follows it" in answer.text) != still


# --- colours -------------------------------------------------------------------------------------


def test_a_colour_begins_where_was_written_last(client: FlaskClient) -> None:
    form = {**begun(client, "otter"), "open": "arm"}
    at = f"set.parts[{number_of(form, 'arm')}].colours[1]"
    first = toy_at(client, f"/toys/own?recipe={form['recipe']}")
    answer = step(client, form, **{f"{at}.round": "5"})
    band = done(answer)["parts"][number_of(form, "arm")]["colours"][1]
    assert (band.get("round"), "begin" in band) == (5, False)
    part = toy_at(client, pushed(answer))["parts"][number_of(form, "arm")]
    colours = [r["colour"] for r in part["rounds"]]
    assert colours[3] != colours[4] == colours[-1]
    assert colours != [r["colour"] for r in first["parts"][number_of(form, "arm")]["rounds"]]

    again = {**form_of(pushed(answer)), "open": "arm"}
    band = done(step(client, again, **{f"{at}.begin": "50"}))
    band = band["parts"][number_of(form, "arm")]["colours"][1]
    assert (band.get("begin"), "round" in band) == (0.5, False)


# --- boxes and buttons that could do nothing -----------------------------------------------------


def shown(client: FlaskClient, form: dict[str, str], panel: str) -> str:
    return step(client, {**form, "open": "toy"}, do=f"open:{panel}").text


def test_a_strip_has_no_stripes_to_choose(client: FlaskClient) -> None:
    form = begun(client, "rabbit")
    scarf, arm = (number_of(form, part) for part in ("scarf", "arm"))
    assert f"set.parts[{scarf}].colours[0].colour" in shown(client, form, "scarf")
    assert f"set.parts[{scarf}].colours[0].with" not in shown(client, form, "scarf")
    assert f"set.parts[{arm}].colours[0].with" in shown(client, form, "arm")


def test_only_a_line_has_a_slant(client: FlaskClient) -> None:
    form = begun(client, "otter")
    kinds = [mark.get("kind", "filled") for mark in unpack(form["recipe"])["marks"]]
    form = form_of(pushed(step(client, {**form, "open": "face"}, do="mark.add:brows")))
    page = shown(client, form, "face")
    for number, kind in enumerate([*kinds, "line"]):
        assert (f"set.marks[{number}].slant" in page) == (kind == "line")
    assert "filled" in kinds


def test_what_lies_flat_is_not_sunk_in(client: FlaskClient) -> None:
    form = begun(client, "owl")
    at = f"set.parts[{number_of(form, 'patch')}].place"
    assert f"{at}.sink" not in shown(client, form, "patch")
    checks = [f"{at}.lies_flat", f"{at}.pair"]
    stiff = step(client, {**form, "open": "patch"}, checks=checks, **{f"{at}.pair": "yes"})
    assert "lies_flat" not in done(stiff)["parts"][number_of(form, "patch")]["place"]
    assert f"{at}.sink" in stiff.text


def test_the_first_part_cannot_go_earlier_nor_the_last_later(client: FlaskClient) -> None:
    form = begun(client, "otter")
    names = [part["name"] for part in unpack(form["recipe"])["parts"]]
    for number, name in enumerate(names):
        page = shown(client, form, name)
        assert (f'value="part.up:{name}"' in page) == (number > 0)
        assert (f'value="part.down:{name}"' in page) == (number < len(names) - 1)


# --- refusals in the words of the page -----------------------------------------------------------


@pytest.mark.parametrize(
    ("panel", "box", "text", "nearest"),
    [
        ("body", "set.parts[0].points[2][1]", "", "Write another, or “87” as it was."),
        ("body", "set.parts[0].points[0][0]", "3", "Choose another, or leave it as it was."),
        ("rules", "set.rules[2]", "", "Write another, or “"),
        ("fin", "set.parts[1].place.times", "2", "make it no mirrored pair first."),
        ("fin", "set.parts[1].place.seat", "joined", "Choose another, or leave it as it was."),
    ],
)
def test_a_refusal_says_what_can_be_done_in_that_box(
    client: FlaskClient, panel: str, box: str, text: str, nearest: str
) -> None:
    form = {**begun(client, "whale"), "open": panel}
    answer = step(client, form, **{box: text})
    check_unchanged(answer, form)
    assert nearest in " ".join(problems(answer))
    assert f'id="why-{box}"' in answer.text


# --- what the page is headed by ------------------------------------------------------------------


def test_the_page_is_headed_by_what_was_written(client: FlaskClient) -> None:
    form = {**begun(client, "otter"), "open": "toy"}
    answer = step(client, form, **{"set.name": "Karl & Co", "set.line": "A small fellow."})
    assert answer.status_code == 200
    empty = form_of(client.get("/own/empty").headers["Location"])
    bare = step(client, {**empty, "open": "toy"}, **{"set.name": "Karl & Co"})
    assert bare.status_code == 200
    for page in (answer.text, bare.text):
        assert "<title>Karl &amp; Co · Roundling</title>" in page
        assert '<h1 class="toy-name" id="toy-name" hx-swap-oob="true">Karl &amp; Co</h1>' in page
    assert 'id="toy-line" hx-swap-oob="true">A small fellow.</p>' in answer.text
    # Each is swapped into a page that has one of that name.
    for address in (pushed(answer), pushed(bare)):
        whole = client.get(address).text
        assert whole.count('id="toy-name">Karl &amp; Co<') == 1


def test_what_is_held_stays_held_when_its_part_has_another_name(client: FlaskClient) -> None:
    held = {"hold.head.width_cm": "9", "pin": "limb_length", "height_cm": "21"}
    form = {**begun(client, "rabbit", **held), "open": "head"}
    at = f"set.parts[{number_of(form, 'head')}].label"
    answer = step(client, form, **{at: "Round face"})
    assert answer.status_code == 200, problems(answer)
    after = values_of(pushed(answer))
    name = next(p["name"] for p in unpack(after["recipe"])["parts"] if p["label"] == "Round face")
    assert after[f"hold.{name}.width_cm"] == "9"
    assert {k: after[k] for k in ("pin", "height_cm")} == {"pin": "limb_length", "height_cm": "21"}
    assert "No longer chosen" not in answer.text
    before, now = (toy_at(client, address)["parts"] for address in (
        f"/toys/own?{urlencode({'recipe': form['recipe'], **held})}", pushed(answer)))  # fmt: skip
    assert [p["sizes_mm"] for p in before] == [p["sizes_mm"] for p in now]
    # Another part, whose name only begins the same, is not meant.
    other = step(client, {**form, "open": "ear"}, **{"set.parts[2].label": "He"})
    assert values_of(pushed(other))["hold.head.width_cm"] == "9"


def test_a_rule_that_is_let_go_is_that_rule_when_the_rules_have_other_numbers(
    client: FlaskClient,
) -> None:
    """Let go by number; what was let go is a rule, whatever number it gets."""
    held = {"height_cm": "25", "hold.head.width_cm": "9", "pin": "head_to_body", "let_go": "3"}
    form = {**begun(client, "otter", **held), "open": "rules"}
    rules = unpack(form["recipe"])["rules"]
    last = len(rules) - 1
    # Without that rule what is held is met as well.
    for number, now in ((1, "2"), (last, "3"), (2, None)):
        answer = step(client, form, do=f"rule.remove:{number}")
        assert answer.status_code == 200, problems(answer)
        after = values_of(pushed(answer))
        assert after.get("let_go") == now
        if now is not None:
            assert unpack(after["recipe"])["rules"][int(now) - 1] == rules[2]
    empty = form_of(client.get("/own/empty").headers["Location"])
    for odd in ("", "x", "0", "9" * 5000, "3, 4,"):
        named = step(client, {**empty, "choices": urlencode({"let_go": odd})}, do="open:rules")
        assert named.status_code == 200
        refused = step(client, {**form, "choices": urlencode({**held, "let_go": odd})}, do="")
        assert refused.status_code in (200, 400, 422)


# --- shaping -------------------------------------------------------------------------------------


@pytest.mark.parametrize("shape", ["ball", "egg", "pear", "tube", "outline"])
@pytest.mark.parametrize("kind", ["cheeks", "snout", "belly", "heel"])
def test_shaping_that_is_added_is_worked(client: FlaskClient, shape: str, kind: str) -> None:
    """More stitches in some round than without it, and no fewer in any."""
    empty = form_of(client.get("/own/empty").headers["Location"])
    first = step(client, empty, do="part.add", new_shape=shape, new_label="Body")
    form = {**form_of(pushed(first)), "open": "body"}
    answer = step(client, form, do=f"bulge.add:body:{kind}")
    assert answer.status_code == 200, problems(answer)
    plain, shaped = (
        [r["count"] for r in toy_at(client, address)["parts"][0]["rounds"]]
        for address in (pushed(first), pushed(answer))
    )
    assert sum(shaped) > sum(plain)
    assert "is left out" not in answer.text


def test_shaping_of_which_nothing_is_worked_is_said(client: FlaskClient) -> None:
    form = {**begun(client, "rabbit"), "open": "arm"}
    at = f"set.parts[{number_of(form, 'arm')}].bulges[0].depth"
    added = step(client, form, do="bulge.add:arm:snout")
    form = {**form_of(pushed(added)), "open": "arm"}
    said = "Arms: the shaping “snout” is left out. Standing out 0.1 cm, it gains no stitch"
    assert said not in added.text
    flat = step(client, form, **{at: "0.1"})
    assert said in flat.text
    deep = step(client, {**form_of(pushed(flat)), "open": "arm"}, **{at: "0.8"})
    assert "is left out" not in deep.text
    # What is set to nothing was not asked for.
    cheeks = client.get("/toys/rabbit?cheek_fullness=0")
    assert "is left out" not in cheeks.text


# --- boxes beside the toy ------------------------------------------------------------------------


@pytest.mark.parametrize("htmx", [True, False])
def test_enter_takes_a_new_rule_and_a_new_part(client: FlaskClient, htmx: bool) -> None:
    """The first button of a form is the one that Enter presses: HTML, 4.10.21.2."""
    form = {**begun(client, "owl"), "open": "rules"}
    page = client.get(f"/toys/own?{urlencode({k: form[k] for k in ('recipe', 'open')})}").text
    first = re.search(r'<button type="submit" name="do" value="(.*?)"', page)
    assert first
    asked = {"set.new_rule": "crest.size = 0.3 * head.width", "new_shape": "tube"}
    for more in ({}, {"new_label": "Crest"}):
        answer = step(client, form, htmx, do=first[1], **asked, **more)
        after = unpack(values_of(pushed(answer))["recipe"])
        assert asked["set.new_rule"] in after["rules"]
        labels = [part["label"] for part in after["parts"]]
        assert ("Crest" in labels) == bool(more)
    wrong = step(client, form, htmx, do=first[1], **{"set.new_rule": "nothing"}, new_label="Crest")
    check_unchanged(wrong, form)
    assert (typed(wrong, "set.new_rule"), typed(wrong, "new_label")) == ("nothing", "Crest")


def test_what_is_written_beside_stays_when_something_else_is_done(client: FlaskClient) -> None:
    form = {**begun(client, "owl"), "open": "rules"}
    beside = {"new_label": "Crest", "new_shape": "cone", "set.new_rule": "crest.size = 0.3 *"}
    for do in ("", "colour.add", "eyes.remove"):
        answer = step(client, form, do=do, **beside)
        assert answer.status_code == 200, problems(answer)
        assert typed(answer, "new_label") == "Crest"
        assert typed(answer, "set.new_rule") == "crest.size = 0.3 *"
        assert "<option selected>cone</option>" in answer.text
    used = step(client, form, do="part.add", **beside)
    assert typed(used, "new_label") == ""


@pytest.mark.parametrize("toy", BEGINNINGS)
def test_a_colour_in_use_can_give_way_to_another(client: FlaskClient, toy: str) -> None:
    """Every colour of a shipped toy to every other: it is gone, with all that was worked in it."""
    form = {**begun(client, toy), "open": "colours"}
    colours = list(unpack(form["recipe"])["colours"])
    for colour, other in itertools.permutations(colours, 2):
        answer = step(client, form, **{f"set.colours.{colour}.place": other})
        left = done(answer)
        assert list(left["colours"]) == [key for key in colours if key != colour]
        assert f'"{colour}"' not in json.dumps([left["parts"], left.get("marks", [])])
        assert f'name="do" value="colour.remove:{other}"' not in answer.text
