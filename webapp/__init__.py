"""Roundling: from a few sliders to every stitch of a stuffed crochet toy.

Each sub-package is one stage; the arrows between them go one way (checked by import-linter).
Start reading at :mod:`webapp.way`, where one short function goes the whole way.
"""
