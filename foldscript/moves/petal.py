"""Petal fold: a point of the top layer is lifted on a hinge while the sides of the flap fold in.

In: the point and the hinge, a line across the top layer from folded edge to folded edge. Where the
hinge meets such an edge, the side creases start: they bisect the hinge and the edge, in the top layer
(mountain) and in the layer under it (valley). Beyond them the edges between these layers open flat.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..diagnostics import Refusal
from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    add,
    distance,
    dot,
    flipped,
    line_at,
    line_through,
    meet,
    midpoint,
    mirrored,
    on_line,
    point_on_segment,
    signed_distance,
    subtract,
    unit,
)
from ..geometry.tolerance import EPS
from ..levels import Level
from ..paper.layers import Collision
from ..paper.refold import Divided, divided
from ..paper.signs import Act, Arrow, PointSign, Sense, Spot
from ..paper.state import State
from ..paper.toggling import hanging, toggled
from ..wording import phrase
from .creasing import folds_made
from .open_front import refuse_covered
from .request import Move, Outcome, PointValue, Request
from .simple import collision_refusal
from .tip import tip_alignments


@dataclass(frozen=True)
class Wing:
    """One end of the hinge: where it meets a folded edge, and the side crease from there.

    The folded edge lies on the crease's left. `under` are facets of the layer under the top one,
    `edge` the joints between the two.
    """

    corner: Point
    crease: Line
    along: Point  # unit vector from the corner along the side crease, toward the tip's side
    under: frozenset[int]
    edge: frozenset[int]


def make(request: Request) -> Outcome:
    """Lifts the point and folds the sides in."""
    tip, found = tip_alignments(request)
    hinge = found[0].line
    state = request.state
    problem: Refusal | None = None
    for seed in tip.facets:
        if polygons.half_plane_extent(state.placed[seed], hinge)[1] <= EPS:
            continue
        try:
            return _lift(request, tip, hinge, seed, found[0].letters)
        except Refusal as refusal:
            problem = problem or refusal
    raise problem or Refusal(
        "fold-misses-flap",
        f"the hinge does not cross the flap with {tip.words.render()}",
        "name a line between two folded edges of the flap",
        span=request.span,
    )


def _lift(
    request: Request,
    tip: PointValue,
    hinge: Line,
    seed: int,
    letters: tuple[tuple[str, Point], ...],
) -> Outcome:
    state = request.state
    wings = _wings(request, seed, hinge)
    edges = [k for wing in wings for k in wing.edge]
    top = hanging(state, hinge, [seed], edges)
    fine = divided(state, hinge, top)
    for n, wing in enumerate(wings):
        under = hanging(state, wing.crease, wing.under, edges)
        if under & top:
            raise Refusal(
                "not-a-flap",
                "the layers of this flap hold together beyond the hinge, so that its sides cannot open",
                "free the layers first",
                span=request.span,
            )
        wings[n] = replace(wing, under=under)
        fine = divided(
            fine, wing.crease, [k for k, p in enumerate(fine.parent) if p in top | under]
        )
    fs = fine.state
    tags = _tags(fine, top, wings, hinge)
    refuse_covered(request, fs, fine.parent, [k for k, tag in enumerate(tags) if tag])
    changes = _changes(fs, tags, wings, hinge)
    try:
        after = toggled(fine, [k for k, tag in enumerate(tags) if not tag], changes, in_front=True)
    except Refusal as refusal:
        if refusal.code != "tear":
            raise
        raise _does_not_close(request) from None
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    lines, creases = folds_made(fine, after, changes)
    return Outcome(
        after,
        (
            *lines,
            Arrow(Act.LIFT, tip.at, mirrored(hinge, tip.at)),
            PointSign(Spot.LANDMARK, tip.at),
        ),
        phrase(
            "Petal fold: lift {what} up along the hinge, letting the sides come in to the middle.",
            what=tip.words,
        ),
        creases=creases,
        folded=True,
        letters=letters,
    )


def _does_not_close(request: Request) -> Refusal:
    return Refusal(
        "hinge-does-not-close",
        "the petal's hinge does not close: the side creases meet before they reach the point",
        "put the hinge where the side creases end, so that each of them halves the angle "
        "between the hinge and the folded edge",
        span=request.span,
    )


def _wings(request: Request, seed: int, hinge: Line) -> list[Wing]:
    """Both ends of the hinge. The tip's side is on the hinge's left."""
    state = request.state
    top = set(next(p for p in state.plates if seed in p))
    corners: list[Point] = []
    ends: list[tuple[Point, set[int], set[int]]] = []
    for k, joint in enumerate(state.joints):
        if not joint.folded or (joint.a in top) == (joint.b in top):
            continue
        seg = map_segment(state.facets[joint.a].place, joint.segment)
        far = max(seg, key=lambda p: signed_distance(hinge, p))
        corner = meet(line_through(*seg), hinge)
        if corner is None or signed_distance(hinge, far) <= EPS:
            continue
        if min(signed_distance(hinge, p) for p in seg) > EPS:
            continue
        outer = joint.b if joint.a in top else joint.a
        home = next((n for n, c in enumerate(corners) if distance(c, corner) <= 4 * EPS), None)
        if home is None:
            corners.append(corner)
            ends.append((unit(subtract(far, corner)), {outer}, {k}))
        else:
            ends[home][1].add(outer)
            ends[home][2].add(k)
    if len(corners) != 2:
        raise Refusal(
            "petal-hinge",
            "the hinge of a petal fold runs across the top layer from one folded edge to another; "
            f"this one meets {len(corners)}",
            "name a line between two folded edges of the flap",
            span=request.span,
        )
    out: list[Wing] = []
    for n, (outward, under, edge) in enumerate(ends):
        corner = corners[n]
        inward = unit(subtract(corners[1 - n], corner))
        half = add(inward, outward)
        crease = line_at(corner, half)
        # the folded edge's side on the left
        if signed_distance(crease, add(corner, outward)) < 0:
            crease = flipped(crease)
        out.append(Wing(corner, crease, unit(half), frozenset(under), frozenset(edge)))
    return out


def _tags(fine: Divided, top: frozenset[int], wings: list[Wing], hinge: Line) -> list[str]:
    """What each piece is: of the top layer beyond the hinge, of a layer under it beyond a side
    crease, or still."""
    tags: list[str] = []
    for k, parent in enumerate(fine.parent):
        middle = polygons.centroid(fine.state.placed[k])
        beyond = signed_distance(hinge, middle) > 0
        outside = [
            n
            for n, wing in enumerate(wings)
            if parent in wing.under and signed_distance(wing.crease, middle) > 0
        ]
        if parent in top and beyond:
            tags.append("top")
        else:
            tags.append(f"under{outside[0]}" if outside and beyond else "")
    return tags


def _changes(
    state: State, tags: list[str], wings: list[Wing], hinge: Line
) -> dict[int, Sense | None]:
    """Joints that fold or open. Senses are for the topmost layers; the others' are left open."""
    changes: dict[int, Sense | None] = {}
    across = (wings[0].corner, wings[1].corner)
    for k, joint in enumerate(state.joints):
        seg = map_segment(state.facets[joint.a].place, joint.segment)
        pair = {tags[joint.a], tags[joint.b]}
        sense = Sense.VALLEY
        if pair == {"top", ""}:
            hit = all(point_on_segment(across, p) for p in seg)
        elif pair == {"top"}:
            hit = not joint.folded and any(_on_ray(w, seg) for w in wings)
            sense = Sense.MOUNTAIN
        elif "top" in pair:
            hit = joint.folded and signed_distance(hinge, midpoint(*seg)) > 0
        elif "" in pair and len(pair) == 2:
            hit = any(_on_ray(w, seg) for w in wings)
        else:
            hit = False
        if not hit:
            continue
        moved = joint.a if tags[joint.a] else joint.b
        covered = any(
            state.above(i, moved) for i in state.neighbours[moved] if tags[i] == tags[moved]
        )
        changes[k] = None if covered or joint.folded else sense
    return changes


def _on_ray(wing: Wing, seg: Segment) -> bool:
    return all(
        on_line(wing.crease, p) and dot(subtract(p, wing.corner), wing.along) > -EPS for p in seg
    )


MOVE = Move(
    "petal",
    "lift a point on a hinge while the sides of the flap fold in",
    ("petal A along P Q", "petal A along k", "petal A through P Q"),
    make,
    level=Level.INTERMEDIATE,
)
