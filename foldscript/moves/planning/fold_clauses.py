"""The clauses of a single fold, sorted by what they are for.

In: the clauses of a `Request`. Out: `FoldClauses`: what goes where, what the crease passes, what chooses.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from ...geometry.isometries import inverse
from ...geometry.lines import midpoint
from ...geometry.tolerance import is_zero
from ...languages.wording import Phrase, phrase
from ...source.diagnostics import Refusal, Span, write
from .called import is_point
from .request import Clause, LineValue, PointValue, Quantity, Request, Value

#: The forms of words that say where a fold goes; shared by every single fold.
PLACES = (
    "{verb} A to C",
    "{verb} edge A B onto edge C D",
    "{verb} A through P Q",
    "{verb} through P perpendicular to edge A B, moving A",
    "{verb} A onto edge C D, through P",
    "{verb} A onto edge C D, perpendicular to edge A B",
    "{verb} A onto edge C D and B onto edge A D",
    "{verb} A along k",
)

CHOICES = ("first", "second", "third")
WORDS = (
    "",
    "to",
    "onto",
    "through",
    "perpendicular to",
    "along",
    "and",
    "near",
    "moving",
    "layers",
    *CHOICES,
)


@dataclass
class FoldClauses:
    """Clauses sorted by what they are for."""

    pairs: list[tuple[Value, Value]] = field(default_factory=list)
    through: list[Value] = field(default_factory=list)
    square_to: list[Value] = field(default_factory=list)
    along: list[Value] = field(default_factory=list)
    near: PointValue | None = None
    moving: list[PointValue] = field(default_factory=list)
    pick: int | None = None
    layers: int | None = None  # None: the smallest flap; 0: all


def sort_clauses(request: Request, extra: tuple[str, ...] = ()) -> FoldClauses:
    """Sorts the clauses; refuses those that no single fold knows (beyond `extra`)."""
    _refuse_other_side(request, extra)
    request.allow(*WORDS, request.move.side, *extra)
    clauses = FoldClauses()
    head: Value | None = None
    last = ""
    for clause in request.clauses:
        word = clause.word
        if word in ("to", "onto"):
            if head is None:
                raise _say(request, f"'{word}' needs something in front of it that moves", clause)
            clauses.pairs.append((head, _one(request, clause)))
            head = None
        elif word == "and" and last in ("through", "along", "moving"):
            target = {"through": clauses.through, "along": clauses.along, "moving": clauses.moving}[
                last
            ]
            moving = last == "moving"
            target.extend(mover(request, v) if moving else v for v in clause.values)  # type: ignore[arg-type]
            continue
        elif word in ("", "and"):
            if head is not None:
                raise _say(request, "say where it goes with 'to' or 'onto'", clause)
            head = _one(request, clause)
        elif word == "through":
            clauses.through.extend(clause.values)
        elif word == "perpendicular to":
            clauses.square_to.append(_one(request, clause))
        elif word == "along":
            clauses.along.extend(_a_line(clause))
        elif word == "near":
            clauses.near = as_point(_one(request, clause))
        elif word == "moving":
            clauses.moving.extend(mover(request, v) for v in clause.values)
        elif word in CHOICES:
            clauses.pick = CHOICES.index(word)
        elif word == "layers":
            clauses.layers = layer_count(request, clause)
        last = word
    fixed = (
        clauses.along
        or len(clauses.through) == 2
        or (isinstance(head, PointValue) and clauses.through)
    )
    if isinstance(head, PointValue | LineValue) and fixed and not clauses.pairs:
        clauses.moving.append(mover(request, head))  # 'valley A along k': on the side that moves
        head = None
    if head is not None:
        raise _nowhere(request, head)
    return clauses


def _refuse_other_side(request: Request, extra: tuple[str, ...]) -> None:
    """Says what to write for a fold that is to go to the other side ('valley A to C behind')."""
    clause = request.clause("behind", "in front")
    if clause is None or clause.word in (request.move.side, *extra):
        return
    hints = ["to do the same on the hidden face, say 'repeat step 3 behind', or turn over first"]
    if request.move.side:
        behind = clause.word == "behind"
        hints.insert(
            0,
            "use 'mountain' to fold it away behind"
            if behind
            else "use 'valley' to fold it to the front",
        )
    raise Refusal(
        "unexpected-words",
        f"'{request.verb}' does not know what to do with '{clause.word}'",
        *hints,
        span=clause.span,
    )


def layer_count(request: Request, clause: Clause) -> int:
    """Number after `layers`; 0 stands for all."""
    if not clause.values:
        return 0
    amount = clause.values[0]
    if not isinstance(amount, Quantity) or amount.value < 1 or not is_zero(amount.value % 1):
        raise _say(request, "say how many layers with a whole number, or 'all layers'", clause)
    return int(amount.value)


def _nowhere(request: Request, head: Value) -> Refusal:
    """A line straight after the verb may be meant as the fold line itself ('crease line A C')."""
    clause = request.clauses[0]
    if not isinstance(head, LineValue):
        return _say(request, "say where it goes with 'to' or 'onto'", clause)
    return Refusal(
        "unclear-fold",
        "say where it goes with 'to' or 'onto'",
        write(
            Span(clause.span.start, clause.span.start),
            "along ",
            "put 'along' before the line to fold along the line itself",
        ),
        *(f"write it like: {form}" for form in request.forms[1:2]),
        span=clause.span,
    )


def mover(request: Request, value: Value) -> PointValue:
    """A point that moves; of an edge or a fold that moves it is the middle, called by the edge's words."""
    if not isinstance(value, LineValue) or value.segment is None:
        return as_point(value)
    middle = midpoint(*value.segment)
    facets = tuple(i for i in value.facets if i in request.state.facets_at(middle))
    if not facets:
        raise Refusal(
            "off-the-paper",
            f"the paper has a gap in the middle of {value.words.render()}",
            "name a point that moves",
            span=value.span,
        )
    sheet = inverse(request.state.facets[facets[0]].place)(middle)
    return PointValue(middle, facets, sheet, value.words, value.span, seen=True)


def _a_line(clause: Clause) -> tuple[Value, ...]:
    """What follows `along`; two points are a line only with that word before them."""
    p, *more = clause.values
    if isinstance(p, PointValue) and len(more) == 1 and isinstance(more[0], PointValue):
        ends = f"{p.letter or 'P'} {more[0].letter or 'Q'}"
        raise Refusal(
            "not-a-line",
            "a line is needed after 'along'",
            write(clause.span, f"along line {ends}"),
            span=clause.span,
        )
    return clause.values


def _one(request: Request, clause: Clause) -> Value:
    if len(clause.values) == 2 and all(isinstance(v, PointValue) for v in clause.values):
        p, q = (v.letter or "P" for v in clause.values if isinstance(v, PointValue))
        here = _after_word(clause)
        hints = (
            write(
                here,
                f"line {p} {q}",
                f"for what lies between them say 'edge {p} {q}' or 'line {p} {q}'",
            ),
        )
        if not clause.word:
            hints = (
                write(
                    here,
                    f"through {p} {q}",
                    f"for the line that runs through both say 'through {p} {q}'",
                ),
                write(
                    here, f"{p} to {q}", f"for a fold that brings one to the other say '{p} to {q}'"
                ),
            )
        raise Refusal(
            "unclear-fold",
            f"'{clause.word or request.verb}' takes one thing here, and these are two points",
            *hints,
            span=clause.span,
        )
    if len(clause.values) != 1:
        word = clause.word or request.verb
        raise _say(request, f"'{word}' takes one thing here", clause)
    return clause.values[0]


def _after_word(clause: Clause) -> Span:
    """What follows a clause's word."""
    first, *more = (value.span for value in clause.values)
    return first.cover(more[-1]) if more else first


def _say(request: Request, message: str, clause: Clause) -> Refusal:
    hints = (f"write it like: {form}" for form in request.forms[:4])
    return Refusal("unclear-fold", message, *hints, span=clause.span)


def as_point(value: Value) -> PointValue:
    """The value as a point, or a refusal in the craft's words."""
    if isinstance(value, PointValue):
        return value
    raise Refusal("not-a-point", "a point is needed here", span=value.span)


def flap_of(p: PointValue) -> Phrase:
    """What moves, by a point of it: a point that is no corner of the sheet is called by its flap."""
    if not p.seen and is_point(p.words):
        return phrase("the flap with {what}", what=p.words)
    return p.words


def as_line(value: Value) -> LineValue:
    """The value as a line, or a refusal in the craft's words."""
    if isinstance(value, LineValue):
        return value
    raise Refusal(
        "not-a-line",
        "a line is needed here, such as 'edge A B', 'line A M' or 'bottom edge'",
        span=value.span,
    )
