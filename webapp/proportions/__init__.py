"""Proportions: the rules of a recipe turned round, once, so that a slider moves every dimension.

Imports :mod:`webapp.formulas`, :mod:`webapp.errors`, sympy and numpy.
Start reading at :mod:`webapp.proportions.solving`, where the whole way is one short function;
whether there are too few or too many rules is found in :mod:`webapp.proportions.freedom`. Any
dimension can be held instead of a slider: :mod:`webapp.proportions.holding`.
"""

from webapp.proportions.errors import ProportionError, counted, listed
from webapp.proportions.hold_errors import HoldError, in_words, unknown
from webapp.proportions.holding import Offer, Settled, settle
from webapp.proportions.solution import Solution
from webapp.proportions.solving import solve_rules

__all__ = [
    "HoldError",
    "Offer",
    "ProportionError",
    "Settled",
    "Solution",
    "counted",
    "in_words",
    "listed",
    "settle",
    "solve_rules",
    "unknown",
]
