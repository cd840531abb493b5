"""What stands for a step's paper and for a drawing, so that two versions can be compared.

In: folded models and scenes. Out: values that are equal when a reader would see the same: whatever
order the kernel keeps its facets in, and wherever a figure lies in its frame.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from ..drawing.scene.outlines import item_box, union_box
from ..drawing.scene.scene import Path, Scene, Text
from ..folding.steps import Model
from ..output.states import LineData, StateData, states

#: Paper that lies a thousandth of a millimetre elsewhere lies at the same place; ink, 0.02 point.
_PAPER, _INK = 0.001, 0.02
#: So that round numbers do not lie on the border between two values.
_ASIDE = 0.000123

#: Places as whole numbers of a unit.
GridPoint = tuple[int, int]
Ring = tuple[GridPoint, ...]
#: What stands for paper or for ink.
Print = tuple[object, ...]


def paper_prints(model: Model) -> list[Print]:
    """The paper before the first step and after each, in order."""
    document = states(model)
    sheet = _ring(document["sheet"]["outline"])
    return [(sheet, _paper(state)) for state in document["states"]]


def _paper(state: StateData) -> Print:
    plates = [
        (
            plate["shows"],
            _ring(plate["outline"]),
            tuple(sorted(_ring(hole) for hole in plate["holes"])),
            tuple(_whole(v, _PAPER) for row in plate["place"] for v in row),
        )
        for plate in state["plates"]
    ]
    rank = {k: place for place, k in enumerate(sorted(range(len(plates)), key=plates.__getitem__))}
    above = sorted((rank[i], rank[j]) for i, j in state["above"])
    return (
        tuple(sorted(plates)),
        tuple(above),
        _segments(state["marks"]),
        _segments(state.get("cuts", ())),
    )


def _ring(points: Iterable[Sequence[float]]) -> Ring:
    """An outline from its lowest corner on, without corners in the middle of a side."""
    corners = [(_whole(x, _PAPER), _whole(y, _PAPER)) for x, y in points]
    count = len(corners)
    bent = [p for k, p in enumerate(corners) if _bends(corners[k - 1], p, corners[(k + 1) % count])]
    ring = bent or corners
    first = ring.index(min(ring))
    return (*ring[first:], *ring[:first])


def _bends(p: tuple[int, int], q: tuple[int, int], r: tuple[int, int]) -> bool:
    """Whether an outline turns at q by more than rounding makes it."""
    across = (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0])
    return abs(across) > 2 * (math.dist(p, q) + math.dist(q, r))


def _segments(rows: Iterable[LineData]) -> tuple[Ring, ...]:
    """Segments whichever way they run, those in one line put together."""
    import shapely

    lines = [shapely.LineString([row["from"], row["to"]]) for row in rows]
    if not lines:
        return ()
    merged = shapely.line_merge(shapely.union_all(lines, grid_size=_PAPER / 10))
    found = []
    for line in getattr(merged, "geoms", [merged]):
        ends = [(_whole(x, _PAPER), _whole(y, _PAPER)) for x, y in line.coords]
        bent = [p for k, p in enumerate(ends[1:-1], 1) if _bends(ends[k - 1], p, ends[k + 1])]
        ends = [ends[0], *bent, ends[-1]]
        found.append(tuple(min(ends, ends[::-1])))
    return tuple(sorted(found))


def drawing_print(scene: Scene) -> Print:
    """A drawing, wherever it lies in its frame; its title and description are words, not ink."""
    box = union_box(item_box(item) for item in scene.items)
    x, y = (box[0], box[1]) if box is not None else (0.0, 0.0)
    return tuple(_item(item, x, y) for item in scene.items)


def _item(item: Path | Text, x: float, y: float) -> Print:
    if isinstance(item, Text):
        at = (_whole(item.at[0] - x, _INK), _whole(item.at[1] - y, _INK))
        return item.role, item.text, at, item.size, item.anchor, item.bold
    return item.role, tuple(
        (
            type(segment).__name__,
            *(
                (_whole(p[0] - x, _INK), _whole(p[1] - y, _INK))
                for name in segment.__slots__
                for p in (getattr(segment, name),)
            ),
        )
        for segment in item.segments
    )


def _whole(value: float, unit: float) -> int:
    return math.floor(value / unit + 0.5 + _ASIDE)
