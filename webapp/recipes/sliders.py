"""What a maker can set by a slider, whichever toy it is.

A recipe gives each slider its range and default, and leaves out those that mean nothing to it (a
whale has no ears). Every slider but height is a ratio: 1 is the toy as designed.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SliderKind:
    """A slider's name (the address parameter and the rules' lead), label, meaning and step."""

    name: str
    label: str
    hint: str
    step: float


SLIDERS: dict[str, SliderKind] = {
    kind.name: kind
    for kind in (
        SliderKind("height", "Finished height", "Stitched, from the ground to the crown", 1),
        SliderKind(
            "head_to_body", "Head to body", "Bigger makes a bigger head; the height stays", 0.05
        ),
        SliderKind("limb_length", "Limb length", "Arms, legs, wings, fins and tails", 0.05),
        SliderKind("limb_thickness", "Limb thickness", "How stout they are", 0.05),
        SliderKind("ear_size", "Ear size", "Follows the head", 0.05),
        SliderKind("cheek_fullness", "Cheek fullness", "0 leaves the cheeks out", 0.05),
    )
}
