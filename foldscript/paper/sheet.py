"""The unfolded sheet, or several that lie in one plane side by side.

Coordinates inside the kernel are sheet units: millimetres divided by `unit_mm`, the longer side of
the sheet's bounding box. The front is the side that faces the reader before the first step.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..geometry import polygons
from ..geometry.lines import Point, Segment
from ..geometry.polygons import Polygon


@dataclass(frozen=True)
class Sheet:
    """A sheet of paper as it lies open: convex as it comes, of any shape once a piece has been cut off.

    Attributes
    ----------
    outline : corners, counter-clockwise, in sheet units, seen from the front
    corner_names : one name per corner, in the same order; of a cut sheet those of `left` alone
    unit_mm : millimetres per sheet unit
    shape : how the head of the model names it ('square 15 cm'), for captions and title blocks
    front_coloured : whether the front is the coloured side
    holes : outlines of holes that have been cut out, clockwise
    left : of a cut sheet, the corners that it had before and still has; None while it is uncut
    colours : of the coloured and of the plain side, '' for those of the model
    number : of the unit that is folded from it; 0 where there is only one
    others : further sheets that are put together with this one; their outlines lie beside it, in its
        units, and their corners have names of their own
    """

    outline: Polygon
    corner_names: tuple[str, ...]
    unit_mm: float
    shape: str = ""
    front_coloured: bool = False
    holes: tuple[Polygon, ...] = ()
    left: tuple[Point, ...] | None = None
    colours: tuple[str, str] = ("", "")
    number: int = 0
    others: tuple[Sheet, ...] = ()

    @property
    def all(self) -> tuple[Sheet, ...]:
        """This sheet and those that it is put together with."""
        return (self, *self.others)

    @property
    def corners(self) -> tuple[tuple[str, Point], ...]:
        """(name, place) of every corner that has a name."""
        places = self.outline if self.left is None else self.left
        return tuple(zip(self.corner_names, places, strict=True))

    @property
    def all_corners(self) -> tuple[tuple[str, Point], ...]:
        """The same of all sheets."""
        return tuple(pair for one in self.all for pair in one.corners)

    def corner(self, name: str) -> Point:
        """Position of a named corner; KeyError when there is none."""
        return dict(self.all_corners)[name]

    def is_corner(self, name: str) -> bool:
        """Whether a name is that of a corner."""
        return any(name in one.corner_names for one in self.all)

    @cached_property
    def sides(self) -> tuple[Segment, ...]:
        """Every edge, those of holes last, the paper on its left."""
        return tuple(side for ring in (self.outline, *self.holes) for side in polygons.edges(ring))

    @cached_property
    def all_sides(self) -> tuple[Segment, ...]:
        """The same of all sheets."""
        return tuple(side for one in self.all for side in one.sides)
