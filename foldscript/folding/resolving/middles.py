"""The centre and the centre lines of the figure: of its middle, or of the middle that it had.

In: the paper as it lies, and what has been done so far. Out: the upright or the level line that is meant
by 'centre line', and the point that is meant by 'centre', where the two meet. Once one side has been folded
in, the figure's own middle lies somewhere else, and nobody means that: the middle of the figure before
stays while the paper shows it, by an edge or a crease along the line, or at the centre itself by a corner
of a layer or by lines that meet there, as the tips of corners that have been folded to it do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.cover import less
from ...geometry.isometries import IDENTITY, compose, map_line, map_segment, reflection
from ...geometry.lines import Line, Point, Segment
from ...geometry.remembered import remembered
from ...geometry.tolerance import EPS, same_point
from ...moves.planning.request import MoveRecord
from ...paper import silhouette
from ...paper.state import State

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: Areas smaller than this, in parts of the squared sheet, are rounding.
_NOTHING = 1e-7
#: Moments of areas that are the same differ by less: the sheet is not many units long.
_NEARLY = 1e-5


@dataclass(frozen=True, slots=True)
class Middle:
    """A centre line: the one that is `meant`, and the one that the figure had `before`, as that lies now.

    `before` is None where the figure is alike on both sides of its own middle, or never was otherwise;
    else it differs from what is meant only where nothing shows it.
    """

    meant: Line
    before: Line | None = None

    @property
    def lost(self) -> bool:
        """Whether the middle before is another one, which nothing on the paper shows."""
        return self.before is not None and not geo.same_line(self.meant, self.before)


def middle_line(state: State, history: Sequence[MoveRecord], *, level: bool) -> Middle:
    """The centre line, upright or level."""
    own = _own(state, level=level)
    if alike(state, own):
        return Middle(own)
    turn = IDENTITY
    for k in range(len(history) - 1, -1, -1):
        record = history[k]
        if record.turn is not None:
            turn = compose(turn, record.turn)
        for lies_level in (True, False):
            before = _own(record.before, level=lies_level)
            line = map_line(turn, before)
            if geo.parallel(line, own) and alike(record.before, before):
                across = middle_line(record.before, history[:k], level=not lies_level)
                centre = geo.meet(line, map_line(turn, across.meant))
                return Middle(line if _shown(state, line, centre) else own, line)
    return Middle(own)


def middle_lines(state: State, history: Sequence[MoveRecord]) -> tuple[Line, Line]:
    """The two centre lines meant: the upright and the level one."""
    upright, level = (middle_line(state, history, level=level).meant for level in (False, True))
    return upright, level


def middle(state: State, lines: tuple[Line, Line]) -> Point:
    """The centre meant: where the two centre lines meet."""
    found = geo.meet(*lines)
    return silhouette.centre(state) if found is None else found


def lopsided(state: State, history: Sequence[MoveRecord], *, level: bool) -> bool:
    """Whether the centre line is only the middle of a figure that is not alike on both sides of it."""
    line = middle_line(state, history, level=level).meant
    return not alike(state, line) and geo.same_line(line, _own(state, level=level))


@remembered
def _answers(_: State) -> dict[Line, bool]:
    """About which lines a state has been found to be alike, or not."""
    return {}


def alike(state: State, line: Line) -> bool:
    """Whether the layers on one side of a line lie like those on the other; creases need not."""
    known = _answers(state)
    if line not in known:
        known[line] = _alike(state, line)
    return known[line]


def _alike(state: State, line: Line) -> bool:
    flip = reflection(line)
    plates = [_weighed([state.placed[i] for i in plate]) for plate in state.plates]
    for whole in state.plates:
        image, *weight = _weighed([tuple(flip(p) for p in state.placed[i]) for i in whole])
        partner = next(
            (
                k
                for k, (plate, *other) in enumerate(plates)
                if all(abs(a - b) < _NEARLY for a, b in zip(weight, other, strict=True))
                and abs(plate.area - image.area) < _NOTHING
                and less(plate, image).area + less(image, plate).area < _NOTHING
            ),
            None,
        )
        if partner is None:
            return False
        del plates[partner]
    return True


def _weighed(pieces: Sequence[polygons.Polygon]) -> tuple[BaseGeometry, float, float]:
    """The area that pieces of paper cover together, and that times each coordinate of its middle.

    These moments of two areas differ by little where the areas do.
    """
    import shapely

    area = shapely.union_all([shapely.Polygon(p) for p in pieces], grid_size=1e-9)
    middles = [(abs(polygons.area(p)), polygons.centroid(p)) for p in pieces]
    return area, sum(a * c[0] for a, c in middles), sum(a * c[1] for a, c in middles)


def _own(state: State, *, level: bool) -> Line:
    """The line through the middle of the figure's width or height."""
    x, y = silhouette.centre(state)
    return Line(0.0, 1.0, y) if level else Line(1.0, 0.0, x)


def _shown(state: State, line: Line, centre: Point | None) -> bool:
    """Whether an edge or a crease of some length lies along a line, or its centre can be seen."""
    found: list[Segment] = []
    for facet, placed in zip(state.facets, state.placed, strict=True):
        folded = [map_segment(facet.place, s) for s in _creases(state, facet.outline)]
        found += (*polygons.edges(placed), *folded)
    found = [s for s in found if geo.distance(*s) > EPS]
    if any(geo.on_line(line, p) and geo.on_line(line, q) for p, q in found):
        return True
    return centre is not None and _meet_at(found, centre)


def _meet_at(segments: Sequence[Segment], spot: Point) -> bool:
    """Whether an edge or a crease ends at a spot, or two of them cross there."""
    here = [s for s in segments if geo.point_on_segment(s, spot)]
    if any(same_point(end, spot) for s in here for end in s):
        return True
    lines = [geo.line_through(*s) for s in here]
    return any(not geo.parallel(lines[0], other) for other in lines[1:])


def _creases(state: State, outline: polygons.Polygon) -> list[Segment]:
    found = (polygons.clip_segment(outline, s) for s in state.creases)
    return [s for s in found if s is not None]
