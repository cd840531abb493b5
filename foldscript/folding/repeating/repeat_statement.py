"""What a repeat says: its statement in, `Words` out. Nothing is looked up on the paper here."""

from __future__ import annotations

from dataclasses import dataclass, field

from ...geometry.tolerance import is_zero
from ...languages.wording import Phrase, Template, listed, phrase, plural
from ...source.diagnostics import Refusal, Span
from ...syntax import nodes

FORMS = (
    "repeat step 3 behind",
    "repeat steps 5 to 6 on the other side",
    "repeat step 3 on the left",
    "repeat step 3 at the top",
    "repeat step 1 on B and D",
    "repeat step 4, 3 times",
    "repeat step 2 again",
)
MOST_TIMES = 50

#: Where a repeat is done, in words.
SIDES: dict[str, Template] = {
    "other": "on the other side",
    "left": "on the left",
    "right": "on the right",
    "top": "at the top",
    "bottom": "at the bottom",
}
#: Sides, as they are called after 'on' or 'at'.
_NAMED = {
    "upper": "top",
    "lower": "bottom",
    **{side: side for side in ("left", "right", "top", "bottom")},
}


@dataclass
class RepeatStatement:
    """What the statement says.

    `joined` tells of 'on the other side and behind': both, and both together.
    """

    steps: nodes.StepRange | None = None
    times: int | None = None
    again: bool = False
    behind: bool = False
    side: str = ""
    points: list[nodes.Operand] = field(default_factory=list)
    joined: bool = False
    new_name: str = ""

    @property
    def placed(self) -> bool:
        """Whether it says where."""
        return self.behind or bool(self.side) or bool(self.points)


def read_repeat(statement: nodes.Statement) -> RepeatStatement:
    """Sorts the phrases; there is a step range in what comes out. Raises Refusal."""
    asked = RepeatStatement()
    last = ""
    for one in statement.phrases:
        operands = list(one.operands)
        for amount in [o for o in operands if isinstance(o, nodes.Amount)]:
            asked.times = _times(amount)
            operands.remove(amount)
        word = last if one.word == "and" else one.word
        if one.word == "and":
            asked.joined = True
        if word == "":
            for operand in operands:
                if not isinstance(operand, nodes.StepRange) or asked.steps is not None:
                    raise unclear(operand.span)
                asked.steps = operand
        elif word == "again" and not operands:
            asked.again = True
        elif word == "behind" and not operands:
            asked.behind = True
        elif word in ("left", "right") and not operands:
            asked.side = word
        elif word in ("on", "at") and len(operands) == 1 and _text(operands[0]) in _NAMED:
            asked.side = _NAMED[_text(operands[0])]
        elif word in ("on", "behind") and operands:
            _place(asked, operands)
            word = "on"
        elif word == "as" and len(operands) == 1 and isinstance(operands[0], nodes.Name):
            asked.new_name = operands[0].text
        elif operands or word not in ("on", "at", "behind"):
            raise unclear(one.span)
        last = word
    if asked.steps is None or (asked.again and asked.placed):
        raise unclear(statement.span)
    return asked


def _text(operand: nodes.Operand) -> str:
    return operand.text if isinstance(operand, nodes.Name) else ""


def _said(steps: nodes.StepRange | None) -> str:
    if steps is None:
        return "step 1"
    one = steps.first == steps.last
    return f"step {steps.first}" if one else f"steps {steps.first} to {steps.last}"


def _place(asked: RepeatStatement, operands: list[nodes.Operand]) -> None:
    names = [o.text for o in operands if isinstance(o, nodes.Name)]
    if names[:1] == ["other"] and names[1:] in (["flaps"], ["corners"], ["sides"]):
        raise Refusal(
            "repeat-times",
            f"'the other {names[1]}' does not say how many",
            f"say how often: 'repeat {_said(asked.steps)}, 3 times'",
            f"or name a point of each: 'on {'flaps ' if names[1] == 'flaps' else ''}B and D'",
            span=operands[0].span.cover(operands[-1].span),
        )
    if names == ["other", "side"]:
        asked.side = "other"
    else:
        first = operands[0]
        if isinstance(first, nodes.Name) and first.text in ("flap", "flaps") and len(operands) > 1:
            operands = operands[1:]
        asked.points.extend(operands)


def _times(amount: nodes.Amount) -> int:
    if not amount.unit:
        raise Refusal(
            "repeat-what",
            f"{amount.value:g} of what? A step is said by its number, and how often with 'times'",
            f"say 'repeat step {amount.value:g}', or '{amount.value:g} times'",
            span=amount.span,
        )
    if amount.unit != "times" or amount.value < 1 or not is_zero(amount.value % 1):
        raise Refusal(
            "repeat-times", "say how often with a whole number: '3 times'", span=amount.span
        )
    if amount.value > MOST_TIMES:
        raise Refusal(
            "too-many-repeats",
            f"{MOST_TIMES} times are the most that is repeated at once",
            span=amount.span,
        )
    return int(amount.value)


def unclear(span: Span) -> Refusal:
    return Refusal(
        "repeat-what",
        "say which step is repeated, and where",
        *(f"write it like: {form}" for form in FORMS),
        span=span,
    )


def where_phrase(asked: RepeatStatement) -> Phrase | None:
    """'behind', 'on the left', 'on flaps B and D'; None when it is not said."""
    side = Phrase(SIDES[asked.side]) if asked.side else None
    if asked.points:
        named = [o.text for o in asked.points if isinstance(o, nodes.Name)]
        names = [phrase("{name}", name=name) for name in named]
        if len(named) != len(asked.points):
            several = len(asked.points) > 1
            side = Phrase("on the flaps shown") if several else Phrase("on the flap shown")
        elif len(names) == 1:
            side = phrase("on flap {name}", name=names[0])
        else:
            side = phrase("on flaps {names}", names=listed(names))
    if not asked.behind:
        return side
    if side is None:
        return Phrase("behind")
    template: Template = "{where} and behind" if asked.joined else "{where}, behind"
    return phrase(template, where=side)


def sentence(asked: RepeatStatement, first: int, last: int, times: int) -> Phrase:
    """The caption of a repeat."""
    where = where_phrase(asked)
    steps = phrase("step {n}", n=str(first))
    if last == first + 1:
        steps = phrase("steps {n} and {m}", n=str(first), m=str(last))
    elif last > first:
        steps = phrase("steps {n} to {m}", n=str(first), m=str(last))
    counted = times > 1 and not asked.points and not asked.joined
    if where is None:
        if counted:
            return plural(
                "Repeat {steps} once more.", "Repeat {steps}, {n} more times.", times, steps=steps
            )
        return phrase("Repeat {steps}.", steps=steps)
    if counted:
        return plural(
            "Repeat {steps} {where} once more.",
            "Repeat {steps} {where}, {n} more times.",
            times,
            steps=steps,
            where=where,
        )
    return phrase("Repeat {steps} {where}.", steps=steps, where=where)
