"""The server that runs the application.

Solving holds Python's lock, so more threads do not make more toys a second; four threads let a
small file through while a toy is worked out. Measured against others: see DEVELOPERS.md.
"""

from __future__ import annotations

import socket

from flask import Flask
from waitress import serve as run

THREADS = 4


def serve(app: Flask, host: str, port: int) -> None:
    """Serves ``app`` until it is interrupted."""
    run(app, host=host, port=port, threads=THREADS, ident="Roundling")


def free_port(host: str, wanted: int) -> int:
    """``wanted`` if nothing listens there, else the next port that is free (up to 50 further)."""
    for port in range(wanted, wanted + 50):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, port))
            except OSError:
                continue
            return port
    raise OSError(f"no free port between {wanted} and {wanted + 49}")
