"""A drawn figure as data: paths and texts by role, in points (1/72 inch), y down.

Roles are dotted names ('edge.raw', 'fold.valley', 'arrow.head'); the style file gives each its
weight, dash and colour, so a scene is the same in every page style.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...source.diagnostics import Span

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Move:
    """Start a new subpath."""

    to: Point


@dataclass(frozen=True, slots=True)
class Draw:
    """Straight line."""

    to: Point


@dataclass(frozen=True, slots=True)
class Curve:
    """Cubic Bezier curve."""

    first: Point
    second: Point
    to: Point


@dataclass(frozen=True, slots=True)
class Close:
    """Back to the start of the subpath."""


Segment = Move | Draw | Curve | Close


@dataclass(frozen=True, slots=True, weakref_slot=True)
class Path:
    """An outline or stroke; whether it is filled or stroked is the style's matter."""

    role: str
    segments: tuple[Segment, ...]
    span: Span | None = None

    @property
    def is_paper(self) -> bool:
        """Whether it is an area of paper, in the light or in the shade."""
        return self.role.startswith(("paper.", "shade."))


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text; `at` is the baseline's start, middle or end as `anchor` says; size in points."""

    role: str
    at: Point
    text: str
    size: float
    anchor: str = "start"  # 'start', 'middle', 'end'
    bold: bool = False
    span: Span | None = None


@dataclass(frozen=True)
class Scene:
    """One picture. Items are painted in order."""

    width: float
    height: float
    items: tuple[Path | Text, ...]
    title: str = ""
    description: str = ""
    language: str = "en"
    signs: frozenset[str] = frozenset()  # keys of the signs used, for the page's key
