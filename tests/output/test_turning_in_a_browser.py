"""Models turned in the hand: mouse, keys, the printer, and browsers that cannot turn anything."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from foldscript.building.script import Script
from foldscript.drawing.style.styles import load_style
from foldscript.output.slides import slides_html
from foldscript.pages.sizes import page_size
from foldscript.preview.serving import assets
from tests.output.browser import Watched, browser

from ..preview.places import served

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator

GLIDER = """model "Glider"
sheet square 100 mm
step
  valley the left edge onto the right edge
step
  valley along line 3 cm from the right edge, 1 layer, moving A, as k
step
  turn over
step
  valley along line 3 cm from the left edge, 1 layer, moving B, as m
step
  raise along k and m
"""
#: Browsers say this of pictures that are taken of them.
STALL = "GPU stall due to ReadPixels"
#: The ink on a canvas, asked for in the moment in which it is drawn.
PRESSED = """(box, key) => {
  box.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
  return box.querySelector("canvas").toDataURL();
}"""


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as started:
        yield started


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("slides")
    path = folder / "glider.foldscript"
    path.write_text(GLIDER, encoding="utf-8")
    style = load_style("colour")
    page = folder / "slides.html"
    page.write_bytes(slides_html([Script(path).drawn(style, page_size("A4"))], style))
    return page.as_uri()


def last(watched: Watched) -> Locator:
    """The model on the last slide."""
    watched.page.keyboard.press("End")
    return watched.page.locator(".slide.now .turn")


def test_keys_turn_the_model_and_not_the_slides(chromium: Browser, address: str) -> None:
    watched = Watched(chromium.new_context(offline=True), address)
    box = last(watched)
    box.focus()
    assert watched.now() == "Finished"
    one, two = (box.evaluate(PRESSED, "ArrowRight") for _ in range(2))
    assert one != two
    assert watched.now() == "Finished"
    assert "turned" in (box.get_attribute("class") or "")
    box.press("Home")
    assert "turned" not in (box.get_attribute("class") or "")
    assert box.locator("svg").is_visible()
    back = [box.evaluate(PRESSED, key) for key in ("ArrowRight", "ArrowLeft", "ArrowRight")]
    assert back[0] == back[2] == one
    box.press("PageUp")
    assert watched.now() == "Step 5 of 5"
    assert [c for c in watched.complaints if STALL not in c] == []
    assert watched.asked == [address]


def test_the_mouse_turns_it_too(chromium: Browser, address: str) -> None:
    watched = Watched(chromium.new_context(offline=True), address)
    box = last(watched)
    room = box.bounding_box()
    assert room
    watched.page.mouse.move(room["x"] + room["width"] / 2, room["y"] + room["height"] / 2)
    assert "turned" not in (box.get_attribute("class") or "")
    watched.page.mouse.down()
    watched.page.mouse.move(room["x"] + room["width"] / 3, room["y"] + room["height"] / 3)
    watched.page.mouse.up()
    assert "turned" in (box.get_attribute("class") or "")
    assert not box.locator("svg").is_visible()


def test_print_shows_the_still_picture(chromium: Browser, address: str) -> None:
    watched = Watched(chromium.new_context(offline=True), address)
    box = last(watched)
    box.press("ArrowLeft")
    assert not box.locator("svg").is_visible()
    watched.page.emulate_media(media="print")
    assert box.locator("svg").is_visible()
    assert not box.locator("canvas").is_visible()


def test_where_nothing_can_be_turned_the_picture_stays(chromium: Browser, address: str) -> None:
    context = chromium.new_context(offline=True)
    context.add_init_script("HTMLCanvasElement.prototype.getContext = () => null;")
    watched = Watched(context, address)
    box = last(watched)
    assert "turnable" not in (box.get_attribute("class") or "")
    assert box.locator("svg").is_visible()
    assert not box.locator(".hint").is_visible()
    assert watched.complaints == []


def test_without_scripts_the_picture_stays(chromium: Browser, address: str) -> None:
    watched = Watched(chromium.new_context(offline=True, java_script_enabled=False), address)
    box = watched.page.locator(".turn")
    assert box.locator("svg").is_visible()
    assert not box.locator(".hint").is_visible()


def test_the_preview_shows_the_model_to_be_turned(chromium: Browser, tmp_path: Path) -> None:
    path = tmp_path / "shelf" / "glider.foldscript"
    path.parent.mkdir()
    path.write_text(GLIDER, encoding="utf-8")
    assert "/turning.js" in assets()
    with served(path.parent) as (_, server):
        watched = Watched(chromium.new_context(), server.place.url)
        box = watched.page.locator("#solid div")
        box.wait_for(timeout=10_000)
        assert box.evaluate(PRESSED, "ArrowRight") != box.evaluate(PRESSED, "ArrowUp")
        path.write_text(GLIDER.split("step\n  raise", maxsplit=1)[0], encoding="utf-8")
        watched.page.wait_for_selector("#solid", state="hidden", timeout=10_000)
        assert [c for c in watched.complaints if STALL not in c] == []
