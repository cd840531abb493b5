"""Carries out one move: its words are resolved, the move is made, and both are recorded.

In: the folding so far and a statement. Out: the paper after it, with a `ResolvedStatement` (what the
words stood for) and a `MoveRecord` (what was done), from which a repeat can do the same elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import count

from ...languages.wording import Phrase
from ...moves.planning.in_the_way import blocked_refusal, collision_refusal
from ...moves.planning.mouths import through_its_mouth
from ...moves.planning.request import (
    Clause,
    LineValue,
    Move,
    MoveRecord,
    Outcome,
    PointValue,
    Remark,
    Request,
    Speech,
)
from ...moves.planning.stacked import told
from ...moves.registry import moves
from ...paper.flap import Blocked
from ...paper.layers import Collision
from ...paper.signs import Sense
from ...paper.state import State
from ...source.diagnostics import Refusal, Span, write
from ...syntax import nodes
from ..resolving.context import is_word
from ..resolving.doubts import doubts
from ..resolving.landmarks import kept, landmarks_of
from ..resolving.middles import lopsided
from ..resolving.moved_marks import moved_in_a_row, moved_marks
from ..resolving.names import Names, describe, locate
from ..resolving.resolved import ResolvedStatement
from ..resolving.scope import Scope
from ..resolving.words_for import point_words
from .proving import prove
from .units import Unit, bring

NAME_LIMIT = 2000
#: Moves carried out in one script, those of groups and repeats counted each time.
MOVE_LIMIT = 5000
#: Bound on all moves of a script together: pairs of pieces of paper, and of pieces and creases, summed over
#: the moves. The frog takes a tenth of it; all of it is about a minute, and half a gigabyte.
WORK_LIMIT = 5_000_000
#: What a crease that lies flat weighs more, once a move.
_CREASE_WORK = 10
#: Groups and repeats inside one another.
DEEPEST = 20


@dataclass(frozen=True)
class CallStack:
    """The groups and repeats that the move being made stands in: groups by name, and how deep it is."""

    groups: tuple[str, ...] = ()
    depth: int = 0

    def inside(self, span: Span, group: str = "") -> CallStack:
        """One deeper, in a group when it is named. Raises Refusal when that is too deep."""
        if self.depth >= DEEPEST:
            raise Refusal(
                "too-deep",
                f"groups and repeats lie more than {DEEPEST} deep in one another",
                span=span,
            )
        return CallStack((*self.groups, group) if group else self.groups, self.depth + 1)


@dataclass
class Folding:
    """The paper and everything that has happened to it so far.

    `statements` has one entry for each record of the history. `step_ends` holds the state after each
    finished step and how many records it took; number 0 is the start. `solid` is set once the model
    is no longer flat: the step that did it, and why. `cautions` are those of the moves so far.
    `first_step` is the first of the part that is folded; `units` are what the parts before have folded, by
    number, and `laid` those that the paper holds, in the order of its sheets. `steps` and `groups` are the
    script's own; `calls` counts the groups done, `work` what the moves have taken.
    """

    state: State
    names: Names
    history: list[MoveRecord] = field(default_factory=list)
    step_ends: list[tuple[State, int]] = field(default_factory=list)
    statements: list[ResolvedStatement] = field(default_factory=list)
    solid: tuple[int, str] | None = None
    cautions: list[Phrase] = field(default_factory=list)
    steps: tuple[nodes.Step, ...] = ()
    groups: Mapping[str, nodes.Group] = field(default_factory=dict)
    call_stack: CallStack = CallStack()
    calls: int = 0
    work: int = 0
    units: Mapping[int, Unit] = field(default_factory=dict[int, Unit])
    laid: tuple[int, ...] = ()
    first_step: int = 1


def resolve(folding: Folding, statement: nodes.Statement) -> ResolvedStatement:
    """What the statement's words stand for now. Raises Refusal."""
    move = moves()[statement.verb]
    scope = Scope(folding.state, folding.names, folding.history)
    phrases = list(statement.phrases)
    new_name, name_span = "", statement.span
    if move.names_first:
        new_name, name_span, phrases = _leading_name(statement, phrases, move)
    clauses: list[Clause] = []
    counts = [phrase for phrase in phrases if phrase.word == "layers"]
    if len(counts) > 1 and statement.verb != "raise":
        raise Refusal(
            "two-counts",
            "two numbers of layers are said for one move",
            "leave one of them out",
            span=counts[1].span,
        )
    for phrase in phrases:
        if phrase.word == "as":
            if len(phrase.operands) != 1 or not isinstance(phrase.operands[0], nodes.Name):
                raise Refusal("name-it", "'as' takes one new name", span=phrase.span)
            new_name, name_span = phrase.operands[0].text, phrase.operands[0].span
            continue
        mover = clauses[-1].values[-1] if _leads(clauses, phrase) else None
        values = tuple(scope.value(o, whole=move.whole_folds, mover=mover) for o in phrase.operands)
        clauses.append(Clause(phrase.word, values, phrase.span))
        _refuse_doubtful(clauses[-1])
    if new_name:
        refuse_taken(folding, new_name, name_span)
    return ResolvedStatement(statement.verb, tuple(clauses), statement.span, new_name, name_span)


def _leads(clauses: Sequence[Clause], phrase: nodes.Phrase) -> bool:
    """Whether the phrase says where what was named before it goes."""
    return phrase.word in ("to", "onto") and bool(clauses) and bool(clauses[-1].values)


def carry_out(
    folding: Folding,
    number: int,
    resolved: ResolvedStatement,
    step_ends: tuple[tuple[State, int], ...] | None = None,
) -> Outcome:
    """Makes the move and records it. Raises Refusal.

    `step_ends` stands in for the folding's own where a repeat sees its steps anew.
    """
    if len(folding.history) >= MOVE_LIMIT:
        raise Refusal(
            "too-many-moves", f"more than {MOVE_LIMIT} moves, repeats counted", span=resolved.span
        )
    pieces, creases = len(folding.state.facets), len(folding.state.creases)
    folding.work += pieces * (pieces + creases) + _CREASE_WORK * creases
    if folding.work > WORK_LIMIT:
        raise Refusal(
            "too-complex",
            "so many moves on so many layers and creases are more than can be checked in reasonable time",
            "fold fewer layers at once, or part the model into two scripts with 'start from'",
            span=resolved.span,
        )
    move = moves()[resolved.verb]
    if folding.solid is not None and move.flat:
        raise _not_flat(folding.solid, resolved)
    request = Request(
        folding.state,
        move,
        resolved.clauses,
        resolved.span,
        resolved.new_name,
        *_speech(folding.names, folding.state),
        tuple(folding.history),
        step_ends if step_ends is not None else tuple(folding.step_ends),
        folding.names.of_crease,
        dict(folding.names.points),
        partial(_speech, folding.names),
        folding.first_step,
    )
    try:
        outcome = move.make(request)
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    except Blocked as held:
        raise blocked_refusal(request, held, Sense.VALLEY) from None
    if outcome.before is not None:
        folding.state = outcome.before
    arrows = (through_its_mouth(sign, folding.state, outcome.after) for sign in outcome.signs)
    signs = tuple(arrows)
    if outcome.solid is None:
        signs = told(folding.state, outcome.after, signs)
    outcome = replace(outcome, signs=signs)
    prove(resolved.verb, folding.state, outcome.after, outcome.claims)
    _record(folding, number, resolved, move, outcome)
    signs = (*outcome.signs, *landmarks_of(resolved.clauses))
    return replace(outcome, signs=tuple(dict.fromkeys(signs)))


def _speech(names: Names, state: State) -> Speech:
    """How messages speak of the paper as it lies in a state."""
    return (
        partial(describe, state, names),
        partial(locate, state, names),
        partial(point_words, state, names),
    )


def _not_flat(solid: tuple[int, str], resolved: ResolvedStatement) -> Refusal:
    step, why = solid
    return Refusal(
        "not-flat-any-more",
        f"'{resolved.verb}' needs a flat model, and this one is flat no longer: {why} in step {step}",
        f"fold it flat to the end, and stand it up in the last steps: take step {step} out of here, "
        "and write it again below all folds",
        "turning it over and round is possible, and so are signs such as 'hold' and 'shape'",
        span=resolved.span,
    )


def perform(folding: Folding, number: int, statement: nodes.Statement) -> Outcome:
    """Carries one statement out and records it. Raises Refusal, and the paper then lies as it lay."""
    was = folding.state, folding.laid
    if moves()[statement.verb].brings_unit:
        folding.state, number_of_unit = bring(
            folding.state, folding.names, folding.units, folding.laid, statement
        )
        folding.laid = (*folding.laid, number_of_unit)
    try:
        resolved = resolve(folding, statement)
        remarks = _readings(folding, number, statement)
        outcome = carry_out(folding, number, resolved)
    except Refusal as refusal:
        more = _off_centre(folding, statement)
        moved = _gone_along(folding, statement)
        advice = moves()[statement.verb].advice
        if refusal.code == "unknown-name" and advice and not _well_said(refusal, statement):
            more = (*more, advice)
        folding.state, folding.laid = was
        if not more and not moved:
            raise
        hints = (*moved, *refusal.hints, *more)
        raise refusal.with_hints(*hints) from None
    return replace(outcome, remarks=(*outcome.remarks, *remarks)) if remarks else outcome


def _well_said(refusal: Refusal, statement: nodes.Statement) -> bool:
    """Whether only a name is unknown, so that how the move is said need not be told."""
    names = (o for p in statement.phrases for o in p.operands if isinstance(o, nodes.Name))
    return any(o.span == refusal.span and not is_word(o.text) for o in names)


def _gone_along(folding: Folding, statement: nodes.Statement) -> tuple[str, ...]:
    """Where a refused statement looks for marks that have moved with their flaps: often that is why."""
    marks = moved_marks(
        folding.state, folding.names, folding.statements, folding.history, statement
    )
    return tuple(f"{mark.message}; {mark.hints[0]}" for mark in marks)


def _readings(folding: Folding, number: int, statement: nodes.Statement) -> tuple[Remark, ...]:
    """What else the statement's words may mean on the paper as it lies."""
    scope = Scope(folding.state, folding.names, folding.history)
    return (
        *doubts(scope, statement),
        *moved_marks(folding.state, folding.names, folding.statements, folding.history, statement),
        *moved_in_a_row(folding.state, folding.names, folding.history, number, statement),
    )


def _off_centre(folding: Folding, statement: nodes.Statement) -> tuple[str, ...]:
    """What to try where 'centre line' was said of a figure that is not alike on both sides."""
    seen = [o for p in statement.phrases for o in p.operands if isinstance(o, nodes.Seen)]
    for node in seen:
        level = "horizontal" in node.toward
        if node.kind == "centre line" and lopsided(folding.state, folding.history, level=level):
            sides = "top and bottom" if level else "left and right"
            return (
                f"the figure is not alike {sides} now, so its centre line is only the middle of its "
                f"{'height' if level else 'width'}: crease the line you mean first, and use its name",
            )
    return ()


def _refuse_doubtful(clause: Clause) -> None:
    """Refuses two lines that fit the same words where nothing can choose between them."""
    for value in clause.values if clause.word not in ("along", "and") else ():
        if isinstance(value, LineValue) and value.others:
            raise Refusal(
                "several-lines",
                f"two lines fit '{value.words.render()}': say which one first",
                "crease it, choosing with 'first', 'second' or 'near', and name the crease with 'as'",
                span=value.span,
            )


def _leading_name(
    statement: nodes.Statement, phrases: list[nodes.Phrase], move: Move
) -> tuple[str, Span, list[nodes.Phrase]]:
    first = phrases[0] if phrases else None
    if first is None or not first.operands or not isinstance(first.operands[0], nodes.Name):
        raise Refusal(
            "name-it",
            f"'{statement.verb}' needs a new name first",
            *(f"write it like: {form}" for form in move.forms),
            span=statement.span,
        )
    name = first.operands[0]
    rest = replace(first, operands=first.operands[1:])
    kept = ([rest] if rest.operands or rest.word else []) + phrases[1:]
    return name.text, name.span, kept


def refuse_taken(folding: Folding, name: str, span: Span) -> None:
    """Refuses a new name that is taken; one from what the script starts from may be given anew."""
    names, corners = folding.names, folding.state.sheet.corner_names
    if (name in names.points or name in names.creases) and name not in names.inherited:
        kind = "corner of the sheet" if name in corners else "point"
        stem = name.rstrip("0123456789")
        fresh = next(f"{stem}{n}" for n in count(2) if f"{stem}{n}" not in names.known())
        raise Refusal(
            "name-taken",
            f"'{name}' is a name already: of a {kind if name in names.points else 'crease'}",
            write(
                span,
                fresh,
                f"choose another name, such as '{fresh}', here and where it is meant further down",
            ),
            span=span,
        )
    if len(names.points) + len(names.creases) >= NAME_LIMIT:
        raise Refusal("too-many-names", f"more than {NAME_LIMIT} names", span=span)


def _record(
    folding: Folding, number: int, resolved: ResolvedStatement, move: Move, outcome: Outcome
) -> None:
    for k in outcome.undoes:
        folding.history[k] = replace(folding.history[k], undone=True)
    for name, at in outcome.points:
        folding.names.name_point(name, at)
        point = next((v for c in resolved.clauses for v in c.values), None)
        remembered = kept(point, folding.state) if isinstance(point, PointValue) else None
        if remembered is not None:
            folding.names.found[name] = remembered
    if outcome.after.sheet != folding.state.sheet:
        folding.names.cut_off(outcome.after, number)
    if outcome.solid is not None and folding.solid is None:
        folding.solid = (number, outcome.solid.why)
    if outcome.caution is not None and outcome.caution not in folding.cautions:
        folding.cautions.append(outcome.caution)
    if resolved.new_name and not outcome.points:
        if not outcome.creases:
            raise Refusal(
                "nothing-to-name",
                f"'{resolved.verb}' makes no crease to name",
                span=resolved.name_span,
            )
        folding.names.name_crease(resolved.new_name, outcome.creases, number)
    add_record(
        folding,
        resolved,
        MoveRecord(
            step=number,
            move=move,
            fingers=outcome.fingers or move.fingers,
            before=folding.state,
            after=outcome.after,
            signs=outcome.signs,
            name=resolved.new_name if not outcome.points else "",
            creases=outcome.creases,
            folded=outcome.folded,
            turn=outcome.turn,
            moved=outcome.moved,
            undid=outcome.undoes,
            solid=outcome.solid,
            goals=outcome.goals,
        ),
    )


def add_record(folding: Folding, resolved: ResolvedStatement, record: MoveRecord) -> None:
    """Adds a record to the history; the paper lies as it leaves it."""
    folding.history.append(record)
    folding.statements.append(resolved)
    folding.state = record.after
