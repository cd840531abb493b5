"""Single folds: the smallest flap that the words can mean, folded about the line they fix.

In: a `Request` and a sense. Out: the fold that was chosen, with the flap and the state after it.
Shared by valley, mountain, crease and pinch.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from ...geometry import polygons
from ...geometry.lines import (
    Point,
    Segment,
    distance,
    flipped,
    mirrored,
    signed_distance,
)
from ...geometry.polygons import Polygon
from ...geometry.tolerance import EPS, same
from ...languages.wording import Phrase
from ...paper.components import component_beside
from ...paper.flap import (
    Blocked,
    Flap,
    far_point,
    flap,
    fold_flap,
    moved_points,
    moving_parts,
    rides_along,
    sheet_segments,
)
from ...paper.refold import Collision
from ...paper.seams import remainder
from ...paper.signs import Arrow, FoldLine, Sense, Sign
from ...paper.state import State
from ...paper.too_near import TooNear, refuse_near
from ...source.diagnostics import Refusal
from .alignment import Alignment, alignments, distinct
from .choosing import no_such_choice, several_folds, which_side
from .claims import Claim, Thickest
from .counting import (
    Carry,
    Way,
    inner_spot,
    layers_moved,
    more_layers,
    nearest_of,
    not_counted,
    refuse_more_layers,
    seeds,
    takes_more,
)
from .doubled import lies_folded
from .fingers import Fingers
from .fold_claims import fold_claims
from .fold_clauses import CHOICES, FoldClauses, sort_clauses
from .holding import Hold, hold, refuse_held, remarks
from .in_the_way import blocked_refusal, collision_refusal
from .landing import away, both_move, lands_on_target, nearest_to_target, told_apart
from .near_misses import made_to_meet, meeting, slack
from .parted_points import refuse_left_behind, refuse_parted
from .request import Outcome, PointValue, Remark, Request
from .stacked import stacked

#: Refusals that another layer to start from would not change.
BEYOND_REACH = ("too-many-layers", "too-complex")


@dataclass(frozen=True)
class SingleFold:
    """A chosen fold: the words it came from, the flap, and the paper after it.

    `one_flap` tells that several layers which move hang together where they move; `counted` is where
    a number of layers was counted that must be kept.
    """

    alignment: Alignment
    flap: Flap
    after: State
    layers: int | None
    hold: Hold | None = None
    claims: tuple[Claim, ...] = ()
    one_flap: bool = False
    counted: Point | None = None


#: Reasons of refused folds that say little of what was meant, where another fold was refused for another.
_TELLS_LEAST = {"blocked": 1, "fold-misses-flap": 2}


def choose(
    request: Request,
    sense: Sense,
    *,
    need_side: bool,
    extra: tuple[str, ...] = (),
    carry: Carry = fold_flap,
    from_front: bool | None = None,
    from_named: bool = False,
    alone: bool = False,
) -> tuple[SingleFold, FoldClauses]:
    """The one fold that the words describe.

    `carry` folds the flap, by default in front or behind. Of several layers that may be meant the
    one nearest to the side that folds is tried first, unless `from_front` says from where (see `Way`).

    Raises Refusal when none works, when several do, or (with `need_side`) when the words leave
    open which side moves.
    """
    clauses = sort_clauses(request, extra)
    found = distinct(alignments(request, clauses))
    if need_side and not any(a.sided for a in found):
        raise which_side(request, found)
    way = Way(sense, carry, from_front, from_named, moves_named=need_side, alone=alone)
    done: list[SingleFold] = []
    refused: list[Refusal] = []
    for one in found:
        try:
            carry_out = partial(_carry_out, request, clauses, way=way)
            done.append(meeting(request, clauses, one, carry_out))
        except Refusal as refusal:
            refused.append(refusal)
    if not done:
        raise _refused(request, clauses, found, refused)
    if clauses.pick is not None:
        if clauses.pick >= len(done):
            raise no_such_choice(request, len(done))
        return _chosen(request, clauses, done[clauses.pick]), clauses
    fit = done
    if clauses.near is not None:
        spot = clauses.near.at
        far = [away(d.alignment, d.flap, spot) for d in fit]
        fit = [d for d, away_from in zip(fit, far, strict=True) if away_from <= min(far) + EPS]
    elif len(fit) > 1:
        fit = [d for d in fit if lands_on_target(d.alignment, clauses)] or fit
        fit = [d for d in fit if both_move(d.alignment, clauses)] or fit
    if clauses.near is None and len(fit) > 1:
        kept = nearest_to_target([d.alignment for d in fit], clauses)
        fit = [d for d in fit if d.alignment in kept]
    if len(fit) > 1:
        apart = told_apart(request, [(d.alignment, d.flap) for d in fit])
        ways = [(CHOICES[done.index(d)], words) for d, words in zip(fit, apart, strict=True)]
        raise several_folds(request, clauses, ways)
    return _chosen(request, clauses, fit[0]), clauses


def _refused(
    request: Request,
    clauses: FoldClauses,
    found: Sequence[Alignment],
    refused: Sequence[Refusal],
) -> Refusal:
    """Why none of the folds can be: of those that miss the flap, whether it lies folded along the line.

    Of several reasons the one that speaks of the words rather than of what lies in the way, whichever of
    the folds was tried first.
    """
    first = min(refused, key=lambda r: (_TELLS_LEAST.get(r.code, 0), r.code))
    if first.code != "fold-misses-flap":
        return first
    heads = [head for head, _ in clauses.pairs if isinstance(head, PointValue)]
    for p in clauses.moving or heads:
        for one in found:
            line = one.line if signed_distance(one.line, p.at) > 0 else flipped(one.line)
            if refusal := lies_folded(request, p, line):
                return refusal
    return first


def _chosen(request: Request, clauses: FoldClauses, fold: SingleFold) -> SingleFold:
    """The fold chosen, with what is claimed of it. Refused where its flap is held: another fold that fits the
    words is not what was said."""
    refuse_held(request, fold.hold)
    refuse_left_behind(request, clauses, fold.flap)
    if fold.counted is not None:
        refuse_more_layers(request, fold.flap, fold.layers, fold.counted)
    heads = [head for head, _ in clauses.pairs if isinstance(head, PointValue)]
    refuse_parted(request, clauses.moving or heads, fold.flap)
    claims = fold_claims(request.state, clauses, fold.flap.line, slack(fold.alignment))
    counted = (Thickest(fold.layers),) if fold.layers else ()
    return replace(fold, claims=(*claims, *counted))


def _carry_out(request: Request, clauses: FoldClauses, one: Alignment, way: Way) -> SingleFold:
    """The fold about one line; where no side is said, of the side with less paper, or else of the other."""
    if one.sided:
        return _on_side(request, clauses, one, way)
    lines = [one.line, flipped(one.line)]
    first, second = (_weight(moving_parts(request.state, line).values()) for line in lines)
    if second < first - EPS:
        lines.reverse()
    done: list[SingleFold] = []
    problems: list[Refusal] = []
    for line in lines:
        try:
            done.append(_on_side(request, clauses, replace(one, line=line), way))
        except TooNear:
            raise
        except Refusal as refusal:
            problems.append(refusal)
        if done and not same(first, second):
            break
    if not done:
        raise min(problems, key=lambda p: p.code) if same(first, second) else problems[0]
    return _smallest(request, done)


def _weight(parts: Iterable[Polygon]) -> float:
    return sum(polygons.area(part) for part in parts)


def _smallest(request: Request, done: Sequence[SingleFold]) -> SingleFold:
    """Of the folds of both sides the one that moves less paper; where both move as much, the creases decide.

    Raises Refusal where they go through different layers: then the side must be said.
    """
    weights = [_weight(fold.flap.parts) for fold in done]
    least = [f for f, w in zip(done, weights, strict=True) if w <= min(weights) + EPS]
    made = [sheet_segments(request.state, fold.flap.creases) for fold in least]
    if any(remainder(some, made[0]) or remainder(made[0], some) for some in made):
        raise which_side(request, [fold.alignment for fold in least])
    return least[0]


def _on_side(request: Request, clauses: FoldClauses, one: Alignment, way: Way) -> SingleFold:
    state = request.state
    parts = moving_parts(state, one.line)
    carriers = [i for i in one.carriers if i in parts]
    if not carriers:
        crossing = [
            i
            for i in parts
            if polygons.half_plane_extent(state.placed[i], one.line)[0] < -EPS or i in one.carriers
        ]
        carriers = list(state.top_down(crossing))
    # where only another part of the line lies on the side that moves, not that
    if one.edge is not None:
        pieces = {i: polygons.clip_segment(parts[i], one.edge) for i in carriers}
        carriers = [i for i, piece in pieces.items() if piece and distance(*piece) > EPS]
    if state.cuts and clauses.moving:  # of a point on a cut, the side that is said to move
        said = [i for p in clauses.moving for i in p.facets if i in parts]
        beside = component_beside(state, one.line, said)
        carriers = [i for i in carriers if i in beside] or carriers
    if not way.from_front:
        carriers.reverse()
    named = set(one.carriers) if way.moves_named and (clauses.pairs or clauses.moving) else set()
    if not carriers:
        raise Refusal(
            "fold-misses-flap",
            "the fold line misses the flap: nothing of it lies on the side that should move",
            "choose another line, or say which side moves with 'moving ...'",
            span=request.span,
        )
    blocked: Blocked | None = None
    problem: Refusal | None = None
    caught: SingleFold | None = None  # folds, but takes along what holds the flap
    more = False
    others = [i for also in one.also for i in nearest_of(state, parts, also, way)]
    for n, seed in enumerate(carriers):
        if more and any(state.above(seed, k) is not None for k in carriers[:n]):
            continue
        try:
            counted = seeds(request, clauses, one, seed, way)
        except Refusal as refusal:
            problem = problem or refusal
            continue
        for some in counted:
            try:
                moving = flap(
                    state,
                    one.line,
                    [*some, *others],
                    whole_stack=clauses.layers == 0,
                )
                if clauses.layers and named and not named & set(moving.facets):
                    raise not_counted(request, clauses.layers, one, seed, way)
                fold = _carry(state, clauses, one, way, moving)
                if clauses.layers and not way.from_named:
                    fold = replace(fold, counted=inner_spot(one, parts[seed]))
                if clauses.layers == 0 or not way.moves_named:
                    return fold
                strict = way.alone or bool(clauses.layers)
                fold = replace(fold, hold=hold(state, clauses, one, fold.flap, some, strict))
                if fold.hold is None or not fold.hold.is_held:
                    spot = fold.counted
                    if spot is None or not takes_more(request, fold.flap, fold.layers, spot):
                        return fold
                    more = True  # a flap side by side with this one may be meant
                caught = caught or fold
            except Blocked as held:
                blocked = blocked or held
            except TooNear:
                raise
            except Collision as clash:
                problem = problem or collision_refusal(request, clash)
            except Refusal as refusal:
                if refusal.code in BEYOND_REACH:
                    raise
                problem = problem or refusal
        if clauses.layers == 0:
            break  # whichever layer it starts from, all of them move
    if caught is not None:
        return caught
    if blocked is not None:
        raise blocked_refusal(request, blocked, way.sense)
    assert problem is not None
    raise problem


def _carry(
    state: State, clauses: FoldClauses, one: Alignment, way: Way, moving: Flap
) -> SingleFold:
    """The fold itself; the smallest flap takes along what it alone holds and what lies in its way."""
    while True:
        refuse_near(state, moving.line, moving.facets)
        try:
            after = way.carry(state, moving, way.sense)
            layers = layers_moved(state, clauses, one, moving)
            hang = component_beside(state, moving.line, moving.facets[:1])
            together = len(moving.facets) > 1 and hang >= set(moving.facets)
            return SingleFold(one, moving, after, layers, one_flap=together)
        except Blocked as held:
            if clauses.layers is not None or not rides_along(state, moving, held.blocker):
                raise
            moving = flap(state, one.line, (*moving.facets, held.blocker))


def folded(request: Request, moving: Flap, sense: Sense) -> State:
    """The flap folded on the request's paper. Raises Refusal where other paper is in the way."""
    try:
        return fold_flap(request.state, moving, sense)
    except Blocked as held:
        raise blocked_refusal(request, held, sense) from None
    except Collision as clash:
        raise collision_refusal(request, clash) from None


def arrow_of(fold: SingleFold, act: str) -> Arrow:
    """From the part that moves to where it lands."""
    one = fold.alignment
    if one.tail is not None and one.head is not None:
        return Arrow(act, one.tail, one.head)
    tail = far_point(fold.flap)
    return Arrow(act, tail, mirrored(fold.flap.line, tail))


def outcome(
    request: Request,
    fold: SingleFold,
    signs: tuple[Sign, ...],
    wording: Phrase,
    fingers: Fingers | None = None,
) -> Outcome:
    """What a fold has done: the flap lies where it landed, with the signs of the words that fixed it."""
    return Outcome(
        after=fold.after,
        signs=(*signs, *fold.alignment.signs),
        wording=wording,
        creases=tuple(sheet_segments(request.state, fold.flap.creases)),
        moved=moved_points(request.state, fold.flap),
        folded=True,
        letters=fold.alignment.letters,
        remarks=told(request, fold),
        claims=fold.claims,
        fingers=fingers,
    )


def told(request: Request, fold: SingleFold) -> tuple[Remark, ...]:
    """What whoever wrote the fold should know."""
    more = more_layers(request, fold.flap, fold.layers)
    return (*made_to_meet(fold.alignment), *remarks(request, fold.hold), *more)


def fold_signs(before: State, fold: SingleFold, sense: Sense) -> tuple[FoldLine, Arrow]:
    """Line and arrow of a fold; where it only opens what was folded, those of unfolding."""
    was, now = (
        [joint.segment for joint in state.joints if joint.folded] for state in (before, fold.after)
    )
    opens = _longer(was, now) and not _longer(now, was)
    line = replace(fold_line(before, fold, sense), opens=opens)
    return line, arrow_of(fold, "unfold" if opens else sense.value)


def _longer(some: Sequence[Segment], others: Sequence[Segment]) -> bool:
    """Whether segments run anywhere where the others do not."""
    return any(distance(*left) > EPS for left in remainder(some, others))


def fold_line(before: State, fold: SingleFold, sense: Sense) -> FoldLine:
    """The crease as a sign."""
    layered = stacked(before, fold.flap)
    return FoldLine(
        sense, fold.flap.creases, layers=layered[0][0] if layered else (), layered=layered
    )
