"""Press: a part that was raised is pressed level with the paper that it hangs from, or with another part.

In: a `Request` with a point of the part. Out: an `Outcome` whose paper is as it lay, with a push at the
point, and the goal that a pose is found from: the crease is the one that the part was raised along.
"""

from __future__ import annotations

from collections import deque

from ..geometry import polygons
from ..geometry.lines import Segment, midpoint
from ..geometry.tolerance import is_zero
from ..languages.wording import phrase
from ..pose.goals import Level, Raise
from ..pose.pieces import cut_up
from ..pose.raising import parts
from ..source.diagnostics import Refusal
from .planning.at_points import places, pushed, signed
from .planning.fingers import Still
from .planning.request import Move, Outcome, PointValue, Remark, Request, Solid
from .planning.standing_up import UNTIL_LEVEL, how, level_with


def make(request: Request) -> Outcome:
    """Presses the part with a point level."""
    request.allow("", UNTIL_LEVEL, "with")
    (point, *more) = places(request, "")
    if more or not isinstance(point, PointValue) or point.sheet is None:
        raise how(request, "press-where", "one point of a raised part is pressed")
    if request.clause(UNTIL_LEVEL) is None:
        raise how(request, "press-how", "a raised part is pressed until it is level")
    like = level_with(request)
    goal = _raised(request, point)
    words = (
        phrase("Press {what} until the paper there is level.", what=point.words)
        if like is None
        else phrase(
            "Press {what} until the paper there is level with {goal}.",
            what=point.words,
            goal=like.words,
        )
    )
    done = signed(request, "push", [point], words, solid=Solid("it stands in space"))
    place = request.state.facets[request.state.facets_on_sheet(midpoint(*goal.creases[0]))[0]].place
    sign = pushed(point.at, place(midpoint(*goal.creases[0])))
    level = Level(goal.creases, 180.0, goal.senses, None if like is None else like.sheet)
    return Outcome(
        done.after,
        (sign,),
        words,
        letters=done.letters,
        solid=done.solid,
        claims=done.claims,
        goals=() if request.state.sheet.others else (level,),
        remarks=_opens_again(request, point, goal),
    )


def _opens_again(request: Request, point: PointValue, goal: Raise) -> tuple[Remark, ...]:
    """Told of paper that was folded over where it hangs: pressed level, it swings back and lies open."""
    before = [g for r in request.history for g in r.goals if isinstance(g, Raise)]
    last = next(g for g in reversed(before) if set(g.creases) & set(goal.creases))
    if not is_zero(last.angle):
        return ()
    name = request.called(goal.creases)
    along = f" along '{name}'" if name else " there"
    return (
        Remark(
            "press-opens",
            f"{point.words.render()} lies on paper that was folded over{along}: pressed level, that fold "
            "opens again",
            (
                "to bend only what lies beyond another crease, raise that: 'raise along m to 90 degrees'",
                f"or leave this out: what is folded over{along} lies on what is under it",
            ),
        ),
    )


def _raised(request: Request, point: PointValue) -> Raise:
    """The crease that the part with a point was raised along, next to it."""
    turns = [goal for r in request.history for goal in r.goals if isinstance(goal, Raise)]
    creases = [s for goal in turns for s in goal.creases]
    state = request.state
    assert point.sheet is not None
    at = point.sheet
    pieces = cut_up(state, creases)
    turning = pieces.on(creases)
    part = parts(pieces, turning)
    deep = [polygons.depth(pieces.polygon(k), at) for k in range(len(part))]
    mine = part[max(range(len(deep)), key=lambda k: (round(deep[k], 9), part[k], -k))]
    came: dict[int, int] = {0: -1}
    waiting = deque([0])
    while waiting:
        here = waiting.popleft()
        for k in turning:
            sides = part[pieces.seams[k].left], part[pieces.seams[k].right]
            for one, other in (sides, sides[::-1]):
                if one == here and other not in came:
                    came[other] = k
                    waiting.append(other)
    seam = came.get(mine, -1)
    if seam < 0:
        raise Refusal(
            "press-where",
            f"the paper at {point.words.render()} was not raised, and cannot be pressed level",
            "raise it along a crease first, or name a point of a part that was raised",
            span=point.span,
        )
    found: list[Segment] = []
    senses: list[int] = []
    home = {part[pieces.seams[seam].left], part[pieces.seams[seam].right]}
    for goal in turns:
        for n, crease in enumerate(goal.creases):
            on = pieces.on([crease], turning)
            if crease not in found and any(
                {part[pieces.seams[k].left], part[pieces.seams[k].right]} == home for k in on
            ):
                found.append(crease)
                senses.append(goal.senses[n] if n < len(goal.senses) else 0)
    return Raise(tuple(found), 180.0, tuple(senses))


MOVE = Move(
    "press",
    "press a raised part until it is level; the model stands in space",
    ("press P until level", "press P until level with Q"),
    make,
    flat=False,
    fingers=Still(),
)
