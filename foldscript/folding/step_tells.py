"""What the other lines of a step tell of one that was refused: changes that they speak for.

In: where a script was refused. Out: changes of the line, or of one before it, each with its hint. Whoever
asks folds the script with each.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain, pairwise

from ..geometry.lines import Point
from ..geometry.tolerance import same_point
from ..paper.silhouette import centre
from ..source.diagnostics import Edit, Hint, Span
from ..syntax import nodes
from .earlier_lines import (
    Place,
    as_a_word,
    caption_of,
    folds_before,
    lacks,
    program_before,
    statements_before,
    steps_before,
)
from .siblings import (
    beside_its_twin,
    kind_of,
    marks_alike,
    mirrored,
    not_to_its_twins_goal,
    of_twin_steps,
    opposite,
    out_of_the_row,
    parted,
    said_twice,
    unnamed,
)

_ONTO = frozenset(("valley", "mountain", "crease", "pinch"))
#: A fold of an edge that is named by its ends.
_EDGE = re.compile(r"\w+ (?:edge|line) [A-Z]\w? [A-Z]\w?$")
#: A caption that folds two alike.
_SAYS_BOTH = re.compile(
    r"\b(?:both|the (?:two |lower |upper |slanting )?(?:sides|edges|corners|points|flaps))\b",
    re.IGNORECASE,
)
#: A caption that has several go to one place.
_SAYS_SEVERAL = re.compile(
    r"\b(?:both|two|three|four|all)\b.*\b(?:corners|points|tips|flaps|ends)\b", re.IGNORECASE
)
_TO = re.compile(r"(\w+) ([A-Z]\w?) (to [^,]+)(.*)$")
_TWO_TO_TWO = re.compile(r"(.+ (?:to|onto))( )([A-Z]\w?) and ([A-Z]\w?)(,.*)?$")
_ALIKE = ("likewise", "same", "too", "also", "alike", "ditto", "similarly")
_REVERSED = re.compile(
    r"((?:inside|outside) reverse )([A-Z]\w?)( through ([A-Z]\w?) ([A-Z]\w?).*)$"
)
#: A name with a number behind it.
_NUMBERED = re.compile(r"(.+?)[-_.]?(\d)$")
#: A caption that goes a part of the way along a line, and the end of it that it begins at.
_PART_OF_A_LINE = re.compile(r"\b(?:half|halfway|slit|as far as|up to|part)\b", re.IGNORECASE)
_BEGINS = re.compile(r"\b(lower|bottom|upper|top|left|right)\b", re.IGNORECASE)
_ENDS = {"bottom": "lower", "top": "upper"}
#: The words for which piece of a cut is meant, each with the other.
_PIECES = {"discarding": "keeping", "keeping": "discarding"}
_MOVING = re.compile(r"\bmoving ([A-Z]\w?)$")


def told_by_its_step(place: Place) -> Iterator[Hint]:
    """Changes that other lines of the same step speak for, the surest first."""
    yield from _out_of_its_row(place)
    yield from _likewise(place)
    yield from _corner_left(place)
    yield from _gone_along(place)
    yield from _goal_of_its_neighbour(place)
    yield from _goal_of_the_twin(place)
    yield from goal_beside(place)
    yield from _goals_changed_about(place)
    yield from _one_of_both(place)
    yield from _other_end(place)
    yield from _of_the_copies(place)
    yield from _tip_cut_off(place)
    yield from _cut_half_way(place)
    yield from _other_piece(place)


def _out_of_its_row(place: Place) -> Iterator[Hint]:
    """A fold that is not as the others of its step: the refused one, or one before it."""
    text = place.source.text
    rows = (marks_alike, out_of_the_row, said_twice, beside_its_twin, not_to_its_twins_goal)
    every = program_before(place).steps
    for step in reversed(steps_before(place)):
        found = (odd for row in rows for odd in row(step.body, text))
        for odd in chain(of_twin_steps(step, every, text), found):
            edit = Edit(odd.node.span, odd.line)
            line, _ = place.source.position(odd.node.span.start)
            if odd.node.span == place.span:
                yield Hint(f"{odd.why}: say '{odd.line}'", edit=edit)
            elif odd.node.span.end <= place.span.start:
                yield lacks(f"in line {line} say '{odd.line}', as {odd.why}", edit)


def _likewise(place: Place) -> Iterator[Hint]:
    """The goal of the fold before, for a line that only says 'likewise'."""
    before = statements_before(place)[-1:]
    if place.amiss not in _ALIKE or not before or before[0].verb != place.verb:
        return
    words, _ = unnamed(place.source.text[before[0].span.start : before[0].span.end])
    goal = re.search(r" (?:to|onto|through|along) .*$", words)
    if goal is not None:
        line = re.sub(rf",? (?:the )?{place.amiss}\b.*$", "", place.said) + goal[0]
        yield Hint(f"the fold before it goes so: say '{line}'", edit=Edit(place.span, line))


def _corner_left(place: Place) -> Iterator[Hint]:
    """The only corner that has not gone where all others have, for one that has."""
    said = _TO.match(place.said)
    corners = place.folding.state.sheet.corner_names
    if said is None or place.code != "cannot-reach" or said[2] not in corners:
        return
    text = place.source.text
    rows = [_TO.match(text[one.span.start : one.span.end]) for one in statements_before(place)]
    gone = {row[2] for row in rows if row is not None and row[3] == said[3]}
    left = [name for name in corners if name not in gone]
    if said[2] in gone and len(left) == 1:
        line = f"{said[1]} {left[0]} {said[3]}{said[4]}"
        why = f"corner {left[0]} alone has not gone there yet"
        yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _gone_along(place: Place) -> Iterator[Hint]:
    """Another corner for one whose flap the fold before has carried along."""
    said, history = _MOVING.search(place.said), place.folding.history
    sheet = place.folding.state.sheet
    if said is None or place.code != "blocked" or not history or said[1] not in sheet.corner_names:
        return
    last = history[-1]

    def carried(name: str) -> bool:
        at = sheet.corner(name)
        return not same_point(last.before.where(at), last.after.where(at))

    for name in sheet.corner_names if carried(said[1]) and last.step == place.number else ():
        if not carried(name):
            line = f"{place.said[: said.start(1)]}{name}"
            why = f"corner {said[1]} has gone along with the fold before"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _goal_of_its_neighbour(place: Place) -> Iterator[Hint]:
    """Of two folds in a row whose points the caption has go to one place, each with the other's goal."""
    mine = _TO.match(place.said)
    before = statements_before(place)[-1:]
    if mine is None or not before or not _SAYS_SEVERAL.search(caption_of(place)):
        return
    span = before[0].span
    other = _TO.match(place.source.text[span.start : span.end])
    if other is None or other[1] != mine[1] or other[3] == mine[3]:
        return
    line, _ = place.source.position(span.start)
    again = f"{other[1]} {other[2]} {mine[3]}{other[4]}"
    yield lacks(f"in line {line} say '{again}'", Edit(span, again))
    again = f"{mine[1]} {mine[2]} {other[3]}{mine[4]}"
    yield Hint(f"the fold before it goes '{other[3]}': say '{again}'", edit=Edit(place.span, again))


def _goal_of_the_twin(place: Place) -> Iterator[Hint]:
    """Of two folds in a row with words for opposite sides, each with where the other goes; of a refused line
    and the fold before it only that one.
    """
    row = [_plain(one, place) for one in statements_before(place)]
    mine = unnamed(place.said)
    pairs = [*pairwise([*row, (place.verb, place.span, *mine)])]
    for (verb, span, words, name), (other_verb, other_span, other, its_name) in reversed(pairs):
        if verb != other_verb or verb not in _ONTO:
            continue
        (who, _, goal), (twin, _, its_goal) = (one.partition(" onto ") for one in (words, other))
        if who == twin or goal == its_goal or not (goal and its_goal):
            continue
        if mirrored(who) != twin and not (other_span == place.span and _EDGE.match(who)):
            continue
        changes = [
            (span, f"{who} onto {its_goal}{name}"),
            (other_span, f"{twin} onto {goal}{its_name}"),
        ]
        for at, again in changes[:1] if other_span == place.span else changes:
            line, _ = place.source.position(at.start)
            yield lacks(f"in line {line} say '{again}'", Edit(at, again))


def goal_beside(place: Place) -> Iterator[Hint]:
    """The goal of the fold before it in the step, or after it, where a thing of the same kind moves there."""
    verb, mover, goal, name = parted(place.verb, place.said)
    if place.verb not in _ONTO or not goal:
        return
    row = steps_before(place)[-1].body
    before = next((one for one in reversed(row) if one.span.end < place.span.start), None)
    after = next((one for one in row if one.span.start > place.span.start), None)
    for beside, where in ((before, "before"), (after, "after")):
        if beside is None or beside.verb != place.verb:
            continue
        words = place.source.text[beside.span.start : beside.span.end]
        _, other, its_goal, _ = parted(beside.verb, words)
        if its_goal and goal != its_goal and kind_of(mover) == kind_of(other):
            line = f"{verb} {mover} {its_goal}{name}"
            why = f"the fold {where} it goes '{its_goal}'"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))
        across = opposite(other)
        if goal == its_goal and kind_of(mover) != kind_of(other) and across != other:
            line = f"{verb} {across} {goal}{name}"
            why = f"the fold {where} it comes from the other side there"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _goals_changed_about(place: Place) -> Iterator[Hint]:
    """Two that move to two places, each to the other's."""
    said = _TWO_TO_TWO.match(place.said)
    if said is not None:
        line = f"{said[1]} {said[4]} and {said[3]}{said[5] or ''}"
        why = "each to the place on its own side"
        yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _plain(one: nodes.Statement, place: Place) -> tuple[str, Span, str, str]:
    return one.verb, one.span, *unnamed(place.source.text[one.span.start : one.span.end])


def _one_of_both(place: Place) -> Iterator[Hint]:
    """The fold that an earlier step lacks whose caption speaks of both sides, and which folds one."""
    there = [place.source.text[one.span.start : one.span.end] for one in statements_before(place)]
    for fold in folds_before(place):
        words = place.source.text[fold.node.span.start : fold.node.span.end]
        twin = mirrored(words)
        if _SAYS_BOTH.search(fold.caption) and twin not in (words, *there):
            at = Span(fold.node.span.end, fold.node.span.end)
            why = f"line {fold.line} folds one of both: write '{twin}' below it"
            yield lacks(why, Edit(at, f"\n  {twin}"))


def _other_end(place: Place) -> Iterator[Hint]:
    """For a point that is named nowhere, where the line before says the same of one: the point across."""
    names, history = place.folding.names.points, place.folding.history
    before = statements_before(place)[-1:]
    if place.code != "unknown-name" or not (before and history) or before[0].verb != place.verb:
        return
    state = history[-1].before
    was, now = (
        unnamed(words)[0].split()
        for words in (place.source.text[before[0].span.start : before[0].span.end], place.said)
    )
    if len(was) != len(now):
        return
    ((one, other), *more) = [pair for pair in zip(was, now, strict=True) if pair[0] != pair[1]] or [
        ("", "")
    ]
    if more or other != place.amiss or one not in names:
        return
    middle = centre(state)
    stay = [names[word] for word in now if word in names]
    for axis in (0, 1):  # from side to side, and from top to bottom

        def across(at: Point, axis: int = axis) -> Point:
            x, y = state.where(at)
            return (2 * middle[0] - x, y) if axis == 0 else (x, 2 * middle[1] - y)

        if not all(same_point(across(at), state.where(at)) for at in stay):
            continue
        for name, at in names.items():
            if name != one and same_point(state.where(at), across(names[one])):
                line = as_a_word(other).sub(name, place.said)
                yield Hint(
                    f"{name} lies across from {one}: say '{line}'", edit=Edit(place.span, line)
                )


def _of_the_copies(place: Place) -> Iterator[Hint]:
    """The copy of a name that a repeat has made, with a stroke for each time, for the name with a number."""
    said = _NUMBERED.match(place.amiss)
    if place.code != "unknown-name" or said is None:
        return
    name, known = said[1], place.folding.names.known()
    strokes = ("'" * n for n in range(1, 10))
    copies = [name + stroke for stroke in strokes if name + stroke in known]
    if name not in known or not copies:
        return
    what = f"'{name}' of the first time, '{copies[0]}' of the next"
    for nth in (int(said[2]), int(said[2]) - 1):
        if 1 <= nth <= len(copies):
            line = as_a_word(place.amiss).sub(copies[nth - 1], place.said)
            why = f"a repeat gives names a stroke, {what}"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _tip_cut_off(place: Place) -> Iterator[Hint]:
    """For a reverse fold of another tip that whose two edges carry the points of the line: that tip."""
    said = _REVERSED.match(place.said)
    if said is None:
        return
    text = place.source.text
    marks = [text[one.span.start : one.span.end] for one in statements_before(place)]
    rows = [
        next((m for m in marks if m.startswith(f"mark {p} at ")), "") for p in said.groups()[3:]
    ]
    for corner in place.folding.state.sheet.corner_names:
        own, other = (
            all(as_a_word(name).search(row) for row in rows) for name in (corner, said[2])
        )
        if own and not other:
            again = f"{said[1]}{corner}{said[3]}"
            why = f"{said[4]} and {said[5]} lie on two edges of the tip {corner}"
            yield Hint(f"{why}: say '{again}'", edit=Edit(place.span, again))


def _cut_half_way(place: Place) -> Iterator[Hint]:
    """For a cut along all of a crease that parts the paper: from one end to the middle, where the caption
    goes only a part of the way.
    """
    said = re.match(r"cut along ([a-z][\w-]*)(.*)$", place.said)
    caption = caption_of(place)
    if place.code != "cuts-off" or said is None or not _PART_OF_A_LINE.search(caption):
        return
    begins = [word.lower() for word in _BEGINS.findall(caption)]
    for end in dict.fromkeys(_ENDS.get(word, word) for word in begins):
        line = f"cut from {end} end of {said[1]} to the centre{said[2]}"
        yield Hint(f"the caption cuts a part of it: say '{line}'", edit=Edit(place.span, line))


def _other_piece(place: Place) -> Iterator[Hint]:
    """The other piece of the last cut, where what is to be opened has been cut off."""
    cuts = [one for one in statements_before(place) if one.verb == "cut"]
    named = [phrase for one in cuts[-1:] for phrase in one.phrases if phrase.word in _PIECES]
    if place.code != "nothing-folded" or len(named) != 1:
        return
    span, word = named[0].span, named[0].word
    line, _ = place.source.position(span.start)
    other = place.source.text[span.start : span.end].strip(" ,").replace(word, _PIECES[word], 1)
    yield lacks(f"line {line} throws that piece away: say '{other}' there", Edit(span, other))
