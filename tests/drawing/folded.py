"""Folded paper for drawing tests: unit squares and rectangles, folded by the kernel.

The front is the plain side unless a name says otherwise.
"""

from __future__ import annotations

from types import MappingProxyType

from foldscript.folding.steps import Model, Panel, Step
from foldscript.geometry.isometries import IDENTITY, Isometry, translation
from foldscript.geometry.lines import Line, Point, line_through
from foldscript.paper.flap import flap, fold_flap
from foldscript.paper.sheet import Sheet
from foldscript.paper.signs import FoldLine, Sense
from foldscript.paper.state import Facet, State, flat
from foldscript.source.diagnostics import Span

A, B, C, D = (0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)
SQUARE = Sheet((A, B, C, D), tuple("ABCD"), 150.0, "square 15 cm")


def square() -> State:
    return flat(SQUARE)


def folded(state: State, start: Point, end: Point, sense: Sense = Sense.VALLEY) -> State:
    """Everything on the left of the line from start to end folded over it."""
    line = line_through(start, end)
    return fold_flap(state, flap(state, line, range(len(state.facets)), whole_stack=True), sense)


def crease_of(state: State, start: Point, end: Point, sense: Sense = Sense.VALLEY) -> FoldLine:
    """The sign for `folded` with the same line."""
    found = flap(state, line_through(start, end), range(len(state.facets)), whole_stack=True)
    return FoldLine(sense, found.creases)


def triangle() -> State:
    """Bottom corner half A folded up onto C: the fold runs from D to B."""
    return folded(square(), B, D)


def cupboard() -> State:
    """Left and right edges folded to the centre line."""
    half = folded(square(), (0.25, 0.0), (0.25, 1.0))
    return folded(half, (0.75, 1.0), (0.75, 0.0))


def stack(folds: int) -> State:
    """A square halved again and again: 2 ** folds layers."""
    state = square()
    for k in range(folds):
        x0 = min(p[0] for ring in state.placed for p in ring)
        x1 = max(p[0] for ring in state.placed for p in ring)
        y0 = min(p[1] for ring in state.placed for p in ring)
        y1 = max(p[1] for ring in state.placed for p in ring)
        if k % 2 == 0:
            state = folded(state, ((x0 + x1) / 2, y0), ((x0 + x1) / 2, y1))
        else:
            state = folded(state, (x1, (y0 + y1) / 2), (x0, (y0 + y1) / 2))
    return state


def pinwheel() -> State:
    """Four strips cut from a square and laid in a ring: each over the next, the last over the first."""
    strips = [
        ((0.0, k / 4), (1.0, k / 4), (1.0, (k + 1) / 4), (0.0, (k + 1) / 4)) for k in range(4)
    ]
    upright = Isometry(0.0, -1.0, 0.0, 1.0, 0.0, 0.0)
    places = (
        IDENTITY,  # bottom: x 0..1, y 0..0.25
        Isometry(*_moved(upright, (1.25, 0.0))),  # right: x 0.75..1, y 0..1
        translation((0.0, 0.25)),  # top: x 0..1, y 0.75..1
        Isometry(*_moved(upright, (1.0, 0.0))),  # left: x 0..0.25, y 0..1
    )
    facets = tuple(Facet(s, p) for s, p in zip(strips, places, strict=True))
    cuts = tuple(((0.0, k / 4), (1.0, k / 4)) for k in (1, 2, 3))
    order = {(0, 1): True, (1, 2): True, (2, 3): True, (0, 3): False}
    return State(SQUARE, facets, MappingProxyType(order), (), cuts)


def _moved(m: Isometry, by: Point) -> Isometry:
    return Isometry(m.a, m.b, m.tx + by[0], m.c, m.d, m.ty + by[1])


def model(*panels: Panel, captions: tuple[str, ...] = (), finished: State | None = None) -> Model:
    """A model with one step a panel; the last state is the finished one unless another is given."""
    last = finished or panels[-1].state
    steps = tuple(
        Step(
            k + 1,
            captions[k] if k < len(captions) else f"Caption {k + 1}.",
            (),
            (),
            (panel,),
            panel.state,
            last,
            Span(0, 0),
        )
        for k, panel in enumerate(panels)
    )
    return Model("sample", "Sample", "traditional", "", "", "en", "", "", SQUARE, square(), steps)


def upright_line(x: float) -> Line:
    return line_through((x, 0.0), (x, 1.0))
