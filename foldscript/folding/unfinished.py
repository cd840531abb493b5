"""What a script that goes wrong folds before that: the steps up to the one that is refused.

In: a script's text, and what is wrong in it. Out: the program of the steps before, and what is told of the
refused one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from ..moves.registry import verbs
from ..source.diagnostics import Diagnostic, FoldscriptError, Severity, Source
from ..syntax.nodes import Program
from ..syntax.parser import parse_all
from .steps import Refused

#: What a message ends with that tells its step: the notice begins with that.
_IN_STEP = re.compile(r" \(in step \d+[^()]*\)$")


def until_refused(source: Source, wrong: Sequence[Diagnostic]) -> tuple[Program, Refused] | None:
    """The program of the steps before the first that is wrong, and what is wrong there.

    None where that is no step: what is wrong in the head leaves no paper to fold.
    """
    faults = [
        one
        for one in wrong
        if one.severity is Severity.ERROR and one.span is not None and one.source == source
    ]
    try:
        program, _ = parse_all(source, verbs())
    except FoldscriptError:
        return None
    places = [(one.span.start, one.message) for one in faults if one.span is not None]
    if not places:
        return None
    at, message = min(places)
    number = sum(step.span.start <= at for step in program.steps)
    if not number:
        return None
    begun = replace(program, steps=program.steps[: number - 1])
    return begun, Refused(number, _IN_STEP.sub("", message))
