"""The statement `repeat`: a step or a row of steps once more, somewhere else or said again.

    repeat step 3 behind                     on the hidden face, as if the model were turned over
    repeat steps 5 to 6 on the other side    left for right on the same face
    repeat step 1 on B and D                 on the flaps of these points
    repeat step 4, 3 times                   on the three other places like it
    repeat step 2 again, 2 times             the same words, on the paper as it lies now

All but the last go through the symmetries that the paper had before the steps (`candidates`): each
place meant is the image of the original under one of them (`destinations`), and every move is really
folded again there (`replaying`). In: the statement and the folding. Out: one `Outcome` for the figure.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...geometry.lines import Point
from ...moves.planning.request import Outcome
from ...paper.signs import RepeatSign
from ...paper.silhouette import ACROSS, seen_of
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, Span, in_words
from ...syntax import nodes
from ..performing.perform import Folding, refuse_taken
from ..performing.substituting import renamed
from ..resolving.scope import Scope
from .candidates import Candidate, Destination, Survey, survey_symmetries
from .checkpoints import restore, save
from .destinations import at_point, behind, beside, everywhere, facing, no_symmetry
from .finished_steps import finished_steps
from .leaf_turning import turn_back, with_leaves_turned
from .repeat_statement import SIDES, RepeatStatement, read_repeat, sentence, where_phrase
from .repeated_steps import (
    RepeatedSteps,
    last_crease,
    leaves_turned,
    names_given,
    trace_of,
    turned_over,
)
from .replaying import NewNames, renamings, replay
from .traces import Trace

VERB = "repeat"
#: Refusals that only repeats make; hints of others are about lines of the step that is repeated.
OF_REPEATS = frozenset(
    ("covered", "cut-off", "folded-since", "no-symmetry", "repeat-differs", "repeat-looks-back")
)
_OUT = (Hint("write the fold out there"),)
_IN_THE_WAY = (
    Hint("repeat it before the fold that brings that paper there, or unfold that first"),
)

#: Carries any statement out (repeats and calls of groups too).
Carry = Callable[[nodes.Statement], Sequence[tuple[State, Outcome]]]


def repeat(folding: Folding, number: int, statement: nodes.Statement, carry: Carry) -> Outcome:
    """Carries a repeat out. Raises Refusal.

    `carry` carries out a statement of the script on the same paper and step.
    """
    asked = read_repeat(statement)
    assert asked.steps is not None
    original = finished_steps(folding, number, asked.steps, statement)
    turned = turned_over(folding, original.start)
    if not asked.placed and (asked.again or asked.times is None):
        found = None
        folds = not trace_of(folding, original).is_empty
        if turned and folds and not asked.again and not _turns_inside(folding, original):
            found = facing(survey_symmetries(folding, original, with_leaves=False))
        if not found:
            return _again(folding, original, statement, asked, carry)
    _refuse_turns(folding, original, asked.steps.span)
    if trace_of(folding, original).is_empty:
        done = folding.history[original.start : original.end]
        turned_out = any(record.before is not record.after for record in done)
        raise Refusal(
            "nothing-to-repeat",
            f"what {original.words} turns makes no crease that a place for it could be found by"
            if turned_out
            else f"nothing is folded or creased in {original.words}",
            "write it out for the other place"
            if turned_out
            else "repeat a step that folds, or write this one out again",
            span=asked.steps.span,
        )
    everything = survey_symmetries(
        folding, original, with_leaves=bool(asked.points) or not asked.placed
    )
    destinations = _destinations(everything, asked, statement)
    return _images(folding, number, everything, destinations, asked, statement)


def _turns_inside(folding: Folding, original: RepeatedSteps) -> int:
    """Number of the first of the steps that turns the whole model; 0 when none does."""
    for record, resolved in zip(
        folding.history[original.start : original.end],
        folding.statements[original.start : original.end],
        strict=True,
    ):
        if record.turn is not None and not resolved.preparation:
            return record.step
    return 0


def _refuse_turns(folding: Folding, original: RepeatedSteps, span: Span) -> None:
    step = _turns_inside(folding, original)
    if step:
        raise Refusal(
            "turns-inside",
            f"step {step} turns the whole model, so {original.words} cannot be repeated elsewhere",
            "repeat what comes before the turn and what comes after it one by one",
            span=span,
        )


# --- where -----------------------------------------------------------------------------------


def _destinations(
    found: Survey, asked: RepeatStatement, statement: nodes.Statement
) -> list[Destination]:
    span = statement.span
    if asked.points:
        hidden = True if asked.behind else None
        scope = Scope(found.folding.state, found.folding.names)
        values = [scope.point(p) for p in asked.points]
        destinations = [at_point(found, v, hidden=hidden) for v in values]
        for k, destination in enumerate(destinations):
            for other, value in zip(destinations[:k], values[:k], strict=True):
                if other.best.trace.same(destination.best.trace):
                    both = f"{value.words.render()} and {values[k].words.render()}"
                    raise Refusal(
                        "same-flap",
                        f"{both} lie on the same flap",
                        "name one of them",
                        span=values[k].span,
                    )
        if asked.times is not None and asked.times != len(destinations):
            raise Refusal(
                "repeat-times", f"{len(destinations)} flaps are named, not {asked.times}", span=span
            )
        return destinations
    if asked.side and asked.behind and asked.joined:
        here = _first(beside(found, asked.side), found, asked, span)
        there = _first(behind(found), found, asked, span)
        rest = [
            t
            for t in beside(found, "other", hidden=True)
            if not any(t.best.trace.same(o.best.trace) for o in (here, there))
        ]
        return [here, there, *rest[:1]]
    if asked.side:
        groups = beside(found, asked.side, hidden=asked.behind)
    elif asked.behind:
        groups = behind(found)
    elif asked.times is not None:
        return everywhere(found, asked.times, span)
    else:
        groups = facing(found)
    if asked.times is not None and asked.times > 1 and groups:
        if len(groups) != asked.times:
            raise Refusal(
                "how-many-repeats",
                f"the paper has {len(groups)} such place{'s' * (len(groups) > 1)} there, "
                f"not {asked.times}",
                "name a point of each flap that is to follow, after 'on'",
                span=span,
            )
        return groups
    return [_first(groups, found, asked, span)]


def _first(
    groups: list[Destination], found: Survey, asked: RepeatStatement, span: Span
) -> Destination:
    if groups:
        return groups[0]
    opposite = ACROSS.get(asked.side, "")
    if opposite and beside(found, opposite, hidden=asked.behind):
        since = ", as the model lies now" if found.turn.flips else ""
        raise Refusal(
            "repeat-on-itself",
            f"{found.original.words} has been folded {SIDES[asked.side]} itself{since}",
            "name a point of the flap that is to follow, after 'on'",
            span=span,
        )
    flips = found.turn.flips

    def fits(sheet: object, reversed_: bool) -> bool:
        hidden = reversed_ != flips
        return hidden == asked.behind if not asked.joined else True

    where = where_phrase(asked)
    raise no_symmetry(found, where.render() if where is not None else "here", fits, span)


# --- carrying out ----------------------------------------------------------------------------


def _images(
    folding: Folding,
    number: int,
    found: Survey,
    destinations: list[Destination],
    asked: RepeatStatement,
    statement: nodes.Statement,
) -> Outcome:
    original, before, began = found.original, folding.state, len(folding.history)
    renamed = renamings(folding.names, names_given(folding, original), len(destinations))
    naming = None
    if asked.new_name:
        refuse_taken(folding, asked.new_name, statement.span)
        crease = last_crease(folding, original)
        if len(destinations) != 1 or crease is None:
            raise Refusal(
                "name-it",
                f"'as' names the last crease of one repetition, and {original.words} "
                + ("makes none" if crease is None else "is repeated more than once"),
                span=statement.span,
            )
        naming = (crease, asked.new_name)
    new_names = [NewNames(names, naming) for names in renamed]
    local = {s.new_name for s in folding.statements[original.start : original.end] if s.local}
    hidden = [names[name] for names in renamed for name in sorted(local)]
    trace = destinations[0].best.trace
    seen = seen_of(folding.state, trace.pieces) if asked.behind else None
    if not folding.state.facets_on_sheet(trace.middle):
        raise Refusal(
            "cut-off",
            f"the paper where {original.words} would be repeated has been cut off",
            "repeat before that piece is cut off",
            span=statement.span,
        )
    at = seen or folding.state.where(trace.middle)
    letters: tuple[tuple[str, Point], ...] = ()
    if asked.points:
        scope = Scope(before, folding.names)
        values = [scope.point(p) for p in asked.points]
        letters = tuple((v.letter, v.at) for v in values if v.letter)
        at = values[0].at
    left = list(zip(destinations, new_names, strict=True))
    while left:
        traces = [t.best.trace for t in destinations]
        left.pop(_one_of(folding, number, found, left, traces, statement.span))
    if leaves_turned(folding, began):
        turn_back(folding, number, original, found.leaves, found.trace, before)
    for name in hidden:
        folding.names.points.pop(name, None)
        folding.names.creases.pop(name, None)
    return _outcome(folding, original, len(destinations), asked, at, letters)


def _one_of(
    folding: Folding,
    number: int,
    found: Survey,
    left: list[tuple[Destination, NewNames]],
    done: list[Trace],
    span: Span,
) -> int:
    """Does the first of the repetitions that the paper allows now; mirror images come last, so that
    as many flaps come to lie on either side as hands would leave there. Gives its place in `left`.

    Where none is free, leaves are turned about the spine, as hands would do.
    """
    images = [t.best.trace for t, _ in left]
    folded = [found.trace] + [t for t in done if not any(t.same(image) for image in images)]
    ways = [
        (k, option) for k, (destination, _) in enumerate(left) for option in destination.options
    ]
    ways.sort(key=lambda way: (way[1].symmetry.mirrors, way[1].rank()))
    problem: Refusal | None = None
    for _ in with_leaves_turned(folding, number, found.original, found.leaves):
        ready = save(folding)
        for k, option in ways:
            since = folded if option.rounds else None
            try:
                replay(
                    folding,
                    number,
                    found.original,
                    option.symmetry,
                    left[k][1],
                    folded=since,
                    local=option.local,
                )
                return k
            except Refusal as refusal:
                if problem is None or problem.code == "covered":
                    problem = _there(refusal, found, option, span)
                restore(folding, ready)
    assert problem is not None
    raise problem


def _there(refusal: Refusal, found: Survey, option: Candidate, span: Span) -> Refusal:
    face = "behind" if option.hidden else "there"
    return Refusal(
        refusal.code,
        f"{found.original.words} cannot be repeated {face}: {refusal.message}",
        *_ways(refusal),
        span=span,
    )


def _ways(refusal: Refusal) -> tuple[Hint, ...]:
    """What to do where a fold is refused at its other place: written out it would be refused alike where
    paper lies in the way.
    """
    if refusal.code in OF_REPEATS:
        return in_words(refusal.hints)
    return _IN_THE_WAY if refusal.code == "blocked" else _OUT


def _again(
    folding: Folding,
    original: RepeatedSteps,
    statement: nodes.Statement,
    asked: RepeatStatement,
    carry: Carry,
) -> Outcome:
    """The same words, looked up on the paper as it lies now."""
    times = asked.times or 1
    if asked.new_name:
        raise Refusal(
            "name-it",
            "'as' goes with a repeat elsewhere on the paper",
            "name the folds in the step itself: the repeat calls them k', k'' and so on",
            span=statement.span,
        )
    new_names = renamings(folding.names, names_given(folding, original), times)
    body = [s for step in folding.steps[original.first - 1 : original.last] for s in step.body]
    outer = folding.call_stack
    folding.call_stack = outer.inside(statement.span)
    for call in new_names:
        so_far: dict[str, str] = {}
        for one in body:
            anew, so_far = renamed(one, call, so_far)
            try:
                carry(anew)
            except Refusal as refusal:
                hint = (
                    "say where: 'behind', 'on the other side', 'on' a point of the flap, '3 times'"
                )
                raise Refusal(
                    refusal.code,
                    f"{original.words} cannot be repeated on the paper as it lies now: "
                    f"{refusal.message}",
                    hint,
                    *in_words(refusal.hints),
                    span=statement.span,
                ) from None
    folding.call_stack = outer
    return _outcome(folding, original, times, asked, None, ())


def _outcome(
    folding: Folding,
    original: RepeatedSteps,
    times: int,
    asked: RepeatStatement,
    at: Point | None,
    letters: tuple[tuple[str, Point], ...],
) -> Outcome:
    sign = RepeatSign(original.first, original.last, times, at, asked.behind)
    caption = sentence(asked, original.first, original.last, times)
    return Outcome(folding.state, (sign,), caption, letters=letters)
