"""Sinks: a closed point is pushed into the model, along a line that goes all round it.

In: the point and a line. Out: every layer beyond the line reflected in it. Open: the point is turned
inside out, so that the creases round it all have one sense on the sheet and every fold inside it
changes its own. Closed: the front half and the back half of the point's layers stay closed as two
packets and go in between the layers that hold them; only the folds between the two halves change
their sense. (Were the whole point one packet, it could only go in front of or behind everything: each
layer's crease would interleave with its neighbour's.)
"""

from __future__ import annotations

from functools import partial

from ..geometry.isometries import reflection
from ..geometry.lines import Line, mirrored, point_on_segment, segment_distance, signed_distance
from ..geometry.polygons import area
from ..geometry.tolerance import EPS
from ..languages.levels import Level
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.conditions import Pair
from ..paper.flap import Flap, beyond, flap
from ..paper.layers import Collision
from ..paper.refold import Divided, divided, refold
from ..paper.signs import PointSign
from ..paper.state import State
from ..paper.union_find import UnionFind
from ..source.diagnostics import Refusal, write
from .planning.alignment import Alignment
from .planning.claims import OnlyBeyond
from .planning.creasing import folds_made
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.halves import parted, turned
from .planning.in_the_way import collision_refusal
from .planning.request import Each, Move, Outcome, PointValue, Request
from .planning.tip import tip_alignments


def _sink(request: Request, *, opened: bool) -> Outcome:
    """Pushes the point in. Raises Refusal when the paper does not allow it."""
    tip, found = tip_alignments(request)
    one = found[0]
    state = request.state
    moving = flap(state, one.line, tip.facets)
    _refuse_open_point(request, moving, tip)
    fine = divided(state, moving.line, moving.facets)
    movers = beyond(fine, moving.facets, moving.line)
    try:
        if opened:
            after = _turned_inside_out(fine, moving.line, frozenset(movers))
        else:
            after = _pushed_in(fine, moving.line, movers)
    except Collision as clash:
        why = collision_refusal(request, clash)
        raise Refusal(
            "locked-layers",
            f"this point cannot be sunk like this: {why.message}",
            write(
                request.verb_span,
                f"{'closed' if opened else 'open'} sink",
                f"try {'a closed' if opened else 'an open'} sink",
            ),
            "or choose a line nearer the point",
            span=request.span,
        ) from None
    rim = [
        k for k, joint in enumerate(fine.state.joints) if (joint.a in movers) != (joint.b in movers)
    ]
    lines, creases = folds_made(fine, after, rim)
    landing = mirrored(one.line, tip.at)
    return Outcome(
        after,
        (
            *lines,
            PointSign("open-sink" if opened else "closed-sink", tip.at, landing),
        ),
        _sentence(tip, one, opened),
        creases=creases,
        folded=True,
        letters=one.letters,
        claims=(OnlyBeyond((one.line,), mirrored=True), lands(state, tip, landing)),
    )


def _sentence(tip: PointValue, one: Alignment, opened: bool) -> Phrase:
    whole: Template = (
        "Closed sink {what} {where} (push the point straight in; its layers stay together)."
    )
    short: Template = "Closed sink {what} {where}."
    if opened:
        whole = (
            "Open sink {what} {where} (open the point, push it in turned inside out, and close it "
            "again)."
        )
        short = "Open sink {what} {where}."
    parts = {"what": tip.words, "where": one.where}
    return briefly(phrase(whole, **parts), phrase(short, **parts))


def _refuse_open_point(request: Request, moving: Flap, tip: PointValue) -> None:
    """A sink needs a closed point: the crease must go all round it on the sheet."""
    state, line = request.state, moving.line
    at_edge = any(
        tip.sheet is None or point_on_segment(seg, tip.sheet) for _, seg in state.raw_edges
    )
    for i, seg in state.raw_edges:
        if i not in moving.facets:
            continue
        ends = [state.facets[i].place(p) for p in seg]
        if max(signed_distance(line, p) for p in ends) > EPS:
            if at_edge:
                raise Refusal(
                    "open-point",
                    f"{tip.words.render()} is not a closed point: an edge of the sheet runs there",
                    "name a point that is closed all round",
                    span=request.span,
                )
            here = segment_distance((ends[0], ends[1]), tip.at) < EPS
            raise Refusal(
                "open-point",
                f"an edge of the sheet lies beyond this line, as {tip.words.render()} does: "
                "the fold of a sink has to go all round its point",
                "unfold first the flaps whose edges lie at the point itself: no line goes between them and it"
                if here
                else "choose a line nearer the point, or lean it less",
                span=request.span,
            )


def _pushed_in(fine: Divided, line: Line, movers: list[int]) -> State:
    """The point between the layers that hold it, its two halves closed."""
    clash: Collision | None = None
    for parts in parted(fine, movers):
        try:
            return turned(parts, line, inside=True)
        except Collision as collision:
            clash = clash or fine.undivided(collision)
    assert clash is not None  # a closed point has at least two layers
    raise clash


def _turned_inside_out(fine: Divided, line: Line, movers: frozenset[int]) -> State:
    """The point inside out, every crease round it of one sense on the sheet."""
    state = fine.state
    motion = reflection(line)
    orders: dict[Pair, bool] = {}
    # on the sheet every crease round the point gets the sense that the top layer's has: mountain
    front_mountain = _shows_front(state, movers)
    for joint in state.joints:
        for t, s in ((joint.a, joint.b), (joint.b, joint.a)):
            if t in movers and s not in movers:
                orders[s, t] = state.facets[s].shows_front == front_mountain
        if joint.folded and joint.a in movers and joint.b in movers:
            orders[joint.a, joint.b] = bool(state.above(joint.a, joint.b))
    rigid = UnionFind(len(state.facets))
    for joint in state.joints:
        if not joint.folded and joint.a in movers and joint.b in movers:
            rigid.unite(joint.a, joint.b)
    group = {t: rigid.find(t) for t in movers}
    depths = state.depths
    middle = sorted(depths[t] for t in movers)[len(movers) // 2]

    def preference(i: int, j: int) -> bool | None:
        if (i in movers) and (j in movers):
            return state.above(i, j)
        s = j if i in movers else i
        over = depths[s] < middle
        return over == (s == i)

    try:
        return refold(state, dict.fromkeys(movers, motion), group, orders, preference)
    except Collision as clash:
        raise fine.undivided(clash) from None


def _shows_front(state: State, movers: frozenset[int]) -> bool:
    """Whether most of what the reader sees of a point is the sheet's front; the front where as much is."""
    shown = {True: 0.0, False: 0.0}
    for i in movers:
        if not any(state.above(k, i) for k in state.neighbours[i] & movers):
            shown[state.facets[i].shows_front] += area(state.placed[i])
    return shown[True] > shown[False] - EPS


def _forms(verb: str) -> tuple[str, ...]:
    return f"{verb} O along k", f"{verb} O through P Q", f"{verb} O to Q"


MOVES = (
    Move(
        "open sink",
        "push a closed point in, turning it inside out",
        _forms("open sink"),
        partial(_sink, opened=True),
        each=Each(),
        level=Level.INTERMEDIATE,
        fingers=Several(
            Phrase(
                "This is an open sink: a closed point is pushed in between its layers and turned "
                "inside out."
            ),
            (
                Phrase(
                    "Fold the point over and back again to both sides. Open the paper out so far "
                    "that the point lies flat, pinch the outline of the part beyond the line all "
                    "round as a ridge, push its middle in, and close the paper up again."
                ),
            ),
        ),
    ),
    Move(
        "closed sink",
        "push a closed point in with its layers closed",
        _forms("closed sink"),
        partial(_sink, opened=False),
        each=Each(),
        level=Level.HIGH_INTERMEDIATE,
        fingers=Several(
            Phrase(
                "This is a closed sink: a closed point is pushed straight in without opening its "
                "layers."
            ),
            (
                Phrase(
                    "Fold the point over and back again to both sides. Hold the layers closed and "
                    "push the point in between them, a little at a time."
                ),
            ),
        ),
    ),
)
