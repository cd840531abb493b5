"""Pull: fingers draw a point away from what is held, so far as is said; without that only a sign is shown.

In: a `Request` with points. Out: an `Outcome` whose paper is as it lay, with a sign at each place; with a
length, the goal that a pose is found from. What opens between them is told by the folds on the way.
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry.isometries import inverse
from ..geometry.lines import Point, add, distance, subtract, unit
from ..languages.wording import Number, Phrase, phrase
from ..paper.signs import Apart, Arrow, PointSign, Sign
from ..paper.silhouette import centre
from ..pose.goals import Pull
from ..source.diagnostics import Refusal
from .planning.at_points import listed, places, signed, spot_of
from .planning.fingers import Still
from .planning.held_places import Held, held
from .planning.request import LineValue, Move, Outcome, PointValue, Request, Solid
from .planning.standing_up import amount, how

#: Places nearer than this (sheet units) lie over each other.
_NEAR = 1e-3
_SIDES = {"in front": 1.0, "behind": -1.0}


def make(request: Request) -> Outcome:
    """Shows where fingers pull; with a length, how far the point comes."""
    request.allow("", "at", "and", "from", "by", "holding", *_SIDES)
    named = places(request, "", "at")
    away = places(request, "from")[0] if request.clause("from") is not None else None
    middle = centre(request.state) if away is None else spot_of(away)
    if request.clause("by") is not None:
        return _pulled(request, named, away)
    spare = [word for word in ("holding", *_SIDES) if request.clause(word) is not None]
    if spare:
        raise how(
            request, "pull-how", f"say with 'by' how far it is pulled, or leave out '{spare[0]}'"
        )
    for value in named:
        if distance(spot_of(value), middle) <= _NEAR:
            raise _no_way(value, away)
    words = phrase("Pull gently at {what}.", what=listed(named))
    return signed(
        request, "pull", named, words, leads=lambda spot: add(spot, subtract(spot, middle))
    )


def _no_way(value: PointValue | LineValue, away: PointValue | LineValue | None) -> Refusal:
    """What is told of a place that lies where it is pulled from."""
    what = value.words.render()
    there = "the middle of the model" if away is None else away.words.render()
    return Refusal(
        "pull-where",
        f"{what} lies at {there}, so there is no way to pull it from there",
        "name a point of the same flap that lies elsewhere, such as the middle of its edge",
        f"or say from where: 'from' and a point that does not lie at {what}",
        span=value.span,
    )


def _pulled(
    request: Request,
    named: list[PointValue | LineValue],
    away: PointValue | LineValue | None,
) -> Outcome:
    """Points that come away from what is held."""
    state, fixed = request.state, held(request)
    far = amount(request, "by", "mm") or 0.0
    points = [p for p in named if isinstance(p, PointValue) and p.sheet is not None]
    side = next((sense for word, sense in _SIDES.items() if request.clause(word)), None)
    if len(points) < len(named) or (side is None) == (away is None):
        raise how(
            request, "pull-how", "points are pulled from another point, or in front, or behind"
        )
    goals = tuple(_goal(request, p, away, side, far, fixed) for p in points)
    middle = centre(state)
    if away is not None and all(distance(p.at, spot_of(away)) > _NEAR for p in points):
        middle = spot_of(away)
    done = signed(
        request,
        "pull",
        named,
        fixed.told(_words(named, away, side, far)),
        leads=lambda spot: add(spot, subtract(spot, middle)),
        solid=Solid("it was pulled open"),
    )
    arrows = tuple(
        Arrow("raise", p.at, centre(state))
        for p, goal in zip(points, goals, strict=True)
        if goal.way[2] > 0 and distance(p.at, centre(state)) > _NEAR
    )
    pulls: tuple[Sign, ...] = arrows if len(arrows) == len(points) else done.signs
    if away is not None and middle == spot_of(away):  # else both lie at one place
        pulls = (*pulls, PointSign("hold", spot_of(away)))
    if side is not None:
        pulls = (*pulls, *(Apart(p.at, f"{far:g}", "mm") for p in points))
    return replace(
        done,
        signs=(*pulls, *fixed.signs),
        letters=(*done.letters, *fixed.letters),
        goals=() if state.sheet.others else (*goals, *fixed.goals),
    )


def _words(
    named: list[PointValue | LineValue],
    away: PointValue | LineValue | None,
    side: float | None,
    far: float,
) -> Phrase:
    what, amount = listed(named), Number(f"{far:g}")
    if away is not None:
        return phrase(
            "Pull {what} {n} mm farther away from {held}.", what=what, n=amount, held=away.words
        )
    if side is not None and side > 0:
        return phrase("Pull {what} up towards you, {n} mm high.", what=what, n=amount)
    return phrase("Pull {what} away to the back, by {n} mm.", what=what, n=amount)


def _goal(
    request: Request,
    point: PointValue,
    away: PointValue | LineValue | None,
    side: float | None,
    far: float,
    fixed: Held,
) -> Pull:
    assert point.sheet is not None
    if side is not None:
        stays = fixed.goals[0].point if fixed.goals else _beside(request, point, side)
        return Pull(point.sheet, stays, (0.0, 0.0, side), far)
    if not isinstance(away, PointValue) or away.sheet is None:
        raise how(request, "pull-how", "after 'from' comes the point that is held")
    if distance(point.at, away.at) > _NEAR:
        x, y = unit(subtract(point.at, away.at))
        return Pull(point.sheet, away.sheet, (x, y, 0.0), far)
    here, there = (request.state.facets_on_sheet(p)[0] for p in (point.sheet, away.sheet))
    up = request.state.above(here, there) is not False
    return Pull(point.sheet, away.sheet, (0.0, 0.0, 1.0 if up else -1.0), far)


def _beside(request: Request, point: PointValue, side: float) -> Point:
    """What a point is pulled away from: the farthest layer at its place that lies on the other side of it."""
    state = request.state
    assert point.sheet is not None
    mine = set(state.facets_on_sheet(point.sheet))
    stack = state.facets_at(point.at)
    others = [k for k in (stack[::-1] if side > 0 else stack) if k not in mine]
    if not others:
        raise how(
            request,
            "pull-how",
            "it does not follow what stays",
            "add 'holding' and a point that stays",
        )
    return inverse(state.facets[others[0]].place)(point.at)


MOVE = Move(
    "pull",
    "pull a point away from what is held, so far; without a length the sign alone, and the paper stays",
    (
        "pull A",
        "pull A from C",
        "pull A from C by 2 cm",
        "pull A in front by 2 cm, holding P",
    ),
    make,
    flat=False,
    folds=False,
    fingers=Still(),
)
