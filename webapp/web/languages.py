"""The language of what a page shows: pages speak English, patterns may speak another."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from webapp.terms import Language
from webapp.yarns import Terms

TAGS: Mapping[str, str] = {"us": "", "uk": "", "pt": "pt-BR"}
"""Language tags (BCP 47) of words whose short name is none; English needs none on a page."""


def tag(words: Terms | Language) -> str:
    """The tag of a language; empty for the page's own."""
    return TAGS.get(words.value, words.value)


def lang(words: Terms | Language) -> Markup:
    """The attribute of an element whose text is in the language of ``words``, with a space before
    it; nothing where that is the page's own."""
    found = tag(words)
    return Markup(' lang="{}"').format(found) if found else Markup()
