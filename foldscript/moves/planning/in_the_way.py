"""What stands in a move's way, told: other paper that holds it, or layers that would collide.

In: a `Request`, and what the kernel found. Out: the `Refusal` that names the layers by points on them.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...geometry import polygons
from ...paper.flap import Blocked
from ...paper.heaps import on_top
from ...paper.layers import Collision
from ...paper.signs import Sense
from ...source.diagnostics import Hint, Refusal, add, write
from .fold_clauses import layer_count
from .request import PointValue, Request

#: What lets a flap go in that meets a fold there.
_SHORTER = ("let the flap end before the fold that holds what it goes under: fold less of it over",)


def blocked_refusal(request: Request, held: Blocked, sense: Sense) -> Refusal:
    """'Lies under' in the craft's words."""
    over, other = ("under", "mountain") if sense is Sense.VALLEY else ("in front of", "valley")
    mover, blocker = request.describe(held.moving), request.describe(held.blocker)
    if mover == blocker:  # the nearest point with a name is that of both
        blocker = (
            f"another layer {request.locate(polygons.centroid(request.state.placed[held.blocker]))}"
        )
    return Refusal(
        "blocked",
        f"{mover} cannot move: it lies {over} {blocker}",
        *_on_top(request, held, "top" if sense is Sense.VALLEY else "bottom"),
        *(
            (
                add(
                    request.span,
                    "all layers",
                    "or, for what lies there to move too, add 'all layers', or a number of layers",
                ),
            )
            if request.clause("layers") is None
            else ()
        ),
        "or fold or unfold what lies in the way first",
        write(request.verb_span, other, f"or, for a fold the other way, say '{other}'")
        if request.verb in ("valley", "mountain")
        else f"or, for a fold the other way, say '{other}'",
        span=request.span,
    )


def _on_top(request: Request, held: Blocked, nearest: str) -> Iterator[Hint]:
    """The paper that lies over a corner, where the corner's name may have been meant for the place."""
    covers = request.state.placed[held.blocker]
    said = [v for c in request.clauses if c.word in ("", "moving") for v in c.values]
    for value in said:
        if not isinstance(value, PointValue) or not value.letter or value.layer:
            continue
        if polygons.inside(covers, value.at):
            heap = on_top(request.state, request.points, value.at)
            there = f"{nearest} layer at {value.letter}"
            why = f"there lies {heap}" if heap else "that is the paper that lies over it"
            yield write(value.span, there, f"say '{there}': {why}")


def collision_refusal(request: Request, clash: Collision) -> Refusal:
    """Names the layers that would pass through each other; parts of one layer by where they lie."""
    layers = [request.describe(i) for i in clash.facets if i < len(request.state.facets)]
    names = list(dict.fromkeys(layers))
    if len(names) < 2:
        parts = dict.fromkeys(f"the part {request.locate(spot)}" for spot in clash.spots)
        names = list(parts) if len(parts) > 1 else names
    *some, last = names[:3] or ["some layers"]
    who = f"{', '.join(some)} and {last}" if some else last
    what = {
        "pierced": "would have to pass through a fold",
        "interleaved": "would have to pass through each other at a fold",
        "ring": "would each lie over the next in a ring",
        "joint": "would have to change places along a flat joint",
    }.get(clash.reason, "have no order that keeps them from passing through each other")
    count = request.clause("layers")
    all_said = count is not None and layer_count(request, count) == 0
    return Refusal(
        "layers-collide",
        f"the layers cannot lie like this: {who} {what}",
        *(_SHORTER if request.verb == "tuck" and clash.reason == "pierced" else ()),
        ("" if all_said else "move more layers, or ") + "fold what lies in the way first",
        span=request.span,
    )
