"""What to say instead, tried on the paper: a statement that was refused in, the refusal with hints out.

A statement may be read and yet mean nothing ('crease A C', 'valley AB to DC'). What its words may stand for
at the table is made into statements, and those that fold come first.
"""

from __future__ import annotations

from ..moves.registry import verbs
from ..source.diagnostics import Hint, Refusal
from ..syntax import nodes
from ..syntax.parser import statements
from ..syntax.rewording import naming_crease, with_rows
from ..syntax.table_talk import said_otherwise
from ..syntax.whole_lines import Lines, Setting
from .groups import CalledRefusal
from .performing.perform import Folding
from .repeating.checkpoints import restore, save
from .statements import carry

#: Mistakes in what was said; others are of the paper, and other words for the same do not mend them.
_OF_WORDING = frozenset(
    (
        "name-it",
        "not-a-line",
        "not-a-point",
        "repeat-what",
        "unclear-fold",
        "unexpected-words",
        "unfold-what",
        "unknown-group",
        "unknown-name",
    )
)


def reworded(
    refusal: Refusal,
    statement: nodes.Statement,
    number: int,
    folding: Folding,
    program: nodes.Program,
) -> Refusal:
    """The refusal of a statement, with what to say in its place first where that is known."""
    if isinstance(refusal, CalledRefusal):
        return refusal
    if refusal.code not in _OF_WORDING:
        return _tried(refusal, statement, number, folding, program)
    source, span = program.source, statement.span
    earlier = [
        one for step in program.steps[:number] for one in step.body if one.span.end <= span.start
    ]
    crease = naming_crease(source, span, earlier)
    if crease is not None:
        return Refusal(refusal.code, refusal.message, crease, span=refusal.span)
    setting = Setting(
        folding.state.sheet.corner_names, number - 1, names=tuple(folding.names.known())
    )
    rows = said_otherwise(source.text[span.start : span.end], setting)
    folds = {
        row: outcome for row in rows if (outcome := _outcome(row, number, folding)) is not None
    }
    best = [row for row in folds if folds[row] == ""] or [
        row for row in folds if folds[row] != refusal.message
    ]
    found = with_rows(refusal, source, span, best)
    return found if best else _tried(refusal, statement, number, folding, program)


def _tried(
    refusal: Refusal,
    statement: nodes.Statement,
    number: int,
    folding: Folding,
    program: nodes.Program,
) -> Refusal:
    """The refusal without hints that lead nowhere: their changes of the statement are made and tried.

    Where some changes fold, those that do not are left out; none that only ends in the same message stays.
    """
    text, span = program.source.text, statement.span
    ends: dict[Hint, str] = {}
    for hint in refusal.hints:
        edit = hint.edit
        if edit is None or not span.start <= edit.span.start <= edit.span.end <= span.end:
            continue
        anew = edit.applied(text)[
            span.start : span.end + len(edit.text) - edit.span.end + edit.span.start
        ]
        outcome = _outcome((" ".join(anew.split()),), number, folding)
        ends[hint] = refusal.message if outcome is None else outcome
    folds = [hint for hint in ends if ends[hint] == ""]
    kept = [
        hint
        for hint in refusal.hints
        if hint not in ends or hint in folds or (not folds and ends[hint] != refusal.message)
    ]
    return Refusal(refusal.code, refusal.message, *folds, *kept, span=refusal.span)


def _outcome(row: Lines, number: int, folding: Folding) -> str | None:
    """'' where the statements fold on this paper, else why not; None where they cannot be read."""
    said = statements(row, verbs())
    if not said:
        return None
    was = save(folding)
    try:
        for statement in said:
            carry(folding, number, statement)
    except Refusal as refusal:
        return refusal.message
    finally:
        restore(folding, was)
    return ""
