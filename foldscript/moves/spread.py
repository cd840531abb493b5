"""Open and spread: layers parted at an edge or a point, and flaps spread evenly.

In: a `Request` with an edge or points, and a width. Out: an `Outcome` whose paper is as it lay, with
the goals that a pose is found from (`foldscript/pose`), and the sign for those that look at the flat
figure. What opens and what stays together follows from the paper; the words only say where, and how far.
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry.isometries import map_segment
from ..geometry.lines import (
    Line,
    Segment,
    between,
    distance,
    line_through,
    same_line,
)
from ..geometry.polygons import clip_segment
from ..geometry.tolerance import same_point
from ..languages.wording import Number, Phrase, phrase
from ..paper.signs import Apart
from ..paper.state import State
from ..pose.flaps import own
from ..pose.goals import Fan, Open, Spread
from ..source.diagnostics import Hint, Refusal, write
from .planning.at_points import listed, places, spot_of
from .planning.fingers import Still
from .planning.held_places import held
from .planning.request import (
    LineValue,
    Move,
    Outcome,
    PointValue,
    Request,
)
from .planning.standing_up import amount, how, stood_up
from .shape import mouth

#: Sheet units within which a place is on a line.
_ON = 1e-3
#: Share of a crease from its flap's tip at which its two sides are looked up.
_NEAR_TIP = 0.05


def open_mouth(request: Request) -> Outcome:
    """Parts the sides of the pocket at an edge."""
    request.allow("", "at", "by", "and", "holding")
    (place, *more) = places(request, "", "at")
    if more or not isinstance(place, LineValue) or place.segment is None:
        slit = "for a pocket with a slit, pressed flat again: open pocket at the left corner"
        raise how(request, "open-where", "one edge is opened, named as an edge", slit)
    width = amount(request, "by", "mm")
    words = (
        phrase("Open the model at {what}.", what=place.words)
        if width is None
        else phrase(
            "Open the model at {what}, {width} mm wide.",
            what=place.words,
            width=Number(f"{width:g}"),
        )
    )
    return _held(request, place, words, mouth(request.state, place.segment, width))


def _held(
    request: Request, place: PointValue | LineValue, words: Phrase, goal: Open | Spread
) -> Outcome:
    """Layers parted at a place, while they are held together at others."""
    fixed = held(request)
    done = stood_up(request, [place], fixed.told(words), (goal, *fixed.goals))
    far = amount(request, "by", "mm")
    told = () if far is None else (Apart(spot_of(place), f"{far:g}", "mm"),)
    return replace(
        done, signs=(*done.signs, *told, *fixed.signs), letters=(*done.letters, *fixed.letters)
    )


def spread(request: Request) -> Outcome:
    """Draws the uppermost and the lowest layers apart at a point, or flaps that lie together evenly."""
    request.allow("", "at", "by", "and", "holding")
    (place, *more) = places(request, "", "at")
    if more and request.clause("by") is None:
        return _fanned(request, [place, *more])
    if more or not isinstance(place, PointValue):
        raise how(request, "spread-where", "layers are spread at one point")
    width = amount(request, "by", "mm")
    if width is None:
        raise how(
            request,
            "spread-how-far",
            "say how far the layers are drawn apart",
            *_loose_corners(request),
        )
    words = phrase(
        "Draw the layers at {what} {width} mm apart.", what=place.words, width=Number(f"{width:g}")
    )
    return _held(request, place, words, Spread(place.at, width))


def _loose_corners(request: Request) -> tuple[Hint | str, ...]:
    """The corners of the sheet that lie together, to be spread evenly; none where fewer than three do."""
    state = request.state
    names = state.sheet.corner_names
    places = {name: state.where(state.sheet.corner(name)) for name in names}
    together = [[n for n in names if same_point(places[n], places[one])] for one in names]
    row = max(together, key=len)
    if len(row) < 3:
        return ()
    words = f"spread {', '.join(row[:-1])} and {row[-1]}"
    why = "to spread the loose corners evenly"
    return (
        write(request.span, words, f"{why}, say '{words}'"),
        "or say by how much, as in 'by 4 cm'",
    )


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
            return stood_up(request, named, words, (goal,))
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


MOVES = (
    Move(
        "open",
        "open the pocket at an edge of the model; it stands in space",
        (
            "open the bottom edge",
            "open the bottom edge by 4 cm",
            "open the bottom edge by 4 cm, holding A and B",
        ),
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
