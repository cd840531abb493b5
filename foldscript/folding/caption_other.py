"""A caption that folds the other edge, over a fold of the one that is folded already.

In: a step as folded, and the words of its only fold. Out: a warning, or none. Left and right change about
when the paper is turned over, which is easily forgotten (common practice).
"""

from __future__ import annotations

import re

from ..geometry.lines import Segment, between, point_on_segment
from ..paper.silhouette import edges_toward
from ..paper.state import State
from ..source.diagnostics import Diagnostic, Edit, Hint, Severity
from ..syntax import nodes
from .caption_shares import Folded
from .siblings import mirrored

_OTHER = re.compile(r"\bthe other (?:[a-z]+ )?(?:edge|side)\b", re.IGNORECASE)


def the_edge_folded_already(
    caption: str, made: nodes.Statement, step: Folded, program: nodes.Program
) -> Diagnostic | None:
    """The warning for a fold of an edge that is a fold, where the edge across from it is none.

    `made` : the only fold of the step
    """
    who = made.phrases[0].operands[0] if made.phrases and made.phrases[0].operands else None
    if not isinstance(who, nodes.Seen) or who.kind != "edge" or not _OTHER.search(caption):
        return None
    words = program.source.text[who.span.start : who.span.end]
    across = mirrored(words)
    if across == words:
        return None
    here, there = (
        edges_toward(
            step.before, tuple(mirrored(" ".join(who.toward)).split()) if k else who.toward
        )
        for k in (0, 1)
    )
    if len(here) != 1 or len(there) != 1:
        return None
    if not _is_folded(step.before, here[0]) or _is_folded(step.before, there[0]):
        return None
    return Diagnostic(
        "caption-side",
        f"the caption folds the other edge, and the {words} is folded already (in step {step.number})",
        who.span,
        (
            Hint(f"say '{across}'", edit=Edit(who.span, across)),
            Hint("or name the edge in the caption"),
        ),
        Severity.WARNING,
        program.source,
    )


def _is_folded(state: State, edge: Segment) -> bool:
    """Whether an edge of the paper as it lies is a fold, and no edge of the sheet."""
    middle = between(*edge, 0.5)
    return any(point_on_segment(piece, middle) for _, piece in state.fold_segments)
