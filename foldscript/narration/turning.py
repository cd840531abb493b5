"""The whole paper turned over or round, narrated by what is nearest afterwards.

In: the paper before and after, and the motion. Out: sentences.
"""

from __future__ import annotations

import math

from ..geometry.isometries import Isometry, inverse
from ..geometry.lines import Point, distance, midpoint
from ..languages.wording import Phrase, Template, phrase
from .description import StateDescription
from .places import place


def turning(
    before: StateDescription, after: StateDescription, motion: Isometry
) -> tuple[Phrase, ...]:
    """What to do with the whole paper, and what lies where then."""
    return (_over(motion) if motion.flips else _round(motion), *_exchanged(before, after, motion))


def _over(motion: Isometry) -> Phrase:
    """By the axis of the reflection: (a, c) is twice its angle."""
    angle = math.degrees(math.atan2(motion.c, motion.a)) / 2 % 180
    if abs(angle - 90) < 1:
        return Phrase(
            "Turn the whole paper over from side to side, like the page of a book: "
            "left and right change places, near and far stay."
        )
    if min(angle, 180 - angle) < 1:
        return Phrase(
            "Turn the whole paper over from near to far, like a page of a calendar on the wall: "
            "near and far change places, left and right stay."
        )
    way = (
        Phrase("from near left to far right")
        if angle < 90
        else Phrase("from far left to near right")
    )
    return phrase(
        "Turn the whole paper over about a line that runs {way}, so that the table side faces up.",
        way=way,
    )


_PARTS = {
    45: Phrase("an eighth of a turn"),
    90: Phrase("a quarter turn"),
    135: Phrase("three eighths of a turn"),
}


def _round(motion: Isometry) -> Phrase:
    degrees = math.degrees(math.atan2(motion.c, motion.a))
    amount = abs(degrees)
    if abs(amount - 180) < 0.5:
        return Phrase("Turn the paper round on the table by half a turn. The same side stays up.")
    part = next((words for d, words in _PARTS.items() if abs(amount - d) < 0.5), None)
    words = part or phrase("{degrees} degrees", degrees=f"{amount:.0f}")
    template: Template = (
        "Turn the paper round on the table by {amount}, against the clock. The same side stays up."
        if degrees > 0
        else "Turn the paper round on the table by {amount}, with the clock. The same side stays up."
    )
    return phrase(template, amount=words)


def _exchanged(
    before: StateDescription, after: StateDescription, motion: Isometry
) -> tuple[Phrase, ...]:
    """'What was the left corner is now the nearest corner.': what lies nearest and farthest now."""
    back = inverse(motion)
    found: list[Phrase] = []
    for name, spot in _extremes(after):
        was = _name_at(before, back(spot))
        if was is None:
            continue
        if was == name:
            found.append(phrase("{name} stays {name}.", name=name))
        else:
            found.append(phrase("What was {was} is now {name}.", was=was, name=name))
    return tuple(dict.fromkeys(found))


def _extremes(description: StateDescription) -> list[tuple[Phrase, Point]]:
    """Of every direction the edge that faces it, else the corner."""
    out: list[tuple[Phrase, Point]] = []
    for facing in (("near", ""), ("far", ""), ("", "left"), ("", "right")):
        edges = [
            e
            for e in description.outline.edges
            if e.facing == facing and not description.outline.numbered
        ]
        if len(edges) == 1:
            out.append((edges[0].name, midpoint(*edges[0].segment)))
            continue
        axis, sign = (1, -1) if facing[0] == "near" else (1, 1) if facing[0] else (0, -1)
        if facing[1] == "right":
            sign = 1
        best = max(description.outline.corners, key=lambda c: round(sign * c.at[axis], 6))
        out.append((best.name, best.at))
    return out


def _name_at(description: StateDescription, p: Point) -> Phrase | None:
    corner = description.outline.corner_at(p)
    if corner is not None:
        return corner.name
    edge = next(
        (e for e in description.outline.edges if distance(midpoint(*e.segment), p) < 1e-5), None
    )
    return edge.name if edge is not None else place(description, p).words
