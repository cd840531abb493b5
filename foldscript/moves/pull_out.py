"""Pull out: a layer that is trapped comes to the front, or out from where it was folded in.

In: a `Request` that names a point of the layer. Out: the paper as it lies, with that layer (and what
has to go along) as far to the front as its joints allow, in front of the layer named with `over`, but not
of that named with `under`.
With words that fix a fold line, the flap swings out about that line, which must be a fold already; a corner
that is held by a second folded edge takes the paper there along (`corner_out`).
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry.lines import flipped, mirrored, on_line, signed_distance
from ..languages.levels import Level
from ..languages.wording import Phrase, phrase
from ..paper.flap import Blocked, Flap, sheet_segments
from ..paper.layers import Collision
from ..paper.refold import with_creases_of
from ..paper.seams import remainder
from ..paper.signs import Arrow, Sense
from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, write
from .planning.corner_out import corner_out
from .planning.doubled import comes_out_doubled
from .planning.fingers import OneFold, Several
from .planning.fold_claims import lands
from .planning.fold_clauses import WORDS
from .planning.held_by import holding
from .planning.layering import Goal, fold_between
from .planning.request import Each, LineValue, Move, Outcome, PointValue, Remark, Request
from .planning.single_fold import arrow_of, choose, outcome
from .planning.to_front import to_front

VERB = "pull out"
FORMS = (
    f"{VERB} A",
    f"{VERB} A over B",
    f"{VERB} A under B",
    f"{VERB} A along k",
    f"{VERB} A to P",
)

#: Why a flap cannot swing out alone; a corner may take along what holds it then.
HELD = ("layers-collide", "blocked", "no-fold-there")


def make(request: Request) -> Outcome:
    """Brings the layer to the front, or swings the flap out."""
    request.allow(*WORDS, "over", "under")
    if all(c.word in ("", "over", "under") for c in request.clauses):
        return to_front(request)
    return _swing_out(request)


def _swing_out(request: Request) -> Outcome:
    try:
        return _swung_out(request)
    except Refusal as refusal:
        out = _corner_out(request) if refusal.code in HELD else None
        if out is None:
            told = _turned_hint(request, refusal)
            raise (_held_hints(request, told) if told.code == "no-fold-there" else told) from None
        return out


def _held_hints(request: Request, refusal: Refusal) -> Refusal:
    """The same refusal, with the folds that hold the flap: first those along which it comes out."""
    corner, along = _corner_and_line(request)
    if corner is None or along is None:
        return refusal
    opens: list[str] = []
    others: list[str] = []
    for held in holding(request, corner):
        line = LineValue(
            held.line, held.fold, held.facets, along.words, along.span, creases=held.creases
        )
        clauses = tuple(
            replace(c, values=(line,)) if c.word == "along" else c for c in request.clauses
        )
        if held.words and _comes_out(replace(request, clauses=clauses)):
            opens.append(held.words)
        else:
            others.append(held.told(request))
    hints: list[Hint] = []
    for words in opens[:3]:
        text = f"along '{words}' it comes out" if not hints else f"or along '{words}'"
        hints.append(write(along.span, words, text))
    if not hints and others:
        folds = " and ".join(others[:3])
        hints.append(Hint(f"what holds it is {folds}: open that first"))
    return refusal.with_hints(*(hints or refusal.hints))


def _comes_out(request: Request) -> bool:
    try:
        _swung_out(request)
    except (Refusal, Collision, Blocked):
        return _corner_out(request) is not None
    return True


def _turned_hint(request: Request, refusal: Refusal) -> Refusal:
    """The same refusal; where a doubled flap would come out inside out, with the words for that."""
    corner, line = _corner_and_line(request)
    if corner is None or line is None:
        return refusal
    facing = line.line if signed_distance(line.line, corner.at) > 0 else flipped(line.line)
    if not comes_out_doubled(request.state, corner.facets, facing):
        return refusal
    name = corner.words.render()
    hint = f"this flap comes out with its inner side outside: turn inside out {name} along ..."
    return refusal.with_hints(hint, *refusal.hints)


def _corner_and_line(request: Request) -> tuple[PointValue | None, LineValue | None]:
    """The words of 'pull out A along k'; None for other words."""
    head, along = request.clause(""), request.clause("along")
    if len(request.clauses) != 2 or head is None or along is None:
        return None, None
    if len(head.values) != 1 or len(along.values) != 1:
        return None, None
    corner, line = head.values[0], along.values[0]
    if not isinstance(corner, PointValue) or not isinstance(line, LineValue):
        return None, None
    return (None, None) if on_line(line.line, corner.at) else (corner, line)


def _corner_out(request: Request) -> Outcome | None:
    """'pull out A along k' where a second folded edge holds the corner; None for other words."""
    corner, line = _corner_and_line(request)
    if corner is None or line is None:
        return None
    try:
        opened = corner_out(request, corner, line.line)
    except Refusal:
        return None
    if opened is None:
        return None
    return Outcome(
        opened.after,
        (*opened.lines, Arrow("pull-out", corner.at, mirrored(line.line, corner.at))),
        phrase(
            "Pull out {what} {where}.",
            what=corner.words,
            where=phrase("along {line}", line=line.words),
        ),
        creases=opened.creases,
        folded=True,
        letters=(*(((corner.letter, corner.at),) if corner.letter else ()), *line.letters),
        claims=(lands(request.state, corner, mirrored(line.line, corner.at)),),
    )


def _swung_out(request: Request) -> Outcome:
    def carry(state: State, moving: Flap, sense: Sense) -> State:
        folds = [j.segment for j in state.joints if j.folded]
        if remainder(sheet_segments(state, moving.creases), folds):
            raise Refusal(
                "no-fold-there",
                "pulling out opens a fold, and along that line the paper is not folded",
                "name the fold that holds the flap in",
                span=request.span,
            )
        return with_creases_of(state, fold_between(state, moving, None, Goal()).after)

    fold, _ = choose(request, Sense.VALLEY, need_side=True, carry=carry, alone=True)
    what, where = fold.alignment.what, fold.alignment.where
    wording = (
        phrase("Pull out {what} {where}.", what=what, where=where)
        if what is not None
        else phrase("Pull out the flap {where}.", where=where)
    )
    done = outcome(request, fold, (arrow_of(fold, "pull-out"),), wording)
    return replace(done, remarks=(*done.remarks, *_lying_free(request, fold.flap)))


def _lying_free(request: Request, flap: Flap) -> tuple[Remark, ...]:
    """A remark for a flap that no layer holds in: nothing lies over it on one side, so it only opens."""
    state, moving = request.state, set(flap.facets)
    others = [(i, k) for i in moving for k in state.neighbours[i] - moving]
    if all(
        any(state.above(*pair) for pair in pairs) for pairs in (others, [(k, i) for i, k in others])
    ):
        return ()
    return (
        Remark(
            "not-trapped",
            "nothing lies over this flap, so it is only opened, and nothing is pulled out",
            ("say 'unfold' and the name of the fold, or name the layer that is trapped",),
        ),
    )


MOVE = Move(
    VERB,
    "bring a trapped layer to the front, or a folded-in flap out",
    FORMS,
    make,
    by_sight=(f"{VERB} {{corner}}",),
    each=Each(),
    level=Level.LOW_INTERMEDIATE,
    fingers=OneFold(
        first=Phrase("This paper is pulled out from between other layers."),
        last=Phrase("Lay it flat."),
        several=Several(
            Phrase(
                "Now paper is pulled out from between other layers: hold the rest with one hand, "
                "take the hidden layer with the other, draw it out and lay it flat."
            ),
            slipped=Phrase(
                "Now a layer is drawn out from under what lies over it, and laid on top of that. "
                "Nothing is folded anew."
            ),
        ),
    ),
)
