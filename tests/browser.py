"""Finding a browser for the tests: an installed one, else Playwright's, else the system's."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

VARIABLE = "ROUNDLING_BROWSER"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
FLAGS = [
    "--no-sandbox",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
]
"""Software rendering, so that 3D is drawn the same everywhere; no talk with the outside."""

INSTALL_SECONDS = 300


def installed() -> str | None:
    """A Chromium or Chrome on this machine."""
    given = os.environ.get(VARIABLE)
    if given and Path(given).exists():
        return given
    return next((found for name in NAMES if (found := shutil.which(name))), None)


def playwrights_own() -> str | None:
    """The browser that Playwright installs for itself, installing it if need be."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    if not Path(path).exists():
        tried = _quietly([sys.executable, "-m", "playwright", "install", "--with-deps", "chromium"])
        if not tried:
            return None
    return path if Path(path).exists() else None


def from_the_system() -> str | None:
    """Chromium by apt-get, as root on Debian and its kin."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
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


def _quietly(command: list[str]) -> bool:
    print("+", " ".join(command), flush=True)
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    try:
        done = subprocess.run(
            command, timeout=INSTALL_SECONDS, env=environment, stdout=subprocess.DEVNULL
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        print(error, flush=True)
        return False
    return done.returncode == 0
