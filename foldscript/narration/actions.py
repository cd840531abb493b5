"""One move as one paragraph, and what a row of moves leaves.

In: a `MoveRecord` with the paper before and after. Out: an `Action`: its sentences; none for a move that the
hands have nothing to do for, such as naming a point.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..folding.steps import MoveRecord
from ..geometry.lines import Point, distance
from ..languages.wording import Phrase, Template, listed, phrase
from ..paper.signs import FoldLine, Sense
from .changes import Fold, fold_lines, fold_of, turned_flaps
from .compound import compound, opened
from .description import Memory, StateDescription, remembered
from .outline import CLOSE
from .places import place
from .simple import how
from .situation import corner_level
from .spots import spots
from .stacks import joined
from .turning import turning

_SIMPLE = ("valley", "mountain", "crease", "pinch")
#: Compound in hand, but a fold about one line on paper.
_ONE_LINE = ("tuck", "pull out")

#: Creases shorter than this are pinches (sheet units).
_SHORT = 0.15

_INTRODUCED = {
    "tuck": Phrase("This flap is to be tucked in between layers."),
    "pull out": Phrase("This paper is pulled out from between other layers."),
    "swing": Phrase(
        "A flap is turned like the page of a book, about a fold that is there; no new crease is made."
    ),
}


@dataclass(frozen=True)
class Action:
    """What one move is told as; `moves` when the paper lies otherwise afterwards."""

    sentences: tuple[Phrase, ...]
    before: StateDescription
    after: StateDescription
    moves: bool


def action(record: MoveRecord, step: int, memory: Memory) -> tuple[Action | None, Memory]:
    """The move told, and the creases known after it."""
    later = remembered(memory, step, record.before, record.after)
    before, after = StateDescription(record.before, memory), StateDescription(record.after, later)
    sentences = _sentences(record, before, after)
    moves = record.before is not record.after and record.verb not in ("crease", "pinch", "mark")
    return (Action(sentences, before, after, moves) if sentences else None), later


def _sentences(
    record: MoveRecord, before: StateDescription, after: StateDescription
) -> tuple[Phrase, ...]:
    if record.turn is not None:
        return turning(before, after, record.turn)
    if record.verb == "unfold":
        return opened(before, after, record)
    at_points = spots(before, record)
    if record.before is record.after:
        return at_points
    if record.verb in ("swing", "turn a page"):
        flaps = turned_flaps(record)
        if flaps:
            return (_INTRODUCED["swing"], *(s for f in flaps for s in how(before, f)))
    fold = fold_of(record) if record.verb in (*_SIMPLE, *_ONE_LINE) else None
    if fold is None:
        return compound(before, after, record)
    if record.verb == "pinch":
        return _pinched(record, before, fold)
    if record.verb == "crease":
        return _creased(before, fold)
    if record.verb == "tuck":
        fold = replace(fold, inside=True)
    first = (_INTRODUCED[record.verb],) if record.verb in _INTRODUCED else ()
    last = (
        Phrase("Press the fold flat and leave it folded.") if not first else Phrase("Lay it flat.")
    )
    return (*first, *how(before, fold), last, *_became(fold, after))


def _creased(before: StateDescription, fold: Fold) -> tuple[Phrase, ...]:
    felt = (
        Phrase("The new crease can be felt as a groove on top.")
        if fold.sense is Sense.VALLEY
        else Phrase("The new crease can be felt as a ridge on top.")
    )
    return (
        Phrase("This is only a crease, which is opened again at the end."),
        *how(before, fold),
        Phrase("Press the fold, then open it again: only a crease stays."),
        felt,
    )


def _pinched(record: MoveRecord, before: StateDescription, fold: Fold) -> tuple[Phrase, ...]:
    spots_ = [place(before, _outer(before, seg)).words for seg in _marks(record)]
    return (
        *how(before, fold, ends=False),
        phrase("Do not press the whole fold: pinch it only at {where}.", where=listed(spots_)),
        Phrase("Open it again: only the short pinch stays, which a fingernail can find."),
    )


def _marks(record: MoveRecord) -> list[tuple[Point, Point]]:
    return [seg for _, seg in fold_lines(record)] or list(
        joined(s for sign in record.signs if isinstance(sign, FoldLine) for _, s in sign.parts)
    )


def _outer(lie: StateDescription, seg: tuple[Point, Point]) -> Point:
    """The end of a pinch that lies on the outline; else its middle."""
    for p in seg:
        if lie.outline.corner_at(p) is not None or lie.outline.edges_at(p):
            return p
    return ((seg[0][0] + seg[1][0]) / 2, (seg[0][1] + seg[1][1]) / 2)


def _became(fold: Fold, after: StateDescription) -> tuple[Phrase, ...]:
    """'The fold is now the near edge.'"""
    for edge in after.outline.edges:
        if all(_along(edge.segment, p) for p in fold.crease):
            whole = abs(distance(*edge.segment) - distance(*fold.crease)) < 1e-5
            template: Template = (
                "This fold is now {edge}." if whole else "This fold is now a part of {edge}."
            )
            return (phrase(template, edge=edge.name),)
    return ()


def _along(edge: tuple[Point, Point], p: Point) -> bool:
    return abs(distance(edge[0], p) + distance(p, edge[1]) - distance(*edge)) < CLOSE


def moved_corners(done: Action) -> tuple[Phrase, ...]:
    """Where the corners of the sheet lie that have just moved."""
    before, now = dict(done.before.corners), dict(done.after.corners)
    return tuple(
        phrase(
            "Corner {name} of the sheet now lies at {where}, {level}.",
            name=name,
            where=place(done.after, now[name], letters=False).words,
            level=corner_level(done.after, name),
        )
        for name in now
        if distance(before[name], now[name]) > CLOSE
    )


def new_creases(step: int, lie: StateDescription) -> tuple[Phrase, ...]:
    """The creases of a step, from end to end."""
    bare = lie.without(creases=tuple(c for c in lie.creases if c.step != step))
    found: list[Phrase] = []
    for c in lie.creases:
        if c.step != step:
            continue
        spot = _outer(lie, c.segment)
        if distance(*c.segment) < _SHORT:
            found.append(
                phrase("A short crease can be felt at {where}.", where=place(bare, spot).words)
            )
            continue
        first, last = (place(bare, p).words for p in c.segment)
        found.append(phrase("A new crease runs from {first} to {last}.", first=first, last=last))
    return tuple(found)
