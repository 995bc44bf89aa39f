"""Reading: from the text of somebody's written pattern to its parts, rounds and doubts.

:func:`read_pattern` goes the way. Imports :mod:`webapp.terms` and :mod:`webapp.errors`. Start
reading at :mod:`webapp.reading.model`.
"""

from webapp.reading.model import (
    USES,
    Begin,
    Choice,
    Mend,
    ReadGauge,
    ReadPart,
    ReadPattern,
    ReadRound,
    Remark,
    RemarkKind,
    Run,
    Span,
    Verdict,
    Work,
)
from webapp.reading.reading import read_pattern

__all__ = [
    "USES",
    "Begin",
    "Choice",
    "Mend",
    "ReadGauge",
    "ReadPart",
    "ReadPattern",
    "ReadRound",
    "Remark",
    "RemarkKind",
    "Run",
    "Span",
    "Verdict",
    "Work",
    "read_pattern",
]
