"""The preview's page in a real browser: pages, changes, mistakes, and nothing from elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from ..output.browser import Watched, browser
from .places import CARD, served

if TYPE_CHECKING:
    from playwright.sync_api import FloatRect, Page

SLOW = 10_000  # milliseconds


@pytest.fixture
def card(tmp_path: Path) -> Path:
    path = tmp_path / "shelf" / "card.foldscript"
    path.parent.mkdir()
    path.write_text(CARD, "utf-8")
    return path


@pytest.fixture
def seen(card: Path) -> Iterator[Watched]:
    """The page of a folder with one script, open in a browser."""
    with browser() as started, served(card.parent) as (_, server):
        watched = Watched(started.new_context(), server.place.url)
        watched.page.wait_for_selector("figure.page svg", timeout=SLOW)
        yield watched
        assert watched.complaints == []
        assert all(url.startswith(server.place.url) for url in watched.asked)


def _boxes(page: Page, *selectors: str) -> list[FloatRect]:
    """Where elements are, as soon as all are there: a page that is drawn anew is gone for a moment."""
    found: list[FloatRect] = []
    for _ in range(SLOW // 100):
        boxes = [page.locator(selector).bounding_box() for selector in selectors]
        found = [box for box in boxes if box is not None]
        if len(found) == len(selectors):
            break
        page.wait_for_timeout(100)
    assert len(found) == len(selectors)
    return found


def test_writing_a_script(seen: Watched, card: Path) -> None:
    page = seen.page
    assert page.title() == "Card"
    assert "Fold in half again." in page.inner_text("figure.page")

    card.write_text(CARD.replace("again", "<b>once</b> more"), "utf-8")
    page.wait_for_selector("#close svg", timeout=SLOW)
    page.wait_for_selector("figure.page >> text=once", timeout=SLOW)
    assert page.inner_text("#close figcaption") == "Step 3"
    assert "<b>once</b> more" in page.inner_text("#close p")

    card.write_text(CARD.replace("turn over", "turn ovr"), "utf-8")
    page.wait_for_selector(".trouble.error", timeout=SLOW)
    assert page.inner_text(".trouble h2") == "Line 8"
    assert "'turn ovr' is no move" in page.inner_text(".trouble pre")
    page.wait_for_selector("figure.page >> text=is refused", timeout=SLOW)
    assert "Fold the bottom edge to the top edge." in page.inner_text("figure.page")
    assert page.locator("#pages.old").count() == 0
    trouble, figure = _boxes(page, "#troubles", "figure.page")
    assert trouble["x"] + trouble["width"] <= figure["x"]
    assert page.title() == "! Card"

    card.write_text(CARD, "utf-8")
    page.wait_for_selector(".trouble", state="hidden", timeout=SLOW)
    assert page.locator("#pages.old").count() == 0


def test_several_models(seen: Watched, card: Path) -> None:
    page = seen.page
    assert page.locator("#models").is_hidden()
    card.with_name("hat.foldscript").write_text(CARD.replace("Card", "Hat"), "utf-8")
    page.wait_for_selector("#models button >> text='Hat'", timeout=SLOW)
    page.locator("#models button", has_text="Hat").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("h1 >> text='Hat'", timeout=SLOW)
    page.wait_for_selector("#models [aria-current] >> text='Hat'", timeout=SLOW)
    card.write_text(CARD.replace("again", "once more"), "utf-8")
    page.wait_for_selector("h1 >> text='Card'", timeout=SLOW)
    card.unlink()
    page.wait_for_selector("h1 >> text='Hat'", timeout=SLOW)


def test_the_page_says_what_is_in_view(card: Path) -> None:
    card.write_text(
        CARD + "".join(f'step "Step {k}."\n  turn over\n  show\n' for k in range(40)), "utf-8"
    )
    with browser() as started, served(card) as (made, server):
        context = started.new_context(viewport={"width": 700, "height": 700})
        watched = Watched(context, server.place.url)
        page = watched.page
        page.wait_for_selector("figure.page svg", timeout=SLOW)

        def in_view() -> list[int]:
            page.wait_for_timeout(500)
            return [view.page for view in made.board.in_view(str(card))]

        assert in_view()[0] == 0
        page.locator("figure.page").nth(3).evaluate("e => e.scrollIntoView()")
        assert in_view()[0] == 3
        (view, *_) = made.board.in_view(str(card))
        assert 0 <= view.top < 20 < view.bottom <= 100
        assert watched.complaints == []
