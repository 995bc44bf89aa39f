"""Where parts of well-known names usually go: ears on the head, arms high on the sides.

Places are ours, by eye; a head is begun at its crown, what stands on the ground at its foot.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.own.editing import seat_of
from webapp.own.naming import Data, parts_of


@dataclass(frozen=True)
class Wont:
    """Where a part goes: on the head or on what stands on the ground, and how it points."""

    words: str
    on_head: bool
    along: float
    around: float
    tilt: float
    swing: float
    pair: bool


WONTS = (
    Wont(r"ears?|horns?|tufts?|antlers?", True, 0.16, 64, 58, 80, True),
    Wont(r"muzzle|snout|beak|nose", True, 0.66, 0, -5, 0, False),
    Wont(r"arms?|wings?|fins?|flippers?", False, 0.78, 80, -38, 60, True),
    Wont(r"legs?|feet|foot|paws?", False, 0.18, 38, 2, 24, True),
    Wont(r"tail", False, 0.2, 180, 8, 180, False),
)


def wonted_place(data: Mapping[str, Any], label: str) -> Data | None:
    """The usual place of a part so called; None where there is none, or nothing to sew it to."""
    words = re.findall(r"[a-z]+", label.lower())
    wont = next((w for w in WONTS if any(re.fullmatch(w.words, word) for word in words)), None)
    ground = next((p for p in parts_of(data) if seat_of(p) == "ground"), None)
    if wont is None or ground is None or abs(ground["place"].get("tilt", 90)) < 45:
        return None
    head = next((p for p in parts_of(data) if seat_of(p) == "opening"), None)
    if wont.on_head and head is None:
        return None
    host = head if wont.on_head and head is not None else ground
    place: Data = {"seat": "surface", "on": host["name"], "along": wont.along}
    place |= {"around": wont.around, "tilt": wont.tilt, "swing": wont.swing}
    return place | ({"pair": True} if wont.pair else {})
