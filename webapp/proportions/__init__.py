"""Proportions: the rules of a recipe turned round, once, so that a slider moves every dimension.

Imports :mod:`webapp.formulas`, :mod:`webapp.errors`, sympy and numpy.
Start reading at :mod:`webapp.proportions.solving`, where the whole way is one short function;
whether there are too few or too many rules is found in :mod:`webapp.proportions.freedom`.
"""

from webapp.proportions.errors import ProportionError
from webapp.proportions.solution import Solution
from webapp.proportions.solving import solve_rules

__all__ = ["ProportionError", "Solution", "solve_rules"]
