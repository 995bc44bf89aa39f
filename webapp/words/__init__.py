"""The sentences of patterns in other languages: one message catalogue a language.

A catalogue (``locale/*.po``, read at the first use) gives each English sentence its translation;
UK English needs none, US English only where it is spelled otherwise. Start reading at
:mod:`webapp.words.catalogue`; imports only :mod:`webapp.terms`.
"""

from webapp.words.catalogue import FOLDER, Catalogue, catalogue, noted

__all__ = ["FOLDER", "Catalogue", "catalogue", "noted"]
