"""The names of files that somebody saves: the toy's, and what it is."""

from __future__ import annotations

import re
import unicodedata
from urllib.parse import quote

from flask import Response

from webapp.recipes import Recipe
from webapp.web.editor import OWN

LONGEST_NAME = 60
"""Letters of a title that a file's name keeps."""


def stem(recipe: Recipe) -> str:
    """How the files of a toy begin: a shipped toy's key, the name of one of somebody's own."""
    return in_a_name(recipe.name, "toy") if recipe.key == OWN else recipe.key


def in_a_name(title: str, otherwise: str) -> str:
    """The words of a title as files are named, in small letters; ``otherwise`` if it has none."""
    return "-".join(re.findall(r"[^\W_]+", title.lower()))[:LONGEST_NAME].strip("-") or otherwise


def named(response: Response, name: str, *, saved: bool = False) -> Response:
    """A download with its name; ``saved`` is one that no browser is to show.

    Letters beyond ASCII are written by RFC 8187, beside a name without them.
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    names = {"filename": plain.lstrip("-.") if plain != name else plain}
    if plain != name:
        names["filename*"] = f"UTF-8''{quote(name)}"
    kind = "attachment" if saved else "inline"
    response.headers.set("Content-Disposition", kind, **names)
    return response
