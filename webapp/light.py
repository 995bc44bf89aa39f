"""Colours as light: what files for other programs and the contrast of print are counted in."""

from __future__ import annotations


def linear_light(colour: str) -> tuple[float, ...]:
    """Red, green and blue of an sRGB colour (#rrggbb) as linear light, 0 to 1; the curve is that of
    IEC 61966-2-1, as glTF 2.0 (3.9.2) and WCAG 2.2 (relative luminance) have it."""
    values = (int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5))
    return tuple(v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in values)
