"""Goals for the whole toy: the finished height at which so much yarn, or such a girth, comes out.

Solved on the stitches themselves, not on the ideal outlines. Imports :mod:`webapp.way` and what it
makes. Start reading at :mod:`webapp.goals.solving`; what is measured is in ``measuring``, the
heights that are looked at in ``ladder``, the two ways of looking in ``limits`` and ``nearest``.
"""

from webapp.goals.model import LIMITS, Goal, GoalKind, Reached, Step
from webapp.goals.solving import solve_goal

__all__ = ["LIMITS", "Goal", "GoalKind", "Reached", "Step", "solve_goal"]
