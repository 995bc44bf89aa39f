"""Edits of the toy's colours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from webapp.own.editing import edit, label_of
from webapp.own.errors import EditError
from webapp.own.naming import Data, new_key, parts_of

HEXES = ("#b98a5e", "#efe3cd", "#54453c", "#7d9aa5", "#c78579", "#8ea07a", "#d8b061", "#8a7496")
"""Yarn colours of our own, offered one after the other."""


@edit
def add_colour(data: Data, name: str = "", hex: str = "") -> None:
    """A colour by its words and #rrggbb; unless said, the next of ours."""
    colours = data.setdefault("colours", {})
    words = name.strip() or f"colour {len(colours) + 1}"
    used = [colour.get("hex") for colour in colours.values()]
    free = [value for value in HEXES if value not in used] or [HEXES[len(colours) % len(HEXES)]]
    colours[new_key(words, colours, "colour")] = {"name": words, "hex": hex or free[0]}


@edit
def remove_colour(data: Data, key: str, replace: str = "") -> None:
    """Take a colour away. One in use is refused, or gives way to the colour ``replace``."""
    colours = data.get("colours", {})
    others = [other for other in colours if other != key]
    asked = f"The colour “{colours.get(key, {}).get('name', key)}” was to be removed."
    if key not in colours:
        nearest = f"There are: {', '.join(colours)}."
        raise EditError(asked=asked, why="There is no such colour.", nearest=nearest, field=key)
    if not others:
        nearest = "Change it instead."
        raise EditError(asked=asked, why="It is the only one.", nearest=nearest, field=key)
    if replace and replace not in others:
        asked = f"The colour “{replace[:40]}” was to take the place of another."
        nearest = f"There are: {', '.join(others)}."
        raise EditError(asked=asked, why="There is no such colour.", nearest=nearest, field=key)
    uses = list(_uses(data, key))
    if uses and not replace:
        where = ", ".join(dict.fromkeys(label for label, _, _ in uses))
        names = " or ".join(str(colours[other].get("name", other)) for other in others)
        nearest = f"Let {names} take its place."
        raise EditError(asked=asked, why=f"It is used in: {where}.", nearest=nearest, field=key)
    for _, table, slot in uses:
        table[slot] = replace
    for band in (band for part in parts_of(data) for band in part.get("colours", [])):
        # Stripes of one colour are none.
        if set(band.get("with", [])) == {band.get("colour")}:
            band.pop("with")
            band.pop("every", None)
    del colours[key]


def is_used(data: Mapping[str, Any], key: str) -> bool:
    """Whether anything is worked or embroidered in a colour."""
    return any(True for _ in _uses(data, key))


def _uses(data: Mapping[str, Any], key: str) -> Iterator[tuple[str, Any, Any]]:
    """The label of what uses a colour, and the table or list and the key where it stands."""
    for part in parts_of(data):
        for band in part.get("colours", []):
            if band.get("colour") == key:
                yield label_of(part), band, "colour"
            others = band.get("with", [])
            yield from ((label_of(part), others, n) for n, o in enumerate(others) if o == key)
    for mark in data.get("marks", []):
        if mark.get("colour") == key:
            yield str(mark.get("label", "")), mark, "colour"
