"""Colours of the sheet: dark enough to be read, pale enough to stand behind words."""

from __future__ import annotations

from webapp.light import linear_light

CONTRAST = 4.5
"""Least contrast of text with its ground: WCAG 2.2, 1.4.3."""


def _channels(colour: str) -> list[int]:
    return [int(colour[at : at + 2], 16) for at in (1, 3, 5)]


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1: WCAG 2.2."""
    weights = (0.2126, 0.7152, 0.0722)
    return sum(w * c for w, c in zip(weights, linear_light(colour), strict=True))


def mixed(colour: str, white: float) -> str:
    """A colour with a share of white."""
    return "#" + "".join(f"{round(c + (255 - c) * white):02x}" for c in _channels(colour))


def dark_enough(colour: str) -> str:
    """The colour, darkened until text in it can be read on white and on a pale tint."""
    while 1.05 / (luminance(colour) + 0.05) < CONTRAST * 1.3:
        colour = "#" + "".join(f"{c * 9 // 10:02x}" for c in _channels(colour))
    return colour
