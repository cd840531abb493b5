"""What captions call the points and lines of the paper: in a folder's words, not in the script's.

In: a point or line as it lies now. Out: phrases that can be translated. A folder cannot see the names
that a script gives to creases, so a crease is told by how it runs and, where several run like it, by the
step that made it.
"""

from __future__ import annotations

from fractions import Fraction

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.isometries import map_segment
from ...geometry.lines import Line, Segment, subtract, unit
from ...geometry.tolerance import EPS
from ...languages.unit_names import said_together
from ...languages.wording import Phrase, Template, phrase
from ...moves.planning import called
from ...moves.planning.called import Kind
from ...moves.planning.request import PointValue
from ...paper import silhouette
from ...paper.state import State
from .names import Names
from .spans import by_line

_PARTS: dict[Fraction, Template] = {
    Fraction(1, 3): "a third",
    Fraction(2, 3): "two thirds",
    Fraction(1, 4): "a quarter",
    Fraction(3, 4): "three quarters",
    Fraction(1, 5): "a fifth",
    Fraction(2, 5): "two fifths",
    Fraction(3, 5): "three fifths",
    Fraction(4, 5): "four fifths",
    Fraction(1, 6): "a sixth",
    Fraction(5, 6): "five sixths",
    Fraction(1, 8): "an eighth",
    Fraction(3, 8): "three eighths",
    Fraction(5, 8): "five eighths",
    Fraction(7, 8): "seven eighths",
}
_CREASES: dict[str, tuple[Template, Template]] = {
    "level": ("the horizontal crease", "the horizontal crease made in step {n}"),
    "upright": ("the vertical crease", "the vertical crease made in step {n}"),
    "diagonal": ("the diagonal crease", "the diagonal crease made in step {n}"),
    "slanting": ("the slanting crease", "the slanting crease made in step {n}"),
}
#: From one end to the other: the first, the one in the middle of three, the last.
_PLACED: dict[str, tuple[Template, Template, Template]] = {
    "level": (
        "the bottom horizontal crease",
        "the middle horizontal crease",
        "the top horizontal crease",
    ),
    "upright": (
        "the left vertical crease",
        "the middle vertical crease",
        "the right vertical crease",
    ),
}
_COUNTED: dict[str, Template] = {
    "level": "the {nth} horizontal crease from the bottom",
    "upright": "the {nth} vertical crease from the left",
}
_ORDINALS: tuple[Template, ...] = (
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
)
_ENDS: dict[str, Template] = {
    "left": "the left end of {line}",
    "right": "the right end of {line}",
    "top": "the upper end of {line}",
    "bottom": "the lower end of {line}",
}
#: Edges whose ends one tells by above and below; what is counted from the upper end, and from the lower.
_SIDEWAYS = (("left",), ("right",))
_FROM: tuple[Template, Template] = (
    "the point {part} of the way along {line} from its upper end",
    "the point {part} of the way along {line} from its lower end",
)
#: A crease is a pinch while it is this part of what the paper would take, or less.
_SHORT = 0.4


def part(numerator: int, denominator: int) -> Phrase:
    """'a third', 'three quarters', '3/7'."""
    known = _PARTS.get(Fraction(numerator, denominator))
    return Phrase(known) if known else phrase("{part}", part=f"{numerator}/{denominator}")


def between(p: PointValue, q: PointValue, numerator: int, denominator: int, *, rim: bool) -> Phrase:
    """A point on the way from p to q; `rim` tells that both lie on one edge of the sheet."""
    half = 2 * numerator == denominator
    if p.letter and q.letter:
        pq = said_together(p.letter, q.letter)
        if half and rim:
            return phrase("the middle of edge {ends}", ends=pq)
        if half:
            return phrase("the middle of line {ends}", ends=pq)
    if half:
        return phrase("the point halfway between {p} and {q}", p=p.words, q=q.words)
    return phrase(
        "the point {part} of the way from {p} to {q}",
        part=part(numerator, denominator),
        p=p.words,
        q=q.words,
    )


def along(line: Phrase, segment: Segment, numerator: int, denominator: int) -> Phrase:
    """A point on a line, counted from the nearer end, or from the lower one where it is upright."""
    if 2 * numerator == denominator:
        return phrase("the middle of {line}", line=line)
    start, end = segment
    how_far = part(numerator, denominator)
    if _runs(subtract(end, start)) == "upright":
        return phrase("the point {part} of the way up {line}", part=how_far, line=line)
    if isinstance(line, called.Called) and line.toward in _SIDEWAYS:
        up = end[1] > start[1]
        near = 2 * numerator < denominator
        how_far = part(numerator if near else denominator - numerator, denominator)
        return phrase(_FROM[up == near], part=how_far, line=line)
    if 2 * numerator > denominator:  # as its mirror image is told
        rest = part(denominator - numerator, denominator)
        return phrase(
            "the point {part} of the way along {line} from its right end", part=rest, line=line
        )
    return phrase(
        "the point {part} of the way along {line} from its left end", part=how_far, line=line
    )


def end(toward: str, line: Phrase) -> Phrase:
    """The end of a line that is farthest one way."""
    return phrase(_ENDS[toward], line=line)


def through(p: PointValue, q: PointValue) -> Phrase:
    """The line through two points."""
    if p.letter and q.letter:
        return called.line(p.letter, q.letter)
    return phrase("the line from {p} to {q}", p=p.words, q=q.words)


def edge(p: PointValue, q: PointValue) -> Phrase:
    """The edge of the sheet between two points."""
    if p.letter and q.letter:
        return called.edge(p.letter, q.letter)
    return phrase("the edge between {p} and {q}", p=p.words, q=q.words)


def crease(state: State, names: Names, name: str, line: Line, segment: Segment) -> Phrase:
    """A crease or fold that the script has named."""
    outer = _outer_edge(state, segment)
    if outer is not None:
        return outer
    if _is_pinch(state, names.creases.get(name, ())):
        return _pinch(state, names, name)
    runs = _runs(line.direction)
    plain, dated = _CREASES[runs]
    alike = [other for other in _creases(state, names, line) if _runs(other.direction) == runs]
    if len(alike) == 1 and not (
        _new(state, names, line) and runs in _PLACED and _is_middle(state, line)
    ):
        return Phrase(plain)  # but not one of a step that may make more beside it
    if runs in _PLACED:
        row = sorted(alike, key=lambda other: _middle(other)[1 if runs == "level" else 0])
        place = next(k for k, other in enumerate(row) if geo.same_line(other, line))
        of_three = 1 if len(row) == 3 else None
        middle = next((k for k, one in enumerate(row) if _is_middle(state, one)), of_three)
        ends = (0, len(row) - 1)
        if place == middle and (place in ends or len(row) == 3):
            return Phrase(_PLACED[runs][1])
        if place in ends:
            return Phrase(_PLACED[runs][0 if place == 0 else 2])
        if place <= len(_ORDINALS):
            return phrase(_COUNTED[runs], nth=Phrase(_ORDINALS[place - 1]))
    if runs == "diagonal":
        parallel = [o for o in alike if _rises(o.direction) == _rises(line.direction)]
        if len(parallel) == 1:
            left = "bottom" if _rises(line.direction) else "top"
            return called.seen(Kind.DIAGONAL, (left, "left"))
    step = names.made.get(name)
    if step is None or name in names.inherited:
        return Phrase(plain)
    return phrase(dated, n=str(step))


def _new(state: State, names: Names, line: Line) -> bool:
    """Whether the step that is folded has made a crease."""
    if names.earlier is None:
        return False
    return not any(geo.same_line(other, line) for other in _lines(state, names.earlier))


def _is_middle(state: State, line: Line) -> bool:
    """Whether a line runs through the middle of the figure, whatever other creases there will be yet."""
    return geo.on_line(line, silhouette.centre(state))


def _runs(way: geo.Point) -> str:
    x, y = unit(way)
    if abs(y) < 0.01:
        return "level"
    if abs(x) < 0.01:
        return "upright"
    return "diagonal" if abs(abs(x) - abs(y)) < 0.01 else "slanting"


def _outer_edge(state: State, segment: Segment) -> Phrase | None:
    """The edge of the figure that a fold is now, where it can be told by its direction."""
    if _amid_paper(state, segment):
        return None
    sides = [side for ring in state.outlines for side in polygons.edges(ring)]
    side = next((s for s in sides if geo.overlap_of(s, segment) is not None), None)
    if side is None:
        return None
    ux, uy = unit(subtract(side[1], side[0]))
    facing = sorted(
        called.SIDES, key=lambda t: -round(geo.dot((uy, -ux), silhouette.direction(t)), 9)
    )
    for toward in facing[:2]:
        if silhouette.edges_toward(state, toward) == (side,):
            return called.seen(Kind.EDGE, toward)
    return None


def _amid_paper(state: State, segment: Segment) -> bool:
    """Whether paper lies all along a segment on either side of it."""
    line = geo.line_through(*segment)
    sides = [
        polygons.half_plane_extent(placed, line)
        for placed in state.placed
        if all(polygons.inside(placed, p) for p in segment)
    ]
    return min((lo for lo, _ in sides), default=0.0) < -EPS and max(hi for _, hi in sides) > EPS


def _creases(state: State, names: Names, line: Line) -> list[Line]:
    """The lines along which the figure shows creases, as the paper lies now, the given one among them."""
    shown = state.creases if names.earlier is None else names.earlier
    lines = _lines(state, shown)
    if not any(geo.same_line(other, line) for other in lines):  # made in the step that is folded
        lines = _lines(state, state.creases)
    return [line, *(other for other in lines if not geo.same_line(other, line))]


def _lines(state: State, creases: tuple[Segment, ...]) -> list[Line]:
    placed = [
        (0, map_segment(facet.place, piece))
        for facet in state.facets
        for segment in creases
        if (piece := polygons.clip_segment(facet.outline, segment)) is not None
    ]
    return [line for line, _ in by_line(placed)]


def _is_pinch(state: State, segments: tuple[Segment, ...]) -> bool:
    """Whether a crease is short on all the paper that carries it."""
    for facet in state.facets:
        for segment in segments:
            piece = polygons.clip_segment(facet.outline, segment)
            whole = polygons.clip_line(facet.outline, geo.line_through(*segment))
            if piece and whole and geo.distance(*piece) > _SHORT * geo.distance(*whole):
                return False
    return bool(segments)


def _pinch(state: State, names: Names, name: str) -> Phrase:
    others = [n for n, s in names.creases.items() if n != name and _is_pinch(state, s)]
    step = names.made.get(name)
    if not others or step is None or name in names.inherited:
        return Phrase("the pinch")
    return phrase("the pinch made in step {n}", n=str(step))


def _middle(line: Line) -> geo.Point:
    """The point of a line nearest to the origin."""
    return (line.nx * line.c, line.ny * line.c)


def _rises(way: geo.Point) -> bool:
    return way[0] * way[1] > 0
