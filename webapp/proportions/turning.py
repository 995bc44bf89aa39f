"""Turning one rule round so that one unknown stands alone.

The unknown occurs once; what stands around it is taken to the other side, from the outside in.
"""

from __future__ import annotations

import sympy

from webapp.proportions.algebra import Algebra, Rule

STEEPEST = 24
"""An exponent of 1/24 is turned into the power 24; beyond that, numbers grow without measure."""


def turn(rule: Rule, unknown: Algebra) -> tuple[Algebra, bool] | None:
    """What ``unknown`` equals, and whether that is sure to satisfy the rule.

    It is not sure where a square root was squared: the rule must then be checked with the values.
    None when the unknown occurs more than once, inside an angle, or under an even power of
    something that may be negative, which leaves two answers.
    """
    if sum(node == unknown for node in sympy.preorder_traversal(rule.residual)) != 1:
        return None
    inside, outside, sure = rule.residual, sympy.S.Zero, True
    while inside != unknown:
        if inside.is_Pow:
            exponent = inside.exp
            if not _turnable(inside, unknown):
                return None
            # A root is never negative, which its square no longer tells.
            sure = sure and (exponent == -1 or bool(outside.is_nonnegative))
            inside, outside = inside.base, outside ** (1 / exponent)
        elif inside.is_Add or inside.is_Mul:
            inside, outside = _peel(inside, outside, unknown)
        else:
            return None
    return outside, sure


def _peel(inside: Algebra, outside: Algebra, unknown: Algebra) -> tuple[Algebra, Algebra]:
    holder = next(part for part in inside.args if part.has(unknown))
    rest = inside.func(*(part for part in inside.args if part is not holder))
    return holder, outside - rest if inside.is_Add else outside / rest


def _turnable(power: Algebra, unknown: Algebra) -> bool:
    if not power.exp.is_Rational or abs(1 / power.exp) > STEEPEST:
        return False
    one_answer = power.exp in (1, -1) or not power.exp.is_Integer
    return one_answer or bool(power.base.is_positive)
