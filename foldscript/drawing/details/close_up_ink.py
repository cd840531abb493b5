"""The ink of a close-up: the window with the part drawn larger, and the whole model small.

In: the paper as seen in the window, and what was drawn on it; the paper seen small. Out: groups of ink in the
frame: paper and lines end at the window's edge, signs and letters are whole.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..framing.close_up import CloseUp
from ..scene.groups import Sketch, moved
from ..scene.outlines import Box, polyline
from ..scene.scene import Path, Segment
from ..sheet.ink_of_paper import edges, fills
from ..sheet.visible import Visible
from .detail_ink import cut

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: How far off the small model its mark may run (points).
_AIR = 1.5
#: Kinds of groups that end at the window's edge.
_CUT = ("paper", "crease", "edge", "fold")


def within_window(near: Visible, one: CloseUp) -> None:
    """Leaves facets empty that do not reach into the window, for none of them would be seen."""
    import shapely

    x0, y0, x1, y1 = shapely.bounds(near.shapes).T
    left, top, right, bottom = one.window
    near.without((x0 > right) | (x1 < left) | (y0 > bottom) | (y1 < top))


def silhouette_within(near: Visible, one: CloseUp) -> BaseGeometry:
    """What the paper covers of the window."""
    import shapely

    return shapely.intersection(near.silhouette, shapely.box(*one.window))


def put_together(inner: Sketch, small: Visible, one: CloseUp, colours: tuple[str, str]) -> Sketch:
    """The window and the small model at their places in the frame."""
    import shapely

    out = Sketch(signs=set(inner.signs))
    box = shapely.box(*one.window)
    if not box.contains(shapely.box(*_about(inner))):
        out.add("leader", [Path("leader", _outline(one.window))])
    for group in inner.groups:
        if group.kind not in _CUT:
            out.groups.append(group)
            continue
        area = group.kind == "paper"
        items = [
            part for item in group.items if isinstance(item, Path) for part in cut(item, area, box)
        ]
        out.add(group.kind, items)
    out.shift(*one.at)
    whole = Sketch()
    whole.add("paper", fills(small, *colours))
    whole.add("edge", edges(small))
    whole.add("circled", [Path("sign", _outline(_on(_about(whole), one.marked)))], "close-up")
    out.signs |= whole.signs
    out.groups += [moved(group, *one.small_at) for group in whole.groups]
    return out


def _on(paper: Box, marked: Box) -> Box:
    """What is marked, no farther off the small model than a little air."""
    return (
        max(marked[0], paper[0] - _AIR),
        max(marked[1], paper[1] - _AIR),
        min(marked[2], paper[2] + _AIR),
        min(marked[3], paper[3] + _AIR),
    )


def _about(inner: Sketch) -> Box:
    """Box about the paper in the window, before it is cut."""
    boxes = [g.box for g in inner.groups if g.kind == "paper"]
    found = [b for b in boxes if b is not None] or [(0.0, 0.0, 0.0, 0.0)]
    return (
        min(b[0] for b in found),
        min(b[1] for b in found),
        max(b[2] for b in found),
        max(b[3] for b in found),
    )


def _outline(box: Box) -> tuple[Segment, ...]:
    x0, y0, x1, y1 = box
    return polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)
