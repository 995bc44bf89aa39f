"""Legs that a body is begun on, and parts that meet the toy in another way."""

from __future__ import annotations

from webapp.errors import an
from webapp.own.dimensions import free_name, tie_dimension, width_of
from webapp.own.editing import edit, host_of, label_of, part_of, seat_of
from webapp.own.errors import EditError
from webapp.own.naming import Data, parts_of
from webapp.own.part_edits import without_legs
from webapp.recipes import Seat

CHAIN = 2
"""Stitches between two legs at first: enough that they do not touch, by eye."""

TWO_LEGS = 1.9
"""Width of an opening over the width of each of two legs that go into it; the girths add up."""

STANDING_ON_LEGS = ("egg", "pear", "outline", "sleeve")


@edit
def seat_part(data: Data, key: str, seat: str) -> None:
    """Another way in which a part meets the toy; of its place what still means something stays."""
    part = part_of(data, key)
    place = part.get("place", {})
    if seat not in [s.value for s in Seat]:
        raise EditError(
            asked=f"“{seat[:30]}” was to be how it meets the toy.",
            why="There is no such way.",
            nearest=f"One of: {', '.join(s.value for s in Seat)}.",
            field=key,
        )
    if seat_of(part) == Seat.JOINED.value:
        for host in parts_of(data):
            if host.get("legs", {}).get("part") == key:
                without_legs(host)
    if seat == Seat.GROUND.value:
        part["place"] = {"seat": seat}
        return
    on = host_of(part) or _first_before(data, part)
    if seat == Seat.JOINED.value:
        _join(data, part, on)
    elif seat == Seat.SURFACE.value:
        part["place"] = {"along": 0.5, "tilt": 0} | place | {"seat": seat, "on": on}
    else:
        part["place"] = {"seat": seat, "on": on}


def _first_before(data: Data, part: Data) -> str:
    before = parts_of(data)[: parts_of(data).index(part)]
    if not before:
        raise EditError(
            asked=f"{label_of(part)} was to be sewn to another part.",
            why="No part comes before it.",
            nearest="Move it later, or let it stand on the ground.",
            field=str(part["name"]),
        )
    return str(before[0]["name"])


def _join(data: Data, part: Data, on: str) -> None:
    host = part_of(data, on)
    if host.get("shape") not in STANDING_ON_LEGS or "legs" in host:
        raise EditError(
            asked=f"{label_of(part)} was to be the legs that {label_of(host)} is begun on.",
            why="It has legs already."
            if "legs" in host
            else f"Legs cannot carry {an(str(host.get('shape')))}.",
            nearest=f"Take a part that is one of: {', '.join(STANDING_ON_LEGS)}.",
            field=str(part["name"]),
        )
    part["place"] = {"seat": Seat.JOINED.value, "on": on, "pair": True}
    host["legs"] = {"part": part["name"], "chain": CHAIN}
    if host["shape"] in ("egg", "pear") and "start" not in host.get("lengths", {}):
        name = free_name(data, f"{host['name']}.start")
        tie_dimension(data, name, f"{TWO_LEGS} * {width_of(part)}")
        host["lengths"]["start"] = name
    elif host["shape"] == "outline":
        host["points"][0] = [0, 0.6]
