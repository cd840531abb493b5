"""How well the signs of a figure keep clear of each other: a score.

In: the groups of a figure, in its frame. Out: every pair of signs of which one covers more of the
other than it may, and every sign that leaves the frame. What two may share, their families say
(`signs/families.py`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from foldscript.drawing.scene.groups import Group
from foldscript.drawing.scene.outlines import text_box
from foldscript.drawing.scene.scene import Path, Text
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.signs.families import Family
from foldscript.drawing.signs.registry import families

if TYPE_CHECKING:
    import shapely
    from shapely.geometry.base import BaseGeometry

#: Letters, which are no sign of the key.
_LETTERS = Family("label", {"label": 0.5, "circled": 2.0}, "ink")
#: How far ink may stand out of the frame: half the heaviest line (points).
_OUT = 0.6
_HALF_LINE, _RING = 0.5, 3.1
#: Roles of paths whose areas are filled.
_FILLED = ("arrow.head", "arrow.open", "sign.solid", "sign.open")
#: What may come over a sign that stands alone (points or square points).
_BESIDE = 1.0


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
        most = allowed(one.kind, other.kind)
        if most is None or _apart(one, other):
            continue
        amount = _shared(one, other)
        if amount > most:
            found.append(Clash(one.kind, other.kind, amount, most))
    return sorted(found, key=lambda c: -(c.amount - c.allowed))


def gap(one: Group, other: Group) -> float:
    """How far the ink of two groups is apart, letters as boxes, in points; 0 where they meet."""
    return float(_ink(one).distance(_ink(other)))


def _ink(group: Group) -> BaseGeometry:
    """Letters, lines, and the areas that are filled."""
    import shapely

    shapes = [_letters(i) if isinstance(i, Text) else _strokes([i]) for i in group.items]
    filled = [i for i in group.items if isinstance(i, Path) and i.role in _FILLED]
    shapes += [shapely.Polygon(p).buffer(0) for p in polylines(filled) if len(p) > 3]
    return shapely.union_all(shapes)


def score(groups: Sequence[Group], frame: tuple[float, float]) -> float:
    """How much too much lies on other signs, in points; 0 for a figure as it should be."""
    return sum(c.amount - c.allowed for c in clashes(groups, frame))


def _families() -> dict[str, Family]:
    return {_LETTERS.kind: _LETTERS, **families()}


def allowed(one: str, other: str) -> float | None:
    """What two kinds of groups may share, in points or square points; None where it does not matter."""
    known = _families()
    for kind, its_other in ((one, other), (other, one)):
        if kind in known and its_other in known[kind].shares:
            return known[kind].shares[its_other]
    if {one, other} & {"paper", "crease"}:
        return None
    alone = any(kind in known and known[kind].alone for kind in (one, other))
    return _BESIDE if alone else None


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


def _extent(group: Group) -> str:
    known = _families()
    return known[group.kind].extent if group.kind in known else "lines"


def _is_area(group: Group) -> bool:
    return _extent(group) != "lines"


def _area(group: Group) -> BaseGeometry:
    """What a group covers: letters their box, rings their disc, lines their width."""
    import shapely

    extent, shapes = _extent(group), []
    if extent == "box" and group.box is not None:
        return shapely.box(*group.box)
    for item in group.items:
        if isinstance(item, Text):
            shapes.append(_letters(item))
        elif extent == "disc":
            return _disc(item)
        else:
            shapes.append(_strokes([item]).buffer(_HALF_LINE))
            if item.role in _FILLED:
                shapes += [shapely.Polygon(p).buffer(0) for p in polylines([item]) if len(p) > 3]
    return shapely.union_all(shapes)


def _disc(path: Path) -> BaseGeometry:
    import shapely

    x0, y0, x1, y1 = shapely.bounds(_strokes([path]))
    return shapely.Point((x0 + x1) / 2, (y0 + y1) / 2).buffer((x1 - x0) / 2)


def _letters(text: Text) -> BaseGeometry:
    """The box of capital letters, without the room for accents and tails."""
    import shapely

    x0, y0, x1, y1 = text_box(text)
    return shapely.box(x0 + 0.6, y0 + 0.1 * text.size, x1 - 0.6, y1 - 0.22 * text.size)


def _lines(group: Group) -> BaseGeometry:
    """Lines of a group; of arrowheads their outline."""
    return _strokes([i for i in group.items if isinstance(i, Path)])


def _strokes(items: Iterable[Path]) -> shapely.MultiLineString:
    import shapely

    return shapely.MultiLineString([p for p in polylines(items) if len(p) > 1])
