"""A page as SVG: its figures, text and rules at their places.

In: a page and a style. Out: the same bytes for the same page, in points, on the style's ground.
Items become elements as in svg.py, so a step looks alike on its own and on a page; each figure is a
group. For a PDF that is tagged, what is read as one part is a group, too.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

import svgwrite
from svgwrite.base import BaseElement
from svgwrite.container import Group
from svgwrite.shapes import Rect

from ..drawing.scene.outlines import shifted
from ..drawing.scene.scene import Scene
from ..drawing.style.styles import Style
from ..pages.document import Page, Placed
from .reading import Run
from .svg import DescriptiveElement, ground, item_elements, number, serialised


def page_svg(
    page: Page,
    style: Style,
    title: str = "",
    language: str = "en",
    runs: Sequence[Run] | None = None,
) -> bytes:
    """One page: UTF-8 with an XML declaration, as wide and high as its paper.

    With a title it is a document of its own: it says what it is and in which language, and every
    figure what it shows, for those who cannot see it. `runs` are those of the page, in which its items then
    come, each in a group that bears its mark.
    """
    wide, high = number(page.size.width), number(page.size.height)
    drawing = svgwrite.Drawing(size=(f"{wide}pt", f"{high}pt"), debug=False)
    inner = number(page.size.width / page.scale), number(page.size.height / page.scale)
    drawing["viewBox"] = f"0 0 {inner[0]} {inner[1]}"
    if title:
        drawing["role"] = "graphics-document document"
        drawing["lang"] = drawing["xml:lang"] = language
        drawing.add(DescriptiveElement("title", title))
    paper = Rect(size=inner, fill=ground(style), debug=False)
    if runs is None:
        drawing.add(paper)
        for element in _elements(page.items, style, bool(title)):
            drawing.add(element)
    for number_, run in enumerate(runs or ()):
        group = Group(debug=False, id=run.mark)
        if number_ == 0:
            group.add(paper)
        for element in _elements(run.items, style, False):
            group.add(element)
        drawing.add(group)
    return serialised(drawing)


def _elements(items: Iterable[Placed], style: Style, told: bool) -> Iterable[BaseElement]:
    """A group for each figure; runs of text and rules as they stand."""
    for in_figure, run in groupby(items, key=lambda item: isinstance(item.content, Scene)):
        if in_figure:
            yield from (_figure(item, style, told) for item in run)
        else:
            flat = (
                shifted(item.content, *item.at)
                for item in run
                if not isinstance(item.content, Scene)
            )
            yield from item_elements(flat, style)


def _figure(placed: Placed, style: Style, told: bool) -> BaseElement:
    assert isinstance(placed.content, Scene)
    place = f"translate({number(placed.at[0])} {number(placed.at[1])})"
    if abs(placed.scale - 1.0) > 1e-6:
        place += f" scale({placed.scale:.5f})"
    group = Group(debug=False, class_="figure")
    group["transform"] = place
    if told and placed.content.title:
        group["role"] = "img"
        group.add(DescriptiveElement("title", placed.content.title))
    for element in item_elements(placed.content.items, style):
        group.add(element)
    return group
