"""Mark: give a name to a point of the paper."""

from __future__ import annotations

from ..geometry.isometries import inverse
from ..geometry.tolerance import same_point
from ..paper.heaps import on_top
from ..source.diagnostics import Refusal
from .planning.claims import NothingMoves
from .planning.fingers import Still
from .planning.fold_clauses import as_point
from .planning.off_paper import off_the_paper
from .planning.request import Move, Outcome, PointValue, Remark, Request


def make(request: Request) -> Outcome:
    """Names the place on the sheet that now lies at the point."""
    request.allow("", "at")
    values = [v for c in request.clauses for v in c.values]
    if len(values) != 1:
        raise Refusal(
            "mark-what",
            "say which point gets the name",
            "for instance: mark M at midpoint of A B",
            span=request.span,
        )
    point: PointValue = as_point(values[0])
    if point.sheet is None:
        raise off_the_paper(request, point)
    return Outcome(
        request.state,
        (),
        None,
        points=((request.new_name, point.sheet),),
        letters=((request.new_name, point.at),),
        remarks=_named_already(request, point),
        claims=(NothingMoves(),),
    )


def _named_already(request: Request, point: PointValue) -> tuple[Remark, ...]:
    """Two names for one place where another layer may be meant: its place would be another one."""
    assert point.sheet is not None
    state, corners = request.state, request.state.sheet.corner_names
    twin = next(
        (
            name
            for name, at in request.points.items()
            if name not in corners and same_point(at, point.sheet)
        ),
        "",
    )
    layers = [inverse(state.facets[i].place)(point.at) for i in state.facets_at(point.at)]
    if point.letter or not twin or all(same_point(at, point.sheet) for at in layers):
        return ()
    heap = on_top(state, request.points, point.at)
    return (
        Remark(
            "same-place",
            f"'{request.new_name}' is the same place on the same layer as '{twin}'; more layers lie there"
            f"{f', {heap}' if heap else ''}",
            (
                f"for another layer say 'mark {request.new_name} at second layer at {twin}', or "
                f"'bottom layer at {twin}'",
                f"or leave this out, and say '{twin}' for it",
            ),
        ),
    )


MOVE = Move(
    "mark",
    "name a point of the paper",
    ("mark M at midpoint of A B", "mark M at 2 cm from A on edge A B", "mark O where d1 meets d2"),
    make,
    advice="the name comes first: 'mark M at midpoint of A B'",
    names_first=True,
    flat=False,
    folds=False,
    fingers=Still(),
)
