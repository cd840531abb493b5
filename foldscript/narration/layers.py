"""How many layers a fold takes along, and how far from a tip it runs.

In: a `Fold` and the paper before it. Out: phrases that go into its sentences: 'only the top layer, the
flap on the left', and lines named by their distance from the tip that is held.
"""

from __future__ import annotations

from ..geometry import polygons
from ..geometry.lines import Point, Segment, subtract
from ..languages.wording import Phrase, Template, phrase
from ..paper.signs import Sense
from .changes import Amount, Fold, amount
from .description import StateDescription
from .narration import count
from .outline import CLOSE
from .places import place
from .situation import beside, bulk
from .stacks import layers_near


def layers_phrase(description: StateDescription, fold: Fold, p: Point) -> Phrase:
    """', all four layers together', ', only the top layer', or nothing where there is one layer."""
    a = amount(description.state, fold, p)
    if a.all <= 1:
        return Phrase("")
    outer = a.which == ("top" if fold.sense is Sense.VALLEY else "bottom")
    side = _side(description, fold, p) if outer else None
    if side is not None:
        return (
            phrase(", the flap {side},", side=side)
            if a.moving >= a.all
            else phrase("{layers}, the flap {side}", layers=_some_layers(a), side=side)
        )
    if a.moving >= a.all:
        return (
            Phrase(", both layers together")
            if a.all == 2
            else phrase(", all {n} layers together", n=count(a.all))
        )
    return _some_layers(a)


def _side(description: StateDescription, fold: Fold, p: Point) -> Phrase | None:
    """'on the left' where the tip of another flap lies on top beside the one that moves."""
    state = description.state
    moving = {i for i, _ in fold.parts}
    top = fold.sense is Sense.VALLEY
    others: list[int] = []
    for i, ring in enumerate(state.placed):
        if i in moving or not polygons.inside(ring, p, CLOSE):
            continue
        stack = layers_near(state, p, polygons.centroid(ring))
        if stack and stack[0 if top else -1] == i:
            others.append(i)
    own = [i for i in moving if polygons.inside(state.placed[i], p, CLOSE)]
    if not others or not own:
        return None
    mine, theirs = bulk(description, sorted(own)), bulk(description, others)
    return beside(mine, theirs)[0]


def _some_layers(a: Amount) -> Phrase:
    n, total = count(a.moving), count(a.all)
    if a.moving == 1 and a.which:
        return Phrase(", only the top layer" if a.which == "top" else ", only the bottom layer")
    if not a.which:
        return phrase(", {n} of its {all} layers", n=n, all=total)
    template: Template = (
        ", only the top {n} of its {all} layers"
        if a.which == "top"
        else ", only the bottom {n} of its {all} layers"
    )
    return phrase(template, n=n, all=total)


_BESIDE: dict[str, Template] = {
    "nearer": "The fold runs level, from left to right, {mm} mm nearer to you than {corner}.",
    "farther": "The fold runs level, from left to right, {mm} mm farther from you than {corner}.",
    "right": "The fold runs straight from near to far, {mm} mm to the right of {corner}.",
    "left": "The fold runs straight from near to far, {mm} mm to the left of {corner}.",
}


def level_or_upright(description: StateDescription, crease: Segment, hold: Point) -> Phrase | None:
    """How far from the tip that is held a level or upright fold runs, where its ends cannot be felt."""
    corner = description.outline.corner_at(hold)
    if corner is None or max(place(description, p).rank for p in crease) < 2:
        return None
    v = subtract(crease[1], crease[0])
    if abs(v[1]) < CLOSE:
        away, words = hold[1] - crease[0][1], ("nearer", "farther")
    elif abs(v[0]) < CLOSE:
        away, words = crease[0][0] - hold[0], ("right", "left")
    else:
        return None
    return phrase(
        _BESIDE[words[0] if away > 0 else words[1]],
        mm=description.mm(abs(away)),
        corner=corner.name,
    )
