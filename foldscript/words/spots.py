"""What belongs to one point and moves no flat paper: push, hold, inflate, curl, shape.

In: the signs of a `Deed`. Out: sentences that say where, by touch.
"""

from __future__ import annotations

from ..folding.steps import Deed
from ..paper.signs import PointSign, Spot
from ..wording import Phrase, listed, phrase
from .lie import Lie
from .places import place

_DO = {
    Spot.PUSH: Phrase("Push with a finger at {where}."),
    Spot.HOLD: Phrase("Hold the paper at {where}."),
    Spot.INFLATE: Phrase(
        "Blow into the opening at {where}, gently, until the model fills with air."
    ),
    Spot.BLOW: Phrase("Blow at {where}."),
    Spot.CURL: Phrase(
        "Curl the paper at {where}: draw it over a finger or a pencil until it stays round."
    ),
    Spot.OPEN_OUT: Phrase(
        "Shape the model: open it out at {where} with your fingers. It is no longer flat."
    ),
    Spot.SQUEEZE: Phrase("Squeeze the model together at {where}, so that it opens."),
    Spot.LOOK: Phrase("The next step is told as seen from {where}."),
    Spot.DETAIL: Phrase("The next step is about a small part of the paper, round {where}."),
}


def spots(lie: Lie, deed: Deed) -> tuple[Phrase, ...]:
    """A sentence a kind of sign; () where the move leaves none."""
    found: list[Phrase] = []
    for kind, words in _DO.items():
        here = [s for s in deed.signs if isinstance(s, PointSign) and s.kind is kind]
        if not here:
            continue
        where = listed([place(lie, s.at).words for s in here])
        found.append(phrase(words.template, where=where))
        toward = next((s.toward for s in here if s.toward is not None), None)
        if toward is not None and kind in (Spot.CURL, Spot.PUSH):
            found.append(phrase("Go toward {where}.", where=place(lie, toward).words))
    return tuple(found)
