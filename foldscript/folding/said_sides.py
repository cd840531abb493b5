"""Whether what a sentence calls by its side, 'the top left corner', is so called in its figure, too.

In: the paper of a figure, the paper that a move was made on, the move's sentence. A corner that only folds of
the same step have made the leftmost is not found there by a reader.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..geometry.lines import Segment, line_through, same_line
from ..geometry.tolerance import same_point
from ..languages.wording import Phrase
from ..moves.planning.called import Called, Kind
from ..paper.silhouette import corners_toward, edges_toward
from ..paper.state import State


def sides_hold(figure: State, now: State, words: Phrase | None) -> bool:
    """Whether every corner and edge that is told by its side lies at the same place of both papers."""
    if figure is now or words is None:
        return True
    return all(_alike(figure, now, one) for one in _seen(words))


def _seen(words: Phrase) -> Iterator[Called]:
    """The corners and edges in a sentence that only the eye tells."""
    if isinstance(words, Called) and words.toward:
        yield words
    for _, part in words.parts:
        if isinstance(part, Phrase):
            yield from _seen(part)


def _alike(figure: State, now: State, one: Called) -> bool:
    if one.kind is Kind.CORNER:
        there, here = (corners_toward(state, one.toward) for state in (figure, now))
        if len(here) != 1:
            return True  # told so by other means
        return len(there) == 1 and same_point(there[0], here[0])
    if one.kind is Kind.EDGE:
        lines, own = (edges_toward(state, one.toward) for state in (figure, now))
        return len(own) != 1 or (len(lines) == 1 and _one_line(lines[0], own[0]))
    return True


def _one_line(one: Segment, other: Segment) -> bool:
    return same_line(line_through(*one), line_through(*other))
