"""A tip parted into the front and the back half of its stack of layers.

In: a flap of two or more layers. Out: ways to part it, the most even first, and how the halves lie to
the paper that stays: inside (between the layers that hold them) or outside (around everything).
Shared by the reverse folds, the crimp and the double rabbit ear.

A hand parts a flap along its spine, the folded edge between the halves. Where that does not go, some
uneven parting along another folded edge may: but then only a strip of the flap is turned, which nobody
means. So the spine of the most even parting counts (`along_the_spine`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from ...geometry import polygons
from ...geometry.isometries import reflection
from ...geometry.lines import Line, line_through, on_line, same_line
from ...geometry.tolerance import EPS
from ...paper.conditions import Pair
from ...paper.depths import chains
from ...paper.flap import Flap, beyond
from ...paper.layers import Collision
from ...paper.refold import Divided, divided, refold
from ...paper.state import State
from ...paper.union_find import UnionFind
from ...source.diagnostics import Refusal
from .in_the_way import collision_refusal
from .request import Outcome, PointValue, Request


@dataclass(frozen=True)
class Halves:
    """Pieces of the tip (of the divided state) that go with the front and with the back.

    `uneven` says by how many layers one half is thicker.
    """

    fine: Divided
    front: frozenset[int]
    back: frozenset[int]
    uneven: int = 0

    @property
    def movers(self) -> frozenset[int]:
        """All pieces of the tip."""
        return self.front | self.back


def halves(state: State, moving: Flap) -> Iterator[Halves]:
    """Ways to part a flap's stack into front and back along its spine, the most even first."""
    fine = divided(state, moving.line, moving.facets)
    return along_the_spine(parted(fine, beyond(fine, moving.facets, moving.line)))


def parted(fine: Divided, movers: list[int]) -> Iterator[Halves]:
    """Ways to part the moving pieces, which may be divided further, into front and back.

    Pieces that lie side by side, as deep, go together.
    """
    ranked, depths = _top_down(fine.state, _atoms(fine.state, movers))
    n = len(ranked)
    for k in sorted(range(1, n), key=lambda k: (abs(2 * k - n), k)):
        if depths[k - 1] == depths[k]:
            continue
        yield Halves(
            fine,
            frozenset(i for atom in ranked[:k] for i in atom),
            frozenset(i for atom in ranked[k:] for i in atom),
            abs(2 * k - n),
        )


def along_the_spine(partings: Iterable[Halves]) -> Iterator[Halves]:
    """Those partings that open the same folded edges as the most even one.

    Where layers lie pleated in one half, that one may open a fold inside the flap: the most even one
    that opens folds on the flap's outline counts as well.
    """
    found = [(parts, _spine(parts)) for parts in partings]
    outer = [(parts, spine) for parts, spine in found if _on_outline(parts, spine)]
    allowed = [
        spine
        for some in (found, outer)
        for parts, spine in some
        if parts.uneven == min(other.uneven for other, _ in some)
    ]
    for parts, spine in found:
        if any(_same_lines(spine, other) for other in allowed):
            yield parts


def _spine(parts: Halves) -> list[Line]:
    """The folded lines on which the halves hold together."""
    lines: list[Line] = []
    for joint, (p, q) in parts.fine.state.fold_segments:
        crossing = (joint.a in parts.front and joint.b in parts.back) or (
            joint.a in parts.back and joint.b in parts.front
        )
        if crossing and not any(on_line(line, p) and on_line(line, q) for line in lines):
            lines.append(line_through(p, q))
    return lines


def _on_outline(parts: Halves, spine: list[Line]) -> bool:
    placed = [parts.fine.state.placed[i] for i in parts.movers]
    for line in spine:
        extents = [polygons.half_plane_extent(p, line) for p in placed]
        if min(low for low, _ in extents) < -EPS and max(high for _, high in extents) > EPS:
            return False
    return True


def _same_lines(some: list[Line], others: list[Line]) -> bool:
    return len(some) == len(others) and all(
        any(same_line(one, other) for other in others) for one in some
    )


def _atoms(state: State, movers: list[int]) -> list[tuple[int, ...]]:
    """Moving pieces grouped where they lie flat with each other."""
    pool = set(movers)
    flat = UnionFind(len(state.facets))
    for joint in state.joints:
        if not joint.folded and joint.a in pool and joint.b in pool:
            flat.unite(joint.a, joint.b)
    return list(flat.sets(movers))


def _top_down(
    state: State, atoms: list[tuple[int, ...]]
) -> tuple[list[tuple[int, ...]], list[int]]:
    """Groups sorted from the top of the stack down, and how deep each lies: as deep side by side."""
    home = {i: k for k, atom in enumerate(atoms) for i in atom}
    under: list[set[int]] = [set() for _ in atoms]
    over: list[set[int]] = [set() for _ in atoms]
    for i, k in home.items():
        for j in state.neighbours[i]:
            if j in home and home[j] != k and state.above(i, j):
                under[k].add(home[j])
                over[home[j]].add(k)
    (above, _), (below, _) = chains(over, under), chains(under, over)
    deep = [above[k] - below[k] for k in range(len(atoms))]
    order = sorted(range(len(atoms)), key=lambda k: (deep[k], k))
    return [atoms[k] for k in order], [deep[k] for k in order]


@dataclass(frozen=True)
class Holders:
    """Pieces that stay: those that hold the front half, and those that hold the back half."""

    before: frozenset[int]
    behind: frozenset[int]


def holders(state: State, parts: Halves) -> Holders:
    """Who holds the halves where they bend."""
    before: set[int] = set()
    behind: set[int] = set()
    for joint in state.joints:
        for a, b in ((joint.a, joint.b), (joint.b, joint.a)):
            if b in parts.movers:
                continue
            if a in parts.front:
                before.add(b)
            elif a in parts.back:
                behind.add(b)
    return Holders(frozenset(before - behind), frozenset(behind - before))


def orders_inside(parts: Halves, held: Holders) -> dict[Pair, bool]:
    """The halves between the layers that hold them, the front half over the back half."""
    orders = {(t, b): True for t in parts.front for b in parts.back}
    for t in parts.movers:
        orders.update({(t, s): False for s in held.before})
        orders.update({(t, s): True for s in held.behind})
    return orders


def orders_outside(parts: Halves, held: Holders) -> dict[Pair, bool]:
    """The halves around the layers that hold them, the front half in front, the back half behind."""
    orders = {(t, b): True for t in parts.front for b in parts.back}
    for s in held.before | held.behind:
        orders.update({(t, s): t in parts.front for t in parts.movers})
    return orders


def preference_between(
    state: State, held: Holders, movers: frozenset[int]
) -> Callable[[int, int], bool | None]:
    """Intent for other layers: what lay over the flap stays over the tip, what lay under stays under."""

    def preference(i: int, j: int) -> bool | None:
        if (i in movers) == (j in movers):
            return None
        s = j if i in movers else i
        over = any(state.above(s, b) for b in held.before | held.behind)
        return over == (s == i)

    return preference


def locked(
    request: Request, clash: Collision, what: str = "the layers of this flap are locked"
) -> Refusal:
    """The layers of the flap do not let its tip turn."""
    why = collision_refusal(request, clash)
    return Refusal(
        "locked-layers",
        f"{what}: {why.message}",
        "choose a line nearer the tip, or free the layers first",
        span=request.span,
    )


def with_other_way(problem: Refusal, words: str, attempt: Callable[[], Outcome]) -> Refusal:
    """The refusal, with the other way of folding as a hint where the layers allow that."""
    try:
        attempt()
    except (Refusal, Collision):
        return problem
    return problem.with_hints(
        f"here '{words}' would do: it goes the other way round the layers", *problem.hints
    )


def one_layer(request: Request, tip: PointValue) -> Refusal:
    """The flap has no back half."""
    return Refusal(
        "one-layer",
        f"the flap with {tip.words.render()} has one layer only: '{request.verb}' needs at least two",
        *_doubled_first(request.state),
        "use 'valley' or 'mountain' for a single layer",
        span=request.span,
    )


def _doubled_first(state: State) -> tuple[str, ...]:
    """What is missing where nothing is folded yet."""
    if any(joint.folded for joint in state.joints):
        return ("fold the flap in half first, so that the tip has a front and a back",)
    return ("nothing is folded yet: fold the paper in half first, through the tip",)


def turned(parts: Halves, line: Line, *, inside: bool) -> State:
    """The tip's halves reflected in the line, between the layers that hold them or around these."""
    state = parts.fine.state
    held = holders(state, parts)
    orders = orders_inside(parts, held) if inside else orders_outside(parts, held)
    return refold(
        state,
        dict.fromkeys(parts.movers, reflection(line)),
        {i: 0 if i in parts.front else 1 for i in parts.movers},
        orders,
        preference_between(state, held, parts.movers),
    )
