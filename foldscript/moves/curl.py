"""Curl: a point or an edge is rolled on a cylinder, round a pencil or as round as is said.

In: a `Request` with points and edges at the rim. Out: an `Outcome` whose paper is as it lay, with a sign
at each place, and the goals that a pose is found from. How far the paper goes, which way the axis runs and
which side comes inside follow from the flap where they are not said.
"""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import polygons
from ..geometry.isometries import inverse
from ..geometry.lines import Point, Segment, add, distance, midpoint, scale, subtract, unit
from ..geometry.tolerance import FOLDED
from ..languages.wording import Number, Phrase, phrase
from ..paper.state import State
from ..pose.curling import rolled_over, times_round
from ..pose.flaps import depth_along, free, in_plane, inward, on_sheet, own
from ..pose.flattening import FLAT_PART, raised_crease
from ..pose.goals import Curl, Raise
from ..source.diagnostics import Hint, Refusal, write
from .planning.at_points import listed, places, signed, spot_of
from .planning.fingers import Still
from .planning.request import LineValue, Move, Outcome, PointValue, Quantity, Request, Solid

#: Thickness of what paper is curled round (mm). Common practice.
THICK = {"round a pencil": 7.0, "round a finger": 15.0}
#: Turns that a flap makes round a thing that is said, and where nothing is; more than the last rolls it onto
#: itself.
_ROUND, _GENTLE, _MOST = 3 / 4, 1 / 4, 11 / 12
#: From the tip, a look at what lies over and under it (sheet units).
_INSIDE = 1e-3
_SIDES = {
    "outwards": Phrase("outwards"),
    "inwards": Phrase("inwards"),
    "in front": Phrase("to the front"),
    "behind": Phrase("to the back"),
}


def make(request: Request) -> Outcome:
    """Curls every place named."""
    request.allow("", "at", "and", "to", "by", "round", *THICK, *_SIDES)
    named = places(request, "", "at")
    target = places(request, "to")[0] if request.clause("to") is not None else None
    goal = None if target is None else spot_of(target)
    done = signed(
        request,
        "curl",
        named,
        _words(request, named),
        leads=lambda spot: goal,
        solid=Solid("a part was curled", partly=True),
    )
    return replace(done, goals=() if request.state.sheet.others else _goals(request, named, goal))


def _words(request: Request, named: list[PointValue | LineValue]) -> Phrase:
    side = next((words for said, words in _SIDES.items() if request.clause(said)), None)
    thing = None
    if request.clause("round a pencil") is not None:
        thing = Phrase("a pencil")
    elif request.clause("round a finger") is not None:
        thing = Phrase("a finger")
    elif request.clause("round") is not None:
        thing = phrase("something {n} mm thick", n=Number(f"{_thick(request):g}"))
    what = listed(named)
    if side is None:
        if thing is None:
            return phrase("Curl the paper at {what}.", what=what)
        return phrase("Curl the paper at {what} round {thing}.", what=what, thing=thing)
    if thing is None:
        return phrase("Curl the paper at {what} {side}.", what=what, side=side)
    return phrase(
        "Curl the paper at {what} {side}, round {thing}.", what=what, side=side, thing=thing
    )


def _thick(request: Request) -> float | None:
    """Thickness (mm) of what the paper is curled round; None where nothing is said."""
    for said, thick in THICK.items():
        if request.clause(said) is not None:
            return thick
    clause = request.clause("round")
    if clause is None:
        return None
    return _length(request, "round")


def _length(request: Request, word: str) -> float:
    clause = request.clause(word)
    found = [] if clause is None else [v for v in clause.values if isinstance(v, Quantity)]
    if len(found) != 1 or found[0].unit != "mm" or found[0].value < 1e-3:
        bare = [v for v in found if not v.unit]
        units = ("mm", "cm") if any(v.value >= 10 for v in bare) else ("cm", "mm")
        hints = [
            write(v.span, f"{v.value:g} {unit}", f"say '{word} {v.value:g} {unit}'")
            for v in bare
            for unit in units
        ]
        raise _how(request, "say-how-far", f"after '{word}' comes a length, as in '4 cm'", *hints)
    return found[0].value


def _goals(
    request: Request, named: list[PointValue | LineValue], goal: Point | None
) -> tuple[Curl, ...]:
    """The curls; none where no side was said, and the paper does not tell which."""
    state = request.state
    turns = [g for r in request.history for g in r.goals if isinstance(g, Raise)]
    begun = [_begun(request, value, turns, goal) for value in named]
    outside = [_front_outside(state, curl) for curl in begun]
    known = {front for front in outside if front is not None}
    if not known:
        outside = [_front_away(state, curl) for curl in begun]
    said = next((side for side in _SIDES if request.clause(side) is not None), "")
    out: list[Curl] = []
    for curl, front in zip(begun, outside, strict=True):
        if said in ("in front", "behind") or (not said and _alone(state, curl)):
            up = state.facets[in_plane(state, curl.point, curl.begins)[0]].shows_front
            out.append(replace(curl, front_inside=up == (said != "behind")))
        elif front is not None or len(known) == 1:
            facing = next(iter(known)) if front is None else front
            out.append(replace(curl, front_inside=facing == (said != "inwards")))
        elif said:
            raise Refusal(
                "curl-side",
                "the paper does not tell which side of it is outside",
                "say 'in front' or 'behind' instead",
                span=request.span,
            )
    return tuple(out) if len(out) == len(begun) else ()


def _begun(
    request: Request, value: PointValue | LineValue, turns: list[Raise], goal: Point | None
) -> Curl:
    """Where a roll begins, and how round it is; its side is not settled yet."""
    state = request.state
    point = _rim(request, value)
    thick, crease = _thick(request), raised_crease(state, turns, point)
    tip = state.where(point)
    way = inward(state, point) if crease is None else _along(state, crease[0])
    if goal is not None and distance(tip, goal) > _INSIDE:
        way = unit(subtract(goal, tip))
    if way is None:
        raise _how(request, "curl-where", "paper is curled from a point at its rim, or an edge")
    deep = depth_along(state, point, tip, way)
    room = free(state, point, tip, way)
    room = deep / 2 if room is None else min(room, deep)
    if crease is not None:
        room *= FLAT_PART
    radius = None if thick is None else thick / 2 / request.unit_mm
    if request.clause("by") is not None:
        far = _length(request, "by") / request.unit_mm
    elif goal is not None:
        far = distance(tip, goal)
    else:
        far = room if radius is None else min(room, _ROUND * 2 * math.pi * radius)
    if far < _INSIDE:
        raise _nothing_to_roll(request, value, deep, goal)
    if far > deep + _INSIDE:
        raise _how(request, "curl-too-far", "the paper does not reach so far from there")
    if radius is None:
        radius = far / (_GENTLE * 2 * math.pi)
    begins = add(tip, scale(way, far))
    if crease is not None:
        (p, q), _ = crease
        place = add(p, scale(unit(subtract(q, p)), far))
    else:
        place = on_sheet(state, point, begins)
    curl = Curl(point, place, radius * request.unit_mm, True)
    if (times := times_round(state, curl)) > _MOST:
        raise rolled_over(times, *_forms(request), span=request.span)
    return curl


def _nothing_to_roll(
    request: Request, value: PointValue | LineValue, deep: float, goal: Point | None
) -> Refusal:
    """Why no paper is rolled from a place."""
    what = value.words.render()
    if goal is not None:
        return _how(request, "curl-too-short", f"{what} lies there already")
    if deep < _INSIDE:
        return _how(request, "curl-where", "paper is curled from a point at its rim, or an edge")
    return Refusal(
        "curl-held",
        f"no layer is free to be curled at {what}: others hold it right up to there",
        "name a point of a flap that only its own fold holds",
        "or free it first",
        span=value.span,
    )


def _along(state: State, crease: Segment) -> Point:
    """The way of a crease in the folded plane, from its first end."""
    p, q = crease
    middle = midpoint(p, q)
    place = state.facets[state.facets_on_sheet(middle)[0]].place
    return unit(subtract(place(q), place(p)))


def _rim(request: Request, value: PointValue | LineValue) -> Point:
    """The point of the sheet that a place stands for: the middle of an edge, on its uppermost layer."""
    spot = spot_of(value)
    if isinstance(value, PointValue) and value.sheet is not None:
        return value.sheet
    here = [i for i in value.facets if polygons.inside(request.state.placed[i], spot, FOLDED)]
    if not here:
        raise _how(request, "curl-where", "there is no paper to curl there")
    return inverse(request.state.facets[here[0]].place)(spot)


def _stack(state: State, curl: Curl) -> tuple[int, ...]:
    """What lies over each other just inside a point, topmost first."""
    _, tip, begins = in_plane(state, curl.point, curl.begins)
    return state.facets_at(add(tip, scale(unit(subtract(begins, tip)), _INSIDE)))


def _alone(state: State, curl: Curl) -> bool:
    """Whether nothing lies before or behind a point but what goes with it."""
    return set(_stack(state, curl)) <= own(state, curl.point)


def _front_outside(state: State, curl: Curl) -> bool | None:
    """Whether the sheet's front faces outwards at a point whose flap is the first or the last there."""
    stack, mine = _stack(state, curl), own(state, curl.point)
    first, last = stack[0] in mine, stack[-1] in mine
    if first == last:
        return None
    shows = state.facets[in_plane(state, curl.point, curl.begins)[0]].shows_front
    return shows == first


def _front_away(state: State, curl: Curl) -> bool | None:
    """Whether the sheet's front faces away from the layer that a flap amid others hangs from."""
    stack, mine = _stack(state, curl), own(state, curl.point)
    places = [k for k, facet in enumerate(stack) if facet in mine]
    around = (stack[: places[0]][-1:], stack[places[-1] + 1 :][:1])
    hangs = [any(_joined(state, mine, state.plate(f)) for f in some) for some in around]
    if hangs[0] == hangs[1]:
        return None
    shows = state.facets[in_plane(state, curl.point, curl.begins)[0]].shows_front
    return shows != hangs[0]


def _joined(state: State, one: frozenset[int], other: frozenset[int]) -> bool:
    """Whether some of the one hangs together with some of the other."""
    return any((j.a in one and j.b in other) or (j.b in one and j.a in other) for j in state.joints)


def _how(request: Request, code: str, message: str, *hints: str | Hint) -> Refusal:
    return Refusal(code, message, *hints, *_forms(request), span=request.span)


def _forms(request: Request) -> list[str]:
    return [f"write it like: {form}" for form in request.forms]


MOVE = Move(
    "curl",
    "roll a point or an edge round a pencil, or as round as is said; the model is flat no longer",
    (
        "curl A",
        "curl A and B outwards, round a pencil",
        "curl the top edge behind, round 12 mm, by 3 cm",
        "curl A to P",
    ),
    make,
    flat=False,
    tools=("a pencil to curl the paper round",),
    fingers=Still(),
)
