"""What a caption says and its step does not do: 'crease and unfold' over a fold that stays folded.

In: a step as read. Out: a warning at its fold, or none. Captions are the author's own; only English ones are
read, and only for the one word that teachers leave out of the lines most often (common practice).
"""

from __future__ import annotations

import re

from ..source.diagnostics import Diagnostic, Edit, Hint, Severity, Span
from ..syntax import nodes
from .statements import AND_UNFOLD

_FOLDS = frozenset(("valley", "mountain"))
#: Moves that neither fold nor open anything.
_IDLE = frozenset(("mark", "hold", "turn over", "rotate", "show", "look"))
_UNFOLD = re.compile(r"(?<!not )(?<!n't )(?<!to )(?<!will )\bunfold\b", re.IGNORECASE)


def not_unfolded(step: nodes.Step, number: int, program: nodes.Program) -> Diagnostic | None:
    """The warning for a step that leaves folded what its caption unfolds."""
    own = [one.text for one in step.captions if one.language in ("", program.head.language)]
    if not program.head.language.startswith("en") or not any(map(_UNFOLD.search, own)):
        return None
    made = [one for one in step.body if one.verb not in _IDLE]
    if not made or any(one.verb not in _FOLDS or _opened(one) for one in made):
        return None
    last = made[-1]
    end = Span(last.span.end, last.span.end)
    return Diagnostic(
        "caption-unfold",
        f"the caption says 'unfold', and what this step folds stays folded (in step {number})",
        last.span,
        (
            Hint(f"add '{AND_UNFOLD}'", edit=Edit(end, f" {AND_UNFOLD}"))
            if len(made) == 1
            else Hint(f"end each of its lines with '{AND_UNFOLD}'"),
            Hint("or leave the word out of the caption"),
        ),
        Severity.WARNING,
        program.source,
    )


def _opened(statement: nodes.Statement) -> bool:
    return any(phrase.word == AND_UNFOLD for phrase in statement.phrases)
