"""Signs that only point: what fingers, the eye or a breath do at a place. No flat paper moves.

In: a `Request` that names places. Out: an `Outcome` with the sign at each of them. After some the model is
flat no longer, and the outcome says why. One table holds all of them, a row each.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import partial

from ..geometry.lines import Point
from ..languages.wording import Phrase, phrase
from ..paper.openings import opening_at
from ..pose.goals import Blow, Goal
from .planning.at_points import listed, places, signed, spot_of
from .planning.fingers import Still
from .planning.request import Move, Outcome, Request, Solid

#: Where a breath goes into the paper.
ONE_MOUTH = Phrase(
    "Blow into your own model only: one mouth for each model; keep to the rules of the place."
)

PINS = Phrase("Pins: an adult pushes them in for young children; keep to the rules of the place.")

#: Said where the sign is to stand on the flat figure, and no pose is to be found.
_FLAT = "drawn flat"

#: Where a sign leads from the place that it stands at, if anywhere.
Leading = Callable[[Point], Point | None]


def _nowhere(request: Request) -> Leading:
    return lambda spot: None


def _to_goal(request: Request) -> Leading:
    """To what stands after 'to'."""
    goal = spot_of(places(request, "to")[0]) if request.clause("to") is not None else None
    return lambda spot: goal


#: What a pose is found from, given a place that is named.
Doing = Callable[[Request, Point], tuple[Goal, ...]]


def _nothing(request: Request, spot: Point) -> tuple[Goal, ...]:
    return ()


def _breath(request: Request, spot: Point) -> tuple[Goal, ...]:
    """A breath into the pocket whose edge the place is on, else into what is closed all round."""
    return (Blow(opening_at(request.state, spot)),)


@dataclass(frozen=True)
class Pointing:
    """One sign that points.

    Attributes
    ----------
    caption : with the hole {what} for the places; `captions` are others, by the word that stands before them
    before : the words that stand before a place; `words` are all that the move knows
    leads : where the sign leads
    solid, caution : as in `Outcome`
    does : what a pose is found from
    """

    kind: str
    caption: Phrase
    captions: Mapping[str, Phrase] = field(default_factory=dict)
    before: tuple[str, ...] = ("", "at")
    words: tuple[str, ...] = ("", "at", "and")
    leads: Callable[[Request], Leading] = _nowhere
    solid: Solid | None = None
    caution: Phrase | None = None
    does: Doing = _nothing


def point(request: Request, one: Pointing) -> Outcome:
    """Shows the sign at the places named; the paper stays. Raises Refusal where none is named."""
    request.allow(*one.words)
    found = places(request, *one.before)
    caption = next(
        (words for word, words in one.captions.items() if request.clause(word) is not None),
        one.caption,
    )
    done = signed(
        request,
        one.kind,
        found,
        phrase(caption.template, what=listed(found)),
        leads=one.leads(request),
        solid=one.solid,
        caution=one.caution,
    )
    stands = len(found) == 1 and request.clause(_FLAT) is None
    goals = one.does(request, spot_of(found[0])) if stands else ()
    return replace(done, goals=goals)


def _shows(verb: str, summary: str, forms: tuple[str, ...], one: Pointing) -> Move:
    """A move that shows something, for which the hands need no time."""
    make = partial(point, one=one)
    return Move(verb, summary, forms, make, flat=False, folds=False, fingers=Still())


def _pins(verb: str, summary: str, forms: tuple[str, ...], one: Pointing) -> Move:
    """A move that pins the model to something, with what it takes and what to mind."""
    make = partial(point, one=one)
    return Move(
        verb,
        summary,
        forms,
        make,
        flat=False,
        folds=False,
        tools=("a pin", "something to pin it to"),
        caution=one.caution,
        fingers=Still(),
    )


def _shapes(verb: str, summary: str, forms: tuple[str, ...], one: Pointing) -> Move:
    """A move that bends the model out of the plane."""
    make = partial(point, one=one)
    return Move(verb, summary, forms, make, flat=False, caution=one.caution, fingers=Still())


MOVES = (
    _shows(
        "hold",
        "show where fingers hold the paper; the paper stays",
        ("hold A", "hold A and B"),
        Pointing("hold", Phrase("Hold the paper at {what}.")),
    ),
    _shows(
        "push",
        "show where a finger presses; the paper stays",
        ("push A", "push A and B", "push A to B"),
        Pointing(
            "push",
            Phrase("Push with a finger at {what}."),
            words=("", "at", "and", "to"),
            leads=_to_goal,
        ),
    ),
    _pins(
        "pin",
        "show where a pin goes through the model; the paper stays",
        ("pin A", "pin A and B"),
        Pointing("pin", Phrase("Push a pin through the paper at {what}."), caution=PINS),
    ),
    _shapes(
        "inflate",
        "blow the model up through an opening; it is flat no longer",
        ("inflate at A", "inflate at the bottom corner", "inflate at A, drawn flat"),
        Pointing(
            "inflate",
            Phrase(
                "Inflate the model: blow gently into the opening at {what}. One mouth for each model."
            ),
            before=("", "at", "into"),
            words=("", "at", "into", "and", _FLAT),
            solid=Solid("it was inflated"),
            caution=ONE_MOUTH,
            does=_breath,
        ),
    ),
    _shapes(
        "blow into",
        "open a pocket with a breath; the model is flat no longer",
        ("blow into A", "blow into the top corner"),
        Pointing(
            "blow",
            Phrase("Blow into the opening at {what}. One mouth for each model."),
            words=("", "at", "and", "to", _FLAT),
            leads=_to_goal,
            solid=Solid("it was blown open"),
            caution=ONE_MOUTH,
            does=_breath,
        ),
    ),
    _shapes(
        "squeeze",
        "press the model from its sides; it is flat no longer",
        ("squeeze A", "squeeze A and B"),
        Pointing(
            "squeeze",
            Phrase("Squeeze the model at {what}."),
            solid=Solid("it was squeezed open"),
        ),
    ),
    _shows(
        "look",
        "show from where to look at the model; the paper stays",
        ("look from A", "look from the bottom edge", "look at A"),
        Pointing(
            "look",
            Phrase("Look closely at {what}."),
            captions={"from": Phrase("Look at the model from {what}.")},
            before=("from", "at"),
            words=("from", "at"),
        ),
    ),
    _shows(
        "detail",
        "circle the part that the next steps are about; the paper stays",
        ("detail A", "detail at A"),
        Pointing("detail", Phrase("The next steps are folded at {what}.")),
    ),
)
