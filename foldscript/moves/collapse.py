"""Collapse: any set of creases, each a mountain or a valley, folded at once.

Whole named lines are given, or parts of them as `line P Q`; of each, those parts fold that the
vertices want, the rest stays flat.
Which parts these are is searched: at every interior vertex the folded creases must meet Kawasaki's
and Maekawa's conditions, and as much as possible of what was named folds.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from ..geometry.isometries import map_line, map_segment
from ..geometry.lines import (
    Point,
    Segment,
    distance,
    line_through,
    midpoint,
    on_line,
    point_on_segment,
)
from ..geometry.polygons import area, clip_segment
from ..languages.levels import Level
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.flap import sheet_segments
from ..paper.layers import Collision, OutOfWork
from ..paper.refold import Divided, divided, undivided
from ..paper.seams import merged
from ..paper.signs import Arrow, FoldLine, Sense, Sign
from ..paper.state import State
from ..paper.toggling import motions, toggled
from ..paper.vertices import Vertex, folds_flat, interior_vertices
from ..source.diagnostics import Refusal
from .planning.called import all_of
from .planning.fingers import Several
from .planning.flatness import not_flat
from .planning.gathered import gathered, with_goals
from .planning.named_creases import Wanted, wanted_lines
from .planning.request import Move, Outcome, PointValue, Remark, Request
from .planning.single_fold import collision_refusal

#: Choices of creases tried before giving up.
WORK_LIMIT = 100_000
#: Choices whose layers are looked at before giving up: of whole creases there are often hundreds, and
#: what folds after many that do not is hardly what was meant.
MOST_TRIED = 12
#: More creases than this around one vertex are not searched.
DEGREE_LIMIT = 16


def make(request: Request) -> Outcome:
    """Folds the named creases together."""
    wanted, holding = wanted_lines(request)
    state = request.state
    fine = _divide(state, wanted)
    named = _named_joints(fine.state, wanted)
    still = _held(fine, holding)
    folded, changes, after = _carried_out(request, fine, wanted, named, still)
    parts: dict[Sense, list[tuple[int, Segment]]] = {Sense.VALLEY: [], Sense.MOUNTAIN: []}
    for k in sorted(folded):
        joint = fine.state.joints[k]
        if joint.folded:
            continue
        seg = map_segment(fine.state.facets[joint.a].place, joint.segment)
        parts[named[k][1]].append((fine.parent[joint.a], seg))
    signs: list[Sign] = [FoldLine(sense, tuple(p)) for sense, p in parts.items() if p]
    signs.extend(_arrows(fine.state, still, changes))
    goals, corners = gathered(state, after)
    held = ((holding.letter, holding.at),) if holding and holding.letter else ()
    return Outcome(
        after,
        tuple(signs),
        _told(_sentence(wanted), goals),
        creases=tuple(s for p in parts.values() for s in sheet_segments(state, p)),
        folded=True,
        letters=tuple(dict.fromkeys((*held, *corners))),
        remarks=tuple(_left_flat(request, fine.state, wanted, named, folded)),
    )


def _told(how: Phrase, goals: tuple[Phrase, ...]) -> Phrase:
    """The caption, with where corners come to lie; the short one keeps that too."""
    whole = with_goals(how, goals)
    return briefly(whole, with_goals(how.again, goals)) if how.again is not None else whole


def _left_flat(
    request: Request,
    state: State,
    wanted: list[Wanted],
    named: dict[int, tuple[int, Sense]],
    folded: frozenset[int],
) -> Iterator[Remark]:
    """What was named and does not fold, a remark for each line."""
    flat: dict[int, list[Segment]] = {}
    for k, (n, _) in named.items():
        if k not in folded:
            flat.setdefault(n, []).append(state.joints[k].segment)
    for n, parts in sorted(flat.items()):
        line = wanted[n].line
        name = f"'{line.name}'" if line.name else line.words.render()
        where = " and ".join(
            f"between {_place(request, state, a)} and {_place(request, state, b)}"
            for a, b in merged(parts)
        )
        yield Remark(
            "stays-flat",
            f"{name} stays flat {where}: of the lines named, not all can fold together",
            ("name the parts that are to fold as 'line P Q', or other lines",),
        )


def _place(request: Request, state: State, at: Point) -> str:
    """A place on the sheet in words: 'corner A', 'a place 12 mm from corner A'."""
    words = request.locate(state.where(at))
    return words.removeprefix("on ") if words.startswith("on ") else f"a place {words}"


def _divide(state: State, wanted: list[Wanted]) -> Divided:
    """Cuts every facet along the creases that lie on it."""
    fine = undivided(state)
    for want in wanted:
        for crease in want.line.creases or ():
            line_on_sheet = line_through(*crease)
            for i in range(len(state.facets)):
                members = [k for k, p in enumerate(fine.parent) if p == i]
                place = state.facets[i].place
                if _lies_on(state, i, crease):
                    fine = divided(fine, map_line(place, line_on_sheet), members)
    return fine


def _lies_on(state: State, facet: int, crease: Segment) -> bool:
    return clip_segment(state.facets[facet].outline, crease) is not None


def _named_joints(state: State, wanted: list[Wanted]) -> dict[int, tuple[int, Sense]]:
    """Joint -> (which of the wanted lines, sense)."""
    found: dict[int, tuple[int, Sense]] = {}
    for n, want in enumerate(wanted):
        for crease in want.line.creases or ():
            line = line_through(*crease)
            for k, joint in enumerate(state.joints):
                if k in found:
                    continue
                p, q = joint.segment
                if not (on_line(line, p) and on_line(line, q)):
                    continue
                if point_on_segment(crease, midpoint(p, q)):
                    found[k] = (n, want.sense)
    return found


def _carried_out(
    request: Request,
    fine: Divided,
    wanted: list[Wanted],
    named: dict[int, tuple[int, Sense]],
    still: int,
) -> tuple[frozenset[int], dict[int, Sense], State]:
    """Joints that fold, joints that change, and the paper after: of the first choice that folds."""
    clash: Collision | None = None
    state = fine.state
    tried = 0
    for folded in itertools.islice(_all_folding(request, state, wanted, named), MOST_TRIED):
        tried += 1
        changes = {k: named[k][1] for k in named if (k in folded) != state.joints[k].folded}
        try:
            return folded, changes, toggled(fine, [still], changes)
        except Collision as collision:
            clash = clash or collision
    assert clash is not None
    why = collision_refusal(request, clash)
    parts = "name the parts that fold, as 'line P Q': of these creases many parts could fold or stay flat"
    raise Refusal(
        why.code,
        why.message,
        *((parts,) if tried > 1 else ()),
        "change a mountain to a valley, or the other way round",
        "or fold some of these creases first, and the others after them",
        span=why.span,
    )


def _all_folding(
    request: Request,
    state: State,
    wanted: list[Wanted],
    named: dict[int, tuple[int, Sense]],
) -> Iterator[frozenset[int]]:
    """Which named joints fold, fullest first: every line folds somewhere, and every vertex lies flat.

    Raises Refusal 'not-flat' naming the vertex and the angle that is missing, when there is none.
    """
    vertices = [v for v in interior_vertices(state) if any(k in named for k in v.joints)]
    for v in vertices:
        if sum(k in named for k in v.joints) > DEGREE_LIMIT:
            raise Refusal("too-complex", "too many creases meet at one point", span=request.span)
    inner = {k for v in vertices for k in v.joints}
    outer = {k: True for k in named if k not in inner}
    lines = {n for n, _ in named.values()}
    idle: set[int] | None = None  # lines that lie flat in the choice that folds most of them
    some = False
    try:
        for found in _choices(state, vertices, named, outer, [0]):
            picked = frozenset(k for k, on in found.items() if on)
            flat = lines - {named[k][0] for k in picked}
            if not flat:
                some = True
                yield picked
            elif idle is None or len(flat) < len(idle):
                idle = flat
    except OutOfWork:
        if idle is None:
            raise Refusal(
                "too-complex",
                "the creases could not be sorted out within the work limit",
                "collapse in smaller steps, or name the parts that fold as 'line P Q'",
                span=request.span,
            ) from None
    if not some:
        flat = [] if idle is None or idle == lines else [wanted[n].line for n in sorted(idle)]
        names = [line.name or line.words.render() for line in flat]
        why = not_flat(
            request, state, vertices, {k: sense for k, (_, sense) in named.items()}, names
        )
        if not state.order or request.clause("layers"):
            raise why
        every = "or fold along the lines through every layer: 'all layers'"
        raise Refusal(why.code, why.message, *why.hints, every, span=why.span)


def _choices(
    state: State,
    vertices: list[Vertex],
    named: dict[int, tuple[int, Sense]],
    choice: dict[int, bool],
    steps: list[int],
) -> Iterator[dict[int, bool]]:
    """Assignments that satisfy every vertex, fullest first at each vertex."""
    if not vertices:
        yield choice
        return
    # the vertex with the fewest open joints first
    vertices = sorted(
        vertices, key=lambda v: (sum(k in named and k not in choice for k in v.joints), v.at)
    )
    v, rest = vertices[0], vertices[1:]
    open_joints = [k for k in v.joints if k in named and k not in choice]
    for size in range(len(open_joints), -1, -1):
        for on in itertools.combinations(open_joints, size):
            steps[0] += 1
            if steps[0] > WORK_LIMIT:
                raise OutOfWork
            trial = {**choice, **{k: k in on for k in open_joints}}
            if _vertex_ok(state, v, named, trial):
                yield from _choices(state, rest, named, trial, steps)


def _vertex_ok(
    state: State, v: Vertex, named: dict[int, tuple[int, Sense]], choice: dict[int, bool]
) -> bool:
    angles: list[float] = []
    balance = 0
    certain = True
    for k, angle in zip(v.joints, v.angles, strict=True):
        if choice[k] if k in named else state.joints[k].folded:
            angles.append(angle)
            if k in named and not state.joints[k].folded:
                front = state.facets[state.joints[k].a].shows_front
                balance += 1 if (named[k][1] is Sense.VALLEY) == front else -1
            else:
                certain = False
    if not folds_flat(angles):
        return False
    return not angles or not certain or abs(balance) == 2


def _held(fine: Divided, holding: PointValue | None) -> int:
    """The piece that stays: the one holding the named point, else the largest."""
    state = fine.state
    if holding is not None and holding.sheet is not None:
        pool = state.facets_on_sheet(holding.sheet)
        if pool:
            return max(pool, key=lambda i: (round(area(state.facets[i].outline), 12), -i))
    return max(
        range(len(state.facets)), key=lambda i: (round(area(state.facets[i].outline), 12), -i)
    )


def _arrows(state: State, still: int, changes: dict[int, Sense]) -> list[Arrow]:
    """From the corners of the sheet that go far to where they land; the farthest few.

    Where hardly any corner of the sheet does, from the corners of other pieces too.
    """
    moved = motions(state, [still], changes)
    corners = state.sheet.outline
    rows: list[tuple[float, Point, Point]] = []
    far: list[tuple[float, Point, Point]] = []
    for i, motion in moved.items():
        facet = state.facets[i]
        for spot in facet.outline:
            tail = facet.place(spot)
            row = (distance(tail, motion(tail)), tail, motion(tail))
            far.append(row)
            if any(distance(spot, corner) < 1e-6 for corner in corners):
                rows.append(row)
    most = max((r[0] for r in far), default=0.0)
    if max((r[0] for r in rows), default=0.0) < 0.7 * most:
        rows = far
    kept = _farthest(rows, [], most)
    return kept if len(kept) > 2 else _farthest(far, kept, most)


def _farthest(
    rows: list[tuple[float, Point, Point]], kept: list[Arrow], most: float
) -> list[Arrow]:
    """Those that are kept already, and others that go far and start elsewhere, up to four."""
    rows = sorted(rows, key=lambda r: (-round(r[0], 9), r[1]))
    kept = list(kept)
    for far, tail, head in rows:
        if far < 1e-6 or far < 0.4 * most:
            break
        if all(distance(tail, a.tail) > 0.2 * far for a in kept):
            kept.append(Arrow("lift", tail, head))
    return kept[:4]


def _sentence(wanted: list[Wanted]) -> Phrase:
    """Names the creases where they are few; many are read off the figure."""
    rows = {
        sense: list(dict.fromkeys(w.line.words for w in wanted if w.sense is sense))
        for sense in (Sense.VALLEY, Sense.MOUNTAIN)
    }
    valleys, mountains = rows[Sense.VALLEY], rows[Sense.MOUNTAIN]
    if len(wanted) != len(valleys) + len(mountains) or len(wanted) > MOST_NAMED:
        return briefly(
            Phrase(
                "Collapse the model: fold all the lines shown at the same time, valley and "
                "mountain "
                "folds as they are marked, and press it flat."
            ),
            Phrase("Collapse the model along the lines shown, valley and mountain as marked."),
        )
    if not mountains or not valleys:
        template: Template = (
            "Collapse the model: make valley folds along {lines} at the same time, and press it "
            "flat."
            if valleys
            else "Collapse the model: make mountain folds along {lines} at the same time, and press it flat."
        )
        return phrase(template, lines=all_of(valleys or mountains))
    parts = {"valleys": all_of(valleys), "mountains": all_of(mountains)}
    return briefly(
        phrase(
            "Collapse the model: fold all these creases at the same time, valley folds along "
            "{valleys} and "
            "mountain folds along {mountains}, and press it flat.",
            **parts,
        ),
        phrase(
            "Collapse: valley folds along {valleys}, mountain folds along {mountains}.", **parts
        ),
    )


#: Creases that a caption names; more than that are only shown.
MOST_NAMED = 3
FORMS = (
    "collapse mountain d2, valley h, valley v, holding A",
    "collapse valley d1 and d2, mountain h",
    "collapse valley line P Q, mountain k, all layers",
)
MOVE = Move(
    "collapse",
    "fold a set of creases, mountain or valley, all at once",
    FORMS,
    make,
    whole_folds=True,
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("Now several creases are folded at once."),
        (
            Phrase(
                "First bend each of these lines the way it was told, one after the other, and let "
                "it go. Then push the corners that move toward the place where they come to lie, "
                "all at the same time and without force: the paper bends along the lines. Press "
                "it flat."
            ),
        ),
    ),
)
