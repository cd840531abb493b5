"""Which paper goes with which when flaps are raised: for arrows, which tell what hands move.

In: the paper as it lies, and what is raised. Out: for each facet the parts that it is in. Layers that are
folded over one line together are parted by every one of their folds, and yet what lies under the flap stays,
all of it: from there into the flap and out of it again, the one turn takes back what the other did.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Sequence

from ..geometry.lines import Line, Segment, line_through, same_line, signed_distance
from ..paper.state import State
from .goals import Hold
from .holding import held_piece
from .pieces import Pieces, cut_up
from .raising import parts

#: Turns about lines, how often each: a line and a way round it, by number.
_Turns = frozenset[tuple[int, int]]


def moving_parts(
    state: State, creases: Sequence[Segment], holds: Sequence[Hold] = ()
) -> dict[int, set[int]]:
    """For each facet of a state the parts that it is in when paper is raised about creases; 0 is the one that
    stays.
    """
    pieces = cut_up(state, creases)
    seams = pieces.on(creases)
    part = parts(pieces, seams)
    still = part[held_piece(pieces, holds[0])] if holds else 0
    together = _together(pieces, seams, part, still)
    found: dict[int, set[int]] = {}
    for facet, number in zip(pieces.facets, part, strict=True):
        goes = together[number]
        found.setdefault(facet, set()).add(0 if goes == still else (goes or still))
    return found


def _together(pieces: Pieces, seams: Sequence[int], part: Sequence[int], still: int) -> list[int]:
    """For each part the first that goes as it does: that is turned about the same lines, as often, from the
    one that stays.
    """
    lines: list[Line] = []
    around: dict[int, list[tuple[int, tuple[int, int]]]] = {}
    for k in seams:
        one, other = part[pieces.seams[k].left], part[pieces.seams[k].right]
        if one != other:
            turn, sense = _turn(pieces, k, lines)
            around.setdefault(one, []).append((other, (turn, sense)))
            around.setdefault(other, []).append((one, (turn, -sense)))
    turns: dict[int, Counter[int]] = {still: Counter()}
    waiting = deque(turns)
    while waiting:
        here = waiting.popleft()
        for there, (turn, sense) in around.get(here, ()):
            if there not in turns:
                turns[there] = Counter(turns[here])
                turns[there][turn] += sense
                waiting.append(there)
    first: dict[_Turns, int] = {_of(turns[still]): still}
    together = list(range(max(part) + 1))
    for number in together:
        if number in turns:
            together[number] = first.setdefault(_of(turns[number]), number)
    return together


def _of(turns: Counter[int]) -> _Turns:
    return frozenset((turn, count) for turn, count in turns.items() if count)


def _turn(pieces: Pieces, k: int, lines: list[Line]) -> tuple[int, int]:
    """By what number the turn about a seam goes that leads from its left to its right, and which way round.

    Folds on one line have one number. A crease that lies flat has one of its own: of two that lie on each
    other, one may rise and the other go away.
    """
    seam, state = pieces.seams[k], pieces.state
    if not seam.angle:
        return -1 - k, 1
    facets = pieces.facets[seam.left], pieces.facets[seam.right]
    place = state.facets[facets[0]].place
    (ax, ay), (bx, by) = pieces.points[[seam.start, seam.end]]
    line = line_through(place((float(ax), float(ay))), place((float(bx), float(by))))
    number = next((n for n, known in enumerate(lines) if same_line(known, line)), len(lines))
    if number == len(lines):
        lines.append(line)
    x, y = _middle(state.placed[facets[1]])
    side = 1 if signed_distance(lines[number], (x, y)) > 0 else -1
    return number, side if state.above(facets[1], facets[0]) else -side


def _middle(ring: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
