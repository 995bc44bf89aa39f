"""A real server on a free port, for as long as a test needs it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from waitress.server import create_server
from waitress.wasyncore import close_all

from webapp.web.server import KEPT_BYTES, THREADS


@contextmanager
def serving(app: Callable[..., Any]) -> Iterator[str]:
    """Serves ``app`` within; gives its address."""
    server = create_server(
        app, host="127.0.0.1", port=0, threads=THREADS, outbuf_overflow=KEPT_BYTES
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.effective_port}"
    finally:
        # Closed from here while its thread waits on its sockets, it raises there now and then.
        server.trigger.pull_trigger(lambda: close_all(server._map))
        thread.join(10)
