"""Symmetries of one flap on a model that has none as a whole: the hat's brim in front and behind.

In: the paper before the original steps, and what these moved and creased. Out: the ways to lay the
sheet onto itself that carry just this paper, not the whole model, onto paper which lies as it does:
in the same place or in a mirror, as free, with the layers that move together in the same order. What the
moves do there is folded like any move, and checked (`replaying`).
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry import polygons
from ...geometry.isometries import Isometry, compose, inverse, nearly_same
from ...geometry.lines import Point, Segment, midpoint
from ...geometry.polygons import Polygon
from ...paper.state import State
from ...paper.symmetry import Symmetry, sheet_isometries
from .traces import Piece, astray


def local_symmetries(
    before: State, pieces: Sequence[Piece], creases: Sequence[Segment]
) -> list[Symmetry]:
    """Ways to lay the sheet onto itself that carry pieces and creases to paper that lies like it.

    Two for one isometry of the sheet where paper lies free on both faces: in front and behind.
    """
    found: list[Symmetry] = []
    spots = [polygons.centroid(p.outline) for p in pieces] or [midpoint(*s) for s in creases]
    if not spots:
        return []
    for sheet in sheet_isometries(before.sheet):
        motion = _motion(before, sheet, spots[0])
        if any(not nearly_same(_motion(before, sheet, p), motion) for p in spots[1:]):
            continue
        if next(astray(before, sheet, motion, pieces, after=False), None) is not None:
            continue
        found.extend(
            Symmetry(sheet, motion, behind)
            for behind in (False, True)
            if unlike(before, before, sheet, pieces, behind=behind) is None
        )
    return found


def _motion(before: State, sheet: Isometry, spot: Point) -> Isometry:
    """Where the paper at a place of the sheet lies -> where its image lies."""
    here = before.facets[before.facets_on_sheet(spot)[0]].place
    there = before.facets[before.facets_on_sheet(sheet(spot))[0]].place
    return compose(compose(there, sheet), inverse(here))


def unlike(
    then: State, now: State, sheet: Isometry, pieces: Sequence[Piece], *, behind: bool
) -> Point | None:
    """A place on the sheet whose image is not as free, or not in the same order; None if all are.

    `then` is the paper before the pieces moved; `behind` tells that the image is to be seen from the
    other face of `now`. Paper is free when nothing but what moves with it lies over it.
    """
    back = inverse(sheet)
    parts: list[tuple[Polygon, int, Polygon, int]] = []
    for piece in pieces:
        (f, *_) = then.facets_on_sheet(polygons.centroid(piece.outline))
        for k, facet in enumerate(now.facets):
            image = polygons.intersection(_mapped(sheet, piece.outline), facet.outline)
            if image:
                parts.append((_mapped(back, image), f, image, k))
    here, there = [p for p, _, _, _ in parts], [q for _, _, q, _ in parts]
    for p, f, q, k in parts:
        if _buried(then, p, f, here, False) != _buried(now, q, k, there, behind):
            return polygons.centroid(p)
        for r, g, s, m in parts:
            if not _common(then, p, f, r, g) or then.above(g, f) is None:
                continue
            if not _common(now, q, k, s, m) or now.above(m, k) is not (then.above(g, f) != behind):
                return polygons.centroid(p)
    return None


def _buried(state: State, piece: Polygon, f: int, moving: Sequence[Polygon], behind: bool) -> bool:
    """Whether paper that does not move lies over a piece of a facet, seen from one face."""
    for g in state.neighbours[f]:
        if state.above(g, f) is behind:
            continue
        place = state.facets[g].place
        common = _common(state, piece, f, state.facets[g].outline, g)
        if common:
            spot = inverse(place)(polygons.centroid(common))
            if not any(polygons.inside(q, spot, 1e-7) for q in moving):
                return True
    return False


def _mapped(sheet: Isometry, outline: Polygon) -> Polygon:
    return polygons.counter_clockwise(tuple(sheet(p) for p in outline))


def _common(state: State, p: Polygon, f: int, q: Polygon, g: int) -> Polygon:
    """Where two pieces of the sheet, on two facets, overlap as they lie."""
    one, two = state.facets[f].place, state.facets[g].place
    return polygons.intersection(_mapped(one, p), _mapped(two, q))
