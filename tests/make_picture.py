"""Makes the README's picture: ``python -m tests.make_picture`` photographs the app."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser import FLAGS, find
from tests.serving import serving
from webapp.web import create_app

PICTURE = Path(__file__).resolve().parent.parent / "static" / "pictures" / "designer.png"


def main() -> None:
    PICTURE.parent.mkdir(exist_ok=True)
    with serving(create_app()) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        page.goto(f"{address}/toys/otter")
        page.locator("#figure canvas").first.wait_for()
        page.locator("#still").wait_for(state="hidden")
        page.wait_for_timeout(1500)
        page.screenshot(path=PICTURE)
        browser.close()
    print(PICTURE.name)


if __name__ == "__main__":
    main()
