"""A folder who has only the words: reads the telling back into places on the table.

In: a model and what is told of it. Out: for every step the places that its words give the corners of
the sheet, worked out from the words with a ruler and the outline of the paper, in millimetres.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry.polygon import orient

from foldscript.folding.steps import Model
from foldscript.languages.wording import Phrase, sentences
from foldscript.narration.narrate import narrate
from foldscript.narration.narration import Paragraph
from foldscript.paper.state import State

Point = tuple[float, float]

_LABEL = "Corners of the sheet now: "
_ONE = re.compile(
    r"Corner (\S+) lies at ((?:the|corner|notch) .+?), "
    r"((?:on top|inside|underneath|as |on the)[^.]*)\.(?= |$)"
)
_MANY = re.compile(r"Corners ([^.]+?) lie together at ((?:the|corner|notch) .+?): ([^.]*)\.(?= |$)")


@dataclass(frozen=True)
class CornerTold:
    """Where the words put a corner of the sheet."""

    step: int
    corner: str
    where: str
    level: str


#: What an author's own caption is introduced by.
AUTHORS = Phrase("In the author's words:")


def steps_told(model: Model) -> dict[int, list[str]]:
    """Step number -> its paragraphs as they are read, but for what the author says."""
    return {
        chapter.step: [
            (b.label.render() + " " if b.label else "") + sentences(b.sentences)
            for b in chapter.blocks
            if isinstance(b, Paragraph) and b.label != AUTHORS
        ]
        for chapter in narrate(model).chapters
        if chapter.step
    }


def corners_told(model: Model) -> Iterator[CornerTold]:
    """Every sentence of each step's last paragraph on corners.

    Where a unit is placed there is another before it, of how both lie before that.
    """
    for number, paragraphs in steps_told(model).items():
        for text in [text for text in paragraphs if text.startswith(_LABEL)][-1:]:
            text = text.removeprefix(_LABEL)
            for name, where, level in _ONE.findall(text):
                yield CornerTold(number, name, where, level)
            for names, where, levels in _MANY.findall(text):
                for name in re.split(r", | and ", names):
                    found = re.search(_level_of(name), levels)
                    yield CornerTold(number, name, where, found[1] if found else "")


def _level_of(name: str) -> str:
    """Of 'A on top; B inside, under one layer; C underneath' what stands after a name."""
    return rf"(?:^|; ){re.escape(name)} (.+?)(?=; |$)"


def on_table(state: State, name: str) -> Point:
    """Where a corner of the sheet really lies, in millimetres."""
    x, y = state.where(state.sheet.corner(name))
    return x * state.sheet.unit_mm, y * state.sheet.unit_mm


def silhouette(state: State) -> list[Point]:
    """Corners of the hull of the paper in millimetres, clockwise."""
    unit = state.sheet.unit_mm
    whole = shapely.union_all([shapely.Polygon(p) for p in state.placed], grid_size=1e-9)
    ring = shapely.get_coordinates(shapely.convex_hull(whole).simplify(1e-6))[:-1]
    return [(float(x) * unit, float(y) * unit) for x, y in ring]


def numbered(state: State) -> list[Point]:
    """Corners and notches of the outline in millimetres, clockwise from the leftmost."""
    unit = state.sheet.unit_mm
    whole = shapely.union_all([shapely.Polygon(p) for p in state.placed], grid_size=1e-7)
    one = whole.normalize().simplify(1e-6)
    assert isinstance(one, shapely.Polygon)  # paper hangs together
    ring = shapely.get_coordinates(orient(one, -1.0).exterior)
    points = [(float(x) * unit, float(y) * unit) for x, y in ring[:-1]]
    first = min(range(len(points)), key=lambda k: (round(points[k][0], 6), points[k][1]))
    return points[first:] + points[:first]


_WAYS = {
    "away from you": (0, 1),
    "toward you": (0, -1),
    "to the left": (-1, 0),
    "to the right": (1, 0),
}
_SIDES = {
    "far": (0, 1),
    "near": (0, -1),
    "left": (-1, 0),
    "right": (1, 0),
    "farthest": (0, 1),
    "nearest": (0, -1),
}


def understood(state: State, where: str) -> Point | None:
    """The place that words mean, found by hand; None where this reader does not know the words."""
    ring = silhouette(state)
    if where == "the middle of the paper":
        xs, ys = [p[0] for p in ring], [p[1] for p in ring]
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    if found := re.fullmatch(
        r"the point on the middle line that is (?:[a-z ]+ of the way \()?(\d+) mm\)? "
        r"from the (far|near)(?:est corner| edge)(?: to the .+)?",
        where,
    ):
        xs = [p[0] for p in ring]
        dy = _SIDES[found[2]][1]
        far = max(p[1] * dy for p in ring) * dy
        return (min(xs) + max(xs)) / 2, far - dy * int(found[1])
    if found := re.fullmatch(r"(?:corner|notch) (\d+)", where):
        around = numbered(state)
        return around[int(found[1]) - 1] if int(found[1]) <= len(around) else None
    if found := re.fullmatch(r"the point that is (\d+) mm straight (.+?) from (the .+)", where):
        way, start = _WAYS[found[2]], understood(state, found[3])
        return start and (start[0] + way[0] * int(found[1]), start[1] + way[1] * int(found[1]))
    if found := re.fullmatch(r"the middle of the (far|near|left|right) edge", where):
        return _along(_side(ring, found[1]), 0.5)
    if found := re.fullmatch(
        r"the point on the (far|near|left|right) edge that is .*?(\d+) mm\)? from (the .+)", where
    ):
        ends, start = _side(ring, found[1]), understood(state, found[3])
        if start not in ends:
            return None
        ends = ends if ends[0] == start else ends[::-1]
        return _along(ends, int(found[2]) / math.dist(*ends))
    found = re.fullmatch(
        r"the (farthest|nearest|(?:(?:far|near) )?(?:left|right)) (?:corner|tip)", where
    )
    return _extreme(ring, found[1].split()) if found else None


def _along(ends: list[Point], part: float) -> Point:
    (px, py), (qx, qy) = ends
    return px + (qx - px) * part, py + (qy - py) * part


def _side(ring: list[Point], word: str) -> list[Point]:
    """The corners that lie farthest on one side, in order."""
    dx, dy = _SIDES[word]
    best = max(x * dx + y * dy for x, y in ring)
    row = sorted(p for p in ring if p[0] * dx + p[1] * dy > best - 0.01)
    return [row[0], row[-1]]


def _extreme(ring: list[Point], words: list[str]) -> Point | None:
    """The corner that is farthest on each side named; None when it takes more than the hull to know."""
    rows = [_side(ring, word) for word in words]
    common = [p for p in rows[0] if all(p in row for row in rows)]
    if len(set(common)) == 1:
        return common[0]
    if len(words) == 2 and not common and rows[0][0] != rows[0][1]:
        dx = _SIDES[words[1]][0]  # one of the two ends of the near or far side
        return max(rows[0], key=lambda p: p[0] * dx)
    return None
