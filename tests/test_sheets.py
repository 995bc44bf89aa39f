"""Comparing and grading: every design in its own place, every refusal in the place of its toy."""

from __future__ import annotations

import io
import re
import zipfile
from html import unescape
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest
from flask.testing import FlaskClient
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.web import create_app

TOYS = ("otter", "owl", "rabbit", "whale")
SCRIPT = "\"'><script>alert(1)</script>"
BAD = ("nonsense", "http://elsewhere.example/toys/otter", "//elsewhere.example/toys/otter",
       "/toys/bear", "/toys/otter/pattern.txt", "/toys/otter?height_cm=abc", "/toys/otter?x=1",
       "/toys/../otter", "javascript:alert(1)", "http://[", "/toys/otter?" + "a=1&" * 80, SCRIPT,
       "/toys/" + "x" * 3000, "/toys/otter?height_cm=18&height_cm=19", "\x00")  # fmt: skip
TINY = "/toys/otter?height_cm=10&yarn=7"


def reader() -> FlaskClient:
    app = create_app()
    app.config["PROPAGATE_EXCEPTIONS"] = True
    return app.test_client()


client = pytest.fixture(reader, scope="module", name="client")


def comparing(*addresses: str, **form: str) -> str:
    return "/compare?" + urlencode([("v", a) for a in addresses] + list(form.items()))


def columns(page: str) -> list[str]:
    return re.findall(r'<th scope="col">(.*?)</th>', page, re.S)


def row(page: str, label: str) -> list[str]:
    """The cells of a row of figures, without tags."""
    found = re.search(rf'<th scope="row">{re.escape(label)}</th>(.*?)</tr>', page, re.S)
    assert found, label
    cells = re.findall(r"<td>(.*?)</td>", found[1], re.S)
    return [unescape(re.sub(r"<[^>]+>", " ", cell)).strip() for cell in cells]


def test_figures_are_those_of_each_toy_and_per_cent_of_the_first(client: FlaskClient) -> None:
    """Against toy.json of each address; a difference in per cent is arithmetic."""
    addresses = ("/toys/otter", "/toys/otter?head_to_body=1.1", "/toys/owl?height_cm=30&yarn=5")
    answer = client.get(comparing(*addresses))
    assert answer.status_code == 200
    page = answer.text
    data = []
    for address in addresses:
        path, _, query = address.partition("?")
        data.append(client.get(f"{path}/toy.json?{query}").get_json())
    first = data[0]
    stitches = row(page, "Stitches")
    for cell, toy in zip(stitches, data, strict=True):
        assert cell.split()[0] == f"{toy['stitches']:,}"
    for cell, toy in zip(stitches[1:], data[1:], strict=True):
        percent = round(100 * (toy["stitches"] / first["stitches"] - 1))
        assert cell.endswith(f"{percent:+d} %")
    for cell, toy in zip(row(page, "Width"), data, strict=True):
        assert cell.startswith(f"{toy['size_mm']['width'] / 10:.1f} cm")
    fur = next(y for y in first["materials"]["yarns"] if y["colour"] == "bark brown")
    metres, unit = row(page, "Yarn: bark brown")[0].split(",")[0].split()
    # From 100 metres up to fives, as in the pattern.
    assert (float(metres), unit) == (pytest.approx(fur["metres"]["value"], abs=2.5), "m")
    assert row(page, "Yarn: bark brown")[2] == "none"
    for address, column in zip(addresses, columns(page), strict=True):
        assert f'href="{address}"' in unescape(column)
        assert "views.svg" in column


@pytest.mark.parametrize("bad", BAD)
def test_a_bad_address_is_said_in_its_column_and_the_others_stay(
    client: FlaskClient, bad: str
) -> None:
    answer = client.get(comparing("/toys/owl", bad, "/toys/whale"))
    assert answer.status_code == 400
    owl, wrong, whale = columns(answer.text)
    assert "views.svg" in owl
    assert "views.svg" in whale
    assert "views.svg" not in wrong
    assert len(re.findall(r"<(?:span|strong)>[^<]+</", wrong)) == 3
    assert "<script>alert" not in answer.text
    assert "elsewhere.example" not in re.sub(r"v=[^\"]*", "", "".join(
        re.findall(r'(?:href|src)="([^"]*)"', answer.text)))  # fmt: skip
    cells = row(answer.text, "Stitches")
    assert [bool(re.search(r"\d", cell)) for cell in cells] == [True, False, True]


def test_a_design_that_cannot_be_made_says_so_in_its_column(client: FlaskClient) -> None:
    answer = client.get(comparing(TINY, "/toys/otter"))
    assert answer.status_code == 422
    tiny, otter = columns(answer.text)
    assert "tall works" in tiny
    assert "Change design 1" in tiny
    assert "views.svg" in otter


def test_four_are_shown_and_a_fifth_is_refused(client: FlaskClient) -> None:
    five = client.get(comparing(*[f"/toys/{toy}" for toy in TOYS], "/toys/otter"))
    assert five.status_code == 400
    assert "5 designs were given." in five.text
    assert len(columns(five.text)) == 4
    assert "Add a variant" not in five.text
    full = [f"/toys/{toy}" for toy in TOYS]
    assert client.get(comparing(*full)).status_code == 200
    more = client.get(comparing(*full, of="1", change="yarn", to="5"))
    assert more.status_code == 400
    assert "Remove one first." in more.text


VARIANTS = (
    ("/toys/otter", "head_to_body", "1.1", "/toys/otter?head_to_body=1.1"),
    ("/toys/otter?height_cm=18", "height", "24", "/toys/otter?height_cm=24"),
    ("/toys/owl?units=in", "height", "9.5", "/toys/owl?height_in=9.5&units=in"),
    ("/toys/owl?swatch_stitches=22&swatch_rounds=23", "yarn", "5", "/toys/owl?yarn=5"),
    ("/toys/owl?swatch_stitches=22&swatch_rounds=23", "ear_size", "1.2",
     "/toys/owl?ear_size=1.2&swatch_stitches=22&swatch_rounds=23"),
)  # fmt: skip


@pytest.mark.parametrize(("base", "change", "to", "wanted"), VARIANTS)
def test_a_variant_is_one_more_address(
    client: FlaskClient, base: str, change: str, to: str, wanted: str
) -> None:
    """303 after the form, to an address that is the comparison (RFC 9110, 15.4.4)."""
    answer = client.get(comparing("/toys/whale", base, of="2", change=change, to=to))
    assert answer.status_code == 303
    given = [v for _, v in parse_qsl(urlsplit(answer.headers["Location"]).query)]
    assert given == ["/toys/whale", base, wanted]
    assert client.get(answer.headers["Location"]).status_code == 200


@pytest.mark.parametrize(
    ("of", "change", "to", "words"),
    [
        ("1", "head_to_body", "9", "The nearest is"),
        ("1", "cheek_fullness", "1", "has no such slider"),
        ("1", "yarn", "", "nothing was given"),
        ("3", "yarn", "5", "There are 2 here."),
        ("", "yarn", "5", "There are 2 here."),
        ("0010", "yarn", "5", "There are 2 here."),
        ("2", "yarn", "5", "not the address of a toy"),
        ("1", SCRIPT, SCRIPT, "was given"),
    ],
)
def test_a_variant_that_cannot_be_is_refused_and_the_page_stays(
    client: FlaskClient, of: str, change: str, to: str, words: str
) -> None:
    answer = client.get(comparing("/toys/otter", "/toys/bear", of=of, change=change, to=to))
    assert answer.status_code == 400
    assert words in answer.text
    assert "<script>alert" not in answer.text
    assert len(columns(answer.text)) == 2
    if to.isdigit():
        assert f'value="{to}"' in answer.text


def test_a_whole_address_of_this_very_place_is_taken(client: FlaskClient) -> None:
    page = client.get(comparing("http://localhost/toys/owl?yarn=5", " /toys/owl?yarn=5 "))
    assert page.status_code == 200
    one, other = columns(page.text)
    assert re.findall('src="(.*?)"', one) == re.findall('src="(.*?)"', other)
    assert row(page.text, "Stitches")[1].endswith("the same")


def test_with_no_design_it_says_how_to_begin(client: FlaskClient) -> None:
    page = client.get("/compare?v=").text
    assert "No design is here yet" in page
    for link in re.findall(r'href="(/compare\?v=[^"]+)"', page):
        assert client.get(unescape(link)).status_code == 200


@pytest.mark.parametrize("path", [
    comparing("/toys/otter", "/toys/rabbit?height_cm=26"), comparing("/toys/owl", "x"), "/compare",
    "/toys/otter/grading?yarns=3,7&sizes=9,20", "/toys/owl/grading", "/toys/owl/grading?sizes=x",
])  # fmt: skip
def test_links_resolve_and_ids_pointed_at_exist(client: FlaskClient, path: str) -> None:
    page = client.get(path).text
    ids = re.findall(r'\sid="(.*?)"', page)
    assert len(ids) == len(set(ids))
    pointed = re.findall(r'\s(?:for|aria-labelledby|aria-describedby)="(.*?)"', page)
    assert set(pointed) <= set(ids)
    assert not re.findall(r'\s(?:on\w+|style)="', page)
    for link in re.findall(r'(?:href|src|action)="(.*?)"', page):
        if not link.startswith("#"):
            status = client.get(unescape(link), buffered=True).status_code
            assert status == 200 or (status == 400 and "v=x" in link), link


# --- grading -------------------------------------------------------------------------------------


def graded(page: str) -> list[str]:
    body = page.partition("<tbody>")[2].partition("</tbody>")[0]
    return re.findall(r"<tr>(.*?)</tr>", body, re.S)


@pytest.mark.parametrize("toy", TOYS)
def test_a_sheet_has_a_row_for_each_yarn_and_size(client: FlaskClient, toy: str) -> None:
    """And each row is the toy of its own address."""
    answer = client.get(f"/toys/{toy}/grading?pace=20&yarns=3,4,5&sizes=18,20,30")
    assert answer.status_code == 200
    rows = graded(answer.text)
    assert len(rows) == 9
    for text in rows:
        (link,) = re.findall(r'href="(/toys/[^"]+)"', text)
        path, _, query = unescape(link).partition("?")
        data = client.get(f"{path}/toy.json?{query}").get_json()
        assert f"{data['stitches']:,}" in text
        assert f"{data['size_mm']['height'] / 10:.1f} cm" in text
        assert f"<td>{data['materials']['hours']['value']:.1f}</td>" in text
        for yarn in data["materials"]["yarns"]:
            shown = re.search(rf"{yarn['colour']} (\d+) m, {yarn['balls']} ×", text)
            # To the next five, as on the sheet.
            assert shown
            assert abs(int(shown[1]) - yarn["metres"]["value"]) <= 2.5


def test_check_boxes_and_the_text_box_say_the_same_as_lists(client: FlaskClient) -> None:
    """A form sends a check box each as a value of its own (HTML, form submission)."""
    one = client.get("/toys/owl/grading?yarns=3&yarns=4&sizes=15%2C+20")
    other = client.get("/toys/owl/grading?yarns=3,4&sizes=15;20")
    assert one.text == other.text
    assert len(graded(one.text)) == 4


def test_without_choices_it_is_the_design_itself(client: FlaskClient) -> None:
    rows = graded(client.get("/toys/owl/grading?height_in=8&units=in&yarn=5").text)
    assert len(rows) == 1
    assert "height_in=8&amp;units=in&amp;yarn=5" in rows[0] or "units=in" in rows[0]
    assert "Bulky (5)" in rows[0]
    assert "8 in" in rows[0]


def finished(row_text: str) -> float:
    found = re.search(r"<td>([\d.]+) cm<small>", row_text)
    assert found, row_text
    return float(found[1])


def test_a_size_is_met_or_refused_whatever_is_held(client: FlaskClient) -> None:
    """The otter is 20 cm tall where nothing else is said, and its head 0.55 times as wide as that
    at a head to body of 0.8 (its recipe): a head of 12 cm with that ratio pinned makes it 21.8 cm
    tall, and no other height. Without the pin the ratio follows, and each height can be."""
    held = "/toys/otter/grading?hold.head.width_cm=12"
    rows = graded(client.get(f"{held}&pin=head_to_body&sizes=20,24").text)
    assert all('class="problem"' in row for row in rows), rows
    (own,) = graded(client.get(f"{held}&pin=head_to_body").text)
    assert 21.4 <= finished(own) <= 22.2
    assert "<td>21.7742 cm</td>" in own
    again = graded(client.get(f"{held}&pin=head_to_body&sizes=21.7742").text)
    assert again == [own]
    for row, size in zip(graded(client.get(f"{held}&sizes=19,20,21").text), (19, 20, 21),
                         strict=True):  # fmt: skip
        assert abs(finished(row) - size) <= 0.6


def test_a_variant_at_the_usual_value_is_not_its_design_again(client: FlaskClient) -> None:
    """A body of 15 cm makes the otter 27 cm tall (0.5556 of its height, by its recipe): it cannot
    be 20 cm tall, the usual height, and is not shown as if it were."""
    base = "/toys/otter?hold.body.height_cm=15"
    answer = client.get(comparing(base, of="1", change="height", to="20"), follow_redirects=True)
    assert "20 cm and body height of 15 cm was to be held" in unescape(answer.text)
    free = "/toys/otter?hold.head.width_cm=9"
    answer = client.get(comparing(free, of="1", change="height", to="20"), follow_redirects=True)
    assert answer.status_code == 200
    assert abs(float(row(answer.text, "Height")[1].split()[0]) - 20.0) <= 0.6


def test_rows_that_cannot_be_made_say_why(client: FlaskClient) -> None:
    answer = client.get("/toys/otter/grading?yarns=3,7&sizes=10")
    assert answer.status_code == 200
    good, bad = graded(answer.text)
    assert "open" in good
    assert "tall works" in bad
    for query in ("yarns=9", "yarns=3.5", "sizes=abc", "sizes=5000", f"yarns={SCRIPT}", "yarns=é"):
        answer = client.get(f"/toys/otter/grading?{query}")
        assert answer.status_code == 400, query
        assert len(re.findall(r"<(?:span|strong)>[^<]+</", graded(answer.text)[0])) >= 3
        assert "<script>alert" not in answer.text
        assert client.get(f"/toys/otter/grading.zip?{query}").status_code == 400


def test_forty_rows_and_no_more(client: FlaskClient) -> None:
    sizes = ",".join(str(s) for s in range(20, 40))
    assert len(graded(client.get(f"/toys/whale/grading?yarns=5,6&sizes={sizes}").text)) == 40
    answer = client.get(f"/toys/whale/grading?yarns=4,5,6&sizes={sizes}")
    assert answer.status_code == 400
    assert "60 toys" in answer.text
    assert "13 sizes" in answer.text
    assert graded(answer.text) == []
    assert client.get(f"/toys/whale/grading.zip?yarns=4,5,6&sizes={sizes}").status_code == 400


def test_a_swatch_stays_with_its_yarn(client: FlaskClient) -> None:
    design = "yarn=4&swatch_stitches=18&swatch_rounds=19"
    answer = client.get(f"/toys/owl/grading?{design}&yarns=3,4&sizes=20")
    other, own = graded(answer.text)
    assert "own swatch" not in other
    assert "own swatch" in own
    assert "Your swatch is of one yarn" in answer.text


def test_the_archive_is_the_patterns_and_the_same_bytes_each_time(client: FlaskClient) -> None:
    """Read back with the standard library's zipfile; each pattern is that of the row's address."""
    path = "/toys/otter/grading.zip?head_to_body=1.1&yarns=3,7&sizes=10,20"
    answer = client.get(path)
    assert answer.status_code == 200
    assert answer.mimetype == "application/zip"
    assert "filename=otter-grading.zip" in answer.headers["Content-Disposition"]
    again = reader().get(path)
    assert again.data == answer.data
    archive = zipfile.ZipFile(io.BytesIO(answer.data))
    assert archive.testzip() is None
    assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    names = archive.namelist()
    assert names == ["summary.txt", "otter-yarn3-10cm-pattern.txt", "otter-yarn3-20cm-pattern.txt"]
    ten = client.get("/toys/otter/pattern.txt?head_to_body=1.1&height_cm=10").data
    assert archive.read(names[1]) == ten
    summary = archive.read("summary.txt").decode()
    assert summary.startswith("BRAMWELL THE OTTER\n")
    assert summary.count("cannot be made") == 2
    assert all(name in summary for name in names[1:])


def test_an_archive_of_nothing_is_refused(client: FlaskClient) -> None:
    answer = client.get("/toys/otter/grading.zip?yarns=7&sizes=10")
    assert (answer.status_code, answer.mimetype) == (422, "text/plain")
    for path in ("/toys/bear/grading", "/toys/bear/grading.zip"):
        assert client.get(path).status_code == 404


texts = st.sampled_from((*BAD[:-4], TINY, "/toys/owl", "3,4", "20", "1", "2", "yarn", "height"))
texts = texts | st.text(max_size=30)
names = st.sampled_from(("v", "of", "change", "to", "yarns", "sizes", "height_cm", "units"))


@given(
    st.lists(st.tuples(names, texts), max_size=7),
    st.sampled_from(("/compare", "/toys/whale/grading", "/toys/whale/grading.zip")),
)
@settings(max_examples=120, deadline=None)
def test_anything_at_all_is_answered(
    client: FlaskClient, values: list[tuple[str, str]], path: str
) -> None:
    answer = client.get(f"{path}?{urlencode(values)}")
    assert answer.status_code in (200, 303, 400, 422)
    assert b"<script>alert" not in answer.data
