"""The server that runs the application.

Working out a toy keeps one core busy whichever thread does it, so one thread serves all: four take
a third longer for the same work. Sending goes on beside it. Measured: see DEVELOPERS.md.
"""

from __future__ import annotations

import logging
import os
import socket

from flask import Flask
from waitress import serve as run

THREADS = 1
LAST_PORT = 65_535
KEPT_BYTES = 16_000_000
"""An answer up to this size waits in memory until it is sent, a larger one in a temporary file. The
largest is plotly's script, 5 MB."""


def serve(app: Flask, host: str, port: int) -> None:
    """Serves ``app`` until it is interrupted."""
    # A page asks for five files at once; that they queue is no news.
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    run(app, host=host, port=port, threads=THREADS, ident="Roundling", outbuf_overflow=KEPT_BYTES)


def free_port(host: str, wanted: int) -> int:
    """``wanted`` if nothing listens there, else the next port that is free (of 50)."""
    last = min(wanted + 49, LAST_PORT)
    for port in range(wanted, last + 1):
        with socket.socket() as probe:
            if os.name == "posix":  # elsewhere it would share a port that somebody listens on
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, port))
            except OSError:
                continue
            return port
    raise OSError(f"no free port between {wanted} and {last}")
