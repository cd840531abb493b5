"""Points and lines as captions call them: words that carry what they mean.

In: what a thing is, and where the eye sees it or what its name is. Out: a `Called`, a phrase that knows its
own kind, and one phrase for several at once as one says it: 'corners A and B', 'both lower edges'.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum

from ...languages.unit_names import said_together
from ...languages.wording import Phrase, Template, listed, phrase


class Kind(Enum):
    """What is called by a name or by where it is seen."""

    CORNER = "corner"
    POINT = "point"
    EDGE = "edge"
    LINE = "line"
    DIAGONAL = "diagonal"


@dataclass(frozen=True, slots=True)
class Called(Phrase):
    """Words for one point or line.

    `name` is what tells it from others of its kind ('A', 'AB', 'A of unit 2'), '' where the eye does: then
    `toward` says where it is seen, as a script says it ('top', 'left'), a diagonal by the end on its left.
    """

    kind: Kind = field(kw_only=True)
    name: Phrase | str = field(kw_only=True, default="")
    toward: tuple[str, ...] = field(kw_only=True, default=())


def corner(name: str) -> Called:
    """'corner A'."""
    return _named("corner {name}", Kind.CORNER, "name", name)


def point(name: str) -> Called:
    """'point P'."""
    return _named("point {name}", Kind.POINT, "name", name)


def edge(*ends: str) -> Called:
    """'edge AB'."""
    return _named("edge {ends}", Kind.EDGE, "ends", *ends)


def line(*ends: str) -> Called:
    """'line AP'."""
    return _named("line {ends}", Kind.LINE, "ends", *ends)


def _named(words: Template, kind: Kind, hole: str, *names: str) -> Called:
    name = said_together(*names)
    return Called(words, ((hole, name),), kind=kind, name=name)


def seen(kind: Kind, toward: tuple[str, ...]) -> Called:
    """'the top left corner', 'the bottom edge', 'the diagonal crease from the top left to ...'."""
    return Called(_SEEN[kind][toward], kind=kind, toward=toward)


def is_point(words: Phrase) -> bool:
    """Whether the words name a point that is no corner of the sheet."""
    return isinstance(words, Called) and words.kind is Kind.POINT


_CORNERS: dict[tuple[str, ...], Template] = {
    ("top",): "the top corner",
    ("bottom",): "the bottom corner",
    ("left",): "the left corner",
    ("right",): "the right corner",
    ("top", "left"): "the top left corner",
    ("top", "right"): "the top right corner",
    ("bottom", "left"): "the bottom left corner",
    ("bottom", "right"): "the bottom right corner",
}
_EDGES: dict[tuple[str, ...], Template] = {
    ("top",): "the top edge",
    ("bottom",): "the bottom edge",
    ("left",): "the left edge",
    ("right",): "the right edge",
    ("top", "left"): "the top left edge",
    ("top", "right"): "the top right edge",
    ("bottom", "left"): "the bottom left edge",
    ("bottom", "right"): "the bottom right edge",
}
_DIAGONALS: dict[tuple[str, ...], Template] = {
    ("bottom", "left"): "the diagonal crease from the bottom left to the top right",
    ("top", "left"): "the diagonal crease from the top left to the bottom right",
}
#: Every way that the eye tells an edge by.
SIDES = tuple(_EDGES)
_SEEN = {Kind.CORNER: _CORNERS, Kind.EDGE: _EDGES, Kind.DIAGONAL: _DIAGONALS}

#: What several are called that have names.
_NAMED: dict[Kind, Template] = {
    Kind.CORNER: "corners {names}",
    Kind.POINT: "points {names}",
    Kind.EDGE: "edges {names}",
    Kind.LINE: "lines {names}",
}
_LEFT, _RIGHT, _TOP, _BOTTOM = ("left",), ("right",), ("top",), ("bottom",)
_TOP_LEFT, _TOP_RIGHT = ("top", "left"), ("top", "right")
_BOTTOM_LEFT, _BOTTOM_RIGHT = ("bottom", "left"), ("bottom", "right")
#: What two are called that the eye tells by where they are.
_TWO_CORNERS: dict[frozenset[tuple[str, ...]], Template] = {
    frozenset({_LEFT, _RIGHT}): "the left and right corners",
    frozenset({_BOTTOM, _TOP}): "the top and bottom corners",
    frozenset({_TOP_LEFT, _TOP_RIGHT}): "both top corners",
    frozenset({_BOTTOM_LEFT, _BOTTOM_RIGHT}): "both bottom corners",
    frozenset({_BOTTOM_LEFT, _TOP_LEFT}): "both left corners",
    frozenset({_BOTTOM_RIGHT, _TOP_RIGHT}): "both right corners",
}
_TWO_EDGES: dict[frozenset[tuple[str, ...]], Template] = {
    frozenset({_LEFT, _RIGHT}): "the left and right edges",
    frozenset({_BOTTOM, _TOP}): "the top and bottom edges",
    frozenset({_TOP_LEFT, _TOP_RIGHT}): "both upper edges",
    frozenset({_BOTTOM_LEFT, _BOTTOM_RIGHT}): "both lower edges",
    frozenset({_BOTTOM_LEFT, _TOP_LEFT}): "both edges on the left",
    frozenset({_BOTTOM_RIGHT, _TOP_RIGHT}): "both edges on the right",
}
_BOTH_DIAGONALS: dict[frozenset[tuple[str, ...]], Template] = {
    frozenset({_BOTTOM_LEFT, _TOP_LEFT}): "both diagonal creases"
}
_TWO = {
    Kind.CORNER: _TWO_CORNERS,
    Kind.EDGE: _TWO_EDGES,
    Kind.DIAGONAL: _BOTH_DIAGONALS,
}


#: What all are called that a figure with four of them has.
_ALL_FOUR = (
    frozenset({_LEFT, _RIGHT, _TOP, _BOTTOM}),
    frozenset({_TOP_LEFT, _TOP_RIGHT, _BOTTOM_LEFT, _BOTTOM_RIGHT}),
)
_FOUR: dict[Kind, Template] = {
    Kind.CORNER: "all four corners",
    Kind.EDGE: "all four edges",
}


def together(things: Sequence[Phrase]) -> Phrase | None:
    """One name for all of them; None where they have none in common."""
    called = [thing for thing in things if isinstance(thing, Called)]
    kinds = {thing.kind for thing in called}
    if len(called) < 2 or len(called) < len(things) or len(kinds) > 1:
        return None
    (kind,) = kinds
    if all(thing.name for thing in called):
        names = [phrase("{name}", name=thing.name) for thing in called]
        if kind is Kind.CORNER:
            names.sort(key=Phrase.render)
        return phrase(_NAMED[kind], names=listed(names))
    toward = frozenset(thing.toward for thing in called)
    if len(called) == 4 and toward in _ALL_FOUR and kind in _FOUR:
        return Phrase(_FOUR[kind])
    both = _TWO.get(kind, {}).get(toward)
    return Phrase(both) if both and len(called) == 2 else None


def all_of(things: Sequence[Phrase]) -> Phrase:
    """One name for all of them, or 'this, that and the other'."""
    return together(things) or listed(things)
