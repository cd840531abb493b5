"""Where a point is, in words that fingers can follow.

In: a `StateDescription` and a point of the folded plane. Out: a `Place`: a phrase such as 'the farthest
corner', 'the middle of the near edge' or 'the point where the crease from step 2 meets the right edge',
with a rank that tells how sure it is: 0 can be felt, 1 can be found, 2 must be measured along an edge,
3 must be measured across the paper.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..geometry.lines import Point, cross, distance, point_on_segment, subtract, unit
from ..languages.unit_names import on_sheet
from ..languages.wording import Phrase, listed, phrase
from .description import FeltLine, StateDescription, several_creases
from .directions import way
from .outline import CLOSE, Edge

_FRACTIONS = (
    (1 / 2, Phrase("half")),
    (1 / 3, Phrase("a third")),
    (1 / 4, Phrase("a quarter")),
    (1 / 5, Phrase("a fifth")),
    (2 / 5, Phrase("two fifths")),
    (1 / 8, Phrase("an eighth")),
    (3 / 8, Phrase("three eighths")),
)


#: A crease shorter than this is a pinch, whose ends are felt (sheet units).
_SHORT = 0.15


@dataclass(frozen=True)
class PlaceName:
    """Words for a point, and how sure they are (0 best)."""

    words: Phrase
    rank: int


def place(description: StateDescription, p: Point, *, letters: bool = True) -> PlaceName:
    """The best words for a point; with `letters`, a corner of the sheet may give its name.

    Without them the point is such a corner itself, so the open edges that end in it say nothing.
    """
    corner = description.outline.corner_at(p)
    if corner is not None:
        return PlaceName(corner.name, 0)
    edges = description.outline.edges_at(p)
    names = description.open_corners_at(p) if letters else ()
    on = lines_through(description, p)
    if not letters:
        on = tuple(c for c in on if c.kind != "raw" or not _ends(c, p))
    if edges:
        return _on_edge(description, edges[0], on, p, names)
    if distance(p, description.centre) < CLOSE and description.balanced:
        return PlaceName(Phrase("the middle of the paper"), 0 if on else 1)
    plain = tuple(c for c in on if c.plain)
    if len(plain) > 1 and not _one_line(plain):
        crossing = _crossing(description, plain, p)
        if crossing is not None:
            return PlaceName(crossing, 0)
    middle = _on_middle_line(description, p)
    if middle is not None:
        return PlaceName(middle, 2)
    if len(plain) > 1 and not _one_line(plain):
        return PlaceName(_meeting(plain), 0)
    if names:
        return PlaceName(phrase("corner {name}", name=on_sheet(names[0])), 0)
    straight = _straight(description, p)
    if straight is not None and not letters:
        return PlaceName(straight, 3)
    if plain:
        return _on_line(description, plain[0], p)
    return PlaceName(straight or _measured(description, p), 3)


def _ends(line: FeltLine, p: Point) -> bool:
    return min(distance(p, e) for e in line.segment) < CLOSE


def lines_through(description: StateDescription, p: Point) -> tuple[FeltLine, ...]:
    """Creases and inner edges that a point lies on."""
    return tuple(c for c in description.lines if point_on_segment(c.segment, p, CLOSE))


def _one_line(on: tuple[FeltLine, ...]) -> bool:
    """Whether the lines all run the same way, so that they fix no point."""
    ways = [unit(subtract(c.segment[1], c.segment[0])) for c in on]
    return all(abs(cross(ways[0], w)) < CLOSE for w in ways)


def _share(length: float, whole: float) -> Phrase | None:
    """A length as a share of another that one finds by folding, None where it is none."""
    return next((words for part, words in _FRACTIONS if abs(length / whole - part) < 1e-5), None)


def _on_middle_line(description: StateDescription, p: Point) -> Phrase | None:
    """By a share of the middle line of the shape, else by measuring along it, from the nearer of its ends."""
    if description.middle is None or abs(p[0] - description.middle) > 1e-5:
        return None
    ends = [
        (c.at[1], c.name)
        for c in description.outline.corners
        if not c.inward and abs(c.at[0] - description.middle) < 1e-5
    ]
    ends += [
        (e.segment[0][1], e.name)
        for e in description.outline.edges
        if e.facing in (("far", ""), ("near", ""))
        and min(e.segment)[0] < description.middle < max(e.segment)[0]
    ]
    if not ends:
        return None
    ends.sort(key=lambda end: round(abs(end[0] - p[1]), 5))
    (at, name), (beyond, other) = ends[0], ends[-1]
    away, whole = abs(at - p[1]), abs(at - beyond)
    between = len(ends) == 2 and min(at, beyond) < p[1] < max(at, beyond)
    part = _share(away, whole) if between else None
    if part == _FRACTIONS[0][1]:
        return phrase(
            "the point on the middle line that is halfway ({mm} mm) from {where} to {other}",
            mm=description.mm(away),
            where=name,
            other=other,
        )
    if part is not None:
        return phrase(
            "the point on the middle line that is {part} of the way ({mm} mm) from {where} to {other}",
            part=part,
            mm=description.mm(away),
            where=name,
            other=other,
        )
    return phrase(
        "the point on the middle line that is {mm} mm from {where}",
        mm=description.mm(away),
        where=name,
    )


def _crossing(description: StateDescription, on: tuple[FeltLine, ...], p: Point) -> Phrase | None:
    """Where just the creases of one step cross or meet."""
    same = [c for c in on if c.kind == "crease" and c.step == on[0].step]
    if len(same) == len(on) and len(
        [c for c in description.creases if c.step == on[0].step]
    ) == len(on):
        step = on[0].step
        creases = several_creases(step)
        if any(_ends(c, p) for c in on):
            return phrase("the point where the {creases} meet", creases=creases)
        return phrase("the point where the {creases} cross", creases=creases)
    return None


def _meeting(on: tuple[FeltLine, ...]) -> Phrase:
    return phrase("the point where {lines} meet", lines=listed([c.name for c in _different(on)]))


def _different(on: tuple[FeltLine, ...]) -> list[FeltLine]:
    """Two lines that run different ways, creases first."""
    first = on[0]
    way_ = unit(subtract(first.segment[1], first.segment[0]))
    other = next(
        c for c in on[1:] if abs(cross(way_, unit(subtract(c.segment[1], c.segment[0])))) >= CLOSE
    )
    return [first, other]


def _on_edge(
    description: StateDescription,
    edge: Edge,
    on: tuple[FeltLine, ...],
    p: Point,
    names: tuple[str, ...],
) -> PlaceName:
    ways = unit(subtract(edge.segment[1], edge.segment[0]))
    crossing = [
        c
        for c in on
        if c.plain and abs(cross(ways, unit(subtract(c.segment[1], c.segment[0])))) >= CLOSE
    ]
    middle = abs(distance(p, edge.segment[0]) - edge.length / 2) < 1e-5
    if middle and crossing and not crossing[0].alone:
        return PlaceName(phrase("the middle of {edge}", edge=edge.name), 0)
    if crossing:
        words = phrase("the point where {line} meets {edge}", line=crossing[0].name, edge=edge.name)
        return PlaceName(words, 0)
    if names:
        return PlaceName(
            phrase("corner {name} on {edge}", name=on_sheet(names[0]), edge=edge.name), 0
        )
    if middle:
        return PlaceName(phrase("the middle of {edge}", edge=edge.name), 1)
    near = min((edge.start, edge.end), key=lambda c: round(distance(c.at, p), 7))
    away = distance(near.at, p)
    part = _share(away, edge.length)
    if part is not None:
        words = phrase(
            "the point on {edge} that is {part} of its length ({mm} mm) from {corner}",
            edge=edge.name,
            part=part,
            mm=description.mm(away),
            corner=near.name,
        )
        return PlaceName(words, 2)
    words = phrase(
        "the point on {edge} that is {mm} mm from {corner}",
        edge=edge.name,
        mm=description.mm(away),
        corner=near.name,
    )
    return PlaceName(words, 2)


def _on_line(description: StateDescription, line: FeltLine, p: Point) -> PlaceName:
    """A point on a crease or inner edge, away from everything else that could be felt."""
    ends = sorted(line.segment, key=lambda e: round(distance(e, p), 7))
    if distance(ends[0], p) < CLOSE and distance(*ends) < _SHORT:
        return PlaceName(phrase("the inner end of {line}", line=line.name), 0)
    for end in ends:
        corner = description.outline.corner_at(end)
        if corner is None and not description.outline.edges_at(end):
            continue
        where = corner.name if corner is not None else description.outline.edges_at(end)[0].name
        whole = distance(*line.segment)
        if abs(distance(end, p) - whole / 2) < 1e-5:
            return PlaceName(phrase("the middle of {line}", line=line.name), 1)
        part = _share(distance(end, p), whole)
        if part is not None:
            words = phrase(
                "the point on {line} that is {part} of its length ({mm} mm) from {where}",
                line=line.name,
                part=part,
                mm=description.mm(distance(end, p)),
                where=where,
            )
            return PlaceName(words, 2)
        words = phrase(
            "the point on {line} that is {mm} mm from {where}",
            line=line.name,
            mm=description.mm(distance(end, p)),
            where=where,
        )
        return PlaceName(words, 2)
    return PlaceName(_straight(description, p) or _measured(description, p), 3)


def _straight(description: StateDescription, p: Point) -> Phrase | None:
    """By measuring from a corner of the outline straight along, or straight toward the folder."""
    outer = [c for c in description.outline.corners if not c.inward]
    for c in sorted(outer, key=lambda c: round(distance(c.at, p), 6)):
        v = subtract(p, c.at)
        if min(abs(v[0]), abs(v[1])) < 1e-5:
            return phrase(
                "the point that is {mm} mm straight {way} from {corner}",
                mm=description.mm(distance(p, c.at)),
                way=way(v),
                corner=c.name,
            )
    return None


def _measured(description: StateDescription, p: Point) -> Phrase:
    """By measuring across the paper from two sides."""
    x0, y0, x1, y1 = description.bounds
    left, near = p[0] - x0 <= x1 - p[0], p[1] - y0 <= y1 - p[1]
    across = p[0] - x0 if left else x1 - p[0]
    depth = p[1] - y0 if near else y1 - p[1]
    return phrase(
        "the point that is {across} mm in from the {side} and {depth} mm in from the {end}",
        across=description.mm(across),
        side=Phrase("leftmost side" if left else "rightmost side"),
        depth=description.mm(depth),
        end=Phrase("nearest side" if near else "farthest side"),
    )
