"""What belongs to one point and moves no flat paper: push, hold, inflate, curl, shape.

In: the signs of a `MoveRecord`. Out: sentences that say where, by touch.
"""

from __future__ import annotations

from ..folding.steps import MoveRecord
from ..geometry.lines import distance
from ..languages.wording import Phrase, listed, phrase
from ..paper.signs import Act, Arrow, PointSign, Spot
from .description import StateDescription
from .outline import CLOSE
from .places import place
from .stacks import depth_of

_DO = {
    Spot.PUSH: Phrase("Push with a finger at {where}."),
    Spot.HOLD: Phrase("Hold the paper at {where}."),
    Spot.PULL: Phrase("Pull gently at {where}."),
    Spot.INFLATE: Phrase(
        "Blow into the opening at {where}, gently, until the model fills with air."
    ),
    Spot.BLOW: Phrase("Blow at {where}."),
    Spot.CURL: Phrase(
        "Curl the paper at {where}: draw it over a finger or a pencil until it stays round."
    ),
    Spot.OPEN_OUT: Phrase(
        "Shape the model: at {where} pull the layers on top and the layers underneath gently apart with "
        "your fingers, until the model opens out there. It is no longer flat."
    ),
    Spot.SQUEEZE: Phrase("Squeeze the model together at {where}, so that it opens."),
    Spot.LOOK: Phrase("The next step is told as seen from {where}."),
    Spot.DETAIL: Phrase("The next step is about a small part of the paper, round {where}."),
}

_SLIT = Phrase(
    "Shape the model: at {where} two flaps on top meet in a slit. Raise both sides of the slit towards "
    "you, so that the model opens there. It is no longer flat."
)
_BRING = Phrase(
    "Lift the paper at {where}, and bring it to {goal} while the model stands open. It is no longer flat."
)


def spots(lie: StateDescription, record: MoveRecord) -> tuple[Phrase, ...]:
    """A sentence a kind of sign; () where the move leaves none."""
    found: list[Phrase] = []
    found += _brought(lie, record)
    slit = [s for s in record.signs if isinstance(s, PointSign) and s.slit]
    if slit:
        where = listed([place(lie, s.at).words for s in slit])
        return (*found, phrase(_SLIT.template, where=where))
    if any(isinstance(s, PointSign) and s.kind is Spot.OPEN_OUT for s in record.signs):
        wings = _pulled_apart(lie)
        if wings is not None:
            return (wings,)
    for kind, words in _DO.items():
        here = [s for s in record.signs if isinstance(s, PointSign) and s.kind is kind]
        if not here:
            continue
        where = listed([place(lie, s.at).words for s in here])
        found.append(phrase(words.template, where=where))
        toward = next((s.toward for s in here if s.toward is not None), None)
        if toward is not None and kind in (Spot.CURL, Spot.PUSH, Spot.PULL):
            found.append(phrase("Go toward {where}.", where=place(lie, toward).words))
    return tuple(found)


def _brought(lie: StateDescription, record: MoveRecord) -> list[Phrase]:
    """Points that are raised and brought somewhere while the model is shaped, each place once."""
    arrows = _raised(record)
    if not arrows:
        return []
    where = listed([place(lie, s.tail).words for s in arrows])
    return [phrase(_BRING.template, where=where, goal=place(lie, arrows[0].head).words)]


def _raised(record: MoveRecord) -> list[Arrow]:
    """Arrows of paper that is raised and not laid down flat again."""
    if record.before is not record.after:
        return []
    return [s for s in record.signs if isinstance(s, Arrow) and s.act is Act.LIFT]


def _pulled_apart(lie: StateDescription) -> Phrase | None:
    """The flap on top and the one underneath that end in one tip, and are drawn apart to open a model."""
    sheet = lie.state.sheet
    depths = {name: depth_of(lie.state, sheet.corner(name)) for name, _ in lie.corners}
    for one, at in lie.corners:
        for two, spot in lie.corners:
            if one == two or distance(at, spot) > CLOSE or lie.outline.corner_at(at) is None:
                continue
            if (
                depths[one].over == 0 < depths[one].under
                and depths[two].under == 0 < depths[two].over
            ):
                return phrase(
                    "Shape the model: at {where} take the flap on top, which ends in corner {one} of the "
                    "sheet, in one hand and the flap underneath, which ends in corner {two}, in the other. "
                    "Draw them gently apart, so that they stand out to both sides and the paper between "
                    "them opens and becomes round. The model is no longer flat.",
                    where=place(lie, at).words,
                    one=one,
                    two=two,
                )
    return None
