"""Rules that are neither sums nor products: one unknown after another is put into the rest.

Roots are first given symbols of their own, so that only whole powers are left. What remains in
the end is one rule with one unknown; up to a square it has its answers in closed form, and trying
them out tells which is the positive one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import sympy

from webapp.proportions.algebra import Algebra
from webapp.proportions.errors import no_answer
from webapp.proportions.linear import cleared
from webapp.proportions.order import Block
from webapp.proportions.steps import Step, Working, carry_out, holds

MOST_UNKNOWNS = 6
MOST_ROOTS = 6
LONGEST = 150
STEEPEST = 6
"""Powers, and orders of roots, beyond which multiplying out and factoring take too long."""
ALIKE = 1e-7

NOT_CLOSED = "No plain formula gives the answer."
NOTHING_POSITIVE = "There is no positive answer for any of the values tried."
SEVERAL = "There is more than one positive answer."
CHANGING = "Which of the answers is positive depends on the leads."


@dataclass
class _Knot:
    """Whole-powered residuals that are to vanish, their unknowns, and the steps put off."""

    residuals: list[Algebra]
    unknowns: list[Algebra]
    later: list[Step]
    """In the reverse of their working order."""


def solve_knot(
    block: Block, tries: Iterable[dict[Algebra, float]], names: Sequence[str]
) -> Working:
    """The working of any other block; raises a ProportionError if there is no single answer.

    ``tries`` are sample values of all that is settled; ``names`` are the unknowns' own names.
    """
    texts = [rule.text for rule in block.rules]
    answers = _answers(block)
    if answers is None:
        raise no_answer(names, texts, NOT_CLOSED)
    fitting: set[int] = set()
    for known in tries:
        found = _fitting(block, answers, known)
        if len(found) > 1 and not _alike(block, list(found.values())):
            raise no_answer(names, texts, SEVERAL)
        fitting.update(list(found)[:1])
    if not fitting:
        raise no_answer(names, texts, NOTHING_POSITIVE)
    if len(fitting) > 1:
        raise no_answer(names, texts, CHANGING)
    return Working(tuple(answers[fitting.pop()]), block.rules)


def _fitting(
    block: Block, answers: Sequence[Sequence[Step]], known: dict[Algebra, float]
) -> dict[int, dict[Algebra, float]]:
    """Which answers are positive and satisfy the rules at a sample, with their values."""
    found = {}
    for number, steps in enumerate(answers):
        values = dict(known)
        if not carry_out(steps, values) or any(values[u] <= 0.0 for u in block.unknowns):
            continue
        if all(holds(rule, values) for rule in block.rules):
            found[number] = values
    return found


def _alike(block: Block, found: Sequence[dict[Algebra, float]]) -> bool:
    return all(
        math.isclose(found[0][unknown], values[unknown], rel_tol=ALIKE)
        for values in found
        for unknown in block.unknowns
    )


def _answers(block: Block) -> list[list[Step]] | None:
    """All answers in closed form, each as steps; None if they cannot be found."""
    knot = _whole_powers(block)
    if knot is None or not _reduce(knot):
        return None
    last = knot.unknowns[0]
    roots = _roots(knot.residuals[0], last)
    if roots is None:
        return None
    return [[Step(last, root), *reversed(knot.later)] for root in roots]


def _whole_powers(block: Block) -> _Knot | None:
    """Each root of a sum, and each unknown under a root, replaced by a new unknown."""
    knot = _Knot([rule.residual for rule in block.rules], list(block.unknowns), [])
    for _ in range(MOST_ROOTS):
        root = _find_root(knot)
        if root is None:
            break
        if root.exp.q > STEEPEST or abs(root.exp.p) > STEEPEST:
            return None
        _replace_root(knot, root)
    for number, residual in enumerate(knot.residuals):
        knot.residuals[number] = cleared(residual, knot.unknowns)
    small = len(knot.unknowns) <= MOST_UNKNOWNS
    return knot if small and all(_is_tame(r, knot.unknowns) for r in knot.residuals) else None


def _find_root(knot: _Knot) -> Algebra | None:
    found = [
        power
        for residual in knot.residuals
        for power in residual.atoms(sympy.Pow)
        if power.exp.is_Rational and not power.exp.is_Integer and power.has(*knot.unknowns)
    ]
    # The innermost first, in an order that does not hang on hashes.
    return min(found, key=lambda power: (power.count_ops(), str(power)), default=None)


def _replace_root(knot: _Knot, root: Algebra) -> None:
    order = root.exp.q
    new = sympy.Dummy("w", positive=True)
    if root.base in knot.unknowns:
        knot.unknowns[knot.unknowns.index(root.base)] = new
        knot.later.insert(0, Step(root.base, new**order))
        knot.residuals = [r.subs(root.base, new**order) for r in knot.residuals]
    else:
        old = {
            p: new**p.exp.p
            for r in knot.residuals
            for p in r.atoms(sympy.Pow)
            if p.base == root.base and p.exp.is_Rational and p.exp.q == order
        }
        knot.residuals = [r.xreplace(old) for r in knot.residuals] + [new**order - root.base]
        knot.unknowns.append(new)


def _reduce(knot: _Knot) -> bool:
    """Put unknowns into the rest until one is left; False when that stops or grows too long."""
    while len(knot.unknowns) > 1:
        choice = _simplest(knot)
        if choice is None:
            return False
        residual, unknown, value = choice
        knot.residuals.remove(residual)
        knot.unknowns.remove(unknown)
        knot.later.append(Step(unknown, value))
        knot.residuals = [cleared(r.subs(unknown, value), knot.unknowns) for r in knot.residuals]
        if not all(_is_tame(r, knot.unknowns) for r in knot.residuals):
            return False
    return True


def _is_tame(residual: Algebra, unknowns: Sequence[Algebra]) -> bool:
    """Whether a residual is a short sum of whole powers, none of them high."""
    if residual == 0 or residual.count_ops() > LONGEST or not residual.is_polynomial(*unknowns):
        return False
    return int(sympy.total_degree(residual, *unknowns)) <= STEEPEST


def _simplest(knot: _Knot) -> tuple[Algebra, Algebra, Algebra] | None:
    """A residual, an unknown it holds to the first power, and what that unknown then equals."""
    choices = []
    for number, residual in enumerate(knot.residuals):
        for column, unknown in enumerate(knot.unknowns):
            if not residual.has(unknown):
                continue
            slope = residual.diff(unknown)
            if not slope.has(unknown):
                value = -residual.subs(unknown, 0) / slope
                choices.append((value.count_ops(), number, column, value))
    if not choices:
        return None
    _, number, column, value = min(choices, key=lambda choice: choice[:3])
    return knot.residuals[number], knot.unknowns[column], value


def _roots(residual: Algebra, unknown: Algebra) -> list[Algebra] | None:
    """Where a residual vanishes, but for sure negatives; None unless each factor is a square."""
    roots: list[Algebra] = []
    for factor, _ in sympy.factor_list(residual)[1]:
        if factor == unknown or not factor.has(unknown):
            continue
        powers = [power for (power,) in sympy.Poly(factor, unknown).monoms()]
        if max(powers) > 2 * math.gcd(*powers):
            return None
        roots += sympy.solve(factor, unknown)
    return roots
