"""Sinks: a closed point is pushed into the model, along a line that goes all round it.

In: the point and a line. Out: every layer beyond the line reflected in it. Open: the point is turned
inside out, so that the creases round it all have one sense on the sheet and the folds inside change
theirs. Closed: the point's own layers stay as they are and go in as one packet; whether they can is
for the layer conditions to say.
"""

from __future__ import annotations

from ..diagnostics import Refusal
from ..geometry.isometries import reflection
from ..geometry.lines import Line, mirrored, signed_distance
from ..geometry.tolerance import EPS
from ..paper.conditions import Pair
from ..paper.flap import Flap, flap
from ..paper.layers import Collision
from ..paper.refold import divided, refold
from ..paper.signs import Act, Arrow, PointSign, Spot
from ..paper.state import State
from ..wording import phrase
from .creasing import folds_made
from .halves import beyond
from .request import Outcome, Request
from .simple import collision_refusal
from .tip import tip_alignments


def sink(request: Request, *, opened: bool) -> Outcome:
    """Pushes the point in. Raises Refusal when the paper does not allow it."""
    tip, found = tip_alignments(request)
    one = found[0]
    state = request.state
    moving = flap(state, one.line, tip.facets)
    _refuse_open_point(request, moving, tip.words.render())
    fine = divided(state, moving.line, moving.facets)
    movers = frozenset(beyond(fine, moving.facets, moving.line))
    try:
        after = _pushed(fine.state, moving.line, movers, opened)
    except Collision as clash:
        why = collision_refusal(request, fine.undivided(clash))
        raise Refusal(
            "locked-layers",
            f"this point cannot be sunk like this: {why.message}",
            "try the other kind of sink" if opened else "try an open sink",
            "or choose a line nearer the point",
            span=request.span,
        ) from None
    rim = [
        k for k, joint in enumerate(fine.state.joints) if (joint.a in movers) != (joint.b in movers)
    ]
    lines, creases = folds_made(fine, after, rim)
    landing = mirrored(one.line, tip.at)
    template = (
        "Open sink {what} {where}: open the point, push it in and turn it inside out."
        if opened
        else "Closed sink {what} {where}: push the point in without opening its layers."
    )
    return Outcome(
        after,
        (
            *lines,
            Arrow(Act.TUCK, tip.at, landing, under=True),
            PointSign(Spot.PUSH, tip.at, landing),
        ),
        phrase(template, what=tip.words, where=one.where),
        creases=creases,
        folded=True,
        letters=one.letters,
    )


def _refuse_open_point(request: Request, moving: Flap, name: str) -> None:
    """A sink needs a closed point: the crease must go all round it on the sheet."""
    state, line = request.state, moving.line
    for i, seg in state.raw_edges:
        if i not in moving.facets:
            continue
        ends = [state.facets[i].place(p) for p in seg]
        if max(signed_distance(line, p) for p in ends) > EPS:
            raise Refusal(
                "open-point",
                f"{name} is not a closed point: an edge of the sheet runs there",
                "use 'inside reverse' for an open tip",
                span=request.span,
            )


def _pushed(state: State, line: Line, movers: frozenset[int], opened: bool) -> State:
    """The divided paper with the pieces beyond the line reflected in it."""
    motion = reflection(line)
    orders: dict[Pair, bool] = {}
    top = state.top_down(movers)[0]
    # on the sheet every crease round the point gets the sense that the top layer's has: mountain
    front_mountain = state.facets[top].shows_front
    if opened:
        for joint in state.joints:
            for t, s in ((joint.a, joint.b), (joint.b, joint.a)):
                if t in movers and s not in movers:
                    faces = state.facets[s].shows_front
                    orders[s, t] = faces == front_mountain
            if joint.folded and joint.a in movers and joint.b in movers:
                orders[joint.a, joint.b] = bool(state.above(joint.a, joint.b))
    group = {t: (t if opened else 0) for t in movers}
    if opened:
        _tie_flat(state, movers, group)
    stack = state.top_down(range(len(state.facets)))
    rank = {i: k for k, i in enumerate(stack)}
    middle = sorted(rank[t] for t in movers)[len(movers) // 2]

    def wish(i: int, j: int) -> bool | None:
        if (i in movers) and (j in movers):
            return state.above(i, j)
        s = j if i in movers else i
        over = rank[s] < middle
        return over == (s == i)

    return refold(state, dict.fromkeys(movers, motion), group, orders, wish)


def _tie_flat(state: State, movers: frozenset[int], group: dict[int, int]) -> None:
    """Pieces that lie flat with each other go together."""
    for joint in state.joints:
        if not joint.folded and joint.a in movers and joint.b in movers:
            old, new = sorted((group[joint.a], group[joint.b]), reverse=True)
            for k, g in group.items():
                if g == old:
                    group[k] = new
