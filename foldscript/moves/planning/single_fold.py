"""Single folds: the smallest flap that the words can mean, folded about the line they fix.

In: a `Request` and a sense. Out: the fold that was chosen, with the flap and the state after it.
Shared by valley, mountain, crease and pinch.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial

from ...geometry import polygons
from ...geometry.lines import (
    Point,
    Segment,
    distance,
    flipped,
    mirrored,
    on_line,
    overlap_of,
    point_on_segment,
    signed_distance,
)
from ...geometry.polygons import Polygon
from ...geometry.tolerance import EPS, same
from ...languages.wording import Phrase
from ...paper.flap import (
    Blocked,
    Flap,
    far_point,
    fold_flap,
    moved_points,
    moving_parts,
    sheet_segments,
)
from ...paper.refold import Collision
from ...paper.seams import remainder
from ...paper.signs import Arrow, FoldLine, Sense, Sign
from ...paper.state import State
from ...paper.too_near import TooNear
from ...source.diagnostics import Refusal
from .alignment import Alignment, alignments, distinct
from .choosing import no_such_choice, several_folds, which_side
from .claims import Thickest
from .counting import (
    Carry,
    Way,
    more_layers,
    refuse_more_layers,
)
from .doubled import lies_folded
from .edge_moved import less_moves, tail_of
from .fingers import Fingers
from .fold_claims import fold_claims
from .fold_clauses import CHOICES, FoldClauses, sort_clauses
from .holding import refuse_held, remarks
from .in_the_way import blocked_refusal, collision_refusal
from .landing import away, both_move, lands_on_target, nearest_to_target, told_apart
from .near_misses import made_to_meet, meeting, slack
from .one_side import SingleFold, on_side
from .parted_points import refuse_left_behind, refuse_parted
from .request import LineValue, Outcome, PointValue, Remark, Request
from .stacked import stacked

#: Reasons of refused folds that say little of what was meant, where another fold was refused for another.
_TELLS_LEAST = {"blocked": 1, "fold-misses-flap": 2}

#: Millimetres beyond the end of a line that nobody wonders about.
_BEYOND = 1.0


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
    refuse_held(request, fold.hold, fold.numbers)
    refuse_left_behind(request, clauses, fold.flap)
    if fold.counted is not None:
        refuse_more_layers(request, fold.flap, fold.layers, fold.counted, fold.numbers)
    heads = [head for head, _ in clauses.pairs if isinstance(head, PointValue)]
    refuse_parted(request, clauses.moving or heads, fold.flap)
    claims = fold_claims(request.state, clauses, fold.flap.line, slack(fold.alignment))
    counted = (Thickest(fold.layers),) if fold.layers else ()
    return replace(fold, claims=(*claims, *counted))


def _carry_out(request: Request, clauses: FoldClauses, one: Alignment, way: Way) -> SingleFold:
    """The fold about one line; where no side is said, of the side with less paper, or else of the other."""
    if one.sided:
        return on_side(request, clauses, one, way)
    lines = [one.line, flipped(one.line)]
    first, second = (_weight(moving_parts(request.state, line).values()) for line in lines)
    if second < first - EPS:
        lines.reverse()
    done: list[SingleFold] = []
    problems: list[Refusal] = []
    for line in lines:
        try:
            done.append(on_side(request, clauses, replace(one, line=line), way))
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
        tail = tail_of(fold)
        return Arrow(act, one.tail, one.head) if tail is None else _onto(fold, act, tail)
    return _onto(fold, act, far_point(fold.flap))


def _onto(fold: SingleFold, act: str, tail: Point) -> Arrow:
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
    more = more_layers(request, fold.flap, fold.layers, fold.numbers)
    less = less_moves(request, fold)
    again = opened_again(request, fold.after)
    return (
        *made_to_meet(fold.alignment),
        *remarks(request, fold.hold),
        *more,
        *less,
        *again,
        *beyond(request, fold),
    )


def beyond(request: Request, fold: SingleFold) -> tuple[Remark, ...]:
    """That what is brought onto a line comes beyond the end of what is seen of it, beside the paper."""
    clause, at = request.clause("onto", "to"), fold.alignment.head
    lines = [v for v in clause.values if isinstance(v, LineValue)] if clause is not None else []
    seen = lines[0].segment if len(lines) == 1 else None
    if at is None or seen is None or fold.alignment.edge is not None or request.state.facets_at(at):
        return ()
    away = min(distance(at, end) for end in seen) * request.unit_mm
    if point_on_segment(seen, at) or away < _BEYOND or not on_line(lines[0].line, at):
        return ()
    what = fold.alignment.what.render() if fold.alignment.what else "the flap"
    return (
        Remark(
            "lands-beyond",
            f"{what} comes onto the line of {lines[0].words.render()} {away:.0f} mm beyond its end, where no "
            "paper lies",
            ("name another point that the fold goes through, or another line",),
        ),
    )


def opened_again(request: Request, after: State) -> tuple[Remark, ...]:
    """That a fold opens what the same step has folded: nobody folds to open it in one breath."""
    begun = request.step_ends[-1][1] if request.step_ends else len(request.history)
    made = [seg for record in request.history[begun:] if record.folded for seg in record.creases]
    was, now = (
        [joint.segment for joint in state.joints if joint.folded]
        for state in (request.state, after)
    )
    if (
        not made
        or _longer(now, was)
        or not any(overlap_of(s, t) for s in remainder(was, now) for t in made)
    ):
        return ()
    return (
        Remark(
            "opened-again",
            "this opens what the same step has folded along that line: it lies flat there again",
            (
                "where only a part of that paper was to be folded, cut or crease so far that it comes free",
                "or, if a crease is all that is wanted, end that line with 'and unfold' and leave this out",
            ),
        ),
    )


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
