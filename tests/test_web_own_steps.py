"""Steps in the editor of toys of one's own: what is answered, and that each address is its toy.

The checks are laws of any editor, with no other source: what is refused changes nothing and stays
written where it was; what is done has an address that gives it again. 303 after a post is RFC
9110, 15.4.4; 422 is 15.5.21; that ids are unique and labels point at boxes is the HTML standard
(3.2.6 and 4.10.4).
"""

from __future__ import annotations

import io
import random
import re
from html import unescape
from typing import Any
from urllib.parse import urlencode

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from tests.hostile import FORMULAS, ROUNDABOUT
from tests.test_web import Page, reader
from tests.test_web_own import (
    BEGINNINGS,
    TOO_SMALL,
    begun,
    check_unchanged,
    hidden,
    problems,
    step,
    typed,
    values_of,
)
from webapp.own.packing import unpack

GOOD_STEPS = 20

client = pytest.fixture(reader, scope="module", name="client")
stranger = pytest.fixture(reader, scope="module", name="stranger")


def pushed(answer: TestResponse) -> str:
    """The address of a step that was done, with or without script."""
    named = ("HX-Push-Url", "HX-Redirect", "Location")
    return next(answer.headers[name] for name in named if name in answer.headers)


def form_of(address: str) -> dict[str, str]:
    """The hidden boxes of the editor at an address."""
    values = values_of(address)
    recipe, panel = values.pop("recipe"), values.pop("open", "")
    return {"recipe": recipe, "open": panel, "choices": urlencode(values)}


def toy_at(client: FlaskClient, address: str) -> Any:
    answer = client.get(address.replace("/toys/own?", "/toys/own/toy.json?"))
    assert answer.status_code == 200, answer.text
    return answer.get_json()


# --- formulas ----------------------------------------------------------------------------------

PLACES = {
    "rule": ("rules", "set.rules[7]", "tuft.height = {}"),
    "new rule": ("rules", "set.new_rule", "extra.size = {}"),
    "bare": ("rules", "set.new_rule", "{}"),
    "length": ("tuft", "set.parts[3].lengths.height", "{}"),
    "diameter": ("face", "set.eyes.diameter", "{}"),
}


@pytest.mark.parametrize("place", PLACES)
def test_hostile_formulas_are_refused_where_they_were_written(
    client: FlaskClient, place: str
) -> None:
    panel, name, words = PLACES[place]
    form = {**begun(client), "open": panel}
    assert unpack(form["recipe"])["rules"][7].startswith("tuft.height =")
    for formula in FORMULAS:
        text = words.format(formula)
        answer = step(client, form, **{name: text, "do": "rule.add" if "new" in name else ""})
        check_unchanged(answer, form)
        assert "Traceback" not in answer.text
        assert all(len(said) < 1000 for said in problems(answer)), formula[:40]
        shown = typed(answer, name)
        # HTML gives no way to write the character U+0000.
        assert shown is not None, formula[:40]
        assert "\x00" in text or shown == text, formula[:40]


@pytest.mark.parametrize("rule", ROUNDABOUT)
def test_rules_that_settle_twice_or_nothing_or_themselves_are_refused(
    client: FlaskClient, rule: str
) -> None:
    form = {**begun(client), "open": "rules"}
    for htmx in (True, False):
        answer = step(client, form, htmx, **{"set.new_rule": rule, "do": "rule.add"})
        check_unchanged(answer, form)
        assert typed(answer, "set.new_rule") == rule


@pytest.mark.parametrize("text", ["tuft.height = tuft.height", "tuft.height = tuft.width * "
                                  "tuft.height", "", "12", "toy.height",
                                  "tuft.height = nobody.width", "head.width = 20"])  # fmt: skip
def test_a_rule_changed_into_none_is_refused_beside_its_box(client: FlaskClient, text: str) -> None:
    form = {**begun(client), "open": "rules"}
    answer = step(client, form, **{"set.rules[7]": text})
    check_unchanged(answer, form)
    assert typed(answer, "set.rules[7]") == text


def test_a_rule_is_changed_in_its_box(client: FlaskClient) -> None:
    form = {**begun(client), "open": "rules"}
    before = unpack(form["recipe"])
    answer = step(client, form, **{"set.rules[7]": " tuft.height = 1.2 * tuft.width "})
    assert answer.status_code == 200, problems(answer)
    after = unpack(form_of(pushed(answer))["recipe"])
    assert after["rules"][7] == "tuft.height = 1.2 * tuft.width"
    assert {**after, "rules": 0} == {**before, "rules": 0}
    sizes = toy_at(client, pushed(answer))["parts"][3]["sizes_mm"]
    assert sizes["length"]["asked"] == pytest.approx(1.2 * sizes["width"]["asked"])


# --- a step, done or refused -------------------------------------------------------------------


@pytest.mark.parametrize("toy", BEGINNINGS)
def test_a_good_step_has_an_address_that_gives_its_toy(
    client: FlaskClient, stranger: FlaskClient, toy: str
) -> None:
    form = begun(client, toy, yarn="2", units="in", height_in="9")
    for more in ({"set.parts[0].label": "Trunk"}, {"do": "part.copy:" + form["open"]},
                 {"do": "open:face"}, {"do": "part.add", "new_shape": "ball"}):  # fmt: skip
        asked, plain = (step(client, form, htmx, **more) for htmx in (True, False))
        assert (asked.status_code, plain.status_code) == (200, 303), (more, problems(asked))
        assert pushed(asked) == pushed(plain)
        again = stranger.get(pushed(asked))
        assert again.status_code == 200
        assert hidden(again, "recipe") == hidden(asked, "recipe")
        assert hidden(again, "open") == hidden(asked, "open")
        values = values_of(pushed(asked))
        assert {k: values.get(k) for k in ("yarn", "units", "height_in")} == {
            "yarn": "2", "units": "in", "height_in": "9"}  # fmt: skip
        assert toy_at(client, pushed(asked)) == toy_at(stranger, pushed(plain))


def test_a_refused_step_keeps_what_was_typed_in_every_box(client: FlaskClient) -> None:
    """One box is wrong; the others were right, and are not taken and not lost either."""
    form = {**begun(client), "open": "wing"}
    number = [p["name"] for p in unpack(form["recipe"])["parts"]].index("wing")
    at = f"set.parts[{number}]"
    more = {f"{at}.label": "Fins", f"{at}.place.tilt": "-12", f"{at}.place.around": "abc",
            f"{at}.place.sink": "7", "new_label": "Crest"}  # fmt: skip
    checks = {"checks": [f"{at}.place.pair", f"{at}.place.lies_flat"]}
    for htmx in (True, False):
        answer = step(client, form, htmx, **more, **checks)
        check_unchanged(answer, form)
        for name, text in more.items():
            assert typed(answer, name) == text, name
        assert f'id="why-{at}.place.around"' in answer.text
        box = re.search(
            rf'<input type="checkbox" id="{re.escape(at)}.place.pair"[^>]*>', answer.text
        )
        assert box
        assert "checked" not in box[0]


def test_a_toy_that_cannot_be_made_keeps_what_was_typed(client: FlaskClient) -> None:
    """Each value can be read; it is the toy they make that cannot be."""
    form = {**begun(client), "open": "wing", "new_label": "Crest"}
    number = [p["name"] for p in unpack(form["recipe"])["parts"]].index("wing")
    at = f"set.parts[{number}]"
    more = {f"{at}.lengths.width": "0.3", f"{at}.place.tilt": "-12"}
    answer = step(client, form, **more, checks=[f"{at}.place.pair"])
    check_unchanged(answer, form)
    for name, text in {**more, "new_label": "Crest"}.items():
        assert typed(answer, name) == text, name
    box = re.search(rf'<input type="checkbox" id="{re.escape(at)}.place.pair"[^>]*>', answer.text)
    assert box
    assert "checked" not in box[0]


def test_a_part_renamed_and_a_button_pressed_at_once(client: FlaskClient) -> None:
    """Without script both come in one step, the button still naming the part as it was."""
    form = begun(client)
    for do in ("part.copy", "bulge.add", "band.add", "open"):
        words = f"{do}:{form['open']}" + (":belly" if do == "bulge.add" else "")
        answer = step(client, form, **{"set.parts[0].label": "Trunk", "do": words})
        assert answer.status_code == 200, (do, problems(answer))
        assert hidden(answer, "open") == "trunk"


def test_yarn_that_makes_it_impossible_leaves_the_editor(client: FlaskClient) -> None:
    form = {**begun(client), "choices": urlencode(TOO_SMALL)}
    address = f"/toys/own?{urlencode({'recipe': form['recipe'], **TOO_SMALL})}"
    page = client.get(address)
    assert page.status_code == 422
    assert hidden(page, "recipe") == form["recipe"]
    assert Page(page).problems["part"]
    for file in ("pattern.txt", "toy.json", "preview.json", "views.svg"):
        answer = client.get(address.replace("/own?", f"/own/{file}?"))
        assert (answer.status_code, answer.mimetype) == (422, "text/plain")
    for htmx in (True, False):
        answer = step(client, form, htmx, **{"set.parts[0].label": "Trunk"})
        check_unchanged(answer, form)
        assert re.search("round|stitch", " ".join(problems(answer)))
    opened = step(client, form, do="open:face")
    check_unchanged(opened, form)
    assert hidden(opened, "open") == "face"
    # Without script the way leads back to the page, which says why there is no such toy.
    there = client.get(pushed(step(client, form, False, do="open:face")))
    assert (there.status_code, hidden(there, "open")) == (422, "face")
    assert hidden(there, "recipe") == form["recipe"]


def test_an_empty_table_takes_its_first_part_and_gives_it_back(client: FlaskClient) -> None:
    form = form_of(client.get("/own/empty").headers["Location"])
    assert client.get(f"/toys/own?{urlencode({'recipe': form['recipe']})}").status_code == 200
    for bad in ({"do": "part.add", "new_shape": "zzz"}, {"do": "zzz"}, {"do": "eyes.add"},
                {"do": "mark.add:nose"}, {"do": "part.add", "new_shape": "ball",
                                          "new_label": "x" * 61}):  # fmt: skip
        for htmx in (True, False):
            check_unchanged(step(client, form, htmx, **bad), form)
    answer = step(client, form, do="part.add", new_shape="egg", new_label="Body")
    assert (answer.status_code, answer.data) == (204, b"")
    with_body = form_of(pushed(answer))
    assert [p["label"] for p in unpack(with_body["recipe"])["parts"]] == ["Body"]
    assert len(toy_at(client, pushed(answer))["parts"]) == 1
    gone = step(client, with_body, do="part.remove:body")
    assert gone.status_code == 204
    before, after = (unpack(f["recipe"]) for f in (form, form_of(pushed(gone))))
    # How tall it was made last stays.
    assert {**after, "sliders": 0, "marks": []} == {**before, "sliders": 0, "marks": []}
    assert not after.get("marks")


# --- buttons -----------------------------------------------------------------------------------


def test_no_kind_of_button_is_always_refused(client: FlaskClient) -> None:
    """Every button of every panel of the shipped toys and of an outline, pressed once on its own:
    each kind of them does something somewhere."""
    obeyed: dict[str, bool] = {}
    empty = form_of(client.get("/own/empty").headers["Location"])
    drawn = step(client, empty, do="part.add", new_shape="outline", new_label="Body")
    beginnings = [form_of(client.get(f"/own/from/{toy}").headers["Location"]) for toy in BEGINNINGS]
    for form in (*beginnings, form_of(pushed(drawn))):
        panels = client.get(f"/toys/own?{urlencode({'recipe': form['recipe']})}").text
        for panel in re.findall(r'name="do" value="open:(.*?)"', panels):
            here = {**form, "open": panel}
            opened = step(client, {**form, "open": "toy"}, do=f"open:{panel}")
            for do in re.findall(r'name="do" value="(\w+\.\w+[^"]*)" id="do-', opened.text):
                verb, *rest = do.split(":")
                kinds = rest[-1:] if rest and not rest[-1].isdigit() and rest[-1] != panel else []
                kind = ":".join([verb, *(kinds if verb.endswith(".add") else [])])
                if kind in ("part.add", "rule.add") or obeyed.get(kind):
                    continue
                obeyed[kind] = step(client, here, do=unescape(do)).status_code < 300
    assert len(obeyed) > 15
    assert not [kind for kind, done in obeyed.items() if not done]


# --- many steps --------------------------------------------------------------------------------


def possible(answer: TestResponse) -> list[dict[str, str]]:
    """Steps that the editor on a page offers: its buttons, and other values for its boxes."""
    steps: list[dict[str, str]] = []
    for do in re.findall(r'name="do" value="(.*?)"', answer.text):
        steps += [{"do": unescape(do)}] if do and do != "part.add" else []
    shapes = re.findall(r"<option(?: selected)?>(.*?)</option>", answer.text)
    steps += [{"do": "part.add", "new_shape": shape} for shape in shapes]
    for name, options in re.findall(
        r'<select [^>]*name="(set\..*?)"[^>]*>(.*?)</select>', answer.text, re.S
    ):
        steps += [{name: v} for v in re.findall(r'<option value="(.*?)">', options)]
    for tag in re.findall(r'<input type="text" [^>]*name="set\.[^>]*>', answer.text):
        name, value = (re.search(rf' {key}="(.*?)"', tag) for key in ("name", "value"))
        assert name
        assert value
        if re.fullmatch(r"-?[0-9.]+", value[1]):
            steps += [{name[1]: f"{float(value[1]) * by:.2f}"} for by in (0.9, 1.1)]
    return steps


@pytest.mark.parametrize(("toy", "seed"), [(toy, seed) for toy in BEGINNINGS for seed in (1, 2)])
def test_every_address_on_the_way_still_gives_its_toy(
    client: FlaskClient, stranger: FlaskClient, toy: str, seed: int
) -> None:
    chance = random.Random(seed)
    address = client.get(f"/own/from/{toy}?pace=20").headers["Location"]
    page, way = client.get(address), [(address, toy_at(client, address))]
    for _ in range(200):
        if len(way) > GOOD_STEPS:
            break
        form = form_of(way[-1][0])
        answer = step(client, form, **chance.choice(possible(page)))
        if answer.status_code == 422:
            check_unchanged(answer, form)
            continue
        assert answer.status_code == 200
        page = answer
        way.append((pushed(answer), toy_at(client, pushed(answer))))
    assert len(way) == GOOD_STEPS + 1
    assert len({form_of(address)["recipe"] for address, _ in way}) > GOOD_STEPS // 3
    for address, made in reversed(way):
        assert toy_at(stranger, address) == made
        assert hidden(stranger.get(address), "recipe") == form_of(address)["recipe"]
    check_opens_again(client, way[-1][0])


def check_opens_again(client: FlaskClient, address: str) -> None:
    """The file of an address leads back to it."""
    file = client.get(address.replace("/own?", "/own/design.json?"))
    assert file.status_code == 200
    again = opened(client, file.data)
    assert again.status_code == 302, problems(again)
    assert {**form_of(again.headers["Location"]), "open": ""} == {**form_of(address), "open": ""}


def opened(client: FlaskClient, raw: bytes) -> TestResponse:
    return client.post("/own/open", data={"file": (io.BytesIO(raw), "toy.json")})
