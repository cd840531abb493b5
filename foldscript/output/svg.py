"""A figure as SVG, and how every item becomes an SVG element (pages use that too).

In: a scene and a style. Out: the same bytes for the same scene, in points, with a title and a
description for those who cannot see it. Only plain presentation attributes, filled arrowheads and
real text are used: no markers, no style sheets, no clipping, so browsers, vector editors and cairo
show the same. All numbers are rounded to 0.01 point. svgwrite is imported only here and in
page_svg.py.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from itertools import groupby

import svgwrite
from svgwrite.base import BaseElement
from svgwrite.container import Group
from svgwrite.path import Path as PathElement
from svgwrite.shapes import Rect
from svgwrite.text import Text as TextElement

from ..drawing.scene.outlines import path_length, subpaths
from ..drawing.scene.scene import Close, Curve, Draw, Move, Path, Scene, Segment, Text
from ..drawing.style.styles import Ink, Style
from ..pages.directions import read_backward
from .fonts import fonts_of
from .shaping import families

#: Paper, where a style says nothing else.
WHITE = "#ffffff"
#: Least size of a dash pattern against the style's.
_SMALLEST = 0.3

#: Characters that XML 1.0 (section 2.2) does not allow, escaped or not.
_NOT_XML = re.compile(r"[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def scene_svg(scene: Scene, style: Style, *, painted: bool = False) -> bytes:
    """A figure on its own: UTF-8 with an XML declaration, as wide and high as its scene.

    Styles for print leave the ground to whatever the figure is placed on, where it is not to be `painted`; a
    dark one paints it.
    """
    wide, high = number(scene.width), number(scene.height)
    printed = number(scene.width * style.enlarged), number(scene.height * style.enlarged)
    drawing = svgwrite.Drawing(size=(f"{printed[0]}pt", f"{printed[1]}pt"), debug=False)
    drawing["viewBox"] = f"0 0 {wide} {high}"
    drawing["role"] = "img"
    drawing["lang"] = drawing["xml:lang"] = scene.language
    stem = re.sub(r"[^a-z0-9]+", "-", scene.title.lower()).strip("-") or "figure"
    named = [("title", scene.title), ("desc", scene.description)]
    named = [(tag, text) for tag, text in named if text]
    if named:
        drawing["aria-labelledby"] = " ".join(f"{stem}-{tag}" for tag, _ in named)
    for tag, text in named:
        drawing.add(DescriptiveElement(tag, text, f"{stem}-{tag}"))
    if painted or ground(style) != WHITE:
        drawing.add(Rect(size=(wide, high), fill=ground(style), debug=False))
    for element in item_elements(scene.items, style):
        drawing.add(element)
    return serialised(drawing)


def serialised(drawing: svgwrite.Drawing) -> bytes:
    """A drawing as UTF-8 with an XML declaration, of no version: `lang` and `aria-*` came with SVG 2."""
    body = drawing.tostring().replace("<defs />", "", 1)
    for attribute in (' version="1.1"', ' baseProfile="full"'):
        body = body.replace(attribute, "", 1)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'.encode()


def ground(style: Style) -> str:
    """What a style's pages are painted with."""
    return style.ink("page").fill or WHITE


class DescriptiveElement(BaseElement):
    """A title or desc element."""

    def __init__(self, tag: str, text: str, name: str = "") -> None:
        self.elementname = tag
        super().__init__(debug=False, **({"id": name} if name else {}))
        self._words = plain(text)

    def get_xml(self):
        xml = super().get_xml()
        xml.text = self._words
        return xml


def item_elements(items: Iterable[Path | Text], style: Style) -> list[BaseElement]:
    """Elements for items in painting order; neighbours of one role share a group."""
    out: list[BaseElement] = []
    for role, members in groupby(items, key=lambda item: item.role):
        run = list(members)
        ink = style.ink(role)
        looks = paint(ink)
        looks["class_"] = _classes(role)
        if isinstance(run[0], Text):
            looks["font_family"] = _families(run, style)
        made = [e for item in run for e in _elements(item, ink)]
        if len(made) == 1:
            for key, value in looks.items():
                made[0][key.rstrip("_").replace("_", "-")] = value
            out.append(made[0])
        elif made:
            group = Group(debug=False, **looks)
            for element in made:
                group.add(element)
            out.append(group)
    return out


def _families(texts: Iterable[Path | Text], style: Style) -> str:
    """The style's family, and after it those that write what it lacks."""
    found = {style.family: None}
    for item in texts:
        if isinstance(item, Text) and not item.text.isascii():
            found |= dict.fromkeys(families(fonts_of(style), item.text, item.bold))
    return ", ".join(found)


def _classes(role: str) -> str:
    """A role as class names; a colour that the script names is never one of ours ('slide')."""
    words = role.split(".")
    if words[0] == "paper" and len(words) > 2:
        colour = re.sub(r"[^\w]+", "-", " ".join(words[2:])).strip("-")
        words[2:] = [f"colour-{colour}"] if colour else []
    return " ".join(words)


def _elements(item: Path | Text, ink: Ink) -> list[BaseElement]:
    if isinstance(item, Text):
        look: dict[str, str] = {"font_size": number(item.size)}
        anchor = item.anchor
        if read_backward(item.text):  # its start is on the right, for those who show it
            look["direction"] = "rtl"
            anchor = {"start": "end", "end": "start"}.get(anchor, anchor)
        if anchor != "start":
            look["text_anchor"] = anchor
        if item.bold:
            look["font_weight"] = "bold"
        at = (number(item.at[0]), number(item.at[1]))
        return [TextElement(plain(item.text), x=[at[0]], y=[at[1]], debug=False, **look)]
    if not ink.dash or ink.stroke is None:
        return [PathElement(d=path_data(item.segments), debug=False)]
    out: list[BaseElement] = []
    for piece in subpaths(item.segments):
        dash = fitted_dash(ink.dash, path_length(piece))
        look = {"stroke_dasharray": " ".join(number(x) for x in dash)} if dash else {}
        out.append(PathElement(d=path_data(piece), debug=False, **look))
    return out


def paint(ink: Ink) -> dict[str, str]:
    """Presentation attributes of an ink, but for its dashes, which are fitted to each line."""
    looks = {"fill": ink.fill or "none"}
    if ink.stroke is not None:
        looks["stroke"] = ink.stroke
        looks["stroke_width"] = number(ink.width)
        if ink.cap != "butt":
            looks["stroke_linecap"] = ink.cap
        if ink.join != "miter":
            looks["stroke_linejoin"] = ink.join
    return looks


def fitted_dash(pattern: Sequence[float], length: float) -> tuple[float, ...]:
    """A dash pattern scaled a little so that a line of `length` begins and ends with a full dash.

    Short lines get at least two dashes, and so a pattern as small as still shows on paper; () where
    the line is too short even for that.
    """
    period, first = sum(pattern), pattern[0]
    repeats = max(1, round((length - first) / period))
    k = length / (repeats * period + first)
    if (k < _SMALLEST and first > 0.05) or length < 1.0:
        return ()
    return tuple(x * k for x in pattern) if first > 0.05 else _dots(pattern, k)


def _dots(pattern: Sequence[float], k: float) -> tuple[float, ...]:
    """Dots keep their size; only the gaps between them give."""
    return tuple(x if x < 0.05 else x * k for x in pattern)


def path_data(segments: Sequence[Segment]) -> str:
    """The `d` attribute."""
    out: list[str] = []
    for s in segments:
        if isinstance(s, Move):
            out.append(f"M{_pair(s.to)}")
        elif isinstance(s, Draw):
            out.append(f"L{_pair(s.to)}")
        elif isinstance(s, Curve):
            out.append(f"C{_pair(s.first)} {_pair(s.second)} {_pair(s.to)}")
        elif isinstance(s, Close):
            out.append("Z")
    return "".join(out)


def _pair(p: tuple[float, float]) -> str:
    return f"{number(p[0])} {number(p[1])}"


def number(value: float) -> str:
    """A number to 0.01, without trailing zeros and never '-0'."""
    if not math.isfinite(value):
        raise ValueError("a drawing holds a number that is not finite")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def plain(text: str) -> str:
    """Text without the control characters that XML forbids (escaping is left to the writer)."""
    return _NOT_XML.sub("", text)
