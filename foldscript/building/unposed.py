"""What is said of a step whose pose was not found: what came of it, and what to try.

In: the pose that did not pass, the paper, the step. Out: why, and hints in the craft's words. What came
nearest is measured on the last attempt: it is what the paper can do when less is asked.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from ..folding.steps import Step
from ..geometry.lines import Point, distance, midpoint, overlap_of
from ..geometry.tolerance import same_point
from ..paper.state import State
from ..pose.goals import Blow, Open, Part, Raise
from ..pose.pose import Amiss, Pose, Reached
from ..source.diagnostics import Hint

#: A little less than what the paper came to, so that it is reached.
_LESS = 0.95
#: So many times what it came to, something was asked in another unit than was meant.
_FAR_TOO_MUCH = 3.0
#: Degrees that angles are told to.
_ROUND = 5

#: Degrees within which paper lies as flat as it can.
_FLAT = 5.0

#: Paper that came less far than so many degrees, and less than half of what was asked, has hardly moved.
_HARDLY = 10.0

#: Millimetres: what comes apart by less does not open.
_SHUT = 0.5

#: Folds that are named, where many turn.
_MOST_FOLDS = 3

#: The names of the creases that are raised to so many degrees.
Called = Callable[[float], Sequence[str]]

#: Whether a pose is found when a goal that was asked so much is asked another amount: kind, was, now.
Tried = Callable[[str, float, float], bool]


def _untried(kind: str, was: float, now: float) -> bool:
    del kind, was, now
    return True


_OPENING = Hint("where fingers go into a pocket, name a place of it: add 'opening' and a point")
_IN_TURN = Hint("raise what lies on it first, in a statement before, or say 'opening' and a point")
_FIRST = Hint("raise what lies on it first, in a statement before")
_FLAP_FIRST = Hint("where a flap lies on it, raise that first, in a statement before")
LESS_OF_IT = Hint("ask for less: a smaller angle or width")
_OTHER_WAY = Hint(
    "pull it to the side on which nothing lies, or say what is held: 'holding' and a point"
)
_ELSEWHERE = Hint("unfold or raise first what keeps it shut, or name an edge where layers lie open")
_FILLED = (
    Hint("crease it before where it is to bend: paper that is blown up bends along creases best"),
    Hint("or unfold first what keeps the pocket narrow"),
    Hint("or leave this out, and tell in the step's sentence what hands do"),
)
_HELD_UP = Hint("fold first what keeps walls up: flaps folded in, or over the rim")
_THREE_FEET = Hint("name three places that lie apart, such as the ends of its legs")
_EVENLY = Hint("say it of all places that are alike, or of one that lies alike on all sides")


def said_of(
    pose: Pose, paper: State, step: Step, called: Called, tried: Tried = _untried
) -> tuple[str, tuple[Hint, ...]]:
    """Why it did not pass, and what to try; `paper` as it lay when the pose was made from it.

    An amount is offered only where a pose is found with it, as `tried` tells. Fingers are spoken of only
    where a move of the step takes 'opening'.
    """
    why, hints = _told(pose, paper, step, called, tried)
    if not _takes_fingers(step):
        said = (_FIRST if hint == _IN_TURN else hint for hint in hints if hint != _OPENING)
        hints = tuple(said) or (LESS_OF_IT,)
    if all(fault.kind is Amiss.MISSED for fault in pose.proof.faults):
        hints = (*hints[:1], *(replace(hint, text=f"or {hint.text}") for hint in hints[1:]))
    return why, hints


def _takes_fingers(step: Step) -> bool:
    """Whether fingers can still be said: a move of the step takes 'opening', and none is in a pocket yet."""
    if any(isinstance(goal, Part) for record in step.records for goal in record.goals):
        return False
    moves = [record.move for record in step.records if record.move is not None]
    return not moves or any(" opening " in form for move in moves for form in move.forms)


def _told(
    pose: Pose, paper: State, step: Step, called: Called, tried: Tried
) -> tuple[str, tuple[Hint, ...]]:
    proof = pose.proof
    missed = next((one for one in proof.reached if not one.enough), None)
    first = proof.faults[0]
    wide = _wider_than_long(missed, paper, step)
    if wide is not None:
        return wide
    if missed is not None and missed.goal == "width" and missed.got < _SHUT:
        return f"nothing opens there{_while(paper, step)}", (_ELSEWHERE,)
    if proof.where is not None:
        return f"{first.text}, {_located(paper, step, proof.where)}", (_IN_TURN,)
    only = all(f.kind is Amiss.MISSED for f in proof.faults)
    if missed is not None and (only or _hardly_moved(missed)):
        return _missed(missed, first.text, called, tried)
    if any(isinstance(goal, Blow) for record in step.records for goal in record.goals):
        return first.text, _FILLED
    if first.kind in (Amiss.THROUGH, Amiss.SWAPPED):
        goals = [goal for record in step.records for goal in record.goals]
        raised = any(isinstance(goal, Raise) for goal in goals)
        return first.text, (_FLAP_FIRST, _OPENING, LESS_OF_IT) if raised else (LESS_OF_IT,)
    if first.kind is Amiss.UNEVEN:
        return first.text, (_EVENLY,)
    if first.kind is Amiss.TURNED:
        return f"{first.text}: {_which(pose, paper, step)}", (_OPENING,)
    if first.kind is Amiss.HELD:
        return first.text, (_OPENING,)
    return first.text, (LESS_OF_IT, _OPENING)


def _hardly_moved(one: Reached) -> bool:
    """Whether flaps stay shut, or flat: whatever else is amiss then comes of what holds them."""
    if one.goal != "raise":
        return False
    ways = ((one.got, one.asked), (180.0 - one.got, 180.0 - one.asked))
    return any(came < min(_HARDLY, asked / 2) for came, asked in ways)


def _wider_than_long(
    missed: Reached | None, paper: State, step: Step
) -> tuple[str, tuple[Hint, ...]] | None:
    """What to say of an edge that is to open wider than it is long; None for others."""
    edges = [g.edge for record in step.records for g in record.goals if isinstance(g, Open)]
    if missed is None or missed.goal != "width" or not edges:
        return None
    long = min(distance(*edge) for edge in edges) * paper.sheet.unit_mm
    if missed.asked < long:
        return None
    why = f"an edge {long / 10:.1f} cm long does not open {missed.asked / 10:.1f} cm wide"
    return why, (Hint(f"say 'by {long / 30:.0f} cm', or another width well below its length"),)


def _while(paper: State, step: Step) -> str:
    """What keeps an edge shut that is to be opened: paper that is folded along it, where it is."""
    edges = [g.edge for record in step.records for g in record.goals if isinstance(g, Open)]
    folds = [seg for _, seg in paper.fold_segments]
    along = any(overlap_of(edge, seg) is not None for edge in edges for seg in folds)
    return " while the paper stays folded along that edge" if along else ""


def _which(pose: Pose, paper: State, step: Step) -> str:
    """Folds that have turned, by the places at their ends: 'the fold from A to P'; few, and how many more."""
    unit = paper.sheet.unit_mm
    rows: dict[str, None] = {}
    for k in pose.proof.turned:
        edge = pose.edges[k]
        ends = [(x / unit, y / unit) for x, y in (pose.sheet[edge.start], pose.sheet[edge.end])]
        names = [name_of(paper, step, end) for end in ends]
        if all(names):
            rows[f"the fold from {names[0]} to {names[1]}"] = None
        else:
            rows[f"the fold {_located(paper, step, paper.where(midpoint(*ends)))}"] = None
    *some, last = [*rows][:_MOST_FOLDS]
    more = len(rows) - len(some) - 1
    if more:
        some, last = [*some, last], f"{more} more"
    return f"{', '.join(some)} and {last}" if some else last


def name_of(paper: State, step: Step, at: Point) -> str:
    """'A', a name that the script knows for a place of the sheet; '' where it has none."""
    names = ((name, paper.sheet.corner(name)) for name in paper.sheet.corner_names)
    return next((name for name, place in (*names, *step.named) if same_point(at, place)), "")


def _located(paper: State, step: Step, spot: Point) -> str:
    """A place of the folded plane in words: '12 mm from corner B'."""
    sheet = paper.sheet
    places = [(f"corner {name}", paper.where(sheet.corner(name))) for name in sheet.corner_names]
    places += [(f"point {name}", paper.where(at)) for name, at in step.named]
    what, at = min(places, key=lambda place: round(distance(place[1], spot), 6))
    mm = round(distance(at, spot) * sheet.unit_mm)
    return f"{mm} mm from {what}" if mm else f"at {what}"


def _missed(one: Reached, fault: str, called: Called, tried: Tried) -> tuple[str, tuple[Hint, ...]]:
    if one.goal == "width":
        wide = math.floor(_LESS * one.got) / 10
        why = f"the paper comes {one.got / 10:.1f} cm apart there, not {one.asked / 10:.1f} cm"
        if wide > 0.2 and tried("width", one.asked, 10 * wide):
            return why, (Hint(f"say 'by {wide:g} cm'"),)
        return why, (_OPENING,) if wide <= 0.2 else (LESS_OF_IT,)
    if one.goal == "pull":
        far = math.floor(_LESS * one.got) / 10
        why = f"the point comes {one.got / 10:.1f} cm, not {one.asked / 10:.1f} cm"
        near = far > 0.2 and tried("pull", one.asked, 10 * far)
        if _FAR_TOO_MUCH * one.got < one.asked < 10 * one.got and tried(
            "pull", one.asked, one.asked / 10
        ):
            meant = f"if {one.asked / 10:g} mm are meant, say 'by {one.asked / 100:g} cm'"
            more = (Hint(f"say 'by {far:g} cm': farther it does not come"),) if near else ()
            return why, (Hint(meant), *more)
        return why, (Hint(f"say 'by {far:g} cm'") if near else _OTHER_WAY,)
    if one.goal == "opening":
        return "no pocket opens at that place", (
            Hint("turn the model over first, where the pocket is behind, or name another place"),
        )
    if one.goal == "hold":
        why = f"layers come {one.got:.0f} mm apart where they are held together"
        return why, (Hint("hold them where the rest can open without them"),)
    if one.goal == "level":
        why = f"the flap stays {one.got:.0f} degrees off level"
        return why, (Hint("say the angle instead: 'to 60 degrees'"),)
    if one.goal == "raise":
        names = called(one.asked)
        row = " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
        along = f"along {row} " if names else ""
        if one.got < _FLAT or (_hardly_moved(one) and one.got < one.asked):
            why = f"{along}the paper stays folded flat together"
            return why, (
                Hint("unfold first what is folded across it, or raise that first"),
                _OPENING,
            )
        if one.got > 180 - _FLAT or _hardly_moved(one):
            why = f"{along}the paper stays flat: other folds hold it so"
            line = names[0] if names else "k"
            over = f"'valley along {line}, moving' and a point of that part"
            hint = f"fold the part over first, in a step before: {over}; then 'raise along {line}'"
            return why, (Hint(hint), _OPENING)
        way = f"on its way to {one.asked:.0f} (0 is folded over, 180 lies flat)"
        why = f"{along}the paper stops at {one.got:.0f} degrees {way}: other folds hold it"
        angle = _ROUND * round(one.got / _ROUND)
        near = 10 <= angle <= 170 and abs(angle - one.asked) > _ROUND
        near = near and tried("raise", one.asked, float(angle))
        return why, (*([Hint(f"say 'to {angle} degrees'")] if near else []), _OPENING)
    if one.goal == "blow":
        why = f"it holds {one.got:.1f} cm³ of air, too little to look blown up"
        return why, (Hint("name a place at the edge of the pocket that the breath goes into"),)
    if one.goal == "stand":
        return f"it does not stand there: {one.got:.0f} {one.unit}", (
            Hint("name feet on all sides of its middle, all as high as each other"),
        )
    if one.goal == "walls":
        why = "the paper opens flat: nothing holds up walls round the floor"
        return why, (_HELD_UP,)
    if one.goal == "feet":
        return "the places it is to stand on lie on each other: that is one foot", (_THREE_FEET,)
    if one.goal == "bring":
        return f"the point stays {one.got:.0f} mm short of the place", (
            Hint("name a place that it reaches without paper being stretched"),
        )
    return fault, (LESS_OF_IT,)
