"""Mark: give a name to a point of the paper."""

from __future__ import annotations

from ..paper.signs import EqualLengths
from ..source.diagnostics import Refusal
from .planning.claims import NothingMoves
from .planning.fingers import Still
from .planning.fold_clauses import as_point
from .planning.request import Move, Outcome, PointValue, Request


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
        raise Refusal(
            "off-the-paper",
            f"{point.words.render()} is not on the paper",
            "choose a point that lies on the paper now",
            span=point.span,
        )
    return Outcome(
        request.state,
        (EqualLengths(point.parts),) if point.parts else (),
        None,
        points=((request.new_name, point.sheet),),
        letters=((request.new_name, point.at),),
        claims=(NothingMoves(),),
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
