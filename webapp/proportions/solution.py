"""The solved rules as one compiled function of the leads."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import sympy

from webapp.proportions.algebra import Algebra, Rule
from webapp.proportions.errors import ProportionError, listed, quoted_rules
from webapp.proportions.steps import IMPOSSIBLE, Step, agree, holds, worth


@dataclass(frozen=True, eq=False)
class Solution:
    """Every dimension as a function of the leads.

    ``names`` are all names, the leads first, then the others as the rules come to them.
    """

    names: tuple[str, ...]
    leads: tuple[str, ...]
    _symbols: Mapping[str, Algebra] = field(repr=False)
    _steps: tuple[Step, ...] = field(repr=False)
    _checks: tuple[Rule, ...] = field(repr=False)
    _work: Callable[..., Sequence[float]] = field(repr=False)

    def evaluate(self, values: Mapping[str, float]) -> dict[str, float]:
        """All dimensions (mm, or no unit) from the leads' ``values``; other keys are ignored.

        Raises :class:`ProportionError` when a lead has no value, or when a dimension comes out
        not real, not finite or not positive.
        """
        try:
            given = [float(values[lead]) for lead in self.leads]
        except KeyError as missing:
            raise _without_value(str(missing.args[0])) from missing
        try:
            found = self._work(*given)
            results = dict(zip(self.names, (*given, *found), strict=False))
            # A sum is finite only if all its parts are, and one number is quick to test.
            sound = math.isfinite(sum(results.values())) and min(results.values(), default=1.0) > 0
            if sound and self._agreed(found):
                return results
        except IMPOSSIBLE:
            pass
        raise self._trouble(given)

    def _agreed(self, found: Sequence[float]) -> bool:
        """The sides of the rules to be checked come after the dimensions, in pairs."""
        if not self._checks:
            return True
        first = len(self.names) - len(self.leads)
        scale = max(found[:first])
        pairs = zip(found[first::2], found[first + 1 :: 2], strict=True)
        return all(agree(left, right, scale) for left, right in pairs)

    def _trouble(self, given: Sequence[float]) -> ProportionError:
        """The first dimension that went wrong; step by step, since speed no longer matters."""
        known: dict[Algebra, float] = {}
        for lead, value in zip(self.leads, given, strict=True):
            if not (math.isfinite(value) and value > 0.0):
                return _bad(lead, value, (lead,))
            known[self._symbols[lead]] = value
        for number, step in enumerate(self._steps):
            after = (later.name for later in self._steps[number:] if later.name)
            pending = next(after, self.names[-1])
            try:
                value = worth(step.expression, known)
            except IMPOSSIBLE:
                return _bad(pending, None, self._moves(step))
            if not math.isfinite(value) or (step.name and value <= 0.0):
                return _bad(pending, value, self._moves(step))
            known[step.symbol] = value
        broken = [rule.text for rule in self._checks if not holds(rule, known)]
        return _broken(broken, self.leads)

    def _moves(self, step: Step) -> tuple[str, ...]:
        """The leads a step hangs on, through all steps before it."""
        before = {earlier.symbol: earlier for earlier in self._steps}
        waiting = [step.expression]
        seen: set[Algebra] = set()
        while waiting:
            fresh = waiting.pop().free_symbols - seen
            seen |= fresh
            waiting += [before[symbol].expression for symbol in fresh if symbol in before]
        return tuple(lead for lead in self.leads if self._symbols[lead] in seen)


def compile_solution(
    symbols: Mapping[str, Algebra],
    leads: tuple[str, ...],
    steps: Sequence[Step],
    checks: Sequence[Rule],
) -> Solution:
    """Join the steps into one Python function, each common piece worked out once."""
    sides = [side for rule in checks for side in (rule.left, rule.right)]
    program, last = _program(steps, sides)
    named = [step for step in steps if step.name]
    outputs = (*(step.symbol for step in named), *last)
    # The text that lambdify compiles holds numbered symbols only, nothing a user wrote.
    work: Any = sympy.lambdify(
        [symbols[lead] for lead in leads], outputs, "math", cse=lambda _: (program, outputs)
    )
    names = (*leads, *(step.name for step in named))
    return Solution(names, leads, dict(symbols), tuple(steps), tuple(checks), work)


def _program(
    steps: Sequence[Step], sides: Sequence[Algebra]
) -> tuple[list[tuple[Algebra, Algebra]], list[Algebra]]:
    """Assignments in working order, and what is left of ``sides``.

    Common pieces are found in all steps at once, then put just before the first that needs them.
    """
    pieces, reduced = sympy.cse([*(step.expression for step in steps), *sides])
    waiting = dict(pieces)
    program: list[tuple[Algebra, Algebra]] = []

    def prepare(expression: Algebra) -> None:
        for symbol in sorted(expression.free_symbols, key=str):
            if symbol in waiting:
                piece = waiting.pop(symbol)
                prepare(piece)
                program.append((symbol, piece))

    for step, expression in zip(steps, reduced, strict=False):
        prepare(expression)
        program.append((step.symbol, expression))
    last = reduced[len(steps) :]
    for expression in last:
        prepare(expression)
    return program, last


def _without_value(lead: str) -> ProportionError:
    return ProportionError(
        asked="All dimensions were to be worked out.",
        why=f"{lead} leads, and it was given no value.",
        nearest=f"Give {lead} a value.",
        names=(lead,),
        leads=(lead,),
    )


def _bad(name: str, value: float | None, moves: tuple[str, ...]) -> ProportionError:
    came = "has no real value with these leads" if value is None else f"comes to {value:g}"
    return ProportionError(
        asked=f"{name} was to be worked out.",
        why=f"It {came}, and a dimension must be more than nothing.",
        nearest=f"Change {listed(moves, 'or')}." if moves else "Change the rules it follows from.",
        names=(name,),
        leads=moves,
        value=value,
    )


def _broken(rules: Sequence[str], leads: Sequence[str]) -> ProportionError:
    return ProportionError(
        asked=f"{quoted_rules(rules) or 'The rules'} had to hold with these leads.",
        why="No positive dimensions satisfy that.",
        nearest=f"Change {listed(leads, 'or')}." if leads else "Change the rules.",
        rules=rules,
        leads=leads,
    )
