"""The signs of paper that is raised: what becomes a fold, where flaps go, and the angle that they come to.

In: the paper as it lies, the goal, and which parts of the paper move with which (`pose.raising`). Out: signs
in folded coordinates.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations

from ...geometry.isometries import map_segment
from ...geometry.lines import (
    Line,
    Segment,
    between,
    distance,
    line_through,
    midpoint,
    on_line,
    same_line,
    scale,
    signed_distance,
    subtract,
)
from ...geometry.polygons import clip_segment
from ...paper.signs import Arrow, FoldLine, RaisedAngle, Sense, Sign
from ...paper.silhouette import centre
from ...paper.state import State
from ...pose.goals import Level, Raise
from .at_points import pushed
from .pockets import all_round

#: Sheet units within which a place is on a line.
_ON = 1e-3
#: How far from its edge a flap is looked at, as a part of its width: another may begin along that edge.
_WITHIN = 0.02


def raising_signs(state: State, goal: Raise, goes: Mapping[int, set[int]]) -> tuple[Sign, ...]:
    """The creases that become folds, and an arrow from the farthest place of each flap to its line, with the
    angle that it comes to stand at.

    Where the lines cross in the middle of the model its corners are pushed together.
    """
    rows: dict[Sense, list[tuple[int, Segment]]] = {}
    flaps: list[tuple[Line, list[int]]] = []
    for crease, sense in zip(goal.creases, goal.senses, strict=True):
        for k, facet in enumerate(state.facets):
            part = clip_segment(facet.outline, crease)
            if part is None:
                continue
            seg = map_segment(facet.place, part)
            line = line_through(*seg)
            home = next((some for known, some in flaps if same_line(known, line)), None)
            if home is None:
                flaps.append((line, home := []))
            home.append(k)
            sides = state.facets_on_sheet(midpoint(*part))
            flat = len({state.facets[i].shows_front for i in sides}) == 1
            if flat and k == min(sides) and state.facets_at(midpoint(*seg))[0] in sides:
                valley = not sense or (sense > 0) == facet.shows_front
                rows.setdefault(Sense.VALLEY if valley else Sense.MOUNTAIN, []).append((k, seg))
    seen: list[Sign] = []
    middle = centre(state)
    still = frozenset(k for k, some in goes.items() if some == {0})
    crossing = len(flaps) > 1 and all(on_line(line, middle) for line, _ in flaps)
    if crossing and not all_round(state, middle, still):
        corners = sorted({p for ring in state.outlines for p in ring})
        far = max(distance(p, middle) for p in corners)
        seen += [pushed(p, middle) for p in corners if distance(p, middle) > far - _ON]
    else:
        lifted = [
            lift
            for line, some in flaps
            for lift in _lifts(state, line, [k for k in some if k not in still] or some, goes)
        ]
        seen += dict.fromkeys(arrow for arrow, _ in lifted)
        level = isinstance(goal, Level)
        if level or 0 < goal.angle < 180:
            angle = None if level else goal.angle
            seen += dict.fromkeys(
                RaisedAngle(arrow.tail, arrow.head, angle, folded, arrow.act == "lower")
                for arrow, folded in lifted
            )
    return (*(FoldLine(sense, tuple(some)) for sense, some in rows.items()), *seen)


def _lifts(
    state: State, line: Line, beside: list[int], goes: Mapping[int, set[int]]
) -> list[tuple[Arrow, bool]]:
    """What is raised at a line, and, where another flap lies behind it that goes the other way, that too."""
    first = _lift(state, line, beside, goes)
    groups = {frozenset(goes[k] - {0}) for k in beside}
    each = [
        _lift(state, line, members, goes, frozenset(members))
        for some in sorted(groups, key=sorted)
        for members in [[k for k in goes if frozenset(goes[k] - {0}) == some]]
    ]
    other = next((lift for lift in each if lift[0].act != first[0].act), None)
    apart = not any(one & two for one, two in combinations(groups, 2))
    return [first] if other is None or not apart else [first, other]


def _lift(
    state: State,
    line: Line,
    beside: list[int],
    goes: Mapping[int, set[int]],
    all_of_it: frozenset[int] | None = None,
) -> tuple[Arrow, bool]:
    """From the farthest edge or place of the flap at a line to the line; away where the flap lies underneath.
    And whether it lies folded over what it hangs on.

    It is under other paper where that hides the flap and all that goes with it; where that stays, the flap
    goes away from it. Of paper that is folded there the uppermost is the flap, unless it is known what is
    `all_of_it`; of paper on both sides of it, the outer.
    """
    away = {k: [signed_distance(line, p) for p in state.placed[k]] for k in beside}
    one_side = len({d > 0 for some in away.values() for d in some if abs(d) > _ON}) == 1
    inner = signed_distance(line, centre(state))
    outer = [] if one_side else [k for k, some in away.items() if any(d * inner < 0 for d in some)]
    flap = all_of_it or state.plate(state.top_down(outer or beside)[0])
    places = [
        (abs(d), p)
        for k in flap
        for p in state.placed[k]
        for d in [signed_distance(line, p)]
        if not outer or d * inner < 0
    ]
    farthest = max(d for d, _ in places)
    tips = sorted({(round(x, 9), round(y, 9)) for d, (x, y) in places if d > farthest - _ON})
    tip = midpoint(tips[0], tips[-1])
    along = set[int]().union(*(goes[k] for k in flap)) - {0}
    foot = subtract(tip, scale((line.nx, line.ny), signed_distance(line, tip)))
    top = (state.facets_at(between(tip, foot, _WITHIN)) or state.facets_at(tip))[0]
    hidden = top not in flap and not goes[top] & along
    away_from_top = hidden and not goes[top] - {0}
    pairs = _folded(state, line, flap)
    underneath = bool(pairs) and not any(state.above(mine, other) for mine, other in pairs)
    act = "lower" if away_from_top or underneath else "raise"
    return Arrow(act, tip, foot, under=hidden), bool(pairs)


def _folded(state: State, line: Line, flap: frozenset[int]) -> list[tuple[int, int]]:
    """What a flap is joined to by folds at a line: a facet of its own and one of the other."""
    return [
        (joint.a, joint.b) if joint.a in flap else (joint.b, joint.a)
        for joint, seg in state.fold_segments
        if (joint.a in flap) != (joint.b in flap) and all(on_line(line, p) for p in seg)
    ]
