"""All that can be done to a toy of one's own.

Each takes the toy as data and returns new data; what cannot be is refused with a
:class:`RoundlingError`. Data that made a recipe makes one afterwards, or has no parts.
"""

from webapp.own.beginnings import empty_toy, from_recipe
from webapp.own.colour_edits import add_colour, remove_colour
from webapp.own.editing import tie_height
from webapp.own.face_edits import FEATURES, add_mark, remove_mark, set_eyes
from webapp.own.leg_edits import seat_part
from webapp.own.part_edits import (
    add_part,
    copy_part,
    mirror_part,
    move_part,
    remove_part,
    rename_part,
)
from webapp.own.rule_edits import add_rule, remove_rule
from webapp.own.shape_edits import (
    add_band,
    add_bulge,
    add_point,
    change_shape,
    remove_band,
    remove_bulge,
    remove_point,
)

__all__ = [
    "FEATURES",
    "add_band",
    "add_bulge",
    "add_colour",
    "add_mark",
    "add_part",
    "add_point",
    "add_rule",
    "change_shape",
    "copy_part",
    "empty_toy",
    "from_recipe",
    "mirror_part",
    "move_part",
    "remove_band",
    "remove_bulge",
    "remove_colour",
    "remove_mark",
    "remove_part",
    "remove_point",
    "remove_rule",
    "rename_part",
    "seat_part",
    "set_eyes",
    "tie_height",
]
