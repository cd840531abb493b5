"""Which steps a repeat names: they have to be finished, and to belong to the same sheet.

In: what is folded so far, the number of the step that is being folded, and the numbers said. Out: the
`RepeatedSteps`, or a refusal with what to write instead.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...source.diagnostics import Hint, Refusal, Span, write
from ...syntax import nodes
from ..performing.perform import Folding
from .repeated_steps import RepeatedSteps


def finished_steps(
    folding: Folding, number: int, steps: nodes.StepRange, statement: nodes.Statement
) -> RepeatedSteps:
    """The steps that a repeat names. Raises Refusal where they are not there, or not finished."""
    done = len(folding.step_ends) - 1
    if steps.first < 1:
        raise Refusal("no-such-step", "the first step is step 1", span=steps.span)
    if steps.first < folding.first_step:
        raise Refusal(
            "step-of-another-part",
            f"step {steps.first} belongs to another part of the script, and to another sheet",
            "write moves that several parts share as a group, and do it in each of them",
            span=steps.span,
        )
    if steps.first <= number <= steps.last:
        raise Refusal(
            "repeat-inside-itself",
            f"step {number} cannot repeat itself: it is not finished",
            *_instead(folding, number, steps, statement),
            span=steps.span,
        )
    if steps.last > done:
        raise Refusal(
            "step-not-done",
            f"step {steps.last} has not been folded yet",
            write(
                steps.span,
                "step 1" if done == 1 else f"steps 1 to {done}",
                f"steps 1 to {done} come before this one"
                if done > 1
                else "only step 1 comes before this one",
            )
            if done
            else "no step comes before this one",
            span=steps.span,
        )
    before, start = folding.step_ends[steps.first - 1]
    end = folding.step_ends[steps.last][1]
    original = RepeatedSteps(steps.first, steps.last, start, end, before)
    if start == end:
        raise Refusal(
            "nothing-to-repeat", f"nothing is folded in {original.words}", span=steps.span
        )
    return original


def _instead(
    folding: Folding, number: int, steps: nodes.StepRange, statement: nodes.Statement
) -> Iterator[Hint]:
    """What to write where a step repeats itself: the end of that step before it, or steps before it."""
    body = folding.steps[number - 1].body if number <= len(folding.steps) else ()
    above = [one.span.end for one in body if one.span.end <= statement.span.start]
    if above:
        yield write(
            Span(above[-1], above[-1]),
            "\nstep",
            f"write 'step' on a line of its own above this: what stands over it is step {number} then, and "
            "finished",
        )
    elif number == 1:
        yield Hint("nothing comes before it: fold first")
    if steps.first < number - 1:
        words = f"steps {steps.first} to {number - 1}"
    elif number > 1:
        words = f"step {number - 1}"
    else:
        return
    yield write(steps.span, words, f"or for what comes before this step, say '{words}'")
