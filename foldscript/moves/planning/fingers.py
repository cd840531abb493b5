"""What hands are told of a move: the sentences that each move brings, by how it is narrated.

In: nothing; a move's file makes one of these values and gives it to its `Move`. Out: `Fingers`, which every
record of the move carries, so that narration needs to know no move. Holes in braces are filled from
the paper as it lies.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...languages.wording import Phrase

_AT_ONCE = Phrase("Now several things move at once.")
_CHANGED = Phrase("Now layers change places.")


@dataclass(frozen=True)
class Still:
    """No layer comes to lie otherwise on another: narrated by the signs, or by how the whole paper turns."""


@dataclass(frozen=True)
class Several:
    """Several folds at once: what such a move is, the lines, what hands do, where every point goes.

    Attributes
    ----------
    first : what such a move is, before the lines
    then : what hands do, after the lines
    arrows_first : whether the points that it leads are told before the lines, and not after them
    halves : whether it is told how the flap's layers part into an upper and a lower half
    slipped : what is said where no paper moves and only layers change places
    """

    first: Phrase = _AT_ONCE
    then: tuple[Phrase, ...] = ()
    arrows_first: bool = False
    halves: bool = False
    slipped: Phrase = _CHANGED


@dataclass(frozen=True)
class OneFold:
    """One fold about one line.

    Attributes
    ----------
    last : how the fold is left
    first : what such a fold is, where it needs saying
    felt : (after a valley fold, after a mountain fold) where the fold is opened again: what a finger then
        feels; None where it stays folded
    inside : whether the flap goes in between other layers
    several : what is said instead where the paper does not turn over about one line
    """

    last: Phrase
    first: Phrase | None = None
    felt: tuple[Phrase, Phrase] | None = None
    inside: bool = False
    several: Several = Several()


@dataclass(frozen=True)
class Pinched:
    """A fold that is pressed in a few places only, and opened: {where} it is, and how it is left."""

    where: Phrase
    last: Phrase
    several: Several = Several()


@dataclass(frozen=True)
class TurnedFlaps:
    """Flaps that turn about folds and creases that are there; `first` says what that is."""

    first: Phrase
    several: Several = Several()


@dataclass(frozen=True)
class Opened:
    """Folds that are laid back: `fold` tells of one, from {first} to {last}; then come points and `last`."""

    first: Phrase
    fold: Phrase
    last: Phrase


@dataclass(frozen=True)
class Brought:
    """A further unit: it is laid beside the paper, then moved to it as one piece.

    Attributes
    ----------
    first : how it is laid beside the paper, before it is told how both lie then
    move : how it is moved: {way} tells by how much and which way
    """

    first: Phrase
    move: Phrase


Fingers = Still | Several | OneFold | Pinched | TurnedFlaps | Opened | Brought

#: How a plain fold is left.
PRESSED = OneFold(Phrase("Press the fold flat and leave it folded."))
#: A plain fold that is opened again, so that only a crease stays.
CREASED = OneFold(
    first=Phrase("This is only a crease, which is opened again at the end."),
    last=Phrase("Press the fold, then open it again: only a crease stays."),
    felt=(
        Phrase("The new crease can be felt as a groove on top."),
        Phrase("The new crease can be felt as a ridge on top."),
    ),
)
#: What was folded, laid back.
OPENED = Opened(
    first=Phrase("Open the paper again."),
    fold=Phrase("The fold from {first} to {last} opens."),
    last=Phrase("The creases stay and can be felt."),
)
#: A flap turned about its hinge, by a move or to get at another flap.
PAGE = TurnedFlaps(
    Phrase(
        "A flap is turned like the page of a book, about a fold that is there; no new crease is made."
    )
)
