"""Valley fold: a flap is folded over in front."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..geometry.tolerance import same_point
from ..languages.wording import Phrase, Template, phrase, plural
from ..paper.signs import Sense
from ..source.diagnostics import Refusal
from .planning import called
from .planning.fingers import OPENED, PRESSED
from .planning.fold_clauses import PLACES
from .planning.looking_back import laid_flat
from .planning.one_side import SingleFold
from .planning.request import Each, Move, Outcome, Request
from .planning.single_fold import arrow_of, choose, fold_signs, outcome
from .tuck import hinted

#: Landing somewhere above, below, beside, or near where it was; along a line.
LANDING: tuple[Template, Template, Template, Template] = (
    "Fold {what} up {where}{layers}.",
    "Fold {what} down {where}{layers}.",
    "Fold {what} over {where}{layers}.",
    "Fold {what} over {where}{layers}.",
)


def layered(fold: SingleFold, *, behind: bool = False) -> Phrase:
    """', all layers together' and such; empty for the smallest flap."""
    if fold.layers is None:
        return Phrase("")
    if fold.layers == 0:
        return Phrase(", all layers together")
    if fold.one_flap and fold.layers > 1:
        return Phrase(", back flap only" if behind else ", front flap only")
    if behind:
        return plural(", back layer only", ", the {n} layers at the back together", fold.layers)
    return plural(", front layer only", ", the {n} layers in front together", fold.layers)


def heading(fold: SingleFold) -> int:
    """Where the flap goes on the page: 0 up, 1 down, 2 to a side."""
    arrow = arrow_of(fold, "valley")
    x, y = (b - a for a, b in zip(arrow.tail, arrow.head, strict=True))
    return 2 if abs(y) < 1.5 * abs(x) else 0 if y > 0 else 1


def sentence(
    fold: SingleFold, landing: Sequence[Template], *, behind: bool = False, what: Template
) -> Phrase:
    """Caption of a fold that goes up, down or aside to where it lands, or that goes along a line.

    The four templates have holes {what}, {where} and {layers}; `what` is said where nothing is named.
    """
    one = fold.alignment
    template = landing[3 if one.free else heading(fold)]
    layers = layered(fold, behind=behind)
    told = phrase(template, what=one.what or Phrase(what), where=one.where, layers=layers)
    if one.free or one.what is None:
        return told
    alike = phrase(
        landing[2], what=_moved_corner(fold) or one.what, where=one.onto or one.where, layers=layers
    )
    return replace(told, alike=alike)


def _moved_corner(fold: SingleFold) -> Phrase | None:
    """The one corner of the sheet that moves with a line; None where no line moves."""
    one, names = fold.alignment, fold.after.sheet.corner_names
    if one.edge is None:
        return None
    p, q = one.edge
    moved = [
        name
        for name, at in one.letters
        if name in names and (same_point(at, p) or same_point(at, q))
    ]
    return called.corner(moved[0]) if len(moved) == 1 else None


def make(request: Request) -> Outcome:
    """Folds the flap in front of the paper."""
    try:
        fold, _ = choose(request, Sense.VALLEY, need_side=True)
    except Refusal as refusal:
        raise hinted(request, refusal, Sense.VALLEY) from None
    return folded(request, fold, Sense.VALLEY, sentence(fold, LANDING, what="the flap"))


def folded(request: Request, fold: SingleFold, sense: Sense, words: Phrase) -> Outcome:
    """What a fold has done that stays folded, or that only opens what was folded before."""
    line, arrow = fold_signs(request.state, fold, sense)
    if not line.opens:
        return outcome(request, fold, (line, arrow), words)
    words = _opening(fold, behind=sense is Sense.MOUNTAIN)
    opened = outcome(request, fold, (line, arrow), words, OPENED)
    return replace(opened, folded=False, undoes=laid_flat(request.history, fold.after))


def _opening(fold: SingleFold, *, behind: bool) -> Phrase:
    """Caption of a fold that opens; a crease that it runs along need not be told then."""
    one = fold.alignment
    what, layers = one.what or Phrase("the flap"), layered(fold, behind=behind)
    if one.free:
        return phrase("Unfold {what}{layers}.", what=what, layers=layers)
    return phrase("Unfold {what} {where}{layers}.", what=what, where=one.where, layers=layers)


MOVE = Move(
    "valley",
    "fold a flap over in front",
    tuple(form.format(verb="valley") for form in PLACES),
    make,
    each=Each(("", "moving")),
    fingers=PRESSED,
    side="in front",
)
