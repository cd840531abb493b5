"""Petal fold: a point of the top layer is lifted on a hinge while the sides of the flap fold in.

In: the point and the hinge, a line across the top layer from folded edge to folded edge. Where the
hinge meets such an edge, three more creases meet: the edge itself, which beyond the hinge opens flat,
a side crease in the top layer (mountain) and one in the layer under it (valley). Kawasaki's condition
gives the under one the same angle with the edge as the side crease has with the hinge: on a bird base
they lie on each other, on a frog base they do not.

The side crease runs to the point where that closes the petal: where it brings an edge at the point to
the middle line, or where it has been creased before. Else it halves the angle between hinge and folded
edge, which then lands on the hinge; the point must lie between the two side creases.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    add,
    distance,
    flipped,
    line_at,
    line_through,
    meet,
    midpoint,
    mirrored,
    on_line,
    overlap_of,
    point_on_segment,
    signed_distance,
    subtract,
    unit,
)
from ..geometry.tolerance import EPS
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.components import component_beside
from ..paper.layers import Collision
from ..paper.refold import Divided, divided
from ..paper.signs import Arrow, Sense
from ..paper.state import State
from ..paper.toggling import toggled
from ..source.diagnostics import Refusal
from .planning.at_points import landmark
from .planning.claims import OnlyBeyond
from .planning.creasing import folds_made
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.in_the_way import collision_refusal
from .planning.open_front import refuse_covered
from .planning.opening import angle_of, same_direction
from .planning.request import Each, Move, Outcome, PointValue, Request
from .planning.tip import tip_alignments


@dataclass(frozen=True)
class Wing:
    """One end of the hinge: where it meets a folded edge, and the side creases from there.

    The folded edge lies on the creases' left. `under` are facets of the layer under the top one,
    `edge` the joints between the two.
    """

    corner: Point
    top_crease: Line
    crease: Line  # of the layer under the top one
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
    wings = _wings(request, seed, hinge, tip)
    edges = [k for wing in wings for k in wing.edge]
    top = component_beside(state, hinge, [seed], edges)
    fine = divided(state, hinge, top)
    for n, wing in enumerate(wings):
        under = component_beside(state, wing.crease, wing.under, edges)
        if under & top:
            raise Refusal(
                "not-a-flap",
                "the layers of this flap hold together beyond the hinge, so that its sides cannot "
                "open",
                "free the layers first",
                span=request.span,
            )
        wings[n] = replace(wing, under=under)
        fine = divided(fine, wing.top_crease, [k for k, p in enumerate(fine.parent) if p in top])
        fine = divided(fine, wing.crease, [k for k, p in enumerate(fine.parent) if p in under])
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
            Arrow("lift", tip.at, mirrored(hinge, tip.at)),
            landmark(tip.at),
        ),
        briefly(
            phrase(
                "Petal fold {what} (lift the front layer along the fold shown as far as it goes; "
                "both "
                "sides come in to the middle; press it flat).",
                what=tip.words,
            ),
            phrase("Petal fold {what}.", what=tip.words),
        ),
        creases=creases,
        folded=True,
        letters=letters,
        claims=(OnlyBeyond((hinge,)), lands(state, tip, mirrored(hinge, tip.at))),
    )


def _does_not_close(request: Request) -> Refusal:
    return Refusal(
        "hinge-does-not-close",
        "the petal's hinge does not close: the side creases would meet before they reach the point",
        "crease the edges at the point to the middle first, and put the hinge where these creases "
        "meet the folded edges",
        span=request.span,
    )


def _wings(request: Request, seed: int, hinge: Line, tip: PointValue) -> list[Wing]:
    """Both ends of the hinge. The tip's side is on the hinge's left."""
    state = request.state
    top = state.plate(seed)
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
            "name a line between two folded edges of the flap: 'petal A through P Q'",
            "P and Q lie on the folded edges, where the folds that bring the sides to the middle reach them",
            span=request.span,
        )
    out: list[Wing] = []
    for n, (outward, under, edge) in enumerate(ends):
        corner = corners[n]
        inward = unit(subtract(corners[1 - n], corner))
        to_tip = unit(subtract(tip.at, corner))
        if _reaches_tip(state, top, (corner, tip.at), hinge):
            side = to_tip
        else:
            side = unit(add(inward, outward))
            if signed_distance(_facing(corner, side, outward), tip.at) > EPS:
                raise _does_not_close(request)
        # the same angle with the folded edge as the side crease has with the hinge
        beneath = angle_of(outward) + angle_of(inward) - angle_of(side)
        down = (math.cos(beneath), math.sin(beneath))
        out.append(
            Wing(
                corner,
                _facing(corner, side, outward),
                _facing(corner, down, outward),
                frozenset(under),
                frozenset(edge),
            )
        )
    return out


def _facing(corner: Point, along: Point, left: Point) -> Line:
    """The line from a corner along a direction, another direction on its left."""
    line = line_at(corner, along)
    return line if signed_distance(line, add(corner, left)) > 0 else flipped(line)


def _reaches_tip(state: State, top: frozenset[int], side: Segment, hinge: Line) -> bool:
    """Whether the side crease runs from the hinge to the tip: it has been creased so, or it brings
    an edge of the top layer at the tip to the middle line."""
    creased = [map_segment(inverse(state.facets[i].place), side) for i in top]
    if any(overlap_of(seg, old) for seg in creased for old in state.creases):
        return True
    corner, tip = side
    wanted = 2 * angle_of(subtract(corner, tip)) - angle_of((-hinge.nx, -hinge.ny))
    rims = [(i, seg) for i, seg in state.raw_edges if i in top]
    rims += [(j.a, j.segment) for j in state.joints if j.folded and (j.a in top) != (j.b in top)]
    for i, on_sheet in rims:
        seg = map_segment(state.facets[i].place, on_sheet)
        if point_on_segment(seg, tip):
            away = [subtract(p, tip) for p in seg if distance(p, tip) > EPS]
            if any(same_direction(angle_of(v), wanted) for v in away):
                return True
    return False


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
            hit = not joint.folded and any(_on_ray(w.top_crease, hinge, seg) for w in wings)
            sense = Sense.MOUNTAIN
        elif "top" in pair:
            hit = joint.folded and signed_distance(hinge, midpoint(*seg)) > 0
        elif "" in pair and len(pair) == 2:
            hit = any(_on_ray(w.crease, hinge, seg) for w in wings)
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


def _on_ray(crease: Line, hinge: Line, seg: Segment) -> bool:
    """Whether a segment lies on a side crease, on the tip's side of the hinge."""
    return all(on_line(crease, p) and signed_distance(hinge, p) > -EPS for p in seg)


MOVE = Move(
    "petal",
    "lift a point on a hinge while the sides of the flap fold in",
    ("petal A along P Q", "petal A along k", "petal A through P Q"),
    make,
    each=Each(),
    advice="say which point is lifted and on which line: 'petal A along P Q'",
    level=Level.INTERMEDIATE,
    fingers=Several(
        Phrase(
            "This is a petal fold: the point of the top layer is lifted and stretched, and the "
            "edges beside it come together."
        ),
        (
            Phrase(
                "Hold the other layers down with one hand. With the other, lift the point, the "
                "top layer only, as if you opened a lid, and lay it over. The edges on both sides "
                "swing inward by themselves; press them flat along their creases, so that they "
                "meet in the middle of the flap."
            ),
        ),
        arrows_first=True,
    ),
)
