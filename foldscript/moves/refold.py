"""Refold: what was unfolded is folded again as it was, along its own creases; no new crease is made."""

from __future__ import annotations

from ..geometry import polygons
from ..geometry.isometries import Isometry, inverse
from ..geometry.lines import Segment, distance, flipped, midpoint, signed_distance
from ..geometry.tolerance import EPS
from ..languages.wording import Phrase, phrase
from ..paper.flap import flap, sheet_segments
from ..paper.parting import as_cut
from ..paper.refold import with_creases_of
from ..paper.seams import remainder
from ..paper.signs import Arrow, FoldLine, Sense, Sign
from ..paper.state import State
from ..source.diagnostics import Refusal
from .planning.claims import Folds, LiesAs, Moves
from .planning.creasing import fronts_meet
from .planning.fingers import PRESSED, Several
from .planning.looking_back import crease_now, is_fold_along, journeys, lies_as, turn_of
from .planning.request import Each, LineValue, Move, MoveRecord, Outcome, Request
from .planning.single_fold import folded

FORMS = ("refold", "refold k")


def make(request: Request) -> Outcome:
    """Folds again what the last unfolding opened, or the fold that a name stands for."""
    request.allow("", "along")
    values = [v for c in request.clauses for v in c.values]
    if not values:
        return _last(request)
    value = values[0]
    if len(values) != 1 or not isinstance(value, LineValue) or not (value.name or value.creases):
        raise Refusal(
            "refold-what",
            "say which fold to fold again",
            "give the fold a name with 'as k', then write 'refold k'",
            "or write 'refold' for what was unfolded last",
            "for a crease as in 'crease A to C as k' say 'valley along k, moving A'",
            span=value.span,
        )
    return _named(request, value)


def _last(request: Request) -> Outcome:
    """The last unfolding taken back, as long as the paper lies as it left it."""
    for k in reversed(range(len(request.history))):
        record = request.history[k]
        if not record.undid:
            continue
        turn = turn_of(request.history[k + 1 :])
        if not lies_as(request.state, as_cut(record.after, request.state).moved(turn)):
            break
        folds = tuple(request.history[i] for i in record.undid)
        words = phrase("Refold what was unfolded in step {n}.", n=str(record.step))
        if len(folds) == 1:
            words = Phrase("Refold.")
        return _as_before(request, folds, record.before, turn, words)
    raise Refusal(
        "nothing-to-refold",
        "nothing has been unfolded that could be folded again as it was",
        "name the fold: 'refold k'",
        "or fold along the crease: 'valley along k, moving A'",
        span=request.span,
    )


def _named(request: Request, value: LineValue) -> Outcome:
    found = [k for k, record in enumerate(request.history) if is_fold_along(record, value)]
    if not found:
        raise Refusal(
            "not-a-fold",
            f"{value.words.render()} is a crease, not a fold that was unfolded",
            f"say on which side it folds: 'valley along {value.name or 'k'}, moving A'",
            span=value.span,
        )
    if any(not request.history[k].undone for k in found):
        raise Refusal(
            "folded-already",
            f"{value.words.render()} is folded already",
            "name a fold that has been unfolded",
            span=value.span,
        )
    fold = request.history[found[-1]]
    words = phrase("Refold along {line}.", line=value.words)
    for earlier, later, since in _before_and_after(request, found[-1]):
        turn = turn_of(request.history[since:])
        if lies_as(request.state, as_cut(earlier, request.state).moved(turn)):
            return _as_before(request, (fold,), later, turn, words)
    return _single(request, value, fold, words)


def _before_and_after(request: Request, index: int) -> list[tuple[State, State, int]]:
    """How the paper lay where a fold was unfolded, and where it was made; how it lay folded; since when."""
    fold = request.history[index]
    ways = [
        (record.after, record.before, k + 1)
        for k, record in enumerate(request.history)
        if record.undid == (index,)
    ]
    return [*ways[::-1], (fold.before, fold.after, index + 1)]


def _as_before(
    request: Request, folds: tuple[MoveRecord, ...], goal: State, turn: Isometry, words: Phrase
) -> Outcome:
    """The paper as it lay when these folds stood, turned as the whole model has been turned since."""
    goal = as_cut(goal, request.state)
    target = goal.moved(turn)
    after = with_creases_of(request.state, target)
    return _outcome(request, folds, after, words, LiesAs(goal, turn))


def _single(request: Request, value: LineValue, fold: MoveRecord, words: Phrase) -> Outcome:
    """One fold about one line, on paper that has been folded otherwise since."""
    state = request.state
    line, sense = crease_now(state, fold), _sense_now(state, fold)
    seeds = sorted({i for p in fold.moved for i in state.facets_on_sheet(p)})
    if line is None or sense is None or not seeds:
        raise _bent(value)
    away = signed_distance(line, state.where(fold.moved[0]))
    moving = flap(state, line if away > 0 else flipped(line), seeds)
    bends = sheet_segments(state, moving.creases)
    new = [
        *remainder(bends, [*state.creases, *fold.creases]),
        *remainder(state.on_paper(fold.creases), bends),
    ]
    if any(distance(*segment) > EPS for segment in new):
        raise _bent(value)
    after = folded(request, moving, sense)
    return _outcome(request, (fold,), after, words, Folds(tuple(state.on_paper(fold.creases))))


def _bent(value: LineValue) -> Refusal:
    along = value.name or "k"
    return Refusal(
        "folded-otherwise",
        f"the paper along {value.words.render()} lies otherwise than when it was folded: it cannot fold "
        "there as it did",
        f"say how it folds now: 'valley along {along}, moving A', 'mountain along {along}, moving A'",
        "or unfold first what has been folded since",
        span=value.span,
    )


def _sense_now(state: State, fold: MoveRecord) -> Sense | None:
    """Valley or mountain, as the paper that stayed is seen now; None where layers of it differ."""
    senses: set[Sense] = set()
    for segment in fold.creases:
        spot = midpoint(*segment)
        meet = fronts_meet(fold.after, spot)
        senses |= {
            Sense.VALLEY if meet == state.facets[i].shows_front else Sense.MOUNTAIN
            for i in state.facets_on_sheet(spot)
        }
    return senses.pop() if len(senses) == 1 else None


def _outcome(
    request: Request,
    folds: tuple[MoveRecord, ...],
    after: State,
    words: Phrase,
    claim: LiesAs | Folds,
) -> Outcome:
    creases = tuple(dict.fromkeys(s for fold in folds for s in fold.creases))
    moved = tuple(p for fold in folds for p in fold.moved)
    lines = _lines(request.state, after)
    arrows = _arrows(request.state, after, lines)
    return Outcome(
        after,
        (*lines, *arrows),
        words,
        creases=creases,
        moved=moved,
        folded=True,
        claims=(claim, *((Moves(moved),) if moved else ())),
        fingers=PRESSED if len(lines) == len(arrows) == 1 else None,
    )


def _lines(state: State, after: State) -> tuple[FoldLine, ...]:
    """What folds that lay flat, as the reader sees each layer before."""
    was, now = ([j.segment for j in s.joints if j.folded] for s in (state, after))
    rows: dict[Sense, list[tuple[int, Segment]]] = {Sense.VALLEY: [], Sense.MOUNTAIN: []}
    for segment in remainder(now, was):
        meet = fronts_meet(after, midpoint(*segment))
        for i, facet in enumerate(state.facets):
            piece = polygons.clip_segment(facet.outline, segment)
            if piece is None or distance(*piece) <= EPS:
                continue
            sense = Sense.VALLEY if meet == facet.shows_front else Sense.MOUNTAIN
            part = (i, (facet.place(piece[0]), facet.place(piece[1])))
            rows[sense].append(part)
    return tuple(FoldLine(sense, tuple(parts)) for sense, parts in rows.items() if parts)


def _arrows(state: State, after: State, lines: tuple[FoldLine, ...]) -> tuple[Sign, ...]:
    """Where the paper goes: to the front where it comes to lie on top, else behind."""
    senses = {line.sense for line in lines}
    found: list[Sign] = []
    for tail, head in journeys(state, after):
        sheets = {inverse(state.facets[i].place)(tail) for i in state.facets_at(tail)}
        top = after.facets_at(head)[0]
        on_top = any(distance(after.facets[top].place(p), head) <= EPS for p in sheets)
        sense = Sense.VALLEY if on_top else Sense.MOUNTAIN
        if len(senses) == 1:
            (sense,) = senses
        found.append(Arrow(sense.value, tail, head))
    return tuple(found)


MOVE = Move(
    "refold",
    "fold again as before, along creases that are there",
    FORMS,
    make,
    each=Each(),
    advice="'refold' folds again what was unfolded last, 'refold k' the fold of a name",
    whole_folds=True,
    fingers=Several(
        Phrase("Fold again what was unfolded, along the same creases. No new crease is made."),
    ),
)
