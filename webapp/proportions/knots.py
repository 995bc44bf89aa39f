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
    for shares_first in (False, True):
        knot = _Knot([rule.residual for rule in block.rules], list(block.unknowns), [])
        shares = _without_shares(knot) if shares_first else []
        if not _whole_powers(knot) or not _reduce(knot):
            continue
        last = knot.unknowns[0]
        roots = _roots(knot.residuals[0], last)
        if roots is not None:
            later = [*reversed(knot.later), *reversed(shares)]
            return [[Step(last, root), *later] for root in roots]
    return None


def _without_shares(knot: _Knot) -> list[Step]:
    """Each unknown that is a share of another is put into the rest, where roots of squares of the
    two then go out: sqrt(a ** 2 - b ** 2) is a multiple of a. The steps, the last one first."""
    steps = []
    while (found := _share(knot)) is not None:
        residual, unknown, value = found
        knot.residuals.remove(residual)
        knot.unknowns.remove(unknown)
        knot.residuals = [r.subs(unknown, value) for r in knot.residuals]
        steps.append(Step(unknown, value))
    return steps


def _share(knot: _Knot) -> tuple[Algebra, Algebra, Algebra] | None:
    """A residual that says no more than that an unknown is a share of another, and that share."""
    for residual in knot.residuals:
        terms = [term.as_independent(*knot.unknowns) for term in sympy.Add.make_args(residual)]
        if len(terms) == 2 and all(rest in knot.unknowns for _, rest in terms):
            (factor, unknown), (other_factor, other) = terms
            return residual, unknown, -other_factor * other / factor
    return None


def _whole_powers(knot: _Knot) -> bool:
    """Each root of a sum, and each unknown under a root, replaced by a new unknown."""
    for _ in range(MOST_ROOTS):
        root = _find_root(knot)
        if root is None:
            break
        if root.exp.q > STEEPEST or abs(root.exp.p) > STEEPEST:
            return False
        _replace_root(knot, root)
    for number, residual in enumerate(knot.residuals):
        knot.residuals[number] = cleared(residual, knot.unknowns)
    small = len(knot.unknowns) <= MOST_UNKNOWNS
    return small and all(_is_tame(r, knot.unknowns) for r in knot.residuals)


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
