"""Where the corners of the sheet have gone, after a move of many folds at once.

In: the paper before and after. Out: a sentence for those that have come to lie on corners that stayed
('So corners B and D come to lie on corner C.'), which a folder can check the result by.
"""

from __future__ import annotations

from ...geometry.lines import Point, distance
from ...geometry.tolerance import FOLDED
from ...languages.wording import Phrase, phrase, plural
from ...paper.state import State
from .called import all_of, corner

#: Sentences that a caption bears.
_MOST = 2


def gathered(
    before: State, after: State
) -> tuple[tuple[Phrase, ...], tuple[tuple[str, Point], ...]]:
    """The sentences, few or none, and the corners that they name, where these lie before the move."""
    corners = before.sheet.all_corners
    names = tuple(name for name, _ in corners)
    places = {name: after.where(at) for name, at in corners}
    was = {name: before.where(at) for name, at in corners}
    stayed = [name for name in names if distance(places[name], was[name]) <= FOLDED]
    told: list[Phrase] = []
    letters: list[str] = []
    for home in stayed:
        if home in letters:
            continue  # on one that has been told
        here = [name for name in names if distance(places[name], places[home]) <= FOLDED]
        hosts = [name for name in here if name in stayed]
        guests = [name for name in here if name not in stayed]
        if guests:
            told.append(
                plural(
                    "So {points} comes to lie on {goal}.",
                    "So {points} come to lie on {goal}.",
                    len(guests),
                    points=all_of([corner(name) for name in guests]),
                    goal=all_of([corner(name) for name in hosts]),
                )
            )
            letters += here
    if len(told) > _MOST:
        return (), ()
    return tuple(told), tuple((name, was[name]) for name in names if name in letters)


def with_goals(how: Phrase, goals: tuple[Phrase, ...]) -> Phrase:
    """What is done, and where things come to lie."""
    for goal in goals:
        how = phrase("{how} {goal}", how=how, goal=goal)
    return how
