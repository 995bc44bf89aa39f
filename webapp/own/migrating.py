"""Design files of earlier versions, brought to the one that is written now, a version at a time."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Step:
    """From one version to the next: what is done to the file, and keys that it renames (the new
    key to the old), by which a refusal finds the line."""

    change: Callable[[dict[str, Any]], None]
    old_names: Mapping[str, str] = field(default_factory=dict)


def migrated(file: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, str]]:
    """The file in the present version, a copy, and the old name of each key that has a new one.

    A file whose version is no number of an earlier one comes back as it is. Wrong values stay as
    they are, for the checks that follow to refuse.
    """
    new = deepcopy(dict(file))
    old_names: dict[str, str] = {}
    version = new.get("version")
    while isinstance(version, int) and not isinstance(version, bool) and version in STEPS:
        STEPS[version].change(new)
        old_names |= STEPS[version].old_names
        version = new["version"] = version + 1
    return new, old_names


def _from_draft(file: dict[str, Any]) -> None:
    """Version 0: a part's colours were a plain list of keys, and cheeks were called a bulge.

    Several colours shared the rounds evenly.
    """
    toy = file.get("toy")
    parts = toy.get("parts") if isinstance(toy, dict) else None
    for part in parts if isinstance(parts, list) else ():
        if not isinstance(part, dict):
            continue
        colours = part.get("colours")
        if isinstance(colours, list):
            part["colours"] = [
                {"colour": key, **({"begin": round(n / len(colours), 4)} if n else {})}
                if isinstance(key, str)
                else key
                for n, key in enumerate(colours)
            ]
        if "bulge" in part and "cheeks" not in part:
            part["cheeks"] = part.pop("bulge")


STEPS: dict[int, Step] = {0: Step(_from_draft, {"cheeks": "bulge"})}
"""By the version they start from."""
