"""Finding a browser for the tests: an installed one, else Playwright's, else the system's."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

VARIABLE = "ROUNDLING_BROWSER"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
FLAGS = [
    "--no-sandbox",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-gpu-compositing",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
]
"""Software rendering, so that 3D is drawn the same everywhere; no talk with the outside.

Only 3D goes the way of a graphics card: a page put together there in software takes four times as
long as one put together without."""

INSTALL_SECONDS = 300


def installed() -> str | None:
    """A Chromium or Chrome on this machine."""
    paths = [os.environ.get(VARIABLE), *map(shutil.which, NAMES)]
    return next((path for path in paths if path and _answers(path)), None)


def _answers(path: str) -> bool:
    """Whether it is a browser; some systems have a script there that only names a package."""
    try:
        return subprocess.run([path, "--version"], capture_output=True, timeout=30).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False


def playwrights_own() -> str | None:
    """The browser that Playwright installs for itself, installing it if need be."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    if not Path(path).exists():
        # Only root can add the libraries it needs; anybody else would be asked for a password.
        libraries = ["--with-deps"] if _is_root() else []
        _quietly([sys.executable, "-m", "playwright", "install", *libraries, "chromium"])
    return path if _answers(path) else None


def from_the_system() -> str | None:
    """Chromium by apt-get, as root on Debian and its kin."""
    if not shutil.which("apt-get") or not _is_root():
        return None
    if _quietly(["apt-get", "update"]):
        _quietly(["apt-get", "install", "-y", "--no-install-recommends", "chromium"])
    return installed()


def find() -> str:
    """The path of a browser; exits saying what was tried when there is none."""
    found = installed() or playwrights_own() or from_the_system()
    if found is None:
        raise SystemExit(
            "The browser tests need Chromium. None is installed, Playwright could not install "
            "its own, and apt-get (as root, on Debian) could not either. Install Chromium and run "
            f"again, or set {VARIABLE} to its path."
        )
    return found


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


def _quietly(command: list[str]) -> bool:
    print("+", " ".join(command), flush=True)
    try:
        running = subprocess.Popen(
            command,
            env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as error:
        print(error, flush=True)
        return False
    try:
        return running.wait(INSTALL_SECONDS) == 0
    except subprocess.TimeoutExpired as error:
        print(error, flush=True)
        return False
    finally:
        _end(running)


def _end(running: subprocess.Popen[bytes]) -> None:
    """Ends what still runs, with all that it started: an installer left behind holds apt's lock."""
    if running.poll() is None:
        if hasattr(os, "killpg"):
            os.killpg(running.pid, signal.SIGKILL)
        else:
            running.kill()
        running.wait()
