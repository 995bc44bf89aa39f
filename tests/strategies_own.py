"""Shared strategies: random formulas, and random toys of one's own."""

from __future__ import annotations

from hypothesis import strategies as st

from webapp.formulas import Binary, Call, Expression, Name, Negative, Number

NAMES = ("toy.height", "body.width", "head.height", "ear_size", "limb_length")


def numbers() -> st.SearchStrategy[float]:
    """Numbers that a formula can hold: of at most 12 figures."""
    return st.one_of(
        st.integers(0, 10**9).map(float),
        st.decimals(0, 1000, places=6).map(float),
        st.integers(1, 99).map(lambda n: float(f"{n}e-11")),
    )


def formulas(depth: int = 3) -> st.SearchStrategy[Expression]:
    """Trees of every kind of node as the parser can make them: no power within a power."""
    leaves = st.one_of(numbers().map(Number), st.sampled_from(NAMES).map(Name))
    simple = leaves | st.builds(Binary, st.sampled_from("+-*/"), leaves, leaves)
    if depth == 0:
        return leaves
    inner = formulas(depth - 1)
    exponents = st.sampled_from((2.0, 0.5, -1.0, -2.5, 4.0)).map(Number)
    return st.one_of(
        leaves,
        inner.map(Negative),
        st.builds(Binary, st.sampled_from("+-*/"), inner, inner),
        st.builds(Call, st.sampled_from(("sqrt", "sin", "cos", "tan")), inner),
        st.builds(Binary, st.just("**"), simple, exponents),
    )
