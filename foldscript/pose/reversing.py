"""A tip that is turned between or around its own layers, half way: reverse folds, crimps.

In: a `Change` whose moving paper is carried by reflections in lines across a spine, the folded edge between
its front and its back half. Out: the paper opened along the spine, exactly, with every piece plane.

The spine's line divides the model. On the tip's side of it the front half of the layers is turned up about
that line, like the cover of a book; the back half and all beyond the line stay where they lie. A fold across
the spine is then two lines, one in each half, that meet on the spine; what lies beyond it goes to its mirror
image in their plane. Flat shut, that is the fold as it will be; opened flat, nothing has moved: between
them the tip is on its way. Lengths are kept because a mirror keeps them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry import polygons
from ..geometry.isometries import Isometry, compose, inverse, nearly_same
from ..geometry.lines import Line, Point, Segment, flipped, line_through, meet, signed_distance
from ..paper.union_find import UnionFind
from .change import Change, changed
from .pieces import Array

#: Places nearer to the spine's line (sheet units) are on it.
_ON = 1e-5


@dataclass(frozen=True)
class Reversing:
    """A change cut along the line of its spine.

    Attributes
    ----------
    change : its pieces lie each on one side of the spine
    spine : the line, the tip on its left
    lifted : pieces of the front half, which is opened
    folds : for every group of pieces with one motion the lines that its paper is mirrored in, the
        innermost last; `group` the group of each piece
    """

    change: Change
    spine: Line
    lifted: frozenset[int]
    folds: tuple[tuple[Line, ...], ...]
    group: tuple[int, ...]

    def opened(self, angle: float) -> Array:
        """Places of all points (sheet units) with the front half turned up by an angle (radians)."""
        change = self.change
        turn, shift = _turned(self.spine, angle)
        flat = np.c_[change.start, np.zeros(len(change.start))]
        mirrors = [
            _product([_mirror(self.spine, fold, angle) for fold in folds]) for folds in self.folds
        ]
        places = np.zeros_like(flat)
        for k, ring in enumerate(change.pieces.rings):
            here = flat[list(ring)]
            if k in self.lifted:
                here = here @ turn.T + shift
            turn_k, shift_k = mirrors[self.group[k]]
            places[list(ring)] = here @ turn_k.T + shift_k
        return places


def reversings(change: Change) -> Iterator[Reversing]:
    """Ways in which a tip may be turned through, one for each line that may be its spine."""
    for spine in _spines(change):
        fine = changed(change.before, change.pieces.state, _across(change, spine))
        lifted = None if fine is None else _front_half(fine, spine)
        if fine is None or lifted is None:
            continue
        grouped = _grouped(fine, spine)
        if grouped is not None:
            yield Reversing(fine, spine, lifted, *grouped)


def _spines(change: Change) -> Iterator[Line]:
    """Lines of folds of what moves, with all that moves on their left: that on which folds turn to their
    other side, where some do; else every one, the longest fold first.
    """
    moving = np.array(change.moving_points)
    ends: list[Segment] = []
    for seam, flips, was in zip(change.pieces.seams, change.flipped, change.was, strict=True):
        inner = seam.right >= 0 and not change.still[seam.left] and not change.still[seam.right]
        if inner and abs(was) > 0.1 and (flips or not change.flipped.any()):
            (ax, ay), (bx, by) = change.start[[seam.start, seam.end]]
            ends.append(((float(ax), float(ay)), (float(bx), float(by))))
    found: list[Line] = []
    for pair in sorted(ends, key=lambda e: (-round(math.dist(*e), 6), e)):
        line = line_through(*pair)
        if _known(line, found):
            continue
        off = [_off(line, p) for p in change.start[moving]]
        line = line if min(off) > -_ON else flipped(line)
        if min(off) > -_ON or max(off) < _ON:
            found.append(line)
            yield line


def _known(line: Line, found: Sequence[Line]) -> bool:
    return any(
        math.dist(line, other) < _ON or math.dist(line, flipped(other)) < _ON for other in found
    )


def _off(line: Line, at: Array) -> float:
    return signed_distance(line, (float(at[0]), float(at[1])))


def _across(change: Change, line: Line) -> list[Segment]:
    """The line on every facet of the state before that it cuts, on the sheet."""
    found: list[Segment] = []
    for facet, placed in zip(change.before.facets, change.before.placed, strict=True):
        low, high = polygons.half_plane_extent(placed, line)
        part = polygons.clip_line(placed, line) if low < -_ON and high > _ON else None
        if part is not None:
            back = inverse(facet.place)
            found.append((back(part[0]), back(part[1])))
    return found


def _front_half(change: Change, spine: Line) -> frozenset[int] | None:
    """Pieces on the tip's side of the spine that open to the reader; None where something else than the
    spine holds the two halves together.
    """
    pieces = change.pieces
    beside = {
        k
        for k, ring in enumerate(pieces.rings)
        if max((_off(spine, change.start[v]) for v in ring), key=abs) > 0
    }
    joined = UnionFind(len(pieces.rings))
    hinges: list[tuple[int, int]] = []
    holding = change.flipped if change.flipped.any() else np.abs(change.was) > 0.1
    for seam, holds in zip(pieces.seams, holding, strict=True):
        if seam.right < 0 or not {seam.left, seam.right} <= beside:
            continue
        if all(abs(_off(spine, change.start[v])) < _ON for v in (seam.start, seam.end)):
            if holds and not (change.still[seam.left] and change.still[seam.right]):
                hinges.append((seam.left, seam.right))
        else:
            joined.unite(seam.left, seam.right)
    front: set[int] = set()
    back: set[int] = set()
    for left, right in hinges:
        above = change.before.above(change.earlier[left], change.earlier[right])
        if above is None:
            return None
        upper, lower = (left, right) if above else (right, left)
        front.add(joined.find(upper))
        back.add(joined.find(lower))
    if front & back:
        return None
    parts: dict[int, set[int]] = {}
    for k in beside:
        parts.setdefault(joined.find(k), set()).add(k)
    lifted = {k for root in front for k in parts[root]}
    others = {root: some for root, some in parts.items() if root not in front | back}
    while True:
        more = [root for root, some in others.items() if _over(change, some, lifted)]
        if not more:
            return frozenset(lifted)
        for root in more:
            lifted |= others.pop(root)


def _over(change: Change, some: Iterable[int], lifted: set[int]) -> bool:
    """Whether one of these lies above what is lifted."""
    below = {change.earlier[k] for k in lifted}
    return any(
        change.before.above(change.earlier[k], facet) is True for k in some for facet in below
    )


def _grouped(
    change: Change, spine: Line
) -> tuple[tuple[tuple[Line, ...], ...], tuple[int, ...]] | None:
    """The folds that carry each group of pieces, and the group of every piece."""
    motions: list[Isometry] = []
    group: list[int] = []
    for motion in change.motions:
        known = next((k for k, m in enumerate(motions) if nearly_same(m, motion)), len(motions))
        if known == len(motions):
            motions.append(motion)
        group.append(known)
    folds: dict[int, tuple[Line, ...]] = {group[change.still.index(True)]: ()}
    waiting = list(folds)
    while waiting:
        here = waiting.pop()
        for seam in change.pieces.seams:
            if seam.right < 0 or here not in (group[seam.left], group[seam.right]):
                continue
            there = group[seam.right if group[seam.left] == here else seam.left]
            if there in folds:
                continue
            line = _axis(compose(inverse(motions[here]), motions[there]))
            if line is None or meet(line, spine) is None:
                return None
            folds[there] = (*folds[here], line)
            waiting.append(there)
    if len(folds) < len(motions):
        return None
    return tuple(folds[k] for k in range(len(motions))), tuple(group)


def _axis(motion: Isometry) -> Line | None:
    """The line that a reflection is in; None for any other motion."""
    if not motion.flips:
        return None
    nx, ny = math.sqrt(max(0.0, (1 - motion.a) / 2)), math.sqrt(max(0.0, (1 - motion.d) / 2))
    if motion.b > 0:
        ny = -ny
    line = Line(nx, ny, (motion.tx * nx + motion.ty * ny) / 2)
    along = abs(-motion.tx * ny + motion.ty * nx)
    return line if along < _ON else None


def _turned(spine: Line, angle: float) -> tuple[Array, Array]:
    """The turn about the spine's line that lifts what lies on its left."""
    axis = np.array([spine.ny, -spine.nx, 0.0])
    at = np.array([spine.nx * spine.c, spine.ny * spine.c, 0.0])
    x, y, _ = axis
    cross = np.array([[0, 0, y], [0, 0, -x], [-y, x, 0]])
    turn = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
    return turn, at - turn @ at


def _mirror(spine: Line, fold: Line, angle: float) -> tuple[Array, Array]:
    """Reflection in the plane through a fold's two lines, that in the back half and that in the front."""
    at = meet(spine, fold)
    assert at is not None
    way = np.array([fold.ny, -fold.nx, 0.0])
    other = _turned(spine, angle)[0] @ way
    n = np.cross(way, other)
    n /= np.sqrt(n @ n)
    turn = np.eye(3) - 2 * np.outer(n, n)
    place: Point = at
    p = np.array([*place, 0.0])
    return turn, p - turn @ p


def _product(motions: list[tuple[Array, Array]]) -> tuple[Array, Array]:
    turn, shift = np.eye(3), np.zeros(3)
    for one, move in motions:
        turn, shift = turn @ one, turn @ move + shift
    return turn, shift
