"""``python -m webapp``: starts Roundling and opens it in the browser."""

from __future__ import annotations

import argparse
import contextlib
import gc
import threading
import webbrowser

from webapp.web import create_app
from webapp.web.server import LAST_PORT, free_port, serve

HOST = "127.0.0.1"


def main() -> None:
    parser = argparse.ArgumentParser(prog="roundling", description="Starts Roundling.")
    parser.add_argument("--port", type=int, default=8000, help="the port to listen on")
    parser.add_argument("--no-browser", action="store_true", help="do not open the browser")
    choice = parser.parse_args()
    if not 1 <= choice.port <= LAST_PORT:
        parser.error(f"a port is a number from 1 to {LAST_PORT}")
    try:
        port = free_port(HOST, choice.port)
    except OSError as error:
        parser.error(str(error))
    if port != choice.port:
        print(f"Port {choice.port} is taken; using {port}.")
    address = f"http://{HOST}:{port}/"
    app = create_app()
    # What is made by now stays: looking through all of it for garbage would hold up whoever waits.
    gc.collect()
    gc.freeze()
    print(f"Roundling is at {address} (stop with Ctrl+C)", flush=True)
    if not choice.no_browser:
        threading.Timer(0.7, webbrowser.open, (address,)).start()
    with contextlib.suppress(KeyboardInterrupt):
        serve(app, HOST, port)


if __name__ == "__main__":
    main()
