"""Rules turned round: every rule must hold afterwards, and every fault must be said plainly."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
import scipy.optimize
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.proportion_rules import HEIGHTS, TOY, TOY_LEADS, check_all, solve
from webapp.errors import RoundlingError
from webapp.formulas import evaluate, names_in, parse_equation
from webapp.proportions import ProportionError, Solution


def fault(rules: Sequence[str], leads: Sequence[str]) -> ProportionError:
    with pytest.raises(ProportionError) as caught:
        solve(rules, leads)
    assert caught.value.asked
    assert caught.value.why
    assert caught.value.nearest
    assert isinstance(caught.value, RoundlingError)
    return caught.value


def outcome(rules: Sequence[str], leads: Sequence[str]) -> Solution | ProportionError:
    """The solution or the fault, where either will do."""
    try:
        return solve(rules, leads)
    except ProportionError as error:
        return error


# --- Answers known from elsewhere ----------------------------------------------------------------


def test_head_and_body() -> None:
    # By hand: h = r b and h + b = t give b = t / (1 + r) = 200 / 1.6.
    found = solve(HEIGHTS, ("toy.height", "head_to_body")).evaluate(
        {"toy.height": 200.0, "head_to_body": 0.6}
    )
    assert found == pytest.approx(
        {"toy.height": 200.0, "head_to_body": 0.6, "body.height": 125.0, "head.height": 75.0},
        rel=1e-14,
    )


# (rules, leads with values, answers). All answers by hand, the reason beside each.
KNOWN = [
    # Turned the other way: h = t - b.
    (HEIGHTS, {"toy.height": 200, "body.height": 125}, {"head_to_body": 0.6}),
    # Heron's area of the right triangle 3, 4, 5 the other way round.
    (["c**2 = a**2 + b**2"], {"a": 3, "c": 5}, {"b": 4}),
    (["x = y*sqrt(1-(a/b)**2)"], {"x": 4, "y": 5, "b": 10}, {"a": 6}),
    # x**2 + 2x = 15 has the answers 3 and -5.
    (["x*(x + k) = t"], {"k": 2, "t": 15}, {"x": 3}),
    # Two numbers with product 12 and difference 1.
    (["a*b = t", "a - b = k"], {"t": 12, "k": 1}, {"a": 4, "b": 3}),
    # A rectangle of area 50, twice as long as wide.
    (["long*wide = area", "long = ratio*wide"], {"area": 50, "ratio": 2}, {"long": 10, "wide": 5}),
    # The same, with the perimeter through a root: sqrt(area) = 6, a + b = 13.
    (["sqrt(a*b) = s", "a + b = p", "a = k*c", "c = 1"], {"s": 6, "p": 13}, None),
    # sqrt(x) + x = 6 has x = 4.
    (["x + sqrt(x) = t"], {"t": 6}, {"x": 4}),
    # x**4 + x**2 = 20 has x = 2.
    (["x**4 + x**2 = t"], {"t": 20}, {"x": 2}),
    # A share of a whole: a / (a + b) = 1/4 and a + b = 8.
    (["a/(a+b) = share", "a + b = sum"], {"share": 0.25, "sum": 8}, {"a": 2, "b": 6}),
    # sqrt(x) = a - b where that is positive.
    (["sqrt(x) = a - b"], {"a": 5, "b": 2}, {"x": 9}),
    # y = sqrt(9 - x**2) with x = y: 3 / sqrt(2).
    (["y = sqrt(d**2 - x**2)", "x = k*y"], {"d": 3, "k": 1}, {"x": 3 / math.sqrt(2)}),
    # A slope of 60 degrees doubles its base.
    (["slope = base / cos(angle)"], {"base": 7, "angle": 60}, {"slope": 14}),
    (["x**-2 = k"], {"k": 0.25}, {"x": 2}),
    (["2*a + 3*b - c = 0", "a = 2*b", "c = t"], {"t": 21}, {"a": 6, "b": 3}),
]


@pytest.mark.parametrize(("rules", "given_values", "answers"), KNOWN)
def test_known_answers(
    rules: Sequence[str], given_values: dict[str, float], answers: dict[str, float] | None
) -> None:
    if answers is None:
        fault(rules, tuple(given_values))  # 4 and 9, or 9 and 4: two answers
        return
    found = solve(rules, tuple(given_values)).evaluate(given_values)
    assert {name: found[name] for name in answers} == pytest.approx(answers, rel=1e-12)
    check_all(rules, found)


def test_linear_rules_against_numpy() -> None:
    """Sums of six widths with random coefficients; numpy.linalg.solve gives the answer."""
    draw = np.random.default_rng(5)
    names = [f"part{i}.width" for i in range(6)]
    for _ in range(5):
        wanted = draw.uniform(5, 50, 6)
        matrix = draw.integers(1, 9, (6, 6)) + 10 * np.eye(6)
        totals = matrix @ wanted
        rules = [
            " + ".join(f"{matrix[i, j]:g} * {names[j]}" for j in range(6)) + f" = total{i}"
            for i in range(6)
        ]
        leads = [f"total{i}" for i in range(6)]
        found = solve(rules, leads).evaluate(dict(zip(leads, totals, strict=True)))
        np.testing.assert_allclose(
            [found[name] for name in names], np.linalg.solve(matrix, totals), rtol=1e-11
        )


def test_linear_rules_with_leads_as_coefficients_against_sympy() -> None:
    """Four sums whose coefficients are leads themselves; sympy.linsolve, in exact fractions."""
    draw = random.Random(8)
    names = [f"a{i}" for i in range(4)]
    rules = [" + ".join(f"k{i}{j} * a{j}" for j in range(4)) + f" = d{i}" for i in range(4)]
    leads = [f"k{i}{j}" for i in range(4) for j in range(4)] + [f"d{i}" for i in range(4)]
    solution = solve(rules, leads)
    for _ in range(5):
        k = [[draw.randint(1, 4) + 12 * (i == j) for j in range(4)] for i in range(4)]
        d = [draw.randint(60, 90) for _ in range(4)]
        exact = next(iter(sympy.linsolve((sympy.Matrix(k), sympy.Matrix(d)))))
        flat = [float(x) for row in k for x in row] + [float(x) for x in d]
        found = solution.evaluate(dict(zip(leads, flat, strict=True)))
        assert [found[n] for n in names] == pytest.approx([float(x) for x in exact], rel=1e-12)


def test_toy_against_a_numeric_root_finder() -> None:
    """All rules at once by scipy.optimize.root, which knows nothing of our order or algebra."""
    values = dict(zip(TOY_LEADS, (180.0, 0.85, 1.1, 0.9, 1.3), strict=True))
    found = solve(TOY, TOY_LEADS).evaluate(values)
    equations = [parse_equation(rule) for rule in TOY]
    unknown = [name for name in found if name not in values]

    def residuals(logs: np.ndarray[Any, Any]) -> list[float]:
        trial = values | {name: math.exp(x) for name, x in zip(unknown, logs, strict=True)}
        return [math.log(evaluate(e.left, trial) / evaluate(e.right, trial)) for e in equations]

    start = [math.log(found[name]) + 0.2 * (-1) ** i for i, name in enumerate(unknown)]
    root = scipy.optimize.root(residuals, start, tol=1e-13)
    assert root.success
    assert [found[name] for name in unknown] == pytest.approx(list(np.exp(root.x)), rel=1e-8)


# --- Every rule holds ----------------------------------------------------------------------------


@given(
    st.tuples(
        st.floats(60, 1000),
        st.floats(0.4, 2.0),
        st.floats(0.5, 1.6),
        st.floats(0.5, 1.6),
        st.floats(0.5, 2.0),
    )
)
@settings(max_examples=200, deadline=None)
def test_rules_of_a_toy_hold(leads: tuple[float, ...]) -> None:
    found = solve(TOY, TOY_LEADS).evaluate(dict(zip(TOY_LEADS, leads, strict=True)))
    check_all(TOY, found)
    assert all(value > 0 for value in found.values())


@pytest.mark.parametrize("let_go", TOY_LEADS)
def test_any_dimension_can_lead_instead(let_go: str) -> None:
    """Swap one lead for any dimension: either the same toy comes back or the fault is named."""
    values = dict(zip(TOY_LEADS, (180.0, 0.85, 1.1, 0.9, 1.3), strict=True))
    toy = solve(TOY, TOY_LEADS).evaluate(values)
    solved = 0
    for name in toy:
        if name in TOY_LEADS:
            continue
        leads = (*(lead for lead in TOY_LEADS if lead != let_go), name)
        solution = outcome(TOY, leads)
        if isinstance(solution, ProportionError):
            assert solution.names or solution.rules
            continue
        found = solution.evaluate(toy)
        assert found == pytest.approx(toy, rel=1e-9)
        solved += 1
    assert solved >= 1


TEMPLATES = (
    "{new} = {k} * {a}",
    "{new} = {k} * {a} * {b}",
    "{new} = {a} + {k} * {b}",
    "{new} / {a} = {k}",
    "{new} = sqrt({a} * {b})",
    "{new} = {k} * {a} ** 0.5 * {b} ** 0.5",
    "{new} = {a} * sqrt(1 - ({k} * {a} / (3 * {k} * {a} + {b})) ** 2)",
    "{new} ** 2 = {a} ** 2 + {b} ** 2",
    "{a} = {new} * ({k} + {b} / {a})",
    "{new} / ({new} + {a}) = sin(37)",
    "{k} / {new} = 1 / {a} + 1 / {b}",
    # Squares with one positive answer each: the product of both answers is negative, or only the
    # smaller leaves the root its sign.
    "{new} * ({new} + {a}) = {k} * {a} * {b}",
    "{new} + {k} * sqrt({new} * {a}) = {b}",
)


@st.composite
def rule_sets(draw: st.DrawFn) -> tuple[list[str], tuple[str, ...]]:
    """Rules that build each new name from earlier ones, in a shuffled order."""
    leads = tuple(f"lead{i}" for i in range(draw(st.integers(1, 4))))
    names, rules = list(leads), []
    for number in range(draw(st.integers(1, 12))):
        template = draw(st.sampled_from(TEMPLATES))
        picked = {"a": draw(st.sampled_from(names)), "b": draw(st.sampled_from(names))}
        names.append(f"part{number}.size")
        k = draw(st.sampled_from(["0.35", "0.8", "1.2", "2.75"]))
        rules.append(template.format(new=names[-1], k=k, **picked))
    return draw(st.permutations(rules)), leads


@given(rule_sets(), st.randoms(use_true_random=False))
@settings(max_examples=50, deadline=None)
def test_rules_of_any_set_hold(made: tuple[list[str], tuple[str, ...]], draw: Any) -> None:
    rules, leads = made
    solution = solve(rules, leads)
    assert solution.leads == leads
    assert solution.names[: len(leads)] == leads
    for _ in range(3):
        found = solution.evaluate({lead: draw.uniform(0.5, 40.0) for lead in leads})
        assert tuple(found) == solution.names
        check_all(rules, found)


@given(rule_sets(), st.data())
@settings(max_examples=25, deadline=None)
def test_one_lead_too_many_is_found(
    made: tuple[list[str], tuple[str, ...]], data: st.DataObject
) -> None:
    """Of a set that was just right, make one more name a lead: any lead named can be let go."""
    rules, leads = made
    extra = data.draw(st.sampled_from(solve(rules, leads).names[len(leads) :]))
    error = fault(rules, (*leads, extra))
    assert extra in error.leads
    assert error.rules
    assert set(error.rules) <= set(rules)
    # The set is minimal: its rules and leads without any one of them are independent, which
    # here means that the rest has a name left free.
    for dropped in (*error.rules, *error.leads):
        some = [rule for rule in error.rules if rule != dropped]
        given_names = {name for rule in some for name in names_in(parse_equation(rule))}
        kept = [lead for lead in error.leads if lead != dropped and lead in given_names]
        assert "twice" not in str(outcome(some, kept))
    for lead in error.leads:
        rest = [name for name in (*leads, extra) if name != lead]
        # It may have no formula, or two answers, but nothing is settled twice or left free.
        said = str(outcome(rules, rest))
        assert "twice" not in said
        assert "free" not in said


# --- Too few, too many ---------------------------------------------------------------------------


def test_too_few_leads() -> None:
    error = fault(TOY, ("head_to_body", "limb_length", "limb_thickness", "ear_size"))
    assert "toy.height" in error.names
    assert "1 more value must be known" in str(error)
    error = fault(HEIGHTS, ())
    assert set(error.names) == {"toy.height", "head.height", "body.height", "head_to_body"}
    assert "2 more values must be known" in str(error)


def test_only_what_is_free_is_called_free() -> None:
    # By hand: the ear hangs on ear_size alone, the heights are settled.
    error = fault(TOY, TOY_LEADS[:-1])
    assert set(error.names) == {"ear_size", "ear.width", "ear.height"}


def test_too_many_leads() -> None:
    # By hand: two heights and their ratio with the sum is one more than two rules leave open.
    error = fault(TOY, (*TOY_LEADS, "head.height"))
    assert error.rules == HEIGHTS
    assert error.leads == ("toy.height", "head_to_body", "head.height")
    for text in (*(f"“{rule}”" for rule in HEIGHTS), "toy.height, head_to_body or head.height"):
        assert text in str(error)


# (rules, leads, the rules and leads at fault): by hand.
CONFLICTS = [
    (["a = b", "b = a"], (), ["a = b", "b = a"], ()),
    (["a = b", "b = c", "a = c", "d = 2*c"], ("a",), ["a = b", "b = c", "a = c"], ()),
    (["a = b", "a = 2*b", "b = t"], ("t",), ["a = b", "a = 2*b"], ()),
    (["a + b = t", "a + b = 2*t"], ("t",), ["a + b = t", "a + b = 2*t"], ()),
    # A product and its quotient say the same, as do a difference and its sum.
    (["a*b = t", "a = t/b", "c = a"], ("t",), ["a*b = t", "a = t/b"], ()),
    (["a - b = t", "a = b + t", "c = a"], ("t",), ["a - b = t", "a = b + t"], ()),
    (["a = a", "b = t"], ("t",), ["a = a"], ()),
    (["1 = 2", "b = t"], ("t",), ["1 = 2"], ()),
    (["ratio = 1", "b = ratio*t"], ("t", "ratio"), ["ratio = 1"], ("ratio",)),
    (["b = 2*t", "c = b"], ("b", "t"), ["b = 2*t"], ("b", "t")),
    (["x**2 + y**2 = 2*x*y", "x = y", "y = t"], ("t",), None, ()),
]


@pytest.mark.parametrize(("rules", "leads", "at_fault", "to_spare"), CONFLICTS)
def test_conflicts(
    rules: list[str], leads: tuple[str, ...], at_fault: list[str] | None, to_spare: tuple[str, ...]
) -> None:
    error = fault(rules, leads)
    if at_fault is not None:
        assert list(error.rules) == at_fault
        assert error.leads == to_spare


def test_a_lead_twice() -> None:
    assert fault(HEIGHTS, ("toy.height", "toy.height")).leads == ("toy.height",)


def test_too_many_rules_to_think_about() -> None:
    assert "121 rules" in fault([f"a{i} = t" for i in range(121)], ("t",)).asked


# --- Rules without a single positive answer ------------------------------------------------------


@pytest.mark.parametrize(
    ("rules", "leads", "said"),
    [
        # Each of the two could be the larger.
        (["a*b = t", "a + b = k"], ("t", "k"), "more than one positive answer"),
        (["(x-a)**2 = b"], ("a", "b"), "more than one positive answer"),
        # 30 degrees, 150 degrees, and so on.
        (["sin(x) = a"], ("a",), "No plain formula"),
        # A general quartic.
        (["x**2 + y = t", "y**2 + x = s"], ("t", "s"), "No plain formula"),
        # -1 and -2.
        (["x**2 + 3*x + 2 = 0"], (), "no positive answer"),
        (["x = y/(a-a)"], ("y", "a"), "divided by nothing"),
        (["x = y/(2-2)"], ("y",), "divided by nothing"),
        (["x = y*(1/0)"], ("y",), "1 / 0 has no real value"),
        (["x = y*sqrt(2-3)"], ("y",), "sqrt(-1) has no real value"),
    ],
)
def test_no_single_answer(rules: list[str], leads: tuple[str, ...], said: str) -> None:
    error = fault(rules, leads)
    assert said in str(error)
    assert error.rules == tuple(rules)
