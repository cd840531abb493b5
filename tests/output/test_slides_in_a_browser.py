"""Slides driven as a teacher drives them: keys, fingers, buttons, the printer."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pikepdf
import pytest

from foldscript.drawing.style.styles import load_style
from foldscript.output.slides import slides_html
from foldscript.pages.booklet.texts import BookletTexts
from tests.output.browser import Watched, browser
from tests.output.test_slides import NASTY, show

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext

WIDE = {"width": 1280, "height": 720}
PHONE = {"width": 390, "height": 844}
SIZES = (
    WIDE,
    PHONE,
    {"width": 1024, "height": 768},
    {"width": 844, "height": 390},
    {"width": 320, "height": 568},
)


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as started:
        yield started


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Fourteen steps, so that two digits are needed."""
    one = show("one", "One")
    many = tuple(
        type(f)(str(n), n, f"Do {n}.", f.scene)
        for n, f in enumerate((one.figures * 5)[:14], start=1)
    )
    return _written(
        tmp_path_factory,
        slides_html([replace(one, figures=many)], load_style("colour")),
    )


def _written(folder: pytest.TempPathFactory, page: bytes) -> str:
    path = folder.mktemp("slides") / "slides.html"
    path.write_bytes(page)
    return path.as_uri()


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    found = chromium.new_context(viewport=WIDE, offline=True)  # type: ignore[arg-type]
    yield found
    found.close()


@pytest.fixture
def shown(context: BrowserContext, address: str) -> Watched:
    return Watched(context, address)


def test_keys_go_on_and_back(shown: Watched) -> None:
    assert shown.now() == "One"
    assert shown.press("ArrowRight") == "Step 1 of 3"
    assert shown.press(" ", "ArrowDown", "PageDown") == "Step 4 of 3"
    assert shown.press("ArrowLeft") == "Step 3 of 3"
    assert shown.press("Shift+ ", "PageUp") == "Step 1 of 3"
    assert shown.press("End") == "Finished"
    assert shown.press("ArrowRight") == "Finished"
    assert shown.press("Home") == "One"
    assert shown.press("ArrowUp") == "One"


def test_digits_go_to_a_step(shown: Watched) -> None:
    assert shown.press("3") == "Step 3 of 3"
    shown.page.wait_for_timeout(1300)
    assert shown.press("1", "2") == "Step 12 of 3"
    assert shown.press("7") == "Step 7 of 3"  # there is no step 127
    shown.page.wait_for_timeout(1300)
    assert shown.press("0") == "One"


def test_keys_with_control_stay_the_browsers(shown: Watched) -> None:
    assert shown.press("Control+ArrowRight", "Alt+1") == "One"


def test_buttons_have_names_and_stop_at_the_ends(shown: Watched) -> None:
    back = shown.page.get_by_role("button", name="Back")
    on = shown.page.get_by_role("button", name="Next")
    assert back.is_disabled()
    on.click()
    on.press(" ")  # the button itself, once
    assert shown.now() == "Step 2 of 3"
    back.click()
    assert shown.now() == "Step 1 of 3"
    shown.press("End")
    assert on.is_disabled()


def test_what_is_shown_is_said(shown: Watched) -> None:
    shown.press("ArrowRight", "ArrowRight")
    assert shown.page.get_by_role("status").text_content() == "Step 2 of 3. Do 2."
    assert shown.page.get_by_role("heading", name="Step 2 of 3").is_visible()
    assert shown.page.get_by_role("img", name="Step 2").is_visible()
    assert shown.page.locator(".place").text_content() == "3 / 16"
    assert shown.page.get_by_text("Next: 3").is_visible()


def test_a_finger_swipes(chromium: Browser, address: str) -> None:
    context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True)  # type: ignore[arg-type]
    shown = Watched(context, address)
    touch = context.new_cdp_session(shown.page)

    def send(kind: str, *points: tuple[float, float]) -> None:
        fingers = [{"x": x, "y": y} for x, y in points]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": fingers})

    def swipe(start: tuple[int, int], end: tuple[int, int]) -> str:
        """As slow as a hand: Chromium takes jumps for flings, and the next tap for their end."""
        send("touchStart", start)
        for part in (0.25, 0.5, 0.75, 1.0):
            shown.page.wait_for_timeout(16)
            x, y = (a + (b - a) * part for a, b in zip(start, end, strict=True))
            send("touchMove", (x, y))
        shown.page.wait_for_timeout(100)
        send("touchEnd")
        return shown.now()

    assert swipe((320, 400), (80, 420)) == "Step 1 of 3"
    assert swipe((320, 400), (80, 380)) == "Step 2 of 3"
    assert swipe((80, 400), (320, 400)) == "Step 1 of 3"
    assert swipe((200, 600), (190, 200)) == "Step 1 of 3"  # up and down scrolls
    assert swipe((200, 400), (180, 400)) == "Step 1 of 3"  # too short
    shown.page.get_by_role("button", name="Next").tap()
    shown.page.locator("#m1-2.now").wait_for()
    assert shown.page.url == f"{address}#m1-2"  # the browser did not take a swipe for itself
    shown.page.get_by_role("button", name="Overview").tap()
    assert swipe((320, 400), (80, 380)) == "Step 2 of 3"  # the overview is not turned over
    shown.page.locator(".thumb").nth(1).tap()
    shown.page.locator("#m1-1.now").wait_for()
    context.close()


def test_it_asks_for_nothing_and_keeps_nothing(shown: Watched, address: str) -> None:
    before = shown.page.evaluate("history.length")
    shown.press("ArrowRight", "5", "End")
    assert [url for url in shown.asked if not url.startswith("data:font/")] == [address]
    assert shown.complaints == []
    assert shown.page.evaluate("history.length") == before
    assert shown.page.evaluate("document.cookie") == ""
    assert shown.page.evaluate("localStorage.length + sessionStorage.length") == 0
    last = shown.now()
    shown.page.reload()
    assert shown.now() == last == "Finished"  # the address knows the place


def test_captions_come_in_the_font_of_print(shown: Watched) -> None:
    loaded = shown.page.evaluate(
        "() => document.fonts.ready.then(() => [...document.fonts].map(f => [f.family, f.weight, f.status]))"
    )
    assert sorted(loaded) == [["PT Sans", "bold", "loaded"], ["PT Sans", "normal", "loaded"]]


def test_the_overview_leads_to_every_slide(shown: Watched) -> None:
    shown.press("ArrowRight")
    shown.page.keyboard.press("o")
    thumbs = shown.page.locator(".overview:visible button")
    assert thumbs.count() == shown.page.locator(".slide").count()
    assert shown.page.locator(".thumb:focus").get_attribute("aria-label") == "Step 1 of 3. Do 1."
    drawn = thumbs.nth(5).locator("svg").bounding_box()
    assert drawn
    assert drawn["height"] > 50
    shown.page.keyboard.press("ArrowRight")
    shown.page.keyboard.press("Enter")
    assert (shown.page.locator(".overview:visible").count(), shown.now()) == (0, "Step 2 of 3")
    shown.page.get_by_role("button", name="Overview").click()
    shown.page.keyboard.press("Escape")
    assert (shown.page.locator(".overview:visible").count(), shown.now()) == (0, "Step 2 of 3")


def test_the_overview_fits_a_narrow_phone(shown: Watched) -> None:
    shown.page.set_viewport_size({"width": 320, "height": 568})
    shown.page.keyboard.press("o")
    board = shown.page.locator(".overview:visible")
    assert board.evaluate("e => e.scrollWidth - e.clientWidth") == 0
    boxes = [thumb.bounding_box() for thumb in board.locator("button").all()[:4]]
    assert all(box and box["x"] >= 0 and box["x"] + box["width"] <= 320 for box in boxes)
    assert all(box and min(box["width"], box["height"]) >= 44 for box in boxes)  # for fingers


def test_the_screen_goes_dark_until_it_goes_on(shown: Watched) -> None:
    shown.press("ArrowRight")
    dark = "() => getComputedStyle(document.body, '::after').position === 'fixed'"
    shown.page.keyboard.press("b")
    assert shown.page.evaluate(dark)
    assert shown.press("ArrowRight") == "Step 2 of 3"
    assert not shown.page.evaluate(dark)


def test_the_full_screen_is_a_key_away(shown: Watched) -> None:
    shown.page.keyboard.press("f")
    shown.page.wait_for_function("document.fullscreenElement !== null")


def test_notes_and_a_clock_in_a_window_of_their_own(
    context: BrowserContext, shown: Watched
) -> None:
    with context.expect_page() as opened:
        shown.page.keyboard.press("n")
    notes = opened.value
    notes.locator(".said", has_text="One").wait_for()
    notes.keyboard.press("ArrowRight")
    notes.locator(".said", has_text="Step 1 of 3. Do 1.").wait_for()
    notes.locator(".soon", has_text="Next: Step 2 of 3. Do 2.").wait_for()
    notes.locator(".clock", has_text="0:02").wait_for()
    notes.get_by_role("button").click()
    notes.locator(".clock", has_text="0:00").wait_for()
    assert shown.now() == "Step 1 of 3"


def test_the_policy_stops_what_does_not_belong(shown: Watched) -> None:
    """Chromium enforces the page's own policy: an inline script added later does not run."""
    shown.page.evaluate(
        "() => { const s = document.createElement('script');"
        " s.textContent = 'document.title = \"taken\"'; document.body.append(s); }"
    )
    assert shown.page.title() == "One"
    assert any("Content Security Policy" in c for c in shown.complaints)


def test_what_a_person_wrote_does_nothing(
    context: BrowserContext, tmp_path_factory: pytest.TempPathFactory
) -> None:
    page = slides_html([show(title=NASTY)], load_style("colour"))
    shown = Watched(context, _written(tmp_path_factory, page))
    shown.press("ArrowRight", "ArrowLeft")
    assert shown.complaints == []
    heading = shown.page.get_by_role("heading", level=1)
    assert heading.text_content() == NASTY.replace("\u0007", "")


@pytest.mark.parametrize("size", SIZES, ids=lambda s: f"{s['width']}x{s['height']}")
def test_a_slide_fits_its_screen(
    context: BrowserContext, address: str, size: dict[str, int]
) -> None:
    """Nothing runs over, and the figure takes most of the room."""
    shown = Watched(context, address)
    shown.page.set_viewport_size(size)  # type: ignore[arg-type]
    shown.press("ArrowRight")
    over = shown.page.evaluate(
        "() => [document.documentElement, document.querySelector('.slide.now')].map("
        "e => [e.scrollWidth - e.clientWidth, e.scrollHeight - e.clientHeight])"
    )
    assert over == [[0, 0], [0, 0]]
    figure = shown.page.locator(".slide.now .stage > svg").bounding_box()
    assert figure
    assert min(figure["width"], figure["height"]) > 0.45 * min(size.values())


def test_motion_is_reduced_where_it_is_asked_for(chromium: Browser, address: str) -> None:
    for wish, name in (("reduce", "none"), ("no-preference", "appear")):
        context = chromium.new_context(reduced_motion=wish)  # type: ignore[arg-type]
        page = Watched(context, address).page
        assert (
            page.evaluate("getComputedStyle(document.querySelector('.slide.now')).animationName")
            == name
        )
        context.close()


def test_without_its_script_all_steps_are_there(chromium: Browser, address: str) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = Watched(context, address).page
    assert page.locator(".slide:visible").count() == 16
    assert not page.locator(".bar").is_visible()
    context.close()


def test_printed_it_is_a_step_a_page(shown: Watched) -> None:
    shown.press("5")
    with pikepdf.open(io.BytesIO(shown.page.pdf(prefer_css_page_size=True))) as printed:
        assert len(printed.pages) == 16
        _, _, wide, high = (float(x) for x in printed.pages[0].mediabox)
    assert (wide, high) == pytest.approx((841.89, 595.28), abs=1)  # A4, ISO 216, landscape


def test_a_list_of_models_leads_to_them(
    context: BrowserContext, tmp_path_factory: pytest.TempPathFactory
) -> None:
    page = slides_html(
        [show("one", "One"), show("two", "Two")],
        load_style("dark"),
        setting=BookletTexts("Evening", credits="Thanks."),
    )
    shown = Watched(context, _written(tmp_path_factory, page))
    before = shown.page.evaluate("history.length")
    assert shown.now() == "Evening"
    for _ in range(2):  # a link that was followed before, too
        shown.page.get_by_role("link", name="Two").click()
        assert shown.now() == "Two"
        assert shown.press("2") == "Step 2 of 3"  # a step of this model
        assert "m2-" in (shown.page.locator(".slide.now").get_attribute("id") or "")
        shown.page.get_by_role("link", name="Contents").click()
        assert shown.now() == "Evening"
    assert shown.page.evaluate("history.length") == before
    assert shown.press("2") == "Two"  # from the contents, a digit is a model's
    assert shown.press("End") == "Credits and licences"
    shown.page.wait_for_timeout(1300)
    assert shown.press("Home", "1") == "One"
    shown.page.get_by_role("link", name="Contents").press("Enter")
    assert shown.now() == "Evening"
    assert shown.complaints == []


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A booklet of thirty models."""
    shows = [show(f"m{k}", f"Model number {k}") for k in range(1, 31)]
    setting = BookletTexts(
        "Evening", "Thirty models", "The library", credits="Thanks.", licence="Free."
    )
    return _written(tmp_path_factory, slides_html(shows, load_style("colour"), setting=setting))


def test_all_models_can_be_reached_on_every_screen(chromium: Browser, club: str) -> None:
    """The list scrolls where it is long, never sideways; every link is large enough for a finger
    (WCAG 2.2, success criterion 2.5.8: 24 by 24 pixels)."""
    for size in SIZES:
        context = chromium.new_context(viewport=size, offline=True)  # type: ignore[arg-type]
        shown = Watched(context, club)
        slide = shown.page.locator(".slide.now")
        assert slide.evaluate("e => e.scrollWidth - e.clientWidth") == 0
        boxes = [link.bounding_box() for link in slide.get_by_role("link").all()]
        assert len(boxes) == 30
        assert all(b and min(b["width"], b["height"]) >= 24 for b in boxes)
        shown.page.get_by_role("link", name="Model number 30").click()
        assert shown.now() == "Model number 30"
        context.close()


def test_a_booklet_is_printed_whole(context: BrowserContext, club: str) -> None:
    """The contents on as many pages as they take, every link in them; then a step a page."""
    shown = Watched(context, club)
    slides = shown.page.locator(".slide").count()
    assert slides == 1 + 30 * 5 + 1
    with pikepdf.open(io.BytesIO(shown.page.pdf(prefer_css_page_size=True))) as printed:
        contents = len(printed.pages) - (slides - 1)
        assert contents in (1, 2)
        links = sum(len(page.get("/Annots", [])) for page in list(printed.pages)[:contents])
    assert links == 30


def test_without_its_script_the_links_work(chromium: Browser, club: str) -> None:
    context = chromium.new_context(java_script_enabled=False, offline=True)
    page = Watched(context, club).page
    page.get_by_role("link", name="Model number 7").click()
    assert page.url.endswith("#m7")
    context.close()


def test_the_words_are_a_page_that_a_browser_reads_aloud(
    context: BrowserContext, tmp_path: Path
) -> None:
    """Headings by level, lists as lists: what a screen reader jumps by."""
    from foldscript.narration.narrate import narrate
    from foldscript.output.words import words_html

    path = tmp_path / "words.html"
    path.write_bytes(words_html(narrate(show().model)))
    shown = Watched(context, path.as_uri())
    assert shown.complaints == []
    assert shown.page.get_by_role("heading", level=2).count() == 8
    assert shown.page.get_by_role("region", name="Step 2 of 3").is_visible()
    assert shown.page.get_by_role("listitem").count() > 5
