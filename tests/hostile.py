"""Texts that somebody who means harm, or nothing, writes where a formula belongs.

Each is refused as a rule, as a length of a part and as the diameter of eyes. The names are those
of the owl in :mod:`webapp.toys`.
"""

from __future__ import annotations

TOWERS = ("((9)**4)**4", "(((9)**4)**4)**4", "9**9**9", "9**9**9**9", "9**(9**9)", "2**99999",
          "sqrt(9**4)**4", "(1 + 2**2)**3", "-((2**4)**4)", "9**-5")  # fmt: skip
CODE = ("__import__('os').system('true')", "lambda: 0", "(lambda x: x)(1)", "exec('1')",
        "eval('1')", "open('/etc/passwd')", "().__class__.__bases__[0]", "getattr(1, 'real')",
        "[x for x in (1, 2)]", "{}", "print(1)", "max(1, 2)", "abs(-1)", "int(3)", "1 if 1 else 2",
        "x := 3", "head.width.__class__", "head.__class__", "globals()", "1; import os",
        "S('1')", "Symbol('x')", "integrate(1)", "f'{1}'", "1 and 2")  # fmt: skip
NUMBERS = ("1e999", "1e99999999", "0x10", "1_000", "nan", "inf", "-infinity", "1j", "9" * 400,
           "1,5", "1..2")  # fmt: skip
LOOKALIKES = (
    "he\u0430d.width", "head\u2024width", "\uff11\uff12", "3 \u00d7 head.width", "\u0663",
    "head.width \u2212 3", "head.width\u200b", "2\u00b2", "\u202e3",
)  # fmt: skip
DIVISIONS = ("head.width / 0", "1 / (head.width - head.width)", "0 / 0", "sqrt(-1)",
             "sqrt(0 - head.width)", "tan(90) / 0")  # fmt: skip
SHAPELESS = (
    "(" * 10_000,
    ")" * 10_000,
    "(" * 10_000 + "1" + ")" * 10_000,
    "-" * 10_000 + "1",
    "1 +",
    "* 2",
    "head.width head.width",
    "= 3",
    "1 = 2 = 3",
    "\x00",
    "'",
    "sin",
)
FORMULAS = (*TOWERS, *CODE, *NUMBERS, *LOOKALIKES, *DIVISIONS, *SHAPELESS)

ROUNDABOUT = ("extra.size = extra.size", "extra.size = 2 * extra.size", "toy.height = toy.height",
              "tuft.width = tuft.height / 1.05", "head.width = head.width + 1", "1 = 1", "1 = 2",
              "tuft.height = 5", "extra.size + extra.other = 5", "extra.size = extra.other",
              "0 = 0 * tuft.width", "head_to_body = 1", "zzz", "sin = 3", "pi = 3")  # fmt: skip
"""Rules of the owl that settle a thing twice, or nothing, or use what nothing settles."""
