"""Files that pages refer to: our own static files, and scripts where their packages keep them.

Each has a stamp, a hash of what is in it; an address with the stamp can be kept for good.
"""

from __future__ import annotations

import hashlib
import mimetypes
from functools import lru_cache
from pathlib import Path

from flask import Response, request

from webapp.web.files import htmx_script, plotly_script, static_folder

A_YEAR = 31_536_000


@lru_cache(maxsize=1)
def _paths() -> dict[str, Path]:
    """Every file that is served, by its address. Nothing else can be reached."""
    folder = static_folder()
    own = {f"/static/{p.relative_to(folder).as_posix()}": p for p in folder.rglob("*")}
    libraries = {"/library/plotly.js": plotly_script(), "/library/htmx.js": htmx_script()}
    return {address: path for address, path in (own | libraries).items() if path.is_file()}


def serve() -> Response:
    """The file at this request's address, or a plain 404."""
    path = _paths().get(request.path)
    if path is None:
        return Response("There is no such file.\n", 404, mimetype="text/plain")
    body = _bytes(path, path.stat().st_mtime_ns)
    kind = "text/javascript" if path.suffix == ".js" else mimetypes.guess_type(path.name)[0]
    response = Response(body, mimetype=kind or "application/octet-stream")
    stamp = _stamp(path, path.stat().st_mtime_ns)
    if request.args.get("v") == stamp:
        response.headers["Cache-Control"] = f"public, max-age={A_YEAR}, immutable"
    response.set_etag(stamp)
    return response


def stamped(address: str) -> str:
    """The address of a file with its stamp."""
    path = _paths()[address]
    return f"{address}?v={_stamp(path, path.stat().st_mtime_ns)}"


@lru_cache(maxsize=64)
def _bytes(path: Path, _changed: int) -> bytes:
    return path.read_bytes()


@lru_cache(maxsize=64)
def _stamp(path: Path, changed: int) -> str:
    return hashlib.sha256(_bytes(path, changed)).hexdigest()[:12]
