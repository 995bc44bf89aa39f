"""Whose words a text is read by, and the tables of words themselves.

Which stitch words belong to which language: glossaries and lessons of the trade (published charts
for US and UK); leanings of UK texts (miss, tension, htr): the same charts.
"""

from __future__ import annotations

import pytest

from webapp.reading.languages import tell_language
from webapp.reading.splitting import read_sheet
from webapp.terms import Language, term_table

US = "R1: 6 sc in MR (6)\nR2: inc x 6 (12)\nR3: (sc, inc) x 6 (18)\n"
UK = "R1: 6 dc in MR (6)\nR2: inc x 6 (12)\nR3: (dc, inc) x 6 (18)\nR4: dc2tog x 9 (9)\n"
TEXTS = {
    Language.US: US,
    Language.UK: UK,
    Language.GERMAN: "1. Rd: 6 fM in Fadenring (6)\n2. Rd: jede M verdoppeln (12)\n3. Rd: 12 fM\n",
    Language.FRENCH: "T1 : 6 ms dans un cercle magique (6)\nT2 : 6 aug (12)\nT3 : 12 ms (12)\n",
    Language.SPANISH: "V1: 6 pb en anillo mágico (6)\nV2: 6 aum (12)\nV3: pb en cada punto (12)\n",
    Language.ITALIAN: "Giro 1: 6 mb in anello magico (6)\nGiro 2: 6 aum (12)\nGiro 3: 12 mb (12)\n",
    Language.PORTUGUESE: "Carr 1: 6 pb no anel mágico (6)\nCarr 2: 6 aum (12)\nCarr 3: 12 pb\n",
    Language.DUTCH: "T1: 6 v in een magische ring (6)\nT2: 2 v in elke steek (12)\nT3: 12 v (12)\n",
    Language.DANISH: "1. omg: 6 fm i magisk ring (6)\n2. omg: 6 udt (12)\n3. omg: 12 fm (12)\n",
    Language.SWEDISH: "Varv 1: 6 fm i magisk ring (6)\nVarv 2: 6 ök (12)\nVarv 3: fm i varje m\n",
    Language.NORWEGIAN: "1. omg: 6 fm i magisk ring (6)\n2. omg: 6 øk (12)\n3. omg: 12 fm (12)\n",
    Language.JAPANESE: "1段め わの作り目に細編み6目\n2段め 各目に増し目(12目)\n3段め 細編み12目\n",
}


@pytest.mark.parametrize("language", Language)
def test_a_text_tells_its_language(language: Language) -> None:
    told, why = tell_language(TEXTS[language])
    assert told is language
    assert why.startswith("Read by ")
    assert why.endswith(".")


@pytest.mark.parametrize("language", Language)
def test_a_language_that_is_given_is_taken(language: Language) -> None:
    told, why = tell_language(US, language)
    assert told is language
    assert "as asked" in why


@pytest.mark.parametrize(
    ("text", "language", "because"),
    [
        (f"Uses UK terms.\n{US}", Language.UK, "uk terms"),
        (f"Written in US terms.\n{UK}", Language.US, "us terms"),
        (f"British terms throughout\n{UK}", Language.UK, "british terms"),
        (f"Terms: UK\n{US}", Language.UK, "terms: uk"),
        (UK, Language.UK, "none in sc"),
        (US, Language.US, "worked in sc"),
        (f"{US}R4: 3 dc in next st, 15 sc (18)\n", Language.US, "both sc and dc"),
        (f"Tension is not important.\n{UK}", Language.UK, "tension"),
        (f"{UK * 5}dc: what Americans call sc\n", Language.UK, "hardly any"),
        ("R1: 6 htr in a ring, miss 1", Language.UK, "miss"),
        ("R1: 6 in a ring", Language.US, "nothing"),
        ("This is in UK terms, not US terms\n" + US, Language.US, "sc"),  # both are named
    ],
)
def test_us_or_uk(text: str, language: Language, because: str) -> None:
    told, why = tell_language(text)
    assert told is language
    assert because in why


@pytest.mark.parametrize(
    ("text", "language", "because"),
    [
        # What only one of the neighbours says: glossaries and lessons, see GLOSSARY.
        ("6 fm i magisk ring (6)\n2 fm i næste m, 5 fm (7)\n", Language.DANISH, "fm"),
        ("6 fm i magisk ring (6)\n2 fm i neste m, 5 fm (7)\n", Language.NORWEGIAN, "neste"),
        ("6 fm i magisk ring (6)\n2 fm i nästa m, 5 fm (7)\n", Language.SWEDISH, "nästa"),
        ("6 fm i magisk ring (6)\n(1 fm, udt) x 3 (9)\n", Language.DANISH, "udt"),
        ("6 fm i magisk ring (6)\n(1 fm, øk) x 3 (9)\n", Language.NORWEGIAN, "øk"),
        ("6 fm i magisk ring (6)\n(1 fm, ök) x 3 (9)\n", Language.SWEDISH, "ök"),
        # Nothing tells these two apart, and nothing is read otherwise.
        ("6 fm i magisk ring (6)\n2 fm i hver m (12)\n", Language.DANISH, "Norwegian terms too"),
    ],
)
def test_the_northern_languages_are_told_apart(
    text: str, language: Language, because: str
) -> None:
    told, why = tell_language(text)
    assert told is language
    assert because in why


def test_an_english_text_with_foreign_names_is_english() -> None:
    text = f"Für meine Oma, con amor, pour les enfants\n\nHead\n{US}"
    assert read_sheet(text).language is Language.US


@pytest.mark.parametrize("language", Language)
def test_tables_have_the_same_concepts(language: Language) -> None:
    english, table = term_table(Language.US), term_table(language)
    assert set(table.forms) == set(english.forms)
    # What tells other languages, whose words English uses, and words without spaces.
    own = {"hints", "us", "uk", "whole", "nth"}
    assert set(table.sheet) - own == set(english.sheet) - own
    for forms in (table.forms, table.sheet):
        for concept, ways in forms.items():
            assert ways, concept
            assert len(set(ways)) == len(ways), concept
            assert all(way == way.lower() and way.strip() for way in ways), concept


@pytest.mark.parametrize("language", Language)
def test_a_form_means_one_thing(language: Language) -> None:
    # Forms of what a remark is about are beginnings of words that other concepts share.
    seen: dict[str, str] = {}
    for concept, ways in term_table(language).forms.items():
        if concept.startswith("about_"):
            continue
        for way in ways:
            assert seen.setdefault(way, concept) == concept, way


# Single crochet, increase, decrease, slip stitch, chain, magic ring, round: public glossaries and
# lesson pages, one or two for each language.
GLOSSARY = {
    Language.GERMAN: (
        "feste masche",
        "zun",
        "abn",
        "kettmasche",
        "luftmasche",
        "fadenring",
        "runde",
    ),
    Language.FRENCH: (
        "maille serrée",
        "aug",
        "dim",
        "maille coulée",
        "ml",
        "cercle magique",
        "tour",
    ),
    Language.SPANISH: (
        "punto bajo",
        "aum",
        "dism",
        "punto enano",
        "cadeneta",
        "anillo mágico",
        "v",
    ),
    Language.ITALIAN: (
        *("maglia bassa", "aum", "dim", "maglia bassissima", "catenella", "anello magico"),
        "giro",
    ),
    Language.PORTUGUESE: (
        *("ponto baixo", "aum", "dim", "ponto baixíssimo", "correntinha", "anel mágico"),
        "carreira",
    ),
    Language.DUTCH: (
        "vaste",
        "meerderen",
        "minderen",
        "halve vaste",
        "losse",
        "magische ring",
        "toer",
    ),
    Language.JAPANESE: (
        *("細編み", "増し目", "細編み2目一度", "引き抜き編み", "くさり編み", "わの作り目"),
        "段",
    ),
    Language.DANISH: (
        *("fastmaske", "udt", "indt", "kædemaske", "luftmaske", "magisk ring", "omgang"),
    ),
    Language.SWEDISH: (
        *("fast maska", "ök", "minsk", "smygmaska", "luftmaska", "magisk ring", "varv"),
    ),
    # Increase and decrease in Norwegian: a lesson; the magic ring is from memory.
    Language.NORWEGIAN: (
        *("fastmaske", "økninger", "fellinger", "kjedemaske", "luftmaske", "magisk ring", "omgang"),
    ),
    Language.US: ("sc", "inc", "dec", "sl st", "ch", "magic ring", "rnd"),
    Language.UK: ("dc", "inc", "dec", "ss", "ch", "magic ring", "rnd"),
}


@pytest.mark.parametrize("language", Language)
def test_tables_agree_with_published_glossaries(language: Language) -> None:
    concepts = ("sc", "inc", "dec", "slst", "ch", "ring", "round")
    for concept, word in zip(concepts, GLOSSARY[language], strict=True):
        assert word in term_table(language).forms[concept]


def test_sm_joins_in_denmark_and_slips_in_sweden() -> None:
    # A Danish magazine's pattern (2 hstm sm), Swedish glossaries (sm = smygmaska).
    assert "sm" in term_table(Language.DANISH).forms["tog"]
    assert "sm" in term_table(Language.SWEDISH).forms["slst"]


def test_uk_names_are_one_step_from_us_names() -> None:
    # Published conversion charts: US sc = UK dc, hdc = htr, dc = tr, tr = dtr.
    us, uk = term_table(Language.US).forms, term_table(Language.UK).forms
    assert [us[c][0] for c in ("sc", "hdc", "dc", "tr")] == ["sc", "hdc", "dc", "tr"]
    assert [uk[c][0] for c in ("sc", "hdc", "dc", "tr")] == ["dc", "htr", "tr", "dtr"]
