"""Tuck: a flap goes under a layer, into a pocket between two layers, or inside the model.

In: a `Request` that says where the fold goes, as for a valley fold, and between which layers the flap
comes to lie. Without a fold line the flap lies where it is and only slips under the layer named.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from ..geometry.lines import Point
from ..languages.wording import Phrase, Template, listed, phrase
from ..paper.flap import Blocked, Flap, blockers, moved_points, sheet_segments
from ..paper.layers import Collision
from ..paper.signs import Sense
from ..paper.state import State
from ..source.diagnostics import Refusal, Span, write
from .planning.called import all_of
from .planning.called import point as called_point
from .planning.counting import Carry
from .planning.fingers import OneFold, Several
from .planning.fold_clauses import as_point
from .planning.folded_first import in_two
from .planning.layering import (
    Goal,
    fold_between,
    layer_of,
    lies_between,
    lies_over,
    lying_claims,
    passed,
)
from .planning.one_side import SingleFold
from .planning.pocket_words import between, none_takes_it_up, several
from .planning.pockets_at import Gap, beside, joined, lies_in, pockets_at
from .planning.request import Clause, Each, Move, Outcome, PointValue, Request
from .planning.single_fold import arrow_of, choose, fold_line, told
from .planning.slipping import not_tucked, slip
from .planning.tuck_places import MISPLACED, elsewhere, without_place

FORMS = (
    "tuck A to P, under B",
    "tuck A through P Q, between B and C",
    "tuck A along k, inside",
    "tuck mountain A to P, over B",
    "tuck A under B",
    "tuck A along k into the pocket at P",
)
UNDER = ("under", "into")
INTO = "into the pocket at"
#: A flap is folded in front where nothing is said; between two layers it may come from either side.
_FORWARD, _EITHER = (Sense.VALLEY,), (Sense.VALLEY, Sense.MOUNTAIN)


def make(request: Request) -> Outcome:
    """Folds the flap to where it belongs, or slips it there."""
    try:
        done = _tucked(request)
    except Refusal as refusal:
        rest = without_place(_without_sense(request))
        refusal = in_two(request, rest, refusal, _tucked)
        if refusal.code not in MISPLACED:
            raise refusal from None
        raise elsewhere(request, rest, refusal, partial(_goes, request, rest)) from None
    values = [v for clause in request.clauses for v in clause.values]
    named = [(v.letter, v.at) for v in values if isinstance(v, PointValue) and v.letter]
    return replace(done, letters=tuple(dict.fromkeys((*done.letters, *named))))


def _tucked(request: Request) -> Outcome:
    pocket = request.clause(INTO)
    return _said(request) if pocket is None else _into_pocket(request, pocket)


def _goes(request: Request, rest: Request, plate: frozenset[int]) -> bool:
    """Whether the flap goes under a layer, or inside where that is none. Raises Refusal where it does not."""
    ways = _senses(request) or (_FORWARD if plate else (Sense.MOUNTAIN, Sense.VALLEY))
    _put(request, rest, Goal(plate, front=ways[0] is Sense.VALLEY), Phrase("there"), ways)
    return True


def _said(request: Request) -> Outcome:
    """To where the words say. Raises Refusal, with the mountain fold as a hint where only that goes there."""
    rest, goal, where, ways = _words(request)
    try:
        return _put(request, rest, goal, where, ways)
    except Refusal as refusal:
        if ways != _FORWARD or _senses(request):
            raise
        try:
            _put(request, rest, goal, where, (Sense.MOUNTAIN,))
        except (Refusal, Collision):
            raise refusal from None
        verb = Span(request.span.start, request.span.start + len(MOVE.verb))
        said = f"{MOVE.verb} mountain"
        behind = write(verb, said, f"or, to fold it behind, say '{said}'")
        raise refusal.with_hints(*refusal.hints, behind) from None


def _into_pocket(request: Request, clause: Clause) -> Outcome:
    """Into the one pocket at a point that the flap can go into. Raises Refusal where there is not one."""
    if len(clause.values) != 1:
        raise Refusal("tuck-where", "say one point of the pocket", span=clause.span)
    point = as_point(clause.values[0])
    rest = replace(request, clauses=tuple(c for c in request.clauses if c is not clause))
    place = called_point(point.letter) if point.letter and point.layer else point.words
    where = phrase("into the pocket at {p}", p=place)
    pockets = pockets_at(request.state, point)
    done, refused = _tried(rest, point, pockets, where)
    for likelier in (partial(joined, request.state), partial(beside, request.state, point)):
        if len(done) > 1:
            done = [one for one in done if likelier(one[0])] or done
    if len(done) == 1:
        return done[0][1]
    at = point.letter or "P"
    if done:
        raise several(request, clause, [(gap, between(request, gap, at)) for gap, _ in done])
    every = pockets_at(request.state, replace(point, layer=False)) if point.layer else []
    others, _ = _tried(rest, point, [gap for gap in every if gap not in pockets], where)
    said = [words for gap, _ in others if (words := between(request, gap, at))]
    if len(pockets) == 1 and refused and not said:
        raise refused[0]
    raise none_takes_it_up(request, clause, pockets, refused, _moving(rest), said)


def _tried(
    rest: Request, point: PointValue, pockets: Sequence[Gap], where: Phrase
) -> tuple[list[tuple[Gap, Outcome]], Sequence[Refusal]]:
    """The pockets that take the flap up, each with how it lies then, and what refuses it in the others.

    Where none does between both of its layers, the flap may lie under that of the point alone, beside
    the other, unless a layer was said.
    """
    refused: list[Refusal] = []

    def put(gap: Gap, senses: Sequence[Sense]) -> Outcome | None:
        for way in senses:
            goal = Goal(gap.over, gap.below, way is Sense.VALLEY)
            try:
                one = _put(rest, _without_sense(rest), goal, where, (way,))
            except Refusal as refusal:
                refused.append(refusal)
                continue
            if lies_in(rest.state, gap, one.after, one.moved or _spots(rest)):
                return one
        return None

    ways = _senses(rest) or _EITHER
    done: list[tuple[Gap, Outcome]] = []
    for gap in pockets:
        if one := put(gap, ways):
            done.append((gap, one))
    told = tuple(refused)
    mine = [gap for gap in pockets if point.facets[0] in gap.over and not point.layer]
    if not done and (one := put(replace(mine[0], below=frozenset()), ways[:1]) if mine else None):
        done.append((mine[0], one))
    return done, told


def _moving(rest: Request) -> tuple[PointValue, int, int] | None:
    """The point that moves, how many of the layers there move with it, and how many lie there."""
    values = rest.clauses[0].values if rest.clauses else ()
    point = next((v for v in values if isinstance(v, PointValue)), None)
    if point is None:
        return None
    try:
        fold, _ = choose(
            _without_sense(rest),
            Sense.VALLEY,
            need_side=True,
            carry=lambda state, moving, sense: state,
            from_named=True,
        )
    except Refusal:
        return None
    there = rest.state.facets_at(point.at)
    return point, len(set(there) & set(fold.flap.facets)), len(there)


def _spots(request: Request) -> tuple[Point, ...]:
    """Where on the sheet the flap is that slips where it lies."""
    values = request.clauses[0].values
    return tuple(v.sheet for v in values if isinstance(v, PointValue) and v.sheet is not None)


def _senses(request: Request) -> tuple[Sense, ...]:
    """Valley or mountain, where it is said."""
    return tuple(Sense(c.word) for c in request.clauses if c.word in ("valley", "mountain"))


def _without_sense(request: Request) -> Request:
    """The words that fix the fold."""
    kept = (
        replace(c, word="") if c.word in ("valley", "mountain") else c
        for c in request.clauses
        if c.values or c.word not in ("valley", "mountain")
    )
    return replace(request, clauses=tuple(kept))


def _put(
    request: Request, rest: Request, goal: Goal, where: Phrase, ways: tuple[Sense, ...]
) -> Outcome:
    """Folds the flap between the layers of the goal, or slips it there."""
    if all(c.word in ("", "layers") for c in rest.clauses):
        return slip(request, rest, goal, where)
    inside = not goal.under and not goal.over
    problem: Refusal | None = None
    for way in ways:
        front = (way is Sense.MOUNTAIN) if inside else (way is Sense.VALLEY or not goal.over)
        try:
            fold, _ = choose(
                rest,
                way,
                need_side=True,
                carry=_carrier(replace(goal, front=front)),
                from_front=(way is Sense.MOUNTAIN) if inside else None,
                from_named=True,
            )
        except Refusal as refusal:
            problem = problem or refusal
            continue
        return _outcome(request, fold, goal, way, where)
    assert problem is not None
    raise not_tucked(problem, where)


def hinted(request: Request, refusal: Refusal, sense: Sense) -> Refusal:
    """The refusal of a plain fold, with the tuck as a hint where the flap can go next to its own layers."""
    if refusal.code not in ("blocked", "named-layer-stays"):
        return refusal
    words = (
        Clause(sense.value, (), request.span),
        *request.clauses,
        Clause("inside", (), request.span),
    )
    try:
        make(replace(request, move=MOVE, clauses=words))
    except (Refusal, Collision):
        return refusal
    where = "just behind its own layers" if sense is Sense.MOUNTAIN else "just over its own layers"
    return refusal.with_hints(
        *refusal.hints, f"or fold it {where}: say 'tuck {sense.value}' and add 'inside'"
    )


def _carrier(goal: Goal) -> Carry:
    inside = not goal.under and not goal.over

    def carry(state: State, moving: Flap, sense: Sense) -> State:
        landed = fold_between(state, moving, sense, goal)
        for held in [] if inside else blockers(state, moving, sense):
            if not goal.past(state, sense, held[1]) and passed(landed, held[1], sense):
                raise Blocked(*held)
        if inside and not lies_between(landed):
            raise Refusal(
                "not-inside",
                "the flap would not lie inside: there is no other layer there for it to go under",
                *(
                    ("say 'under' and a point of the layer", "or use 'mountain' to fold it behind")
                    if any(joint.folded for joint in state.joints)
                    else ("nothing is folded yet: fold first what it goes between",)
                ),
            )
        return landed.after

    return carry


def _words(request: Request) -> tuple[Request, Goal, Phrase, tuple[Sense, ...]]:
    """The words that fix the fold, where the flap goes, how to say that, and the senses to try."""
    state = request.state
    rest: list[Clause] = []
    under: list[PointValue] = []
    over: list[PointValue] = []
    inside = False
    ways = _EITHER
    last = ""
    for clause in request.clauses:
        word = clause.word
        points = [as_point(v) for v in clause.values] if word in (*UNDER, "over", "between") else []
        if word in UNDER:
            under.extend(points)
            ways = _FORWARD if ways == _EITHER else ways
        elif word == "over":
            over.extend(points)
            ways = (Sense.MOUNTAIN, Sense.VALLEY)
        elif word == "between":
            under.extend(points[:1])
            over.extend(points[1:])
        elif word == "and" and last in (*UNDER, "over", "between"):
            (under if last in UNDER else over).extend(as_point(v) for v in clause.values)
            continue
        elif word == "inside":
            inside = True
            ways = (Sense.MOUNTAIN, Sense.VALLEY)
            if clause.values:
                raise Refusal(
                    "unexpected-words",
                    "'inside' stands alone: just behind the flap's own layers",
                    "say 'under' and a point of the layer that the flap goes under",
                    "or 'between' and a point of each of two layers",
                    span=clause.span,
                )
        elif word in ("valley", "mountain"):
            if clause.values:
                rest.append(replace(clause, word=""))
        else:
            rest.append(clause)
        last = word
    if not (under or over or inside):
        raise Refusal(
            "tuck-where",
            "say where the flap goes: 'under' or 'over' and a point of a layer, "
            "'between' a point of each of two layers, or 'inside'",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    named = next((c for c in request.clauses if c.word in ("valley", "mountain")), None)
    if named is not None:
        ways = (Sense(named.word),)
    above, below = (
        frozenset(i for p in points for i in layer_of(state, p)) for points in (under, over)
    )
    if request.clause("between") is not None and lies_over(state, below, above):
        under, over, above, below = over, under, below, above  # either may be named first
    goal = Goal(above, below, ways[0] is Sense.VALLEY)
    if goal.under & goal.over:
        raise Refusal(
            "same-layer",
            f"{under[0].words.render()} and {over[0].words.render()} are on one layer",
            "name a point of each of the two layers that the flap goes between",
            span=over[0].span,
        )
    return replace(request, clauses=tuple(rest)), goal, _place(under, over), ways


def _place(under: list[PointValue], over: list[PointValue]) -> Phrase:
    if under and over:
        return phrase(
            "between the layers with {one} and with {other}",
            one=all_of([p.words for p in under]),
            other=all_of([p.words for p in over]),
        )
    if under:
        return listed([phrase("under the layer with {one}", one=p.words) for p in under])
    if over:
        return listed([phrase("in front of the layer with {one}", one=p.words) for p in over])
    return Phrase("inside")


def _outcome(
    request: Request, fold: SingleFold, goal: Goal, sense: Sense, where: Phrase
) -> Outcome:
    one = fold.alignment
    moved = moved_points(request.state, fold.flap)
    template: Template = "Fold {what} over {line} and tuck it {where}."
    return Outcome(
        fold.after,
        (
            fold_line(request.state, fold, sense),
            replace(arrow_of(fold, "tuck"), under=True),
            *one.signs,
        ),
        phrase(template, what=one.what or Phrase("the flap"), line=one.where, where=where),
        creases=tuple(sheet_segments(request.state, fold.flap.creases)),
        moved=moved,
        folded=True,
        letters=one.letters,
        remarks=told(request, fold),
        claims=(*fold.claims, *lying_claims(request.state, moved, goal, fold.flap)),
    )


MOVE = Move(
    "tuck",
    "put a flap under a layer, into a pocket, or inside",
    FORMS,
    make,
    each=Each(),
    fingers=OneFold(
        first=Phrase("This flap is to be tucked in between layers."),
        last=Phrase("Lay it flat."),
        inside=True,
        several=Several(
            Phrase(
                "Now a flap is tucked away: fold it, and push it in between the layers as told "
                "below, until it lies flat inside."
            ),
            slipped=Phrase("Now a flap is slipped under what it lies on. Nothing is folded anew."),
        ),
    ),
)
