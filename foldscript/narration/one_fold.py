"""Folds about one line: what to hold, where it goes, where the fold runs.

In: a `Fold`, the paper before it. Out: sentences. The point or edge that the script leads comes first;
whatever else meets exactly, and both ends of the fold, are narrated too, so that every fold is fixed twice
and the folder can check it by touch.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..geometry import polygons
from ..geometry.lines import (
    Point,
    Segment,
    distance,
    line_through,
    midpoint,
    on_line,
    overlap_of,
    point_on_segment,
    segment_distance,
    signed_distance,
    subtract,
)
from ..geometry.polygons import edges as sides_of
from ..languages.unit_names import on_sheet
from ..languages.wording import Phrase, Template, phrase
from ..paper.signs import Sense
from .changes import Fold, outline_of_parts
from .description import FeltLine, StateDescription
from .directions import in_reading_order, way
from .layers import layers_phrase, level_or_upright
from .outline import CLOSE, Edge
from .places import PlaceName, place


@dataclass(frozen=True)
class Meeting:
    """An edge of the moving paper that comes to lie along something that stays."""

    edge: Segment
    name: Phrase
    along: Phrase
    whole: bool  # both ends meet too
    level: bool  # whether it moves as a whole, without an end that stays


def how(description: StateDescription, fold: Fold, *, ends: bool = True) -> tuple[Phrase, ...]:
    """Sentences that say what to take and where it goes, up to where the fold runs."""
    hold = _hold(description, fold)
    meetings = _meetings(description, fold)
    sentences: list[Phrase] = []
    tail_named = any(distance(fold.tail, p) < CLOSE for p in fold.named)
    head_named = any(distance(fold.head, p) < CLOSE for p in fold.named)
    limits = crease_ends(description, fold.crease) if ends else ()
    straight = level_or_upright(description, fold.crease, hold) if ends else None
    held = False
    if tail_named and head_named:
        sentences.append(
            _point_sentence(description, fold, fold.tail, place(description, fold.head))
        )
    elif not fold.named and meetings:
        first = next(
            (m for m in meetings if point_on_segment(m.edge, fold.tail, CLOSE)), meetings[0]
        )
        meetings = [first, *(m for m in meetings if m is not first)]
        sentences.append(_edge_sentence(description, fold, first))
        meetings = meetings[1:]
        stays = [p for p in first.edge if abs(signed_distance(fold.line, p)) < CLOSE]
        if stays and description.outline.corner_at(stays[0]) is not None:
            sentences.append(
                phrase("{corner} stays where it is.", corner=place(description, stays[0]).words)
            )
    else:
        held = True
        spot = limits or crease_ends(description, fold.crease)
        sentences.append(_line_sentence(description, fold, hold, spot, straight))
        limits = ()
    if not (tail_named and head_named and distance(hold, fold.tail) < CLOSE):
        sentences.append(_landing(description, fold, hold, held))
    for m in meetings[:2]:
        sentences.append(phrase("{edge} comes to lie along {line}.", edge=m.name, line=m.along))
    if straight is not None and not held:
        sentences.append(straight)
    elif limits:
        sentences.append(
            phrase("The fold runs from {first} to {last}.", first=limits[0], last=limits[1])
        )
    again = _along_crease(description, fold)
    if again is not None:
        sentences.append(phrase("The fold follows {line}.", line=again.name))
    return tuple(dict.fromkeys(sentences))


def _landing(description: StateDescription, fold: Fold, hold: Point, held: bool) -> Phrase:
    """Where the point that the fingers hold comes to lie, on the paper or beyond it."""
    edge = _held_edge(description, fold) if held else None
    if edge is not None:
        away = signed_distance(fold.line, edge[0][0])
        return phrase(
            "The edge then lies {mm} mm beyond the new fold, along it.", mm=description.mm(away)
        )
    at = fold.lands(hold)
    corner = description.outline.corner_at(hold) is not None
    short = Phrase("the corner") if corner else Phrase("the point")
    what = short if held else _what(description, fold, hold)
    if any(polygons.inside(ring, at, CLOSE) for ring in description.state.placed):
        goal = _goal(fold, place(description, at).words)
        return phrase("{what} then lies at {where}.", what=what, where=goal)

    def beyond(e: Edge) -> float:
        return signed_distance(line_through(*e.segment), at)

    outside = [e for e in description.outline.edges if beyond(e) > CLOSE]
    edge = min(outside, key=lambda e: round(segment_distance(e.segment, at), 7))
    moved = subtract(at, hold)
    if min(abs(moved[0]), abs(moved[1])) < 1e-5:
        return phrase(
            "{what} then lies {far} mm straight {way} from where it was and sticks out {mm} mm beyond "
            "{edge}.",
            what=what,
            far=description.mm(distance(at, hold)),
            way=way(moved),
            mm=description.mm(beyond(edge)),
            edge=edge.name,
        )
    return phrase(
        "{what} then sticks out {mm} mm beyond {edge}.",
        what=what,
        mm=description.mm(beyond(edge)),
        edge=edge.name,
    )


def crease_ends(description: StateDescription, crease: Segment) -> tuple[Phrase, ...]:
    """Words for both ends of a line."""
    first, last = in_reading_order(crease)
    return place(description, first).words, place(description, last).words


def _what(description: StateDescription, fold: Fold, p: Point) -> Phrase:
    """'the left corner (corner D of the sheet)': a point of the paper that moves."""
    found = place(description, p)
    names = _moving_letters(description, fold, p)
    if not names or description.outline.corner_at(p) is None:
        return found.words
    template: Template = (
        "{place} (corner {names})" if len(names) == 1 else "{place} (corners {names})"
    )
    return phrase(template, place=found.words, names=on_sheet(*names))


def _moving_letters(description: StateDescription, fold: Fold, p: Point) -> list[str]:
    """Corners of the sheet at a point that move along."""
    moving = {i for i, _ in fold.parts}
    sheet = description.state.sheet
    return [
        name
        for name in description.corners_at(p)
        if moving & set(description.state.facets_on_sheet(sheet.corner(name)))
    ]


_OVER = {
    "top": Phrase("over on top"),
    "under": Phrase("away underneath the paper"),
    "inside": Phrase("in between the layers"),
}


def _over(fold: Fold) -> str:
    if fold.inside:
        return "inside"
    return "top" if fold.sense is Sense.VALLEY else "under"


def _goal(fold: Fold, where: Phrase) -> Phrase:
    """Where something lands: on top of a place, under it, or between its layers."""
    template: dict[str, Template] = {
        "top": "{place}",
        "under": "{place}, but underneath",
        "inside": "{place}, but inside",
    }
    return phrase(template[_over(fold)], place=where)


def _point_sentence(description: StateDescription, fold: Fold, p: Point, goal: PlaceName) -> Phrase:
    return phrase(
        "Take {what}{layers} and fold it {way}, {over}, to {where}.",
        what=_what(description, fold, p),
        layers=_with_comma(layers_phrase(description, fold, p)),
        way=way(subtract(fold.lands(p), p)),
        over=_OVER[_over(fold)],
        where=goal.words,
    )


def _with_comma(layers: Phrase) -> Phrase:
    ends = not layers.template or layers.template.endswith(",")
    return layers if ends else phrase("{layers},", layers=layers)


def _edge_sentence(description: StateDescription, fold: Fold, m: Meeting) -> Phrase:
    middle = midpoint(*m.edge)
    return phrase(
        "Take {edge}{layers} and fold it {way}, {over}, until it lies along {line}.",
        edge=m.name,
        layers=_with_comma(layers_phrase(description, fold, middle)),
        way=way(subtract(fold.lands(middle), middle)),
        over=_OVER[_over(fold)],
        line=m.along,
    )


def _held_edge(description: StateDescription, fold: Fold) -> tuple[Segment, Phrase] | None:
    """The edge along the far side of the moving paper, where it has one instead of a corner."""
    rings = outline_of_parts([part for _, part in fold.parts])
    reach = max(signed_distance(fold.line, p) for ring in rings for p in ring)
    for ring in rings:
        for edge in sides_of(ring):
            if all(signed_distance(fold.line, p) > reach - CLOSE for p in edge):
                name = _edge_name(description, edge)
                return None if name is None else (edge, name)
    return None


def _line_sentence(
    description: StateDescription,
    fold: Fold,
    hold: Point,
    ends: tuple[Phrase, ...],
    straight: Phrase | None,
) -> Phrase:
    edge = _held_edge(description, fold)
    spot = midpoint(*edge[0]) if edge is not None else hold
    moving: dict[str, Phrase] = {
        "what": edge[1] if edge is not None else _what(description, fold, hold),
        "layers": _with_comma(layers_phrase(description, fold, spot)),
        "way": way(subtract(fold.lands(spot), spot)),
        "over": _OVER[_over(fold)],
    }
    if straight is not None:
        return phrase(
            "Take {what}{layers} and fold it {way}, {over}. {line}", line=straight, **moving
        )
    return phrase(
        "Take {what}{layers} and fold it {way}, {over}. The fold runs straight from {first} to {last}.",
        first=ends[0],
        last=ends[1],
        **moving,
    )


def _hold(description: StateDescription, fold: Fold) -> Point:
    """The point of the moving paper that fingers would take: a corner, far from the crease."""
    points = [
        p
        for ring in outline_of_parts([part for _, part in fold.parts])
        for p in ring
        if signed_distance(fold.line, p) > 1e-4
    ]
    reach = max(signed_distance(fold.line, p) for p in points)

    def cost(p: Point) -> tuple[float, ...]:
        landing = place(description, fold.lands(p)).rank
        far = signed_distance(fold.line, p) / reach
        led = distance(p, fold.tail) < CLOSE
        own = place(description, p).rank
        return (
            own + 0.5 * landing - 2.0 * far - (1.0 if led else 0.0),
            round(p[0], 6),
            round(p[1], 6),
        )

    return min(points, key=cost)


def _meetings(description: StateDescription, fold: Fold) -> list[Meeting]:
    """Edges of the moving paper that land along an edge or crease, longest first."""
    found: list[tuple[float, Meeting]] = []
    goals: list[tuple[Segment, Phrase]] = [(e.segment, e.name) for e in description.outline.edges]
    if description.middle is not None:
        _, y0, _, y1 = description.bounds
        goals.append(
            (((description.middle, y0), (description.middle, y1)), Phrase("the middle line"))
        )
    goals += [
        (c.segment, name)
        for c in description.lines
        if (name := _line_name(description, c)) is not None
    ]
    for ring in outline_of_parts([part for _, part in fold.parts]):
        for edge in sides_of(ring):
            if all(
                on_line(fold.line, p) or abs(signed_distance(fold.line, p)) < CLOSE for p in edge
            ):
                continue
            name = _edge_name(description, edge)
            if name is None:
                continue
            image = (fold.lands(edge[0]), fold.lands(edge[1]))
            for goal, along in goals:
                if along == name or fold.moves(midpoint(*goal)):
                    continue
                if not all(abs(signed_distance(line_through(*goal), p)) < CLOSE for p in image):
                    continue
                common = overlap_of(image, goal)
                if common is None or distance(*common) < 0.3 * distance(*edge):
                    continue
                whole = distance(*common) > max(distance(*edge), distance(*goal)) - CLOSE
                stays = min(abs(signed_distance(fold.line, p)) for p in edge)
                found.append((distance(*common), Meeting(edge, name, along, whole, stays > CLOSE)))
                break
    found.sort(key=lambda f: -round(f[0], 6))
    out: list[Meeting] = []
    for _, m in found:
        if all(m.name != o.name for o in out):
            out.append(m)
    return out


def _edge_name(description: StateDescription, edge: Segment) -> Phrase | None:
    """Name of an edge of the outline, or of an edge on top, that a moving edge is part of."""
    for e in description.outline.edges:
        if overlap_of(edge, e.segment) is not None:
            return e.name
    for line in description.inner_edges:
        if line.plain and overlap_of(edge, line.segment) is not None:
            return line.name
    return None


def _line_name(description: StateDescription, line: FeltLine) -> Phrase | None:
    """What an edge or crease on top is called as a goal; None where fingers would have to count."""
    if line.kind == "crease" and line.alone:
        return line.name
    if description.middle is not None and all(
        abs(p[0] - description.middle) < CLOSE for p in line.segment
    ):
        return Phrase("the middle line")
    return line.name if line.plain else None


def _along_crease(description: StateDescription, fold: Fold) -> FeltLine | None:
    """The earlier crease that the fold follows."""
    for c in description.creases:
        if not c.plain:
            continue
        common = overlap_of(fold.crease, c.segment)
        if common is not None and distance(*common) > 0.5 * distance(*fold.crease):
            return c
    return None
