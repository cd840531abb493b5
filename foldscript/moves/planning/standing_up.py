"""What moves share after which the model stands in space: the outcome, the sign of opening, amounts.

In: a `Request`, its places, goals. Out: an `Outcome` whose paper is as it lay, with the goals that a pose is
found from.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ...geometry.lines import Segment, overlap_of
from ...geometry.tolerance import is_zero
from ...languages.wording import Phrase
from ...paper.openings import opening_at, slit_at
from ...paper.signs import PointSign, Sign
from ...paper.state import State
from ...pose.goals import Goal
from ...source.diagnostics import Hint, Refusal, write
from .at_points import OPEN_OUT, signed
from .request import LineValue, Outcome, PointValue, Quantity, Request, Solid

#: Said where the angle follows from other paper.
UNTIL_LEVEL = "until level"
_STANDS = Solid("it stands in space")


def opened(state: State, sign: Sign) -> Sign:
    """A sign of opening with the edge that opens there, or the slit."""
    if not isinstance(sign, PointSign):
        return sign
    edge = opening_at(state, sign.at)
    slit = None if edge is not None else slit_at(state, sign.at)
    return replace(sign, opens=edge or slit, slit=slit is not None)


def stood_up(
    request: Request, named: list[PointValue | LineValue], words: Phrase, goals: tuple[Goal, ...]
) -> Outcome:
    """The paper as it lay, with the sign of opening at each place, and the goals."""
    done = signed(request, OPEN_OUT, named, words, solid=_STANDS)
    signs = tuple(opened(request.state, sign) for sign in done.signs)
    return replace(done, signs=signs, goals=goals)


def amount(request: Request, word: str, unit: str) -> float | None:
    """The number after a word, in degrees or millimetres; None where the word is not said."""
    clause = request.clause(word)
    if clause is None:
        return None
    found = [v for v in clause.values if isinstance(v, Quantity) and v.unit == unit]
    if (
        len(found) != 1
        or len(clause.values) != 1
        or found[0].value < (0 if unit == "degrees" else 1e-3)
    ):
        what = "an angle in degrees" if unit == "degrees" else "a length, as in '4 cm'"
        bare = [
            v for v in clause.values if isinstance(v, Quantity) and v.unit != unit and v.value > 0
        ]
        name = "degrees" if unit == "degrees" else "cm"
        hints = (
            write(v.span, f"{n:g} {name}", f"say '{word} {n:g} {name}'")
            for v in bare
            for n in ((v.value / 10 if v.unit == "mm" else v.value),)
        )
        turned = (
            write(
                v.span,
                f"{-v.value:g} degrees",
                f"say '{word} {-v.value:g} degrees': each flap turns to the side where there is room",
            )
            for v in clause.values
            if isinstance(v, Quantity) and v.unit == unit == "degrees" and v.value < 0
        )
        raise how(request, "say-how-far", f"after '{word}' comes {what}", *hints, *turned)
    return found[0].value


def level_with(request: Request) -> PointValue | None:
    """The point after 'until level with'; None where nothing follows. Raises Refusal for anything else."""
    clause = request.clause("with")
    if clause is None:
        return None
    (like, *more) = (*clause.values, None)
    if not isinstance(like, PointValue) or like.sheet is None or more != [None]:
        raise how(request, "level-with", "after 'until level with' comes a point of the paper")
    return like


def lines_to_raise_along(
    request: Request, some: Request, named: Sequence[PointValue | LineValue]
) -> list[LineValue]:
    """The lines among what is named. Raises Refusal for points, and for edges that are said to rise
    themselves: 'the left edge' without 'along' is what hands lift, and not where it turns.
    """
    lines = [value for value in named if isinstance(value, LineValue)]
    if len(lines) < len(named):
        raise how(request, "raise-along", "flaps are raised along lines: folds, creases, edges")
    bare = [v for c in some.clauses if c.word == "" for v in c.values if isinstance(v, LineValue)]
    lifted = next((value for value in bare if not value.name), None)
    if lifted is not None:
        raise Refusal(
            "not-a-line",
            f"{lifted.words.render()} tells what rises, and not where it turns: flaps are raised along the "
            "lines that they turn about",
            span=lifted.span,
        )
    return lines


def refuse_unraised(
    request: Request, some: Request, creases: Sequence[Segment], angle: float | None
) -> None:
    """Refuses 0 degrees of what is folded over already: nothing would be raised."""
    folds = [j.segment for j in request.state.joints if j.folded]
    over = all(any(overlap_of(crease, fold) for fold in folds) for crease in creases)
    end = some.clause("to")
    if angle is None or end is None or not is_zero(angle) or not over:
        return
    raise Refusal(
        "nothing-raised",
        "what is folded over along these lines lies at 0 degrees already: nothing is raised",
        write(end.values[0].span, "90 degrees", "say 'to 90 degrees' for upright"),
        "or, for wings level beside a body that stands upright, leave the angle out",
        span=request.span,
    )


def within_half_a_turn(some: Request) -> tuple[Hint | str, ...]:
    """What to say for an angle of more than half a turn."""
    clause = some.clause("to")
    upright = "90 degrees stands upright"
    angle = clause.values[0] if clause is not None else None
    if isinstance(angle, Quantity) and 180 < angle.value < 360:
        rest = f"{360 - angle.value:g} degrees"
        return (
            write(angle.span, rest, f"if it is counted round the back, say 'to {rest}'"),
            "or, to bend it to the other side, turn the paper over first",
        )
    return (
        write(clause.values[0].span, "90 degrees", "say 'to 90 degrees' for upright")
        if clause is not None
        else upright,
        "or, to bend it to the other side, turn the paper over first",
    )


def how(request: Request, code: str, message: str, *hints: str | Hint) -> Refusal:
    """What is wrong with the words, and how they may be written; the forms where nothing better is known."""
    forms = [f"write it like: {form}" for form in request.forms]
    return Refusal(code, message, *(hints or forms), span=request.span)
