"""Folded states as JSON, so that other tools can check them.

In: a `Model`. Out: the `foldscript-states` document. Lengths are millimetres, y is up, outlines run
counter-clockwise in sheet coordinates; `place` is the isometry from sheet to folded coordinates.
Plates are the maximal flat pieces; where two plates overlap in parts with different orders they are
given in smaller pieces, so that one entry in `above` is enough for a pair.
"""

from __future__ import annotations

import json
import math
from collections import defaultdict
from typing import TYPE_CHECKING, NotRequired, TypedDict

from ..folding.steps import Model, Part
from ..geometry.lines import Point
from ..geometry.tolerance import EPS
from ..paper.sheet import Sheet
from ..paper.state import State, flat
from ..pose.pose import Pose

if TYPE_CHECKING:
    import shapely

DIGITS = 9

#: A segment, as [x, y] in millimetres at both ends.
LineData = TypedDict("LineData", {"from": list[float], "to": list[float]})


class PaperData(TypedDict):
    """What is left of the sheet once a piece has been cut off."""

    outline: list[list[float]]
    holes: list[list[list[float]]]


class PlateData(TypedDict):
    """A flat piece of paper: outline and holes on the sheet, and the isometry to where it lies."""

    outline: list[list[float]]
    holes: list[list[list[float]]]
    place: list[list[float]]
    shows: str


class PieceData(TypedDict):
    """A plane part of the paper in space: `corners` are numbers of points, counter-clockwise on the sheet."""

    corners: list[int]
    surface: int


#: A line of the paper in space: `from` and `to` are numbers of points, `left` and `right` of pieces, `right`
#: null at a free edge; `angle` is degrees that it is folded by, above 0 where the sheet's front is inside.
EdgeData = TypedDict(
    "EdgeData",
    {"from": int, "to": int, "left": int, "right": int | None, "angle": float, "kind": str},
)


class PoseData(TypedDict):
    """How the paper stands in space: the same points on the sheet and there, x right, y up, z to the reader.

    `touching` are pairs of pieces that lie flat together, and on which side of the first the other lies.
    """

    sheet: list[list[float]]
    space: list[list[float]]
    pieces: list[PieceData]
    edges: list[EdgeData]
    touching: list[tuple[int, int, str]]


class StateData(TypedDict):
    """Folded paper: `above` holds pairs of plates, the upper one first.

    `sheets` is how many of its part's sheets, from the first on, lie there; one where it is left out. `pose`
    is how it stands in space, where it does.
    """

    step: int
    plates: list[PlateData]
    above: list[list[int]]
    marks: list[LineData]
    cuts: NotRequired[list[LineData]]
    left: NotRequired[PaperData]
    sheets: NotRequired[int]
    pose: NotRequired[PoseData]


class SheetData(TypedDict):
    """The flat sheet."""

    outline: list[list[float]]
    unit: str
    holes: NotRequired[list[list[list[float]]]]


class PartData(TypedDict):
    """Steps `first` to `last`: how their paper lies before them, and the sheets that it is made of.

    Put together, the sheets lie side by side in sheet coordinates. `number` is how many are folded so, 0
    where the part only puts together what was folded.
    """

    first: int
    last: int
    start: StateData
    sheets: list[SheetData]
    number: int


class StatesData(TypedDict):
    """The whole document; `sheet` and state 0 are those of the first part, where a model has `parts`."""

    format: str
    version: int
    model: str
    sheet: SheetData
    states: list[StateData]
    parts: NotRequired[list[PartData]]


def states(model: Model) -> StatesData:
    """The document as plain data: state 0 is the flat sheet, one state follows each step.

    A model that starts from a base has the flat sheet as its state 0 too: the base is another
    model's last state, and step 1 begins with it.
    """
    unit = model.sheet.unit_mm
    folded = [_before_any_fold(model), *(s.after for s in model.steps)]
    found = [_state(k, s, s.sheet.unit_mm) for k, s in enumerate(folded)]
    for state, step in zip(found[1:], model.steps, strict=True):
        if step.number in model.poses:
            state["pose"] = _pose(model.poses[step.number])
    document: StatesData = {
        "format": "foldscript-states",
        "version": 1,
        "model": model.title,
        "sheet": {"outline": _ring(model.sheet.outline, unit), "unit": "mm"},
        "states": found,
    }
    if model.parts:
        document["parts"] = [_part(part) for part in model.parts]
    return document


def _pose(pose: Pose) -> PoseData:
    return {
        "sheet": [[_number(v) for v in p] for p in pose.sheet],
        "space": [[_number(v) for v in p] for p in pose.space],
        "pieces": [
            {"corners": list(piece.corners), "surface": piece.panel} for piece in pose.pieces
        ],
        "edges": [
            {
                "from": edge.start,
                "to": edge.end,
                "left": edge.left,
                "right": edge.right,
                "angle": _number(math.degrees(edge.angle)),
                "kind": edge.kind.value,
            }
            for edge in pose.edges
        ],
        "touching": [
            (pair.one, pair.other, "front" if pair.on_front else "back") for pair in pose.touching
        ],
    }


def _part(part: Part) -> PartData:
    return {
        "first": part.first,
        "last": part.last,
        "start": _state(part.first - 1, part.start, part.start.sheet.unit_mm),
        "sheets": [
            _sheet(one) for one in (part.finished.sheet.all if part.assembles else (part.sheet,))
        ],
        "number": len(part.colours),
    }


def _sheet(sheet: Sheet) -> SheetData:
    out: SheetData = {"outline": _ring(sheet.outline, sheet.unit_mm), "unit": "mm"}
    if sheet.holes:
        out["holes"] = [_ring(hole, sheet.unit_mm) for hole in sheet.holes]
    return out


def _before_any_fold(model: Model) -> State:
    start = model.start
    folded = any(j.folded for j in start.joints)
    return flat(model.sheet) if folded or start.sheet != model.sheet else start


def states_json(model: Model) -> str:
    """The document as text, one state a line, ending in a line break."""
    document = states(model)
    rows = ",\n  ".join(json.dumps(s, ensure_ascii=False) for s in document["states"])
    head = {k: v for k, v in document.items() if k not in ("states", "parts")}
    parts = (
        f', "parts": {json.dumps(document["parts"], ensure_ascii=False)}'
        if "parts" in document
        else ""
    )
    return json.dumps(head, ensure_ascii=False)[:-1] + f', "states": [\n  {rows}\n]{parts}}}\n'


def _number(value: float) -> float:
    return round(value, DIGITS) + 0.0


def _point(p: Point, unit: float) -> list[float]:
    return [_number(p[0] * unit), _number(p[1] * unit)]


def _ring(points: tuple[Point, ...], unit: float) -> list[list[float]]:
    return [_point(p, unit) for p in points]


def _state(step: int, state: State, unit: float) -> StateData:
    groups = pieces(state)
    home = {facet: k for k, group in enumerate(groups) for facet in group}
    above = {
        (home[i], home[j]) if over else (home[j], home[i]) for (i, j), over in state.order.items()
    }
    plates: list[PlateData] = []
    for group in groups:
        m = state.facets[group[0]].place
        outer, holes = _boundary(state, group)
        plates.append(
            {
                "outline": _ring(outer, unit),
                "holes": [_ring(h, unit) for h in holes],
                "place": [
                    [m.a + 0.0, m.b + 0.0, _number(m.tx * unit)],
                    [m.c + 0.0, m.d + 0.0, _number(m.ty * unit)],
                ],
                "shows": "back" if m.flips else "front",
            }
        )
    out: StateData = {
        "step": step,
        "plates": plates,
        "above": [list(pair) for pair in sorted(above)],
        "marks": [{"from": _point(p, unit), "to": _point(q, unit)} for p, q in state.creases],
    }
    if state.cuts:
        out["cuts"] = [{"from": _point(p, unit), "to": _point(q, unit)} for p, q in state.cuts]
    if state.sheet.others:  # what is left of each stands with the part
        out["sheets"] = len(state.sheet.all)
    elif state.sheet.left is not None:
        holes = [_ring(hole, unit) for hole in state.sheet.holes]
        out["left"] = {"outline": _ring(state.sheet.outline, unit), "holes": holes}
    return out


def pieces(state: State) -> list[tuple[int, ...]]:
    """Facets grouped into the plates to list; a plate with two orders to another is split up."""
    home = state.plate_of
    seen: dict[tuple[int, int], set[bool]] = defaultdict(set)
    for (i, j), over in state.order.items():
        a, b = home[i], home[j]
        seen[(a, b) if a < b else (b, a)].add(over == (a < b))
    torn = {k for pair, v in seen.items() if len(v) > 1 for k in pair if len(state.plates[k]) > 1}
    out: list[tuple[int, ...]] = []
    for k, plate in enumerate(state.plates):
        out.extend([(i,) for i in plate] if k in torn else [plate])
    return out


def _boundary(
    state: State, group: tuple[int, ...]
) -> tuple[tuple[Point, ...], list[tuple[Point, ...]]]:
    """Outline and holes of a group of facets, with the facets' own corners."""
    if len(group) == 1:
        return state.facets[group[0]].outline, []
    import shapely

    whole = shapely.union_all(
        [shapely.Polygon(state.facets[i].outline) for i in group], grid_size=EPS
    )
    corners = [p for i in group for p in state.facets[i].outline]

    def exact(ring: shapely.LinearRing) -> tuple[Point, ...]:
        points = shapely.get_coordinates(ring)[:-1]
        return tuple(
            min(corners, key=lambda c: (c[0] - x) ** 2 + (c[1] - y) ** 2) for x, y in points
        )

    # a plate hangs together: beside it and in it, rounding to the grid may only leave specks
    largest = max(shapely.get_parts(whole), key=shapely.area)
    plate = shapely.orient_polygons(largest)
    holes = [r for r in plate.interiors if shapely.Polygon(r).area > EPS]
    return exact(plate.exterior), [exact(r) for r in holes]
