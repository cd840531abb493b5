"""Which move of a step a figure half way is of, and whether it can be asked for at all.

In: a folded step. Out: its move; a Refusal where `half way` is said of a step that has nothing to show so.
"""

from __future__ import annotations

from ..moves.planning.request import MoveRecord
from ..source.diagnostics import Refusal
from .steps import Step


def changing(step: Step) -> list[MoveRecord]:
    """The moves of a step, those of repeats and groups too, that change the paper."""
    return [r for r in step.records if r.turn is None and r.before is not r.after and r.move]


def shown_half_way(step: Step) -> MoveRecord:
    """The move that a figure half way of a step shows.

    Raises Refusal, at the line that asks for it, where there is none or more than one, or where its paper
    leaves the plane only in a plain turn.
    """
    from ..pose.change import worth_showing  # what lays states over each other is loaded when asked

    span = step.half_way[1] if step.half_way is not None else None
    made = changing(step)
    if not made:
        raise Refusal("nothing-half-way", "no paper moves here that could be half way", span=span)
    if len(made) > 1:
        raise Refusal(
            "nothing-half-way",
            f"{len(made)} moves change the paper here, and a figure half way shows one",
            "give the move a step of its own",
            span=span,
        )
    try:
        worth_showing(made[0].before, made[0].after)
    except Refusal as refusal:
        raise Refusal(
            refusal.code,
            refusal.message,
            "ask for it where paper has to open: collapse, petal, squash, a reverse fold and the like",
            span=span,
        ) from None
    return made[0]
