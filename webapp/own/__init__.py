"""Toys of one's own: a toy as plain data that is edited field by field, packed and kept in files.

Imports :mod:`webapp.recipes`, :mod:`webapp.shapes`, :mod:`webapp.formulas`; knows no pages.
Data has the keys of a recipe file; a wrong value stays as it was typed, and only reading it as a
recipe refuses it. Start reading at :mod:`webapp.own.edits`; a toy goes into a file in
:mod:`webapp.own.files`, into an address in :mod:`webapp.own.packing`.
"""
