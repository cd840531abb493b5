"""Pull apart: two points on flaps of one model are drawn away from each other, and the model opens.

The last step of the boat. In: the two points. Each lies on a flap hinged to the body along a line; the
two hinges run down to one open corner. Out: both hinges open, and the body folds along the line
between their far ends: its front upward in front, its back upward behind, round what stands between.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ..geometry import polygons
from ..geometry.isometries import map_segment, reflection
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    flipped,
    line_through,
    meet,
    midpoint,
    on_line,
    same_line,
    signed_distance,
    subtract,
    unit,
)
from ..geometry.tolerance import EPS
from ..languages.wording import Phrase, phrase
from ..paper.components import component
from ..paper.flap import sheet_segments
from ..paper.layers import Collision
from ..paper.refold import Divided, divided
from ..paper.signs import Arrow, FoldLine, Sense, Sign
from ..paper.state import State
from ..paper.toggling import Changes, toggled
from ..source.diagnostics import Refusal
from .planning.called import all_of
from .planning.claims import Claim
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_point
from .planning.held_by import holding
from .planning.in_the_way import collision_refusal
from .planning.pocket import Parted, partings
from .planning.request import Move, Outcome, PointValue, Request

VERB = "pull apart"
FORMS = (f"{VERB} P and Q",)


@dataclass(frozen=True)
class Wing:
    """A flap that is drawn out: its facets, and its hinge from the open corner to the far end."""

    facets: frozenset[int]
    line: Line
    hinge: Segment


def make(request: Request) -> Outcome:
    """Draws the two points apart."""
    p, q = _points(request)
    state = request.state
    clash: Collision | None = None
    found = False
    for one, two in _wings(state, p, q):
        found = True
        keel = line_through(one.hinge[1], two.hinge[1])
        if signed_distance(keel, one.hinge[0]) < 0:
            keel = flipped(keel)
        body = set(range(len(state.facets))) - one.facets - two.facets
        fine = divided(state, keel, body)
        for parted in _partings(fine.state, one, two):
            try:
                return _pulled(request, (p, q), fine, (one, two), keel, parted)
            except Collision as collision:
                facets = tuple(dict.fromkeys(fine.parent[k] for k in collision.facets))
                clash = clash or Collision(collision.reason, facets, collision.at)
            except Refusal as refusal:
                if refusal.code == "nothing-moves":
                    raise _as_far(request, refusal, p, q) from None
                if refusal.code != "tear":
                    raise
    if clash is not None:
        why = collision_refusal(request, clash)
        raise Refusal(
            "locked-layers",
            f"these points cannot be pulled apart: {why.message}",
            "free the layers that hold them first",
            span=request.span,
        )
    ends = f"{p.words.render()} and {q.words.render()}"
    raise Refusal(
        "no-wings",
        f"the paper would tear if {ends} were pulled apart"
        if found
        else f"{ends} are not on two flaps whose folds run to one open corner",
        "name the tips of two loose flaps that lie on each other",
        span=request.span,
    )


def _as_far(request: Request, refusal: Refusal, p: PointValue, q: PointValue) -> Refusal:
    """Nothing moves: the points lie where opening their flaps would take them; told with what holds these."""
    folds = dict.fromkeys(held.told(request) for v in (p, q) for held in holding(request, v)[:2])
    return Refusal(
        refusal.code,
        f"nothing would move: {p.words.render()} and {q.words.render()} lie as far apart already as their "
        "flaps let them",
        f"what holds their flaps: {' and '.join(folds)}; open these first",
        "or name the tips of two loose flaps that lie on each other",
        span=request.span,
    )


def _points(request: Request) -> tuple[PointValue, PointValue]:
    request.allow("", "and")
    found = [v for c in request.clauses for v in c.values]
    if len(found) != 2:
        raise Refusal(
            "pull-what",
            "say which two points are pulled apart",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    return as_point(found[0]), as_point(found[1])


def _wings(state: State, p: PointValue, q: PointValue) -> Iterator[tuple[Wing, Wing]]:
    """Pairs of flaps with the two points that hang on hinges from one corner."""
    for line in _hinge_lines(state, p):
        for other in _hinge_lines(state, q):
            corner = meet(line, other)
            if corner is None or not state.facets_at(corner):
                continue
            one, two = _sides(state, line, other)
            if not (set(p.facets) <= one and set(q.facets) <= two):
                continue
            if not _hinge(state, one, line) or not _hinge(state, two, other):
                continue  # what hangs there lies on both sides of the folds
            yield _wing(state, one, line, corner), _wing(state, two, other, corner)


def _wing(state: State, members: frozenset[int], line: Line, corner: Point) -> Wing:
    """The flap with its hinge, from the corner to the end farthest from it."""
    ends = [x for k in _hinge(state, members, line) for x in _placed(state, k)]
    return Wing(members, line, (corner, max(ends, key=lambda x: round(distance(x, corner), 9))))


def _sides(state: State, line: Line, other: Line) -> tuple[frozenset[int], frozenset[int]]:
    """What hangs on the folds along one line only, and what on those along the other only."""
    hinges = [
        {
            k
            for k, j in enumerate(state.joints)
            if j.folded and all(on_line(one, x) for x in _placed(state, k))
        }
        for one in (line, other)
    ]
    found: list[frozenset[int]] = []
    for mine, others in (hinges, hinges[::-1]):
        members: set[int] = set()
        for i in sorted({x for k in mine for x in (state.joints[k].a, state.joints[k].b)}):
            part = component(state, [i], mine | others)
            if not any({state.joints[k].a, state.joints[k].b} & part for k in others):
                members |= part
        found.append(frozenset(members))
    return found[0], found[1]


def _placed(state: State, k: int) -> Segment:
    joint = state.joints[k]
    return map_segment(state.facets[joint.a].place, joint.segment)


def _hinge(state: State, members: frozenset[int], line: Line) -> list[int]:
    """Joints on the line between a flap and the rest."""
    return [
        k
        for k, joint in enumerate(state.joints)
        if (joint.a in members) != (joint.b in members)
        and all(on_line(line, x) for x in _placed(state, k))
    ]


def _hinge_lines(state: State, p: PointValue) -> list[Line]:
    """Lines of folds that part the flap with the point from the rest, the point on the left."""
    lines: list[Line] = []
    for _, seg in state.fold_segments:
        line = line_through(*seg)
        if not on_line(line, p.at) and not any(same_line(line, other) for other in lines):
            lines.append(line if signed_distance(line, p.at) > 0 else flipped(line))
    found: list[Line] = []
    for line in lines:
        barred = [
            k
            for k, j in enumerate(state.joints)
            if j.folded and all(on_line(line, x) for x in _placed(state, k))
        ]
        members = component(state, p.facets, barred)
        if len(members) < len(state.facets) and all(
            polygons.half_plane_extent(state.placed[i], line)[0] >= -EPS for i in members
        ):
            found.append(line)
    return found


def _partings(state: State, one: Wing, two: Wing) -> Iterator[Parted]:
    """Ways to part front from back at the open corner."""
    along = unit(subtract(one.hinge[1], one.hinge[0]))
    middle = line_through(one.hinge[0], midpoint(one.hinge[1], two.hinge[1]))
    return partings(state, one.hinge[0], along, middle)


def _pulled(
    request: Request,
    points: tuple[PointValue, PointValue],
    fine: Divided,
    wings: tuple[Wing, Wing],
    keel: Line,
    parted: Parted,
) -> Outcome:
    fs = fine.state
    flaps = {k for k, f in enumerate(fine.parent) if any(f in w.facets for w in wings)}
    lower = {
        k
        for k in range(len(fs.facets))
        if k not in flaps and signed_distance(keel, polygons.centroid(fs.placed[k])) > 0
    }
    upper = [k for k in range(len(fs.facets)) if k not in flaps and k not in lower]
    changes, parts = _changes(fine, wings, lower, flaps, parted)
    moved = lower | flaps
    orders = {(m, s): m in parted.front for m in sorted(moved) for s in upper}
    after = toggled(fs, upper, changes, orders=orders, prefer=_intent(parted, moved))
    signs: list[Sign] = [FoldLine(sense, tuple(rows)) for sense, rows in parts.items() if rows]
    claims: list[Claim] = []
    for p, wing in zip(points, wings, strict=True):
        landing = reflection(keel)(reflection(wing.line)(p.at))
        signs.append(Arrow("pull-out", p.at, landing))
        claims.append(lands(request.state, p, landing))
    p, q = points
    return Outcome(
        after,
        tuple(signs),
        phrase(
            "Hold {points} and pull them apart as far as they go: the model opens, and the corner "
            "below "
            "folds up in front and behind.",
            points=all_of([p.words, q.words]),
        ),
        creases=tuple(s for rows in parts.values() for s in sheet_segments(request.state, rows)),
        folded=True,
        letters=tuple((v.letter, v.at) for v in points if v.letter),
        claims=tuple(claims),
    )


def _changes(
    fine: Divided, wings: tuple[Wing, Wing], lower: set[int], flaps: set[int], parted: Parted
) -> tuple[Changes, dict[Sense, list[tuple[int, Segment]]]]:
    """Hinges that open, and the body's fold between their far ends."""
    fs = fine.state
    changes: dict[int, Sense | None] = {}
    parts: dict[Sense, list[tuple[int, Segment]]] = {Sense.VALLEY: [], Sense.MOUNTAIN: []}
    for wing in wings:
        members = frozenset(k for k, f in enumerate(fine.parent) if f in wing.facets)
        changes.update(dict.fromkeys(_hinge(fs, members, wing.line)))
    for k, joint in enumerate(fs.joints):
        if {joint.a, joint.b} & flaps or (joint.a in lower) == (joint.b in lower):
            continue
        sense = Sense.VALLEY if joint.a in parted.front else Sense.MOUNTAIN
        changes[k] = sense
        if not joint.folded:
            parts[sense].append((fine.parent[joint.a], _placed(fs, k)))
    return changes, parts


def _intent(parted: Parted, moved: set[int]) -> Callable[[int, int], bool | None]:
    def preference(i: int, j: int) -> bool | None:
        if i in moved and j in moved and (i in parted.front) != (j in parted.front):
            return i in parted.front
        return None

    return preference


MOVE = Move(
    VERB,
    "draw two points of a model away from each other",
    FORMS,
    make,
    by_sight=(f"{VERB} {{corner}} and {{corner}}",),
    fingers=Several(
        Phrase(
            "Take the two points told below, one in each hand, and draw them away from each "
            "other. The model opens between them; go on until it lies flat again the other way."
        ),
    ),
)
