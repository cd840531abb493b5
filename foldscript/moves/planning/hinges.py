"""What paper turns about that is raised along lines: of all folds and creases there, those that are meant.

In: a `Request` with lines, and what is said after 'moving'. Out: segments on the sheet, each with the side
that it bends to. What another move left closed on the same line stays closed, unless it is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...geometry.isometries import map_segment
from ...geometry.lines import (
    Segment,
    distance,
    line_through,
    midpoint,
    on_line,
    overlap_of,
    same_line,
)
from ...geometry.polygons import clip_segment
from ...geometry.tolerance import EPS
from ...paper.signs import FoldLine, Sense
from ...paper.state import State
from ...pose.raising import between, bounding, flaps, hanging
from ...source.diagnostics import Refusal, write
from .at_points import places
from .counted_flaps import counted
from .request import Clause, LineValue, MoveRecord, PointValue, Request
from .rising_as_one import rising_as_one
from .standing_up import how


@dataclass(frozen=True, slots=True)
class _There:
    """Segments on the sheet that lie along a line: folds that are closed, creases that lie flat, and those of
    either that the words name.
    """

    closed: tuple[Segment, ...]
    flat: tuple[Segment, ...]
    named: tuple[Segment, ...]

    def own(self, some: Sequence[Segment]) -> tuple[Segment, ...]:
        """What the named segments have of some others."""
        shared = (overlap_of(s, other) for s in self.named for other in some)
        return tuple(s for s in shared if s is not None)


def hinges(
    request: Request, some: Request, lines: list[LineValue]
) -> tuple[tuple[Segment, ...], tuple[int, ...]]:
    """The segments that paper turns about, and their senses: all along these lines, or those by which so many
    layers hang, or the flaps whose points are named after 'moving' in `some` of the request. What joins two
    of these flaps on such a line has no angle of its own, for they rise together.

    A sense says which side was inside where the crease was made last: 1 the sheet's front, -1 its back; 0
    when that is not known. Where parts of a line that turn as one were creased to different sides, all of
    them rise towards the reader.
    """
    state = request.state
    there = [_there(state, line) for line in lines]
    if (layers := some.clause("layers")) is not None:
        _not_both(some, layers)
        rows = (
            (line, (*one.own(one.closed), *one.own(one.flat)))
            for line, one in zip(lines, there, strict=True)
        )
        found = [s for line, own in rows for s in counted(request, layers, line, own)]
    elif some.clause("moving") is None:
        for line, one in zip(lines, there, strict=True):
            _alone(request, line, one)
        found = [s for one in there for s in one.named]
    else:
        moved = _moved(request, some)
        found = [s for point in moved for s in _by_which(state, point, there)]
        kept = between(state, found, [point.sheet for point in moved if point.sheet is not None])
        found = [s for s in found if s not in kept]
    creases = tuple(dict.fromkeys(found))
    senses = tuple(_sense(request, crease) for crease in creases)
    return creases, rising_as_one(request, creases, senses)


def _there(state: State, line: LineValue) -> _There:
    """What lies along a line: the named crease's own segments, else every fold there.

    Of a crease that other folds have bent, that is the line that most of it lies along; what lies in a
    corner that was folded in goes with the corner.

    Raises Refusal, 'no-crease', where there is none.
    """
    closed = tuple(
        (joint.segment, seg)
        for joint, seg in state.fold_segments
        if same_line(line_through(*seg), line.line)
    )
    closed = tuple(s for s, seg in closed if _within(line, seg)) or tuple(s for s, _ in closed)
    flat = tuple(
        crease
        for crease in state.creases
        for k in state.facets_on_sheet(midpoint(*crease))
        if all(on_line(line.line, p) for p in map_segment(state.facets[k].place, crease))
    )
    if line.creases:
        there = _There(closed, flat, line.creases)
        return replace(there, named=there.own((*closed, *flat))) if _bent(state, line) else there
    if not closed and not flat:
        raise Refusal(
            "no-crease",
            f"there is no fold or crease along {line.words.render()} to raise paper about",
            "make the crease before, give it a name with 'as', and say that name here",
            span=line.span,
        )
    return _There(closed, flat, (*closed, *hanging(state, closed, flat)) if closed else flat)


def _bent(state: State, line: LineValue) -> bool:
    """Whether parts of a named crease lie along other lines, each shorter than what lies along that meant."""
    placed = (
        map_segment(facet.place, part)
        for facet in state.facets
        for crease in line.creases
        for part in [clip_segment(facet.outline, crease)]
        if part is not None
    )
    aside = [distance(*seg) for seg in placed if not all(on_line(line.line, p) for p in seg)]
    main = 0.0 if line.segment is None else distance(*line.segment)
    return bool(aside) and max(aside) < main - EPS


def _within(line: LineValue, seg: Segment) -> bool:
    """Whether a fold lies along the part of a line that is named, as between two points."""
    return line.segment is None or overlap_of(line.segment, seg) is not None


def _alone(request: Request, line: LineValue, there: _There) -> None:
    """Refuses a line that has closed folds as well as creases by which a flap hangs that lies flat: one of
    them would open or rise besides the one that is meant. Along a line without a name folds are meant that
    were made after those creases.
    """
    shut = there.own(there.closed)
    flat = there.own(there.flat) if line.creases else there.flat
    if not shut or not flat or not flaps(request.state, there.flat):
        return
    if not line.creases and _last(request, flat) <= _last(request, shut):
        return
    raise Refusal(
        "which-flap",
        f"along {line.words.render()} paper is folded over, and other paper that lies flat is creased: "
        "either could be raised",
        "add 'moving' and a point of the paper that rises, or of both; what else lies there stays as it is",
        span=line.span,
    )


def _not_both(some: Request, layers: Clause) -> None:
    """Refuses a number of layers beside points of flaps: either tells which paper rises."""
    moving = some.clause("moving")
    if moving is not None:
        raise Refusal(
            "which-flap",
            "a number of layers and 'moving' both tell which flaps are raised",
            write(layers.span, "", "leave the number of layers out"),
            write(moving.span, "", "or leave 'moving' out"),
            span=layers.span,
        )


def _moved(request: Request, some: Request) -> list[PointValue]:
    """The points after 'moving'. Raises Refusal, 'moving-what', for anything else."""
    named = places(some, "moving")
    points = [v for v in named if isinstance(v, PointValue) and v.sheet is not None]
    if len(points) < len(named):
        raise how(request, "moving-what", "after 'moving' come points of the flaps that are raised")
    return points


def _by_which(state: State, point: PointValue, there: list[_There]) -> tuple[Segment, ...]:
    """The segments by which the flap with a point hangs: creases that lie flat where these are enough, and
    else folds.
    """
    assert point.sheet is not None
    flat = [s for one in there for s in one.flat]
    shut = [s for one in there for s in one.closed]
    ways = (
        lambda: [s for one in there for s in one.own(one.flat)],
        lambda: flat,
        lambda: [*shut, *hanging(state, shut, flat)] if shut else [],
        lambda: [s for one in there for s in one.named],
    )
    for way in ways:
        some = list(dict.fromkeys(way()))
        kept = bounding(state, some, point.sheet) if some else ()
        if kept:
            return kept
    raise Refusal(
        "no-flap-there",
        f"{point.words.render()} lies on no flap that turns about the lines named: the paper there stays",
        "name a point beyond the fold; to say which side stays, add 'holding' and a point of it",
        span=point.span,
    )


def _sense(request: Request, crease: Segment) -> int:
    """Which side is inside of a closed fold, or was where a crease was made last; 0 when not known."""
    known = (_made(record, crease) for record in reversed(request.history))
    return _inside(request.state, crease) or next((sense for sense in known if sense), 0)


def _last(request: Request, creases: Sequence[Segment]) -> int:
    """After how many moves the last of these lay as it does: was closed, or was made and lies flat."""
    state = request.state

    def changed(record: MoveRecord, crease: Segment) -> bool:
        if _inside(state, crease):
            return not _inside(record.before, crease)
        return bool(_made(record, crease))

    moves = list(enumerate(request.history, start=1))
    return max((n for n, record in moves for s in creases if changed(record, s)), default=0)


def _inside(state: State, crease: Segment) -> int:
    """Which side is inside of the fold that is closed along a crease, 0 where none is."""
    folds = (joint for joint in state.joints if joint.folded)
    fold = next((joint for joint in folds if overlap_of(joint.segment, crease)), None)
    if fold is None:
        return 0
    front, back = sorted((fold.a, fold.b), key=lambda k: not state.facets[k].shows_front)
    return 1 if state.above(back, front) else -1


def _made(record: MoveRecord, crease: Segment) -> int:
    """Which side was inside of a crease that a move opened, or made and laid back; else 0."""
    state = record.before
    opened = _inside(state, crease)
    if opened:
        return opened
    sides = [
        k for k, facet in enumerate(state.facets) if clip_segment(facet.outline, crease) is not None
    ]
    if not sides:
        return 0
    line = line_through(*map_segment(state.facets[sides[0]].place, crease))
    made = {
        sign.sense
        for sign in record.signs
        if isinstance(sign, FoldLine)
        and any(same_line(line, line_through(*seg)) for _, seg in sign.parts)
        and (crease not in state.creases or {k for k, _ in sign.parts} & set(sides))
    }
    if len(made) != 1 or not made <= {Sense.VALLEY, Sense.MOUNTAIN}:
        return 0
    front = state.facets[sides[0]].shows_front
    return 1 if front == (made == {Sense.VALLEY}) else -1
