"""Names for the corners and edges of the paper as it lies, each name once.

In: a state. Out: an `Outline`: its corners clockwise (as the fingers go round it, seen from above),
with names by position ('the farthest corner', 'the near left corner'), and its edges ('the near
edge', 'the far left edge'). Where positions do not tell one or two corners apart, the neighbours do;
where they leave more, all corners are numbered instead ('corner 3', 'notch 4').
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

from ..geometry.lines import Point, Segment, cross, distance, point_on_segment, subtract, unit
from ..geometry.polygons import area
from ..languages.wording import Phrase, Template, phrase
from ..paper.state import State
from .directions import sides

#: Points this close are one, where they are narrated (sheet units).
CLOSE = 1e-6

#: How many corners may be named by their neighbours before all are numbered.
_MOST_BY_NEIGHBOURS = 2

_CORNERS = {
    ("far", ""): Phrase("the farthest corner"),
    ("near", ""): Phrase("the nearest corner"),
    ("", "left"): Phrase("the left corner"),
    ("", "right"): Phrase("the right corner"),
    ("far", "left"): Phrase("the far left corner"),
    ("far", "right"): Phrase("the far right corner"),
    ("near", "left"): Phrase("the near left corner"),
    ("near", "right"): Phrase("the near right corner"),
}
_TIPS = {
    ("far", ""): Phrase("the farthest tip"),
    ("near", ""): Phrase("the nearest tip"),
    ("", "left"): Phrase("the left tip"),
    ("", "right"): Phrase("the right tip"),
    ("far", "left"): Phrase("the far left tip"),
    ("far", "right"): Phrase("the far right tip"),
    ("near", "left"): Phrase("the near left tip"),
    ("near", "right"): Phrase("the near right tip"),
}
_SIDES: dict[str, Template] = {
    "left": "the left side of {tip}",
    "right": "the right side of {tip}",
    "near": "the near side of {tip}",
    "far": "the far side of {tip}",
}
_EDGES = {
    ("far", ""): Phrase("the far edge"),
    ("near", ""): Phrase("the near edge"),
    ("", "left"): Phrase("the left edge"),
    ("", "right"): Phrase("the right edge"),
    ("far", "left"): Phrase("the far left edge"),
    ("far", "right"): Phrase("the far right edge"),
    ("near", "left"): Phrase("the near left edge"),
    ("near", "right"): Phrase("the near right edge"),
}
_ENDS = {
    ("far", "left"): Phrase("the left end of the far edge"),
    ("far", "right"): Phrase("the right end of the far edge"),
    ("near", "left"): Phrase("the left end of the near edge"),
    ("near", "right"): Phrase("the right end of the near edge"),
    ("left", "far"): Phrase("the far end of the left edge"),
    ("left", "near"): Phrase("the near end of the left edge"),
    ("right", "far"): Phrase("the far end of the right edge"),
    ("right", "near"): Phrase("the near end of the right edge"),
}
_ORDINALS = (
    Phrase("first"),
    Phrase("second"),
    Phrase("third"),
    Phrase("fourth"),
    Phrase("fifth"),
    Phrase("sixth"),
    Phrase("seventh"),
    Phrase("eighth"),
)


@dataclass(frozen=True)
class Corner:
    """A corner of the outline; `inward` where the outline turns in, as a notch does."""

    at: Point
    name: Phrase
    inward: bool


@dataclass(frozen=True)
class Edge:
    """A side of the outline, run through clockwise."""

    segment: Segment
    name: Phrase
    facing: tuple[str, str]
    start: Corner = field(compare=False)
    end: Corner = field(compare=False)

    @property
    def length(self) -> float:
        return distance(*self.segment)


@dataclass(frozen=True)
class Outline:
    """The outline of the paper as it lies; several rings where parts only touch."""

    rings: tuple[tuple[Corner, ...], ...]
    edges: tuple[Edge, ...]
    numbered: bool = False

    @property
    def corners(self) -> tuple[Corner, ...]:
        return tuple(c for ring in self.rings for c in ring)

    def corner_at(self, p: Point) -> Corner | None:
        return next((c for c in self.corners if distance(c.at, p) < CLOSE), None)

    def edges_at(self, p: Point) -> tuple[Edge, ...]:
        return tuple(e for e in self.edges if point_on_segment(e.segment, p, CLOSE))

    def kept_by(self, image: Callable[[Point], Point], within: float) -> bool:
        """Whether a motion of the table brings every edge to an edge, to so many sheet units.

        Edges, not corners alone: those of a wheel with sails mirror each other, its sails do not.
        """
        ends = [e.segment for e in self.edges]

        def there(a: Point, b: Point) -> bool:
            return any(
                (distance(a, p) < within and distance(b, q) < within)
                or (distance(a, q) < within and distance(b, p) < within)
                for p, q in ends
            )

        return all(there(image(p), image(q)) for p, q in ends)


def outline_of(state: State) -> Outline:
    """The outline with every corner and edge named."""
    rings = [_clockwise(ring) for ring in state.outlines]
    points = [p for ring in rings for p in ring]
    inward = {p for ring in rings for p in _inward(ring)}
    tips = {p for ring in rings for p in _tips(ring, inward)}
    named = _by_position(points, tips)
    _by_direction([p for p in points if p not in named and p not in inward], points, tips, named)
    numbered = len([p for p in points if p not in named]) > _MOST_BY_NEIGHBOURS
    if numbered:
        named = {p: _number(k, p in inward) for k, p in enumerate(points, start=1)}
    for ring in rings:
        _by_neighbours(ring, [p for p in ring if p not in inward], named)
        _by_neighbours(ring, list(ring), named)
    shown = [tuple(Corner(p, named[p], p in inward) for p in ring) for ring in rings]
    return Outline(tuple(shown), _edges(shown, tips, numbered), numbered)


def _number(k: int, inward: bool) -> Phrase:
    template: Template = "notch {n}" if inward else "corner {n}"
    return phrase(template, n=str(k))


def _clockwise(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    """The ring clockwise from its left corner (of several, the near one)."""
    turned = ring if area(ring) < 0 else ring[::-1]
    low = min(p[0] for p in turned)
    first = min((p for p in turned if p[0] < low + CLOSE), key=lambda p: round(p[1], 7))
    k = turned.index(first)
    return turned[k:] + turned[:k]


def _inward(ring: tuple[Point, ...]) -> list[Point]:
    n = len(ring)
    return [
        ring[i]
        for i in range(n)
        if cross(subtract(ring[i], ring[i - 1]), subtract(ring[(i + 1) % n], ring[i])) > 0
    ]


def _tips(ring: tuple[Point, ...], inward: set[Point]) -> list[Point]:
    """Corners between two notches: they stick out like horns."""
    n = len(ring)
    return [
        ring[i]
        for i in range(n)
        if ring[i] not in inward and ring[i - 1] in inward and ring[(i + 1) % n] in inward
    ]


def _word(key: tuple[str, str], tip: bool) -> Phrase:
    return (_TIPS if tip else _CORNERS)[key]


def _by_position(points: list[Point], tips: set[Point]) -> dict[Point, Phrase]:
    """Names of the corners that reach farthest in some direction."""
    limits = {
        "left": min(p[0] for p in points),
        "right": max(p[0] for p in points),
        "near": min(p[1] for p in points),
        "far": max(p[1] for p in points),
    }

    def on(side: str) -> list[Point]:
        axis = 0 if side in ("left", "right") else 1
        found = [p for p in points if abs(p[axis] - limits[side]) < CLOSE]
        return sorted(found, key=lambda p: p[1 - axis])

    wanted: dict[Point, tuple[tuple[str, str], tuple[str, str]]] = {}
    for side, low, high in (
        ("near", "left", "right"),
        ("far", "left", "right"),
        ("left", "near", "far"),
        ("right", "near", "far"),
    ):
        row = on(side)
        level = side in ("near", "far")
        if len(row) == 1:
            key = (side, "") if level else ("", side)
            wanted.setdefault(row[0], (key, key))
            other = wanted[row[0]][0]
            if "" in other and other != key:  # far and left at once
                both = (other[0] or key[0], other[1] or key[1])
                wanted[row[0]] = (both, both)
            continue
        for p, end in ((row[0], low), (row[-1], high)):
            key = (side, end) if level else (end, side)
            if p not in wanted or "" in wanted[p][0]:
                wanted[p] = (key, (side, end))
    counts = Counter((key, p in tips) for p, (key, _) in wanted.items())
    return {
        p: _word(key, p in tips) if counts[key, p in tips] == 1 or end not in _ENDS else _ENDS[end]
        for p, (key, end) in wanted.items()
    }


def _by_direction(
    rest: list[Point], points: list[Point], tips: set[Point], named: dict[Point, Phrase]
) -> None:
    """Names corners by where they lie as seen from the middle, where that tells them apart."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    cx, cy = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    wide, high = (max(xs) - min(xs)) / 2, (max(ys) - min(ys)) / 2

    def key(p: Point) -> tuple[str, str]:
        x, y = (p[0] - cx) / wide, (p[1] - cy) / high
        depth = "far" if y > 0.15 else "near" if y < -0.15 else ""
        return depth, "right" if x > 0.15 else "left" if x < -0.15 else ""

    counts = Counter(key(p) for p in rest)
    taken = set(named.values())
    for p in rest:
        k = key(p)
        if k == ("", "") or counts[k] > 1:
            continue
        word = _word(k, p in tips)
        if word not in taken and _word(k, p not in tips) not in taken:
            named[p] = word


def _by_neighbours(ring: tuple[Point, ...], among: list[Point], named: dict[Point, Phrase]) -> None:
    """Names the rest: between two named corners, or counted clockwise from one."""
    n = len(among)
    known = [i for i in range(n) if among[i] in named]
    notches = set(_inward(ring))
    for i in range(n):
        p = among[i]
        if i in known:
            continue
        if not known:
            named[p] = phrase("corner {n} of the part beside it", n=str(i + 1))
            continue
        back = next(k for k in range(1, n + 1) if (i - k) % n in known)
        ahead = next(k for k in range(1, n + 1) if (i + k) % n in known)
        first, last = named[among[(i - back) % n]], named[among[(i + ahead) % n]]
        named[p] = _between(p in notches, first, back, last, ahead, set(named.values()))


def _between(
    notch: bool, first: Phrase, back: int, last: Phrase, ahead: int, taken: set[Phrase]
) -> Phrase:
    """A corner `back` corners after one with a name and `ahead` corners before the next."""
    options: list[Phrase] = []
    if back == ahead == 1 and first != last:
        template: Template = (
            "the notch between {first} and {last}"
            if notch
            else "the corner between {first} and {last}"
        )
        options.append(phrase(template, first=first, last=last))
    elif notch and back == 1:
        options.append(phrase("the notch beside {corner}", corner=first))
    elif notch and ahead == 1:
        options.append(phrase("the notch beside {corner}", corner=last))
    elif ahead == 1:
        options.append(phrase("the corner just before {corner}, going clockwise", corner=last))
    count = _ORDINALS[back - 1] if back <= len(_ORDINALS) else phrase("{n}th", n=str(back))
    options.append(phrase("the {count} corner clockwise from {corner}", count=count, corner=first))
    return next((o for o in options if o not in taken), options[-1])


def _edges(rings: list[tuple[Corner, ...]], tips: set[Point], numbered: bool) -> tuple[Edge, ...]:
    found: list[tuple[Corner, Corner, Point]] = []
    for ring in rings:
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
            dx, dy = subtract(b.at, a.at)
            found.append((a, b, (-dy, dx)))  # clockwise: the outside is on the left
    plain = [n for a, b, n in found if a.at not in tips and b.at not in tips]
    counts = Counter(sides(normal) for normal in plain)
    out: list[Edge] = []
    for k, (a, b, normal) in enumerate(found):
        facing = sides(normal)
        if numbered:
            name = phrase("the edge from {first} to {last}", first=a.name, last=b.name)
        elif a.at in tips or b.at in tips:
            tip = a if a.at in tips else b
            other = next(
                m for j, (c, d, m) in enumerate(found) if j != k and tip.at in (c.at, d.at)
            )
            name = phrase(_SIDES[_apart(normal, other)], tip=tip.name)
        elif counts[facing] == 1:
            name = _EDGES[facing]
        else:
            name = phrase("the edge from {first} to {last}", first=a.name, last=b.name)
        out.append(Edge((a.at, b.at), name, facing, a, b))
    return tuple(out)


def _apart(normal: Point, other: Point) -> str:
    """What tells an edge of a tip from the other one."""
    dx, dy = subtract(unit(normal), unit(other))
    if abs(dx) >= abs(dy):
        return "right" if dx > 0 else "left"
    return "far" if dy > 0 else "near"
