"""In what order the rules are worked out: one at a time where possible, else the smallest knots.

Each rule is given one unknown it will settle; a rule then waits for the rules that settle its
other unknowns. Rules that wait for each other in a circle are one block.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sympy.utilities.iterables import strongly_connected_components

from webapp.proportions.algebra import Algebra, Rule


@dataclass(frozen=True, eq=False)
class Block:
    """Rules and the equally many unknowns they settle together, once earlier blocks are done."""

    rules: tuple[Rule, ...]
    unknowns: tuple[Algebra, ...]


def blocks_of(rules: Sequence[Rule], unknowns: Sequence[Algebra]) -> list[Block]:
    """The blocks in working order; empty if the rules cannot each settle an unknown."""
    uses = [_uses(rule, unknowns) for rule in rules]
    settles = _match(uses)
    if len(settles) < len(rules):
        return []
    settled_by = {unknown: rule for rule, unknown in settles.items()}
    waits = [(rule, settled_by[unknown]) for rule in range(len(rules)) for unknown in uses[rule]]
    # Components come with the awaited ones first.
    groups = strongly_connected_components((list(range(len(rules))), waits))
    return [
        Block(
            tuple(rules[rule] for rule in sorted(group)),
            tuple(unknowns[unknown] for unknown in sorted(settles[rule] for rule in group)),
        )
        for group in groups
    ]


def _uses(rule: Rule, unknowns: Sequence[Algebra]) -> list[int]:
    present = rule.residual.free_symbols
    return [number for number, unknown in enumerate(unknowns) if unknown in present]


def _match(uses: Sequence[Sequence[int]]) -> Mapping[int, int]:
    """The unknown each rule settles, for as many rules as can be (augmenting paths)."""
    rule_of: dict[int, int] = {}

    def place(rule: int, tried: set[int]) -> bool:
        for unknown in uses[rule]:
            if unknown in tried:
                continue
            tried.add(unknown)
            if unknown not in rule_of or place(rule_of[unknown], tried):
                rule_of[unknown] = rule
                return True
        return False

    for rule in range(len(uses)):
        place(rule, set())
    return {rule: unknown for unknown, rule in rule_of.items()}
