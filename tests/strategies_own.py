"""Shared strategies: random formulas, and random toys of one's own."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from webapp.formulas import Binary, Call, Expression, Name, Negative, Number
from webapp.own.edits import empty_toy, tie_height
from webapp.own.values import value_of, values_without_height
from webapp.shapes import SHAPES

NAMES = ("toy.height", "body.width", "head.height", "ear_size", "limb_length")


def numbers() -> st.SearchStrategy[float]:
    """Numbers that a formula can hold: of at most 12 figures."""
    return st.one_of(
        st.integers(0, 10**9).map(float),
        st.decimals(0, 1000, places=6).map(float),
        st.integers(1, 99).map(lambda n: float(f"{n}e-11")),
    )


def formulas(depth: int = 3) -> st.SearchStrategy[Expression]:
    """Trees of every kind of node as the parser can make them: no power within a power."""
    leaves = st.one_of(numbers().map(Number), st.sampled_from(NAMES).map(Name))
    simple = leaves | st.builds(Binary, st.sampled_from("+-*/"), leaves, leaves)
    if depth == 0:
        return leaves
    inner = formulas(depth - 1)
    exponents = st.sampled_from((2.0, 0.5, -1.0, -2.5, 4.0)).map(Number)
    return st.one_of(
        leaves,
        inner.map(Negative),
        st.builds(Binary, st.sampled_from("+-*/"), inner, inner),
        st.builds(Call, st.sampled_from(("sqrt", "sin", "cos", "tan")), inner),
        st.builds(Binary, st.just("**"), simple, exponents),
    )


@st.composite
def own_toys(draw: st.DrawFn, most_parts: int = 8) -> dict[str, Any]:
    """A toy of one's own as data: parts of 20 to 150 mm of any shape, anywhere on each other."""
    data = empty_toy()
    for number in range(draw(st.integers(0, 3))):
        data["colours"][f"c{number}"] = {"name": f"colour {number}", "hex": f"#{number * 3:06x}"}
    count = draw(st.integers(1, most_parts))
    for number in range(count):
        shape = draw(st.sampled_from([s for s in SHAPES if number or s != "strip"]))
        data["parts"].append(_part(draw, data, f"p{number}", shape))
    if draw(st.booleans()):
        _stand_on_legs(draw, data)
    hosts = [part["name"] for part in data["parts"] if _carries(part)]
    if draw(st.booleans()):
        on = draw(st.sampled_from(hosts))
        data["eyes"] = {
            "on": on,
            "along": draw(shares(0.2, 0.8)),
            "around": draw(st.integers(15, 60)),
            "diameter": draw(st.sampled_from((8, f"0.1 * {on}.width"))),
            "kind": draw(st.sampled_from(("safety", "embroidered", "buttons"))),
        }
    data["marks"] = [
        {
            "label": "Mark",
            "on": draw(st.sampled_from(hosts)),
            "along": draw(shares(0.2, 0.8)),
            "around": draw(st.integers(-90, 90)),
            "width": draw(st.integers(4, 15)),
            "height": draw(st.integers(3, 8)),
            "colour": draw(st.sampled_from([*data["colours"]])),
            "pair": draw(st.booleans()),
            "kind": draw(st.sampled_from(("filled", "line"))),
            "slant": draw(st.integers(-60, 60)),
        }
        for _ in range(draw(st.integers(0, 2)))
    ]
    return tie_height(data)


def shares(low: float, high: float) -> st.SearchStrategy[float]:
    """Shares to a hundredth, as somebody would write them."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100)


def _lengths(draw: st.DrawFn, shape: str, large: bool) -> dict[str, float]:
    """Lengths (mm) and ratios that such a part can be worked in."""
    width = draw(st.integers(40, 90) if large else st.integers(20, 45))
    lengths: dict[str, float] = {"width": width}
    if shape in ("egg", "pear", "cone", "dome"):
        low, high = {"egg": (0.8, 1.6), "pear": (1.3, 1.6), "cone": (0.8, 1.6)}.get(
            shape, (0.4, 0.9)
        )
        lengths["height"] = round(width * draw(shares(low, high)))
    if shape == "pear":
        lengths["top"] = round(width * draw(shares(0.6, 0.85)))
    if shape in ("ball", "egg", "pear", "ear"):
        lengths["opening"] = round(width * draw(shares(0.4, 0.55)))
    if shape in ("tube", "sleeve", "oval", "ear", "outline"):
        lengths["length"] = round(width * draw(shares(1.3, 1.7)))
    if shape in ("egg", "ear") and draw(st.booleans()):
        lengths["widest"] = draw(shares(0.4, 0.6))
    if shape == "oval" and draw(st.booleans()):
        lengths["height"] = round(width * 0.4)
    if shape == "strip":
        lengths = {"length": draw(st.integers(150, 300)), "width": draw(st.integers(10, 25))}
    if shape in ("cone", "dome", "ear", "tube") and draw(st.booleans()):
        lengths["flatness"] = draw(shares(0.3, 1.0))
    return lengths


def _part(draw: st.DrawFn, data: dict[str, Any], name: str, shape: str) -> dict[str, Any]:
    lengths = _lengths(draw, shape, large=not data["parts"])
    part: dict[str, Any] = {"name": name, "label": f"Part {name}", "shape": shape, "lengths": {}}
    for key, value in lengths.items():
        if key in ("widest", "flatness"):
            part["lengths"][key] = value
            continue
        part["lengths"][key] = f"{name}.{key}"
        if key == "opening" and draw(st.booleans()):
            share = round(value / lengths["width"], 2)
            data["rules"].append(f"{name}.{key} = {share} * {name}.width")
        else:
            data["dimensions"][f"{name}.{key}"] = value
    if shape == "outline":
        end = draw(st.sampled_from((0.4, 0.6)))
        part["points"] = [[0, 0], [draw(shares(0.2, 0.4)), 0.8], [0.6, 1], [1, end]]
    part["colours"] = _bands(draw, [*data["colours"]], shape)
    fillings = ("none",) if shape == "sleeve" else ("firm", "light", "none")
    part["filling"] = draw(st.sampled_from(fillings))
    if shape != "strip" and draw(st.booleans()):
        part["ring"] = draw(st.integers(4, 8))
    if shape not in ("strip", "oval", "disc") and draw(st.integers(0, 3)) == 0:
        begin = draw(shares(0.2, 0.5))
        part["bulges"] = [
            {"label": "Bulge", "begin": begin, "end": round(begin + 0.3, 2), "arc": 0.25,
             "depth": f"{draw(shares(0.03, 0.08))} * {name}.width",
             "around": draw(st.sampled_from((0, 60, 90, 180)))}
        ]  # fmt: skip
    part["place"] = _place(draw, data, part)
    return part


def _carries(part: dict[str, Any]) -> bool:
    """Whether something can be sewn to a part, or a face be on it."""
    return part["shape"] != "strip" and part["place"].get("times", 1) == 1


def _stand_on_legs(draw: st.DrawFn, data: dict[str, Any]) -> None:
    """Begin an egg or a pear that stands on the ground on two legs, their girths together and the
    chain between them about that of its opening."""
    body = data["parts"][0]
    if body["shape"] not in ("egg", "pear") or body["place"].get("tilt", 90) != 90:
        return
    width = data["dimensions"]["p0.width"]
    body["lengths"]["start"] = "p0.start"
    data["dimensions"] |= {"p0.start": round(0.7 * width), "leg.width": round(0.3 * width)}
    data["dimensions"]["leg.length"] = round(width * draw(shares(0.5, 0.9)))
    body["legs"] = {"part": "leg", "chain": draw(st.integers(0, 3))}
    legs = {"name": "leg", "label": "Legs", "shape": "tube", "colours": body["colours"][:1],
            "lengths": {"length": "leg.length", "width": "leg.width"}, "filling": "firm",
            "place": {"seat": "joined", "on": "p0", "pair": True}}  # fmt: skip
    data["parts"].insert(1, legs)


def _bands(draw: st.DrawFn, colours: list[str], shape: str) -> list[dict[str, Any]]:
    bands: list[dict[str, Any]] = [{"colour": draw(st.sampled_from(colours))}]
    if shape == "strip":
        return bands
    for begin in draw(st.lists(shares(0.2, 0.8), max_size=2, unique=True).map(sorted)):
        bands.append({"begin": begin, "colour": draw(st.sampled_from(colours))})
    if len(colours) > 1 and draw(st.booleans()):
        bands[-1] |= {"with": [colours[-1]], "every": draw(st.integers(1, 4))}
    return bands


def _place(draw: st.DrawFn, data: dict[str, Any], part: dict[str, Any]) -> dict[str, Any]:
    hosts = [other for other in data["parts"] if _carries(other)]
    if not hosts:
        lies = draw(st.integers(0, 4)) == 0 and part["shape"] in ("egg", "outline")
        return {"seat": "ground", **({"tilt": 0, "swing": 180} if lies else {})}
    ground = hosts[0]["name"]
    if part["shape"] == "strip":
        return {"seat": "neck", "on": ground}
    taken = any(other["place"]["seat"] == "opening" for other in hosts)
    matching = {part["shape"], hosts[0]["shape"]} <= {"ball", "egg", "pear"}
    if matching and not taken and draw(st.booleans()):
        opening = part["lengths"]["opening"]
        data["dimensions"].pop(opening, None)
        data["rules"] = [rule for rule in data["rules"] if not rule.startswith(f"{opening} =")]
        # Its own width, so that no opening is wider than its part.
        data["dimensions"][f"{part['name']}.width"] = data["dimensions"][f"{ground}.width"]
        data["rules"].append(f"{opening} = {hosts[0]['lengths']['opening']}")
        for key, share in (("height", 1.4), ("top", 0.7)):
            if key in part["lengths"]:
                name = part["lengths"][key]
                data["dimensions"][name] = round(share * data["dimensions"][f"{ground}.width"])
        return {"seat": "opening", "on": ground}
    around = draw(st.integers(-180, 180))
    place = {
        "seat": "surface",
        "on": draw(st.sampled_from(hosts))["name"],
        "along": draw(shares(0.2, 0.8)),
        "around": around,
        "tilt": draw(st.integers(-60, 60)),
        "swing": around,
        "roll": draw(st.integers(-90, 90)),
    }
    if part["shape"] == "disc":
        place |= {"tilt": 0, "roll": 0, "lies_flat": True}
    several = draw(st.integers(0, 3))
    if several == 1 and abs(around) not in (0, 180):
        place["pair"] = True
    elif several == 2:
        place["times"] = draw(st.integers(2, 5))
    return place


def settled(data: dict[str, Any]) -> dict[str, Any]:
    """The toy with a rule for each dimension that has a value, in proportion to the height.

    A rule for the height that those settle already goes.
    """
    height = data["sliders"]["height"]["default"]
    known = values_without_height(data)
    kept = [
        rule
        for rule in data["rules"]
        if not rule.startswith("toy.height =") or value_of(rule.partition("=")[2], known) is None
    ]
    rules = [f"{k} = {round(v / height, 9):f} * toy.height" for k, v in data["dimensions"].items()]
    return {**data, "rules": kept + rules, "dimensions": {}}
