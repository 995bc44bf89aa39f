"""The web face against hostile readers: every address is answered, nothing guessed or clamped."""

from __future__ import annotations

import gzip
import re
from collections.abc import Mapping
from html import unescape
from typing import Any
from urllib.parse import parse_qsl, quote, urlencode, urlsplit

import pytest
from flask.testing import FlaskClient
from hypothesis import given, settings
from hypothesis import strategies as st
from werkzeug.test import TestResponse

from webapp.web import create_app

TOYS = ("otter", "owl", "rabbit", "whale")
IN_UNITS = [(toy, unit) for toy in TOYS for unit in ("cm", "in")]
HTMX = {"HX-Request": "true"}
SCRIPT = "\"'><script>alert(1)</script>"
NUMBERS = ("height_cm", "head_to_body", "limb_length", "limb_thickness", "ear_size", "simplicity",
           "cheek_fullness", "pace", "yarn", "swatch_stitches", "swatch_rounds")  # fmt: skip
WORDS = ("units", "terms", "fibre", "swatch_over", "stagger", "under_three")
NO_NUMBERS = ("", " ", "\t", "nan", "inf", "-inf", "1e1", "1e5", "1_0", "1_000", "18,5", "0x12",
              "1 8", "1.2.3", "--1", "+-1", ".", "18cm", "abc", SCRIPT, "1\x002", "\u0661\u0668",
              "\uff11", "\u0967", "\u00bd", "\u00b2", "\u22121", "\U0001f9f6", "\ufffd",
              "\u202e1", "1" * 30, "1" * 100_000)  # fmt: skip
TOO_FAR = ("-1", "-0.5", "1001", "999999999", "-999999999")
NO_WORDS = ("", " ", "CM", "Yes", "1", "us;uk", SCRIPT, "\x00", "\uff43\uff4d", "x" * 100_000)
ALIEN = ("", "height", "Height_cm", "height_cm ", "height_cm[]", "eye_size", "__class__", SCRIPT,
         "\x00", "\U0001f9f6", "a" * 100_000)  # fmt: skip
TINY = {"height_cm": "8", "yarn": "7"}  # stitches 16 mm wide: too few of them in small parts
PARTNERS = {"swatch_stitches": {"swatch_rounds": "20"}, "swatch_rounds": {"swatch_stitches": "20"}}


class Page:
    """What a test asks of a page: sentences of its problems, its fields as filled, ids, links."""

    def __init__(self, answer: TestResponse) -> None:
        self.text = answer.get_data(as_text=True)
        self.ids = self.attributes("id")
        self.links = set(self.attributes("href|src|action|hx-get|data-preview|data-still"))
        self.problems = {
            name: [*map(unescape, re.findall(r"<(?:span|strong)>(.*?)</", body, re.S))]
            for name, body in self.found(r'<p [^>]*id="problem-(.+?)".*?>(.*?)</p>')
        }
        design = re.search(r'<form id="design".*?</form>', self.text, re.S)
        form = design[0] if design else ""
        self.fields = {
            name: unescape(value)
            for name, value in re.findall(r'<input [^>]*name="(.+?)"[^>]* value="(.*?)"', form)
        }
        for name, body in re.findall(r'<select [^>]*name="(.+?)".*?>(.*?)</select', form, re.S):
            options = re.findall(r'value="(.*?)"( selected)?', body)
            self.fields[name] = next((o for o, chosen in options if chosen), options[0][0])

    def found(self, pattern: str) -> list[Any]:
        return re.findall(pattern, self.text, re.S)

    def attributes(self, names: str) -> list[str]:
        return [unescape(value) for value in self.found(rf'[\s"](?:{names})="(.*?)"')]


def reader() -> FlaskClient:
    app = create_app()
    app.config["PROPAGATE_EXCEPTIONS"] = True
    return app.test_client()


client = pytest.fixture(reader, scope="module", name="client")
stranger = pytest.fixture(reader, scope="module", name="stranger")


def at(toy: str, values: Mapping[str, Any], file: str = "") -> str:
    return f"/toys/{toy}{'/' + file if file else ''}?{urlencode(values, doseq=True)}"


def check_refused(client: FlaskClient, name: str, values: Mapping[str, Any]) -> Page:
    """400 with the page, 422 with the fragment, 400 as a file: the same three sentences."""
    answer, asked = (client.get(at("rabbit", values), headers=h) for h in ({}, HTMX))
    assert (answer.status_code, asked.status_code) == (400, 422)
    page, fragment = Page(answer), Page(asked)
    assert len(page.problems[name]) == 3
    assert fragment.problems[name] == page.problems[name]
    assert ("figures" in page.ids, "figures" in fragment.ids) == (True, False)
    assert (asked.headers.get("HX-Reswap"), asked.headers.get("HX-Push-Url")) == ("none", None)
    assert b"<script>alert" not in answer.data + asked.data
    file = client.get(at("rabbit", values, "pattern.txt"))
    assert (file.status_code, file.mimetype) == (400, "text/plain")
    return page


@pytest.mark.parametrize("name", [*NUMBERS, "height_in", *WORDS])
def test_what_a_field_cannot_be_is_refused_beside_it(client: FlaskClient, name: str) -> None:
    """And stays in its box as it was typed, where there is one."""
    more = {"height_in": {"units": "in"}, **PARTNERS}.get(name, {})
    numbers = (*NO_NUMBERS, *TOO_FAR, *(("3.5", "8") if name == "yarn" else ()))
    for text in NO_WORDS if name in WORDS else numbers:
        page = check_refused(client, name, {name: text, **more})
        assert name in (*WORDS, "yarn") or page.fields[name] == text


def test_unknown_names_are_refused_and_named(client: FlaskClient) -> None:
    for name in ALIEN:
        page = check_refused(client, "part", {name: "1"})
        assert name[:24].strip("\x00 ") in page.problems["part"][0]


def test_a_value_given_twice_is_refused_even_if_equal(client: FlaskClient) -> None:
    for name in (*NUMBERS, *WORDS):
        value = {"units": "cm", "terms": "us", "fibre": "wool", "stagger": "no"}.get(name, "1")
        check_refused(client, name, {name: [value, value], **PARTNERS.get(name, {})})


@pytest.mark.parametrize("name", PARTNERS)
def test_half_a_swatch_is_refused_beside_its_empty_box(client: FlaskClient, name: str) -> None:
    for values in (PARTNERS[name], {**PARTNERS[name], name: ""}):
        page = check_refused(client, name, values)
        assert page.fields[next(iter(PARTNERS[name]))] == "20"


def test_an_unknown_view_is_refused(client: FlaskClient) -> None:
    for view in ("nonsense", "", SCRIPT, ["apart", "apart"], ["front", "front"]):
        answers = (client.get(at("owl", {"view": view}, f)) for f in ("preview.json", "views.svg"))
        assert [answer.status_code for answer in answers] == [400, 400], view


@pytest.mark.parametrize(("toy", "unit"), IN_UNITS)
def test_the_nearest_that_is_offered_is_accepted(client: FlaskClient, toy: str, unit: str) -> None:
    sliders = {item["toy"]: item["sliders"] for item in client.get("/toys.json").get_json()}[toy]
    for name in (*sliders, "simplicity", "pace"):
        field = f"height_{unit}" if name == "height" else name
        for text in ("-1", "5000"):
            said = client.get(at(toy, {"units": unit, field: text}, "toy.json")).text
            found = re.search(r"can be ([\d.]+) to ([\d.]*\d).* nearest is ([\d.]*\d)", said)
            assert found, said
            for offered in found.groups():  # a part may be too small for the yarn: 422
                answer = client.get(at(toy, {"units": unit, field: offered}, "toy.json"))
                assert answer.status_code in (200, 422), (name, offered)


def test_a_value_just_over_the_limit_is_told_from_it(client: FlaskClient) -> None:
    said = client.get(at("rabbit", {"limb_thickness": "1.3004"}, "toy.json")).text
    assert not re.search(r" ([\d.]+) was asked for.* nearest is \1\.", said), said


def test_an_impossible_part_is_named_with_what_would_help(client: FlaskClient) -> None:
    answer, asked = (client.get(at("otter", TINY), headers=h) for h in ({}, HTMX))
    file = client.get(at("otter", TINY, "views.svg"))
    assert answer.status_code == asked.status_code == file.status_code == 422
    said = Page(answer).problems["part"]
    assert Page(asked).problems["part"] == said
    assert re.search("body|head|muzzle|ear|arm|leg|tail|belly", said[0])
    helps = re.search(r"([\d.]+) cm tall works.*category (\d)", said[2])
    assert helps
    for better in ({**TINY, "height_cm": helps[1]}, {**TINY, "yarn": helps[2]}):
        assert client.get(at("otter", better, "pattern.txt")).status_code == 200


def test_boxes_keep_what_was_typed_when_a_part_is_impossible(client: FlaskClient) -> None:
    values = {**TINY, "pace": "20", "fibre": "wool"}
    assert values.items() <= Page(client.get(at("otter", values))).fields.items()


@pytest.mark.parametrize("toy", ["otter", "owl", "rabbit"])
def test_a_height_that_is_said_to_work_works_in_inches(client: FlaskClient, toy: str) -> None:
    """What is offered is written in eighths, and must work as it is written."""
    tried = 0
    for height in ("4", "4.2804", "12"):
        for body in range(60, 150, 5):
            values = {"units": "in", "yarn": 7, "height_in": height, "head_to_body": body / 100}
            said = client.get(at(toy, values, "toy.json")).text
            for whole, part, of in re.findall(r"(\d+)(?: (\d)/(\d))? in tall works", said):
                tried += 1
                values["height_in"] = int(whole) + int(part or 0) / int(of or 1)
                assert client.get(at(toy, values, "toy.json")).status_code == 200, (said, values)
    assert tried > 10


def test_a_plain_form_with_a_wrong_value_shows_the_toy_it_came_from(client: FlaskClient) -> None:
    before = at("rabbit", {"height_cm": "30", "swatch_stitches": "22", "swatch_rounds": "23"})
    good, came_from = Page(client.get(before)), {"Referer": f"http://localhost{before}"}
    for wrong in ({"height_cm": "abc"}, {"swatch_rounds": "x"}, {"yarn": "9"}, {"terms": "xx"},
                  {"limb_length": ""}, {"swatch_stitches": "3", "swatch_rounds": "3"}):  # fmt: skip
        page = Page(client.get(at("rabbit", {**good.fields, **wrong}), headers=came_from))
        assert any(page.problems.values())
        assert page.attributes("data-still") == good.attributes("data-still"), wrong


def test_a_wrong_height_in_the_other_unit_is_answered_beside_it(client: FlaskClient) -> None:
    """Changing the unit sends the box in the unit it was typed in."""
    came_from = {"Referer": "http://localhost" + at("rabbit", {"height_cm": "30"})}
    for values in ({"height_cm": "abc", "units": "in"}, {"height_in": "abc"}):
        page = Page(client.get(at("rabbit", values), headers=came_from))
        here = next(name for name in page.fields if name.startswith("height_"))
        assert re.search(r"height_cm=30|height_in=11\.8", page.attributes("data-still")[0]), values
        assert page.problems[here], values
        assert "units" not in values or page.fields[here] == "abc"


REFERERS = ["http://[", "http://localhost:99999999999/toys/rabbit?x", "\xff\xfe", "x" * 50_000,
            *(f"http://localhost/toys/rabbit?{query}" for query in (
                "swatch_stitches=0&swatch_rounds=0", "swatch_stitches=nan&swatch_rounds=nan",
                "swatch_stitches=1e400&swatch_rounds=1e400", "swatch_stitches=5&swatch_rounds=90",
                "height_cm=10&yarn=7", f"height_cm=nan&units={quote(SCRIPT)}", "%00=%ff&&;="))]


@pytest.mark.parametrize("referer", REFERERS, ids=lambda referer: referer[:60])
def test_no_referer_breaks_a_refusal(client: FlaskClient, referer: str) -> None:
    for values in ({"swatch_stitches": "x"}, {"height_cm": "?"}, {"height_cm": "10", "yarn": "7"}):
        answer = client.get(at("rabbit", values), headers={"Referer": referer})
        assert answer.status_code in (400, 422)
        assert b"<script>alert" not in answer.data


GOOD: tuple[dict[str, str], ...] = (
    {}, {"units": "in"}, {"height_in": "8", "units": "in"}, {"height_cm": "20.00004"},
    {"limb_length": "1.123456789"}, {"simplicity": "59.99996"},
    {"swatch_stitches": "22.5", "swatch_rounds": "23", "swatch_over": "4in"},
    {"swatch_stitches": "14.000049", "swatch_rounds": "20.00006"},
    {"yarn": "5", "height_cm": "40", "fibre": "wool", "terms": "uk", "stagger": "no",
     "under_three": "yes", "pace": "20", "simplicity": "0", "cheek_fullness": "0"},
)  # fmt: skip


@pytest.mark.parametrize("values", GOOD, ids=str)
def test_the_address_that_is_pushed_gives_the_same_toy(
    client: FlaskClient, stranger: FlaskClient, values: dict[str, str]
) -> None:
    pushed = client.get(at("rabbit", values), headers=HTMX).headers["HX-Push-Url"]
    again = stranger.get(pushed, headers=HTMX)
    assert (again.status_code, again.headers.get("HX-Push-Url")) == (200, pushed)
    both = ((client, values), (stranger, dict(parse_qsl(urlsplit(pushed).query))))
    one, other = (who.get(at("rabbit", v, "toy.json")).get_json()["sliders"] for who, v in both)
    assert one == pytest.approx(other, rel=1e-9)
    assert len({who.get(at("rabbit", v, "pattern.txt")).data for who, v in both}) == 1


def test_a_toy_does_not_depend_on_what_was_asked_before(client: FlaskClient) -> None:
    for height in ("31.00004", "31.00001", "31"):
        data = client.get(at("rabbit", {"height_cm": height}, "toy.json")).get_json()
        assert data["sliders"]["height"] == pytest.approx(10 * float(height), rel=1e-9)


@pytest.mark.parametrize("toy", TOYS)
def test_inches_and_centimetres_of_one_height_are_one_toy(client: FlaskClient, toy: str) -> None:
    """One inch is 2.54 cm by definition (international yard and pound agreement, 1959)."""
    for inches, cm in (("10", "25.4"), ("7.5", "19.05"), ("12.25", "31.115")):
        for unit in ("cm", "in"):
            one = client.get(at(toy, {"height_in": inches, "units": unit}, "pattern.txt"))
            other = client.get(at(toy, {"height_cm": cm, "units": unit}, "pattern.txt"))
            assert (one.status_code, one.data) == (200, other.data)


@pytest.mark.parametrize(("toy", "unit"), IN_UNITS)
def test_a_form_sent_back_untouched_is_its_toy(client: FlaskClient, toy: str, unit: str) -> None:
    for height in ({"otter": 8, "owl": 9, "rabbit": 10, "whale": 6}[toy], 18.3, 50):
        page = Page(client.get(at(toy, {"height_cm": height, "units": unit, "yarn": 1})))
        again = client.get(at(toy, page.fields, "toy.json"))
        assert again.status_code == 200, again.text
        assert again.get_json()["sliders"]["height"] == pytest.approx(10 * height, abs=0.02)


@pytest.mark.parametrize("toy", TOYS)
def test_the_page_asks_for_as_much_yarn_as_the_sheet(client: FlaskClient, toy: str) -> None:
    page = client.get(f"/toys/{toy}").text
    sheet = client.get(f"/toys/{toy}/pattern.txt").text
    yarns = sheet.split("Yarn: ")[1].split("Hook: ")[0]
    amounts = re.findall(r"^- .*?: (?:a scrap of )?([\d.]+ m) \(([\d.]+ yd)\)", yarns, re.MULTILINE)
    assert len(amounts) >= 2
    for metres, yards in amounts:
        assert f"<td>{metres}<small>{yards}</small></td>" in page
    assert amounts[0][0] in client.get(f"/toys/{toy}/grading").text
    compared = client.get(f"/compare?v=/toys/{toy}").text
    for metres, balls in re.findall(
        r"^- .*?: (?:a scrap of )?([\d.]+ m) .*?(\d+) balls?$", yarns, re.MULTILINE
    ):
        assert f"{metres}, {balls} × " in compared


def test_differences_are_those_of_the_metres_shown(client: FlaskClient) -> None:
    """Per cent of the first toy, worked out from the two amounts on the page."""
    page = client.get("/compare?v=/toys/otter&v=/toys/otter?head_to_body=1.5").text
    rows = re.findall(r"<th[^>]*>(Yarn[^<]*)</th>(.*?)</tr>", page, re.DOTALL)
    compared = 0
    for _, row in rows:
        metres = [int(number) for number in re.findall(r"(\d+) m\b", row)]
        said = re.search(r"([+-]\d+) %|the same", row)
        if len(metres) == 2 and said:
            assert int(said[1] or 0) == round(100 * (metres[1] / metres[0] - 1))
            compared += 1
    assert compared == 4


def test_headers_go_with_every_answer(client: FlaskClient) -> None:
    """A policy that runs and styles nothing inline; Vary says what an answer hangs on."""
    for address in ("/", "/toys.json", "/toys/owl", "/toys/owl?x=1", at("otter", TINY), "/nowhere",
                    "/toys/owl/views.svg", "/static/roundling.css"):  # fmt: skip
        for headers in ({}, HTMX):
            answer = client.get(address, headers=headers, buffered=True)
            policy = answer.headers["Content-Security-Policy"]
            assert "unsafe" not in policy
            assert {"default-src 'none'", "script-src 'self'"} <= set(policy.split("; "))
            assert answer.headers["X-Content-Type-Options"] == "nosniff"
            assert "accept-encoding" in answer.vary
            assert "?" not in address or "hx-request" in answer.vary


def test_only_stamped_files_that_exist_are_kept_for_good(client: FlaskClient) -> None:
    links = Page(client.get("/toys/owl")).links
    stamped = {link for link in links if re.search(r"\?v=[0-9a-f]{12}$", link)}
    assert len(stamped) >= 5
    others = ("/static/x.css?v=1", "/library/x.js?v=1", "/toys/owl?v=1", "/library/htmx.js?v=1")
    for link in (*stamped, *others, *(link.split("?")[0] for link in stamped)):
        kept = "max-age" in client.get(link, buffered=True).headers["Cache-Control"]
        assert kept == (link in stamped), link


def test_compression_is_for_those_who_take_it(client: FlaskClient) -> None:
    """RFC 9110, 12.5.3: a weight of 0 means not acceptable. 192.0.2.1 is nobody (RFC 5737)."""
    how: dict[str, Any] = {"environ_base": {"REMOTE_ADDR": "192.0.2.1"}, "buffered": True}
    for path in ("/toys/owl", "/toys/owl/toy.json", "/static/roundling.css"):
        body = client.get(path, **how).data
        for taken in ("br, gzip", "gzip;q=0", "br, gzip; q=0.0", "identity", ""):
            answer = client.get(path, headers={"Accept-Encoding": taken}, **how)
            packs = taken == "br, gzip"
            assert (answer.headers.get("Content-Encoding") == "gzip") == packs, (path, taken)
            assert (gzip.decompress(answer.data) if packs else answer.data) == body


@pytest.mark.parametrize("path", ["/", "/toys.json", "/toys/owl", "/toys/owl/pattern.txt"])
def test_reading_is_all_that_can_be_done(client: FlaskClient, path: str) -> None:
    for method in ("POST", "PUT", "DELETE", "PATCH"):
        assert client.open(path, method=method).status_code == 405
    head, got = client.head(path), client.get(path)
    ours, theirs = ({k: v for k, v in a.headers.items() if k != "Date"} for a in (head, got))
    assert (head.status_code, head.data, ours) == (200, b"", theirs)


def test_what_is_not_there_is_not_found_and_not_written_into_a_page(client: FlaskClient) -> None:
    image = quote("<img src=x onerror=alert(1)>")
    for path in ("/toys/bear", "/toys/", "/toys/owl/", "/toys/owl/x", "/toys/Owl", "/toys/%00",
                 "/toys/bear/toy.json", "/static/../webapp/way.py", "/static/%2e%2e/webapp/way.py",
                 f"/toys/{image}", f"/static/{image}", f"/library/{image}"):  # fmt: skip
        answer = client.get(path)
        assert answer.status_code == 404, path
        assert answer.mimetype == "text/plain" or b"<img" not in answer.data, path


@pytest.mark.parametrize("path", ["/", *(f"/toys/{toy}" for toy in TOYS), "/toys/owl?units=in"])
def test_links_resolve_and_ids_pointed_at_exist(client: FlaskClient, path: str) -> None:
    page = Page(client.get(path))
    assert len(page.ids) == len(set(page.ids))
    pointed_at = page.attributes("for|aria-labelledby|aria-describedby|hx-target")
    assert {word.lstrip("#") for value in pointed_at for word in value.split()} <= set(page.ids)
    assert page.attributes(r"on\w+|style") == []
    for link in page.links:
        inside = link.startswith("#") and link[1:] in page.ids
        there = inside or client.get(link, buffered=True, follow_redirects=True).status_code == 200
        assert there, link
    for address in (path, path + ("&" if "?" in path else "?") + "pace=0") if path != "/" else ():
        assert set(Page(client.get(address, headers=HTMX)).problems) == set(page.problems)


names = st.sampled_from((*NUMBERS, "height_in", *WORDS, "view", *ALIEN[:-1])) | st.text(max_size=9)
texts = st.sampled_from((*NO_NUMBERS[:-1], *TOO_FAR, *NO_WORDS[:-1], "18", "1", "0", "7", "yes"))
texts = texts | st.text(max_size=30) | st.floats().map(str) | st.integers().map(str)


@given(
    st.lists(st.tuples(names, texts), max_size=5) | st.binary(max_size=60),
    st.sampled_from(("", "/pattern.txt", "/toy.json", "/preview.json", "/views.svg")),
    st.sampled_from(({}, HTMX)),
)
@settings(max_examples=250, deadline=None)
def test_anything_at_all_is_answered(
    client: FlaskClient, values: list[tuple[str, str]] | bytes, file: str, headers: dict[str, str]
) -> None:
    query = quote(values, safe="=&;+%") if isinstance(values, bytes) else urlencode(values)
    answer = client.get(f"/toys/rabbit{file}?{query}", headers=headers)
    assert answer.status_code in (200, 400, 422)
    assert answer.mimetype == "text/plain" or b"<script>alert" not in answer.data
