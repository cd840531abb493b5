"""Several points or lines named at once, as one says them: 'corners A and B', 'both lower edges'.

In: phrases that name one point or line each. Out: one phrase for all of them.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...languages.wording import Phrase, Template, listed, phrase

#: Things with a name in their only hole, and what several are called.
_NAMED: dict[str, Template] = {
    "corner {name}": "corners {names}",
    "point {name}": "points {names}",
    "edge {ends}": "edges {names}",
    "line {ends}": "lines {names}",
}
#: Things that the eye tells by their direction.
_PAIRS: dict[tuple[str, str], Template] = {
    ("the left corner", "the right corner"): "the left and right corners",
    ("the bottom corner", "the top corner"): "the top and bottom corners",
    ("the top left corner", "the top right corner"): "both top corners",
    ("the bottom left corner", "the bottom right corner"): "both bottom corners",
    ("the bottom left corner", "the top left corner"): "both left corners",
    ("the bottom right corner", "the top right corner"): "both right corners",
    ("the left edge", "the right edge"): "the left and right edges",
    ("the bottom edge", "the top edge"): "the top and bottom edges",
    ("the top left edge", "the top right edge"): "both upper edges",
    ("the bottom left edge", "the bottom right edge"): "both lower edges",
    ("the bottom left edge", "the top left edge"): "both edges on the left",
    ("the bottom right edge", "the top right edge"): "both edges on the right",
    (
        "the diagonal crease from the bottom left to the top right",
        "the diagonal crease from the top left to the bottom right",
    ): "both diagonal creases",
}


def together(things: Sequence[Phrase]) -> Phrase | None:
    """One name for all of them; None where they have none in common."""
    templates = {thing.template for thing in things}
    if len(things) == 2 and not any(thing.parts for thing in things):
        first, last = sorted(thing.template for thing in things)
        if (first, last) in _PAIRS:
            return Phrase(_PAIRS[first, last])
    if len(things) > 1 and len(templates) == 1 and (several := _NAMED.get(templates.pop())):
        names = [phrase("{name}", name=thing.parts[0][1]) for thing in things]
        return phrase(several, names=listed(names))
    return None


def all_of(things: Sequence[Phrase]) -> Phrase:
    """One name for all of them, or 'this, that and the other'."""
    return together(things) or listed(things)
