"""Moves that fold several creases at once: what the hands do, what goes where.

In: a `MoveRecord`, the paper before and after it, and what the move itself says for fingers. Out:
sentences: first what such a move is, then the lines it folds along and which layers fold which way, then
what the hands do, then every point that comes to lie elsewhere, and in which order.
"""

from __future__ import annotations

from ..folding.steps import MoveRecord
from ..geometry import polygons
from ..geometry.lines import (
    Point,
    Segment,
    distance,
    midpoint,
    overlap_of,
    point_on_segment,
    subtract,
)
from ..languages.unit_names import on_sheet, said
from ..languages.wording import Phrase, Template, listed, phrase, plural
from ..moves.planning.fingers import Opened, Several
from ..paper.signs import Arrow, CutLine, Sense
from .changes import Moved, fold_lines, moved_pieces
from .cutting import cut_off, cuts
from .description import FeltLine, StateDescription
from .directions import in_reading_order, way
from .outline import CLOSE
from .places import place
from .senses import halves, layer_senses, senses_phrase
from .situation import corner_level
from .stacks import depth_of, joined


def compound(
    before: StateDescription, after: StateDescription, record: MoveRecord, fingers: Several
) -> tuple[Phrase, ...]:
    """Sentences for a move of several folds, with what the move itself says for fingers."""
    cut = any(isinstance(sign, CutLine) for sign in record.signs)
    if not cut and not moved_pieces(record.before, record.after):
        return (fingers.slipped, *_changed_levels(before, after))
    arrows = _arrows(before, record)
    found = [fingers.first]
    if fingers.arrows_first:
        found += arrows
    found += _lines(before, record)
    if fingers.halves:
        found += _halves(record)
    found += fingers.then
    found += cuts(before, record)
    found += cut_off(before, after)
    found += arrows
    found += journeys(before, after, record)
    found += _stacking(before, after)
    return tuple(dict.fromkeys(found))


def _halves(record: MoveRecord) -> list[Phrase]:
    found = (halves(layer_senses(record, segment)) for _, segment in fold_lines(record))
    return [words for words in found if words is not None][:1]


def _stacking(before: StateDescription, after: StateDescription) -> list[Phrase]:
    """Corners of the sheet that a move brings together, in the order in which they are laid down."""
    was = dict(before.corners)
    out: list[Phrase] = []
    for _, at in after.corners:
        here = [n for n, p in after.corners if distance(p, at) < CLOSE]
        if len(here) < 3 or sum(distance(was[n], at) > CLOSE for n in here) < 2:
            continue
        depth = {n: depth_of(after.state, after.state.sheet.corner(n)).over for n in here}
        rows = [
            listed([phrase("{name}", name=said(n)) for n in here if depth[n] == over])
            for over in sorted(set(depth.values()), reverse=True)
        ]
        if len(rows) < 2:
            continue
        order = rows[0]
        for row in rows[1:]:
            order = phrase("{some}; then {more}", some=order, more=row)
        out.append(
            phrase(
                "These corners come to lie one on the other in this order, from the table up: {order}.",
                order=order,
            )
        )
    return out


def _changed_levels(before: StateDescription, after: StateDescription) -> list[Phrase]:
    """Corners of the sheet that keep their place but lie higher or lower, those alike together."""
    alike: dict[Phrase, list[str]] = {}
    for name, _ in after.corners:
        level = corner_level(after, name)
        if corner_level(before, name) != level:
            alike.setdefault(level, []).append(name)
    return [
        plural(
            "Corner {name} keeps its place and now lies {level}.",
            "Corners {name} keep their places and now lie {level}.",
            len(names),
            name=on_sheet(*names),
            level=level,
        )
        for level, names in alike.items()
    ]


def _lines(description: StateDescription, record: MoveRecord) -> list[Phrase]:
    """The folds: valleys sink, mountains rise."""
    out: list[Phrase] = []
    for sense, segment in fold_lines(record):
        layers = layer_senses(record, segment)
        if len(layers) > 1:
            first, last = (place(description, p).words for p in in_reading_order(segment))
            out.append(
                phrase(
                    "The fold runs from {first} to {last}; from the top down: {layers}.",
                    first=first,
                    last=last,
                    layers=senses_phrase(layers),
                )
            )
            continue
        first, last = (place(description, p).words for p in in_reading_order(segment))
        there = followed(description, segment)
        if there is not None:
            template: Template = (
                "A valley fold, whose line sinks, follows {line} from end to end."
                if sense is Sense.VALLEY
                else "A mountain fold, whose line rises, follows {line} from end to end."
            )
            out.append(phrase(template, line=there.name))
            continue
        template: Template = (
            "A valley fold, whose line sinks, runs from {first} to {last}."
            if sense is Sense.VALLEY
            else "A mountain fold, whose line rises, runs from {first} to {last}."
        )
        out.append(phrase(template, first=first, last=last))
    return out


def followed(description: StateDescription, segment: Segment) -> FeltLine | None:
    """The crease or edge on top that has just this segment."""
    for line in description.lines:
        if not line.plain:
            continue
        common = overlap_of(segment, line.segment)
        whole = max(distance(*segment), distance(*line.segment))
        if common is not None and distance(*common) > whole - 1e-5:
            return line
    return None


def _arrows(before: StateDescription, record: MoveRecord) -> list[Phrase]:
    """Where the points that the move leads come to lie."""
    out: list[Phrase] = []
    for sign in record.signs:
        if not isinstance(sign, Arrow):
            continue
        start, goal = place(before, sign.tail), place(before, sign.head)
        if start.rank > 1 or goal.rank > 1 or start.words == goal.words:
            continue
        template: Template = (
            "{start} goes to {goal}, in between the layers there."
            if sign.under
            else "{start} goes to {goal}."
        )
        out.append(phrase(template, start=start.words, goal=goal.words))
    return out


def journeys(before: StateDescription, after: StateDescription, record: MoveRecord) -> list[Phrase]:
    """Every corner of the sheet and of the outline that comes to lie elsewhere."""
    out: list[Phrase] = []
    stay: list[str] = []
    narrated: list[Point] = []
    places = dict(after.corners)
    for name, at in before.corners:
        if name not in places:
            continue  # cut off
        then = places[name]
        if distance(at, then) < CLOSE:
            stay.append(name)
            continue
        narrated.append(at)
        out.append(
            phrase(
                "Corner {name}, now at {start}, comes to lie at {goal} of the new shape.",
                name=on_sheet(name),
                start=place(before, at, letters=False).words,
                goal=place(after, then, letters=False).words,
            )
        )
        out += _measured_from(before, after, name)
    for p, q in _other_corners(before, record):
        if any(distance(p, t) < CLOSE for t in narrated):
            continue
        narrated.append(p)
        out.append(
            phrase(
                "What was {start} comes to lie at {goal} of the new shape.",
                start=place(before, p).words,
                goal=place(after, q).words,
            )
        )
    if stay and out:
        names = on_sheet(*stay)
        out.append(
            phrase("Corner {names} stays where it is.", names=names)
            if len(stay) == 1
            else phrase("Corners {names} stay where they are.", names=names)
        )
    return out


def _measured_from(before: StateDescription, after: StateDescription, name: str) -> list[Phrase]:
    """Where a corner of the sheet lies by two distances from one that stays, if it must be measured."""
    was, now = dict(before.corners), dict(after.corners)
    if not after.outline.numbered and place(after, now[name], letters=False).rank < 3:
        return []
    fixed = [
        n for n, p in now.items() if distance(was[n], p) < CLOSE and distance(p, now[name]) > 1e-3
    ]
    if not fixed:
        return []
    other = min(fixed, key=lambda n: round(distance(now[n], now[name]), 6))
    dx, dy = subtract(now[name], now[other])
    if min(abs(dx), abs(dy)) < CLOSE:
        return [
            phrase(
                "It then lies {mm} mm {way}, measured from corner {name} of the sheet, which stays.",
                mm=after.mm(distance(now[name], now[other])),
                way=way((dx, dy)),
                name=said(other),
            )
        ]
    return [
        phrase(
            "It then lies {across} mm {side} and {depth} mm {along}, measured from corner {name} of the "
            "sheet, which stays.",
            across=after.mm(abs(dx)),
            side=way((dx, 0.0)),
            depth=after.mm(abs(dy)),
            along=way((0.0, dy)),
            name=said(other),
        )
    ]


def _other_corners(before: StateDescription, record: MoveRecord) -> list[tuple[Point, Point]]:
    """Corners of the outline that are no corners of the sheet and move, with where they land."""
    moved = moved_pieces(record.before, record.after)
    out: list[tuple[Point, Point]] = []
    for corner in before.outline.corners:
        if before.corners_at(corner.at):
            continue
        goals = _landings(moved, corner.at)
        held = any(
            polygons.inside(ring, corner.at, CLOSE)
            for i, ring in enumerate(record.before.placed)
            if not any(m.facet == i and polygons.inside(m.outline, corner.at, CLOSE) for m in moved)
        )
        if len(goals) == 1 and not held and distance(goals[0], corner.at) > CLOSE:
            out.append((corner.at, goals[0]))
    return out


def _landings(moved: tuple[Moved, ...], p: Point) -> list[Point]:
    goals: list[Point] = []
    for m in moved:
        if polygons.inside(m.outline, p, CLOSE):
            q = m.motion(p)
            if all(distance(q, g) > CLOSE for g in goals):
                goals.append(q)
    return goals


def opened(
    before: StateDescription, after: StateDescription, record: MoveRecord, fingers: Opened
) -> tuple[Phrase, ...]:
    """Unfolding: which folds open, and where the corners go."""
    folds = joined(_vanished(record))
    found = [fingers.first]
    for segment in folds[:4]:
        first, last = (place(before, p).words for p in in_reading_order(segment))
        found.append(phrase(fingers.fold.template, first=first, last=last))
    found += journeys(before, after, record)
    found.append(fingers.last)
    return tuple(dict.fromkeys(found))


def _vanished(record: MoveRecord) -> list[Segment]:
    """Folds of the paper before, as they lay, that are flat afterwards."""
    flat = [(j.segment, record.before.facets[j.a].place) for j in record.before.joints if j.folded]
    still = [j.segment for j in record.after.joints if j.folded]
    out: list[Segment] = []
    for segment, home in flat:
        spot = midpoint(*segment)
        if not any(point_on_segment(s, spot, CLOSE) for s in still):
            out.append((home(segment[0]), home(segment[1])))
    return out
