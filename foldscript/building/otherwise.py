"""What else could be said where no pose is found: each is tried before it is offered.

In: the paper as it lies, the goals that led to no pose, the step. Out: the one change with which the model
stands, as a hint; none where none of these does.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations

from ..folding.steps import Step
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import (
    Point,
    Segment,
    distance,
    line_through,
    midpoint,
    on_line,
    overlap_of,
    same_line,
    signed_distance,
)
from ..geometry.polygons import clip_line, clip_segment
from ..geometry.tolerance import EPS, same
from ..paper.refold import creased
from ..paper.silhouette import edges_toward
from ..paper.state import State
from ..pose.goals import Blow, Goal, Hold, Open, Part, Pull, Raise, Spread, Stages
from ..source.diagnostics import Hint
from .unposed import LESS_OF_IT, name_of

#: Shares of what was asked that are tried where less may do, and what angles are rounded to (degrees).
_LESS = (0.75, 0.5)
_ROUND = 5
#: Pairs of points that are tried.
_MOST_PAIRS = 3
NO_LESS = Hint(
    "less was tried and does not stand either: leave this out, and tell in the step's sentence what hands do"
)
_LEFT_OUT = Hint("leave this out, and tell in the step's sentence what hands do")

#: Whether paper stands when it is asked these goals.
Stands = Callable[[State, Stages], bool]


def said_otherwise(paper: State, goals: Stages, step: Step, stands: Stands) -> Hint | None:
    """The first change that leads to a pose: of flaps that are raised, all at once, without 'opening', or
    with the ends creased that have to rise with the walls between them; of two sides that are opened, two
    points pulled apart that lie over each other on them.
    """
    every = [goal for some in goals for goal in some]
    if goals and len(goals[-1]) == 1 and isinstance(goals[-1][0], Open | Spread):
        changes = _pulled_apart(paper, goals, goals[-1][0], step)
    elif all(isinstance(goal, Raise | Part | Hold) for goal in every):
        changes = _changes(paper, goals, step)
    else:
        return None
    for flat, asked, hint in changes:
        if stands(flat, asked):
            return hint
    return None


def open_elsewhere(paper: State, goals: Stages, stands: Stands) -> Hint | None:
    """The edge of the figure, by sight, where layers lie open, for one that is opened where they do not."""
    asked = goals[-1] if goals else ()
    held = tuple(goal for goal in asked if isinstance(goal, Hold))
    (goal, *more) = (*(one for one in asked if not isinstance(one, Hold)), None)
    if more != [None] or not isinstance(goal, Open | Blow):
        return None
    for way in ("top", "bottom", "left", "right"):
        edges = edges_toward(paper, (way,))
        if len(edges) != 1 or (goal.edge is not None and _along(edges[0], goal.edge)):
            continue
        if stands(paper, (*goals[:-1], (replace(goal, edge=edges[0]), *held))):
            return Hint(f"name an edge where layers lie open, such as 'the {way} edge'")
    return None


def untried(hints: tuple[Hint, ...]) -> tuple[Hint, ...]:
    """The hints without the one that asks for less, which was not tried to its end."""
    kept = tuple(hint for hint in hints if not hint.text.endswith(LESS_OF_IT.text))
    return kept or (_LEFT_OUT,)


def _along(edge: Segment, other: Segment) -> bool:
    return same_line(line_through(*edge), line_through(*other))


def less_tried(
    paper: State, goals: Stages, hints: tuple[Hint, ...], stands: Stands, step: Step
) -> tuple[Hint, ...]:
    """The hints, with the one that asks for less made good: with how much less the model stands, or that less
    does not help.
    """
    if not any(hint.text.endswith(LESS_OF_IT.text) for hint in hints):
        return hints
    kept = tuple(hint for hint in hints if not hint.text.endswith(LESS_OF_IT.text))
    for share in _LESS:
        asked = tuple(tuple(_less(paper, goal, share) for goal in some) for some in goals)
        if asked != goals and stands(paper, asked):
            told = _amount_of(asked, goals, step)
            return kept if told is None else (told,)
    return (*kept, NO_LESS)


def _less(paper: State, goal: Goal, share: float) -> Goal:
    """The same goal, asked a share of its amount; an angle as it is counted from how the paper lies."""
    match goal:
        case Raise():
            lies = [joint.segment for joint in paper.joints if joint.folded]
            shut = any(overlap_of(s, crease) is not None for s in lies for crease in goal.creases)
            flat = 0.0 if shut else 180.0
            return replace(
                goal, angle=float(_ROUND * round((flat + share * (goal.angle - flat)) / _ROUND))
            )
        case Open() | Spread():
            return replace(goal, width=float(max(1, round(share * goal.width))))
        case Pull():
            return replace(goal, by=float(max(1, round(share * goal.by))))
        case _:
            return goal


def _amount_of(asked: Stages, goals: Stages, step: Step) -> Hint | None:
    """The amounts that are asked instead of others, as they are written; None where no move takes any."""
    rows: dict[str, None] = {}
    forms = [form for r in step.records if r.move is not None for form in r.move.forms]
    takes = {word for word in ("to", "by") if any(re.search(rf"\b{word} \d", f) for f in forms)}
    for one, other in zip(
        (g for some in asked for g in some), (g for some in goals for g in some), strict=True
    ):
        if one == other:
            continue
        match one:
            case Raise():
                rows[f"'to {one.angle:g} degrees'"] = None
            case Open() | Spread():
                rows[f"'by {one.width / 10:g} cm'"] = None
            case Pull():
                rows[f"'by {one.by / 10:g} cm'"] = None
            case _:
                pass
    said = [words for words in rows if not forms or words[1:3] in takes]
    return Hint(f"say {' and '.join(said)}") if said else None


def _pulled_apart(
    paper: State, goals: Stages, goal: Open | Spread, step: Step
) -> Iterator[tuple[State, Stages, Hint]]:
    """Pairs of points with names that lie over each other, on different paper, the nearest pairs first."""
    spot = midpoint(*goal.edge) if isinstance(goal, Open) else goal.at
    corners = [(name, paper.sheet.corner(name)) for name in paper.sheet.corner_names]
    there = {name: at for name, at in (*corners, *step.named) if paper.facets_on_sheet(at)}
    pairs = [
        (round(distance(paper.where(p), spot), 6), one, other)
        for (one, p), (other, q) in combinations(there.items(), 2)
        if distance(paper.where(p), paper.where(q)) < EPS and distance(p, q) > EPS
    ]
    for _, one, other in sorted(pairs)[:_MOST_PAIRS]:
        p, q = there[one], there[other]
        above = paper.above(paper.facets_on_sheet(p)[0], paper.facets_on_sheet(q)[0])
        pull = Pull(p, q, (0.0, 0.0, -1.0 if above is False else 1.0), goal.width)
        said = f"say 'pull {one} from {other} by {goal.width / 10:g} cm' instead"
        yield paper, (*goals[:-1], (pull,)), Hint(said)


def _changes(paper: State, goals: Stages, step: Step) -> Iterator[tuple[State, Stages, Hint]]:
    bare = tuple(tuple(g for g in some if not isinstance(g, Part)) for some in goals)
    without = ""
    if bare != goals:
        yield (
            paper,
            bare,
            Hint("leave out 'opening': it stands so, with the layers there lying together"),
        )
        without = "leave out 'opening'; "
    if len(bare) > 1:
        hint = "raise all of it in one statement, the lines joined by 'and': it rises together"
        yield paper, (tuple(g for some in bare for g in some),), Hint(without + hint)
    if len(bare) == 1 and len(bare[0]) == 1 and isinstance(bare[0][0], Raise):
        for flat, asked, ends in _with_ends(paper, bare[0][0], step):
            yield flat, asked, Hint(without + ends)


def _with_ends(paper: State, goal: Raise, step: Step) -> Iterator[tuple[State, Stages, str]]:
    """Two parallel walls with both ends between them creased through all layers, and raised with them."""
    walls = _walls(paper, goal)
    if len(walls) != 2:
        return
    (a, b), (c, d) = walls
    if distance(a, c) + distance(b, d) > distance(a, d) + distance(b, c):
        c, d = d, c
    ends = [(a, c), (b, d)]
    names = [_name(paper, step, at) for end in ends for at in end]
    found = [list(_across(paper, end)) for end in ends]
    if not all(found) or not all(names):
        return
    creases = dict(seam for some in found for seam in some)
    flat = creased(paper, creases)
    senses = (*(goal.senses or (0,) * len(goal.creases)), *creases.values())
    asked = ((replace(goal, creases=(*goal.creases, *creases), senses=senses),),)
    lines = [
        f"'crease through {p} {q}, all layers'"
        for p, q in zip(names[::2], names[1::2], strict=True)
    ]
    hint = f"crease the ends before, {' and '.join(lines)}, and raise along these as well"
    yield flat, asked, hint


def _walls(paper: State, goal: Raise) -> list[Segment]:
    """The parts of the folded plane's lines that paper is raised along, where all are parallel."""
    found: list[list[Point]] = []
    for facet in paper.facets:
        for crease in goal.creases:
            part = clip_segment(facet.outline, crease)
            if part is None:
                continue
            seg = map_segment(facet.place, part)
            line = line_through(*seg)
            home = next((s for s in found if all(on_line(line, p) for p in s)), None)
            if home is None:
                found.append(list(seg))
            else:
                home.extend(seg)
    rows = [max(combinations(some, 2), key=lambda ends: distance(*ends)) for some in found]
    lines = [line_through(*row) for row in rows]
    first = lines[0]
    alike = all(same(abs(first.nx * other.nx + first.ny * other.ny), 1.0) for other in lines)
    return [(a, b) for a, b in rows] if alike else []


def _across(paper: State, end: Segment) -> Iterator[tuple[Segment, int]]:
    """Creases along the line of an end, on the sheet, in all layers that lie on both sides of it, and the
    side that is inside of them: they are valleys. None where nothing lies beyond the line.
    """
    if distance(*end) < EPS:
        return
    line = line_through(*end)
    for facet, placed in zip(paper.facets, paper.placed, strict=True):
        sides = [signed_distance(line, p) for p in placed]
        part = clip_line(placed, line) if min(sides) < -EPS and max(sides) > EPS else None
        if part is not None:
            yield map_segment(inverse(facet.place), part), 1 if facet.shows_front else -1


def _name(paper: State, step: Step, at: Point) -> str:
    """A name of a place of the sheet that lies at a place of the folded plane; '' for none."""
    corners = [(name, paper.sheet.corner(name)) for name in paper.sheet.corner_names]
    known = [
        place for _, place in (*step.named, *corners) if distance(paper.where(place), at) < EPS
    ]
    return next((name for place in known for name in [name_of(paper, step, place)] if name), "")
