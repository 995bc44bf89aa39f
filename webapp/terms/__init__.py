"""The words of written patterns, one table a language, for those who write and those who read.

A table (``tables/*.toml``) gives each concept its forms: the first is the one our own patterns
write, the others are met in patterns of other people. Start reading at
:mod:`webapp.terms.tables`; imports nothing of the program.
"""

from webapp.terms.tables import Language, Manner, OurTerm, TermTable, term_table

__all__ = ["Language", "Manner", "OurTerm", "TermTable", "term_table"]
