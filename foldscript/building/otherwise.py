"""What else could be said where no pose is found: each is tried before it is offered.

In: the paper as it lies, the goals that led to no pose, the step. Out: the one change with which the model
stands, as a hint; none where none of these does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations

from ..folding.steps import Step
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import Point, Segment, distance, line_through, on_line, signed_distance
from ..geometry.polygons import clip_line, clip_segment
from ..geometry.tolerance import EPS, same
from ..paper.refold import creased
from ..paper.state import State
from ..pose.goals import Hold, Part, Raise, Stages
from ..source.diagnostics import Hint
from .unposed import name_of

#: Whether paper stands when it is asked these goals.
Stands = Callable[[State, Stages], bool]


def said_otherwise(paper: State, goals: Stages, step: Step, stands: Stands) -> Hint | None:
    """The first change that leads to a pose: of flaps that are raised, all at once, without fingers in their
    pockets, or with the ends creased that have to rise with the walls between them.
    """
    every = [goal for some in goals for goal in some]
    if not all(isinstance(goal, Raise | Part | Hold) for goal in every):
        return None
    for flat, asked, hint in _changes(paper, goals, step):
        if stands(flat, asked):
            return hint
    return None


def _changes(paper: State, goals: Stages, step: Step) -> Iterator[tuple[State, Stages, Hint]]:
    bare = tuple(tuple(g for g in some if not isinstance(g, Part)) for some in goals)
    without = ""
    if bare != goals:
        yield paper, bare, Hint("leave out 'opening': no fingers go into a pocket here")
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
