"""Signs: what a move tells the reader, in folded coordinates of the state it starts from.

Moves make them, drawing turns them into ink. They carry meaning, never looks: sense, place, role. What kinds
of arrows and of signs at points there are, the files in `drawing/signs/` say: any key that has a file may be
left by a move.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum

from ..geometry.lines import Point, Segment


class Sense(Enum):
    """Which way a crease goes, as the reader sees it."""

    VALLEY = "valley"
    MOUNTAIN = "mountain"


OPPOSITE = {Sense.VALLEY: Sense.MOUNTAIN, Sense.MOUNTAIN: Sense.VALLEY}


@dataclass(frozen=True, slots=True)
class FoldLine:
    """A crease to be made now. `parts` pairs each segment with the facet that it creases.

    opens : whether it is a fold already, which only opens: then no line is drawn
    layers : what lies beside the line where paper moves, topmost first: whether each layer moves; () where
        the move itself says it
    layered : the same for every part of the line where others lie, those where most move first
    """

    sense: Sense
    parts: tuple[tuple[int, Segment], ...]
    pinch: bool = False
    opens: bool = False
    layers: tuple[bool, ...] = ()
    layered: tuple[tuple[tuple[bool, ...], Segment], ...] = ()


@dataclass(frozen=True, slots=True)
class GuideLine:
    """A line that only locates a fold; `through`: the point that it helps to find, if it is there for one."""

    segment: Segment
    through: Point | None = None


@dataclass(frozen=True, slots=True)
class CutLine:
    """A line to be cut, or several end to end. `parts` as in `FoldLine`; the first begins the cut."""

    parts: tuple[tuple[int, Segment], ...]


@dataclass(frozen=True, slots=True)
class Discarded:
    """Paper that a cut takes away: the rings of all of it that is seen from the front."""

    areas: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Arrow:
    """A movement: `tail` on the paper that moves, `head` where that paper lands.

    act : what the arrow says, a plain key ('fold-unfold'), as in `drawing/signs/arrow_fold_unfold.py`
    under : whether it ends behind other layers or between them; of a mountain fold, which always does,
        whether it is behind them from the start
    mouth : the edge where it goes under them, if it is known
    leaves : the edge where it comes out from under them, if it does
    """

    act: str
    tail: Point
    head: Point
    under: bool = False
    mouth: Segment | None = None
    leaves: Segment | None = None


@dataclass(frozen=True, slots=True)
class PointSign:
    """A sign at a point.

    kind : which one, a plain key ('hold'), as in `drawing/signs/point_hold.py`
    toward : its direction where it has one; opens : the edge or the slit that is opened;
    slit : whether it opens amid the paper; count : how often it is done, on points that lie together
    foot : for a place that a standing model is put down on, where it is on the sheet (sheet units)
    """

    kind: str
    at: Point
    toward: Point | None = None
    opens: Segment | None = None
    slit: bool = False
    count: int = 1
    foot: Point | None = None


@dataclass(frozen=True, slots=True)
class EqualAngles:
    """The angles from `first` to `middle` and from `middle` to `last`, seen from `apex`, are equal."""

    apex: Point
    first: Point
    middle: Point
    last: Point


@dataclass(frozen=True, slots=True)
class EqualLengths:
    """Segments of equal length along an edge; `anew`: no words of the script, but what its figure needs."""

    segments: tuple[Segment, ...]
    anew: bool = False


@dataclass(frozen=True, slots=True)
class Measure:
    """A length from `start` to `end` on the paper of the given size: a number as the script writes it, and
    the symbol of its unit ('mm', 'cm', 'in'); `anew` as in `EqualLengths`.
    """

    start: Point
    end: Point
    number: str
    unit: str
    anew: bool = False


@dataclass(frozen=True, slots=True)
class Angle:
    """An angle of so many degrees at `apex`, from a line through `first` to one through `last`."""

    apex: Point
    first: Point
    last: Point
    degrees: float


@dataclass(frozen=True, slots=True)
class RightAngle:
    """A right angle at `apex` between the directions to `first` and `last`."""

    apex: Point
    first: Point
    last: Point


@dataclass(frozen=True, slots=True)
class RaisedAngle:
    """So many degrees from paper to a flap that is raised off it, or bent away from the reader.

    tip : a place of the flap, where it lies yet; foot : the place of its line nearest to that
    degrees : None where that follows from how other paper stands
    folded : whether the flap lies folded over the paper, else it goes on flat beyond its line
    """

    tip: Point
    foot: Point
    degrees: float | None
    folded: bool = False
    away: bool = False


@dataclass(frozen=True, slots=True)
class Apart:
    """How far layers are drawn apart at a place, in the units of `Measure`."""

    at: Point
    number: str
    unit: str


@dataclass(frozen=True, slots=True)
class Opening:
    """Which of several openings between layers paper goes into, as they are seen from the side.

    at : where it goes in; way : the direction in which it goes
    above, below : how many layers lie over what goes in, and under it
    folds : layers that a fold joins, counted from the top without what goes in, and whether that fold is at
        the side where it goes in
    """

    at: Point
    way: Point
    above: int
    below: int
    folds: tuple[tuple[int, int, bool], ...] = ()


@dataclass(frozen=True, slots=True)
class Opened:
    """Folds are opened, more than one, until the paper lies within these rings; near : places beside which
    that is told
    """

    rings: tuple[tuple[Point, ...], ...]
    near: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class TurnOver:
    """The whole model is turned over: 'side to side' (like a page) or 'top to bottom'."""

    side_to_side: bool


@dataclass(frozen=True, slots=True)
class Rotate:
    """The whole model is turned in its plane; degrees, counter-clockwise positive."""

    degrees: float


@dataclass(frozen=True, slots=True)
class RepeatSign:
    """Steps `first` to `last` are done `times` times more, `behind` when on the back; `at` is shown where."""

    first: int
    last: int
    times: int
    at: Point | None = None
    behind: bool = False


Sign = (
    FoldLine
    | GuideLine
    | CutLine
    | Discarded
    | Arrow
    | PointSign
    | EqualAngles
    | EqualLengths
    | Measure
    | Angle
    | RightAngle
    | RaisedAngle
    | Apart
    | Opening
    | Opened
    | TurnOver
    | Rotate
    | RepeatSign
)

#: Signs that tell how a point or a line is found.
Landmark = GuideLine | EqualAngles | EqualLengths | Measure | Angle | RightAngle


def landmark_points(sign: Landmark) -> tuple[Point, ...]:
    """Every point that a landmark is drawn by."""
    match sign:
        case GuideLine():
            return sign.segment
        case EqualLengths():
            return tuple(p for part in sign.segments for p in part)
        case Measure():
            return sign.start, sign.end
        case EqualAngles():
            return sign.apex, sign.first, sign.middle, sign.last
        case Angle() | RightAngle():
            return sign.apex, sign.first, sign.last


def landmark_moved(sign: Landmark, motion: Callable[[Point], Point]) -> Landmark:
    """A landmark where a motion carries it."""
    match sign:
        case GuideLine(segment=(p, q)):
            at = None if sign.through is None else motion(sign.through)
            return GuideLine((motion(p), motion(q)), at)
        case EqualLengths():
            return replace(sign, segments=tuple((motion(p), motion(q)) for p, q in sign.segments))
        case Measure():
            return replace(sign, start=motion(sign.start), end=motion(sign.end))
        case EqualAngles():
            ends = sign.first, sign.middle, sign.last
            return EqualAngles(motion(sign.apex), *map(motion, ends))
        case Angle() | RightAngle():
            apex, first, last = map(motion, (sign.apex, sign.first, sign.last))
            return replace(sign, apex=apex, first=first, last=last)
