"""One move as one paragraph, and what a row of moves leaves.

In: a `MoveRecord` with the paper before and after. Out: an `Action`: its sentences; none for a move that the
hands have nothing to do for, such as naming a point.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..folding.steps import MoveRecord
from ..geometry.lines import Point, distance, point_on_segment
from ..languages.unit_names import on_sheet
from ..languages.wording import Phrase, Template, listed, phrase
from ..moves.planning.fingers import (
    CREASED,
    PRESSED,
    Brought,
    Fingers,
    OneFold,
    Opened,
    Pinched,
    Several,
    Still,
    TurnedFlaps,
)
from ..paper.signs import FoldLine, Sense
from .assembling import brought
from .changes import Fold, fold_lines, fold_of, turned_flaps
from .compound import compound, opened
from .description import KnownCreases, StateDescription, remembered
from .narration import Block, Paragraph
from .one_fold import how
from .outline import CLOSE
from .places import place
from .situation import corner_level, situation
from .spots import spots
from .stacks import joined
from .standing import stood
from .turning import turning

#: Creases shorter than this are pinches (sheet units).
_SHORT = 0.15


@dataclass(frozen=True)
class Action:
    """One move narrated; `moves` when the paper lies otherwise afterwards.

    `laid` is told first: how the paper lies once a further unit is beside it.
    """

    sentences: tuple[Phrase, ...]
    before: StateDescription
    after: StateDescription
    moves: bool
    laid: tuple[Block, ...] = ()


def action(
    record: MoveRecord, step: int, memory: KnownCreases
) -> tuple[Action | None, KnownCreases]:
    """The move narrated, and the creases known after it."""
    later = remembered(memory, step, record.before, record.after)
    before, after = StateDescription(record.before, memory), StateDescription(record.after, later)
    sentences = _sentences(record, before, after)
    moves = record.before is not record.after and not _opened_again(record.fingers)
    laid = ()
    if isinstance(record.fingers, Brought):
        laid = (Paragraph((record.fingers.first,)), *situation(before))
    return (Action(sentences, before, after, moves, laid) if sentences else None), later


def with_creases_in_one(records: Sequence[MoveRecord]) -> Iterator[MoveRecord]:
    """The moves; a single fold that the next move lays back is one with it: a crease."""
    left = list(records)
    while left:
        record = left.pop(0)
        if left and _is_plain(record) and _lays_back(left[0], record):
            record = replace(record, after=left.pop(0).after, fingers=CREASED)
        yield record


def _is_plain(record: MoveRecord) -> bool:
    return record.fingers == PRESSED and fold_of(record) is not None


def _lays_back(later: MoveRecord, record: MoveRecord) -> bool:
    """Whether a move lays the paper back to where it lay before another."""
    return isinstance(later.fingers, Opened) and later.after.facets == record.before.facets


def _opened_again(fingers: Fingers) -> bool:
    """Whether what was folded is opened at the end, so that only a crease stays."""
    return isinstance(fingers, Pinched) or (isinstance(fingers, OneFold) and bool(fingers.felt))


def _sentences(
    record: MoveRecord, before: StateDescription, after: StateDescription
) -> tuple[Phrase, ...]:
    fingers = record.fingers
    if record.turn is not None:
        return turning(before, after, record.turn)
    if isinstance(fingers, Opened):
        return opened(before, after, record, fingers)
    if record.goals:
        return tuple(stood(before, record))
    if record.before is record.after:
        return spots(before, record)
    match fingers:
        case Brought():
            return (brought(record, fingers.move),)
        case TurnedFlaps():
            flaps = turned_flaps(record)
            if flaps:
                return (fingers.first, *(s for f in flaps for s in how(before, f)))
        case OneFold():
            fold = fold_of(record)
            if fold is not None:
                return _folded(before, after, fold, fingers)
        case Pinched():
            fold = fold_of(record)
            if fold is not None:
                return _pinched(record, before, fold, fingers)
        case Still():
            return compound(before, after, record, Several())
        case Several():
            return compound(before, after, record, fingers)
    return compound(before, after, record, fingers.several)


def _folded(
    before: StateDescription, after: StateDescription, fold: Fold, fingers: OneFold
) -> tuple[Phrase, ...]:
    """A fold about one line: it stays, or is opened again and felt."""
    first = () if fingers.first is None else (fingers.first,)
    done = (*first, *how(before, replace(fold, inside=fingers.inside)), fingers.last)
    if fingers.felt is None:
        return (*done, *_became(fold, after))
    groove, ridge = fingers.felt
    return (*done, groove if fold.sense is Sense.VALLEY else ridge)


def _pinched(
    record: MoveRecord, before: StateDescription, fold: Fold, fingers: Pinched
) -> tuple[Phrase, ...]:
    spots_ = [place(before, _outer(before, seg)).words for seg in _marks(record)]
    return (
        *how(before, fold, ends=False),
        phrase(fingers.where.template, where=listed(spots_)),
        fingers.last,
    )


def _marks(record: MoveRecord) -> list[tuple[Point, Point]]:
    return [seg for _, seg in fold_lines(record)] or list(
        joined(s for sign in record.signs if isinstance(sign, FoldLine) for _, s in sign.parts)
    )


def _outer(description: StateDescription, seg: tuple[Point, Point]) -> Point:
    """The end of a pinch that lies on the outline; else its middle."""
    for p in seg:
        if description.outline.corner_at(p) is not None or description.outline.edges_at(p):
            return p
    return ((seg[0][0] + seg[1][0]) / 2, (seg[0][1] + seg[1][1]) / 2)


def _became(fold: Fold, after: StateDescription) -> tuple[Phrase, ...]:
    """'The fold is now the near edge.'"""
    for edge in after.outline.edges:
        if all(point_on_segment(edge.segment, p, CLOSE) for p in fold.crease):
            whole = abs(distance(*edge.segment) - distance(*fold.crease)) < 1e-5
            template: Template = (
                "This fold is now {edge}." if whole else "This fold is now a part of {edge}."
            )
            return (phrase(template, edge=edge.name),)
    return ()


def moved_corners(done: Action) -> tuple[Phrase, ...]:
    """Where the corners of the sheet lie that have just moved."""
    before, now = dict(done.before.corners), dict(done.after.corners)
    return tuple(
        phrase(
            "Corner {name} now lies at {where}, {level}.",
            name=on_sheet(name),
            where=place(done.after, now[name], letters=False).words,
            level=corner_level(done.after, name),
        )
        for name in now
        if distance(before[name], now[name]) > CLOSE
    )


def new_creases(step: int, description: StateDescription) -> tuple[Phrase, ...]:
    """The creases of a step, from end to end."""
    bare = description.without(creases=tuple(c for c in description.creases if c.step != step))
    found: list[Phrase] = []
    for c in description.creases:
        if c.step != step:
            continue
        spot = _outer(description, c.segment)
        if distance(*c.segment) < _SHORT:
            found.append(
                phrase("A short crease can be felt at {where}.", where=place(bare, spot).words)
            )
            continue
        first, last = (place(bare, p).words for p in c.segment)
        found.append(phrase("A new crease runs from {first} to {last}.", first=first, last=last))
    return tuple(found)
