"""Turn inside out: a doubled flap that lies folded in comes out, and what was its inner side is outside.

The tail of the goldfish. In: a point of the flap, and the fold along which it is held: all of it, or what a
cut has left of it. Its halves hang on the front and on the back of the model; each swings about the fold on
its own side of the other, so that the fold between them bends the other way. Out: the paper, that fold open.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from ..geometry import polygons
from ..geometry.isometries import reflection
from ..geometry.lines import Line, flipped, mirrored, on_line, signed_distance
from ..geometry.tolerance import EPS
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.components import adjacency, component_beside
from ..paper.conditions import Pair
from ..paper.layers import Collision
from ..paper.refold import refold
from ..paper.signs import Arrow
from ..paper.state import State
from ..source.diagnostics import Refusal
from .planning.claims import Flat, OnlyBeyond
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_line, as_point
from .planning.in_the_way import collision_refusal
from .planning.request import LineValue, Move, Outcome, PointValue, Request

VERB = "turn inside out"
FORMS = (f"{VERB} A along line P Q", f"{VERB} A along k")


@dataclass(frozen=True)
class Doubled:
    """A flap of two halves, and the joints along the line that hold it."""

    front: frozenset[int]
    back: frozenset[int]
    hinge: tuple[int, ...]


def make(request: Request) -> Outcome:
    """Turns the flap inside out."""
    p, value = _words(request)
    state = request.state
    line = value.line if signed_distance(value.line, p.at) > 0 else flipped(value.line)
    flap = _flap(request, p, line, value)
    try:
        after = _turned(state, flap, line)
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    head = mirrored(line, p.at)
    where = phrase("along {line}", line=value.words)
    return Outcome(
        after,
        (Arrow("pull-out", p.at, head),),
        briefly(
            phrase(
                "Turn the flap with {what} inside out {where}: draw it out from between the layers, its "
                "front half to the front and its back half to the back, and press it flat.",
                what=p.words,
                where=where,
            ),
            phrase("Turn the flap with {what} inside out {where}.", what=p.words, where=where),
        ),
        folded=True,
        letters=(*(((p.letter, p.at),) if p.letter else ()), *value.letters),
        claims=(
            lands(state, p, head),
            OnlyBeyond((line,), mirrored=True),
            Flat(tuple(state.joints[k].segment for k in flap.hinge)),
        ),
    )


def _words(request: Request) -> tuple[PointValue, LineValue]:
    request.allow("", "along")
    head, along = request.clause(""), request.clause("along")
    if head is None or along is None or len(head.values) != 1 or len(along.values) != 1:
        raise Refusal(
            "turn-what",
            "say which flap is turned inside out, and along which fold",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    p, line = as_point(head.values[0]), as_line(along.values[0])
    if not p.facets:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=p.span)
    if on_line(line.line, p.at):
        raise Refusal(
            "point-on-line",
            f"{p.words.render()} lies on {line.words.render()}: it does not tell which flap turns",
            "name a point beside the line",
            span=p.span,
        )
    return p, line


def _flap(request: Request, p: PointValue, line: Line, value: LineValue) -> Doubled:
    """The flap that the point is on. Raises Refusal where other paper holds it too, or it has no halves."""
    state = request.state
    for facet in p.facets:
        members = component_beside(state, line, [facet])
        hinge = tuple(k for k, j in enumerate(state.joints) if (j.a in members) != (j.b in members))
        if not hinge:
            continue
        beyond = any(polygons.half_plane_extent(state.placed[i], line)[0] < -EPS for i in members)
        if beyond or not all(state.joints[k].folded for k in hinge):
            break
        front, back = _halves(state, members, hinge)
        if any(
            joint.folded and {joint.a, joint.b} & front and {joint.a, joint.b} & back
            for joint in state.joints
        ):
            return Doubled(front, back, hinge)
        raise Refusal(
            "no-halves",
            f"the flap with {p.words.render()} has no front and back half with a fold between them, "
            "so it cannot be turned inside out",
            f"say 'pull out {p.letter or 'A'} along ...', or fold it over",
            span=p.span,
        )
    raise Refusal(
        "no-fold-there",
        f"the paper with {p.words.render()} is not held by folds along {value.words.render()} alone",
        "name the fold that holds the flap in; a cut along a part of it sets the flap free there",
        f"where the paper is to bend anew, say 'outside reverse {p.letter or 'A'} along ...'",
        span=value.span,
    )


def _halves(
    state: State, movers: frozenset[int], hinge: tuple[int, ...]
) -> tuple[frozenset[int], frozenset[int]]:
    """Which pieces hang on the upper ones of the layers that hold the flap, and which on the lower ones."""
    ends = [
        (j.a, j.b) if j.a in movers else (j.b, j.a) for j in map(state.joints.__getitem__, hinge)
    ]
    holders = {s for _, s in ends}
    front: dict[int, bool] = {}
    for m, s in sorted(ends):
        over = sum(state.above(other, s) is True for other in holders)
        under = sum(state.above(s, other) is True for other in holders)
        if over != under:
            front.setdefault(m, over < under)
    joined = adjacency(j for j in state.joints if j.a in movers and j.b in movers)
    queue = deque(sorted(front))
    while queue:
        i = queue.popleft()
        for k in joined.get(i, ()):
            if k not in front:
                front[k] = front[i]
                queue.append(k)
    return (
        frozenset(k for k, over in front.items() if over),
        frozenset(k for k, over in front.items() if not over),
    )


def _turned(state: State, flap: Doubled, line: Line) -> State:
    """Both halves reflected, what hangs on the front in front of everything, the other half behind."""
    movers = flap.front | flap.back
    orders: dict[Pair, bool] = {}
    for m in movers:
        for s in range(len(state.facets)):
            if s not in movers or (m in flap.front and s in flap.back):
                orders[m, s] = m in flap.front
    return refold(
        state,
        dict.fromkeys(movers, reflection(line)),
        {m: 0 if m in flap.front else 1 for m in movers},
        orders,
    )


MOVE = Move(
    VERB,
    "bring out a doubled flap that lies folded in, its inner side outside",
    FORMS,
    make,
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("Now a doubled flap that lies inside is turned inside out."),
        (
            Phrase(
                "Open the layers that it lies between. Draw the flap out, spread its two halves, and let "
                "them close again with what was inside now outside. Press it flat."
            ),
        ),
    ),
)
