"""Rules that are products of powers of their unknowns: in logarithms they are sums.

``height * width = area`` with ``width = ratio * height`` has exactly one positive answer, which
the exponents alone decide.
"""

from __future__ import annotations

from collections.abc import Sequence

import sympy

from webapp.proportions.algebra import Algebra, Rule
from webapp.proportions.order import Block
from webapp.proportions.steps import Step, Working

STEEPEST = 24


def solve_product(block: Block) -> Working | None:
    """The working of a block of products, None if one of its rules is none."""
    split = [_split(rule, block.unknowns) for rule in block.rules]
    known = [part for part in split if part is not None]
    if len(known) < len(split):
        return None
    exponents = sympy.Matrix([[powers.get(u, 0) for u in block.unknowns] for powers, _ in known])
    if exponents.det() == 0:
        return None
    inverse = exponents.inv()
    if any(abs(entry) > STEEPEST for entry in inverse):
        return None
    sizes = [sympy.Dummy("t", positive=True) for _ in known]
    steps = [Step(size, value) for size, (_, value) in zip(sizes, known, strict=True)]
    for number, unknown in enumerate(block.unknowns):
        factors = [size ** inverse[number, row] for row, size in enumerate(sizes)]
        steps.append(Step(unknown, sympy.Mul(*factors)))
    return Working(tuple(steps), block.rules)


def _split(
    rule: Rule, unknowns: Sequence[Algebra]
) -> tuple[dict[Algebra, Algebra], Algebra] | None:
    """The rule as ``product of powers of unknowns = value``: exponents and value."""
    terms = sympy.Add.make_args(rule.residual)
    moving = [term for term in terms if term.has(*unknowns)]
    rest = sympy.Add(*(term for term in terms if not term.has(*unknowns)))
    if len(moving) == 1 and rest != 0:
        product, other = moving[0], -rest
    elif len(moving) == 2 and rest == 0:
        product, other = moving[0] / moving[1], sympy.S.NegativeOne
    else:
        return None
    factor, powers = product.as_independent(*unknowns, as_Add=False)
    exponents = powers.as_powers_dict()
    if any(base not in unknowns or not power.is_Rational for base, power in exponents.items()):
        return None
    return dict(exponents), other / factor
