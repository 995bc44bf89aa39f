"""Compression of what is sent: once for files that never change, quickly for the rest."""

from __future__ import annotations

import gzip
from functools import lru_cache

from flask import Response, request

SMALLEST = 1400
KINDS = ("text/", "application/json", "image/svg+xml")


def compress(response: Response) -> Response:
    """The response gzipped where the reader takes it and it is worth it."""
    response.vary.add("Accept-Encoding")
    takes = request.accept_encodings["gzip"] > 0
    kind = response.mimetype or ""
    if not takes or not kind.startswith(KINDS) or response.status_code == 304:
        return response
    if response.content_encoding:
        return response
    body = response.get_data()
    if len(body) < SMALLEST:
        return response
    unchanging = request.path.startswith(("/static/", "/library/"))
    if not unchanging and _is_this_machine():
        # Between two programs of one machine there is no wire to save; squeezing takes as long as
        # working out the toy.
        return response
    response.set_data(_once(body) if unchanging else gzip.compress(body, 1))
    response.headers["Content-Encoding"] = "gzip"
    etag, _ = response.get_etag()
    if etag:
        # Two encodings of a file are two things to a cache (RFC 9110, 8.8.3).
        response.set_etag(f"{etag}-gzip")
    return response


def _is_this_machine() -> bool:
    """Whether the reader is on this machine itself, and not behind a proxy that is."""
    host = request.host.partition(":")[0]
    return host in ("127.0.0.1", "localhost") and request.remote_addr in ("127.0.0.1", "::1")


@lru_cache(maxsize=32)
def _once(body: bytes) -> bytes:
    return gzip.compress(body, 9)
