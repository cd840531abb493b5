"""Turn inside out: a doubled flap that lies folded in comes out, and what was its inner side is outside.

The tail of the goldfish. In: a point of the flap, and the fold along which it is held: all of it, or what a
cut has left of it. Its halves hang on the front and on the back of the model; each swings about the fold on
its own side of the other, so that the fold between them bends the other way. Out: the paper, that fold open.
"""

from __future__ import annotations

from ..geometry.lines import Line, flipped, mirrored, on_line, signed_distance
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.layers import Collision
from ..paper.signs import Arrow
from ..source.diagnostics import Refusal
from .planning.claims import Flat, OnlyBeyond
from .planning.doubled import Doubled, held_flap, turned_out
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_line, as_point
from .planning.in_the_way import collision_refusal
from .planning.request import LineValue, Move, Outcome, PointValue, Request

VERB = "turn inside out"
FORMS = (f"{VERB} A along line P Q", f"{VERB} A along k")


def make(request: Request) -> Outcome:
    """Turns the flap inside out."""
    p, value = _words(request)
    state = request.state
    line = value.line if signed_distance(value.line, p.at) > 0 else flipped(value.line)
    flap = _flap(request, p, line, value)
    try:
        after = turned_out(state, flap, line)
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    head = mirrored(line, p.at)
    where = phrase("along {line}", line=value.words)
    return Outcome(
        after,
        (Arrow("pull-out", p.at, head),),
        briefly(
            phrase(
                "Turn the flap with {what} inside out {where}: draw it out from between the layers, its "
                "front half to the front and its back half to the back, and press it flat.",
                what=p.words,
                where=where,
            ),
            phrase("Turn the flap with {what} inside out {where}.", what=p.words, where=where),
        ),
        folded=True,
        letters=(*(((p.letter, p.at),) if p.letter else ()), *value.letters),
        claims=(
            lands(state, p, head),
            OnlyBeyond((line,), mirrored=True),
            Flat(tuple(state.joints[k].segment for k in flap.hinge)),
        ),
    )


def _words(request: Request) -> tuple[PointValue, LineValue]:
    request.allow("", "along")
    head, along = request.clause(""), request.clause("along")
    if head is None or along is None or len(head.values) != 1 or len(along.values) != 1:
        raise Refusal(
            "turn-what",
            "say which flap is turned inside out, and along which fold",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    p, line = as_point(head.values[0]), as_line(along.values[0])
    if not p.facets:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=p.span)
    if on_line(line.line, p.at):
        raise Refusal(
            "point-on-line",
            f"{p.words.render()} lies on {line.words.render()}: it does not tell which flap turns",
            "name a point beside the line",
            span=p.span,
        )
    return p, line


def _flap(request: Request, p: PointValue, line: Line, value: LineValue) -> Doubled:
    """The flap that the point is on.

    Raises Refusal where other paper holds it too, it has no halves, or it is the larger part of the paper.
    """
    flap = held_flap(request.state, p.facets, line)
    name = p.words.render()
    if flap is None:
        raise Refusal(
            "no-fold-there",
            f"the paper with {name} is not held by folds along {value.words.render()} alone",
            "name the fold that holds the flap in; a cut along a part of it sets the flap free there",
            f"where the paper is to bend anew, say 'outside reverse {name} along ...'",
            span=value.span,
        )
    if not flap.is_doubled(request.state):
        raise Refusal(
            "no-halves",
            f"the flap with {name} has no front and back half with a fold between them, "
            "so it cannot be turned inside out",
            f"say 'pull out {name} along ...', or fold it over",
            span=p.span,
        )
    if not flap.is_flap(request.state):
        raise Refusal(
            "turns-most",
            f"more paper would turn than stays: {name} is on the larger part of the model",
            f"name a point of the flap, on the other side of {value.words.render()}",
            span=p.span,
        )
    return flap


MOVE = Move(
    VERB,
    "bring out a doubled flap that lies folded in, its inner side outside",
    FORMS,
    make,
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("Now a doubled flap that lies inside is turned inside out."),
        (
            Phrase(
                "Open the layers that it lies between. Draw the flap out, spread its two halves, and let "
                "them close again with what was inside now outside. Press it flat."
            ),
        ),
    ),
)
