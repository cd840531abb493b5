"""Reverse folds: the tip of a flap of two or more layers is turned between them or around them.

In: the tip and a line across the flap. Out: the state in which every layer of the tip is reflected in
the line, the front half of the stack and the back half as two rigid groups. Inside: between the layers
they came from; outside: around them. The spine between the halves changes its sense by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ..diagnostics import Refusal
from ..geometry import polygons
from ..geometry.isometries import reflection
from ..geometry.lines import Line, mirrored
from ..geometry.tolerance import EPS
from ..paper.conditions import Pair
from ..paper.flap import Flap, flap, sheet_segments
from ..paper.layers import Collision
from ..paper.refold import Divided, divided, refold
from ..paper.signs import Act, Arrow, FoldLine, Sense
from ..paper.state import State
from ..wording import phrase
from .alignment import Alignment
from .request import Outcome, PointValue, Request
from .simple import collision_refusal
from .tip import tip_alignments


@dataclass(frozen=True)
class Halves:
    """Pieces of the tip, as divided along the line: those that go with the front and with the back."""

    fine: Divided
    front: tuple[int, ...]
    back: tuple[int, ...]


def reverse(request: Request, *, inside: bool) -> Outcome:
    """Carries a reverse fold out. Raises Refusal when the flap's layers do not allow it."""
    tip, found = tip_alignments(request)
    problem: Refusal | None = None
    for one in found:
        try:
            return _along(request, tip, one, inside)
        except Refusal as refusal:
            problem = problem or refusal
    assert problem is not None
    raise problem


def _along(request: Request, tip: PointValue, one: Alignment, inside: bool) -> Outcome:
    state = request.state
    moving = flap(state, one.line, tip.facets)
    clash: Collision | None = None
    for halves in _halves(state, moving):
        try:
            after = _turned(halves, one.line, inside)
        except Collision as collision:
            clash = clash or collision
            continue
        return _outcome(request, tip, one, moving, halves, after, inside)
    if clash is not None:
        raise _locked(request, clash)
    raise Refusal(
        "one-layer",
        f"the flap with {tip.words.render()} has one layer only: a reverse fold needs at least two",
        "use 'valley' or 'mountain' for a single layer",
        span=request.span,
    )


def _locked(request: Request, clash: Collision) -> Refusal:
    why = collision_refusal(request, clash)
    return Refusal(
        "locked-layers",
        f"the layers of this flap are locked: {why.message}",
        "choose a line nearer the tip, or free the layers first",
        span=request.span,
    )


def _halves(state: State, moving: Flap) -> Iterator[Halves]:
    """Ways to part the tip's stack into front and back, the most even first."""
    fine = divided(state, moving.line, moving.facets)
    inside = set(moving.facets)
    movers = [
        k
        for k, parent in enumerate(fine.parent)
        if parent in inside
        and polygons.half_plane_extent(fine.state.placed[k], moving.line)[1] > EPS
    ]
    atoms = _atoms(fine.state, movers)
    ranked = _top_down(fine.state, atoms)
    n = len(ranked)
    for k in sorted(range(1, n), key=lambda k: (abs(2 * k - n), k)):
        yield Halves(
            fine,
            tuple(i for atom in ranked[:k] for i in atom),
            tuple(i for atom in ranked[k:] for i in atom),
        )


def _atoms(state: State, movers: list[int]) -> list[tuple[int, ...]]:
    """Moving pieces grouped where they lie flat with each other."""
    pool = set(movers)
    home = {i: i for i in movers}
    for joint in state.joints:
        if joint.folded or joint.a not in pool or joint.b not in pool:
            continue
        old, new = sorted((home[joint.a], home[joint.b]), reverse=True)
        for i in movers:
            if home[i] == old:
                home[i] = new
    return [tuple(i for i in movers if home[i] == root) for root in sorted(set(home.values()))]


def _top_down(state: State, atoms: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
    """Groups sorted from the top of the stack down."""

    def over(a: tuple[int, ...], b: tuple[int, ...]) -> bool:
        return any(state.above(i, j) for i in a for j in b)

    left = list(atoms)
    out: list[tuple[int, ...]] = []
    while left:
        pick = next((a for a in left if not any(over(b, a) for b in left if b is not a)), left[0])
        left.remove(pick)
        out.append(pick)
    return out


def _turned(halves: Halves, line: Line, inside: bool) -> State:
    fine = halves.fine
    state = fine.state
    motion = reflection(line)
    front, back = set(halves.front), set(halves.back)
    movers = front | back
    still = [k for k in range(len(state.facets)) if k not in movers]
    orders: dict[Pair, bool] = {}
    for t in front:
        for b in back:
            orders[t, b] = True
    before, behind = _kept_sides(state, front, back)
    for s in still:
        for t in movers:
            if not inside:
                orders[t, s] = t in front
            elif s in before:
                orders[t, s] = False
            elif s in behind:
                orders[t, s] = True
    group = {i: 0 if i in front else 1 for i in movers}
    return refold(
        state, dict.fromkeys(movers, motion), group, orders, _between(state, before, behind, movers)
    )


def _kept_sides(state: State, front: set[int], back: set[int]) -> tuple[set[int], set[int]]:
    """Pieces that stay and hold the front half, and those that hold the back half, at the line."""
    before: set[int] = set()
    behind: set[int] = set()
    for joint in state.joints:
        for a, b in ((joint.a, joint.b), (joint.b, joint.a)):
            if b in front or b in back:
                continue
            if a in front:
                before.add(b)
            elif a in back:
                behind.add(b)
    return before - behind, behind - before


def _between(
    state: State, before: set[int], behind: set[int], movers: set[int]
) -> Callable[[int, int], bool | None]:
    """Intent for other layers: what lay over the flap stays over the tip, what lay under stays under."""

    def wish(i: int, j: int) -> bool | None:
        if (i in movers) == (j in movers):
            return None
        s = j if i in movers else i
        over = any(state.above(s, b) for b in before) or any(state.above(s, b) for b in behind)
        return over == (s == i)

    return wish


def _outcome(
    request: Request,
    tip: PointValue,
    one: Alignment,
    moving: Flap,
    halves: Halves,
    after: State,
    inside: bool,
) -> Outcome:
    front = {halves.fine.parent[i] for i in halves.front}
    outer = tuple(part for part in moving.creases if part[0] in front)
    inner = tuple(part for part in moving.creases if part[0] not in front)
    near, far = (Sense.MOUNTAIN, Sense.VALLEY) if inside else (Sense.VALLEY, Sense.MOUNTAIN)
    act = Act.INSIDE_REVERSE if inside else Act.OUTSIDE_REVERSE
    arrow = Arrow(act, tip.at, mirrored(one.line, tip.at), under=inside)
    lines = (FoldLine(near, outer), *((FoldLine(far, inner),) if inner else ()))
    template = (
        "Inside reverse fold {what} {where}: push the tip in between its own layers."
        if inside
        else "Outside reverse fold {what} {where}: wrap the tip around its own layers."
    )
    return Outcome(
        after,
        (*lines, arrow, *one.signs),
        phrase(template, what=tip.words, where=one.where),
        creases=tuple(sheet_segments(request.state, moving.creases)),
        folded=True,
        letters=one.letters,
    )
