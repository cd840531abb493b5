"""The unfolded sheet.

Coordinates inside the kernel are sheet units: millimetres divided by `unit_mm`, the longer side of
the sheet's bounding box. The front is the side that faces the reader before the first step.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..geometry.lines import Point
from ..geometry.polygons import Polygon


@dataclass(frozen=True)
class Sheet:
    """A convex sheet of paper.

    Attributes
    ----------
    outline : corners, counter-clockwise, in sheet units, seen from the front
    corner_names : one name per corner, in the same order
    unit_mm : millimetres per sheet unit
    shape : how the head of the model names it ('square 15 cm'), for captions and title blocks
    front_coloured : whether the front is the coloured side
    """

    outline: Polygon
    corner_names: tuple[str, ...]
    unit_mm: float
    shape: str = ""
    front_coloured: bool = False

    def corner(self, name: str) -> Point:
        """Position of a named corner; KeyError when there is none."""
        try:
            return self.outline[self.corner_names.index(name)]
        except ValueError:
            raise KeyError(name) from None
