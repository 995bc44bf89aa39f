"""A running server and a designer at a browser, for the tests that need them."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page, Response, expect, sync_playwright

from tests.browser import FLAGS, VARIABLE, installed
from tests.serving import serving
from tests.undrawn import undrawn
from webapp.web import create_app

RESULTS = Path(__file__).resolve().parent.parent / "test-results"
"""Pictures of the pages at which a test failed."""
TRACE = "ROUNDLING_TRACE"
"""Set to anything, there is a trace beside each picture; taking it costs a second a test."""
expect.set_options(timeout=15_000)
"""A page may be slow beside other tests; how quick it is is measured elsewhere."""
KNOWN = re.compile(r"willReadFrequently|GPU stall|swiftshader", re.IGNORECASE)
"""Warnings that the browser itself gives to software rendering."""


@pytest.fixture(scope="session")
def app() -> Flask:
    return create_app()


@pytest.fixture(scope="session")
def address(app: Flask) -> Iterator[str]:
    """Roundling, served on a free port."""
    with serving(app) as found:
        yield found


@pytest.fixture(scope="session")
def undrawn_address(app: Flask) -> Iterator[str]:
    """The same on a port of its own, its 3D view left undrawn."""
    with serving(undrawn(app)) as found:
        yield found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = installed()
    assert path, f"no browser: run python -m tests, or set {VARIABLE}"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield running
        running.close()


class Designer:
    """Somebody at the page, in their own verbs."""

    def __init__(self, page: Page, address: str) -> None:
        self.page, self.address = page, address
        self.troubles: list[str] = []
        self.allowed: set[int] = set()
        page.on("console", self._console)
        page.on("pageerror", lambda error: self.troubles.append(f"script: {error}"))
        page.on("response", self._response)

    def _console(self, message: object) -> None:
        text, kind = message.text, message.type  # type: ignore[attr-defined]
        asked_for = any(str(status) in text for status in self.allowed)
        if kind in ("error", "warning") and not KNOWN.search(text) and not asked_for:
            self.troubles.append(f"console: {text}")

    def _response(self, response: Response) -> None:
        if response.status >= 400 and response.status not in self.allowed:
            self.troubles.append(f"{response.status}: {response.url}")

    @contextmanager
    def expecting(self, *statuses: int) -> Iterator[None]:
        """Within, answers of these statuses are asked for."""
        self.allowed |= set(statuses)
        yield
        self.page.wait_for_timeout(50)
        self.allowed -= set(statuses)

    def opens(self, path: str) -> None:
        self.page.goto(self.address + path)

    def sees_the_toy(self) -> None:
        """The 3D view is drawn; for somebody who sat down with ``draws``."""
        expect(self.page.locator("#figure canvas").first).to_be_visible(timeout=20_000)
        self.has_the_toy()

    def has_the_toy(self) -> None:
        """The view has got its figure, drawn or not, and the still picture has gone."""
        expect(self.page.locator("#figure")).to_be_visible(timeout=20_000)
        expect(self.page.locator("#still")).to_be_hidden(timeout=20_000)

    def box(self, label: str):  # type: ignore[no-untyped-def]
        return self.page.get_by_role("textbox", name=label, exact=True)

    def slider(self, label: str):  # type: ignore[no-untyped-def]
        return self.page.get_by_role("slider", name=f"{label} slider")

    def types(self, label: str, value: str) -> None:
        box = self.box(label)
        box.fill(value)
        box.press("Tab")

    def comes_to(self, look: Callable[[Designer], object], wanted: object) -> None:
        """Looks again and again until it sees what is wanted, for ten seconds."""
        seen: object = None
        for _ in range(100):
            seen = look(self)
            if seen == wanted:
                return
            self.page.wait_for_timeout(100)
        raise AssertionError(f"saw {seen!r}, not {wanted!r}")

    def figure(self, label: str) -> str:
        """A key figure as shown."""
        shown = self.page.locator("dl.key div").filter(has=self.page.get_by_text(label, exact=True))
        return shown.locator("dd").inner_text().split("\n")[0]


@pytest.fixture
def designer(
    browser: Browser, address: str, undrawn_address: str, request: pytest.FixtureRequest
) -> Iterator[Callable[..., Designer]]:
    """Makes a designer at a page of the size, colour scheme and abilities asked for.

    The 3D view is drawn only for those who ask for it with ``draws``.
    """
    open_ones: list[tuple[Designer, object]] = []

    def sit_down(
        width: int = 1280,
        height: int = 800,
        scheme: str = "light",
        script: bool = True,
        draws: bool = False,
    ) -> Designer:
        context = browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme=scheme,  # type: ignore[arg-type]
            java_script_enabled=script,
            accept_downloads=True,
        )
        context.set_default_timeout(15_000)
        if os.environ.get(TRACE):
            context.tracing.start(screenshots=True, snapshots=True)
        someone = Designer(context.new_page(), address if draws else undrawn_address)
        open_ones.append((someone, context))
        return someone

    yield sit_down
    failed = getattr(request.node, "failed", False)
    troubles: list[str] = []
    for number, (someone, context) in enumerate(open_ones):
        troubles += someone.troubles
        if failed or someone.troubles:
            RESULTS.mkdir(exist_ok=True)
            name = re.sub(r"\W+", "_", request.node.name) + f"_{number}"
            someone.page.screenshot(path=RESULTS / f"{name}.png")
            if os.environ.get(TRACE):
                context.tracing.stop(path=RESULTS / f"{name}.zip")  # type: ignore[attr-defined]
        context.close()  # type: ignore[attr-defined]
    assert not troubles, troubles


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]):  # type: ignore[no-untyped-def]
    report = yield
    if report.when == "call" and report.failed:
        item.failed = True  # type: ignore[attr-defined]
    return report
