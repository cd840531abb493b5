"""Petal fold: a point of the top layer is lifted on a hinge while the sides of the flap fold in.

In: the point and the hinge, a line across the top layer from folded edge to folded edge. Where the
hinge meets such an edge, the side creases start: they bisect the hinge and the edge, in the top layer
(mountain) and in the layer under it (valley). Beyond them the edges between these layers open flat.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..diagnostics import Refusal
from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    dot,
    flipped,
    line_at,
    meet,
    midpoint,
    mirrored,
    on_line,
    signed_distance,
    subtract,
    unit,
)
from ..geometry.tolerance import EPS
from ..levels import Level
from ..paper.flap import sheet_segments
from ..paper.layers import Collision
from ..paper.refold import divided
from ..paper.signs import Act, Arrow, FoldLine, PointSign, Sense, Sign, Spot
from ..paper.state import State
from ..paper.toggling import component, toggled
from ..wording import Phrase, phrase
from .open_front import refuse_covered
from .request import Move, Outcome, Request
from .simple import collision_refusal
from .tip import tip_alignments


@dataclass(frozen=True)
class Wing:
    """One end of the hinge: where it meets a folded edge, and the side crease from there."""

    corner: Point
    crease: Line
    along: Point  # unit vector from the corner along the side crease, toward the tip's side
    under: frozenset[int]  # facets of the layer under the top one, beyond that edge


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
            return _lift(request, tip.at, tip.words, hinge, seed, found[0].letters)
        except Refusal as refusal:
            problem = problem or refusal
    raise problem or Refusal(
        "fold-misses-flap", "the hinge does not cross the flap with that point", span=request.span
    )


def _lift(
    request: Request,
    tip: Point,
    what: Phrase,
    hinge: Line,
    seed: int,
    letters: tuple[tuple[str, Point], ...],
) -> Outcome:
    state = request.state
    folded = [k for k, j in enumerate(state.joints) if j.folded]
    top = component(state, [seed], folded)
    wings = _wings(request, top, hinge)
    tags = {i: "top" if i in top else "" for i in range(len(state.facets))}
    for n, wing in enumerate(wings):
        for i in wing.under:
            tags[i] = f"under{n}"
    origin: tuple[int, ...] = tuple(range(len(state.facets)))
    fine_state = state
    cuts = [(hinge, ("top",))] + [
        (wing.crease, ("top", f"under{n}")) for n, wing in enumerate(wings)
    ]
    for line, names in cuts:
        fine = divided(fine_state, line, [k for k, t in tags.items() if t in names])
        tags = {k: tags[p] for k, p in enumerate(fine.parent)}
        origin = tuple(origin[p] for p in fine.parent)
        fine_state = fine.state
    changes, parts = _changes(fine_state, tags, wings, hinge)
    moved = {
        k
        for k, t in tags.items()
        if (t == "top" and _beyond(fine_state, k, hinge))
        or any(t == f"under{n}" and _outside(fine_state, k, w, hinge) for n, w in enumerate(wings))
    }
    still = [k for k in tags if k not in moved]
    refuse_covered(request, fine_state, origin, moved)
    try:
        after = toggled(fine_state, still, changes, in_front=True)
    except Refusal as refusal:
        if refusal.code != "tear":
            raise
        raise Refusal(
            "hinge-does-not-close",
            "the petal's hinge does not close: the side creases meet before they reach the point",
            "put the hinge where the side creases end, so that each of them halves the angle "
            "between the hinge and the folded edge",
            span=request.span,
        ) from None
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    signs: list[Sign] = [
        FoldLine(sense, tuple((origin[i], seg) for i, seg in rows))
        for sense, rows in parts.items()
        if rows
    ]
    landing = mirrored(hinge, tip)
    signs += [Arrow(Act.LIFT, tip, landing), PointSign(Spot.LANDMARK, tip)]
    return Outcome(
        after,
        tuple(signs),
        phrase(
            "Petal fold: lift {what} up along the hinge, letting the sides come in to the middle.",
            what=what,
        ),
        creases=tuple(s for rows in parts.values() for s in sheet_segments(fine_state, rows)),
        folded=True,
        letters=letters,
    )


def _wings(request: Request, top: frozenset[int], hinge: Line) -> list[Wing]:
    """Both ends of the hinge. The tip's side is on the hinge's left."""
    state = request.state
    found: list[Wing] = []
    for joint, seg in state.fold_segments:
        inner, outer = (joint.a, joint.b) if joint.a in top else (joint.b, joint.a)
        if inner not in top or outer in top:
            continue
        edge = line_at(seg[0], subtract(seg[1], seg[0]))
        corner = meet(edge, hinge)
        if (
            corner is None
            or distance(seg[0], corner) + distance(corner, seg[1]) > distance(*seg) + 1e-9
        ):
            continue
        far = max(seg, key=lambda p: signed_distance(hinge, p))
        if signed_distance(hinge, far) <= EPS:
            continue
        if any(distance(w.corner, corner) <= 1e-7 for w in found):
            continue
        under = component(state, [outer], [k for k, j in enumerate(state.joints) if j.folded])
        found.append(Wing(corner, hinge, subtract(far, corner), under))
    if len(found) != 2:
        raise Refusal(
            "petal-hinge",
            "the hinge of a petal fold runs across the top layer from one folded edge to another; "
            f"this one meets {len(found)}",
            "name a line between two folded edges of the flap",
            span=request.span,
        )
    out: list[Wing] = []
    for wing, other in ((found[0], found[1]), (found[1], found[0])):
        inward = unit(subtract(other.corner, wing.corner))
        outward = unit(wing.along)
        half = (inward[0] + outward[0], inward[1] + outward[1])
        if abs(half[0]) + abs(half[1]) <= EPS:
            raise Refusal("petal-hinge", "the hinge lies along the folded edge", span=request.span)
        crease = line_at(wing.corner, half)
        # the folded edge side on the left
        if signed_distance(crease, (wing.corner[0] + outward[0], wing.corner[1] + outward[1])) < 0:
            crease = flipped(crease)
        out.append(Wing(wing.corner, crease, unit(half), wing.under))
    return out


def _beyond(state: State, k: int, hinge: Line) -> bool:
    return signed_distance(hinge, polygons.centroid(state.placed[k])) > 0


def _outside(state: State, k: int, wing: Wing, hinge: Line) -> bool:
    """Whether a piece lies on the folded edge's side of the side crease, beyond the hinge."""
    middle = polygons.centroid(state.placed[k])
    return signed_distance(wing.crease, middle) > 0 and signed_distance(hinge, middle) > -EPS


def _changes(
    state: State, tags: dict[int, str], wings: list[Wing], hinge: Line
) -> tuple[dict[int, Sense | None], dict[Sense, list[tuple[int, Segment]]]]:
    changes: dict[int, Sense | None] = {}
    parts: dict[Sense, list[tuple[int, Segment]]] = {Sense.VALLEY: [], Sense.MOUNTAIN: []}
    ends = (wings[0].corner, wings[1].corner)
    for k, joint in enumerate(state.joints):
        seg = map_segment(state.facets[joint.a].place, joint.segment)
        ta, tb = tags[joint.a], tags[joint.b]
        sense: Sense | None = None
        if ta == tb == "top" and not joint.folded:
            if on_line(hinge, seg[0]) and on_line(hinge, seg[1]):
                if distance(ends[0], midpoint(*seg)) + distance(midpoint(*seg), ends[1]) > (
                    distance(*ends) + 1e-9
                ):
                    continue
                sense = Sense.VALLEY
            elif any(_on_ray(w, seg) for w in wings):
                sense = Sense.MOUNTAIN
            else:
                continue
        elif any(ta == tb == f"under{n}" and _on_ray(w, seg) for n, w in enumerate(wings)):
            if joint.folded:
                continue
            sense = Sense.VALLEY
        elif joint.folded and any({ta, tb} == {"top", f"under{n}"} for n in range(2)):
            if signed_distance(hinge, midpoint(*seg)) <= EPS:
                continue
        else:
            continue
        changes[k] = sense
        if sense is not None:
            parts[sense].append((joint.a, seg))
    return changes, parts


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
