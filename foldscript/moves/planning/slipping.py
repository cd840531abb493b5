"""A flap that lies where it is slips to another place of the stack: under a layer, or over one.

In: a `Request` of a tuck whose words fix no fold line, and where the flap belongs. Out: its `Outcome`; a
refusal where the flap cannot go there, or could in several ways.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry.lines import midpoint
from ...geometry.polygons import area, centroid
from ...languages.wording import Phrase, phrase
from ...paper.layers import Collision
from ...paper.signs import Arrow
from ...paper.state import State
from ...source.diagnostics import Refusal
from .claims import NothingMoves
from .fold_clauses import as_point
from .in_the_way import collision_refusal
from .layering import Goal, hinged, layers_of, lie_otherwise, lying_claims, places_of, restacked
from .request import Outcome, PointValue, Request


def not_tucked(refusal: Refusal, where: Phrase) -> Refusal:
    """The same refusal, as one of a tuck."""
    return Refusal(
        refusal.code,
        f"the flap cannot be tucked {where.render()}: {refusal.message}",
        *refusal.hints,
        span=refusal.span,
    )


def slip(request: Request, rest: Request, goal: Goal, where: Phrase) -> Outcome:
    """The flap stays where it is and goes under the layer.

    `rest` are the words without those that say between which layers it goes. Raises Refusal.
    """
    state = request.state
    if not rest.clauses or not rest.clauses[0].values:
        raise Refusal(
            "tuck-what", "say which flap is tucked: name one point of it", span=request.span
        )
    p = as_point(rest.clauses[0].values[0])
    counted = rest.clause("layers")
    if counted is not None:
        raise Refusal(
            "unexpected-words",
            "a number of layers goes with a fold line, and these words name none",
            "leave the number out: the flap stays where it is and slips under the layer named",
            "or say where it is folded, as for a valley fold: tuck A to P, 2 layers, under B",
            span=counted.span,
        )
    if not goal.under and not goal.over:
        raise Refusal(
            "tuck-where",
            "say which layer it goes under",
            "mark a point on that layer, and add 'under' and the point's name",
            "or say where the flap is folded, as for a valley fold: tuck A to P, inside",
            span=request.span,
        )
    clash: Collision | None = None
    start, *others = layers_of(state, p)
    named = goal.under | goal.over
    if others:
        raise Refusal(
            "which-flap",
            f"{p.words.render()} belongs to {len(others) + 1} flaps side by side",
            "name a point that lies on that flap alone",
            span=p.span,
        )
    if start & named:
        raise Refusal(
            "same-layer",
            f"{p.words.render()} is on that layer itself",
            "name a point of the layer that the flap goes under, or of its pocket: 'under P'",
            f"or say where {p.words.render()} lands, and 'inside' to fold it in between its own layers",
            span=p.span,
        )
    done: list[tuple[frozenset[int], State]] = []
    for packet in hinged(state, start, named):
        if done and len(packet) > len(done[0][0]):
            break  # the smallest flap that goes there, and any as small
        if not any(state.neighbours[i] & named for i in packet):
            continue
        if goal.met(state, packet):
            if not any(state.neighbours[i] & named for i in start):
                continue  # paper that hangs on the flap lies there, the flap itself does not
            raise Refusal(
                "lies-there", f"{p.words.render()} lies {where.render()} already", span=request.span
            )
        try:
            done += [(packet, after) for after in restacked(state, packet, goal)]
        except Collision as collision:
            clash = clash or collision
    if done:
        return _slipped(request, p, goal, where, done)
    if clash is not None:
        raise not_tucked(collision_refusal(request, clash), where)
    raise Refusal(
        "tuck-misses",
        f"the flap with {p.words.render()} does not reach that layer",
        "say where it is folded, as for a valley fold: tuck A to P, under B",
        span=request.span,
    )


def _slipped(
    request: Request,
    p: PointValue,
    goal: Goal,
    where: Phrase,
    done: Sequence[tuple[frozenset[int], State]],
) -> Outcome:
    """The one way in which the flap slips. Raises Refusal where it does in several, as far."""
    state = request.state
    packet, after = done[0]
    if any(lie_otherwise(state, after, other) for _, other in done[1:]):
        raise Refusal(
            "which-lies-over",
            f"the flap with {p.words.render()} can go {where.render()} in more than one way",
            "say between which two layers it goes: 'between' and a point of each",
            span=request.span,
        )
    layer = max(
        goal.under | goal.over, key=lambda i: (round(area(state.placed[i]), 9), state.placed[i])
    )
    reach = midpoint(p.at, centroid(state.placed[layer]))
    return Outcome(
        after,
        (Arrow("tuck", p.at, reach, under=True),),
        phrase("Tuck {what} {where}.", what=p.words, where=where),
        folded=True,
        letters=((p.letter, p.at),) if p.letter else (),
        claims=(NothingMoves(), *lying_claims(state, places_of(state, packet), goal)),
    )
