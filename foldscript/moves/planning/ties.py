"""Where the words of a collapse leave a choice that the paper does not make: the script is asked.

In: pieces of which more than one could stay, choices of creases that fold as much, layers that could lie
either way. Out: refusals that name them and the words that decide; and what 'with P over Q' says.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from ...geometry.cover import union
from ...geometry.isometries import IDENTITY, Isometry, inverse, same_isometry
from ...geometry.polygons import area, centroid
from ...geometry.tolerance import EPS
from ...paper.components import adjacency, reached
from ...paper.conditions import Pair
from ...paper.layers import Prefer
from ...paper.seams import merged
from ...paper.state import State
from ...paper.symmetry import Symmetry, symmetries
from ...paper.toggling import Changes, motions
from ...source.diagnostics import Hint, Refusal, add, write
from .claims import Claim, LiesOver, Stays
from .flatness import place_on_sheet
from .marked_first import marked_first
from .named_creases import Named, Wanted
from .request import PointValue, Remark, Request

Lying = Sequence[tuple[PointValue, PointValue]]


def could_stay(state: State, holding: PointValue | None, named: Named) -> list[int]:
    """The pieces that hold the named point, else all: of these the largest, several when as large.

    Among pieces as large that lie beside other lines, that one stays whose lines were named last.
    """
    pool: Sequence[int] = range(len(state.facets))
    if holding is not None and holding.sheet is not None:
        pool = state.facets_on_sheet(holding.sheet) or pool
    sizes = {i: round(area(state.facets[i].outline), 9) for i in pool}
    largest = [i for i in pool if sizes[i] == max(sizes.values())]
    beside: dict[int, list[int]] = {i: [] for i in largest}
    for k, (line, _) in named.items():
        for i in {state.joints[k].a, state.joints[k].b} & set(largest):
            beside[i].append(line)
    last = max(sorted(lines) for lines in beside.values())
    return [i for i in largest if sorted(beside[i]) == last]


def which_stays(
    request: Request,
    state: State,
    changes: Changes,
    tied: Sequence[int],
    holding: PointValue | None,
) -> Refusal:
    """Of several pieces each could stay, and they move against each other."""
    names = dict.fromkeys(_stays_with(request, state, changes, i) for i in tied)
    clause = request.clause("holding", "keeping")
    hints = [
        write(clause.span, f"holding {name}")
        if clause
        else add(request.span, f"holding {name}", f"say 'holding {name}'")
        for name in names
        if name
    ][:2]
    hints[1:] = [Hint(f"or {hint.text}", edit=hint.edit) for hint in hints[1:]]
    if holding is not None:
        return Refusal(
            "which-stays",
            f"{holding.words.render()} lies on a line that folds: the paper on either side could stay",
            *hints or ["name a point beside the line after 'holding'"],
            span=holding.span,
        )
    return Refusal(
        "which-stays",
        "more than one part of the paper could stay where it is, and the model would lie elsewhere each time",
        *hints or ["say which part stays: 'holding' and a point of it"],
        span=request.span,
    )


def held_on_a_fold(
    state: State, after: State, holding: PointValue | None, moved: Mapping[int, Isometry]
) -> Iterator[Remark]:
    """A point that is held on a line that folds: the paper on one side of it stays. That is told where the
    model would lie elsewhere if the paper on the other side stayed.
    """
    if holding is None or holding.sheet is None:
        return
    lies = union(after.placed)
    for i in state.facets_on_sheet(holding.sheet):
        if i not in moved or same_isometry(moved[i], IDENTITY):
            continue
        back = inverse(moved[i])
        other = union([tuple(map(back, outline)) for outline in after.placed])
        if lies.symmetric_difference(other).area > EPS:
            yield Remark(
                "held-on-a-fold",
                f"{holding.words.render()} lies on a line that folds: the larger paper beside it stays, or "
                "that beside the line named last",
                ("name a point beside the lines after 'holding', to say which paper stays",),
            )
            return


def _stays_with(request: Request, state: State, changes: Changes, piece: int) -> str:
    """A name on the paper that does not move when a piece stays; '' when there is none."""
    moves = motions(state, [piece], changes)
    still = {i for i, motion in moves.items() if same_isometry(motion, IDENTITY)}
    for name, at in request.points.items():
        holders = state.facets_on_sheet(at)
        if holders and still.issuperset(holders):
            return name
    return ""


def several_ways(
    request: Request,
    state: State,
    wanted: Sequence[Wanted],
    named: Named,
    ways: Sequence[frozenset[int]],
) -> Refusal:
    """Two choices of creases do as much of what is said: which part stays as it is must be said."""
    one, other = (
        _left_parts(request, state, wanted, named, done, ways[1 - k]) for k, done in enumerate(ways)
    )
    return Refusal(
        "several-ways",
        f"these creases fold flat in more than one way: {one}, or {other}",
        "name only the parts that are to fold, as 'line P Q'",
        span=request.span,
    )


def _left_parts(
    request: Request,
    state: State,
    wanted: Sequence[Wanted],
    named: Named,
    done: frozenset[int],
    other: frozenset[int],
) -> str:
    """What stays as it is in one way only: 'p1 between corner F and point O could stay flat'."""
    told: list[str] = []
    for opens, how in ((False, "flat"), (True, "folded")):
        lines = [n for n, want in enumerate(wanted) if (want.sense is None) is opens]
        parts = _parts_left(request, state, wanted, named, other - done, lines)
        if parts:
            told.append(f"{' and '.join(parts[:2])} could stay {how}")
    return " and ".join(told)


def _parts_left(
    request: Request,
    state: State,
    wanted: Sequence[Wanted],
    named: Named,
    left: frozenset[int],
    lines: Iterable[int],
) -> list[str]:
    parts: list[str] = []
    for n in lines:
        want = wanted[n]
        segments = [
            state.joints[k].segment for k, (line, _) in named.items() if line == n and k in left
        ]
        name = f"'{want.line.name}'" if want.line.name else want.line.words.render()
        parts.extend(
            f"{name} between {place_on_sheet(request, state, p)} and {place_on_sheet(request, state, q)}"
            for p, q in (merged(segments) if segments else ())
        )
    return parts


def as_said(state: State, lying: Lying) -> Callable[[int, int], bool | None]:
    """What 'with P over Q' says of two pieces; None of those that it does not speak of."""
    stacked = [(_pieces(state, upper), _pieces(state, lower)) for upper, lower in lying]

    def over(i: int, j: int) -> bool | None:
        for upper, lower in stacked:
            if i in upper and j in lower:
                return True
            if j in upper and i in lower:
                return False
        return None

    return over


def alike_said(state: State, said: Prefer, turned: frozenset[int]) -> Prefer:
    """What is said of two pieces, for the two that lie across from them as well: hands do on one side of a
    model that is alike on both what they do on the other. `turned` are the pieces that move, all of them.
    """
    across = [
        image
        for one in symmetries(state)
        if not one.behind and not one.is_identity
        for image in [_images(state, one)]
        if frozenset(image[k] for k in turned) == turned
    ]

    def over(i: int, j: int) -> bool | None:
        told = said(i, j)
        if told is not None:
            return told
        there = (said(image[i], image[j]) for image in across)
        return next((order for order in there if order is not None), None)

    return over


def _images(state: State, one: Symmetry) -> list[int]:
    """For each piece the one whose part it takes; -1 where there is none."""
    found = (state.facets_on_sheet(one.sheet(centroid(facet.outline))) for facet in state.facets)
    return [row[0] if len(row) == 1 else -1 for row in found]


def refuse_unsaid(before: State, after: State, lying: Lying) -> None:
    """Refuses where layers do not lie over each other as 'with P over Q' says."""

    def now(p: PointValue) -> set[int]:
        spots = [centroid(before.facets[i].outline) for i in _pieces(before, p)]
        return {k for spot in spots for k in after.facets_on_sheet(spot)}

    for upper, lower in lying:
        if _pieces(before, upper) & _pieces(before, lower):
            raise Refusal(
                "cannot-lie-over",
                f"{upper.words.render()} and {lower.words.render()} lie on one layer, which cannot lie over "
                "itself",
                "name points of two layers, each inside its own",
                span=lower.span,
            )
        orders = {after.above(i, j) for i in now(upper) for j in now(lower) if i != j}
        one, other = upper.words.render(), lower.words.render()
        if True in orders:
            continue
        if False in orders:
            raise Refusal(
                "cannot-lie-over",
                f"the layer with {one} cannot lie over the layer with {other}",
                "leave these words out, or turn them round",
                span=upper.span,
            )
        raise Refusal(
            "cannot-lie-over",
            f"the layers with {one} and {other} do not come to lie over each other",
            "name points of two layers that do",
            span=upper.span,
        )


def what_stays_and_lies(
    fine: State, still: int, changes: Iterable[int], lying: Lying
) -> Iterator[Claim]:
    """What holds together with the piece that stays lies where it lay; layers lie as 'with P over Q' says.

    `fine` is the divided paper, to which the piece and the joints that change belong.
    """
    stop = set(changes)
    joined = adjacency(joint for k, joint in enumerate(fine.joints) if k not in stop)
    rigid = sorted(reached(joined, [still]))
    yield Stays(tuple(centroid(fine.facets[i].outline) for i in rigid))
    yield from lies_as_said(fine, lying)


def lies_as_said(fine: State, lying: Lying) -> Iterator[Claim]:
    """Layers lie as 'with P over Q' says; `fine` is the divided paper before the move."""
    for upper, lower in lying:
        over, under = (
            tuple(centroid(fine.facets[i].outline) for i in sorted(_pieces(fine, p)))
            for p in (upper, lower)
        )
        yield LiesOver(over, under, somewhere=True)


def _pieces(state: State, p: PointValue) -> frozenset[int]:
    if p.sheet is None:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=p.span)
    return frozenset(state.facets_on_sheet(p.sheet))


def which_lies_over(request: Request, state: State, pairs: Iterable[Pair]) -> Refusal:
    """Two layers could lie either way round."""
    found: list[tuple[bool, str, str]] = []
    for i, j in pairs:
        one, other = sorted((_name_on(request, state, i), _name_on(request, state, j)))
        found.append((not one, one, other))
    unnamed, one, other = min(found)
    if not unnamed:
        return Refusal(
            "which-lies-over",
            f"the layers with {_called(state, one)} and {_called(state, other)} could lie either way round",
            add(request.span, f"with {one} over {other}"),
            add(request.span, f"with {other} over {one}", f"or add 'with {other} over {one}'"),
            span=request.span,
        )
    i, j = min(pairs, key=lambda pair: sorted(_place_of(request, state, k) for k in pair))
    one, other = sorted(_place_of(request, state, k) for k in (i, j))
    return Refusal(
        "which-lies-over",
        f"two layers could lie either way round: {one}, and {other}",
        *(
            marked_first(request, state, (i, j))
            or ("mark a point on each before this, as P and Q, and add 'with P over Q'",)
        ),
        span=request.span,
    )


def _place_of(request: Request, state: State, piece: int) -> str:
    return f"the one with its middle {request.locate(centroid(state.placed[piece]))}"


def _name_on(request: Request, state: State, piece: int) -> str:
    """The first name of a point that lies on this piece and no other; '' where none does."""
    for name, at in request.points.items():
        if state.facets_on_sheet(at) == (piece,):
            return name
    return ""


def _called(state: State, name: str) -> str:
    return f"{'corner' if state.sheet.is_corner(name) else 'point'} {name}"
