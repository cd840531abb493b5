"""What hands are asked to do with flat paper so that it stands in space: plain values, millimetres and
degrees.

In: nothing; a move's words are turned into these where they are read. Out: values that the rest of the room
works on. Places on the model are points of the folded plane, lines of paper are segments of the sheet
(`Segment`, sheet units), as everywhere in the kernel; amounts are in millimetres and degrees, as people say
them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..geometry.isometries import Isometry, map_segment
from ..geometry.lines import Point, Segment


@dataclass(frozen=True, slots=True)
class Raise:
    """Turn flaps about creases until they stand at an angle to what they were folded from.

    Attributes
    ----------
    creases : segments on the sheet
    angle : degrees between the two sides of the crease: 0 folded flat together, 180 flat open
    senses : for each crease 1 where it was made with the sheet's front inside, -1 with its back inside, 0
        where that is not known: then a crease that lies flat becomes a valley as the reader sees it now
    """

    creases: tuple[Segment, ...]
    angle: float
    senses: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Fan(Raise):
    """Spread flaps evenly about a line that they share, each about the crease up its middle."""


@dataclass(frozen=True, slots=True)
class Floor(Raise):
    """Press the paper round a closed point flat: the creases that meet there open, and it is a floor.

    Attributes
    ----------
    tip : that point of the sheet, mm
    """

    tip: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Level(Raise):
    """Turn flaps about creases until they are level with the paper at a point of the sheet, or with what has
    stayed; the angle follows from that.
    """

    like: Point | None = None


@dataclass(frozen=True, slots=True)
class Open:
    """Part the two sides of the pocket that opens at an edge of the flat model.

    Attributes
    ----------
    edge : in the folded plane
    width : mm that the sides are to be apart in the middle of the edge
    at_most : whether less will do, where the paper does not open so wide
    """

    edge: Segment
    width: float
    at_most: bool = False


@dataclass(frozen=True, slots=True)
class Blow:
    """Fill with a breath the pocket that opens at an edge (folded plane), or the space that is closed all
    round.
    """

    edge: Segment | None = None


@dataclass(frozen=True, slots=True)
class Spread:
    """Pull the uppermost and the lowest layers apart at a point of the folded plane, to a width in mm."""

    at: Point
    width: float


@dataclass(frozen=True, slots=True)
class Bring:
    """Bring a point of the sheet to a place of the folded plane, on the level of what has stayed there."""

    point: Point
    to: Point


@dataclass(frozen=True, slots=True)
class Stand:
    """Turn the whole model in space, so that it stands on these points of the sheet (mm).

    Attributes
    ----------
    feet : the points, or the two ends of an edge of the flat figure
    edges : all paper that lay along that edge, parts of the sheet's lines (mm)
    """

    feet: tuple[Point, ...]
    edges: tuple[Segment, ...] = ()


@dataclass(frozen=True, slots=True)
class Turned:
    """Turn the whole model as it stands: over side to side, then by degrees against the clock."""

    over: bool
    degrees: float


@dataclass(frozen=True, slots=True)
class Curl:
    """Roll a point of the sheet, or an edge through it, on a cylinder.

    The roll begins at the line through `begins` across the way from there to the point; all paper beyond
    that goes with the point lies on the cylinder.

    Attributes
    ----------
    point, begins : on the sheet
    radius : of the cylinder, mm
    front_inside : whether the sheet's front lies inside at the point
    """

    point: Point
    begins: Point
    radius: float
    front_inside: bool


@dataclass(frozen=True, slots=True)
class Part:
    """Part a layer from the next one, as fingers do that slip in between; so do all pockets that lie alike.

    Attributes
    ----------
    at : on the sheet, where the layer is
    front : whether it is parted on the sheet's front side there, or on its back
    whole : whether the whole space there opens, or only as far as the layer is plane
    upward : whether fingers come from the reader's side of the flat figure, so that its mouth is there
    """

    at: Point
    front: bool
    whole: bool = True
    upward: bool = True


@dataclass(frozen=True, slots=True)
class Round:
    """Pinch the layers together along two lines, and round what is between them to both sides.

    Attributes
    ----------
    one, other : segments on the sheet of the two lines
    width : mm between both sides, in the middle of them
    parts : the layer that is parted from the next; None where as many layers go to either side
    """

    one: tuple[Segment, ...]
    other: tuple[Segment, ...]
    width: float
    parts: Part | None = None


@dataclass(frozen=True, slots=True)
class Hold:
    """Hold all layers together at a place while the rest is done; the paper there stays where it lies.

    Attributes
    ----------
    at : in the folded plane
    point : on the sheet
    """

    at: Point
    point: Point


@dataclass(frozen=True, slots=True)
class Pull:
    """Pull a point of the sheet away from another that is held, so many mm along a way.

    Attributes
    ----------
    point, held : on the sheet
    way : unit vector, in the folded plane and towards the reader
    by : mm that they come farther apart along it than they lie
    """

    point: Point
    held: Point
    way: tuple[float, float, float]
    by: float


@dataclass(frozen=True, slots=True)
class Close:
    """Bend all units that are put together at these creases (segments on the sheet), each by a right angle to
    the reader's side, so that the tabs that are free yet come into their pockets.
    """

    creases: tuple[Segment, ...]


Goal = (
    Part
    | Raise
    | Open
    | Blow
    | Spread
    | Bring
    | Stand
    | Curl
    | Round
    | Hold
    | Pull
    | Turned
    | Close
)
#: Goals that move the whole model, and nothing of it against the rest.
WHOLE = (Stand, Turned)
#: Goals that turn and roll paper exactly as it is.
EXACT = (Raise, Curl, Round, Hold, Close)
#: What is done one after the other; goals of one stage are reached together.
Stages = tuple[tuple[Goal, ...], ...]


def carried(goal: Goal, motion: Isometry) -> Goal:
    """The same goal when the whole model has been turned, or turned over, on the table."""
    match goal:
        case Raise() | Stand() | Curl() | Round() | Turned() | Close():
            return goal
        case Part():
            return replace(goal, upward=goal.upward != motion.flips)
        case Open():
            return replace(goal, edge=map_segment(motion, goal.edge))
        case Blow():
            return goal if goal.edge is None else Blow(map_segment(motion, goal.edge))
        case Spread():
            return replace(goal, at=motion(goal.at))
        case Bring():
            return replace(goal, to=motion(goal.to))
        case Hold():
            return replace(goal, at=motion(goal.at))
        case Pull(way=(x, y, z)):
            a, b, _, c, d, _ = motion
            over = -1.0 if motion.flips else 1.0
            return replace(goal, way=(a * x + b * y, c * x + d * y, over * z))
