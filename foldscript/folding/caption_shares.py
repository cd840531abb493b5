"""A caption that folds a third, over a fold of another width.

In: a step as folded, and the words of its only fold. Out: a warning, or none. A corner brought to the mark at
a third folds half a third over: it is the most frequent slip of all with parts (common practice).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..geometry.lines import Point
from ..geometry.tolerance import EPS
from ..moves.planning.request import MoveRecord
from ..paper.silhouette import extent
from ..paper.state import State
from ..source.diagnostics import Diagnostic, Edit, Hint, Severity
from ..syntax import nodes
from .earlier_lines import WAYS

_SHARE = re.compile(
    r"\b(?:fold|bring|take) (?:up |down |over |in )?(?:the )?(left|right|top|bottom|upper|lower) "
    r"(?:(?:door|edge|side|part|end)(?: (?:up|down|over|in))?,? (?:by )?an? )?"
    r"(third|quarter|fourth|fifth|sixth)\b(?! of the (?:edge|way))",
    re.IGNORECASE,
)
_PARTS = {"third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6}
_NAMES = {2: "half", 3: "a third", 4: "a quarter", 5: "a fifth", 6: "a sixth", 8: "an eighth"}
_HEIGHTS = {"lower": "bottom", "upper": "top"}
#: A share that differs by less is the one that was said (part of the paper's width): hands are no nearer.
_ABOUT = 0.03


@dataclass(frozen=True)
class Folded:
    """A step as far as it is folded: the paper before it, its moves, and the points that have names."""

    number: int
    before: State
    records: Sequence[MoveRecord]
    named: Mapping[str, Point]


def another_share(
    caption: str, made: nodes.Statement, step: Folded, program: nodes.Program
) -> Diagnostic | None:
    """The warning for a fold that carries over another part than the caption says.

    `made` : the only fold of the step
    """
    said = _SHARE.search(caption)
    record = next((one for one in step.records if one.folded), None)
    if said is None or record is None or any(one.turn is not None for one in step.records):
        return None
    side = said[1].lower()
    axis, sign = WAYS[_HEIGHTS.get(side, side)]
    part = _PARTS[said[2].lower()]
    over = _reach(record.before, axis, sign) - _reach(record.after, axis, sign)
    sheet = record.before.sheet
    # Of the paper as it lies, or of the sheet: 'the top third' may be what is left of three.
    whole = (extent(record.before)[axis], *(_width(sheet.outline, k) for k in (0, 1)))
    if over <= EPS or any(abs(over / size - 1 / part) < _ABOUT for size in whole):
        return None
    share = _named_share(over / whole[0])
    return Diagnostic(
        "caption-part",
        f"the caption folds {_NAMES[part]} over, and this folds {share} (in step {step.number})",
        made.span,
        (
            *_further(made, step, whole[0] / part, axis, sign, program),
            Hint("a corner folds half as much over as it is carried: bring it twice as far")
            if abs(over / whole[0] - 0.5 / part) < _ABOUT
            else Hint(f"say where {_NAMES[part]} ends, or say in the caption how much goes"),
        ),
        Severity.WARNING,
        program.source,
    )


def _further(
    made: nodes.Statement, step: Folded, wide: float, axis: int, sign: int, program: nodes.Program
) -> Iterator[Hint]:
    """The named points to which the corner has to go for so wide a part."""
    who, goal = (
        next((p.operands[0] for p in made.phrases if p.word == word and len(p.operands) == 1), None)
        for word in ("", "to")
    )
    places = {**step.named, **_corners(step.before)}
    if not isinstance(who, nodes.Name) or not isinstance(goal, nodes.Name):
        return
    if who.text not in places:
        return
    start = step.before.where(places[who.text])
    for name, point in sorted(places.items()):
        x, y = step.before.where(point)
        along = (start[axis] - (x, y)[axis]) * sign
        aside = start[1 - axis] - (x, y)[1 - axis]
        if abs(along - 2 * wide) < EPS and abs(aside) < EPS:
            yield Hint(f"say 'to {name}'", edit=Edit(goal.span, name))


def _corners(state: State) -> dict[str, tuple[float, float]]:
    return {name: state.sheet.corner(name) for name in state.sheet.corner_names}


def _reach(state: State, axis: int, sign: int) -> float:
    return max(sign * p[axis] for ring in state.placed for p in ring)


def _width(outline: tuple[tuple[float, float], ...], axis: int) -> float:
    values = [p[axis] for p in outline]
    return max(values) - min(values)


def _named_share(share: float) -> str:
    """'a sixth', '3/8', or 'another part'."""
    near = Fraction(share).limit_denominator(12)
    if abs(near - share) > _ABOUT / 3 or not near:
        return "another part"
    return _NAMES.get(near.denominator, str(near)) if near.numerator == 1 else str(near)
