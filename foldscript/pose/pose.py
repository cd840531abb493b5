"""What this room gives: where every piece of the sheet lies in space, and the proof that it can.

In: nothing. Out: frozen data for drawing, words and other formats, which know nothing of how it was found.

    state + goals ──raise, open, blow──▶ places ──prove──▶ Pose

A `Pose` is one sheet of paper, cut in thought into flat `pieces`. Points are listed once for the whole
sheet: `sheet[k]` is where point k lies on the unfolded sheet (mm, seen from the front), `space[k]` where it
lies in space (mm). Axes of space are those of the flat figure that the pose was made from: x to the right
of the page, y up the page, z to the reader; so a point that did not move has its flat place and z = 0.

A piece is a plane polygon (or nearly so, where paper is bent: `Proof.bent` says how much). Pieces that
share a `panel` belong to one smooth surface between creases, bent or plane: the lines between them are of
kind 'bend', and are no creases. `edges` are all lines of the drawing: the rim, folds, creases, bends, each
with the angle that it is folded by. `touching` tells, for pieces that lie flat together, which side of the
one the other is on: what covers what there is taken from it, never from depths.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ..geometry.lines import Point
from .goals import Goal

#: A point in space, millimetres.
Vector = tuple[float, float, float]


class Line(StrEnum):
    """What a line of a pose is."""

    RIM = "rim"  # a free edge: the sheet's own, or a cut
    FOLD = "fold"  # folded flat in the state that the pose was made from
    CREASE = "crease"  # a crease that lay flat there
    BEND = "bend"  # no crease: paper bends there in this pose only


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of the sheet that is plane in space.

    Attributes
    ----------
    corners : indices of points, counter-clockwise as seen from the sheet's front
    facet : index of the facet of the flat state that it is cut from
    plate : index of that facet's plate
    panel : pieces of one smooth surface have the same number
    """

    corners: tuple[int, ...]
    facet: int
    plate: int
    panel: int


@dataclass(frozen=True, slots=True)
class Edge:
    """A line between two pieces, or a free edge.

    Attributes
    ----------
    start, end : points; the left piece lies to the left of the way from start to end, seen from the front
    left, right : pieces; `right` is None at a free edge
    angle : radians by which it is folded: 0 flat, positive where the front is inside (a valley seen from
        the front), π folded flat together
    kind : what it is
    """

    start: int
    end: int
    left: int
    right: int | None
    angle: float
    kind: Line


@dataclass(frozen=True, slots=True)
class Touching:
    """Two pieces that lie flat together: `other` lies on the front side of `one`, or on its back."""

    one: int
    other: int
    on_front: bool


@dataclass(frozen=True, slots=True)
class Reached:
    """What a goal asked and what the pose has, both in millimetres or degrees as `unit` says.

    Attributes
    ----------
    between : of a width the two places that it is measured between: points of the sheet on one side and on
        the other, and how much of them makes up the place
    """

    goal: str
    asked: float
    got: float
    unit: str
    enough: bool
    between: tuple[tuple[Point, Point, float], ...] = ()


class Amiss(StrEnum):
    """What can be amiss with a pose."""

    STRETCHED = "stretched"  # paper would have to be longer or shorter than it is
    GAPES = "gapes"  # pieces come apart
    HELD = "held"  # other creases would have to give way
    BENT = "bent"  # a piece is not plane
    THROUGH = "through"  # paper passes through paper
    SWAPPED = "swapped"  # layers change places
    CRUMPLED = "crumpled"  # paper is bent sharply where it has no crease
    UNEVEN = "uneven"  # not alike where paper and words are
    TURNED = "turned"  # a fold turns to its other side
    MISSED = "missed"  # a goal is not reached
    UNSURE = "unsure"  # layers come together in an order that nothing tells
    TANGLED = "tangled"  # layers lie round about over each other
    COVERED = "covered"  # a flap lies under other paper


@dataclass(frozen=True, slots=True)
class Fault:
    """What did not pass: its kind, and in plain words."""

    kind: Amiss
    text: str


@dataclass(frozen=True, slots=True)
class Proof:
    """What was checked on the finished pose, by `proof.py`, which shares nothing with what solves.

    Attributes
    ----------
    stretch : largest change of a length, as a share of it (sides and diagonals of all pieces)
    bent : largest distance of a corner from the plane of its piece, mm
    gap : largest distance between places of one point of the sheet as its pieces have it, mm
    crossing : deepest that paper passes through paper, mm
    swapped : deepest that layers have changed places, mm
    bend : most that paper is bent by at a line where it neither has a crease nor is meant to break, degrees
    uneven : farthest that a point lies from where the motions of paper and goals to themselves have it, mm
    tangled : whether pieces that lie flat together can lie in no order, each on the next and the last on
        the first
    unfolded : folds that have turned to their other sense, or through themselves
    reached : the goals
    faults : what did not pass; () for a pose that may be drawn
    where : the place of the folded plane at which paper is in the way, where that is known
    turned : the numbers of the edges of those folds that have turned
    """

    stretch: float
    bent: float
    gap: float
    crossing: float
    swapped: float
    bend: float
    uneven: float
    tangled: bool
    unfolded: int
    reached: tuple[Reached, ...]
    faults: tuple[Fault, ...]
    where: tuple[float, float] | None = None
    turned: tuple[int, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether all that was checked has passed."""
        return not self.faults


@dataclass(frozen=True)
class Pose:
    """One sheet in space (the module's docstring tells the whole of it).

    Attributes
    ----------
    sheet : points on the unfolded sheet, mm
    space : the same points in space, mm
    pieces, edges, touching : see there; `touching` in no meaningful order
    goals : what was asked
    still : the piece that has stayed where it lay in the flat figure
    front_coloured : whether the front is the coloured side
    proof : what was checked
    """

    sheet: tuple[tuple[float, float], ...]
    space: tuple[Vector, ...]
    pieces: tuple[Piece, ...]
    edges: tuple[Edge, ...]
    touching: tuple[Touching, ...]
    goals: tuple[Goal, ...]
    still: int
    front_coloured: bool
    proof: Proof

    @property
    def size(self) -> Vector:
        """Width, height and depth of the box round it, in mm, along the axes of space."""
        lows, highs = self.box
        return (highs[0] - lows[0], highs[1] - lows[1], highs[2] - lows[2])

    @property
    def box(self) -> tuple[Vector, Vector]:
        """The least and the greatest coordinates."""
        x, y, z = zip(*self.space, strict=True)
        return (min(x), min(y), min(z)), (max(x), max(y), max(z))
