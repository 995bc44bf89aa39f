"""The working: a list of steps, each giving one symbol from those before it.

Steps rather than one long expression per name, because put into each other expressions double
with every rule. Trying steps out on sample leads decides what algebra alone leaves open.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import sympy

from webapp.proportions.algebra import Algebra, Rule

IMPOSSIBLE = (ArithmeticError, ValueError, TypeError)
"""What Python raises for a number that is not real or not finite."""

LOWEST_LEAD, HIGHEST_LEAD = 0.2, 400.0
MOST_DRAWS = 300
ENOUGH_SAMPLES = 30
HOLDS = 1e-6


@dataclass(frozen=True, eq=False)
class Step:
    """``symbol`` is ``expression``; ``name`` is the dimension, empty for a thing in between."""

    symbol: Algebra
    expression: Algebra
    name: str = ""


@dataclass(frozen=True, eq=False)
class Working:
    """The steps of a block, and the rules the results must be held against each time."""

    steps: tuple[Step, ...]
    checks: tuple[Rule, ...] = ()


def worth(node: Algebra, known: Mapping[Algebra, float]) -> float:
    """The value of a sympy expression; raises one of IMPOSSIBLE where it is not real.

    A plain walk: for a handful of values it is quicker than compiling, and ``math`` refuses where
    sympy would go on in complex numbers.
    """
    if node.is_Symbol:
        return known[node]
    if node.is_Rational:
        return int(node.p) / int(node.q)
    if node.is_Add:
        return math.fsum(worth(part, known) for part in node.args)
    if node.is_Mul:
        return math.prod(worth(part, known) for part in node.args)
    if node.is_Pow:
        return math.pow(worth(node.base, known), worth(node.exp, known))
    if node.func in (sympy.sin, sympy.cos, sympy.tan):
        return float(getattr(math, node.func.__name__)(worth(node.args[0], known)))
    return float(node)


def carry_out(steps: Sequence[Step], known: dict[Algebra, float]) -> bool:
    """Add the steps' values to ``known``; False when a dimension is not a positive number."""
    for step in steps:
        try:
            value = worth(step.expression, known)
        except IMPOSSIBLE:
            return False
        if not math.isfinite(value) or (step.name and value <= 0.0):
            return False
        known[step.symbol] = value
    return True


def holds(rule: Rule, known: Mapping[Algebra, float]) -> bool:
    """Whether a rule holds to about a millionth."""
    try:
        left, right = worth(rule.left, known), worth(rule.right, known)
    except IMPOSSIBLE:
        return False
    return agree(left, right, max(known.values()))


def agree(left: float, right: float, scale: float) -> bool:
    """Two sides of a rule are alike; ``scale`` helps where one side is written as 0.

    Raises TypeError for a complex side.
    """
    left, right = float(left), float(right)
    return abs(left - right) <= max(HOLDS * max(abs(left), abs(right)), 1e-9 * scale)


def samples(leads: Sequence[Algebra], steps: Sequence[Step]) -> Iterator[dict[Algebra, float]]:
    """Values of leads and steps, at leads drawn at random, where all are positive.

    The same draws each time, so that the same rules are always answered the same way.
    """
    draw = random.Random(17)
    low, high = math.log(LOWEST_LEAD), math.log(HIGHEST_LEAD)
    found = 0
    for _ in range(MOST_DRAWS):
        known = {lead: math.exp(draw.uniform(low, high)) for lead in leads}
        if carry_out(steps, known):
            yield known
            found += 1
        if found == ENOUGH_SAMPLES:
            return


def sample(leads: Sequence[Algebra], steps: Sequence[Step]) -> dict[Algebra, float]:
    """One such set of values; where none is found, any positive numbers."""
    for known in samples(leads, steps):
        return known
    draw = random.Random(19)
    return {symbol: draw.uniform(0.5, 2.0) for symbol in (*leads, *(s.symbol for s in steps))}
