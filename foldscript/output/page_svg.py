"""A page as SVG: its figures, text and rules at their places.

In: a page and a style. Out: the same bytes for the same page, in points, on white. Figures are
written as output/svg.py writes them, so a step looks alike on its own and on a page.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import svgwrite
from svgwrite.base import BaseElement

from ..drawing.scene import Close, Curve, Draw, Move, Path, Text
from ..drawing.styles import Style
from ..pages.document import Page, Placed


def n(v):
    return round(v, 3) + 0.0


def item_element(drawing, item, style):
    ink = style.ink(item.role)
    kw = dict(fill=ink.fill or "none")
    if ink.stroke:
        kw.update(
            stroke=ink.stroke,
            stroke_width=ink.width,
            stroke_linecap=ink.cap,
            stroke_linejoin=ink.join,
        )
        if ink.dash:
            kw["stroke_dasharray"] = " ".join(map(str, ink.dash))
    if isinstance(item, Text):
        return drawing.text(
            item.text,
            insert=(n(item.at[0]), n(item.at[1])),
            font_size=item.size,
            text_anchor=item.anchor,
            font_weight="bold" if item.bold else "normal",
            font_family=style.family,
            **kw,
        )
    d = []
    for s in item.segments:
        match s:
            case Move(p):
                d.append(f"M{n(p[0])} {n(p[1])}")
            case Draw(p):
                d.append(f"L{n(p[0])} {n(p[1])}")
            case Curve(a, b, c):
                d.append(f"C{n(a[0])} {n(a[1])} {n(b[0])} {n(b[1])} {n(c[0])} {n(c[1])}")
            case Close():
                d.append("Z")
    return drawing.path(d="".join(d), **kw)


def page_svg(page: Page, style: Style) -> bytes:
    """One page, as wide and high as its paper."""
    w, h = page.size.width, page.size.height
    drawing = svgwrite.Drawing(
        size=(f"{w:.6f}pt", f"{h:.6f}pt"), viewBox=f"0 0 {w:.6f} {h:.6f}", debug=False
    )
    drawing.add(drawing.rect((0, 0), (n(w), n(h)), fill="#fff"))
    for placed in page.items:
        c = placed.content
        t = f"translate({n(placed.at[0])} {n(placed.at[1])})"
        if isinstance(c, Text):
            drawing.add(item_element(drawing, replace(c, at=placed.at), style))
            continue
        g = drawing.g(transform=t + (f" scale({placed.scale})" if placed.scale != 1 else ""))
        for item in [c] if isinstance(c, Path) else c.items:
            g.add(item_element(drawing, item, style))
        drawing.add(g)
    return drawing.tostring().encode()
