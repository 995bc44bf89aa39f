"""From rules and leads to a function of the leads, once for each set of rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from webapp.formulas import Equation, names_in
from webapp.proportions.algebra import Algebra, Rule, symbols_for, translate
from webapp.proportions.errors import ProportionError, no_answer
from webapp.proportions.freedom import check_freedom
from webapp.proportions.knots import NOT_CLOSED, solve_knot
from webapp.proportions.linear import solve_linear
from webapp.proportions.order import Block, blocks_of
from webapp.proportions.products import solve_product
from webapp.proportions.solution import Solution, compile_solution
from webapp.proportions.steps import Step, Working, sample, samples
from webapp.proportions.turning import turn

MOST_RULES = 120
"""Finding which of many rules conflict takes time with the cube of their number."""


@lru_cache(maxsize=256)
def solve_rules(equations: tuple[Equation, ...], leads: tuple[str, ...]) -> Solution:
    """Every name in the rules as a function of the leads.

    Raises :class:`ProportionError` when rules and leads are too few, too many, or have not
    exactly one positive answer. A lead that no rule uses is passed through.
    """
    _check_size(equations)
    names = _all_names(equations, leads)
    symbols = symbols_for(names)
    rules = [translate(equation, symbols) for equation in equations]
    check_freedom(equations, names, leads)
    name_of = {symbol: name for name, symbol in symbols.items()}
    given = [symbols[lead] for lead in leads]
    blocks = blocks_of(rules, [symbols[name] for name in names[len(leads) :]])
    if rules and not blocks:
        raise no_answer(names[len(leads) :], [rule.text for rule in rules], NOT_CLOSED)
    steps: list[Step] = []
    checks: list[Rule] = []
    for block in blocks:
        working = _work_out(block, given, steps, name_of)
        steps += [replace(step, name=name_of.get(step.symbol, "")) for step in working.steps]
        checks += working.checks
    return compile_solution(symbols, leads, steps, checks)


def _check_size(equations: Sequence[Equation]) -> None:
    if len(equations) > MOST_RULES:
        raise ProportionError(
            asked=f"{len(equations)} rules were to be solved.",
            why=f"A toy can have {MOST_RULES}.",
            nearest="Put short rules into the formulas that use them.",
        )


def _all_names(equations: Sequence[Equation], leads: tuple[str, ...]) -> tuple[str, ...]:
    twice = sorted({lead for lead in leads if leads.count(lead) > 1})
    if twice:
        raise ProportionError(
            asked=f"{twice[0]} was to lead.",
            why="It is among the leads more than once.",
            nearest="Name it once.",
            leads=twice,
        )
    found = [name for equation in equations for name in sorted(names_in(equation))]
    return tuple(dict.fromkeys((*leads, *found)))


def _work_out(
    block: Block,
    leads: Sequence[Algebra],
    steps: Sequence[Step],
    name_of: dict[Algebra, str],
) -> Working:
    """The working of one block by the plainest way that fits it."""
    if len(block.rules) == 1:
        turned = turn(block.rules[0], block.unknowns[0])
        if turned is not None:
            value, sure = turned
            return Working((Step(block.unknowns[0], value),), () if sure else block.rules)
    names = [name_of[unknown] for unknown in block.unknowns]
    return (
        solve_linear(block, sample(leads, steps))
        or solve_product(block)
        or solve_knot(block, samples(leads, steps), names)
    )
