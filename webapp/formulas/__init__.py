"""Formulas: our own small grammar for what people write into recipes and rules.

A text becomes a tree of five kinds of node; it is never handed to Python or to sympy as text.
Imports only :mod:`webapp.errors`. Start reading at :mod:`webapp.formulas.tree`, then the parser
in :mod:`webapp.formulas.reading`; numbers come out in :mod:`webapp.formulas.evaluating`, text in
:mod:`webapp.formulas.formatting`.
"""

from webapp.formulas.errors import FormulaError
from webapp.formulas.evaluating import evaluate
from webapp.formulas.formatting import (
    format_equation,
    format_expression,
    number_text,
    with_names,
)
from webapp.formulas.reading import parse_equation, parse_expression
from webapp.formulas.tree import (
    Binary,
    Call,
    Equation,
    Expression,
    Name,
    Negative,
    Number,
    names_in,
)

__all__ = [
    "Binary",
    "Call",
    "Equation",
    "Expression",
    "FormulaError",
    "Name",
    "Negative",
    "Number",
    "evaluate",
    "format_equation",
    "format_expression",
    "names_in",
    "number_text",
    "parse_equation",
    "parse_expression",
    "with_names",
]
