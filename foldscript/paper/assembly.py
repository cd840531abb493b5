"""Sheets put together: folded paper of several sheets as one state, and how one goes into another.

In: folded states of single sheets. Out: one `State` that holds them all. The open sheets lie side by side in
the plane of the sheet; nothing joins them, so all that is known of paper that cannot pass through paper holds
between them too. What one unit does in the other is proved twice: as the layers lie in the end, and in places
all along the way on which it slides there.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from ..geometry.isometries import Isometry, compose, translation
from ..geometry.lines import Point, Segment, dot
from ..geometry.polygons import bounds
from ..geometry.tolerance import EPS
from ..source.diagnostics import Refusal
from .conditions import Pair, conditions
from .layers import Collision, OutOfWork, Prefer, Solver
from .overlaps import Overlaps
from .refold import FACET_LIMIT, hinges, refold
from .sheet import Sheet
from .state import Facet, State

#: Open sheets lie this far from one another, in sheet units.
APART = 1.0
#: Places on a way at which the layers are looked at.
STATIONS = 16


def beside(paper: State, unit: State, names: Sequence[str], gap: float) -> State:
    """The paper with one more folded sheet, which lies to the right of it, so far off.

    Parameters
    ----------
    names : what the corners of the new sheet are called here
    gap : in sheet units

    Raises Refusal ('too-many-layers') where that is more paper than can be followed.
    """
    scale = unit.sheet.unit_mm / paper.sheet.unit_mm
    if len(paper.facets) + len(unit.facets) > FACET_LIMIT:
        raise Refusal(
            "too-many-layers",
            f"put together, the sheets would have more than {FACET_LIMIT} pieces",
            "put fewer units together in one script",
        )
    home = (max(p[0] for one in paper.sheet.all for p in one.outline) + APART, 0.0)

    def on_sheet(p: Point) -> Point:
        return (p[0] * scale + home[0], p[1] * scale + home[1])

    def along(segment: Segment) -> Segment:
        return on_sheet(segment[0]), on_sheet(segment[1])

    _, low, right, high = bounds([p for ring in paper.placed for p in ring])
    left, under, _, over = bounds([p for ring in unit.placed for p in ring])
    middle = (low + high) / 2 - scale * (under + over) / 2
    off = translation((right + gap - scale * left, middle))
    back = translation((-home[0], -home[1]))
    facets = tuple(
        Facet(
            tuple(map(on_sheet, f.outline)),
            compose(off, compose(_scaled(f.place, scale), back)),
        )
        for f in unit.facets
    )
    first = len(paper.facets)
    order: dict[Pair, bool] = dict(paper.order)
    order.update({(i + first, j + first): above for (i, j), above in unit.order.items()})
    sheet = replace(
        unit.sheet,
        outline=tuple(map(on_sheet, unit.sheet.outline)),
        holes=tuple(tuple(map(on_sheet, hole)) for hole in unit.sheet.holes),
        left=None if unit.sheet.left is None else tuple(map(on_sheet, unit.sheet.left)),
        corner_names=tuple(names),
        unit_mm=paper.sheet.unit_mm,
    )
    return State(
        replace(paper.sheet, others=(*paper.sheet.others, sheet)),
        (*paper.facets, *facets),
        MappingProxyType(order),
        tuple(sorted((*paper.creases, *map(along, unit.creases)))),
        tuple(sorted((*paper.cuts, *map(along, unit.cuts)))),
    )


def place_on(sheet: Sheet, number: int, p: Point, alone: Sheet) -> Point:
    """Where a place of a sheet lies on the plane of all sheets; `alone` is the sheet of this number."""
    scale = alone.unit_mm / sheet.unit_mm
    (x, y), (u, v) = sheet.all[number].outline[0], alone.outline[0]
    return (p[0] * scale + x - u * scale, p[1] * scale + y - v * scale)


def _scaled(place: Isometry, scale: float) -> Isometry:
    """The same placement where all lengths are so many times as large."""
    return Isometry(place.a, place.b, place.tx * scale, place.c, place.d, place.ty * scale)


def joined(
    state: State,
    members: Collection[int],
    motion: Isometry,
    orders: Mapping[Pair, bool],
    prefer: Prefer,
) -> State:
    """The members moved as one piece to where they lie among the others.

    Raises Collision where the layers would pass through one another.
    """
    return refold(state, dict.fromkeys(members, motion), dict.fromkeys(members, 0), orders, prefer)


def way_in(state: State, members: Collection[int], toward: Point) -> Isometry | None:
    """How far the members are drawn back, against `toward`, to be free of all other paper.

    All along the way their layers must be able to lie among the others as they do in the end, passing through
    none; this is looked at in `STATIONS` places. None where they cannot get free.
    """
    mine = set(members)
    own = [dot(p, toward) for i in mine for p in state.placed[i]]
    rest = [
        dot(p, toward) for i in range(len(state.facets)) if i not in mine for p in state.placed[i]
    ]
    far = max(own) - min(rest)
    if far <= EPS:
        return translation((0.0, 0.0))
    known = dict(state.order)
    for k in range(1, STATIONS + 1):
        # not at even places: there edges would lie on edges for a moment
        back = far * (k - 0.5 + 0.013 * (k % 3)) / STATIONS
        off = (-toward[0] * back, -toward[1] * back)
        found = _orders_at(state, mine, off, known)
        if found is None:
            return None
        known = {
            **found,
            **{p: v for p, v in state.order.items() if (p[0] in mine) == (p[1] in mine)},
        }
    return translation((-toward[0] * far, -toward[1] * far))


def _orders_at(
    state: State, mine: set[int], off: Point, before: Mapping[Pair, bool]
) -> dict[Pair, bool] | None:
    """The layer order with the members so far off, as it was before where that tells; None for none."""
    facets = tuple(
        Facet(f.outline, compose(translation(off), f.place)) if i in mine else f
        for i, f in enumerate(state.facets)
    )
    moved = state.relaid(facets, MappingProxyType({}))
    overlaps = Overlaps(moved.placed)
    cross = [
        (min(i, j), max(i, j))
        for i in sorted(mine)
        for j in range(len(facets))
        if j not in mine and overlaps.pair(min(i, j), max(i, j))
    ]
    inner = {p: v for p, v in before.items() if (p[0] in mine) == (p[1] in mine)}
    known = {**inner, **{p: before[p] for p in cross if p in before}}
    try:
        solver = Solver(
            moved.placed,
            sorted({*inner, *cross}),
            known,
            conditions(moved.placed, hinges(state, facets), set(cross), overlaps),
            overlaps,
        )
        return solver.solve()
    except (Collision, OutOfWork):
        return None


def directions(state: State, members: Collection[int]) -> list[Point]:
    """Ways to slide that come to mind: square to and along the folds and edges of the members, each once."""
    found: dict[tuple[float, float], Point] = {}
    for i in members:
        ring = state.placed[i]
        for (px, py), (qx, qy) in zip(ring, (*ring[1:], ring[0]), strict=True):
            n = ((qx - px) ** 2 + (qy - py) ** 2) ** 0.5
            ux, uy = (qx - px) / n, (qy - py) / n
            for d in ((ux, uy), (-ux, -uy), (uy, -ux), (-uy, ux)):
                found.setdefault((round(d[0], 6) + 0.0, round(d[1], 6) + 0.0), d)
    return list(found.values())


__all__ = ["beside", "directions", "joined", "place_on", "way_in"]
