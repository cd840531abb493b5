"""Random points, lines and convex polygons for the geometry tests, in sheet units."""

from __future__ import annotations

import math
from itertools import pairwise

from hypothesis import strategies as st

from foldscript.geometry.isometries import Isometry, compose, reflection, rotation, translation
from foldscript.geometry.lines import Line, Point, cross, distance, line_at, subtract
from foldscript.geometry.polygons import Polygon
from foldscript.geometry.tolerance import EPS

#: Multiples of a millionth: numbers of 1e-300 break the reference, and no paper is that small.
coordinates = st.integers(-2_000_000, 2_000_000).map(lambda k: k / 1_000_000)
points: st.SearchStrategy[Point] = st.tuples(coordinates, coordinates)
angles = st.floats(0, 2 * math.pi, exclude_max=True)


def _line(p: Point, angle: float) -> Line:
    return line_at(p, (math.cos(angle), math.sin(angle)))


lines_anywhere: st.SearchStrategy[Line] = st.builds(_line, points, angles)


def _isometry(angle: float, shift: Point, flip: bool, line: Line) -> Isometry:
    turned = compose(translation(shift), rotation(angle))
    return compose(turned, reflection(line)) if flip else turned


isometries: st.SearchStrategy[Isometry] = st.builds(
    _isometry, angles, points, st.booleans(), lines_anywhere
)


def _on_ellipse(centre: Point, turns: list[float], wide: float, high: float) -> Polygon:
    return tuple(
        (centre[0] + wide * math.cos(t), centre[1] + high * math.sin(t)) for t in sorted(turns)
    )


def _apart(turns: list[float]) -> bool:
    ordered = sorted(turns)
    ordered.append(ordered[0] + 2 * math.pi)
    return all(b - a > 0.05 for a, b in pairwise(ordered))


#: Corners on an ellipse, so convex, counter-clockwise and never too close to each other.
convex_polygons: st.SearchStrategy[Polygon] = st.builds(
    _on_ellipse,
    points,
    st.lists(angles, min_size=3, max_size=8).filter(_apart),
    st.floats(0.05, 1),
    st.floats(0.05, 1),
)


def is_convex(poly: Polygon) -> bool:
    """Whether a polygon is convex and counter-clockwise: no corner turns right, but for rounding."""
    around = zip(poly, poly[1:] + poly[:1], poly[2:] + poly[:2], strict=True)
    return len(poly) >= 3 and all(
        cross(subtract(b, a), subtract(c, b)) >= -EPS * (distance(a, b) + distance(b, c))
        for a, b, c in around
    )
