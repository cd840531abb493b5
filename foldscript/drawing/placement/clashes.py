"""How well the signs of a figure keep clear of each other: a score, for tests and for the proof.

In: the groups of a figure, in its frame. Out: every pair of signs of which one covers more of the
other than it may, and every sign that leaves the frame. Some meetings are the craft's own: an arrow
crosses its fold line once, its head ends in the ring of its landing place, two creases made in one
step have arrows that cross.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import combinations
from typing import Any

from ..scene.groups import Group
from ..scene.outlines import samples as curve_samples
from ..scene.outlines import subpaths, text_box, walk
from ..scene.scene import Close, Curve, Draw, Move, Path, Point, Text

#: What two kinds of groups may share: points of length (lines over areas) or square points (areas).
ALLOWED: dict[frozenset[str], float] = {
    frozenset(pair): most
    for pair, most in {
        ("label", "arrow"): 2.5,
        ("label", "ring"): 2.0,
        ("label", "fold"): 1.0,
        ("label", "mark"): 4.0,
        ("label", "point"): 2.0,
        ("label", "edge"): 9.0,
        ("arrow", "ring"): 7.0,
        ("arrow", "fold"): 11.0,
        ("arrow", "mark"): 5.0,
        ("arrow", "point"): 6.0,
        ("ring", "fold"): 14.0,
        ("mark", "ring"): 4.0,
        ("label", "lens"): 2.0,
        ("arrow", "lens"): 3.0,
        ("repeat", "edge"): 15.0,
        ("leader", "inset"): 2.0,
        ("leader", "fold"): 4.0,
    }.items()
}
ALLOWED[frozenset(("label",))] = 0.5  # two of a kind
ALLOWED[frozenset(("arrow",))] = 12.0
ALLOWED[frozenset(("mark",))] = 12.0
#: Signs with a place of their own, which nothing else may enter.
_ALONE = ("turn", "scale", "repeat", "inset")
_BOXED = ("turn", "scale")
#: How far ink may stand out of the frame: half the heaviest line (points).
_OUT = 0.6
_HALF_LINE, _RING = 0.5, 3.1


@dataclass(frozen=True)
class Clash:
    """Two kinds of signs that share more than they may; `other` is 'frame' where one stands out."""

    kind: str
    other: str
    amount: float
    allowed: float


def clashes(groups: Sequence[Group], frame: tuple[float, float]) -> list[Clash]:
    """Everything that lies where it should not, worst first."""
    found: list[Clash] = []
    for group in groups:
        out = _out(group, frame)
        if out > _OUT:
            found.append(Clash(group.kind, "frame", out, _OUT))
    for one, other in combinations(groups, 2):
        allowed = _allowed(one, other)
        if allowed is None or _apart(one, other):
            continue
        amount = _shared(one, other)
        if amount > allowed:
            found.append(Clash(one.kind, other.kind, amount, allowed))
    return sorted(found, key=lambda c: -(c.amount - c.allowed))


def score(groups: Sequence[Group], frame: tuple[float, float]) -> float:
    """How much too much lies on other signs, in points; 0 for a figure as it should be."""
    return sum(c.amount - c.allowed for c in clashes(groups, frame))


def _allowed(one: Group, other: Group) -> float | None:
    kinds = frozenset((one.kind, other.kind))
    if kinds in ALLOWED:
        return ALLOWED[kinds]
    if kinds & set(_ALONE) and "paper" not in kinds and "crease" not in kinds:
        return 1.0
    return None


def _apart(one: Group, other: Group) -> bool:
    a, b = one.box, other.box
    if a is None or b is None:
        return True
    far = _RING
    return a[2] + far < b[0] or b[2] + far < a[0] or a[3] + far < b[1] or b[3] + far < a[1]


def _out(group: Group, frame: tuple[float, float]) -> float:
    box = group.box
    if box is None:
        return 0.0
    return max(-box[0], -box[1], box[2] - frame[0], box[3] - frame[1], 0.0)


def _shared(one: Group, other: Group) -> float:
    """What two groups share: length of the thinner one's lines in the other, or area of two areas."""
    import shapely

    if _is_area(one) and _is_area(other):
        return float(shapely.intersection(_area(one), _area(other)).area)
    if _is_area(one):
        one, other = other, one
    return float(shapely.intersection(_lines(one), _area(other)).length)


def _is_area(group: Group) -> bool:
    return group.kind in ("label", "ring", "point", *_ALONE)


def _area(group: Group) -> Any:
    """What a group covers: letters their box, rings their disc, lines their width."""
    import shapely

    shapes: list[Any] = []
    if group.kind in _BOXED and group.box is not None:
        return shapely.box(*group.box)
    for item in group.items:
        if isinstance(item, Text):
            shapes.append(_letters(item))
        elif group.kind == "ring":
            shapes.append(_disc(item))
        elif group.kind == "inset":
            return _disc(item)
        else:
            shapes.append(_strokes([item]).buffer(_HALF_LINE))
            if item.role in ("arrow.head", "arrow.open", "sign.solid", "sign.open"):
                shapes += [shapely.Polygon(p).buffer(0) for p in polylines([item]) if len(p) > 3]
    return shapely.union_all(shapes)


def _disc(path: Path) -> Any:
    import shapely

    x0, y0, x1, y1 = shapely.bounds(_strokes([path]))
    return shapely.Point((x0 + x1) / 2, (y0 + y1) / 2).buffer((x1 - x0) / 2)


def _letters(text: Text) -> Any:
    """The box of capital letters, without the room for accents and tails."""
    import shapely

    x0, y0, x1, y1 = text_box(text)
    return shapely.box(x0 + 0.6, y0 + 0.1 * text.size, x1 - 0.6, y1 - 0.22 * text.size)


def _lines(group: Group) -> Any:
    """Lines of a group; of arrowheads their outline."""
    return _strokes([i for i in group.items if isinstance(i, Path)])


def _strokes(items: Iterable[Path]) -> Any:
    import shapely

    return shapely.MultiLineString([p for p in polylines(items) if len(p) > 1])


def covered(outlines: Iterable[Sequence[Point]]) -> Any:
    """The place that an area of these closed outlines covers, without its holes."""
    import shapely

    rings = [shapely.Polygon(ring) for ring in outlines if len(ring) > 3]
    sound = [r if shapely.is_valid(r) else shapely.buffer(r, 0) for r in rings]
    return reduce(shapely.symmetric_difference, sound, shapely.Polygon())


def along(items: Iterable[Path]) -> list[Point]:
    """Points along every stroke of paths."""
    return [p for line in polylines(items) for p in line]


def polylines(items: Iterable[Path]) -> list[list[Point]]:
    """Every stroke of paths as points along it."""
    out: list[list[Point]] = []
    for item in items:
        for piece in subpaths(item.segments):
            points: list[Point] = []
            for segment, here, start in walk(piece):
                if isinstance(segment, Move | Draw):
                    points.append(segment.to)
                elif isinstance(segment, Curve):
                    points += curve_samples((here, segment.first, segment.second, segment.to), 24)[
                        1:
                    ]
                elif isinstance(segment, Close):
                    points.append(start)
            out.append(points)
    return out
