"""Shapes of a fixed form, written as path data.

In: strokes as role and path data (absolute M, L, C and Z in points; x along the shape's direction, y
down; its origin is the spot that it belongs to). Out: `Path`s wherever the shape is put. Wrong path
data is refused when the shape is made.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from .outlines import mapped, placed_at
from .scene import Close, Curve, Draw, Move, Path, Point, Segment


@dataclass(frozen=True)
class Shape:
    """strokes : (role, path data) in painting order; upright : whether it is never turned.

    Raises ValueError for path data that cannot be read.
    """

    strokes: tuple[tuple[str, str], ...]
    upright: bool = False
    paths: tuple[Path, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        read = tuple(Path(role, tuple(segments(data))) for role, data in self.strokes)
        object.__setattr__(self, "paths", read)

    def at(self, spot: Point, towards: Point = (1.0, 0.0), size: float = 1.0) -> tuple[Path, ...]:
        """The shape with its origin at a spot, its x axis along the unit vector `towards`."""
        to = placed_at(spot, (1.0, 0.0) if self.upright else towards, size)
        return tuple(Path(path.role, mapped(path.segments, to)) for path in self.paths)


def segments(data: str) -> Iterator[Segment]:
    """Path data with absolute M, L, C and Z as segments; ValueError for anything else."""
    tokens = re.findall(r"[A-Za-z]|-?\d*\.?\d+", data)
    k = 0

    def point() -> Point:
        nonlocal k
        k += 2
        if k > len(tokens) or any(t.isalpha() for t in tokens[k - 2 : k]):
            raise ValueError(f"path data lacks a number: {data!r}")
        return (float(tokens[k - 2]), float(tokens[k - 1]))

    letter = ""
    while k < len(tokens):
        if tokens[k].isalpha():
            letter = tokens[k]
            k += 1
        if letter == "M":
            yield Move(point())
            letter = "L"
        elif letter == "L":
            yield Draw(point())
        elif letter == "C":
            yield Curve(point(), point(), point())
        elif letter == "Z":
            yield Close()
            letter = ""
        else:
            raise ValueError(f"path data may hold M, L, C and Z, not {letter!r}")
