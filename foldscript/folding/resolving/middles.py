"""The centre line and the centre of the figure: of its middle, or of the middle that it had.

In: the paper as it lies, and what has been done so far. Out: the upright or the level line that is meant
by 'centre line'. Once one side has been folded in, the figure's own middle lies somewhere else, and nobody
means that: the middle line of the figure before stays the centre line while an edge or a crease shows it.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.cover import less
from ...geometry.isometries import IDENTITY, compose, map_line, map_segment, reflection
from ...geometry.lines import Line, Point
from ...geometry.tolerance import EPS
from ...moves.planning.request import MoveRecord
from ...paper import silhouette
from ...paper.state import State

#: Areas smaller than this, in parts of the squared sheet, are rounding.
_NOTHING = 1e-7


def middle_line(state: State, history: Sequence[MoveRecord], *, level: bool) -> Line:
    """The centre line meant, upright or level."""
    own = _own(state, level=level)
    if alike(state, own):
        return own
    turn = IDENTITY
    for record in reversed(history):
        if record.turn is not None:
            turn = compose(turn, record.turn)
        for lies_level in (True, False):
            before = _own(record.before, level=lies_level)
            line = map_line(turn, before)
            if geo.parallel(line, own) and alike(record.before, before):
                return line if _shown(state, line) else own
    return own


def middle(state: State, history: Sequence[MoveRecord]) -> Point:
    """The centre meant: where the two centre lines meet."""
    upright, level = (middle_line(state, history, level=level) for level in (False, True))
    found = geo.meet(upright, level)
    return silhouette.centre(state) if found is None else found


def lopsided(state: State, history: Sequence[MoveRecord], *, level: bool) -> bool:
    """Whether the centre line is only the middle of a figure that is not alike on both sides of it."""
    line = middle_line(state, history, level=level)
    return not alike(state, line) and geo.same_line(line, _own(state, level=level))


def alike(state: State, line: Line) -> bool:
    """Whether the layers on one side of a line lie like those on the other; creases need not."""
    import shapely

    flip = reflection(line)
    plates = [
        shapely.union_all([shapely.Polygon(state.placed[i]) for i in plate], grid_size=1e-9)
        for plate in state.plates
    ]
    images = [
        shapely.union_all(
            [shapely.Polygon([flip(p) for p in state.placed[i]]) for i in plate], grid_size=1e-9
        )
        for plate in state.plates
    ]
    for image in images:
        partner = next(
            (
                k
                for k, plate in enumerate(plates)
                if abs(plate.area - image.area) < _NOTHING
                and less(plate, image).area + less(image, plate).area < _NOTHING
            ),
            None,
        )
        if partner is None:
            return False
        del plates[partner]
    return True


def _own(state: State, *, level: bool) -> Line:
    """The line through the middle of the figure's width or height."""
    x, y = silhouette.centre(state)
    return Line(0.0, 1.0, y) if level else Line(1.0, 0.0, x)


def _shown(state: State, line: Line) -> bool:
    """Whether an edge or a crease of some length lies along a line."""
    for facet, placed in zip(state.facets, state.placed, strict=True):
        folded = [map_segment(facet.place, s) for s in _creases(state, facet.outline)]
        for p, q in (*polygons.edges(placed), *folded):
            if geo.on_line(line, p) and geo.on_line(line, q) and geo.distance(p, q) > EPS:
                return True
    return False


def _creases(state: State, outline: polygons.Polygon) -> list[geo.Segment]:
    found = (polygons.clip_segment(outline, s) for s in state.creases)
    return [s for s in found if s is not None]
