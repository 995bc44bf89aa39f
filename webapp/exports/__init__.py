"""Files for other programs: the picture as PNG, the shape as glTF, materials as CSV, the schema of
``toy.json``.

Imports :mod:`webapp.preview`, ``materials`` and ``assembly``; writes bytes and text.
Start reading at :mod:`webapp.exports.shape` (pieces of the toy as meshes) and ``glb`` (the file);
``picture``, ``shopping`` and ``result_schema`` stand alone.
"""

from webapp.exports.picture import Background, picture_png, picture_svg
from webapp.exports.result_schema import RESULT_SCHEMA_ADDRESS, result_schema
from webapp.exports.shape import shape_glb
from webapp.exports.shopping import materials_csv

__all__ = [
    "RESULT_SCHEMA_ADDRESS",
    "Background",
    "materials_csv",
    "picture_png",
    "picture_svg",
    "result_schema",
    "shape_glb",
]
