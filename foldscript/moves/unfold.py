"""Unfold: the last fold, a named one, or back to how the paper lay after a step. Creases stay."""

from __future__ import annotations

from ..geometry import polygons
from ..geometry.lines import flipped, on_line, signed_distance
from ..languages.wording import Phrase, phrase
from ..paper.flap import flap, fold_flap
from ..paper.parting import as_cut
from ..paper.refold import with_creases_of
from ..paper.signs import Arrow, Opened, Sense, Sign
from ..paper.state import State
from ..paper.too_near import TooNear
from ..source.diagnostics import Hint, Refusal, write
from .planning.claims import LiesAs, Moves
from .planning.fingers import OPENED
from .planning.looking_back import crease_now, is_fold_along, journeys, turn_of
from .planning.request import Each, LineValue, Move, MoveRecord, Outcome, Request, Steps


def make(request: Request) -> Outcome:
    """Lays paper back; what was folded stays as a crease."""
    request.allow("", "to")
    goal = request.clause("to")
    if goal is not None:
        return _to_step(request)
    values = [v for c in request.clauses for v in c.values]
    if not values:
        standing = [
            k for k, record in enumerate(request.history) if record.folded and not record.undone
        ]
        if not standing:
            raise _nothing_folded(request, "nothing is folded now")
        _still_folded(request)
        return _taken_back(request, standing[-1], Phrase("Unfold."))
    value = values[0]
    if len(values) != 1 or not isinstance(value, LineValue) or not value.name:
        raise Refusal(
            "unfold-what",
            "say which fold to undo",
            "give the fold a name with 'as k', then write 'unfold k'",
            "or write 'unfold' for the last fold, 'unfold to step 3' to go back that far",
            span=value.span,
        )
    return _named(request, value)


def _to_step(request: Request) -> Outcome:
    values = [v for c in request.clauses for v in c.values]
    if len(values) != 1 or not isinstance(values[0], Steps) or values[0].first != values[0].last:
        raise Refusal(
            "unfold-what", "say the step", "for instance: unfold to step 3", span=request.span
        )
    number = values[0].first
    if 0 < number < request.first_step - 1:
        raise Refusal(
            "step-of-another-part",
            f"step {number} belongs to another part of the script, and to another sheet",
            "say 'unfold to step 0' to open everything that was folded in this part",
            span=values[0].span,
        )
    if not 0 <= number < len(request.step_ends):
        raise Refusal(
            "no-such-step",
            f"there is no finished step {number} to go back to",
            write(
                values[0].span,
                f"step {len(request.step_ends) - 1}",
                f"the last finished step is {len(request.step_ends) - 1}",
            ),
            span=values[0].span,
        )
    _, records = request.step_ends[number]
    undoes = tuple(
        k for k, d in enumerate(request.history) if k >= records and d.folded and not d.undone
    )
    based = number == 0 and any(d.folded and not d.undone for d in request.history[:records])
    if not undoes:
        raise _nothing_folded(
            request,
            "nothing has been folded since step 0, which is the base as it lies at the start"
            if based
            else f"nothing is folded that step {number} had not folded already",
        )
    words = phrase("Unfold until the paper lies as it did after step {n}.", n=str(number))
    if based:
        words = phrase("Unfold all that was folded from step {n} on.", n=str(request.first_step))
    elif number == 0:
        words = Phrase("Unfold everything.")
    earlier = request.step_ends[number][0]
    return _restore(request, earlier, records, undoes, words)


def _nothing_folded(request: Request, message: str) -> Refusal:
    """Nothing to take back, at all or since a step; a crease is laid back as soon as it is made."""
    standing = any(record.folded and not record.undone for record in request.history)
    made = next((r for r in reversed(request.history) if r.folded or r.creases), None)
    hints: list[str | Hint] = ["leave this line out, and its step too where it says no more"]
    if standing:
        first = "to open the last fold, say 'unfold'"
        hints.insert(0, write(request.span, "unfold", first))
    elif made is not None and made.move is not None and not made.folded:
        verb = made.move.verb
        message = f"{message}: '{verb}' lays the paper back by itself, and leaves the crease"
    elif made is None:
        message = f"{message}: no fold has been made yet"
        hints = ["put this after the fold that it takes back", *hints]
    else:
        message = f"{message}: the paper lies open, with its creases"
        hints.append("to fold again what was unfolded, say 'refold'")
    return Refusal("nothing-folded", message, *hints, span=request.span)


def _still_folded(request: Request) -> None:
    """Refuses to open what scissors have parted from what it was folded on: one layer is left."""
    state = request.state
    if len(state.sheet.all) == 1 and not any(joint.folded for joint in state.joints):
        cut = next((r for r in reversed(request.history) if r.move and r.move.verb == "cut"), None)
        where = f" by the cut of step {cut.step}" if cut is not None and cut.step else ""
        raise Refusal(
            "nothing-folded",
            f"nothing is folded now: what was folded has been parted from the rest{where}",
            "cut along another line, if a fold was to stay",
            "or leave this line out, and its step too where it says no more",
            span=request.span,
        )


def _back_before(request: Request, index: int, undoes: tuple[int, ...], words: Phrase) -> Outcome:
    return _restore(request, request.history[index].before, index + 1, undoes, words)


def _restore(
    request: Request, earlier: State, since: int, undoes: tuple[int, ...], words: Phrase
) -> Outcome:
    """The paper as it lay, turned as the whole model has been turned since; what was cut stays cut."""
    turn = turn_of(request.history[since:])
    if len(request.state.sheet.all) != len(earlier.sheet.all):
        raise Refusal(
            "placed-since",
            "a unit has been placed since then: it would stay where it is",
            "unfold before the next unit is placed",
            span=request.span,
        )
    try:
        earlier = as_cut(earlier, request.state)
        target = with_creases_of(request.state, earlier.moved(turn))
    except TooNear as near:
        raise _cut_too_near(request, near) from None
    claims = (LiesAs(earlier, turn),)
    signs = _arrows(request.state, target, several=len(undoes) > 1)
    return Outcome(target, signs, words, undoes=undoes, claims=claims)


def _cut_too_near(request: Request, near: TooNear) -> Refusal:
    """A cut that left a sliver beside a crease, which only shows when the paper is laid open."""
    return Refusal(
        "too-near",
        f"a cut passes {near.miss_mm:.2g} mm beside a crease, and leaves a strip that no hand could open",
        "let the cut meet the crease: end it at a point that lies on it, or give its exact angle",
        "or keep it 0.1 mm away at least",
        span=request.span,
    )


def _arrows(now: State, then: State, *, several: bool = False) -> tuple[Sign, ...]:
    ways = journeys(now, then, apart=several)
    arrows = tuple(Arrow("unfold", tail, head) for tail, head in ways)
    if not several or not ways:
        return arrows
    return (*arrows, Opened(then.outlines, tuple(head for _, head in ways)))


def _named(request: Request, value: LineValue) -> Outcome:
    folds = [k for k, d in enumerate(request.history) if d.folded and is_fold_along(d, value)]
    standing = [k for k in folds if not request.history[k].undone]
    index = max(standing or folds, default=-1)
    if index < 0:
        raise Refusal(
            "not-a-fold",
            f"'{value.name}' is a crease, not a fold that stayed folded",
            "name a fold",
            span=value.span,
        )
    record = request.history[index]
    words = phrase("Unfold what was folded in step {n}.", n=str(record.step))
    if not record.step:  # in what the model starts from
        words = Phrase("Unfold.")
    if record.undone:
        raise Refusal("nothing-folded", f"'{value.name}' is unfolded already", span=value.span)
    _still_folded(request)
    return _taken_back(request, index, words, value)


def _taken_back(
    request: Request, index: int, words: Phrase, value: LineValue | None = None
) -> Outcome:
    """One fold undone: the paper as it lay before, or, where others were made or undone since, its flap
    swung back about the crease.
    """
    since = request.history[index + 1 :]
    made = any(d.folded and not d.undone for d in since)
    undone = any(k < index for d in since for k in d.undid)
    if not made and not undone:
        return _back_before(request, index, (index,), words)
    record = request.history[index]
    after = _reopened(request.state, record)
    if after is None:
        name = f"'{value.name}'" if value else f"what was folded in step {record.step}"
        raise Refusal(
            "folded-in",
            f"{name} cannot be unfolded alone: {'later folds hold it' if made else 'other paper is held'}",
            "unfold those first, or go back with 'unfold to step ...'",
            span=value.span if value else request.span,
        )
    claims = (Moves(record.moved),)
    return Outcome(after, _arrows(request.state, after), words, undoes=(index,), claims=claims)


def _reopened(state: State, record: MoveRecord) -> State | None:
    """The flap of a single fold swung back about its crease; None when it is held."""
    line = crease_now(state, record)
    if line is None or not record.moved:
        return None
    seeds = sorted({i for p in record.moved for i in state.facets_on_sheet(p)})
    if not seeds:
        return None
    middle = polygons.centroid(state.placed[seeds[0]])
    facing = line if signed_distance(line, middle) > 0 else flipped(line)
    joints = [
        (j.a, j.b) if j.a in seeds else (j.b, j.a)
        for j, seg in state.fold_segments
        if on_line(line, seg[0]) and on_line(line, seg[1]) and ((j.a in seeds) != (j.b in seeds))
    ]
    front = {bool(state.above(a, b)) for a, b in joints}
    if len(front) != 1:
        return None
    sense = Sense.VALLEY if front.pop() else Sense.MOUNTAIN
    after = fold_flap(state, flap(state, facing, seeds), sense)
    return with_creases_of(state, after)


MOVE = Move(
    "unfold",
    "lay paper back; the creases stay",
    ("unfold", "unfold k", "unfold to step 3"),
    make,
    each=Each(),
    advice="'unfold' takes the last fold back, 'unfold to step 0' everything, and with a name that fold",
    whole_folds=True,
    folds=False,
    fingers=OPENED,
)
