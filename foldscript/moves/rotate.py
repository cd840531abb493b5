"""Rotate: the whole model is turned in its plane."""

from __future__ import annotations

import math

from ..geometry.isometries import rotation
from ..geometry.tolerance import is_zero
from ..languages.wording import Number, Phrase, Template, phrase
from ..paper.signs import Rotate
from ..paper.silhouette import centre
from ..source.diagnostics import Refusal, add, write
from .planning.claims import Carried
from .planning.fingers import Still
from .planning.request import Move, Outcome, Quantity, Request

NAMED = {"quarter turn": 90.0, "half turn": 180.0}
_PARTS = {0.25: "quarter turn", 0.5: "half turn", 0.125: "45 degrees"}
FRACTIONS: dict[int, Template] = {
    45: "an eighth of a turn",
    90: "a quarter turn",
    135: "three eighths of a turn",
    180: "half a turn",
}


def make(request: Request) -> Outcome:
    """Turns the model by an amount; clockwise unless 'anticlockwise' is said."""
    request.allow("", "by", "clockwise", "anticlockwise", *NAMED)
    degrees: float | None = None
    for clause in request.clauses:
        if clause.word in NAMED:
            degrees = NAMED[clause.word]
        for value in clause.values:
            if not isinstance(value, Quantity) or value.unit not in ("degrees", ""):
                raise Refusal("turn-by", "say by how many degrees", span=value.span)
            part = _PARTS.get(value.value) if not value.unit else None
            if not value.unit and 0 < value.value < 1:
                raise Refusal(
                    "turn-by",
                    "say by how many degrees, or a half, a quarter or an eighth of a turn",
                    *([write(value.span, part, f"say '{part}'")] if part else ()),
                    span=value.span,
                )
            degrees = value.value
    if degrees is None or is_zero(degrees % 360):
        raise Refusal(
            "turn-by",
            "say how far to turn",
            "for instance: rotate 90 degrees clockwise",
            span=request.span,
        )
    half = is_zero(degrees % 360 - 180)
    said = request.clause("clockwise", "anticlockwise")
    if said is None and not half:
        raise Refusal(
            "turn-by",
            "say which way to turn",
            add(request.span, "clockwise"),
            add(request.span, "anticlockwise", "or add 'anticlockwise'"),
            span=request.span,
        )
    against = said is not None and said.word == "anticlockwise"
    angle = degrees if against else -degrees
    motion = rotation(math.radians(angle), centre(request.state))
    amount = FRACTIONS.get(round(degrees)) if is_zero(degrees - round(degrees)) else None
    amount_words = Phrase(amount) if amount else phrase("{n} degrees", n=Number(f"{degrees:g}"))
    template = "Rotate the model {amount}."
    if not half:
        template = (
            "Rotate the model {amount} anticlockwise."
            if against
            else "Rotate the model {amount} clockwise."
        )
    return Outcome(
        request.state.moved(motion),
        (Rotate(angle),),
        phrase(template, amount=amount_words),
        turn=motion,
        claims=(Carried(motion),),
    )


MOVE = Move(
    "rotate",
    "turn the whole model in its plane",
    ("rotate 45 degrees clockwise", "rotate quarter turn anticlockwise", "rotate half turn"),
    make,
    advice="say 'rotate 90 degrees clockwise', or 'rotate quarter turn anticlockwise'",
    flat=False,
    folds=False,
    fingers=Still(),
)
