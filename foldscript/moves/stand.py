"""Raise, open, spread: what hands do so that the flat model stands in space, and how far.

In: a `Request` with creases, edges, points and an amount. Out: an `Outcome` whose paper is as it lay, with
the goals that a pose is found from (`foldscript/pose`), and the sign for those that look at the flat
figure. What opens and what stays together follows from the paper; the words only say where, and how far.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import takewhile

from ..geometry.isometries import map_segment
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    between,
    distance,
    line_through,
    midpoint,
    on_line,
    same_line,
    scale,
    signed_distance,
    subtract,
)
from ..geometry.polygons import clip_segment
from ..languages.wording import Number, Phrase, phrase
from ..paper.signs import Arrow, FoldLine, Sense, Sign
from ..paper.silhouette import centre
from ..paper.state import State
from ..pose.flaps import own
from ..pose.goals import Fan, Goal, Raise, Spread
from ..pose.raising import hanging, staying_facets
from ..source.diagnostics import Refusal
from .planning.at_points import OPEN_OUT, listed, places, pushed, signed
from .planning.fingers import Still
from .planning.pockets import slipped_into
from .planning.request import (
    Clause,
    LineValue,
    Move,
    Outcome,
    PointValue,
    Quantity,
    Request,
    Solid,
)
from .shape import mouth, opened

#: Sheet units within which a place is on a line.
_ON = 1e-3
#: Share of a crease from its flap's tip at which its two sides are looked up.
_NEAR_TIP = 0.05
#: How far round a place it is looked whether paper stays there (sheet units).
_ROUND = 0.02
_STANDS = Solid("it stands in space")


def raise_flaps(request: Request) -> Outcome:
    """Raises flaps about creases, at right angles or to an angle."""
    request.allow("", "along", "and", "to", "opening")
    parted = slipped_into(request)
    groups = [_group(request, some) for some in _one_by_one(request)]
    goals = tuple(goal for _, _, goal in groups)
    named = [line for lines, _, _ in groups for line in lines]
    words = groups[0][1]
    for _, more, _ in groups[1:]:
        words = phrase("{first} {then}", first=words, then=more)
    spots = [place for place, _ in parted]
    if spots:
        words = phrase(
            "Slip your fingers into the pocket at {place}, and into all that are like it. {then}",
            place=listed(spots),
            then=words,
        )
    asked = (*goals, *(part for _, part in parted))
    done = _standing(request, spots or named, words, asked)
    creases = [crease for goal in goals for crease in goal.creases]
    still = staying_facets(request.state, creases)
    signs = tuple(s for goal in goals for s in _raising(request.state, goal, still))
    return replace(done, signs=(*signs, *done.signs) if spots else signs)


def _one_by_one(request: Request) -> list[Request]:
    """The request parted after each angle: lines that have one of their own; without the pockets."""
    parted: list[list[Clause]] = [[]]
    for clause in takewhile(lambda clause: clause.word != "opening", request.clauses):
        if parted[-1] and parted[-1][-1].word == "to":
            parted.append([])
        first = not parted[-1] and clause.word == "and"
        parted[-1].append(replace(clause, word="along") if first else clause)
    return [replace(request, clauses=tuple(some)) for some in parted]


def _group(request: Request, some: Request) -> tuple[list[PointValue | LineValue], Phrase, Raise]:
    """Lines that are raised to one angle, what is said of them, and the goal."""
    named = places(some, "", "along")
    lines = [value for value in named if isinstance(value, LineValue)]
    if len(lines) < len(named):
        raise _how(request, "raise-along", "flaps are raised along lines: folds, creases, edges")
    angle = _amount(some, "to", "degrees")
    if angle is not None and not 0 <= angle <= 180:
        raise _how(
            request,
            "raise-angle",
            "a flap stands at 0 degrees (folded over) up to 180 (opened flat)",
        )
    creases = tuple(s for line in lines for s in _creases(request, line))
    senses = tuple(_sense(request, line, s) for line in lines for s in _creases(request, line))
    named = list({value.words.render(): value for value in named}.values())
    words = (
        phrase("Raise the paper along {what}, until it stands at right angles.", what=listed(named))
        if angle is None
        else phrase("Fold the paper over along {what}.", what=listed(named))
        if not angle
        else phrase(
            "Raise the paper along {what}, to an angle of {angle} degrees.",
            what=listed(named),
            angle=Number(f"{angle:g}"),
        )
    )
    return named, words, Raise(creases, 90.0 if angle is None else angle, senses)


def _raising(state: State, goal: Raise, still: frozenset[int]) -> tuple[Sign, ...]:
    """The creases that become folds, and an arrow from the farthest place of each flap to its line.

    Where the lines cross in the middle of the model its corners are pushed together.
    """
    rows: dict[Sense, list[tuple[int, Segment]]] = {}
    flaps: list[tuple[Line, list[int]]] = []
    for crease, sense in zip(goal.creases, goal.senses, strict=True):
        for k, facet in enumerate(state.facets):
            part = clip_segment(facet.outline, crease)
            if part is None:
                continue
            seg = map_segment(facet.place, part)
            line = line_through(*seg)
            home = next((some for known, some in flaps if same_line(known, line)), None)
            if home is None:
                flaps.append((line, home := []))
            home.append(k)
            sides = state.facets_on_sheet(_middle(part))
            flat = len({state.facets[i].shows_front for i in sides}) == 1
            if flat and k == min(sides) and state.facets_at(_middle(seg))[0] in sides:
                valley = not sense or (sense > 0) == facet.shows_front
                rows.setdefault(Sense.VALLEY if valley else Sense.MOUNTAIN, []).append((k, seg))
    seen: list[Sign] = []
    middle = centre(state)
    crossing = len(flaps) > 1 and all(on_line(line, middle) for line, _ in flaps)
    if crossing and not _stays_round(state, middle, still):
        corners = sorted({p for ring in state.outlines for p in ring})
        far = max(distance(p, middle) for p in corners)
        seen += [pushed(p, middle) for p in corners if distance(p, middle) > far - _ON]
    else:
        arrows = (
            _lift(state, line, [k for k in some if k not in still] or some) for line, some in flaps
        )
        seen += [arrow for arrow in arrows if arrow is not None]
    return (*(FoldLine(sense, tuple(some)) for sense, some in rows.items()), *seen)


def _stays_round(state: State, at: Point, still: frozenset[int]) -> bool:
    """Whether paper stays on all sides of a place."""
    ways = (math.radians(15 + 30 * k) for k in range(12))
    spots = ((at[0] + _ROUND * math.cos(w), at[1] + _ROUND * math.sin(w)) for w in ways)
    return all(still & set(state.facets_at(spot)) for spot in spots)


def _lift(state: State, line: Line, beside: list[int]) -> Arrow | None:
    """From the farthest edge or place of the flap at a line to the line.

    None where the flap is hidden there. Of paper that is folded there the uppermost is the flap; of paper
    on both sides of it, the outer.
    """
    away = {k: [signed_distance(line, p) for p in state.placed[k]] for k in beside}
    one_side = len({d > 0 for some in away.values() for d in some if abs(d) > _ON}) == 1
    inner = signed_distance(line, centre(state))
    outer = [] if one_side else [k for k, some in away.items() if any(d * inner < 0 for d in some)]
    flap = state.plate(state.top_down(outer or beside)[0])
    places = [
        (abs(d), p)
        for k in flap
        for p in state.placed[k]
        for d in [signed_distance(line, p)]
        if not outer or d * inner < 0
    ]
    farthest = max(d for d, _ in places)
    tips = sorted({(round(x, 9), round(y, 9)) for d, (x, y) in places if d > farthest - _ON})
    tip = midpoint(tips[0], tips[-1])
    if state.facets_at(tip)[0] not in flap:
        return None
    return Arrow("raise", tip, subtract(tip, scale((line.nx, line.ny), signed_distance(line, tip))))


def _creases(request: Request, line: LineValue) -> tuple[Segment, ...]:
    """What paper turns about: the named crease's own segments, else every fold along the line."""
    if line.creases:
        return line.creases
    state = request.state
    found = tuple(
        joint.segment
        for joint, seg in state.fold_segments
        if same_line(line_through(*seg), line.line)
    )
    flat = tuple(
        part
        for crease in state.creases
        for k in state.facets_on_sheet(_middle(crease))
        for part in [crease]
        if all(on_line(line.line, p) for p in map_segment(state.facets[k].place, crease))
    )
    if not found and not flat:
        raise Refusal(
            "no-crease",
            f"there is no fold or crease along {line.words.render()} to raise paper about",
            "make the crease before, give it a name with 'as', and say that name here",
            span=line.span,
        )
    return (*found, *hanging(state, found, flat)) if found else flat


def _sense(request: Request, line: LineValue, crease: Segment) -> int:
    """Which side was inside where a crease was made: 1 the sheet's front, -1 its back; 0 when that is not
    known.
    """
    named = (r for r in reversed(request.history) if line.name and r.name == line.name)
    made = next(named, None)
    signs = [s for s in made.signs if isinstance(s, FoldLine)] if made is not None else []
    if made is None or len({s.sense for s in signs}) != 1:
        return 0
    state = made.before
    sides = state.facets_on_sheet(_middle(crease))
    fronts = [k for k in sides if state.facets[k].shows_front]
    backs = [k for k in sides if not state.facets[k].shows_front]
    if fronts and backs:  # it was folded already, and is opened by this
        return 1 if state.above(backs[0], fronts[0]) else -1
    return 1 if bool(fronts) == (signs[0].sense is Sense.VALLEY) else -1


def _middle(segment: Segment) -> tuple[float, float]:
    (ax, ay), (bx, by) = segment
    return (ax + bx) / 2, (ay + by) / 2


def open_mouth(request: Request) -> Outcome:
    """Parts the sides of the pocket at an edge."""
    request.allow("", "at", "by", "and")
    (place, *more) = places(request, "", "at")
    if more or not isinstance(place, LineValue) or place.segment is None:
        slit = "for a pocket with a slit, pressed flat again: open pocket at the left corner"
        raise _how(request, "open-where", "one edge is opened, named as an edge", slit)
    width = _amount(request, "by", "mm")
    words = (
        phrase("Open the model at {what}.", what=place.words)
        if width is None
        else phrase(
            "Open the model at {what}, {width} mm wide.",
            what=place.words,
            width=Number(f"{width:g}"),
        )
    )
    return _standing(request, [place], words, (mouth(request.state, place.segment, width),))


def spread(request: Request) -> Outcome:
    """Draws the uppermost and the lowest layers apart at a point, or flaps that lie together evenly."""
    request.allow("", "at", "by", "and")
    (place, *more) = places(request, "", "at")
    if more and request.clause("by") is None:
        return _fanned(request, [place, *more])
    if more or not isinstance(place, PointValue):
        raise _how(request, "spread-where", "layers are spread at one point")
    width = _amount(request, "by", "mm")
    if width is None:
        raise _how(request, "spread-how-far", "say how far the layers are drawn apart")
    words = phrase(
        "Draw the layers at {what} {width} mm apart.", what=place.words, width=Number(f"{width:g}")
    )
    return _standing(request, [place], words, (Spread(place.at, width),))


def _fanned(request: Request, named: list[PointValue | LineValue]) -> Outcome:
    """Spreads flaps about the line that their middle creases share, each to the same angle."""
    state = request.state
    middles = [_middle_creases(state, p) for p in named if isinstance(p, PointValue) and p.sheet]
    lines = [line for line, _ in middles[0]] if len(middles) == len(named) > 2 else []
    for line in lines:
        found = [next((c for other, c in some if same_line(other, line)), None) for some in middles]
        creases = [c for c in found if c is not None]
        senses = {sense for c in creases for sense in [_fold_sense(state, c)] if sense}
        if len(creases) == len(named) and len(senses) == 1:
            goal = Fan(tuple(creases), 360 / len(creases), (senses.pop(),) * len(creases))
            words = phrase(
                "Spread the flaps at {what} evenly round the middle.", what=listed(named)
            )
            return _standing(request, named, words, (goal,))
    raise Refusal(
        "spread-flaps",
        "flaps are spread evenly about one line: each with a crease on it that runs up to its point",
        "crease the flaps along the line that they are to share before they are laid together",
        span=request.span,
    )


def _middle_creases(state: State, point: PointValue) -> list[tuple[Line, Segment]]:
    """Creases and folds that run up to a point of the sheet: where they lie now, and on the sheet from the
    point to the end of its flap.
    """
    at = point.sheet
    assert at is not None
    mine = sorted(own(state, at))
    out: list[tuple[Line, Segment]] = []
    for p, q in [*state.creases, *(joint.segment for joint, _ in state.fold_segments)]:
        if min(distance(p, at), distance(q, at)) < _ON:
            on = [(k, clip_segment(state.facets[k].outline, (p, q))) for k in mine]
            held = [(k, part) for k, part in on if part is not None]
            ends = [(end, k) for k, part in held for end in part]
            end, facet = max(ends, key=lambda e: (round(distance(e[0], at), 6), -e[1]))
            seg = map_segment(state.facets[facet].place, (at, end))
            out.append((line_through(*seg), (at, end)))
    return out


def _fold_sense(state: State, crease: Segment) -> int:
    """1 for a fold with the front inside, -1 with the back inside, 0 for a crease that lies flat."""
    sides = state.facets_on_sheet(between(*crease, _NEAR_TIP))
    fronts = [k for k in sides if state.facets[k].shows_front]
    backs = [k for k in sides if not state.facets[k].shows_front]
    return (1 if state.above(backs[0], fronts[0]) else -1) if fronts and backs else 0


def _standing(
    request: Request, named: list[PointValue | LineValue], words: Phrase, goals: tuple[Goal, ...]
) -> Outcome:
    done = signed(request, OPEN_OUT, named, words, solid=_STANDS)
    signs = tuple(opened(request.state, sign) for sign in done.signs)
    return replace(done, signs=signs, goals=goals)


def _amount(request: Request, word: str, unit: str) -> float | None:
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
        raise _how(request, "say-how-far", f"after '{word}' comes {what}")
    return found[0].value


def _how(request: Request, code: str, message: str, *hints: str) -> Refusal:
    forms = [f"write it like: {form}" for form in request.forms]
    return Refusal(code, message, *forms, *hints, span=request.span)


MOVES = (
    Move(
        "raise",
        "raise flaps about folds or creases, at right angles or to an angle; the model stands in space",
        (
            "raise along k",
            "raise along k and m",
            "raise along k to 60 degrees",
            "raise along k to 60 degrees, along m to 120 degrees",
            "raise along k and m, opening P",
        ),
        raise_flaps,
        whole_folds=True,
        flat=False,
        fingers=Still(),
    ),
    Move(
        "open",
        "open the pocket at an edge of the model; it stands in space",
        ("open the bottom edge", "open the bottom edge by 4 cm"),
        open_mouth,
        flat=False,
        fingers=Still(),
    ),
    Move(
        "spread",
        "draw front and back apart at a point, or spread flaps evenly; the model stands in space",
        ("spread P by 6 cm", "spread the top corner by 4 cm", "spread A, B, C and D"),
        spread,
        flat=False,
        fingers=Still(),
    ),
)
