"""Turn over: the whole model is turned to its other side."""

from __future__ import annotations

from ..geometry.isometries import reflection
from ..geometry.lines import Line
from ..languages.wording import Phrase
from ..paper.signs import TurnOver
from ..paper.silhouette import centre, over_side_to_side
from .planning.claims import Carried
from .planning.fingers import Still
from .planning.request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Turns the model over, side to side unless 'top to bottom' is said."""
    request.allow("side to side", "top to bottom")
    side = request.clause("top to bottom") is None
    upside_down = reflection(Line(0.0, 1.0, centre(request.state)[1]))
    motion = over_side_to_side(request.state) if side else upside_down
    words = (
        Phrase("Turn over from side to side.") if side else Phrase("Turn over from top to bottom.")
    )
    after = request.state.moved(motion)
    return Outcome(after, (TurnOver(side),), words, turn=motion, claims=(Carried(motion),))


MOVE = Move(
    "turn over",
    "turn the whole model to its other side",
    ("turn over", "turn over side to side", "turn over top to bottom"),
    make,
    advice="say 'turn over' or 'turn over side to side', or 'turn over top to bottom'",
    flat=False,
    folds=False,
    fingers=Still(),
)
