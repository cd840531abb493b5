"""What a layer order must satisfy, written down for one arrangement of facets.

In: facets as they would lie (convex, folded coordinates) and the joints between them. Out: the
conditions on 'i lies above j', one variable for every overlapping pair:

- across an unfolded joint the order to any third layer does not change;
- a layer that crosses a fold lies above both of its sides or below both (else it is pierced);
- two folds along a common segment with their layers on the same side do not interleave;
- no three layers with a common region form a ring.

Source: J. Justin (1997); M. Bern and B. Hayes, SODA 1996; H. Akitaya, E. Demaine and J. Ku (2024).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..geometry.lines import Line, Point, Segment, line_through, midpoint, signed_distance
from ..geometry.polygons import Polygon, centroid, clip_segment, strictly_inside
from .overlaps import Pair, box
from .seams import collinear_overlaps


@dataclass(frozen=True, slots=True)
class Hinge:
    """A joint in folded coordinates: facets a and b, the segment, whether it is folded."""

    a: int
    b: int
    segment: Segment
    folded: bool


@dataclass(frozen=True, slots=True)
class Same:
    """'x above y' has the same truth as 'u above v'; `reason` says why, `at` where."""

    x: int
    y: int
    u: int
    v: int
    reason: str
    at: Point


@dataclass(frozen=True, slots=True)
class Nested:
    """The folds (a, b) and (c, d) must not interleave."""

    a: int
    b: int
    c: int
    d: int
    at: Point


@dataclass(frozen=True)
class Conditions:
    """Everything but the rings, which the solver looks for when it needs them."""

    same: tuple[Same, ...]
    nested: tuple[Nested, ...]


def conditions(
    placed: Sequence[Polygon],
    hinges: Sequence[Hinge],
    fresh: frozenset[Pair] | set[Pair] | None = None,
) -> Conditions:
    """Conditions of an arrangement.

    Parameters
    ----------
    placed : facets in folded coordinates
    hinges : all joints, folded and unfolded
    fresh : pairs (i < j) whose order may be new; conditions among other pairs hold already and are
        left out. None: all pairs.
    """

    def touched(*pairs: Pair) -> bool:
        if fresh is None:
            return True
        return any(((i, j) if i < j else (j, i)) in fresh for i, j in pairs)

    boxes = [box(p) for p in placed]
    middles = [centroid(p) for p in placed]
    same: list[Same] = []
    for h in hinges:
        (px, py), (qx, qy) = h.segment
        lo_x, hi_x = (px, qx) if px < qx else (qx, px)
        lo_y, hi_y = (py, qy) if py < qy else (qy, py)
        for c in range(len(placed)):
            at_box = boxes[c]
            if (
                c in (h.a, h.b)
                or hi_x < at_box[0]
                or lo_x > at_box[2]
                or hi_y < at_box[1]
                or lo_y > at_box[3]
            ):
                continue
            if not touched((c, h.a), (c, h.b)):
                continue
            part = clip_segment(placed[c], h.segment)
            if part is None:
                continue
            at = midpoint(*part)
            if strictly_inside(placed[c], at):
                same.append(Same(c, h.a, c, h.b, "pierced" if h.folded else "joint", at))
    nested: list[Nested] = []
    tagged = [(k, h.segment) for k, h in enumerate(hinges)]
    for (k, m), part in collinear_overlaps(tagged):
        one, two = hinges[k], hinges[m]
        if {one.a, one.b} & {two.a, two.b}:
            continue
        line = line_through(*part)
        at = midpoint(*part)
        if one.folded and two.folded:
            if _left(line, middles[one.a]) == _left(line, middles[two.a]) and touched(
                (one.a, two.a), (one.a, two.b), (one.b, two.a), (one.b, two.b)
            ):
                nested.append(Nested(one.a, one.b, two.a, two.b, at))
        elif one.folded or two.folded:
            fold, joint = (one, two) if one.folded else (two, one)
            side = _left(line, middles[fold.a])
            c = joint.a if _left(line, middles[joint.a]) == side else joint.b
            if touched((c, fold.a), (c, fold.b)):
                same.append(Same(c, fold.a, c, fold.b, "pierced", at))
        else:
            c, d = two.a, two.b
            if _left(line, middles[c]) != _left(line, middles[one.a]):
                c, d = d, c
            if touched((one.a, c), (one.b, d)):
                same.append(Same(one.a, c, one.b, d, "joint", at))
    return Conditions(tuple(same), tuple(nested))


def _left(line: Line, p: Point) -> bool:
    return signed_distance(line, p) > 0
