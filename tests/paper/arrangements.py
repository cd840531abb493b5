"""A pattern as the solver sees it: placed facets, overlapping pairs, known orders, conditions."""

from __future__ import annotations

from foldscript.geometry.isometries import map_segment
from foldscript.geometry.polygons import Polygon
from foldscript.paper.conditions import Conditions, Hinge, Pair, conditions
from foldscript.paper.signs import Sense
from foldscript.paper.state import placed_outline

from .orders import Senses, every_pair
from .patterns import Pattern

Arrangement = tuple[list[Polygon], list[Pair], dict[Pair, bool], Conditions]


def arrangement(flat: Pattern, senses: Senses) -> Arrangement:
    """What `tests.paper.orders` gives to the solver, put together a second time."""
    placed = [placed_outline(f) for f in flat.facets]
    pairs = every_pair(placed)
    hinges = [
        Hinge(f.a, f.b, map_segment(flat.facets[f.a].place, f.segment), True) for f in flat.folds
    ]
    known: dict[Pair, bool] = {}
    for fold in flat.folds:
        sense = senses[fold.crease]
        if sense is not None:
            upper_shows_back = sense is Sense.VALLEY
            upper = fold.a if flat.facets[fold.a].place.flips == upper_shows_back else fold.b
            lower = fold.b if upper == fold.a else fold.a
            known[min(upper, lower), max(upper, lower)] = upper < lower
    return placed, pairs, known, conditions(placed, hinges)
