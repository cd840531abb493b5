"""Whole crease patterns: a sheet divided along all its creases at once, each of them folded.

In: a sheet and creases as segments. Out: a `Pattern`: the facets, each where it lies when everything
is folded, and the folds between them. Whether the layers can lie like that, and in how many ways, is
the business of `tests.paper.orders`.

Around a point inside the sheet flat paper folds flat only if an even number of creases meet there and
every other angle adds up to 180 degrees (Kawasaki; Justin; see T. Hull, Ars Combinatoria 67 (2003)
175-188). It follows that every angle is at most 180 degrees: on a convex sheet all facets are convex.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from foldscript.geometry import polygons
from foldscript.geometry.isometries import IDENTITY, Isometry, compose, reflection
from foldscript.geometry.lines import Point, Segment, distance, line_through, overlap_of
from foldscript.geometry.tolerance import EPS_ANGLE
from foldscript.paper.seams import collinear_overlaps
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import Facet
from foldscript.source.diagnostics import Refusal

from .planar import RIM, Division, divide

#: Error of an angle beyond which a point does not fold flat (radians): ends of creases are exact to
#: 1e-9 of the sheet, and creases may be as short as a thousandth of it.
ANGLE_SLACK = 1e3 * EPS_ANGLE


@dataclass(frozen=True, slots=True)
class Fold:
    """A folded piece of crease between facets a and b.

    `segment` is in sheet coordinates, counter-clockwise in `a`; `crease` is the number of the
    segment it is part of.
    """

    a: int
    b: int
    segment: Segment
    crease: int


@dataclass(frozen=True)
class Pattern:
    """A crease pattern, folded as far as geometry goes: which layer lies above is left open.

    Attributes
    ----------
    facets : convex pieces of the sheet with their placements, in reading order from the bottom left
    folds : every piece of crease between two facets
    count : how many creases were given
    """

    sheet: Sheet
    facets: tuple[Facet, ...]
    folds: tuple[Fold, ...]
    count: int


def pattern(sheet: Sheet, creases: Sequence[Segment], holding: Point | None = None) -> Pattern:
    """Divides the sheet along creases, checks every inner point, and folds all of them.

    Parameters
    ----------
    creases : segments in sheet coordinates; they may cross and may end on each other
    holding : a point of the sheet; the facet that holds it stays where it is (else the first one)

    Raises
    ------
    Refusal : 'off-the-sheet', 'crease-twice' for unfit creases; 'odd-vertex', 'kawasaki' where the
        paper cannot lie flat, naming the point in millimetres and the missing angle in degrees;
        'does-not-close' when the facets fit together at every point and yet not as a whole
    """
    inner = _on_paper(sheet, creases)
    division = divide(sheet.outline, inner)
    for k in range(len(division.points)):
        if not division.on_rim[k]:
            _refuse_vertex(sheet, division, k)
    outlines = [polygons.tidy(division.points[k] for k in ring) for ring in division.faces]
    folds = tuple(
        Fold(
            piece.left,
            piece.right,
            (division.points[piece.start], division.points[piece.end]),
            piece.source,
        )
        for piece in division.pieces
        if piece.source != RIM and piece.left is not None and piece.right is not None
    )
    fixed = 0
    if holding is not None:
        fixed = max(range(len(outlines)), key=lambda i: polygons.depth(outlines[i], holding))
    places = _walk(len(outlines), folds, fixed)
    _refuse_gap(sheet, folds, places)
    facets = tuple(Facet(o, p) for o, p in zip(outlines, places, strict=True))
    return Pattern(sheet, facets, folds, len(creases))


def _on_paper(sheet: Sheet, creases: Sequence[Segment]) -> list[Segment]:
    inner: list[Segment] = []
    for k, crease in enumerate(creases):
        kept = polygons.clip_segment(sheet.outline, crease)
        rim = polygons.edges(sheet.outline)
        if kept is None or any(overlap_of(side, kept) is not None for side in rim):
            raise Refusal(
                "off-the-sheet",
                f"crease {k + 1}, from {_at(sheet, crease[0])} to {_at(sheet, crease[1])}, "
                "does not cross the sheet",
                "give creases as segments between points of the sheet",
            )
        inner.append(kept)
    for (i, j), part in collinear_overlaps(list(enumerate(inner))):
        raise Refusal(
            "crease-twice",
            f"creases {min(i, j) + 1} and {max(i, j) + 1} lie along each other from "
            f"{_at(sheet, part[0])} to {_at(sheet, part[1])}",
            "give every crease once",
        )
    return inner


def _at(sheet: Sheet, p: Point) -> str:
    """A point of the sheet in millimetres from the origin of its coordinates."""
    return f"({p[0] * sheet.unit_mm:.1f}, {p[1] * sheet.unit_mm:.1f}) mm"


def _refuse_vertex(sheet: Sheet, division: Division, k: int) -> None:
    angles = [angle for angle, _ in division.around[k]]
    where = _at(sheet, division.points[k])
    n = len(angles)
    if n % 2:
        raise Refusal(
            "odd-vertex",
            f"the paper cannot fold flat at {where}: "
            + (f"{n} creases meet there, an odd number" if n > 1 else "a crease ends there alone"),
            "let an even number of creases meet at every point inside the sheet",
        )
    gaps = [b - a for a, b in zip(angles, [*angles[1:], angles[0] + 2 * math.pi], strict=True)]
    off = sum(gaps[::2]) - math.pi
    if abs(off) > ANGLE_SLACK:
        raise Refusal(
            "kawasaki",
            f"the paper cannot fold flat at {where}: every other angle between the creases has to "
            f"add up to 180 degrees, and {_degrees(abs(off))} degrees are missing on one side",
            "turn one of the creases at this point, or add one more",
        )


def _degrees(angle: float) -> str:
    value = math.degrees(angle)
    return f"{value:.2f}".rstrip("0").rstrip(".") if value >= 0.01 else f"{value:.1g}"


def _walk(count: int, folds: Sequence[Fold], fixed: int) -> list[Isometry]:
    """Placement of every facet: reflections multiplied along the shortest way from the fixed one."""
    links: list[list[tuple[int, Segment]]] = [[] for _ in range(count)]
    for fold in folds:
        links[fold.a].append((fold.b, fold.segment))
        links[fold.b].append((fold.a, fold.segment))
    places: list[Isometry | None] = [None] * count
    places[fixed] = IDENTITY
    todo = [fixed]
    for i in todo:
        here = places[i]
        assert here is not None
        for j, segment in links[i]:
            if places[j] is None:
                places[j] = compose(here, reflection(line_through(*segment)))
                todo.append(j)
    assert None not in places, "the folds of a divided sheet hang together"
    return [p for p in places if p is not None]


def _refuse_gap(sheet: Sheet, folds: Sequence[Fold], places: Sequence[Isometry]) -> None:
    """Holds always when every inner point folds flat; a check on the sum of all roundings."""
    for fold in folds:
        away = max(distance(places[fold.a](p), places[fold.b](p)) for p in fold.segment)
        if away > 1e-7:
            raise Refusal(
                "does-not-close",
                f"the folded sheet would gape by {away * sheet.unit_mm:.3g} mm along the crease from "
                f"{_at(sheet, fold.segment[0])} to {_at(sheet, fold.segment[1])}",
                "give the points where creases meet more exactly",
            )
