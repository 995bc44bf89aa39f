"""Rules that the tests of proportions share, and how they look at an answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from webapp.formulas import Equation, evaluate, names_in, parse_equation
from webapp.proportions import Solution, solve_rules

HEIGHTS = ("head.height + body.height = toy.height", "head.height = head_to_body * body.height")
TOY = (
    *HEIGHTS,
    "head.width = 1.1 * head.height",
    "body.width = 0.62 * toy.height ** 0.5 * body.height ** 0.5",
    "neck.width = 0.58 * sqrt(head.width * body.width)",
    "neck.rise = 0.5 * body.width * sqrt(1 - (neck.width / (2 * body.width)) ** 2)",
    "arm.length = 0.6 * limb_length * body.height",
    "arm.width = 0.28 * limb_thickness * sqrt(body.height * body.width)",
    "leg.length = arm.length + 0.1 * body.height",
    "leg.width / arm.width = 1.25",
    "ear.width = 0.22 * ear_size * head.width",
    "ear.height ** 2 = ear.width * head.height * sin(30)",
    "tail.length / (tail.length + body.height) = 0.4",
    "tail.width = arm.width - 0.05 * limb_thickness * body.width",
)
TOY_LEADS = ("toy.height", "head_to_body", "limb_length", "limb_thickness", "ear_size")


def solve(rules: Sequence[str], leads: Sequence[str]) -> Solution:
    return solve_rules(tuple(parse_equation(rule) for rule in rules), tuple(leads))


def error_of(equation: Equation, values: Mapping[str, float]) -> float:
    """How far a rule is from holding, as a part of its larger side or of the largest name in it."""
    left, right = evaluate(equation.left, values), evaluate(equation.right, values)
    largest = max(abs(left), abs(right), *(values[name] for name in names_in(equation)))
    return abs(left - right) / largest


def check_all(rules: Sequence[str], values: Mapping[str, float]) -> None:
    for rule in rules:
        assert error_of(parse_equation(rule), values) < 1e-9, rule
