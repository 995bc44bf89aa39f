"""How strongly each rule pulls on each name, at a point where the rules hold.

A rule is taken as ``log(left / right) = 0`` in the logarithms of its names: a rule that is a
product of powers then pulls the same everywhere, and mm and plain ratios weigh alike. All is done
in complex numbers, where a square root of something negative is no obstacle; how many rules are
independent is the same there.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Mapping, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from webapp.formulas import Binary, Call, Equation, Expression, Name, Negative, Number
from webapp.proportions.steps import IMPOSSIBLE

Complexes: TypeAlias = NDArray[np.complex128]
Pull: TypeAlias = tuple[complex, Complexes]
"""A value and its slope in the logarithm of each name."""

MOST_STEPS = 40
LONGEST_STEP = 1.0
FARTHEST = 20.0
CLOSE = 1e-11
DEGREE = math.pi / 180.0
SLOPES: Mapping[str, tuple[Callable[[complex], complex], Callable[[complex], complex]]] = {
    "sqrt": (cmath.sqrt, lambda x: 0.5 / cmath.sqrt(x)),
    "sin": (lambda x: cmath.sin(x * DEGREE), lambda x: cmath.cos(x * DEGREE) * DEGREE),
    "cos": (lambda x: cmath.cos(x * DEGREE), lambda x: -cmath.sin(x * DEGREE) * DEGREE),
    "tan": (lambda x: cmath.tan(x * DEGREE), lambda x: DEGREE / cmath.cos(x * DEGREE) ** 2),
}


def pulls(equations: Sequence[Equation], names: Sequence[str], seed: int) -> Complexes:
    """Slopes of each rule in the logarithm of each name, shape (rules, names).

    They are taken where the rules hold if a few steps from a random point (by ``seed``) lead
    there, else at that random point: rules that contradict each other hold nowhere.
    """
    random = np.random.default_rng(seed)
    start = random.uniform(-0.7, 0.7, len(names)) + 1j * random.uniform(-0.1, 0.1, len(names))
    index = {name: number for number, name in enumerate(names)}
    logs = start.astype(np.complex128)
    _, first = _residuals(equations, index, logs, strict=False)
    for _ in range(MOST_STEPS):
        try:
            errors, slopes = _residuals(equations, index, logs, strict=True)
        except IMPOSSIBLE:
            break
        if not slopes.size or np.abs(errors).max() < CLOSE:
            return slopes
        step = np.linalg.lstsq(slopes, -errors, rcond=1e-10)[0]
        logs = logs + step * min(1.0, LONGEST_STEP / (np.abs(step).max() + 1e-300))
        if np.abs(logs).max() > FARTHEST:
            break
    return first


def _residuals(
    equations: Sequence[Equation], index: Mapping[str, int], logs: Complexes, *, strict: bool
) -> tuple[Complexes, Complexes]:
    """Error and slopes of each rule; unless ``strict``, a rule without a value pulls nowhere."""
    point = np.exp(logs)
    rows = []
    for equation in equations:
        try:
            with np.errstate(divide="raise", over="raise", invalid="raise"):
                rows.append(_residual(equation, index, point))
        except IMPOSSIBLE:
            if strict:
                raise
            rows.append((0j, np.zeros_like(point)))
    errors = np.array([error for error, _ in rows], dtype=np.complex128)
    slopes = np.array([row for _, row in rows], dtype=np.complex128)
    return errors, slopes.reshape(len(rows), len(index))


def _residual(equation: Equation, index: Mapping[str, int], point: Complexes) -> Pull:
    left, left_slope = _pull(equation.left, index, point)
    right, right_slope = _pull(equation.right, index, point)
    if min(abs(left), abs(right)) < 1e-200:
        return left - right, left_slope - right_slope
    return cmath.log(left / right), left_slope / left - right_slope / right


def _pull(node: Expression, index: Mapping[str, int], point: Complexes) -> Pull:
    match node:
        case Number(number):
            return complex(number), np.zeros(len(point), dtype=np.complex128)
        case Name(name):
            slope = np.zeros(len(point), dtype=np.complex128)
            slope[index[name]] = point[index[name]]
            return complex(point[index[name]]), slope
        case Negative(operand):
            value, slope = _pull(operand, index, point)
            return -value, -slope
        case Call(function, argument):
            work, slope_of = SLOPES[function]
            return _chain(work, slope_of, _pull(argument, index, point))
        case Binary(sign, left, right):
            return _combine(sign, _pull(left, index, point), _pull(right, index, point))


def _combine(sign: str, left: Pull, right: Pull) -> Pull:
    a, da = left
    b, db = right
    if sign == "+":
        return a + b, da + db
    if sign == "-":
        return a - b, da - db
    if sign == "*":
        return a * b, a * db + b * da
    if sign == "/":
        return a / b, (da - a / b * db) / b
    # An exponent is a plain number, and has no slope.
    return _chain(lambda x: x**b, lambda x: b * x ** (b - 1), left)


def _chain(
    work: Callable[[complex], complex], slope_of: Callable[[complex], complex], inner: Pull
) -> Pull:
    """A function of ``inner``; of a constant no slope is asked, which at 0 may have none."""
    value, slope = inner
    if not slope.any():
        return work(value), slope
    return work(value), slope_of(value) * slope
