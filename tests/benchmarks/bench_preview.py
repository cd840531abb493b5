"""How soon after saving a browser has the changed step, that step on its page, and all pages.

Asserts no time.

The model has thirty steps. The clock runs from before the file is written until the last picture has
been fetched; `test_in_a_browser` prints the same for a real browser, until it has shown it.
"""

from __future__ import annotations

import gc
import http.client
import json
import queue
import re
import signal
import statistics
import subprocess
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foldscript.drawing.style.styles import load_style
from foldscript.pages.sizes import page_size
from foldscript.preview.looking import InView
from foldscript.preview.shown import Shown
from foldscript.preview.workbench import Workbench

from ..command import COMMAND
from ..output.browser import browser
from .long import thirty_steps

#: What is edited: a pattern in the script, and two texts that take turns in its place.
EDITS = {
    "a caption": (r'"Grid, 15\."', '"Grid, fifteen."', '"Grid, once more."', 15),
    "the last step": (r"  turn over\n\Z", "  hold L\n  turn over\n", "  hold R\n  turn over\n", 30),
    "step 15": (
        r"8/9 of A B and 8/9 of D C",
        "15/18 of A B and 15/18 of D C",
        "17/18 of A B and 17/18 of D C",
        15,
    ),
    "the first step": (
        r"1/9 of A B and 1/9 of D C",
        "1/18 of A B and 1/18 of D C",
        "1/12 of A B and 1/12 of D C",
        1,
    ),
}


@dataclass
class Watcher:
    """A preview at work, and what it tells."""

    script: Path
    port: int
    told: queue.Queue[dict[str, Any]] = field(default_factory=queue.Queue)
    known: set[str] = field(default_factory=set)

    def listen(self) -> None:
        link = http.client.HTTPConnection("127.0.0.1", self.port)
        link.request("GET", "/news")
        answer = link.getresponse()
        while line := answer.fp.readline():
            if line.startswith(b"data: "):
                self.told.put(json.loads(line.removeprefix(b"data: ")))

    def fetch(self, pictures: list[dict[str, Any]]) -> None:
        """Asks for the pictures that are new, as the page does."""
        link = http.client.HTTPConnection("127.0.0.1", self.port)
        for name in [p["name"] for p in pictures if p["name"] not in self.known]:
            link.request("GET", f"/picture/{name}")
            assert link.getresponse().read().startswith(b"<?xml")
            self.known.add(name)
        link.close()

    def settled(self) -> dict[str, Any]:
        """The last that is told before it is quiet."""
        told = self.told.get(timeout=20)
        while True:
            try:
                told = self.told.get(timeout=1.0)
            except queue.Empty:
                self.fetch(told["pages"] + told["close"])
                return told


@pytest.fixture(scope="module")
def preview(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watcher]:
    script = tmp_path_factory.mktemp("preview") / "long.foldscript"
    script.write_text(thirty_steps(), "utf-8")
    with subprocess.Popen(
        [COMMAND, "preview", script, "--port", "0"], stdout=subprocess.PIPE, text=True
    ) as made:
        assert made.stdout is not None
        found = re.search(r":(\d+)/", made.stdout.readline())
        assert found
        watcher = Watcher(script, int(found[1]))
        threading.Thread(target=watcher.listen, daemon=True).start()
        threading.Thread(target=made.stdout.read, daemon=True).start()
        watcher.settled()
        yield watcher
        made.send_signal(signal.SIGINT)


@pytest.mark.parametrize("until", ["the step", "its page", "all pages"])
@pytest.mark.parametrize("edit", EDITS)
def test_saved(benchmark: BenchmarkFixture, preview: Watcher, edit: str, until: str) -> None:
    """From saving until it has been fetched."""
    pattern, *texts, step = EDITS[edit]
    original = thirty_steps()
    versions = [re.sub(pattern, lambda _, new=new: new, original, count=1) for new in texts]
    assert len({original, *versions}) == 3
    preview.script.write_text(f"# {edit}, {until}\n{original}", "utf-8")
    preview.settled()
    ends = []
    for text in versions:
        preview.script.write_text(text, "utf-8")
        ends.append(preview.settled())
    page = min(len(ends[0]["pages"]) - 1, (step - 1) // 9)
    turn = 1

    def setup() -> None:
        nonlocal turn
        turn = 1 - turn
        time.sleep(0.8)
        while not preview.told.empty():
            preview.told.get()
        preview.known = {p["name"] for p in ends[1 - turn]["pages"] + ends[1 - turn]["close"]}

    def save() -> None:
        end = ends[turn]
        preview.script.write_text(versions[turn], "utf-8")
        while True:
            told = preview.told.get(timeout=20)
            if until == "the step" and told["close"] == end["close"]:
                return preview.fetch(told["close"])
            if until == "its page" and told["pages"][page] != ends[1 - turn]["pages"][page]:
                return preview.fetch([told["pages"][page]])
            if until == "all pages" and told["pages"] == end["pages"]:
                return preview.fetch(told["pages"])

    benchmark.pedantic(save, setup=setup, rounds=9)


def test_in_view(tmp_path: Path) -> None:
    """Prints processor milliseconds from reading the script until what is in view is right, and all is.

    In view is the upper part of a page, as in a window of 1280 by 720, or the whole of it.
    """
    script = tmp_path / "long.foldscript"
    script.write_text(thirty_steps(), "utf-8")
    views: list[InView] = []
    bench = Workbench(script, load_style(), page_size("A4"), "", lambda: views)
    told: list[tuple[float, Shown]] = []

    def tell(shown: Shown) -> None:
        told.append((time.process_time(), shown))

    bench.make(tell)
    pages = len(bench.shown.pages)
    gc.disable()  # as the preview does while it makes something
    for edit, (pattern, *texts, _) in EDITS.items():
        for page, bottom in [(page, bottom) for page in range(pages) for bottom in (65, 100)]:
            views[:] = [InView(page, 0, bottom)]
            rows = []
            for k in range(8):
                text = re.sub(pattern, lambda _, new=texts[k % 2]: new, thirty_steps(), count=1)
                script.write_text(text, "utf-8")
                told.clear()
                began = time.process_time()
                bench.make(tell)
                last = _drawn(told[-1][1], page, bottom)
                seen = next(at for at, shown in told if _drawn(shown, page, bottom) == last)
                rows.append((seen - began, told[-1][0] - began))
            seen, whole = (
                1000 * statistics.median(column) for column in zip(*rows[1:], strict=True)
            )
            print(
                f"{edit}, page {page + 1} to {bottom} %: in view {seen:.0f} ms, all {whole:.0f} ms"
            )
    gc.enable()


def _drawn(shown: Shown, page: int, bottom: int) -> list[bytes]:
    """What is drawn in the figures down to a height, wherever the rows lie exactly."""
    svg = shown.pages[page].svg
    parts = re.split(rb'(?=<g class="figure" transform="translate\([0-9.]+ )', svg)
    high = shown.pages[page].height * bottom / 100
    seen: list[bytes] = []
    for part in parts[1:]:
        found = re.match(rb'<g class="figure" transform="translate\([0-9.]+ ([0-9.]+)', part)
        if found and float(found[1]) + 55 <= high:  # about half of a figure's height
            seen.append(re.sub(rb' y="[^"]*"| transform="[^"]*"', b"", part.partition(b"<text")[0]))
    return seen


def test_in_a_browser(preview: Watcher) -> None:
    """Prints milliseconds from saving until a real browser shows the step, and all pages."""
    watch = """() => {
        window.shots = [];
        new MutationObserver(() => window.shots.push(Date.now()))
            .observe(document.body, {attributes: true});
    }"""
    with browser() as started:
        page = started.new_page()
        page.goto(f"http://127.0.0.1:{preview.port}/")
        page.wait_for_selector("figure.page svg", timeout=20_000)
        page.evaluate(watch)
        for edit, (pattern, *texts, _) in EDITS.items():
            first, last = [], []
            for k in range(9):
                text = re.sub(pattern, lambda _, new=texts[k % 2]: new, thirty_steps(), count=1)
                page.evaluate("() => { window.shots.length = 0; }")
                began = 1000 * time.time()
                preview.script.write_text(text, "utf-8")
                time.sleep(1.5)
                shots = page.evaluate("() => window.shots")
                if k and shots:
                    first.append(shots[0] - began)
                    last.append(shots[-1] - began)
            print(
                f"{edit}: the step after {statistics.median(first):.0f} ms, "
                f"all pages after {statistics.median(last):.0f} ms"
            )
