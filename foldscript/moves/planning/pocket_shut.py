"""What keeps a pocket from being opened between front and back, told by the layers that do.

In: the `Request` of a move that opens a pocket at its mouth, and what was amiss each time the layers were
parted there. Out: the `Refusal`: which layer is in the way, and what to do about it first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...geometry.isometries import map_segment
from ...geometry.lines import Line, Point, Segment, line_through, midpoint, on_line
from ...geometry.polygons import area
from ...geometry.tolerance import same
from ...paper.components import component
from ...paper.layers import Collision
from ...paper.refold import Divided
from ...paper.state import Joint, State
from ...source.diagnostics import Refusal
from .called import all_of
from .in_the_way import collision_refusal
from .pocket import Mouth, mouth_at
from .request import PointValue, Request

Ends = tuple[PointValue, PointValue]

OPEN_EDGE = "name the two ends of an edge at which the layers lie open"


@dataclass
class Amiss:
    """What was amiss where the layers could be parted, the first time of each kind.

    clash : layers that would pass through each other, as facets of the request's paper
    torn : whether the paper would tear
    crooked : a place where front and back hold together that is not at a straight side
    """

    clash: Collision | None = None
    torn: bool = False
    crooked: Joint | None = None


def refused(
    request: Request, ends: Ends, fine: Divided, along: Point, middle: Line, amiss: Amiss
) -> Refusal:
    """Why the pocket between the ends cannot be opened."""
    said = all_of([p.words for p in ends]).render()
    if amiss.clash is not None:
        why = collision_refusal(request, amiss.clash)
        layers = _layers(request, amiss.clash.facets)
        return Refusal(
            "locked-layers",
            f"the pocket between {said} cannot be flattened: {why.message}",
            f"free {layers} first: unfold what holds them, or pull them out",
            "and fold them back when the model lies flat again",
            span=request.span,
        )
    if amiss.torn:
        return _no_pocket(
            request,
            f"the model cannot be flattened with {said} together: the paper would tear",
            "the two sides of the pocket must mirror each other; name the ends of its open edge",
        )
    if amiss.crooked is not None:
        joint = amiss.crooked
        one, other = (request.describe(fine.parent[i]) for i in (joint.a, joint.b))
        at = midpoint(*map_segment(fine.state.facets[joint.a].place, joint.segment))
        return _no_pocket(
            request,
            f"the pocket between {said} does not open: its front, {one}, and its back, {other}, hold "
            f"together {request.locate(at)} too, and not only at straight sides",
            "unfold what holds them together there first",
            "or name the ends of another open edge",
        )
    mouth = mouth_at(fine.state, midpoint(ends[0].at, ends[1].at), along, middle)
    if mouth is None:
        why_not = "no edge of the model lies midway between them"
    elif len(mouth.stack) < 2:
        why_not = "a single layer lies there"
    else:
        return _held(request, said, fine, mouth)
    return _no_pocket(request, f"there is no pocket between {said}: {why_not}", OPEN_EDGE)


def _held(request: Request, said: str, fine: Divided, mouth: Mouth) -> Refusal:
    """No two layers part there: a fold along the edge joins them, or they are two flaps."""
    if any(mouth.barred(k) is None for k in mouth.parts()):
        return _no_pocket(
            request,
            f"there is no pocket between {said}: the layers that part there are not held together",
            OPEN_EDGE,
        )
    place = {i: k for k, i in enumerate(mouth.stack)}
    widest = max(
        (f for f in mouth.folds if f[0] in place and f[1] in place),
        key=lambda f: abs(place[f[0]] - place[f[1]]),
    )
    a, b = fine.parent[widest[0]], fine.parent[widest[1]]
    flap = _flap(request.state, a, b, widest[2])
    if flap is None:
        return _no_pocket(
            request,
            f"there is no pocket between {said}: {request.describe(a)} and {request.describe(b)} are "
            "joined by a fold along that edge",
            OPEN_EDGE,
        )
    what = request.describe(_largest(request.state, flap))
    return _no_pocket(
        request,
        f"the pocket between {said} is shut: {what} is folded over its edge",
        "unfold that flap first, or pull it out; tucked in between front and back it would not be in the way",
        "or open the pocket first, and fold the flap afterwards",
    )


def _no_pocket(request: Request, message: str, *hints: str) -> Refusal:
    return Refusal("no-pocket", message, *hints, span=request.span)


def _layers(request: Request, facets: Iterable[int]) -> str:
    """'the layer with corner A and the layer with corner C', at most three."""
    count = len(request.state.facets)
    names = list(dict.fromkeys(request.describe(i) for i in facets if i < count))[:3]
    return " and ".join(names) or "the layers that hold it"


def _largest(state: State, facets: Iterable[int]) -> int:
    return max(facets, key=lambda i: (round(area(state.placed[i]), 9), state.placed[i]))


def _flap(state: State, a: int, b: int, seg: Segment) -> frozenset[int] | None:
    """What hangs on the rest by the folds along this line alone; None where both sides are as large."""
    line = line_through(*seg)
    barred = [
        k
        for k, joint in enumerate(state.joints)
        if joint.folded
        and all(on_line(line, p) for p in map_segment(state.facets[joint.a].place, joint.segment))
    ]
    parts = [component(state, [i], barred) for i in (a, b)]
    if parts[0] & parts[1]:
        return None
    sizes = [sum(area(state.placed[i]) for i in part) for part in parts]
    if same(sizes[0], sizes[1]):
        return None
    return parts[0] if sizes[0] < sizes[1] else parts[1]
