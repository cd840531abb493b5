"""A model that stands in space, in words: how it is stood up, how large it is, what it stands on, what
stands up, where it is open.

In: a move with goals in space, or a pose. Out: sentences. Front is the side that faces the reader, left and
right are the reader's own.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..drawing.space.shape import Side, StandingShape, shape_of
from ..folding.steps import MoveRecord
from ..geometry.isometries import map_segment
from ..geometry.lines import Segment, distance, midpoint
from ..geometry.polygons import clip_segment
from ..languages.wording import Number, Phrase, Template, listed, phrase, plural
from ..paper.signs import PointSign
from ..pose.goals import (
    Blow,
    Bring,
    Close,
    Curl,
    Fan,
    Hold,
    Level,
    Open,
    Part,
    Pull,
    Raise,
    Round,
    Spread,
    Stand,
)
from ..pose.pose import Pose
from .description import StateDescription
from .directions import in_reading_order
from .narration import centimetres, count
from .places import place
from .spots import spots
from .stacks import joined

_SIDES: dict[Side, Phrase] = {
    Side.TOP: Phrase("the top"),
    Side.BOTTOM: Phrase("the bottom"),
    Side.FRONT: Phrase("the front"),
    Side.BACK: Phrase("the back"),
    Side.LEFT: Phrase("the left"),
    Side.RIGHT: Phrase("the right"),
}

#: By the side of the model that a point is pulled to: 1 the reader's.
_PULLS: dict[int, Template] = {
    0: "Pull {where} away from {held}, until they are {by} cm farther apart.",
    1: "Pull {where} up, until it is {by} cm above the paper at {held}.",
    -1: "Pull {where} away to the back, until it is {by} cm behind the paper at {held}.",
}

#: By whether the coloured side comes inside.
_INSIDE = {
    True: Phrase("The coloured side comes inside."),
    False: Phrase("The plain side comes inside."),
}


def stood(lie: StateDescription, record: MoveRecord) -> Iterator[Phrase]:
    """What hands do to stand the model up; places are told as the flat paper lies."""
    middle = Phrase("the middle of the paper")
    pressed, named = _named(lie, record, "push"), _named(lie, record, "open-out")
    where = named or middle
    raised = next((goal for goal in record.goals if isinstance(goal, Raise)), None)
    if named and any(isinstance(goal, Part) for goal in record.goals):
        yield phrase(
            "Slip your fingers into the pocket at {where}, and into all that are like it.",
            where=named,
        )
        where = middle
    if pressed and isinstance(raised, Level):
        yield phrase(
            "Press the paper at {where} until it is level with {goal}.",
            where=pressed,
            goal=_level(lie, raised),
        )
        return
    if pressed and raised is not None:
        yield (
            phrase(
                "Press the paper at {where} flat from inside, up to the creases round it: this is the "
                "floor. What is beyond the creases stands up.",
                where=pressed,
            )
            if raised.angle > 179.95
            else phrase(
                "Push the paper together at {where}, until the creases in the middle stand at {angle} "
                "degrees.",
                where=pressed,
                angle=Number(f"{raised.angle:g}"),
            )
        )
        return
    for goal in sorted(record.goals, key=lambda goal: not isinstance(goal, Hold)):
        match goal:
            case Fan(angle=angle):
                yield phrase(
                    "Spread the flaps at {where} evenly round the line that they share. Open each one along "
                    "the crease up its middle, until its two halves stand at {angle} degrees.",
                    where=where,
                    angle=Number(f"{angle:g}"),
                )
            case Part():
                pass  # told already, once for all
            case Raise():
                yield from _raised(lie, goal)
            case Stand(feet=feet):
                unit = lie.state.sheet.unit_mm
                points = [lie.state.where((x / unit, y / unit)) for x, y in feet]
                names = [place(lie, p).words for p in points]
                yield phrase(
                    "Stand the model on the table, on {feet}.",
                    feet=listed(list(dict.fromkeys(names))),
                )
            case Open(width=width):
                yield phrase(
                    "Put your fingers between the layers at {where} and part them, {width} cm wide.",
                    where=where,
                    width=centimetres(width),
                )
            case Spread(width=width):
                yield phrase(
                    "Draw the uppermost and the lowest layers apart at {where}, by {width} cm.",
                    where=where,
                    width=centimetres(width),
                )
            case Close():
                yield phrase(
                    "Bend the paper up along the creases of every unit, until each face stands "
                    "upright on the next. Every tab that is free comes to the open edge of a pocket: "
                    "slide it in there, as far as its crease."
                )
            case Blow():
                yield from spots(lie, record)
            case Bring(point=point, to=to):
                yield phrase(
                    "Bring {point} to {goal}.",
                    point=place(lie, lie.state.where(point)).words,
                    goal=place(lie, to).words,
                )
            case Round(width=width):
                yield phrase(
                    "Pinch the layers together at {where}, and push the two places towards each other. "
                    "Between them half of the layers comes to the front, the others go to the back, round "
                    "as a tube, until they are {width} cm apart in the middle.",
                    where=pressed or middle,
                    width=centimetres(width),
                )
            case Hold(at=at):
                yield phrase(
                    "Hold all layers together at {where}; the paper there stays.",
                    where=place(lie, at).words,
                )
            case Pull(point=point, held=other, way=way, by=by):
                yield phrase(
                    _PULLS[round(way[2])],
                    where=place(lie, lie.state.where(point)).words,
                    held=place(lie, lie.state.where(other)).words,
                    by=centimetres(by),
                )
            case Curl():
                pass
    rolls = [goal for goal in record.goals if isinstance(goal, Curl)]
    if rolls:
        yield from spots(lie, record)
        yield from dict.fromkeys(_roll(lie, goal) for goal in rolls)
        sides = {goal.front_inside == lie.state.sheet.front_coloured for goal in rolls}
        yield from (_INSIDE[side] for side in sides if len(sides) == 1)


def _roll(lie: StateDescription, goal: Curl) -> Phrase:
    """How far paper is rolled, and how round."""
    return phrase(
        "Roll {far} cm of it, from its end on, round something {thick} mm thick.",
        far=centimetres(distance(goal.point, goal.begins) * lie.state.sheet.unit_mm),
        thick=Number(f"{2 * goal.radius:.0f}"),
    )


def _level(lie: StateDescription, goal: Level) -> Phrase:
    """What a flap is to be level with."""
    if goal.like is None:
        return Phrase("the paper that stays")
    return phrase("the paper at {where}", where=place(lie, lie.state.where(goal.like)).words)


def _named(lie: StateDescription, record: MoveRecord, kind: str) -> Phrase | None:
    """The places of signs of a kind."""
    here = [
        place(lie, s.at).words for s in record.signs if isinstance(s, PointSign) and s.kind == kind
    ]
    return listed(list(dict.fromkeys(here))) if here else None


def _raised(lie: StateDescription, goal: Raise) -> Iterator[Phrase]:
    """Folds that are opened to an angle, and creases along which paper is folded up."""
    state = lie.state
    rows: dict[bool, list[Segment]] = {True: [], False: []}
    for crease in goal.creases:
        for facet in state.facets:
            part = clip_segment(facet.outline, crease)
            if part is None:
                continue
            sides = state.facets_on_sheet(midpoint(*part))
            shut = len({state.facets[k].shows_front for k in sides}) > 1
            rows[shut].append(map_segment(facet.place, part))
    for shut, segments in rows.items():
        if not segments:
            continue
        ways = [in_reading_order(s) for s in joined(segments)]
        ends = dict.fromkeys((place(lie, a).words, place(lie, b).words) for a, b in ways)
        where = listed(
            [phrase("from {first} to {last}", first=first, last=last) for first, last in ends]
        )
        if isinstance(goal, Level):
            yield phrase(
                "Raise the paper along the line {where}, until it is level with {goal}.",
                where=where,
                goal=_level(lie, goal),
            )
        else:
            yield _to_angle(shut, where, len(ends), goal.angle)


def _to_angle(shut: bool, where: Phrase, n: int, degrees: float) -> Phrase:
    """What is said of n folds, or lines, that are brought to an angle."""
    angle = Number(f"{degrees:g}")
    if degrees < 0.05:
        return plural(
            "Fold the paper over along the line {where}.",
            "Fold the paper over along the lines {where}.",
            n,
            where=where,
        )
    if shut:
        return plural(
            "Open the fold {where}, until its two sides stand at {angle} degrees to each other.",
            "Open the folds {where}, until the two sides of each stand at {angle} degrees to each other.",
            n,
            where=where,
            angle=angle,
        )
    if abs(degrees - 90) < 0.05:
        return plural(
            "Raise the paper along the line {where}, until it stands upright.",
            "Raise the paper along the lines {where}, until it stands upright.",
            n,
            where=where,
        )
    return plural(
        "Raise the paper along the line {where}, until its two sides stand at {angle} degrees to each other.",
        "Raise the paper along the lines {where}, until the two sides of each stand at {angle} degrees to "
        "each other.",
        n,
        where=where,
        angle=angle,
    )


def standing_sentences(pose: Pose) -> tuple[Phrase, ...]:
    """How it stands, from its size to its openings."""
    return tuple(_sentences(shape_of(pose)))


def _sentences(shape: StandingShape) -> list[Phrase]:
    wide, deep, high = (centimetres(side) for side in shape.sides)
    first: Template = (
        "Held by its body in the hand, it is {wide} cm wide, {deep} cm from front to back and {high} cm high."
        if shape.held
        else "It stands up from the table: {wide} cm wide, {deep} cm from front to back and {high} cm high."
    )
    out = [phrase(first, wide=wide, deep=deep, high=high)]
    if shape.feet:
        out.append(phrase("It stands on {count} points.", count=count(shape.feet)))
        return out
    if shape.floor is not None:
        one, other = (centimetres(side) for side in shape.floor)
        out.append(phrase("Its floor is flat, {one} cm by {other} cm.", one=one, other=other))
    if len(shape.walls) == 1 and not shape.held:
        out.append(
            phrase("One wall stands upright, {high} cm high.", high=centimetres(shape.walls[0]))
        )
    elif shape.walls and not shape.held:
        out.append(
            phrase(
                "It has {count} upright walls, {high} cm high.",
                count=count(len(shape.walls)),
                high=centimetres(shape.walls[0]),
            )
            if shape.walls[0] - shape.walls[-1] < 1.0
            else phrase(
                "It has {count} upright walls, the highest {high} cm high.",
                count=count(len(shape.walls)),
                high=centimetres(shape.walls[0]),
            )
        )
    if shape.top is not None:
        one, other = (centimetres(side) for side in shape.top)
        out.append(phrase("Its top is flat, {one} cm by {other} cm.", one=one, other=other))
    if shape.open:
        places = listed([_SIDES[side] for side in shape.open])
        out.append(phrase("It is open at {places}.", places=places))
    return out
