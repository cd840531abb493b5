"""Double rabbit ear: both halves of a flap with a spine get a rabbit ear, and its tip is narrowed and bent.

In: the tip of a triangular flap folded along one of its sides, the other two corners, the corner that
the tip is to point to. Out: the front half and the back half creased alike (see `ear`).

Toward the end of the spine, the spine goes in between the halves as in an inside reverse fold, and the
ears lie outside, one in front and one behind, wrapped around the spine. For that the sides must be
long: the tip has to pass the spine. Toward the open side everything goes in between the halves.
"""

from __future__ import annotations

from ..geometry.lines import Segment, distance, foot, line_through, on_line
from ..geometry.polygons import area
from ..geometry.tolerance import EPS
from ..languages.levels import Level
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.conditions import Pair
from ..paper.layers import Collision, Prefer
from ..paper.refold import undivided
from ..paper.signs import Arrow, FoldLine, Sense
from ..paper.state import State
from ..paper.toggling import toggled
from ..source.diagnostics import Refusal
from .planning.at_points import pushed
from .planning.claims import OnlyBeyond
from .planning.creasing import folds_made
from .planning.ear import EarPart, Triangle
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.halves import (
    Halves,
    along_the_spine,
    holders,
    locked,
    one_layer,
    orders_inside,
    parted,
    preference_between,
)
from .planning.request import Each, Move, Outcome, PointValue, Request
from .rabbit_ear import creases_of, first_that_fits, parts_of, triangle_of, triangular_flap

#: From the outside in, the parts of one half where everything goes in between the halves, and where the ears
#: lie outside. The motions of the ear's parts and Maekawa's condition at the incentre leave no other way
#: for one layer.
INSIDE = (EarPart.BASE, EarPart.FOOT, EarPart.EAR, EarPart.SIDE)
OUTSIDE = (EarPart.EAR, EarPart.SIDE, EarPart.BASE, EarPart.FOOT)


def make(request: Request) -> Outcome:
    """Folds both ears."""
    request.allow("", "between", "and", "to")
    tip, corners, triangle = triangle_of(request)
    return first_that_fits(tip, lambda seed: _ears(request, (tip, *corners), triangle, seed))


def _ears(
    request: Request, corners: tuple[PointValue, ...], triangle: Triangle, seed: int
) -> Outcome:
    moving = triangular_flap(request, triangle, seed)
    fine = triangle.divide(undivided(request.state), frozenset(moving.facets))
    parts = parts_of(fine, triangle, moving)
    problem: Refusal | None = None
    whole = (each for each in parted(fine, sorted(parts)) if _both_fill(triangle, each))
    for layers in along_the_spine(whole):
        try:
            wrapped = _wraps(request, corners, triangle, layers)
            after = _turned(layers, parts, wrapped)
        except Collision as clash:
            problem = problem or locked(request, clash)
        except Refusal as refusal:
            problem = problem or refusal
        else:
            lines, creases = folds_made(fine, after, creases_of(fine.state, parts))
            return _outcome(request.state, corners, triangle, after, wrapped, lines, creases)
    raise problem or one_layer(request, corners[0])


def _both_fill(triangle: Triangle, layers: Halves) -> bool:
    """Whether each half has paper enough for the whole triangle."""
    placed = layers.fine.state.placed
    least = area(triangle.outline) - EPS
    return all(sum(area(placed[i]) for i in half) >= least for half in (layers.front, layers.back))


def _wraps(
    request: Request, corners: tuple[PointValue, ...], triangle: Triangle, layers: Halves
) -> bool:
    """Whether the tip points to the end of the spine; refused where the flap does not allow it."""
    tip, toward, other = corners
    spine_to_toward = _spine_on(layers, (triangle.tip, triangle.toward))
    spine_to_other = _spine_on(layers, (triangle.tip, triangle.other))
    if not spine_to_toward and not spine_to_other:
        raise Refusal(
            "no-spine",
            f"neither side of this flap at {tip.words.render()} is a folded edge between its halves",
            "a double rabbit ear needs a flap folded in half along one of its sides",
            "use 'rabbit ear' for a flap without such a spine",
            span=request.span,
        )
    if spine_to_toward and spine_to_other:
        raise Refusal(
            "closed-flap",
            f"both sides of this flap at {tip.words.render()} are folded edges: it has no open side",
            "a double rabbit ear needs one open side; open or squash the flap first",
            span=request.span,
        )
    base, side = distance(triangle.toward, triangle.other), distance(triangle.tip, triangle.other)
    if spine_to_toward and side <= base + EPS:
        raise Refusal(
            "blunt-tip",
            f"{tip.words.render()} cannot pass the folded edge: the way from "
            f"{other.words.render()} to it is not longer than to {toward.words.render()}",
            "name corners nearer the tip, so that the flap is longer than it is wide",
            f"or let the ears lie toward {other.words.render()}",
            span=request.span,
        )
    return spine_to_toward


def _spine_on(layers: Halves, side: Segment) -> bool:
    """Whether a fold between the halves lies on a side of the triangle."""
    state = layers.fine.state
    line = line_through(*side)
    for joint, seg in state.fold_segments:
        between = (joint.a in layers.front and joint.b in layers.back) or (
            joint.b in layers.front and joint.a in layers.back
        )
        if between and on_line(line, seg[0]) and on_line(line, seg[1]):
            return True
    return False


def _turned(layers: Halves, parts: dict[int, EarPart], wrapped: bool) -> State:
    state = layers.fine.state
    moved = frozenset(k for k, part in parts.items() if part is not EarPart.BASE)
    turning = Halves(layers.fine, layers.front & moved, layers.back & moved)
    outer = {k for k in moved if wrapped and parts[k] is EarPart.SIDE}
    going_in = {k for k in moved if not wrapped or parts[k] is EarPart.FOOT}
    held = holders(state, turning)
    between = orders_inside(turning, held)
    orders: dict[Pair, bool] = {
        (i, j): over
        for (i, j), over in between.items()
        if i in going_in or (i in turning.front and j in turning.back)
    }
    for s in held.before | held.behind:
        orders.update({(t, s): t in turning.front for t in outer})
    still = [k for k in range(len(state.facets)) if k not in moved]
    changes: dict[int, Sense | None] = dict.fromkeys(creases_of(state, parts))
    return toggled(
        layers.fine,
        still,
        changes,
        orders=orders,
        apart=lambda i, j: (i in turning.front) != (j in turning.front),
        prefer=_first_of(
            preference_between(state, held, moved), _stacked(layers, parts, wrapped=wrapped)
        ),
    )


def _stacked(layers: Halves, parts: dict[int, EarPart], *, wrapped: bool) -> Prefer:
    """Intent for the parts of one half: as they lie over each other in a rabbit ear of one layer."""
    depth = {part: k for k, part in enumerate(OUTSIDE if wrapped else INSIDE)}

    def preference(i: int, j: int) -> bool | None:
        front = i in layers.front
        if i not in parts or j not in parts or front != (j in layers.front):
            return None
        if parts[i] is parts[j]:
            return None
        return (depth[parts[i]] < depth[parts[j]]) == front

    return preference


def _first_of(*wishes: Prefer) -> Prefer:
    """The first wish that there is for two pieces."""
    return lambda i, j: next((w for wish in wishes if (w := wish(i, j)) is not None), None)


def _outcome(
    before: State,
    corners: tuple[PointValue, ...],
    triangle: Triangle,
    after: State,
    wrapped: bool,
    lines: tuple[FoldLine, ...],
    creases: tuple[Segment, ...],
) -> Outcome:
    tip, toward, _ = corners
    end = triangle.toward if wrapped else triangle.other
    act = "outside-reverse" if wrapped else "inside-reverse"
    return Outcome(
        after,
        (
            *lines,
            Arrow(act, triangle.tip, triangle.landing, under=not wrapped),
            pushed(foot(line_through(triangle.tip, end), triangle.centre), triangle.centre),
        ),
        _sentence(tip, toward, wrapped),
        creases=creases,
        folded=True,
        letters=tuple((p.letter, p.at) for p in corners if p.letter),
        claims=(OnlyBeyond((triangle.base,)), lands(before, tip, triangle.landing)),
    )


def _sentence(tip: PointValue, toward: PointValue, wrapped: bool) -> Phrase:
    whole: Template = (
        "Double rabbit ear {tip}, toward {toward} (fold a rabbit ear in front and one behind; "
        "push the "
        "folded edge in between the layers, and the point turns narrow)."
    )
    if wrapped:
        whole = (
            "Double rabbit ear {tip}, toward {toward} (fold a rabbit ear in front and one behind; "
            "the "
            "point goes around the folded edge)."
        )
    parts = {"tip": tip.words, "toward": toward.words}
    return briefly(
        phrase(whole, **parts), phrase("Double rabbit ear {tip}, toward {toward}.", **parts)
    )


FORMS = ("double rabbit ear A between P and Q to Q",)
MOVE = Move(
    "double rabbit ear",
    "narrow and bend the tip of a flap folded in half",
    FORMS,
    make,
    each=Each(),
    level=Level.HIGH_INTERMEDIATE,
    fingers=Several(
        Phrase(
            "This is a double rabbit ear: both layers of a flap are pinched together at once, so "
            "that the flap becomes narrow and points the other way."
        ),
    ),
)
