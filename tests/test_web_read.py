"""The pages that read a written pattern, as those who use and misuse them meet them.

Counts are sums of stitches, done here by hand beside each text. What an answer's status means is
RFC 9110 (303 after a post: 15.4.4; 413: 15.5.14; 422: 15.5.21). Files are encoded by Python's own
codecs. Texts are our own.
"""

from __future__ import annotations

import io
import math
import re
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from tests.test_web import HTMX, SCRIPT, reader
from webapp.reading.reading import read_pattern
from webapp.terms import Language
from webapp.web.read_example import EXAMPLE

client = pytest.fixture(reader, scope="module", name="client")

BALL = """\
Pip the ball
Gauge: 20 sc and 20 rnds = 10 cm

BALL
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc, inc) x 6 (18)
Rnds 4-6: sc in each st around (18)
Rnd 7: (sc, dec) x 6 (12)
Rnd 8: dec x 6 (6)
"""
"""6; 6 x 2 = 12; 6 x (1 + 2) = 18; three even; 6 x (1 + 1) = 12; 6 x 1 = 6: all agree."""

WRONG = BALL.replace("(sc, inc) x 6 (18)", "(sc, inc) x 7 (18)")
"""7 x (1 + 1) = 14 stitches are wanted of 12; 6 times is what fits and gives 18."""

DOUBT = WRONG.replace("Rnds 4-6: sc in each st around (18)", "Rnd 4: sc around. Stuff.").replace(
    "Rnd 7: (sc, dec) x 6 (12)", "Rnd 5: sc around (21)"
).replace("Rnd 8: dec x 6 (6)\n", "")
"""Round 3 makes 7 x 3 = 21 as its stitches say, 18 as is written: round 4 may be either."""

NO_GAUGE = BALL.replace("Gauge: 20 sc and 20 rnds = 10 cm\n", "")
CORPUS = sorted((Path(__file__).parent / "corpus").glob("*/*.txt"))


def read(client: FlaskClient, text: str, htmx: bool = False, **more: Any) -> TestResponse:
    return client.post("/read", data={"text": text, **more}, headers=HTMX if htmx else {})


def box(answer: TestResponse, name: str = "text") -> str:
    """The pattern as it stands in the box."""
    found = re.search(rf'<textarea id="{name}".*?>\n(.*?)</textarea>', answer.text, re.S)
    assert found
    return unescape(found[1])


def plain(markup: str) -> str:
    """The words of a piece of a page."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", markup)).split())


def problems(answer: TestResponse) -> dict[str, list[str]]:
    """The sentences beside each box that has some."""
    found = re.findall(r'<p class="problem" id="problem-(.+?)".*?>(.*?)</p>', answer.text, re.S)
    said = {name: re.findall(r"<(?:span|strong)>(.*?)</(?:span|strong)>", b, re.S)
            for name, b in found}  # fmt: skip
    return {name: [plain(s) for s in sentences] for name, sentences in said.items() if sentences}


def lines(answer: TestResponse) -> list[tuple[str, str, str]]:
    """Number, text and reading of each line that is shown."""
    found = re.findall(
        r'<li id="line-(\d+)".*?<span class="as-written"(?: lang="[\w-]+")?>(.*?)</span>\s*'
        r'<span class="as-read">(.*?)</li>', answer.text, re.S
    )  # fmt: skip
    written = [(n, unescape(re.sub(r"</?mark.*?>", "", text)), read) for n, text, read in found]
    return [(n, text, plain(read)) for n, text, read in written]


def shares(answer: TestResponse) -> str:
    found = re.search(r'<ul class="shares".*?</ul>', answer.text, re.S)
    return plain(found[0]) if found else ""


# --- reading -----------------------------------------------------------------------------------


def test_there_is_a_way_to_it_from_the_start_page_and_the_menu(client: FlaskClient) -> None:
    start = client.get("/").text
    assert len(re.findall('href="/read"', start)) == 2
    assert client.get("/read").status_code == 200


def test_a_right_pattern_agrees_round_for_round(client: FlaskClient) -> None:
    answer = read(client, BALL)
    assert answer.status_code == 200
    assert shares(answer) == "= 8 agree"
    read_lines = {text: reading for _, text, reading in lines(answer)}
    assert read_lines["Rnd 3: (sc, inc) x 6 (18)"] == "Rnd 3 (sc, inc) x 6 12 → 18"
    assert read_lines["Rnds 4-6: sc in each st around (18)"].endswith("18")
    assert "Every round agrees." in answer.text


def test_what_does_not_agree_says_what_it_gives_what_is_written_and_the_mend(
    client: FlaskClient,
) -> None:
    # 7 x (1 sc + 1 inc) would make 7 x 3 = 21; 18 is written; round 4 is worked into 18.
    answer = read(client, WRONG)
    assert shares(answer) == "= 7 agree ≠ 1 does not agree"
    reading = next(words for _, text, words in lines(answer) if text.startswith("Rnd 3"))
    assert "≠ does not agree" in reading
    for wanted in ("21", "18 is written", "next round needs 18", "x 6 instead of x 7"):
        assert wanted in reading, reading
    assert "12 → 21 ≠ 18" in reading


def test_a_mend_changes_its_characters_and_nothing_else(client: FlaskClient) -> None:
    answer = read(client, WRONG)
    mend = re.search(r'name="mend" value="(\d+-\d+)"', answer.text)
    assert mend
    for htmx in (False, True):
        after = read(client, WRONG, htmx, mend=mend[1])
        assert box(after) == BALL
        assert shares(after) == "= 8 agree"
        assert "x 6 instead of x 7" in after.text
        assert f'data-focus="line-{WRONG[: WRONG.index("Rnd 3")].count(chr(10)) + 1}"' in after.text


def test_a_choice_is_settled_the_other_way_by_the_count_that_says_so(client: FlaskClient) -> None:
    answer = read(client, DOUBT)
    reading = next(words for _, text, words in lines(answer) if text.startswith("Rnd 4"))
    assert "Taken: worked into 18. Could be: worked into 21, which would make 21" in reading
    assert "Other reading: the count 21 is written" in reading
    button = re.search(
        r'<button type="submit"[^>]* form="read-form" name="mend" value="(\d+-\d+)"'
        r' aria-label="Take the other reading of line 8',
        answer.text,
    )
    assert button
    for htmx in (False, True):
        after = read(client, DOUBT, htmx, mend=button[1])
        assert after.status_code == 200
        assert box(after) == DOUBT.replace("sc around. Stuff.", "sc around (21). Stuff.")
        assert "needed a choice" not in after.text
        assert "Line 8: the count 21 is written" in after.text
        assert "Take the other reading" not in after.text


def test_a_mend_that_is_no_longer_there_changes_nothing(client: FlaskClient) -> None:
    for mend in ("0-3", "99999-99999"):
        after = read(client, WRONG, mend=mend)
        assert after.status_code == 422
        assert box(after) == WRONG
        assert len(problems(after)["text"]) == 3


def test_a_round_that_is_not_understood_is_kept_with_the_reason(client: FlaskClient) -> None:
    answer = client.post("/read", data={"example": "yes"})
    assert box(answer) == EXAMPLE
    assert shares(answer) == "= 18 agree ≠ 2 do not agree … 1 is not understood"
    reading = next(words for _, text, words in lines(answer) if text.startswith("Rnd 7"))
    assert "… not understood" in reading
    assert "14" in reading.split("not understood")[1]


@pytest.mark.parametrize("path", CORPUS, ids=lambda path: path.stem)
def test_nothing_of_a_text_is_lost_or_moved(client: FlaskClient, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    answer = read(client, text)
    assert answer.status_code == 200
    whole = text.split("\n")[: -1 if text.endswith("\n") else None]
    assert [(n, line) for n, line, _ in lines(answer)] == [
        (str(n), line) for n, line in enumerate(whole, 1)
    ]
    assert box(answer) == text


def test_ids_are_given_once_and_every_target_is_there(client: FlaskClient) -> None:
    page = client.post("/read/rework", data={"text": EXAMPLE, "size": "120"}).text
    ids = re.findall(r'\sid="(.+?)"', page)
    assert len(ids) == len(set(ids))
    wanted = re.findall(
        r'(?:\sfor|hx-target|aria-labelledby|form|data-form|href)="#?([a-z].*?)"', page
    )
    targets = {w for w in wanted if "/" not in w} - {"read-page"}
    assert targets <= set(ids)
    assert 'id="read-page"' in page


def test_whose_words_can_be_said(client: FlaskClient) -> None:
    # In UK words dc is the stitch that US words call sc.
    text = BALL.replace("sc", "dc")
    forced = read(client, text, words="uk")
    assert shares(forced) == "= 8 agree"
    assert "(dc, inc) x 6" in lines(forced)[6][2]
    assert read(client, text, words="us").status_code == 200
    refused = read(client, text, words="klingon")
    assert refused.status_code == 422
    assert len(problems(refused)["words"]) == 3
    assert box(refused) == text


# --- files -------------------------------------------------------------------------------------

LETTERS = BALL.replace("Pip the ball", "Pip – the “ball” ½")
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "windows-1252")


@pytest.mark.parametrize("encoding", ENCODINGS)
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_a_file_is_read_in_its_own_encoding(client: FlaskClient, encoding: str, ends: str) -> None:
    data = LETTERS.replace("\n", ends).encode(encoding)
    answer = read(client, "", file=(io.BytesIO(data), "pip.txt"))
    assert answer.status_code == 200
    assert box(answer) == LETTERS


@pytest.mark.parametrize("order", ["le", "be"])
def test_a_file_of_two_bytes_a_letter_says_their_order(client: FlaskClient, order: str) -> None:
    mark = {"le": b"\xff\xfe", "be": b"\xfe\xff"}[order]
    data = mark + LETTERS.encode(f"utf-16-{order}")
    assert box(read(client, "", file=(io.BytesIO(data), "pip.txt"))) == LETTERS


def test_a_picture_is_no_text_and_what_was_typed_stays(client: FlaskClient) -> None:
    picture = (Path(__file__).parent.parent / "static/pictures/designer.png").read_bytes()[:20_000]
    answer = read(client, BALL, file=(io.BytesIO(picture), "toy.png"))
    assert answer.status_code == 422
    assert "no text" in problems(answer)["text"][1]
    assert box(answer) == BALL


# --- hostile texts -----------------------------------------------------------------------------

REFUSED = {
    "empty": "",
    "blank": " \n\t\n ",
    "soup": "Leek soup\nPeel 3 carrots and 2 leeks, boil for 20 minutes. Serves 4.",
    "one letter": "a" * 1_000_000,
    "brackets": "(" * 150_000,
    "noughts": "Rnd 1: 6 sc\0 in magic ring (6)",
    "long number": "Rnd 1: " + "9" * 5000 + " sc in magic ring (6)",
}


@pytest.mark.parametrize("name", REFUSED)
@pytest.mark.parametrize("htmx", [False, True])
def test_what_is_no_pattern_is_refused_beside_the_box(
    client: FlaskClient, name: str, htmx: bool
) -> None:
    answer = read(client, REFUSED[name], htmx)
    assert answer.status_code == 422
    assert len(problems(answer)["text"]) == 3
    assert box(answer) == REFUSED[name]
    assert 'aria-invalid="true"' in answer.text


@pytest.mark.parametrize("name", REFUSED)
@pytest.mark.parametrize("file", ["mended.txt", "rework.txt", "figure.json"])
def test_files_of_what_is_no_pattern_are_refused_in_plain_words(
    client: FlaskClient, name: str, file: str
) -> None:
    answer = client.post(f"/read/{file}", data={"text": REFUSED[name]})
    assert (answer.status_code, answer.mimetype) == (422, "text/plain")
    assert answer.text.count(".") >= 2


MANY = "a" * 4_100_000
PART = 'Content-Disposition: form-data; name="text"'
BODIES = {
    "application/x-www-form-urlencoded": f"text={MANY}",
    "multipart/form-data; boundary=pip": f"--pip\r\n{PART}\r\n\r\n{MANY}\r\n--pip--\r\n",
}


@pytest.mark.parametrize("kind", BODIES)
def test_a_body_past_the_limit_is_refused_with_a_sentence(client: FlaskClient, kind: str) -> None:
    answer = client.post("/read", data=BODIES[kind].encode(), content_type=kind)
    assert answer.status_code == 413
    assert len(problems(answer)["text"]) == 3
    assert '<textarea id="text"' in answer.text


def test_huge_numbers_are_said_and_not_worked_out(client: FlaskClient) -> None:
    for line in ("Rnd 9: (sc, inc) x 999999999 (12)", "Rnds 9-99999999: sc in each st around (6)",
                 "Rnd 9: 999999999 inc"):  # fmt: skip
        answer = read(client, f"{BALL}{line}\n")
        assert answer.status_code == 200, line
        assert shares(answer).startswith(("= 8 agree", "= 9 agree")), line
        assert lines(answer)[-1][1] == line


def test_markup_in_a_pattern_is_shown_and_not_run(client: FlaskClient) -> None:
    text = f"{BALL}{SCRIPT}\nRnd 9: {SCRIPT} (12)\nTAIL {SCRIPT}\nRnd 1: 6 sc in magic ring (6)\n"
    for answer in (read(client, text), client.post("/read/rework", data={"text": text})):
        assert answer.status_code == 200
        assert "<script>alert" not in answer.text
        assert box(answer) == text


def test_nothing_is_kept(client: FlaskClient) -> None:
    answer = read(client, BALL)
    assert answer.headers["Cache-Control"] == "no-store"
    assert "Set-Cookie" not in answer.headers
    assert "Pip the ball" not in client.get("/read").text


# --- gauge and shape ---------------------------------------------------------------------------


def test_a_size_is_that_of_the_stitches(client: FlaskClient) -> None:
    # 18 stitches of 5 mm go round 90 mm: 90 / pi = 28.6 mm wide. With 40 in 10 cm half of that.
    assert f"{18 * 5 / math.pi / 10:.1f} × " in read(client, BALL).text
    half = read(client, BALL, stitches="40", rounds="40").text
    assert f"{18 * 2.5 / math.pi / 10:.1f} × " in half
    assert "40 stitches and 40 rounds in 10 cm, as you gave it" in half


def test_without_a_gauge_one_is_asked_for(client: FlaskClient) -> None:
    asked = read(client, NO_GAUGE).text
    assert "Which gauge?" in asked
    assert "Gauge of this pattern" in asked
    given = read(client, NO_GAUGE, yarn="3").text
    assert "Which gauge?" not in given
    assert "24 stitches and 25 rounds in 10 cm" in given


@pytest.mark.parametrize(
    ("boxes", "name"),
    [
        ({"stitches": "0"}, "stitches"),
        ({"stitches": "1e9"}, "stitches"),
        ({"stitches": "9999"}, "stitches"),
        ({"stitches": SCRIPT}, "stitches"),
        ({"stitches": "20", "rounds": "80"}, "rounds"),
        ({"rounds": "20"}, "stitches"),
        ({"yarn": "9"}, "yarn"),
        ({"yarn": "\u0663"}, "yarn"),
    ],
)
def test_a_gauge_that_cannot_be_is_refused_beside_its_box_and_the_text_still_read(
    client: FlaskClient, boxes: dict[str, str], name: str
) -> None:
    answer = read(client, BALL, **boxes)
    assert answer.status_code == 422
    assert len(problems(answer)[name]) == 3
    assert shares(answer) == "= 8 agree"
    assert box(answer) == BALL


def test_the_figure_has_the_parts_and_their_rounds(client: FlaskClient) -> None:
    figure = client.post("/read/figure.json", data={"text": EXAMPLE}).get_json()
    assert {mesh["name"] for mesh in figure["data"]} == {"BODY", "HORNS"}
    body = next(row for row in figure["hover"] if row["part"] == "BODY")
    # The widest rounds of the example have 30 stitches.
    assert max(body["counts"]) == 30
    assert max(body["rounds"]) == 14


# --- mended, anew, one's own -------------------------------------------------------------------


@pytest.mark.parametrize(("terms", "stitch"), [("us", "sc"), ("uk", "dc")])
def test_the_mended_text_is_right_and_in_the_terms_chosen(
    client: FlaskClient, terms: str, stitch: str
) -> None:
    answer = client.post("/read/mended.txt", data={"text": WRONG, "terms": terms})
    assert answer.headers["Content-Disposition"] == "attachment; filename=pip-the-ball-mended.txt"
    assert f"Rnd 3: ({stitch}, inc) x 6 [18]" in answer.text
    assert shares(read(client, answer.text)) == "= 8 agree"
    assert "x 6 instead of x 7" in read(client, WRONG).text


def counts(text: str) -> list[int]:
    """The counts in square brackets at the ends of lines, rounds of a range each its own."""
    found = re.findall(r"^Rnds? (\d+)(?:-(\d+))?: .*\[(\d+)\]$", text, re.M)
    return [int(n) for first, last, n in found for _ in range(int(first), int(last or first) + 1)]


def test_worked_anew_as_it_is_it_stays_as_it_is(client: FlaskClient) -> None:
    answer = client.post("/read/rework.txt", data={"text": BALL, "effort": "simple"})
    assert counts(answer.text) == [6, 12, 18, 18, 18, 18, 12, 6]


def test_twice_the_size_has_twice_the_stitches_round_it(client: FlaskClient) -> None:
    data = {"text": BALL, "size": "200", "effort": "true"}
    new = counts(client.post("/read/rework.txt", data=data).text)
    # A lap twice as long at the same gauge: 36 stitches, within one.
    assert abs(max(new) - 36) <= 1
    shown = client.post("/read/rework", data=data, headers=HTMX)
    assert shown.status_code == 200
    text = re.search(r'<pre class="new-text".*?>(.*?)</pre>', shown.text, re.S)
    assert text
    assert counts(unescape(text[1])) == new
    assert f"all {len(new)} rounds agree" in shown.text
    # The whole page, for those without script, has the same.
    assert text[1] in client.post("/read/rework", data=data).text


def test_a_yarn_half_as_thick_has_twice_the_stitches(client: FlaskClient) -> None:
    data = {"text": BALL, "to_stitches": "40", "to_rounds": "40", "effort": "true"}
    answer = client.post("/read/rework.txt", data=data)
    assert abs(max(counts(answer.text)) - 36) <= 1
    assert "40 sc and 40 rnds = 10 x 10 cm" in answer.text


@pytest.mark.parametrize(
    ("boxes", "name"),
    [
        ({"size": "0"}, "size"),
        ({"size": "99999"}, "size"),
        ({"size": "-5"}, "size"),
        ({"size": SCRIPT}, "size"),
        ({"wider_0": "5"}, "wider_0"),
        ({"longer_0": "abc"}, "longer_0"),
        ({"to_yarn": "12"}, "to_yarn"),
        ({"to_stitches": "1"}, "to_stitches"),
        ({"to_stitches": "20", "to_rounds": "90"}, "to_rounds"),
        ({"to_rounds": "20"}, "to_stitches"),
    ],
)
def test_a_change_that_cannot_be_is_refused_beside_its_box(
    client: FlaskClient, boxes: dict[str, str], name: str
) -> None:
    for headers in ({}, HTMX):
        answer = client.post("/read/rework", data={"text": BALL, **boxes}, headers=headers)
        assert answer.status_code == 422
        assert len(problems(answer)[name]) == 3
        assert 'id="reworked"' not in answer.text
        assert "<script>alert" not in answer.text
    assert client.post("/read/rework.txt", data={"text": BALL, **boxes}).status_code == 422


def test_the_nearest_that_is_offered_for_a_size_is_taken(client: FlaskClient) -> None:
    for size in ("1", "5000"):
        answer = client.post("/read/rework", data={"text": BALL, "size": size})
        nearest = re.search(r"The nearest is (\d+) %", answer.text)
        assert nearest
        again = client.post("/read/rework", data={"text": BALL, "size": nearest[1]})
        # A size may still be too small for a ring; then the part says so, and not the box.
        assert "size" not in problems(again)


def test_it_becomes_a_toy_of_ones_own_at_its_address(client: FlaskClient) -> None:
    answer = client.post("/read/own", data={"text": EXAMPLE})
    assert answer.status_code == 303
    address = answer.headers["Location"]
    assert urlsplit(address).path == "/toys/own"
    toy = client.get(address)
    assert toy.status_code == 200
    assert "BODY" in toy.text


@pytest.mark.parametrize(
    "gauge",
    [{}, {"yarn": "5"}, {"yarn": "3"}, {"stitches": "15", "rounds": "16"},
     {"stitches": "31.5", "rounds": "33"}, {"stitches": "13"}],
)  # fmt: skip
def test_ones_own_toy_has_the_rounds_that_were_read_whatever_the_gauge(
    client: FlaskClient, gauge: dict[str, str]
) -> None:
    """The counts stand in the text; a pattern's rounds do not change with who works it."""
    for text in (BALL, NO_GAUGE):
        answer = client.post("/read/own", data={"text": text, **gauge})
        toy = client.get(answer.headers["Location"].replace("/own?", "/own/toy.json?")).get_json()
        counts = [entry["count"] for entry in toy["parts"][0]["rounds"]]
        assert counts == [6, 12, 18, 18, 18, 18, 12, 6]
        page = client.get(answer.headers["Location"]).text
        if "yarn" in gauge:
            assert re.search(rf'name="yarn" type="text"[^>]* value="{gauge["yarn"]}"', page)
        for name, count in gauge.items():
            if name != "yarn":
                assert re.search(rf'name="swatch_{name}"[^>]* value="{count}"', page)


@pytest.mark.parametrize(
    ("text", "boxes"),
    [
        (BALL, {}),
        (BALL, {"stitches": "30", "rounds": "31.5"}),
        (BALL, {"yarn": "6"}),
        (NO_GAUGE, {}),
        (BALL.replace("= 10 cm", "= 4 in"), {"words": "us"}),
        (BALL.replace("sc", "dc"), {"words": "uk"}),
        (BALL.replace("sc", "fM").replace("inc", "zun").replace("dec", "abn"), {"words": "de"}),
    ],
)
def test_the_toy_that_opens_has_the_rounds_that_were_read(
    client: FlaskClient, text: str, boxes: dict[str, str]
) -> None:
    """At the gauge that is given, stated or assumed, and in the words of the text: the counts are
    those that BALL says."""
    address = client.post("/read/own", data={"text": text, **boxes}).headers["Location"]
    assert client.get(address).status_code == 200
    query = urlsplit(address).query.removesuffix("&open=ball")
    written = client.get(f"/toys/own/pattern.txt?{query}").text
    language = Language(boxes.get("words", "us"))
    if language is not Language.GERMAN:
        assert f"Terms: {language.value.upper()}" in written
    else:
        assert "fM = feste Masche" in written
    assert read_pattern(written, language).parts[0].counts == (6, 12, 18, 18, 18, 18, 12, 6)


def test_a_toy_too_long_for_an_address_is_a_file_that_opens(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("webapp.web.reading.LONGEST", 100)
    answer = client.post("/read/own", data={"text": BALL})
    assert answer.headers["Content-Disposition"] == "attachment; filename=pip-the-ball-toy.json"
    opened = client.post("/own/open", data={"file": (io.BytesIO(answer.data), "pip.json")})
    assert urlsplit(opened.headers["Location"]).path == "/toys/own"
    assert "swatch_rounds=20&swatch_stitches=20" in opened.headers["Location"]


def test_what_cannot_become_a_toy_says_why(client: FlaskClient) -> None:
    answer = client.post("/read/own", data={"text": "SCARF\nRnd 1: knit until it is long (12)\n"})
    assert answer.status_code == 422
    assert re.search(r'class="problem" role="alert">.*?<strong>', answer.text, re.S)
    assert "Make it my own" not in answer.text


def test_a_part_that_is_not_understood_stays_and_the_new_text_says_what_to_look_at(
    client: FlaskClient,
) -> None:
    odd = "Rnd 2: curl it round a pencil"
    text = f"{BALL}\nTAIL\nRnd 1: 6 sc in magic ring (6)\n{odd}\n"
    answer = client.post("/read/rework", data={"text": text, "size": "200"})
    assert answer.status_code == 200
    new = re.search(r'<pre class="new-text".*?>(.*?)</pre>', answer.text, re.S)
    assert new
    assert odd in unescape(new[1])
    assert "as it was" in answer.text
    assert "To look at in it: 1" in answer.text


def test_a_gauge_is_no_length_that_grows(client: FlaskClient) -> None:
    data = {"text": BALL, "size": "150", "to_stitches": "24", "to_rounds": "25"}
    new = client.post("/read/rework.txt", data=data).text
    assert "24 sc and 25 rnds = 10 x 10 cm" in new
    assert "= 15 cm" not in new
    assert "24 stitches and 25 rounds in 10 cm, as the text says" in read(client, new).text
