"""Which side of a fold line moves, as the words after `moving` say.

In: a line and the clauses. Out: the line with its moving side on the left, and the paper that is named;
points that would tell the sides apart.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ...geometry.lines import Line, Point, flipped, on_line, signed_distance
from ...geometry.polygons import Polygon, area, split
from ...geometry.tolerance import EPS
from ...languages.wording import Phrase
from ...source.diagnostics import Hint, Refusal, write
from .called import all_of
from .fold_clauses import FoldClauses, flap_of
from .request import PointValue, Request


@dataclass(frozen=True)
class Side:
    """The line with its moving side on the left, and what `moving` says about it."""

    line: Line
    sided: bool = False
    carriers: tuple[int, ...] = ()
    also: tuple[tuple[int, ...], ...] = ()
    what: Phrase | None = None


def side_of(request: Request, line: Line, clauses: FoldClauses) -> Side:
    """Turns the line so that the points that `moving` names are on its left."""
    if not clauses.moving:
        return Side(line)
    for p in clauses.moving:
        if on_line(line, p.at):
            raise Refusal(
                "on-the-line",
                f"{p.words.render()} lies on the fold line, so it does not say which side moves",
                *_other_points(request, line, p),
                span=p.span,
            )
    first, *more = clauses.moving
    facing = line if signed_distance(line, first.at) > 0 else flipped(line)
    for p in more:
        if signed_distance(facing, p.at) < 0:
            raise Refusal(
                "both-sides",
                f"{first.words.render()} and {p.words.render()} lie on different sides of the fold line",
                "name points on one side, or fold twice",
                span=p.span,
            )
    what = flap_of(first) if first.letter or first.seen else None
    if what is not None and more and all(p.letter for p in clauses.moving):
        what = all_of([p.words for p in clauses.moving])
    return Side(facing, True, first.facets, tuple(p.facets for p in more), what)


def _other_points(request: Request, line: Line, p: PointValue) -> list[Hint | str]:
    """What to say instead of a point that lies on the line."""
    parts = [request.state.placed[i] for i in p.facets]
    if parts and not any(_crosses(line, part) for part in parts):
        return [
            f"the line runs along an edge of that flap, not across it: take a point on each of two edges "
            f"that meet at {p.words.render()}"
        ]
    hints = [
        write(p.span, name, f"say '{name}'") for name in points_beside(request, line, p.facets)
    ]
    return [*hints, "name a point that moves"] if len(hints) < 2 else [*hints]


def _crosses(line: Line, part: Polygon) -> bool:
    """Whether paper of a part lies on both sides of a line."""
    away = [signed_distance(line, corner) for corner in part]
    return min(away) < -EPS and max(away) > EPS


def points_beside(request: Request, line: Line, layers: Collection[int]) -> list[str]:
    """A named point on either side of a line, where there is one: on the layers before others, on
    paper that the line crosses, and in sight before what is covered.

    First that on the side with less paper: it is the tip that is folded over more often (common practice).
    """
    state = request.state
    names: dict[int, str] = {}

    crossed = {i for i, ring in enumerate(state.placed) if all(split(ring, line))}

    def behind(point: tuple[str, Point]) -> tuple[bool, bool, bool]:
        here = state.facets_on_sheet(point[1])
        seen = {*state.facets_at(state.where(point[1]))[:1]} if here else set[int]()
        own = {i for k in here for i in state.plate(k)}
        return set(layers).isdisjoint(here), crossed.isdisjoint(own), seen.isdisjoint(here)

    points = sorted(request.points.items(), key=behind)
    for name, at in points:
        away = signed_distance(line, state.where(at))
        if abs(away) > EPS and state.facets_on_sheet(at):
            names.setdefault(1 if away > 0 else -1, name)

    def paper(side: int) -> float:
        halves = (split(ring, line)[side < 0] for ring in state.placed)
        return round(sum(area(half) for half in halves if half), 6)

    return [names[side] for side in sorted(names, key=lambda side: (paper(side), side))]
