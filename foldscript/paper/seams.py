"""Segments that lie along each other: joints between facets, creases merged and cut back.

In: segments in any one coordinate system. Out: their common parts, or what is left of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from math import hypot

from ..geometry.lines import Point, Segment
from ..geometry.tolerance import EPS


def collinear_overlaps(
    tagged: Sequence[tuple[int, Segment]], *, opposite: bool = False
) -> Iterator[tuple[tuple[int, int], Segment]]:
    """Common parts, longer than the tolerance, of segments with different tags.

    With `opposite`, only pairs that run in opposite directions (two facets on either side of a
    joint, both counter-clockwise). Yields ((tag, tag), segment in the first one's direction).
    """
    for bucket in along_lines(tagged):
        bucket.sort(key=lambda item: item[0])
        for k, (lo, hi, forward, tag, seg) in enumerate(bucket):
            for lo2, hi2, forward2, tag2, _ in bucket[k + 1 :]:
                if lo2 >= hi - EPS:
                    break
                if tag2 == tag or (opposite and forward == forward2):
                    continue
                start, end = max(lo, lo2), min(hi, hi2)
                if end - start <= EPS:
                    continue
                yield (tag, tag2), _part(seg, lo, hi, forward, start, end)


def _part(seg: Segment, lo: float, hi: float, forward: bool, start: float, end: float) -> Segment:
    if start - lo <= EPS and hi - end <= EPS:
        return seg
    (px, py), (qx, qy) = seg if forward else (seg[1], seg[0])
    n = hi - lo

    def at(t: float) -> Point:
        if -EPS <= t - lo <= EPS:
            return (px, py)
        if -EPS <= t - hi <= EPS:
            return (qx, qy)
        k = (t - lo) / n
        return (px + (qx - px) * k, py + (qy - py) * k)

    a, b = at(start), at(end)
    return (a, b) if forward else (b, a)


#: Cell width in which lines are looked up; far above the tolerance, far below a visible angle.
GRAIN = 1e-6
#: A line is entered in every cell that it is this near to (in cell widths).
_REACH = 0.1
#: This near to the middle of a cell they are in no other.
_INNER = 0.5 - 1.5 * _REACH
#: Shorter segments do not know their direction well enough for that, and look all around.
_SHORT = 4 * EPS / (_REACH * GRAIN)
_AROUND = sorted(product((0, -1, 1), repeat=2), key=lambda step: sum(map(abs, step)))
_HERE = _AROUND[:1]

#: A segment measured along the line that carries it: (from, to, forward, tag, segment).
Interval = tuple[float, float, bool, int, Segment]
_Known = tuple[float, float, float, list[Interval]]


def along_lines(tagged: Sequence[tuple[int, Segment]]) -> list[list[Interval]]:
    """Segments grouped by the line that carries them: (from, to, forward, tag, segment) of each.

    `from` and `to` are measured along the line, `forward` tells whether the segment runs that way.
    Longer segments come first, so that a line is known as well as it can be.
    """
    sized = [(hypot(s[0][0] - s[1][0], s[0][1] - s[1][1]), tag, s) for tag, s in tagged]
    sized.sort(key=_longest_first)
    known: dict[tuple[int, int], list[_Known]] = {}
    groups: list[list[Interval]] = []
    for n, tag, seg in sized:
        if n <= EPS:
            continue
        (px, py), (qx, qy) = seg
        ux, uy = (qx - px) / n, (qy - py) / n
        if ux < -GRAIN or (ux <= GRAIN and uy < 0):
            ux, uy = -ux, -uy
        off = px * uy - py * ux
        # the tangent of half the angle tells directions apart equally well all round
        way, place = uy / (1.0 + ux) / GRAIN, off / GRAIN
        x, y = round(way), round(place)
        home: _Known | None = None
        for dx, dy in _AROUND if n < _SHORT else _HERE:
            for line in known.get((x + dx, y + dy), ()):
                vx, vy, at, _ = line
                if -EPS <= px * vy - py * vx - at <= EPS and -EPS <= qx * vy - qy * vx - at <= EPS:
                    home = line
                    break
            if home is not None:
                break
        if home is None:
            home = (ux, uy, off, [])
            groups.append(home[3])
            if -_INNER < way - x < _INNER and -_INNER < place - y < _INNER:
                known.setdefault((x, y), []).append(home)
            else:
                for near in product(_cells_near(way, x), _cells_near(place, y)):
                    known.setdefault(near, []).append(home)
        vx, vy, _, members = home
        s, t = px * vx + py * vy, qx * vx + qy * vy
        members.append((s, t, True, tag, seg) if s <= t else (t, s, False, tag, seg))
    return groups


def _longest_first(sized: tuple[float, int, Segment]) -> int:
    return -round(sized[0] * 1e6)


def _cells_near(x: float, cell: int) -> tuple[int, ...]:
    """The cell of a coordinate (in cell widths), and the next one where it lies near the border."""
    if x - cell > 0.5 - _REACH:
        return cell, cell + 1
    if x - cell < _REACH - 0.5:
        return cell, cell - 1
    return (cell,)


def merged(segments: Iterable[Segment]) -> list[Segment]:
    """Segments united where they overlap or touch end to end along one line."""
    out: list[Segment] = []
    for bucket in along_lines([(0, s) for s in segments]):
        bucket.sort(key=lambda item: (item[0], item[1]))
        run: tuple[float, float, Point, Point] | None = None
        for lo, hi, forward, _, seg in bucket:
            start, end = seg if forward else (seg[1], seg[0])
            if run is not None and lo <= run[1] + EPS:
                if hi > run[1]:
                    run = (run[0], hi, run[2], end)
                continue
            if run is not None:
                out.append((run[2], run[3]))
            run = (lo, hi, start, end)
        if run is not None:
            out.append((run[2], run[3]))
    return out


def remainder(segments: Iterable[Segment], taken: Iterable[Segment]) -> list[Segment]:
    """What is left of segments after taking away those parts that `taken` covers."""
    left, taken = list(segments), list(taken)
    if not taken or not left:
        return left
    tagged = [*enumerate(left), *((-1, seg) for seg in taken)]
    out: list[tuple[int, list[Segment]]] = []
    for line in along_lines(tagged):
        holes = sorted((lo, hi) for lo, hi, _, tag, _ in line if tag < 0)
        out.extend(
            (tag, _without(seg, lo, hi, forward, holes))
            for lo, hi, forward, tag, seg in line
            if tag >= 0
        )
    return [piece for _, pieces in sorted(out, key=lambda item: item[0]) for piece in pieces]


def _without(
    seg: Segment, lo: float, hi: float, forward: bool, holes: Sequence[tuple[float, float]]
) -> list[Segment]:
    """Pieces of a segment outside the holes, all of them measured along one line."""
    pieces: list[Segment] = []
    at = lo
    for start, end in holes:
        if end <= at + EPS:
            continue
        if start >= hi - EPS:
            break
        if start - at > EPS:
            pieces.append(_part(seg, lo, hi, forward, at, start))
        at = end
    if hi - at > EPS:
        pieces.append(_part(seg, lo, hi, forward, at, hi))
    return pieces if forward else pieces[::-1]
