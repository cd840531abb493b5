"""A step half way, beside the step's own figure: from where it is seen, and where its paper goes on to.

In: a `Halfway`. Out: a camera that leaves flat paper where it lies on the page, and the ways of a few corners
from where they are to where they land. What rises is drawn aslant: against the way in which the paper
travels over the page, and straight up or down where the figure is its own mirror image.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache, partial
from itertools import combinations, groupby

import numpy as np
import shapely

from ...geometry.lines import between
from ...pose.halfway import Halfway
from ...pose.pose import Line
from ..scene.heads import solid_head
from ..scene.outlines import Cubic, curve_segments, length, parameter_at, part, samples
from ..scene.scene import Path, Point
from ..scene.shafts import heading, shortened
from .camera import Array, Camera, aslant
from .hidden import visible_of
from .ink import PoseInk
from .seen import seen

#: How far aside and how far up what rises is drawn; what a view is worth less that is against the way of the
#: paper, or steep, and more that fits it or is even, or that shows something of every piece.
_ASIDE, _UP = (0.0, 0.35, -0.35), (0.25, 0.45, -0.35)
#: How far up what rises is drawn of a model that is opened for a point to be sunk: it is looked at from where
#: that was.
_OPENED = (0.6, 0.9)
_BELOW, _STEEP, _WITH, _EVEN, _EVERY = 0.85, 0.85, 1.3, 1.8, 0.5
#: So much of its way a tip is to be seen away from where it lands.
_AWAY = 0.2
#: So much of what is opened is to be seen, as a share of its area.
_BROAD = 0.15
#: Views whose worth differs by less are worth the same.
_ALIKE = 1e-6
#: So much of a piece has to be seen that something of it is.
_SOME = 0.04
#: Points nearer to their mirror image (mm) lie in the mirror.
_MIRRORED = 1.0
#: At most so many arrows, each so long (points), its chord so much of its length, so far from others.
_ARROWS, _SHORT, _CHORD, _APART = 4, 13.0, 0.75, 12.0
#: Shares by which a way that is bowed more is drawn straighter.
_STRAIGHTER = (0.0, 0.3, 0.6, 0.9)
#: Heads are so far apart (points, 3 mm); where they would not be, the arrows keep back by steps of a point as
#: long as so much of them is left.
_HEADS, _BACK, _LEFT = 8.5, 1.0, 10.0
#: Shafts are so far apart (points).
_BESIDE = 5.0
#: A way is told by a longer one that begins so near to it (points) and goes the same way (cosine).
_NEAR, _SAME_WAY = 20.0, 0.85
#: A way, and what it comes after others by: longest first, then the highest, then from left to right.
_Ranked = tuple[tuple[float, ...], Cubic]
#: So many ways that begin as far from their middle, but for this part of it, lie round it.
_ROUND, _EVENLY = 4, 0.15
#: Arrows keep off their corner and off where it lands (points).
_OFF = (2.5, 1.0)


@lru_cache(maxsize=64)
def camera_of(half: Halfway) -> Camera:
    """From where what moves is seen best."""
    space = np.array(half.pose.space, dtype=float)
    before, after = np.array(half.before), np.array(half.after)
    points = sorted({k for piece in half.moving for k in half.pose.pieces[piece].corners})
    down = float((after[points, 1] - before[points, 1]).mean()) < 0
    even = all(_even(flat) for flat in (before, after, space[:, :2]))
    rises = float(space[np.argmax(np.abs(space[:, 2])), 2]) > 0
    views: list[tuple[Camera, float]] = []
    up = _UP if rises else tuple(-v for v in _UP)
    if half.opened:
        up = tuple(-v if down else v for v in _OPENED)
    for across in up:
        for along in _ASIDE:
            camera = aslant(along, across)
            liking = _EVEN if along == 0 and even else 1.0
            if not half.opened:
                liking *= _WITH if (across > 0) == down else _BELOW if across < 0 else 1.0
                liking *= _STEEP if across > _UP[0] else 1.0
            views.append((camera, liking * _left(half, camera) * _broad(half, camera)))
    return views[_best([partial(_worth, half, *view) for view in views])][0]


def _best(worths: Sequence[Callable[[bool], float]]) -> int:
    """The first of those that are worth most.

    `worths` : each tells its worth, or, asked so, something quick that it is not worth more than
    """
    most = [worth(True) for worth in worths]
    best, found = 0.0, dict[int, float]()
    for k in sorted(range(len(worths)), key=lambda k: -most[k]):
        if most[k] >= best:
            found[k] = worths[k](False)
            best = max(best, found[k])
    return min(k for k, worth in found.items() if worth > best - _ALIKE)


def _worth(half: Halfway, camera: Camera, liking: float, quickly: bool) -> float:
    return liking * (_at_most(half, camera) if quickly else _shown(half, camera))


def _left(half: Halfway, camera: Camera) -> float:
    """1 where a tip that is turned through is seen well away from where it lands, less where it is not."""
    if len(half.onward) != 1:
        return 1.0
    ((tip, way),) = half.onward
    here, there = camera.page(np.array([way[0], way[3]]))[:, :2]
    whole = math.dist(half.before[tip], half.after[tip])
    return min(1.0, math.dist(here, there) / (_AWAY * whole))


def _broad(half: Halfway, camera: Camera) -> float:
    """1 where what is only opened is seen from a side, less where it is seen along its edge: the paper behind
    it would be taken for the outside of the model.
    """
    opened = sorted({*half.lifted} - {*half.moving})
    if not opened:
        return 1.0
    at = camera.page(np.array(half.pose.space, dtype=float))[:, :2]
    seen_of = shapely.area([shapely.Polygon(at[list(_ring_of(half, k))]) for k in opened]).sum()
    return min(1.0, float(seen_of / _sizes(half, opened).sum()) / _BROAD)


def _even(flat: Array) -> bool:
    """Whether points are their own mirror image, left and right."""
    middle = (flat[:, 0].min() + flat[:, 0].max()) / 2
    turned = np.c_[2 * middle - flat[:, 0], flat[:, 1]]
    apart = np.sqrt(((flat[:, None] - turned[None]) ** 2).sum(axis=2)).min(axis=1)
    return bool((apart < _MIRRORED).all())


def _shown(half: Halfway, camera: Camera) -> float:
    """How much is seen of what moves: square roots, so that small pieces count."""
    before = seen(half.pose, camera, 1.0)
    areas = shapely.area(visible_of(before, 1.0, half.moving)[list(half.moving)])
    whole = _sizes(half)
    here = np.minimum(areas, whole)
    some = float((here > _SOME * whole).mean())
    return round(float(np.sqrt(here * whole).sum()) * (1 + _EVERY * some), 3)


def _at_most(half: Halfway, camera: Camera) -> float:
    """What `_shown` would be if nothing lay before anything, and a little more for its roundings."""
    at = camera.page(np.array(half.pose.space, dtype=float))[:, :2]
    areas = shapely.area([shapely.Polygon(at[list(_ring_of(half, k))]) for k in half.moving])
    whole = _sizes(half)
    return float(np.sqrt(np.minimum(areas, whole) * whole).sum()) * (1 + _EVERY) * 1.01 + 0.01


def _ring_of(half: Halfway, piece: int) -> tuple[int, ...]:
    return half.pose.pieces[piece].corners


def _sizes(half: Halfway, pieces: Sequence[int] = ()) -> Array:
    """The areas on the sheet of pieces; of those that move where none are said."""
    sheet = np.array(half.pose.sheet, dtype=float)
    return shapely.area(
        [shapely.Polygon(sheet[list(_ring_of(half, k))]) for k in pieces or half.moving]
    )


def ways_on(
    half: Halfway, drawn: PoseInk, camera: Camera, scale: float, about: Point
) -> list[Path]:
    """Arrows from moving corners to where they land.

    `scale` in points a millimetre; `about` is the place of the page's plane (mm) that is drawn at (0, 0).
    """
    ways = sorted(_ways(half, drawn, camera, scale, about), key=lambda one: one[0])
    ways = [one for k, one in enumerate(ways) if not any(_tells(o, one) for o in ways[:k])]
    rows = [
        part for _, some in groupby(ways, key=lambda one: one[0][0]) for part in _rows(list(some))
    ]
    found: list[Cubic] = []
    for some in sorted(
        rows, key=lambda row: len(row) == 1
    ):  # mirrored pairs, then those that are alone
        clear: list[Cubic] = []
        for _, way in some:
            if all(math.dist(way[0], other[0]) > _APART for other in (*found, *clear)):
                clear.append(way)
        if len(found) + len(clear) <= _ARROWS:
            clear = _heads_apart(clear, found)
            found += [] if any(_crowded(way, other) for way in clear for other in found) else clear
    out: list[Path] = []
    for way in found:
        out.append(Path("arrow.shaft", curve_segments(shortened(way, 6.0))))
        out.append(solid_head(way[3], heading(way)))
    return out


def _tells(one: _Ranked, other: _Ranked) -> bool:
    """Whether a way, longer in space than another, shows what the other would: it begins beside it, and goes
    the same way."""
    (far, *_), way = one
    (less, *_), same = other
    u, v = ((w[3][0] - w[0][0], w[3][1] - w[0][1]) for w in (way, same))
    along = (u[0] * v[0] + u[1] * v[1]) / (math.hypot(*u) * math.hypot(*v))
    return far < less and math.dist(way[0], same[0]) < _NEAR and along > _SAME_WAY


def _crowded(one: Cubic, other: Cubic) -> bool:
    """Whether two arrows cross, or run so close that they are taken for each other."""
    a, b = (shapely.LineString(samples(way)) for way in (one, other))
    return bool(shapely.distance(a, b) < _BESIDE)


def _heads_apart(row: Sequence[Cubic], others: Sequence[Cubic]) -> list[Cubic]:
    """Ways of one row, all kept back alike until their heads lie clear of each other and of others' heads;
    none where too little is left of them."""

    def clear(some: Sequence[Cubic]) -> bool:
        heads = [way[3] for way in (*others, *some)]
        pairs = combinations(range(len(heads)), 2)
        return all(math.dist(heads[i], heads[j]) > _HEADS for i, j in pairs if j >= len(others))

    ways = list(row)
    while ways and not clear(ways):
        if any(length(way) - _BACK < _LEFT for way in ways):
            return []
        ways = [part(way, 0.0, parameter_at(way, length(way) - _BACK)) for way in ways]
    return ways


def _rows(equal: list[_Ranked]) -> list[list[_Ranked]]:
    """Equally long ways, those together that belong together: four round a middle, and pairs side by side."""
    starts = [way[0] for _, way in equal]
    x, y = (sum(p[k] for p in starts) / len(starts) for k in range(2))
    off = [math.dist(p, (x, y)) for p in starts]
    if len(equal) == _ROUND and max(off) - min(off) < _EVENLY * max(off):
        return [equal]
    out: list[list[_Ranked]] = []
    for _, some in groupby(equal, key=lambda one: one[0][1]):
        row = list(some)
        middle = len(row) // 2
        if len(row) % 2 and middle:  # one lies amid the others
            out += [[*row[:middle], *row[middle + 1 :]], [row[middle]]]
        else:
            out.append(row)
    return out


def _ways(
    half: Halfway, drawn: PoseInk, camera: Camera, scale: float, about: Point
) -> Iterator[_Ranked]:
    """Ways of all corners that move and are seen, the longest first."""
    corners = _corners(half)
    for k, onward in half.onward:
        if k not in corners or not _seen(half, drawn, k):
            continue
        steps = np.array(onward)
        at = (camera.page(steps)[:, :2] - (about[0], -about[1])) * scale
        way = _straight_enough(_cubic([(float(x), float(y)) for x, y in at]))
        if math.dist(way[0], way[3]) < _SHORT:
            continue
        far = float(np.sqrt(((steps[0] - steps[-1]) ** 2).sum()))
        yield (-round(far, 1), round(way[0][1], 1), round(way[0][0], 1)), _kept_off(way)


def _corners(half: Halfway) -> set[int]:
    """Points where lines of moving paper end or turn, those of bends left out."""
    moving = set(_carried(half))
    met: dict[int, int] = {}
    for edge in half.pose.edges:
        if edge.kind is Line.BEND or not ({edge.left, edge.right} & moving):
            continue
        for k in (edge.start, edge.end):
            met[k] = met.get(k, 0) + 1
    return {k for k, count in met.items() if count > 1}


def _carried(half: Halfway) -> Sequence[int]:
    """The pieces that arrows may tell of: those that the move carries on, all of paper that is opened."""
    return half.lifted if half.opened else half.moving


def _seen(half: Halfway, drawn: PoseInk, point: int) -> bool:
    at = shapely.Point(drawn.places[point])
    facets = {
        half.pose.pieces[k].facet for k in _carried(half) if point in half.pose.pieces[k].corners
    }
    return any(shapely.distance(drawn.areas[f], at) < 0.5 for f in facets if f in drawn.areas)


def _cubic(at: list[Point]) -> Cubic:
    """The curve that is at four places after each third of its way."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = at
    return (
        at[0],
        ((-5 * ax + 18 * bx - 9 * cx + 2 * dx) / 6, (-5 * ay + 18 * by - 9 * cy + 2 * dy) / 6),
        ((2 * ax - 9 * bx + 18 * cx - 5 * dx) / 6, (2 * ay - 9 * by + 18 * cy - 5 * dy) / 6),
        at[3],
    )


def _straight_enough(way: Cubic) -> Cubic:
    """The way, drawn straighter where it is so bowed that its head would point off where it lands."""
    a, b, c, d = way
    first, second = between(a, d, 1 / 3), between(a, d, 2 / 3)
    some = [(a, between(b, first, s), between(c, second, s), d) for s in _STRAIGHTER]
    return next((w for w in some if math.dist(a, d) >= _CHORD * length(w)), some[-1])


def _kept_off(way: Cubic) -> Cubic:
    """A way that begins a little after its corner, and ends a little before where that lands."""
    long = length(way)
    return part(way, parameter_at(way, _OFF[0]), parameter_at(way, long - _OFF[1]))
