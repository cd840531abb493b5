"""A model that stands in space, in words: how it is stood up, how large it is, what it stands on, what
stands up, where it is open.

In: a move with goals in space, or a pose. Out: sentences. Front is the side that faces the reader, left and
right are the reader's own.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..drawing.space.shape import Side, StandingShape, shape_of
from ..folding.steps import MoveRecord
from ..languages.wording import Number, Phrase, listed, phrase
from ..paper.signs import PointSign
from ..pose.goals import Blow, Bring, Open, Raise, Spread
from ..pose.pose import Pose
from .description import StateDescription
from .narration import centimetres, count
from .places import place
from .spots import spots

_SIDES: dict[Side, Phrase] = {
    Side.TOP: Phrase("the top"),
    Side.BOTTOM: Phrase("the bottom"),
    Side.FRONT: Phrase("the front"),
    Side.BACK: Phrase("the back"),
    Side.LEFT: Phrase("the left"),
    Side.RIGHT: Phrase("the right"),
}


def stood(lie: StateDescription, record: MoveRecord) -> Iterator[Phrase]:
    """What hands do to stand the model up; places are told as the flat paper lies."""
    here = [place(lie, s.at).words for s in record.signs if isinstance(s, PointSign)]
    where = listed(list(dict.fromkeys(here))) if here else Phrase("the middle of the paper")
    for goal in record.goals:
        match goal:
            case Raise(angle=angle):
                yield (
                    phrase(
                        "Raise the paper along the line at {where}, until it stands upright.",
                        where=where,
                    )
                    if abs(angle - 90) < 0.05
                    else phrase("Fold the paper over along the line at {where}.", where=where)
                    if angle < 0.05
                    else phrase(
                        "Raise the paper along the line at {where}, until it stands at {angle} degrees.",
                        where=where,
                        angle=Number(f"{angle:g}"),
                    )
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
            case Blow():
                yield from spots(lie, record)
            case Bring(point=point, to=to):
                yield phrase(
                    "Bring {point} to {goal}.",
                    point=place(lie, lie.state.where(point)).words,
                    goal=place(lie, to).words,
                )


def standing_sentences(pose: Pose) -> tuple[Phrase, ...]:
    """How it stands, from its size to its openings."""
    return tuple(_sentences(shape_of(pose)))


def _sentences(shape: StandingShape) -> list[Phrase]:
    wide, deep, high = (centimetres(side) for side in shape.sides)
    out = [
        phrase(
            "It stands up from the table: {wide} cm wide, {deep} cm from front to back and {high} cm high.",
            wide=wide,
            deep=deep,
            high=high,
        )
    ]
    if shape.floor is not None:
        one, other = (centimetres(side) for side in shape.floor)
        out.append(phrase("Its floor is flat, {one} cm by {other} cm.", one=one, other=other))
    if len(shape.walls) == 1:
        out.append(
            phrase("One wall stands upright, {high} cm high.", high=centimetres(shape.walls[0]))
        )
    elif shape.walls:
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
