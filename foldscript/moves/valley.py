"""Valley fold: a flap is folded over in front."""

from __future__ import annotations

from ..paper.flap import sheet_segments
from ..paper.signs import Act, Sense
from ..wording import Phrase, phrase
from .request import Move, Outcome, Request
from .simple import SimpleFold, arrow_of, choose, fold_line, moved_points
from .words import PLACES


def layered(fold: SimpleFold) -> Phrase:
    """', through all layers' and such; empty for the smallest flap."""
    if fold.layers is None:
        return Phrase("")
    if fold.layers == 0:
        return Phrase(", all layers together")
    if fold.layers == 1:
        return Phrase(", the first layer only")
    return phrase(", {n} layers together", n=str(fold.layers))


def sentence(fold: SimpleFold, landing: str, along: str, what: str) -> Phrase:
    """Caption of a fold, for folds that say where paper lands and for those that give a line.

    The templates have holes {what}, {where} and {layers}; `what` is said where nothing is named.
    """
    one = fold.alignment
    verb = along if one.free else landing
    return phrase(verb, what=one.what or Phrase(what), where=one.where, layers=layered(fold))


def make(request: Request) -> Outcome:
    """Folds the flap in front of the paper."""
    fold, _ = choose(request, Sense.VALLEY, need_side=True)
    return Outcome(
        after=fold.after,
        signs=(fold_line(fold, Sense.VALLEY), arrow_of(fold, Act.VALLEY), *fold.alignment.signs),
        wording=sentence(
            fold,
            "Fold {what} {where}{layers}.",
            "Fold {what} over {where}{layers}.",
            "the flap",
        ),
        creases=tuple(sheet_segments(request.state, fold.flap.creases)),
        moved=moved_points(request, fold.flap),
        folded=True,
        letters=fold.alignment.letters,
    )


MOVE = Move(
    "valley",
    "fold a flap over in front",
    tuple(form.format(verb="valley") for form in PLACES),
    make,
)
