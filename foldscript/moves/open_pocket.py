"""Open pocket: a pocket with a slit is opened and pressed flat, as a rectangle where it is square.

The sleeves of the kimono figure, the sides of the footed box. In: a point of the pocket: its tip, where the
slit begins, or another one on the slit. Out: the paper with the pocket flat; see `slit` for how it bends.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..geometry.lines import Point, distance, dot, midpoint, point_on_segment, subtract
from ..geometry.polygons import Polygon
from ..geometry.tolerance import FOLDED
from ..languages.levels import Level
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.layers import Collision
from ..paper.signs import Arrow, PointSign, Sign
from ..paper.silhouette import over_side_to_side
from ..source.diagnostics import Hint, Refusal, write
from .planning.at_points import landmark
from .planning.claims import Flat, Folds, Lands
from .planning.fingers import Several
from .planning.fold_clauses import as_point
from .planning.request import Each, Move, Outcome, PointValue, Request
from .planning.slit import Slit, flattened, slits

VERB = "open pocket"
FORMS = (f"{VERB} at the left corner", f"{VERB} M")


def make(request: Request) -> Outcome:
    """Opens the pocket and flattens it."""
    p = _point(request)
    pocket = _pocket(request, p)
    flat = flattened(request, pocket)
    head = pocket.landing
    slit = pocket.opening
    signs: list[Sign] = [
        *flat.lines,
        PointSign("slit", midpoint(*slit), opens=slit),
        Arrow("squash", pocket.tip, head),
        landmark(head),
        *(Arrow("pull-out", tail, corner) for tail, corner in flat.drawn),
    ]
    told: Template = (
        "Open the pocket at {where}: draw the two sides of its slit apart, bring its tip over to the "
        "other end of the slit, and press it flat as a rectangle."
        if _rectangle(flat.outline)
        else "Open the pocket at {where}: draw the two sides of its slit apart, bring its tip over to the "
        "other end of the slit, and press it flat."
    )
    return Outcome(
        flat.after,
        tuple(signs),
        briefly(
            phrase(told, where=p.words),
            phrase("Open the pocket at {where} and press it flat.", where=p.words),
        ),
        creases=flat.creases,
        folded=True,
        letters=((p.letter, p.at),) if p.letter else (),
        claims=(
            Lands((pocket.sheet,), head),
            Folds(flat.creases),
            Flat(flat.opened),
        ),
    )


def _point(request: Request) -> PointValue:
    request.allow("", "at")
    found = [v for c in request.clauses for v in c.values]
    if len(found) != 1:
        raise Refusal(
            "open-what",
            "say which pocket is opened: name one point of its slit",
            *(f"write it like: {form}" for form in request.forms),
            "to open the model at an edge, in space, say 'open the bottom edge'",
            span=request.span,
        )
    return as_point(found[0])


def _pocket(request: Request, p: PointValue) -> Slit:
    """The pocket with this point: its tip on the paper, or else where its slit is seen."""
    state = request.state
    every = slits(state)
    seen = [s for s in every if any(point_on_segment(side.slit, p.at) for side in s.sides)]
    found = seen
    if p.sheet is not None and (p.letter or p.layer):  # that paper is meant, of all that lies there
        found = [s for s in every if distance(s.sheet, p.sheet) <= FOLDED] or [
            s for s in every if any(point_on_segment(side.rim, p.sheet) for side in s.sides)
        ]
    if len(found) == 1:
        return found[0]
    names = [
        name
        for s in found or seen
        for name, at in request.points.items()
        if distance(at, s.sheet) <= FOLDED
    ]
    if found:
        raise Refusal(
            "which-pocket",
            f"{len(found)} pockets have their slits {request.locate(p.at)}",
            *(f"say {VERB} {name}" for name in names[:2]),
            "or name the corner of the model at the other end of the slit",
            span=p.span,
        )
    raise Refusal(
        "no-pocket",
        f"{p.words.render()} is on no slit of a pocket in front"
        if seen
        else f"there is no pocket with a slit at {p.words.render()}",
        *(
            f"the pocket that is seen there has another tip: say {VERB} {name}"
            for name in names[:1]
        ),
        *_elsewhere(request, p, every),
        span=p.span,
    )


def _elsewhere(request: Request, p: PointValue, every: tuple[Slit, ...]) -> Iterator[Hint]:
    """Where this model has pockets that open: in front, or else behind; else what such a pocket is."""
    found = _said(request, every)
    for word, said in zip(("there is one", *["or"] * len(found)), found, strict=False):
        where = f"the {said}" if " " in said else said
        yield write(p.span, said, f"{word} at {where}: say '{VERB} at {said}'")
    if found:
        return
    turned = request.amid(request.state.moved(over_side_to_side(request.state)))
    behind = _said(turned, slits(turned.state))
    if behind:
        there = next(
            (said for said in behind if said == p.words.render().removeprefix("the ")), behind[0]
        )
        yield Hint(f"there is one behind: say 'turn over' first, then it opens at the {there}")
    else:
        yield Hint(
            "a pocket with a slit is a layer with another folded over it from each side, so that their "
            "edges meet, and all of them then folded away at both ends"
        )


def _said(request: Request, every: tuple[Slit, ...]) -> list[str]:
    """Words that choose a pocket, for each that can be pressed flat; the highest first."""
    found: dict[str, Point] = {}
    for s in every:
        try:
            flattened(request, s)
        except (Refusal, Collision):
            continue
        ends = dict.fromkeys((s.tip, *(end for side in s.sides for end in side.slit)))
        seen = [
            (said, at)
            for at in ends
            if " " in (said := request.words_at(at))
            and sum(any(point_on_segment(x.slit, at) for x in o.sides) for o in every) == 1
        ]
        named = [
            (name, s.tip) for name, at in request.points.items() if distance(at, s.sheet) <= FOLDED
        ]
        for said, at in (seen or named)[:1]:
            found.setdefault(said, at)
    return sorted(found, key=lambda said: (-round(found[said][1], 6), round(found[said][0], 6)))


def _rectangle(outline: Polygon) -> bool:
    """Whether the flat pocket, its tip on the outer edge, has four right angles."""
    one, first, tip, last, other = outline
    return (
        point_on_segment((first, last), tip)
        and _square(one, first, last)
        and _square(first, last, other)
        and _square(last, other, one)
    )


def _square(a: Point, b: Point, c: Point) -> bool:
    one, other = subtract(a, b), subtract(c, b)
    return abs(dot(one, other)) <= FOLDED * math.hypot(*one) + FOLDED * math.hypot(*other)


MOVE = Move(
    VERB,
    "open a pocket with a slit and press it flat, as a rectangle where it is square",
    FORMS,
    make,
    by_sight=("open pocket at {corner}",),
    each=Each(("", "at")),
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("This is a pocket with a slit on top, which is opened and pressed flat."),
        (
            Phrase(
                "Put a finger into the slit and draw its two sides apart, away from each other. The tip "
                "of the pocket rises and goes over to the other end of the slit. Press the pocket flat."
            ),
        ),
    ),
)
