"""Samples on every size of paper, upright and on its side: nothing leaves the margins.

Figures are drawn once; for other frames boxes stand in for them, for it is the layout that is tested.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from foldscript.drawing.draw import DrawnFigure, draw, finished_figure, portrait
from foldscript.drawing.scene.outlines import polyline
from foldscript.drawing.scene.scene import Path as Line
from foldscript.drawing.scene.scene import Scene, Text
from foldscript.drawing.style.styles import Style, load_style
from foldscript.folding.steps import Model
from foldscript.output.fonts import measure
from foldscript.pages.document import Page
from foldscript.pages.grid import grid
from foldscript.pages.layout import drawn_cells, figure_size
from foldscript.pages.layout import handout as handouts
from foldscript.pages.sizes import page_size
from foldscript.pages.trimming import ink

from ..sample_scripts import sample

SIZES = ("A4", "A5", "Letter", "A4 landscape", "A5 landscape", "Letter landscape")
#: Long keys, long notes, long captions, one figure more than a row holds.
NAMES = ("cat", "cup", "dart", "frog", "lantern", "masu", "swan", "bases/kite-base")
FRAME = (120.0, 120.0)

width = cache(measure)


def folded(name: str) -> Model:
    return sample(name).model


@cache
def drawn(name: str) -> tuple[tuple[DrawnFigure, ...], Scene, Scene]:
    model, style = folded(name), load_style("colour")
    alone = finished_figure(model, style, FRAME), portrait(model, style, FRAME)
    return draw(model, style, FRAME), *alone


def stand_in(scene: Scene, frame: tuple[float, float]) -> Scene:
    """A box where the ink of a scene would be in another frame."""
    part = min(frame[0] / scene.width, frame[1] / scene.height)
    left, top = (frame[0] - part * scene.width) / 2, (frame[1] - part * scene.height) / 2
    x0, y0, x1, y1 = (part * v for v in ink(scene))
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    box = Line("edge", polyline([(x + left, y + top) for x, y in corners], closed=True))
    return replace(scene, width=frame[0], height=frame[1], items=(box,))


@pytest.fixture(params=NAMES)
def name(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """A sample whose figures are stood in for."""
    figures, finished, alone = drawn(request.param)

    def redrawn(
        model: Model,
        style: Style,
        frame: tuple[float, float],
        kept: object = None,
        gutter: float | None = None,
        alone: bool = False,
        only: object = None,
    ) -> list[DrawnFigure]:
        return [replace(figure, scene=stand_in(figure.scene, frame)) for figure in figures]

    for module in (figure_size, drawn_cells):
        monkeypatch.setattr(module, "draw", redrawn)
    monkeypatch.setattr(
        drawn_cells,
        "finished_figure",
        lambda model, style, frame, kept=None, gutter=None: stand_in(finished, frame),
    )
    monkeypatch.setattr(
        handouts, "portrait", lambda model, style, frame, kept=None: stand_in(alone, frame)
    )
    return request.param


def pages_of(name: str, style_name: str, size: str) -> tuple[Page, ...]:
    model, style, page = folded(name), load_style(style_name), page_size(size)
    return handouts.handout(model, style, page, width).pages


def outside(page: Page) -> Iterator[object]:
    """What lies beyond the margins of a page, or on its foot."""
    g = grid(page.size, page.scale)
    for item in page.items:
        x, y = item.at
        match item.content:
            case Scene() as s:
                box = (x, y, x + s.width * item.scale, y + s.height * item.scale)
            case Text() as t:
                if abs(y - g.foot) < 1e-6:
                    continue
                wide = width(t.text, t.size, t.bold)
                left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[t.anchor]
                box = (left, y - 0.72 * t.size, left + wide, y + 0.23 * t.size)
            case _:
                continue
        if (
            box[0] < g.left - 0.01
            or box[1] < g.top - 0.01
            or box[2] > g.right + 0.01
            or box[3] > g.bottom + 0.01
        ):
            yield item


@pytest.mark.parametrize("style", ["colour", "large"])
def test_nothing_leaves_the_margins(name: str, style: str) -> None:
    for size in SIZES:
        for number, page in enumerate(pages_of(name, style, size), start=1):
            assert not list(outside(page)), (size, number)


def test_notes_are_read_before_the_first_fold(name: str) -> None:
    model = folded(name)
    for style, size in (("colour", "A5"), ("large", "A4"), ("large", "A5")):
        texts = [
            item.content
            for page in pages_of(name, style, size)
            for item in page.items
            if isinstance(item.content, Text)
        ]
        first = next(i for i, text in enumerate(texts) if text.role == "text.number")
        before = " ".join(text.text for text in texts[:first])
        assert all(note in before for note in model.notes), (style, size)
