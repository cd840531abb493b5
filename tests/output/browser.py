"""A real browser for tests of pages: Debian's Chromium without a window, driven by playwright."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-dev-shm-usage",
)


@contextmanager
def browser() -> Iterator[Browser]:
    """A browser of its own; skips the test where there is none."""
    api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        pytest.skip("Chromium is not installed: apt-get install chromium")
    with api.sync_playwright() as started:
        found = started.chromium.launch(executable_path=program, args=list(ARGUMENTS))
        try:
            yield found
        finally:
            found.close()


class Watched:
    """A page opened from a file, with all that it asked for and complained of."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.page: Page = context.new_page()
        self.asked: list[str] = []
        self.complaints: list[str] = []
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("dialog", lambda dialog: self._refuse(dialog))
        self.page.goto(address)

    def _refuse(self, dialog: Any) -> None:
        self.complaints.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def now(self) -> str:
        """What the slide that is shown says of itself."""
        shown = self.page.locator(".slide:visible")
        assert shown.count() == 1
        return (shown.get_attribute("data-says") or "").split(". ")[0]

    def press(self, *keys: str) -> str:
        for key in keys:
            self.page.keyboard.press(key)
        return self.now()
