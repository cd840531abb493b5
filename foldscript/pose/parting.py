"""Which layers a goal parts: the spaces that open, the skin that a breath presses on, the points that hands
hold.

In: layers and their gaps, a goal. Out: the gaps that open with it. What can be told from the paper is told
from it; where two spaces would do as well, it is refused, and the message asks between which layers.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from ..geometry.lines import Point, Segment, distance, midpoint
from ..geometry.polygons import depth
from ..source.diagnostics import Refusal
from .apart import Apart
from .gaps import Gap, Gaps
from .goals import Blow, Goal, Open, Part, Pull, Raise, Spread
from .layers import Layers
from .pulling import along_the_way
from .raising import parts
from .symmetry import Motion

#: A second space that is as large as this share of the largest could be meant as well.
_AS_WELL = 0.7
#: Points (sheet units) off a line by less are on it.
_IN_LINE = 1e-3


@dataclass
class Parting:
    """What goals part.

    Attributes
    ----------
    opened : gaps that open
    skin : triangle -> sides of it on which a space is blown up: 1 above, -1 below
    pairs : for each goal what hands pull apart
    """

    opened: set[Gap] = field(default_factory=set)
    skin: dict[int, set[int]] = field(default_factory=dict)
    pairs: dict[int, Apart] = field(default_factory=dict)


def parted(gaps: Gaps, goals: Sequence[Goal], motions: Sequence[Motion]) -> Parting:
    """What these goals part. Raises Refusal where that cannot be told from the paper."""
    found = Parting()
    spaces: set[Gap] = set()
    turning: list[Segment] = []
    for n, goal in enumerate(goals):
        if isinstance(goal, Open):
            space, sides = _pocket(gaps, goal.edge, motions)
            spaces |= space
            found.pairs[n] = _mouth(gaps, goal, space, sides)
        elif isinstance(goal, Blow):
            if goal.edge is not None:
                space, _ = _pocket(gaps, goal.edge, motions)
            else:
                space = _largest(gaps, gaps.cavities(), motions)
            spaces |= space
            for t, sides in gaps.skin(space).items():
                found.skin.setdefault(t, set()).update(sides)
        elif isinstance(goal, Spread):
            spaces |= _between(gaps, goal)
            low, high = _outermost(gaps, goal)
            found.pairs[n] = Apart((low,), (high,), (1.0,), _units(gaps, goal.width))
        elif isinstance(goal, Pull):
            spaces |= along_the_way(gaps, goal)
        elif isinstance(goal, Raise):
            turning.extend(goal.creases)
    if turning:
        found.opened |= _lifted(gaps, turning)
    found.opened |= spaces
    if spaces:
        found.opened |= _back_to_back(gaps, found.skin or gaps.skin(spaces))
    return found


def _back_to_back(gaps: Gaps, skin: Mapping[int, set[int]]) -> set[Gap]:
    """Gaps between two walls of a space that lie with their outer sides together, as where a side is folded
    in. Layers between them, such as flaps that hang from both, go half with the one, half with the other.
    """
    found: set[Gap] = set()
    for c, some in enumerate(gaps.layers.columns):
        walls = [(k, skin[t]) for k, t in enumerate(some) if t in skin]
        for (low, below), (high, above) in pairwise(walls):
            if -1 in below and 1 in above and (high - low) % 2:
                found.add((c, (low + high + 1) // 2))
    return found


def slipped_into(gaps: Gaps, goals: Sequence[Goal], motions: Sequence[Motion]) -> set[Gap]:
    """The gaps that fingers slip into, with all that lie like them by these motions."""
    parted = [goal for goal in goals if isinstance(goal, Part)]
    if not parted:
        return set()
    named = {_beside(gaps, goal) for goal in parted if goal.whole}
    images = (_image(gaps, gap, motion) for gap in named for motion in motions)
    alike = named | {gap for gap in images if gap is not None}
    found = {gap for space in gaps.spaces(alike) for gap in space}
    panels = gaps.layers.pieces.panels()
    for goal in parted:
        if not goal.whole:
            found |= _on_panel(gaps, goal, panels)
    return found


def layers_beside(gaps: Gaps, goal: Part) -> tuple[int, int]:
    """The triangles below and above the gap that fingers slip into."""
    c, k = _beside(gaps, goal)
    return gaps.layers.columns[c][k - 1], gaps.layers.columns[c][k]


def _on_panel(gaps: Gaps, goal: Part, panels: Sequence[int]) -> set[Gap]:
    """The gaps at that side of the plane surface that is meant."""
    layers = gaps.layers
    panel = panels[_holding(layers, goal)]
    beside = {_at_side(layers, t, goal.front) for t, other in enumerate(panels) if other == panel}
    return beside & gaps.inner


def _holding(layers: Layers, goal: Part) -> int:
    """The triangle that a goal's place lies deepest in."""
    pieces = layers.pieces
    deep = [depth(pieces.polygon(t), goal.at) for t in range(len(pieces.rings))]
    return int(np.argmax(deep))


def _at_side(layers: Layers, triangle: int, front: bool) -> Gap:
    column, below = layers.place[triangle]
    return column, below + (1 if bool(layers.fronts[triangle]) == front else 0)


def _beside(gaps: Gaps, goal: Part) -> Gap:
    """The gap on the side of a layer that is meant. Raises Refusal where no layer lies on that side."""
    gap = _at_side(gaps.layers, _holding(gaps.layers, goal), goal.front)
    if gap not in gaps.inner:
        raise Refusal(
            "no-opening",
            "no layer lies there that it could be parted from",
            "leave 'opening' out, or name another place",
        )
    return gap


def _units(gaps: Gaps, mm: float) -> float:
    return mm / gaps.layers.pieces.state.sheet.unit_mm


def _pocket(
    gaps: Gaps, edge: Segment, motions: Sequence[Motion]
) -> tuple[frozenset[Gap], list[tuple[tuple[int, int], Gap]]]:
    sides = gaps.along(edge)
    spaces = gaps.spaces({gap for _, gap in sides})
    return _largest(gaps, spaces, motions), sides


def _largest(gaps: Gaps, spaces: list[frozenset[Gap]], motions: Sequence[Motion]) -> frozenset[Gap]:
    """The space that is meant: one that lies alike on all sides of the model, if there is one; then the
    largest.
    """
    if not spaces and not any(len(some) > 1 for some in gaps.layers.columns):
        raise Refusal(
            "nothing-folded",
            "the paper is one flat layer: there is nothing that could open",
            "fold it first, or begin with a base: 'start from waterbomb base'",
        )
    if not spaces:
        raise Refusal(
            "no-opening",
            "no space between layers opens there",
            "name an edge where layers lie open: along a fold the paper is closed",
        )
    even = [s for s in spaces if _is_even(gaps, s, motions)]
    spaces = sorted(even or spaces, key=lambda s: (-round(gaps.area(s), 9), sorted(s)))
    if len(spaces) > 1 and gaps.area(spaces[1]) > _AS_WELL * gaps.area(spaces[0]):
        raise Refusal(
            "which-opening",
            "more than one pocket opens there, as large as each other",
            "part the foremost layers from the hindmost: 'spread P by 3 cm', with P on that edge",
        )
    return spaces[0]


def _is_even(gaps: Gaps, space: frozenset[Gap], motions: Sequence[Motion]) -> bool:
    return all(_image(gaps, gap, motion) in space for motion in motions for gap in space)


def _image(gaps: Gaps, gap: Gap, motion: Motion) -> Gap | None:
    """Where a motion takes a gap; None where the net is not alike there."""
    c, k = gap
    middles = gaps.middles
    off = np.abs(middles - (motion.turn[:2, :2] @ middles[c] + motion.shift[:2])).max(axis=1)
    other = int(np.argmin(off))
    image = other, k if motion.turn[2, 2] > 0 else len(gaps.layers.columns[c]) - k
    return image if off[other] < 1e-3 else None


def _mouth(
    gaps: Gaps, goal: Open, space: frozenset[Gap], sides: list[tuple[tuple[int, int], Gap]]
) -> Apart:
    """The places on both sides of a pocket's mouth in the middle of its edge, or as near it as it opens."""
    layers = gaps.layers
    middle = midpoint(*goal.edge)
    mouth = [(side, gap) for side, gap in sides if gap in space]

    def away(side: tuple[int, int]) -> float:
        at, _ = _foot(layers, side, middle)
        return round(distance(at, middle), 6)

    side = min((side for side, _ in mouth), key=lambda side: (away(side), side))
    c, k = min(gap for there, gap in mouth if there == side)
    some = layers.columns[c]
    _, share = _foot(layers, side, middle)
    ends = [
        (node, part) for node, part in zip(side, (1 - share, share), strict=True) if part > 1e-6
    ]
    return Apart(
        tuple(layers.at(some[k - 1], node) for node, _ in ends),
        tuple(layers.at(some[k], node) for node, _ in ends),
        tuple(part for _, part in ends),
        _units(gaps, goal.width),
    )


def _foot(layers: Layers, side: tuple[int, int], p: Point) -> tuple[Point, float]:
    """The place on a side of the net that is nearest to a point, and how far along the side it is."""
    start, end = layers.nodes[list(side)]
    way = end - start
    share = min(1.0, max(0.0, float((np.array(p) - start) @ way / (way @ way))))
    x, y = start + share * way
    return (float(x), float(y)), share


def _near(gaps: Gaps, goal: Spread) -> tuple[int, list[int]]:
    """The corner of the net at a goal's point, and the columns round it."""
    off = np.abs(gaps.layers.nodes - goal.at).max(axis=1)
    node = int(np.argmin(off))
    columns = range(len(gaps.layers.columns))
    return node, [c for c in columns if node in gaps.layers.over(c)]


def _outermost(gaps: Gaps, goal: Spread) -> tuple[int, int]:
    """The points of the lowest and the uppermost layer there.

    Where these are others on other sides of the place, those of the widest side; of sides as wide, those that
    come first on the sheet, so that the choice is the same however the model lies.
    """
    node, columns = _near(gaps, goal)
    layers = gaps.layers
    width: dict[tuple[int, int], float] = defaultdict(float)
    for c in columns:
        some = layers.columns[c]
        low, high = layers.at(some[0], node), layers.at(some[-1], node)
        if low != high:
            width[(low, high)] += _angle_at(gaps, c, node)
    if not width:
        raise Refusal(
            "no-opening",
            "the layers meet in one point there, and cannot be pulled apart",
            "name points farther from there, or for an edge say 'open the bottom edge by 2 cm'",
        )

    def key(pair: tuple[int, int]) -> tuple[float, list[tuple[float, float]]]:
        spots = [layers.pieces.points[v] for v in pair]
        return -round(width[pair], 6), sorted((round(x, 6), round(y, 6)) for x, y in spots)

    return min(width, key=key)


def _angle_at(gaps: Gaps, column: int, node: int) -> float:
    """Radians of a column's corner."""
    nodes = gaps.layers.nodes
    p, q = (nodes[v] - nodes[node] for v in gaps.layers.over(column) if v != node)
    return abs(math.atan2(p[0] * q[1] - p[1] * q[0], p @ q))


def _between(gaps: Gaps, goal: Spread) -> set[Gap]:
    """The spaces that open at the point, between its uppermost layers, its lowest, and what stays in the
    middle. What lies in the middle, as a neck, stays shut, and so do the layers of each side.
    """
    layers = gaps.layers
    facets = layers.pieces.facets
    node, columns = _near(gaps, goal)
    outermost = _outermost(gaps, goal)
    top, bottom, first = set[int](), set[int](), set[Gap]()
    for c in columns:
        some = layers.columns[c]
        points = [layers.at(t, node) for t in some]
        cuts = [k for k in range(1, len(points)) if not set(points[:k]) & set(points[k:])]
        if cuts and (points[0], points[-1]) == outermost:
            bottom |= {facets[t] for t in some[: cuts[0]]}
            top |= {facets[t] for t in some[cuts[-1] :]}
            first |= {(c, cuts[0]), (c, cuts[-1])}

    def together(i: int, j: int) -> bool:
        return (i in top and j in top) or (i in bottom and j in bottom)

    return {
        (c, k)
        for c, k in gaps.space(first)
        if not together(facets[layers.columns[c][k - 1]], facets[layers.columns[c][k]])
    }


def _lifted(gaps: Gaps, creases: Sequence[Segment]) -> set[Gap]:
    """Gaps between what creases part; and, where a fold opens whose two sides hang together elsewhere, the
    space inside the fold.
    """
    layers = gaps.layers
    seams = layers.pieces.on(creases)
    part = parts(layers.pieces, seams)
    between = {
        (c, k)
        for c, k in gaps.inner
        if part[layers.columns[c][k - 1]] != part[layers.columns[c][k]]
    }
    flaps = _flaps(layers, seams, part)
    return between | _inside(gaps, [k for k in seams if not _sides(layers, k, part) & flaps])


def _sides(layers: Layers, seam: int, part: Sequence[int]) -> set[int]:
    """The parts at a seam."""
    return {part[layers.pieces.seams[seam].left], part[layers.pieces.seams[seam].right]}


def _flaps(layers: Layers, seams: Sequence[int], part: Sequence[int]) -> set[int]:
    """Parts that hang on folds of one line only, and so turn about it as they are."""
    ends: dict[int, list[int]] = defaultdict(list)
    for k in seams:
        seam = layers.pieces.seams[k]
        for side in _sides(layers, k, part):
            ends[side] += [seam.start, seam.end]
    found: set[int] = set()
    for number, points in ends.items():
        spots = layers.flat[points] - layers.flat[points].mean(axis=0)
        if number and np.linalg.svd(spots)[1][1] < _IN_LINE:
            found.add(number)
    return found


def _inside(gaps: Gaps, seams: Sequence[int]) -> set[Gap]:
    """The spaces inside the folds among these seams."""
    layers = gaps.layers
    found: set[Gap] = set()
    for seam in (layers.pieces.seams[k] for k in seams):
        (c, one), (d, other) = layers.place[seam.left], layers.place[seam.right]
        if seam.angle and c == d:
            found |= {(c, k) for k in range(min(one, other) + 1, max(one, other) + 1)}
    return {gap for space in gaps.spaces(found) for gap in space}


def led(gaps: Gaps, goals: Sequence[Goal]) -> set[int]:
    """Flat creases among those that goals of one stage raise which give way by themselves: on layers that a
    fold which opens in the same stage takes away from what stays, as the sides of a box do when its ends
    stand up with them.
    """
    layers = gaps.layers
    raises = [goal for goal in goals if isinstance(goal, Raise)]
    folds = layers.pieces.on([c for goal in raises if goal.angle for c in goal.creases])
    space = _inside(gaps, folds)
    part = parts(layers.pieces, layers.pieces.on([c for goal in raises for c in goal.creases]))

    def taken(triangle: int) -> bool:
        column, place = layers.place[triangle]
        staying = [k for k, t in enumerate(layers.columns[column]) if part[t] == 0]
        return any(
            (column, n) in space
            for k in staying
            for n in range(min(k, place) + 1, max(k, place) + 1)
        )

    seams = ((k, layers.pieces.seams[k]) for k in folds)
    return {k for k, s in seams if not s.angle and (taken(s.left) or taken(s.right))}
