"""Makes the README's picture: ``python -m tests.make_picture`` photographs the app."""

from __future__ import annotations

import threading
from pathlib import Path

from playwright.sync_api import sync_playwright
from waitress.server import create_server

from tests.browser import FLAGS, find
from webapp.web import create_app

PICTURE = Path(__file__).resolve().parent.parent / "static" / "pictures" / "designer.png"


def main() -> None:
    server = create_server(create_app(), host="127.0.0.1", port=0)
    threading.Thread(target=server.run, daemon=True).start()
    PICTURE.parent.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        page.goto(f"http://127.0.0.1:{server.effective_port}/toys/otter")
        page.locator("#figure canvas").first.wait_for()
        page.locator("#still").wait_for(state="hidden")
        page.wait_for_timeout(1500)
        page.screenshot(path=PICTURE)
        browser.close()
    server.close()
    print(PICTURE.name)


if __name__ == "__main__":
    main()
