"""Words for the shape of an outline: triangle, kite, trapezium, with what lies nearest.

In: an `Outline`. Out: phrases. Shapes get the name that says most ('a square' rather than 'a
rectangle'), and a remark on how they lie where the name leaves that open.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from ..geometry.lines import (
    Point,
    cross,
    distance,
    dot,
    line_through,
    meet,
    point_on_segment,
    subtract,
    unit,
)
from ..languages.wording import Phrase, Template, listed, phrase
from .narration import count
from .outline import Edge, Outline

#: Lengths and angles this close count as equal (sheet units, radians).
_ALIKE = 1e-4


def shape(outline: Outline) -> Phrase:
    """'a triangle with two equal edges', 'a square standing on one corner'."""
    if len(outline.rings) > 1 and _apart(outline):
        return phrase("a shape of {n} parts that lie apart", n=count(len(outline.rings)))
    if len(outline.rings) > 1:
        return phrase("a shape of {n} parts that only touch", n=count(len(outline.rings)))
    corners = [c.at for c in outline.corners]
    if any(c.inward for c in outline.corners):
        return _dented(outline)
    if len(corners) == 3:
        return _triangle(outline.edges)
    if len(corners) == 4:
        return _four(outline.edges, corners)
    if len(corners) == 5 and (floor := _floor(outline.edges, corners)) is not None:
        return phrase(
            "a house shape: a rectangle whose floor is {edge}, with a roof", edge=floor.name
        )
    if len(corners) == 5 and (cut := _cut_off(outline.edges)) is not None:
        return cut
    return _many(outline.edges, corners)


def _apart(outline: Outline) -> bool:
    """Whether none of the outline's rings touches another in a corner of its own."""
    rings = outline.rings
    return not any(
        point_on_segment((before.at, after.at), corner.at)
        for k, ring in enumerate(rings)
        for other in rings[:k] + rings[k + 1 :]
        for before, after in zip(ring, (*ring[1:], ring[0]), strict=True)
        for corner in other
    )


def _cut_off(edges: tuple[Edge, ...]) -> Phrase | None:
    """A square or rectangle that has lost one corner."""
    for k, edge in enumerate(edges):
        before, after = edges[k - 1].segment, edges[(k + 1) % 5].segment
        tip = meet(line_through(*before), line_through(*after))
        if tip is None:
            continue
        points = [tip, *(edges[(k + j) % 5].segment[1] for j in (1, 2, 3))]
        if not all(_same(a, math.pi / 2) for a in _angles(points)):
            continue
        lengths = [distance(p, q) for p, q in zip(points, (*points[1:], tip), strict=True)]
        square = _same(max(lengths), min(lengths))
        level = any("" in e.facing for e in edges if e is not edge)
        template: Template = (
            "a square with one corner cut off, along {edge}"
            if square and level
            else "a square standing on one corner, with one corner cut off, along {edge}"
            if square
            else "a rectangle with one corner cut off, along {edge}"
        )
        return phrase(template, edge=edge.name)
    return None


def _same(a: float, b: float) -> bool:
    return abs(a - b) <= _ALIKE


def _angles(corners: list[Point]) -> list[float]:
    """Inner angle at each corner of a convex ring."""
    out = []
    for i, p in enumerate(corners):
        u = unit(subtract(corners[i - 1], p))
        v = unit(subtract(corners[(i + 1) % len(corners)], p))
        out.append(math.acos(max(-1.0, min(1.0, dot(u, v)))))
    return out


def _dented(outline: Outline) -> Phrase:
    n = len(outline.corners)
    dents = [c for c in outline.corners if c.inward]
    tips = [] if outline.numbered else _tips(outline)
    if tips:
        return phrase(
            "a shape with notches, with {tips} sticking out between them", tips=listed(tips)
        )
    if len(dents) == 1:
        return phrase(
            "a shape with {n} corners, one of which points inward like a notch", n=count(n)
        )
    return phrase(
        "a shape with {n} corners, {dents} of which point inward like notches",
        n=count(n),
        dents=count(len(dents)),
    )


def _tips(outline: Outline) -> list[Phrase]:
    """Names of the corners that stick out between two notches."""
    out: list[Phrase] = []
    for ring in outline.rings:
        for k, c in enumerate(ring):
            if not c.inward and ring[k - 1].inward and ring[(k + 1) % len(ring)].inward:
                out.append(c.name)
    return out


def _triangle(edges: tuple[Edge, ...]) -> Phrase:
    lengths = sorted(e.length for e in edges)
    longest = max(edges, key=lambda e: round(e.length, 6))
    right = _same(math.hypot(lengths[0], lengths[1]), lengths[2])
    if _same(lengths[0], lengths[2]):
        return Phrase("a triangle with three equal edges")
    if _same(lengths[0], lengths[1]):
        return (
            phrase(
                "half a square, cut from corner to corner: a triangle whose longest edge is {edge}",
                edge=longest.name,
            )
            if right
            else phrase(
                "a triangle with two equal edges; its longest edge is {edge}", edge=longest.name
            )
        )
    if _same(lengths[1], lengths[2]):
        shortest = min(edges, key=lambda e: round(e.length, 6))
        return phrase(
            "a slim triangle with two equal long edges; its short edge is {edge}",
            edge=shortest.name,
        )
    template: Template = (
        "a right-angled triangle; its longest edge is {edge}"
        if right
        else "a triangle with three different edges; the longest is {edge}"
    )
    return phrase(template, edge=longest.name)


def _four(edges: tuple[Edge, ...], corners: list[Point]) -> Phrase:
    lengths = [e.length for e in edges]
    square_corners = all(_same(a, math.pi / 2) for a in _angles(corners))
    level = any("" in e.facing for e in edges)
    if all(_same(length, lengths[0]) for length in lengths):
        if square_corners:
            if level:
                return Phrase("a square")
            standing = any(
                abs(p[0] - q[0]) < _ALIKE for p, q in zip(corners, corners[2:], strict=False)
            )
            return Phrase(
                "a square standing on one corner" if standing else "a square lying aslant"
            )
        return Phrase("a diamond shape, four equal edges without right angles")
    if square_corners:
        if not level:
            return Phrase("a rectangle lying aslant")
        wide = max(p[0] for p in corners) - min(p[0] for p in corners)
        high = max(p[1] for p in corners) - min(p[1] for p in corners)
        return Phrase(
            "a rectangle, its long edges running from left to right"
            if wide > high
            else "a rectangle, its long edges running from near to far"
        )
    pairs = [_parallel(edges[0], edges[2]), _parallel(edges[1], edges[3])]
    if all(pairs):
        return Phrase("a parallelogram, a rectangle pushed aslant")
    for k in (0, 1):
        if pairs[k]:
            long, short = sorted((edges[k], edges[k + 2]), key=lambda e: -round(e.length, 6))
            return phrase(
                "a trapezium: {long} and {short} are parallel, and {long} is the longer of the two",
                long=long.name,
                short=short.name,
            )
    for k in (0, 1):
        if _same(lengths[k], lengths[(k + 1) % 4]) and _same(
            lengths[(k + 2) % 4], lengths[(k + 3) % 4]
        ):
            tip = (
                edges[(k + 1) % 4].start
                if lengths[k] > lengths[(k + 2) % 4]
                else edges[(k + 3) % 4].start
            )
            return phrase("a kite shape; its long edges meet at {corner}", corner=tip.name)
    return Phrase("a shape with four different edges")


def _parallel(a: Edge, b: Edge) -> bool:
    u, v = (unit(subtract(e.segment[1], e.segment[0])) for e in (a, b))
    return abs(cross(u, v)) <= _ALIKE


def _floor(edges: tuple[Edge, ...], corners: list[Point]) -> Edge | None:
    """The floor of a house: two right angles beside it, and walls of one height."""
    angles = _angles(corners)
    for k, edge in enumerate(edges):
        right = _same(angles[k], math.pi / 2) and _same(angles[(k + 1) % 5], math.pi / 2)
        if right and _same(edges[k - 1].length, edges[(k + 1) % 5].length):
            return edge
    return None


def _many(edges: tuple[Edge, ...], corners: list[Point]) -> Phrase:
    n = len(corners)
    angles = _angles(corners)
    regular = all(_same(e.length, edges[0].length) for e in edges)
    if regular and all(_same(a, angles[0]) for a in angles):
        return phrase("a shape with {n} equal edges and {n} equal corners", n=count(n))
    if n == 8 and sum("" in e.facing for e in edges) == 4:
        return Phrase("a rectangle whose four corners are cut off, so a shape with eight corners")
    if n == 6 and sum("" in e.facing for e in edges) == 4:
        return Phrase("a rectangle with two corners cut off, so a shape with six corners")
    return phrase("a shape with {n} corners", n=count(n))


def mirrored_sides(outline: Outline) -> Phrase | None:
    """A sentence on the symmetry of the outline; None where there is none."""
    points = [c.at for c in outline.corners]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    cx, cy = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2

    def kept(image: Callable[[Point], Point]) -> bool:
        return outline.kept_by(image, _ALIKE)

    across = kept(lambda p: (2 * cx - p[0], p[1]))
    along = kept(lambda p: (p[0], 2 * cy - p[1]))
    if across and along:
        return Phrase("Its left half mirrors its right half, and its near half its far half.")
    if across:
        return Phrase("Its left half mirrors its right half.")
    if along:
        return Phrase("Its near half mirrors its far half.")
    if kept(lambda p: (cx + (p[1] - cy), cy + (p[0] - cx))):
        return Phrase("It is the same on both sides of a line from near left to far right.")
    if kept(lambda p: (cx - (p[1] - cy), cy - (p[0] - cx))):
        return Phrase("It is the same on both sides of a line from far left to near right.")
    if kept(lambda p: (cx - (p[1] - cy), cy + (p[0] - cx))):
        return Phrase("It looks the same after a quarter turn.")
    if kept(lambda p: (2 * cx - p[0], 2 * cy - p[1])):
        return Phrase("It looks the same after half a turn.")
    return None
