"""Mountain fold: a flap is folded away behind."""

from __future__ import annotations

from ..languages.wording import Template
from ..paper.signs import Sense
from ..source.diagnostics import Refusal
from .planning.fingers import PRESSED
from .planning.fold_clauses import PLACES
from .planning.request import Each, Move, Outcome, Request
from .planning.single_fold import choose
from .tuck import hinted
from .valley import folded, sentence

#: As in a valley fold: a flap that lands above, below, beside; along a line.
LANDING: tuple[Template, Template, Template, Template] = (
    "Fold {what} behind, up {where}{layers}.",
    "Fold {what} behind, down {where}{layers}.",
    "Fold {what} behind, {where}{layers}.",
    "Fold {what} behind {where}{layers}.",
)


def make(request: Request) -> Outcome:
    """Folds the flap behind the paper."""
    try:
        fold, _ = choose(request, Sense.MOUNTAIN, need_side=True)
    except Refusal as refusal:
        raise hinted(request, refusal, Sense.MOUNTAIN) from None
    words = sentence(fold, LANDING, behind=True, what="the flap")
    return folded(request, fold, Sense.MOUNTAIN, words)


MOVE = Move(
    "mountain",
    "fold a flap away behind",
    tuple(form.format(verb="mountain") for form in PLACES),
    make,
    each=Each(("", "moving")),
    fingers=PRESSED,
    side="behind",
)
