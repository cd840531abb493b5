"""Raise: flaps turned up about folds and creases, to right angles or as far as is said.

In: a `Request` with creases and angles. Out: an `Outcome` whose paper is as it lay, with
the goals that a pose is found from (`foldscript/pose`), and the sign for those that look at the flat
figure. What opens and what stays together follows from the paper; the words only say where, and how far.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, pairwise, takewhile

from ..geometry.lines import (
    overlap_of,
)
from ..geometry.tolerance import is_zero
from ..languages.wording import Number, Phrase, phrase, plural
from ..pose.goals import Hold, Level, Raise
from ..pose.moving_parts import moving_parts
from ..pose.raising import flaps, held_parts
from ..source.diagnostics import Refusal, Span, write
from .planning.at_points import listed, places
from .planning.fingers import Still
from .planning.fold_clauses import layer_count
from .planning.held_places import held
from .planning.hinges import hinges
from .planning.pockets import slipped_into
from .planning.raising_signs import raising_signs
from .planning.request import (
    Clause,
    LineValue,
    Move,
    Outcome,
    PointValue,
    Request,
)
from .planning.standing_up import (
    UNTIL_LEVEL,
    amount,
    how,
    level_with,
    lines_to_raise_along,
    refuse_unraised,
    stood_up,
    within_half_a_turn,
)

#: Words that end what is said of some lines.
_ENDS = ("to", UNTIL_LEVEL, "with", "moving", "layers")


def raise_flaps(request: Request) -> Outcome:
    """Raises flaps about creases, at right angles or to an angle."""
    request.allow("", "along", "and", *_ENDS, "opening", "holding")
    parted, fixed = slipped_into(request), held(request)
    parts = _one_by_one(request)
    _refuse_two_ends(parts)
    groups = [_of_layers(some, _group(request, some)) for some in parts]
    goals = tuple(goal for _, _, goal in groups)
    counted = [len(places(some, "", "along")) for some in parts]
    alone = [goal for goal, lines in zip(goals, counted, strict=True) if lines == 1]
    _refuse_level_with_itself(request, alone, fixed.goals)
    _told_apart(request, goals)
    named = [line for lines, _, _ in groups for line in lines]
    words = groups[0][1]
    for _, more, _ in groups[1:]:
        words = phrase("{first} {then}", first=words, then=more)
    spots = [place for place, _ in parted]
    if spots:
        words = phrase(
            "Slip your fingers into the pocket at {place}, and into all that are like it. {then}",
            place=listed(spots),
            then=words,
        )
    asked = (*goals, *(part for _, part in parted), *fixed.goals)
    done = stood_up(request, spots or named, fixed.told(words), asked)
    creases = [crease for goal in goals for crease in goal.creases]
    goes = moving_parts(request.state, creases, fixed.goals)
    signs = tuple(sign for goal in goals for sign in raising_signs(request.state, goal, goes))
    signs = (*signs, *done.signs) if spots else signs
    held_in = held_parts(request.state, creases, fixed.goals)
    remarks = (*done.remarks, *fixed.remarks(creases, held_in))
    letters = (*done.letters, *fixed.letters)
    return replace(done, signs=(*signs, *fixed.signs), letters=letters, remarks=remarks)


def _one_by_one(request: Request) -> list[Request]:
    """The request parted after each angle: lines that have one of their own; without pockets, and what is
    held.
    """
    parted: list[list[Clause]] = [[]]
    for clause in takewhile(
        lambda clause: clause.word not in ("opening", "holding"), request.clauses
    ):
        if parted[-1] and parted[-1][-1].word in _ENDS and not _goes_on(parted[-1][-1], clause):
            parted.append([])
        first = not parted[-1] and clause.word == "and"
        parted[-1].append(replace(clause, word="along") if first else clause)
    return [replace(request, clauses=tuple(some)) for some in parted]


def _goes_on(last: Clause, clause: Clause) -> bool:
    """Whether a clause tells of the lines before it: 'with P', 'moving P', and a further point of those; '2
    layers', and what follows that.
    """
    points = all(isinstance(value, PointValue) for value in clause.values)
    return (
        clause.word in ("with", "moving", "layers")
        or (clause.word == "and" and points and last.word in ("moving", "and"))
        or (clause.word in _ENDS and last.word == "layers")
    )


def _of_layers(
    some: Request, group: tuple[list[PointValue | LineValue], Phrase, Raise]
) -> tuple[list[PointValue | LineValue], Phrase, Raise]:
    """The group, of whose layers the caption tells how many rise where that is said."""
    named, words, goal = group
    clause = some.clause("layers")
    count = 0 if clause is None else layer_count(some, clause)
    if count:
        only = plural("Only the front layer rises.", "Only the front {n} layers rise.", count)
        words = phrase("{first} {then}", first=words, then=only)
    return named, words, goal


def _group(request: Request, some: Request) -> tuple[list[PointValue | LineValue], Phrase, Raise]:
    """Lines that are raised to one angle, what is said of them, and the goal."""
    named = places(some, "", "along")
    lines = lines_to_raise_along(request, some, named)
    if some.clause(UNTIL_LEVEL) is not None:
        return _level(request, some, lines)
    angle = amount(some, "to", "degrees")
    if angle is not None and not 0 <= angle <= 180:
        raise how(
            request,
            "raise-angle",
            "a flap stands at 0 degrees (folded over) up to 180 (opened flat)",
            *within_half_a_turn(some),
        )
    creases, senses = hinges(request, some, lines)
    refuse_unraised(request, some, creases, angle)
    named = list({value.words.render(): value for value in named}.values())
    words = (
        phrase("Raise the paper along {what}, until it stands at right angles.", what=listed(named))
        if angle is None
        else phrase("Fold the paper over along {what}.", what=listed(named))
        if not angle
        else phrase(
            "Raise the paper along {what}, to an angle of {angle} degrees.",
            what=listed(named),
            angle=Number(f"{angle:g}"),
        )
    )
    return named, words, Raise(creases, 90.0 if angle is None else angle, senses)


def _level(
    request: Request, some: Request, lines: list[LineValue]
) -> tuple[list[PointValue | LineValue], Phrase, Raise]:
    """Lines along which paper is raised until it is level, what is said of them, and the goal."""
    like = level_with(some)
    creases, senses = hinges(request, some, lines)
    _not_flat(request, some)
    named: list[PointValue | LineValue] = []
    named += {line.words.render(): line for line in lines}.values()
    words = (
        phrase("Raise the paper along {what}, until it is level.", what=listed(named))
        if like is None
        else phrase(
            "Raise the paper along {what}, until it is level with {goal}.",
            what=listed(named),
            goal=like.words,
        )
    )
    return named, words, Level(creases, 180.0, senses, None if like is None else like.sheet)


def _refuse_level_with_itself(
    request: Request, goals: Sequence[Raise], holds: Sequence[Hold]
) -> None:
    """Refuses a flap that is to be level with a point of its own, where it is said what is held; `goals` are
    of one line each.
    """
    for goal in goals:
        if not (isinstance(goal, Level) and goal.like is not None and holds):
            continue
        like = Hold(request.state.where(goal.like), goal.like)
        rises, *held = held_parts(request.state, goal.creases, [like, *holds])
        if rises not in held:
            raise Refusal(
                "level-with-itself",
                "the point after 'level with' lies on the flap that is raised, and rises with it",
                "name a point there of the paper that stays, or that lies level already",
                span=request.span,
            )


def _not_flat(request: Request, some: Request) -> None:
    """Refuses 'until level' where nothing else stands or is raised: all other paper lies."""
    stands = any(record.goals for record in request.history)
    if stands or request.clause("to", "opening") is not None:
        return
    clause = some.clause(UNTIL_LEVEL)
    span = request.span if clause is None else clause.span
    raise Refusal(
        "level-lies",
        "nothing else is raised, so paper that is level with what stays would be opened flat",
        write(
            span,
            "",
            f"leave out '{UNTIL_LEVEL}': wings are level beside a body that stands upright, at "
            "right angles to it",
        ),
        write(span, "to 60 degrees", "or, for any other angle, say how far: 'to 60 degrees'"),
        "or raise first what it is to be level with",
        span=span,
    )


def _refuse_two_ends(parts: Sequence[Request]) -> None:
    """Refuses an angle and 'until level' of the same lines: each says how far they are raised."""
    for before, some in pairwise(parts):
        first, *_ = some.clauses
        last = before.clauses[-1]
        if first.word in _ENDS:
            raise Refusal(
                "two-ends",
                "two ends are said for what is raised along the same lines",
                write(Span(last.span.end, first.span.end), "", "leave the second out"),
                write(last.span, "", "or leave the first out"),
                write(
                    Span(last.span.start, first.span.end),
                    "",
                    "or leave both out, for what is level beside a body that stands upright",
                ),
                span=first.span,
            )


def _told_apart(request: Request, goals: tuple[Raise, ...]) -> None:
    """Refuses several angles for one line: where several flaps hang on it, when none is told from the others;
    for one flap always.
    """
    moving = request.clause("moving") is not None
    for one, other in combinations(goals, 2):
        alike = type(one) is type(other) and is_zero(one.angle - other.angle)
        again = [s for s in one.creases if any(overlap_of(s, t) for t in other.creases)]
        if alike or not again:
            continue
        count = flaps(request.state, sorted(again))
        if count < 2:
            raise Refusal(
                "two-angles",
                "one flap is raised to two angles along one line",
                "say only one of them: what it stands at in the end",
                "or raise it again in a statement of its own, if that is done afterwards",
                span=request.span,
            )
        if not moving:
            raise Refusal(
                "which-flap",
                f"{count} flaps hang on one line that is raised to two angles",
                "after each angle add 'moving' and a point of the flap that it is for",
                span=request.span,
            )


MOVE = Move(
    "raise",
    "raise flaps about folds or creases, at right angles or to an angle; the model stands in space",
    (
        "raise along k",
        "raise along k and m",
        "raise along k to 60 degrees",
        "raise along k to 60 degrees, along m to 120 degrees",
        "raise along k and m until level",
        "raise along k until level with P",
        "raise along k to 60 degrees, moving P",
        "raise along k, 2 layers",
        "raise along k and m, opening P",
        "raise along k, holding P",
    ),
    raise_flaps,
    by_sight=("raise along {crease}",),
    whole_folds=True,
    flat=False,
    fingers=Still(),
)
