"""Points that are named where they were marked, and lie elsewhere since their flap has moved.

In: a statement, and the folding that it is to go on from. Out: remarks that say where such a point was
marked and where it lies. A name goes with the paper, so that is no fault; but where several layers lay at
the place that was marked, the topmost took the name along, and whoever looks for the point where the other
layers stayed is mistaken; and where something is to come 'to' a place that has no paper left, the place may
have been meant. Told once, when the point is used first after its paper has moved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ...geometry import lines as geo
from ...geometry.isometries import IDENTITY, Isometry, compose, inverse
from ...geometry.lines import Point
from ...geometry.tolerance import FOLDED
from ...moves.planning.request import LineValue, MoveRecord, PointValue, Remark
from ...paper.state import State
from ...source.diagnostics import Refusal
from ...syntax import nodes
from .doubts import operands
from .names import Names, locate
from .resolved import ResolvedStatement
from .scope import Scope

#: What follows these words is a place; what follows others is paper that moves, stays or lies in the way,
#: and paper is meant wherever it is now.
_PLACES = ("to", "onto", "through", "along", "perpendicular to", "near", "at", "from")
#: After these, 'and' goes on with another place.
_ROWS = ("through", "along", "at")


def moved_marks(
    state: State,
    names: Names,
    statements: Sequence[ResolvedStatement],
    history: Sequence[MoveRecord],
    statement: nodes.Statement,
) -> tuple[Remark, ...]:
    """A remark for every mark that the statement uses as a place and that has moved."""
    used: dict[str, bool] = {}  # and whether something comes to it
    last = ""
    for phrase in statement.phrases:
        if phrase.word in _PLACES or (phrase.word == "and" and last in _ROWS):
            said = (node for node in operands(phrase) if isinstance(node, nodes.Name))
            goal = phrase.word == "to" and [type(o) for o in phrase.operands] == [nodes.Name]
            used |= {node.text: goal for node in said if node.text in names.points}
        if phrase.word != "and":
            last = phrase.word
    found = (_moved(state, names, statements, history, *one) for one in used.items())
    return tuple(remark for remark in found if remark is not None)


def moved_in_a_row(
    state: State, names: Names, history: Sequence[MoveRecord], step: int, statement: nodes.Statement
) -> tuple[Remark, ...]:
    """A remark for a part of the way between two points of which an earlier fold of the step has moved one.

    Folds of one step are mostly meant on the paper as it lay when the step began: what is folded up on both
    sides by a quarter of the way between them comes out unlike, where the second way is shorter.
    """
    row = [record for record in history if record.step == step]
    first = next((record.before for record in row if record.folded), None)
    if first is None or any(record.turn is not None for record in row):
        return ()
    places = [
        node for phrase in statement.phrases if phrase.word in _PLACES for node in operands(phrase)
    ]
    for node in places:
        seen = isinstance(node, nodes.FractionOfLine) and isinstance(node.line, nodes.Seen)
        if seen and statement.verb != "mark":  # whoever marks a place after a fold, means it then
            assert isinstance(node, nodes.FractionOfLine)
            told = _shortened(node, [record.before for record in row], state, names)
            if told is not None:
                return (told,)
    for node in places:
        if not isinstance(node, nodes.Fraction) or node.way != "line":
            continue
        ends = [o.text for o in (node.start, node.end) if isinstance(o, nodes.Name)]
        marks = [names.points[name] for name in ends if name in names.points]
        if len(marks) != 2:
            continue
        was, now = (geo.distance(*map(paper.where, marks)) for paper in (first, state))
        if abs(was - now) > FOLDED:
            mm = state.sheet.unit_mm
            return (
                Remark(
                    "moved-in-a-row",
                    f"from {ends[0]} to {ends[1]} it is {now * mm:.0f} mm now, and was {was * mm:.0f} mm "
                    "before this step folded one of them over: the part is measured as they lie now",
                    (
                        "to measure it as they lay, mark the place above the first fold of the step",
                        "if it is meant as they lie now, all is well",
                    ),
                ),
            )
    return ()


def _shortened(
    node: nodes.FractionOfLine, earlier: Sequence[State], state: State, names: Names
) -> Remark | None:
    """A remark for a part of an edge, as seen, that an earlier fold of the step has left shorter."""
    assert isinstance(node.line, nodes.Seen)
    now = Scope(state, names, ())
    edge, at = now.line(node.line).line, now.point(node).at
    for paper in earlier:
        then = Scope(paper, names, ())
        try:
            lay, was = then.line(node.line).line, then.point(node).at
        except Refusal:
            continue
        far = geo.distance(was, at)
        if geo.same_line(edge, lay) and far > FOLDED:
            words = f"the {' '.join(node.line.toward)} edge"
            return Remark(
                "moved-in-a-row",
                f"an earlier fold of this step has left {words} shorter: the place on it that is named lies "
                f"{far * state.sheet.unit_mm:.0f} mm from where it was before",
                (
                    "to use the place as it was, mark it above that fold, and say its name here",
                    "if it is meant as it lies now, all is well",
                ),
            )
    return None


def _moved(
    state: State,
    names: Names,
    statements: Sequence[ResolvedStatement],
    history: Sequence[MoveRecord],
    name: str,
    goal: bool,
) -> Remark | None:
    at = names.points[name]
    now, turn, said = state.where(at), IDENTITY, False
    for resolved, record in zip(reversed(statements), reversed(history), strict=True):
        if record.step == 0:
            return None  # marked in what the model starts from
        if record.turn is not None:
            turn = compose(turn, record.turn)
        if resolved.new_name == name:
            gone = goal and not said
            return _since(state, names, name, record, turn, gone) if _by_place(resolved) else None
        spots = _spots(resolved, name)
        if any(geo.distance(turn(spot), now) <= FOLDED for spot in spots):
            return None  # used where it lies now before
        said = said or bool(spots)
    return None


def _by_place(resolved: ResolvedStatement) -> bool:
    """Whether a mark was set where the eye saw it, and not on paper that was named."""
    values = [v for clause in resolved.clauses for v in clause.values]
    return all(isinstance(v, PointValue) and not v.letter and not v.layer for v in values)


def _spots(resolved: ResolvedStatement, name: str) -> list[Point]:
    """Where a point lay when a statement used it."""
    spots: list[Point] = []
    for value in (v for clause in resolved.clauses for v in clause.values):
        if isinstance(value, PointValue) and value.letter == name:
            spots.append(value.at)
        elif isinstance(value, LineValue):
            spots += [at for letter, at in value.letters if letter == name]
    return spots


def _since(
    state: State, names: Names, name: str, record: MoveRecord, turn: Isometry, goal: bool
) -> Remark | None:
    """What has become of a mark: `turn` is how the whole model has been turned since."""
    at, before = names.points[name], record.before
    spot = before.where(at)
    was, now = turn(spot), state.where(at)
    apart = geo.distance(was, now)
    if apart <= FOLDED:
        return None
    own = set(before.facets_on_sheet(at))
    others = [inverse(before.facets[i].place)(spot) for i in before.facets_at(spot) if i not in own]
    stayed = any(geo.distance(state.where(other), was) <= FOLDED for other in others)
    if not stayed and not goal:
        return None  # all the paper that was there has gone along
    rest = replace(names, points={n: p for n, p in names.points.items() if n != name})
    return Remark(
        "mark-moved",
        f"point {name} has gone along with the layer that it was marked on: step {record.step} marked it "
        f"{locate(state, rest, was)}, and it lies {locate(state, rest, now)} now, "
        f"{apart * state.sheet.unit_mm:.0f} mm from there",
        (
            f"if the place is meant where the other layers stayed, mark it on them: "
            f"'mark {name}2 at bottom layer at ...', or by lines that meet there"
            if stayed
            else "if the place is meant where it was, no paper lies there now: name another",
            f"if {name} is meant where it lies now, all is well",
        ),
    )
