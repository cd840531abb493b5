"""Rabbit ear: two sides of a triangular flap are brought to the third, its tip doubled into an ear.

In: the tip, the other two corners of the triangle, and which of them the ear is to lie toward. Out:
the paper with creases along the three bisectors and one from the incentre square to a side; see `ear`.
All layers of the flap go together. The outermost of them gets its bisectors as valleys and the fourth
crease as a mountain; what the others get, the layers decide.
"""

from __future__ import annotations

from collections.abc import Callable

from ..geometry import polygons
from ..geometry.lines import distance, signed_distance
from ..geometry.polygons import centroid
from ..geometry.tolerance import EPS
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.flap import Flap, flap
from ..paper.layers import Collision
from ..paper.refold import Divided, undivided
from ..paper.signs import Arrow, RightAngle, Sense, Sign
from ..paper.state import State
from ..paper.toggling import toggled
from ..source.diagnostics import Refusal
from .planning.at_points import landmark
from .planning.claims import OnlyBeyond
from .planning.creasing import folds_made
from .planning.ear import EarPart, Triangle
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_point, layer_count
from .planning.in_the_way import collision_refusal
from .planning.open_front import refuse_covered
from .planning.request import Each, Move, Outcome, PointValue, Request
from .planning.tip import tip_of


def make(request: Request) -> Outcome:
    """Folds the ear."""
    request.allow("", "between", "and", "to", "layers")
    tip, corners, triangle = triangle_of(request)
    clause = request.clause("layers")
    layers = layer_count(request, clause) if clause is not None else 1
    return first_that_fits(tip, lambda seed: _ear(request, (tip, *corners), triangle, seed, layers))


def first_that_fits(tip: PointValue, attempt: Callable[[int], Outcome]) -> Outcome:
    """The outcome for the topmost layer with the tip that allows it.

    Raises the refusal of the topmost layer that is the triangle, if any is.
    """
    told: list[Refusal] = []
    for seed in tip.facets:
        try:
            return attempt(seed)
        except Refusal as refusal:
            told.append(refusal)
    raise min(told, key=lambda refusal: refusal.code == "not-a-triangle")


def triangle_of(request: Request) -> tuple[PointValue, tuple[PointValue, PointValue], Triangle]:
    """The tip, the corner that the ear lies toward and the third, and their triangle."""
    tip = tip_of(request)
    pair = [
        as_point(v)
        for k, c in enumerate(request.clauses)
        if c.word == "between" or (c.word == "and" and request.clauses[k - 1].word == "between")
        for v in c.values
    ]
    goal = request.clause("to", "onto")
    if len(pair) != 2:
        raise _unclear(request, "say the other two corners of the triangle with 'between'")
    if goal is None or len(goal.values) != 1:
        raise _unclear(request, "say with 'to' which of the two corners the ear lies toward")
    end = as_point(goal.values[0])
    for toward, other in (pair, pair[::-1]):
        if distance(toward.at, end.at) <= EPS:
            triangle = Triangle(tip.at, toward.at, other.at)
            if triangle.flat:
                raise Refusal(
                    "not-a-triangle",
                    f"{tip.words.render()}, {toward.words.render()} and {other.words.render()} "
                    "lie on one line now",
                    "name the three corners of a triangular flap",
                    span=request.span,
                )
            return tip, (toward, other), triangle
    raise Refusal(
        "ear-toward",
        f"the ear can lie toward {pair[0].words.render()} or toward {pair[1].words.render()}, "
        f"not toward {end.words.render()}",
        "name one of the two corners after 'to'",
        span=goal.span,
    )


def _unclear(request: Request, message: str) -> Refusal:
    hints = (f"write it like: {form}" for form in request.forms)
    return Refusal("unclear-fold", message, *hints, span=request.span)


def triangular_flap(request: Request, triangle: Triangle, seed: int, layers: int = 1) -> Flap:
    """The paper beyond the base; refused where it is not all of the triangle and nothing else.

    `layers` counts from the seed's down; 0 takes the whole stack.
    """
    state = request.state
    seeds = [seed]
    if layers > 1:
        stack = state.facets_at(triangle.centre)
        below = stack[stack.index(seed) if seed in stack else 0 :]
        seeds = list(below[:layers])
        if len(seeds) < layers:
            raise Refusal(
                "not-so-many-layers",
                f"there are only {len(seeds)} layers there",
                "say 'all layers', or a smaller number",
                span=request.span,
            )
    moving = flap(state, triangle.base, seeds, whole_stack=layers == 0, bending=False)
    outline = triangle.outline
    outside = [
        i
        for i, part in zip(moving.facets, moving.parts, strict=True)
        if any(polygons.depth(outline, p) < -EPS for p in part)
    ]
    if outside:
        raise Refusal(
            "not-a-triangle",
            f"{request.describe(outside[0])} reaches beyond this triangle and hangs together with it",
            "name the corners of the whole flap: its tip, and the ends of the line it is folded on",
            span=request.span,
        )
    plate = state.plates[state.plate_of[seed]]
    parts = dict(zip(moving.facets, moving.parts, strict=True))
    covered = sum(polygons.area(parts[i]) for i in plate if i in parts)
    if covered < polygons.area(outline) - EPS:
        raise Refusal(
            "not-a-triangle",
            f"{request.describe(seed)} does not fill this triangle",
            "a rabbit ear needs a triangle of paper: name three corners of one layer",
            span=request.span,
        )
    return moving


def _ear(
    request: Request,
    corners: tuple[PointValue, ...],
    triangle: Triangle,
    seed: int,
    layers: int,
) -> Outcome:
    moving = triangular_flap(request, triangle, seed, layers)
    fine = triangle.divide(undivided(request.state), frozenset(moving.facets))
    fs = fine.state
    parts = parts_of(fine, triangle, moving)
    moved = [k for k, part in parts.items() if part is not EarPart.BASE]
    refuse_covered(request, fs, fine.parent, moved)
    changes: dict[int, Sense | None] = {
        k: sense if outermost(fs, fs.joints[k].a, parts) else None
        for k, sense in creases_of(fs, parts).items()
    }
    still = [k for k in range(len(fs.facets)) if parts.get(k, EarPart.BASE) is EarPart.BASE]
    try:
        after = toggled(fine, still, changes, in_front=True)
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    lines, creases = folds_made(fine, after, changes)
    signs: list[Sign] = [
        *lines,
        Arrow("rabbit-ear", triangle.tip, triangle.landing),
        landmark(triangle.centre),
        RightAngle(triangle.foot, triangle.tip, triangle.centre),
    ]
    tip, toward, other = corners
    return Outcome(
        after,
        tuple(signs),
        briefly(
            phrase(
                "Rabbit ear fold {tip}: bring both edges beside it to the line from {toward} to "
                "{other} "
                "at once, so that the point stands up, and lay it down toward {toward}.",
                tip=tip.words,
                toward=toward.words,
                other=other.words,
            ),
            phrase(
                "Rabbit ear fold {tip}, and lay the point toward {toward}.",
                tip=tip.words,
                toward=toward.words,
            ),
        ),
        creases=creases,
        folded=True,
        letters=tuple((p.letter, p.at) for p in corners if p.letter),
        claims=(OnlyBeyond((triangle.base,)), lands(request.state, tip, triangle.landing)),
    )


def parts_of(fine: Divided, triangle: Triangle, moving: Flap) -> dict[int, EarPart]:
    """Piece -> its part of the triangle, for the flap's pieces beyond the base."""
    inside = set(moving.facets)
    found: dict[int, EarPart] = {}
    for k, parent in enumerate(fine.parent):
        middle = centroid(fine.state.placed[k])
        if parent in inside and signed_distance(triangle.base, middle) > 0:
            found[k] = triangle.part_of(middle)
    return found


def creases_of(state: State, parts: dict[int, EarPart]) -> dict[int, Sense]:
    """Joints between different parts, with the senses that an ear in front gives them."""
    found: dict[int, Sense] = {}
    for k, joint in enumerate(state.joints):
        if joint.a in parts and joint.b in parts and not joint.folded:
            pair = {parts[joint.a], parts[joint.b]}
            if len(pair) == 2:
                found[k] = Sense.MOUNTAIN if pair == {EarPart.FOOT, EarPart.EAR} else Sense.VALLEY
    return found


def outermost(state: State, piece: int, parts: dict[int, EarPart]) -> bool:
    """Whether no other layer of the flap lies over a piece."""
    return not any(state.above(i, piece) for i in state.neighbours[piece] if i in parts)


FORMS = (
    "rabbit ear B between A and C to C",
    "rabbit ear B between A and C to C, all layers",
)
MOVE = Move(
    "rabbit ear",
    "bring two sides of a triangle to the third, doubling its tip",
    FORMS,
    make,
    each=Each(),
    advice="say which corner, between which two others: 'rabbit ear B between A and C to C'",
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase(
            "This is a rabbit ear: a triangular flap is pinched together along three lines that "
            "meet in one point, so that its tip stands up and is then laid to one side."
        ),
        (
            Phrase(
                "Fold two of the edges in at the same time, pinch the tip between them to a "
                "point, and press the point flat to the side told below."
            ),
        ),
    ),
)
