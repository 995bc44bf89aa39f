"""Patterns in US terms are spelled as in the United States, those in UK terms as in Britain.

Which words differ: common knowledge, no source (:data:`tests.messages.BRITISH`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from xml.etree import ElementTree

import pytest

from tests.messages import BRITISH, asked_of, is_british, messages, translations
from tests.strategies import design_of, recipes
from tests.test_film import script_of
from tests.test_pattern import TOYS, text_of
from webapp.charts import chart_svg
from webapp.pictures import View, assembly_svg
from webapp.publish import SheetOptions
from webapp.publish.data import sheet_data
from webapp.way import make_toy
from webapp.yarns import Terms, term_set


def strings(data: object) -> Iterator[str]:
    """Every text within plain data."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for inner in data.values():
            yield from strings(inner)
    elif isinstance(data, list | tuple):
        for inner in data:
            yield from strings(inner)


def said_in(drawings: Iterable[str]) -> str:
    """What drawings say, in their words and descriptions, without their markup."""
    nodes = (node for svg in drawings for node in ElementTree.fromstring(svg).iter())
    said = (
        (node.text or "", node.get("aria-label", "")) for node in nodes if "style" not in node.tag
    )
    return "\n".join(text for both in said for text in both if text)


@cache
def written(name: str, terms: str) -> dict[str, str]:
    """All that is written of a toy, by what it stands in."""
    recipe = recipes()[name]
    toy = make_toy(recipe, design_of(recipe, terms=terms))
    words = term_set(toy.worked.design.terms)
    charts = [chart_svg(toy.worked, part, words) for part in recipe.parts]
    pictures = [assembly_svg(toy.worked, toy.materials.eyes, view, words) for view in View]
    return {
        "pattern": text_of(toy),
        "script": script_of(toy),
        "charts": said_in(charts),
        "pictures": said_in(pictures),
        "sheet": "\n".join(strings(sheet_data(toy, SheetOptions()))),
    }


@pytest.mark.parametrize("name", TOYS)
def test_us_patterns_have_no_british_spelling(name: str) -> None:
    for where, text in written(name, "us").items():
        assert not BRITISH.search(text), (where, BRITISH.search(text))


@pytest.mark.parametrize("name", TOYS)
def test_uk_patterns_keep_it(name: str) -> None:
    american = ("color", "gray", "harbor ", "center", "meter", "counterclock")
    for where, text in written(name, "uk").items():
        assert not any(word in text.lower() for word in american), where
    for where in ("pattern", "script", "charts", "sheet"):
        assert BRITISH.search(written(name, "uk")[where]), where


def test_what_is_spelled_otherwise_is_all_that_the_us_catalogue_has() -> None:
    catalogue = translations("us")
    assert {message.id for message in catalogue if message.id} == {*asked_of("us")}
    assert 0 < len(asked_of("us")) < len(messages()) / 10
    for message in catalogue:
        assert message.string
        if message.id:
            assert not is_british(message.string)


def test_names_of_ones_own_stay_as_they_are() -> None:
    assert term_set(Terms.US).name("Grey Colin") == "Grey Colin"
