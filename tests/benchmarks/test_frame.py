"""From the hand on the slider to the painted frame, in a browser."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from statistics import median
from typing import Any

from playwright.sync_api import Browser, Page

from tests.serving import serving
from webapp.web import create_app

MOVES = """
async () => {
  const range = document.querySelector('[data-for=head_to_body]');
  const took = [];
  for (let k = 0; k < 14; k++) {
    const drawn = new Promise(done =>
      window.addEventListener('roundling:drawn', done, {once: true}));
    range.value = 0.7 + 0.05 * (k % 12);
    const start = performance.now();
    range.dispatchEvent(new Event('input', {bubbles: true}));
    await drawn;
    await new Promise(frame => requestAnimationFrame(() => requestAnimationFrame(frame)));
    took.push(performance.now() - start);
  }
  return took;
}
"""


def empty_handed(app: Callable[..., Any]) -> Callable[..., Any]:
    """The same app, but a preview is worked out once and then only handed over."""
    kept: list[tuple[str, list[tuple[str, str]], bytes]] = []

    def serve(environ: dict[str, Any], start: Callable[..., Any]) -> Iterator[bytes]:
        if not environ["PATH_INFO"].endswith("/preview.json"):
            return app(environ, start)  # type: ignore[no-any-return]
        if not kept:
            found: list[Any] = []
            body = b"".join(app(environ, lambda *answer: found.extend(answer[:2])))
            kept.append((found[0], found[1], body))
        status, headers, body = kept[0]
        start(status, headers)
        return iter([body])

    return serve


@contextmanager
def opened(browser: Browser, app: Callable[..., Any]) -> Iterator[Page]:
    """The otter's page with its 3D view drawn."""
    with serving(app) as address:
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        page.goto(f"{address}/toys/otter")
        page.locator("#still").wait_for(state="hidden", timeout=20_000)
        yield page
        page.close()


def frame_ms(page: Page) -> float:
    """The median time from input event to painted frame, ms."""
    page.bring_to_front()
    took = page.evaluate(MOVES)
    return median(took[4:])


def test_from_slider_to_frame_beside_an_empty_server(browser: Browser) -> None:
    """Almost all of it is the drawing, in software: working out the toy adds less than half.

    Taken in turns, the better of two each: the drawing itself varies by a third on a busy machine.
    """
    apps = (create_app(), empty_handed(create_app()))
    with ExitStack() as stack:
        pages = [stack.enter_context(opened(browser, app)) for app in apps]
        rounds = [[frame_ms(page) for page in pages] for _ in range(2)]
    ours, empty = (min(two) for two in zip(*rounds, strict=True))
    print(f"\nslider to frame {ours:.0f} ms; beside an empty server {empty:.0f} ms")
    assert ours < 1.5 * empty
