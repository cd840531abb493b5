"""The statement `repeat`: a step or a row of steps once more, somewhere else or said again.

    repeat step 3 behind                     on the hidden face, as if the model were turned over
    repeat steps 5 to 6 on the other side    left for right on the same face
    repeat step 1 on B and D                 on the flaps of these points
    repeat step 4, 3 times                   on the three other places like it
    repeat step 2 again, 2 times             the same words, on the paper as it lies now

All but the last go through the symmetries that the paper had before the steps (`choosing`), and every
move is really folded (`replaying`). In: the statement and the paper. Out: one `Outcome` for the figure.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...geometry.lines import Point
from ...moves.planning.request import Outcome
from ...paper.signs import RepeatSign
from ...paper.silhouette import seen_of
from ...paper.state import State
from ...source.diagnostics import Refusal, Span
from ...syntax import nodes
from ..performing.perform import Folding, refuse_taken
from ..performing.substituting import renamed
from ..resolving.scope import Scope
from .candidates import Candidate, Field, Target, survey
from .choosing import at_point, behind, beside, everywhere, facing, no_symmetry
from .images import Trace
from .paging import paged, turn_back
from .parts import (
    Part,
    last_crease,
    names_given,
    pages_turned,
    restore,
    save,
    trace_of,
    turned_over,
)
from .repeat_words import Words, read_words, sentence, where_words
from .replaying import Calls, renamings, replay

VERB = "repeat"

#: Carries any statement out (repeats and calls of groups too).
Carry = Callable[[nodes.Statement], Sequence[tuple[State, Outcome]]]


def repeat(paper: Folding, number: int, statement: nodes.Statement, carry: Carry) -> Outcome:
    """Carries a repeat out. Raises Refusal.

    `carry` carries out a statement of the script on the same paper and step.
    """
    words = read_words(statement)
    assert words.steps is not None
    part = _part(paper, number, words.steps)
    turned = turned_over(paper, part.start)
    if not words.placed and (words.again or words.times is None):
        found = None
        folds = not trace_of(paper, part).is_empty
        if turned and folds and not words.again and not _turns_inside(paper, part):
            found = facing(survey(paper, part, leaves=False))
        if not found:
            return _again(paper, part, statement, words, carry)
    _refuse_turns(paper, part, words.steps.span)
    if trace_of(paper, part).is_empty:
        raise Refusal(
            "nothing-to-repeat",
            f"nothing is folded or creased in {part.words}",
            "repeat a step that folds, or write this one out again",
            span=words.steps.span,
        )
    everything = survey(paper, part, leaves=bool(words.points) or not words.placed)
    targets = _targets(everything, words, statement)
    return _images(paper, number, everything, targets, words, statement)


def _part(paper: Folding, number: int, steps: nodes.StepRange) -> Part:
    done = len(paper.step_ends) - 1
    if steps.first < 1:
        raise Refusal("no-such-step", "the first step is step 1", span=steps.span)
    if steps.first <= number <= steps.last:
        raise Refusal(
            "repeat-inside-itself",
            f"step {number} cannot repeat itself: it is not finished",
            f"repeat steps before it, up to step {number - 1}" if number > 1 else "fold first",
            span=steps.span,
        )
    if steps.last > done:
        raise Refusal(
            "step-not-done",
            f"step {steps.last} has not been folded yet",
            f"steps 1 to {done} come before this one" if done else "no step comes before this one",
            span=steps.span,
        )
    before, start = paper.step_ends[steps.first - 1]
    end = paper.step_ends[steps.last][1]
    part = Part(steps.first, steps.last, start, end, before)
    if start == end:
        raise Refusal("nothing-to-repeat", f"nothing is folded in {part.words}", span=steps.span)
    return part


def _turns_inside(paper: Folding, part: Part) -> int:
    """Number of the first step of the part that turns the whole model; 0 when none does."""
    for record, said in zip(
        paper.history[part.start : part.end], paper.said[part.start : part.end], strict=True
    ):
        if record.turn is not None and not said.aside:
            return record.step
    return 0


def _refuse_turns(paper: Folding, part: Part, span: Span) -> None:
    step = _turns_inside(paper, part)
    if step:
        raise Refusal(
            "turns-inside",
            f"step {step} turns the whole model, so {part.words} cannot be repeated elsewhere",
            "repeat what comes before the turn and what comes after it one by one",
            "or, for the same words on the paper as it lies now: 'again'",
            span=span,
        )


# --- where -----------------------------------------------------------------------------------


def _targets(found: Field, words: Words, statement: nodes.Statement) -> list[Target]:
    span = statement.span
    if words.points:
        hidden = True if words.behind else None
        scope = Scope(found.paper.state, found.paper.names)
        values = [scope.point(p) for p in words.points]
        targets = [at_point(found, v, hidden=hidden) for v in values]
        for k, target in enumerate(targets):
            for other, value in zip(targets[:k], values[:k], strict=True):
                if other.best.trace.same(target.best.trace):
                    both = f"{value.words.render()} and {values[k].words.render()}"
                    raise Refusal(
                        "same-flap",
                        f"{both} lie on the same flap",
                        "name one of them",
                        span=values[k].span,
                    )
        if words.times is not None and words.times != len(targets):
            raise Refusal(
                "repeat-times", f"{len(targets)} flaps are named, not {words.times}", span=span
            )
        return targets
    if words.side and words.behind and words.joined:
        here = _first(beside(found, words.side), found, words, span)
        there = _first(behind(found), found, words, span)
        rest = [
            t
            for t in beside(found, "other", hidden=True)
            if not any(t.best.trace.same(o.best.trace) for o in (here, there))
        ]
        return [here, there, *rest[:1]]
    if words.side:
        groups = beside(found, words.side, hidden=words.behind)
    elif words.behind:
        groups = behind(found)
    elif words.times is not None:
        return everywhere(found, words.times, span)
    else:
        groups = facing(found)
    if words.times is not None and words.times > 1 and groups:
        if len(groups) != words.times:
            raise Refusal(
                "how-many-repeats",
                f"the paper has {len(groups)} such place{'s' * (len(groups) > 1)} there, "
                f"not {words.times}",
                "name the flaps: 'on B and D'",
                span=span,
            )
        return groups
    return [_first(groups, found, words, span)]


def _first(groups: list[Target], found: Field, words: Words, span: Span) -> Target:
    if groups:
        return groups[0]
    if words.side in ("left", "right") and beside(found, "other", hidden=words.behind):
        opposite = "right" if words.side == "left" else "left"
        raise Refusal(
            "repeat-on-itself",
            f"{found.part.words} has been folded on the {words.side} itself",
            f"say 'on the {opposite}' or 'on the other side'",
            span=span,
        )
    flips = found.turn.flips

    def fits(sheet: object, reversed_: bool) -> bool:
        hidden = reversed_ != flips
        return hidden == words.behind if not words.joined else True

    where = where_words(words)
    raise no_symmetry(found, where.render() if where is not None else "here", fits, span)


# --- carrying out ----------------------------------------------------------------------------


def _images(
    paper: Folding,
    number: int,
    found: Field,
    targets: list[Target],
    words: Words,
    statement: nodes.Statement,
) -> Outcome:
    part, before, began = found.part, paper.state, len(paper.history)
    renamed = renamings(paper.names, names_given(paper, part), len(targets))
    naming = None
    if words.new_name:
        refuse_taken(paper.names, words.new_name, statement.span)
        crease = last_crease(paper, part)
        if len(targets) != 1 or crease is None:
            raise Refusal(
                "name-it",
                f"'as' names the last crease of one repetition, and {part.words} "
                + ("makes none" if crease is None else "is repeated more than once"),
                span=statement.span,
            )
        naming = (crease, words.new_name)
    calls = [Calls(names, naming) for names in renamed]
    local = {s.new_name for s in paper.said[part.start : part.end] if s.local}
    hidden = [names[name] for names in renamed for name in sorted(local)]
    trace = targets[0].best.trace
    seen = seen_of(paper.state, trace.pieces) if words.behind else None
    at = seen or paper.state.where(trace.middle)
    left = list(zip(targets, calls, strict=True))
    while left:
        traces = [t.best.trace for t in targets]
        left.pop(_one_of(paper, number, found, left, traces, statement.span))
    if pages_turned(paper, began):
        turn_back(paper, number, part, found.pages, found.trace, before)
    for name in hidden:
        paper.names.points.pop(name, None)
        paper.names.creases.pop(name, None)
    letters: tuple[tuple[str, Point], ...] = ()
    if words.points:
        scope = Scope(before, paper.names)
        values = [scope.point(p) for p in words.points]
        letters = tuple((v.letter, v.at) for v in values if v.letter)
        at = values[0].at
    return _outcome(paper, part, len(targets), words, at, letters)


def _one_of(
    paper: Folding,
    number: int,
    found: Field,
    left: list[tuple[Target, Calls]],
    done: list[Trace],
    span: Span,
) -> int:
    """Does the first of the repetitions that the paper allows now; mirror images come last, so that
    as many flaps come to lie on either side as hands would leave there. Gives its place in `left`.

    Where none is free, flaps are turned like pages about the spine, as hands would do.
    """
    images = [t.best.trace for t, _ in left]
    folded = [found.trace] + [t for t in done if not any(t.same(image) for image in images)]
    ways = [(k, option) for k, (target, _) in enumerate(left) for option in target.options]
    ways.sort(key=lambda way: (way[1].symmetry.mirrors, way[1].rank()))
    problem: Refusal | None = None
    for _ in paged(paper, number, found.part, found.pages):
        ready = save(paper)
        for k, option in ways:
            since = folded if option.rounds else None
            try:
                replay(
                    paper,
                    number,
                    found.part,
                    option.symmetry,
                    left[k][1],
                    folded=since,
                    partial=option.partial,
                )
                return k
            except Refusal as refusal:
                if problem is None or problem.code == "covered":
                    problem = _there(refusal, found, option, span)
                restore(paper, ready)
    assert problem is not None
    raise problem


def _there(refusal: Refusal, found: Field, option: Candidate, span: Span) -> Refusal:
    face = "behind" if option.hidden else "there"
    return Refusal(
        refusal.code,
        f"{found.part.words} cannot be repeated {face}: {refusal.message}",
        *refusal.hints,
        span=span,
    )


def _again(
    paper: Folding, part: Part, statement: nodes.Statement, words: Words, carry: Carry
) -> Outcome:
    """The same words, looked up on the paper as it lies now."""
    times = words.times or 1
    if words.new_name:
        raise Refusal(
            "name-it",
            "'as' goes with a repeat elsewhere on the paper",
            "name the folds in the step itself: the repeat calls them k', k'' and so on",
            span=statement.span,
        )
    calls = renamings(paper.names, names_given(paper, part), times)
    body = [s for step in paper.steps[part.first - 1 : part.last] for s in step.body]
    stack = paper.stack
    paper.stack = stack.inside(statement.span)
    for call in calls:
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
                    f"{part.words} cannot be repeated on the paper as it lies now: "
                    f"{refusal.message}",
                    *dict.fromkeys((hint, *refusal.hints)),
                    span=statement.span,
                ) from None
    paper.stack = stack
    return _outcome(paper, part, times, words, None, ())


def _outcome(
    paper: Folding,
    part: Part,
    times: int,
    words: Words,
    at: Point | None,
    letters: tuple[tuple[str, Point], ...],
) -> Outcome:
    where = where_words(words)
    sign = RepeatSign(part.first, part.last, times, where.render() if where is not None else "", at)
    said = sentence(words, part.first, part.last, times)
    return Outcome(paper.state, (sign,), said, letters=letters)
