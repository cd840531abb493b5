"""What the sentence of a move claims of the paper afterwards.

Out: small values, made from what the script's words stand for, that say where named paper comes to lie and
what stays where it was. They are checked on the result of every move (folding/performing/proving) by code
that knows no move and no plan: a move whose result does not show them is at fault.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...geometry.isometries import Isometry, inverse, map_segment
from ...geometry.lines import Line, Point, Segment, distance
from ...geometry.polygons import clip_segment
from ...geometry.tolerance import EPS
from ...paper.state import State


@dataclass(frozen=True, slots=True)
class Lands:
    """One of these places on the sheet comes to a place of the folded plane.

    They are more than one where the eye named a point that several layers share. `within` is how far off
    they may be, where the fold was made to meet what it all but met (sheet units).
    """

    places: tuple[Point, ...]
    at: Point
    within: float = 0.0


@dataclass(frozen=True, slots=True)
class Onto:
    """Of these segments on the sheet, those that move come to lie on a line, and one at least does."""

    segments: tuple[Segment, ...]
    line: Line
    within: float = 0.0


@dataclass(frozen=True, slots=True)
class Reaches:
    """One of these places on the sheet comes to lie on a line of the folded plane."""

    places: tuple[Point, ...]
    line: Line
    within: float = 0.0


@dataclass(frozen=True, slots=True)
class Together:
    """One of some places on the sheet and one of some others come to one place."""

    one: tuple[Point, ...]
    other: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Moves:
    """One of these places on the sheet comes to lie elsewhere than it lay."""

    places: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Stays:
    """These places on the sheet lie where they lay."""

    places: tuple[Point, ...]
    within: float = 0.0


@dataclass(frozen=True, slots=True)
class Folds:
    """The paper is folded along all of these segments on the sheet."""

    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class Flat:
    """The paper lies flat along all of these segments on the sheet."""

    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class NothingMoves:
    """All paper lies where it lay."""


@dataclass(frozen=True, slots=True)
class CutOff:
    """Of the sheet, the first places are gone and the others are there, all of that in one piece."""

    gone: tuple[Point, ...]
    left: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class OnlyBeyond:
    """Nothing moves but paper on the left of one of these lines, and some of that does.

    With `mirrored`, all that moves becomes its mirror image in such a line.
    """

    lines: tuple[Line, ...]
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class LiesOver:
    """The paper at some places on the sheet comes to lie over the paper at some others, and nowhere under it.

    With `somewhere`, it may lie under it elsewhere.
    """

    upper: tuple[Point, ...]
    lower: tuple[Point, ...]
    somewhere: bool = False


@dataclass(frozen=True, slots=True)
class Thickest:
    """Where most layers move together they are so many, counted as flat pieces of paper."""

    layers: int


@dataclass(frozen=True, slots=True)
class Carried:
    """All paper has gone one way, as one piece."""

    motion: Isometry


@dataclass(frozen=True, slots=True)
class LiesAs:
    """All paper lies as it did in an earlier state, which a motion has carried as a whole."""

    earlier: State
    motion: Isometry


Claim = (
    Lands
    | Onto
    | Reaches
    | Together
    | Moves
    | Stays
    | Folds
    | Flat
    | NothingMoves
    | CutOff
    | OnlyBeyond
    | LiesOver
    | Thickest
    | Carried
    | LiesAs
)


def layers_at(state: State, at: Point) -> tuple[Point, ...]:
    """The places on the sheet that lie at a point of the folded plane, one on each layer."""
    return tuple(inverse(state.facets[i].place)(at) for i in state.facets_at(at))


def segments_of(state: State, segment: Segment, facets: Iterable[int]) -> tuple[Segment, ...]:
    """A segment of the folded plane on the layers that carry it, as segments of the sheet."""
    found: list[Segment] = []
    for i in facets:
        part = clip_segment(state.placed[i], segment)
        if part is not None and distance(*part) > EPS:
            found.append(map_segment(inverse(state.facets[i].place), part))
    return tuple(found)
