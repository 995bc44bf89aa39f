"""Re-working: what was read, drawn as a shape, mended, or worked anew for another yarn or size.

Imports :mod:`webapp.reading`, :mod:`webapp.rounds`, :mod:`webapp.pattern` and what lies below
them. Start reading at :mod:`webapp.rework.model`.
"""
