"""What a script itself tells of a line that was refused in it: changes that its other lines speak for.

In: where a script was refused. Out: changes of the script, each with its hint. Other hints come from the move
and the paper; these from what was marked and never used, from a fold whose twin goes elsewhere, from a
caption, from where a corner has gone. Whoever asks folds the script with each.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches
from itertools import combinations

from ..geometry.tolerance import same_point
from ..paper.silhouette import corners_toward
from ..source.diagnostics import Edit, Hint, Span
from ..syntax import nodes
from .caption_said import otherwise_said
from .caption_shares import Folded
from .caption_tells import told_by_a_caption
from .earlier_lines import (
    Fold,
    Place,
    as_a_word,
    folds_before,
    lacks,
    program_before,
    statements_before,
    steps_before,
    to_be_opened,
)
from .siblings import mirrored
from .statements import AND_UNFOLD
from .step_tells import told_by_its_step

_FOLDS = frozenset(("valley", "mountain"))
#: A fold of a corner that is named by sight: its verb, and the corner.
_SEEN_MOVER = re.compile(
    r"(valley|mountain) (?:the )?((?:top|bottom|upper|lower)(?: (?:left|right))?|left|right) corner\b"
)
#: A fold of a point that says besides what moves.
_POINT_TO_POINT = re.compile(r"(valley|mountain) ([A-Z]\w?) to ([A-Z]\w?)(?=, moving\b)")
#: How near the spelling of a name is to another that is the same (share of letters).
_NEARLY = 0.8
_NAME = re.compile(r"(?<![\w'-])[A-Z]\w?(?![\w'-])")
_HEIGHTS = {"upper": "top", "lower": "bottom"}


def told(place: Place) -> Iterator[Hint]:
    """Changes that the rest of the script speaks for, the surest first."""
    yield from _centre_never_marked(place)
    yield from told_by_its_step(place)
    yield from _as_was_warned(place)
    yield from after_turning_over(place)
    yield from _where_it_went(place)
    yield from _crease_still_folded(place)
    yield from _other_layer(place)
    yield from told_by_a_caption(place)
    yield from _through_two_points(place)
    yield from _spelt_otherwise(place)
    yield from _name_of_an_unused_crease(place)
    yield from _unused_mark_before(place)


def _centre_never_marked(place: Place) -> Iterator[Hint]:
    """'O', the usual letter of the centre (common practice), where nothing is called so."""
    if place.code == "unknown-name" and place.amiss == "O":
        at = Span(place.span.start, place.span.start)
        line = "mark O at the centre"
        yield lacks(f"mark it in a line before, with '{line}'", Edit(at, f"{line}\n  "))


def _where_it_went(place: Place) -> Iterator[Hint]:
    """A corner by sight that a step has folded away, by the letter that it has."""
    said = _SEEN_MOVER.match(place.said)
    if said is None:
        return
    toward = tuple(_HEIGHTS.get(word, word) for word in said[2].split())
    sheet = place.folding.state.sheet
    for record in reversed(place.folding.history):
        if record.turn is not None:
            return
        seen = list(corners_toward(record.before, toward))
        if len(seen) != 1:
            continue
        gone = [
            name
            for name in sheet.corner_names
            if same_point(record.before.where(sheet.corner(name)), seen[0])
            and not same_point(record.after.where(sheet.corner(name)), seen[0])
        ]
        for name in gone:
            line = f"{said[1]} {name}{place.said[said.end() :]}"
            why = f"step {record.step} has folded the {said[2]} corner away, which is corner {name}"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))
        if gone:
            return


def _crease_still_folded(place: Place) -> Iterator[Hint]:
    """A crease that the line names and that an earlier fold has made, which was to be opened again."""
    if place.code != "cannot-reach":  # paper that lies on it already
        return
    names = set(re.findall(r"(?<![\w'-])[a-z][\w'-]*", place.said))
    for one in reversed(statements_before(place)):
        given = next((p for p in one.phrases if p.word == "as"), None)
        called = [o.text for o in given.operands if isinstance(o, nodes.Name)] if given else []
        opened = any(phrase.word == AND_UNFOLD for phrase in one.phrases)
        if one.verb in _FOLDS and not opened and names & {*called}:
            line, _ = place.source.position(one.span.start)
            yield to_be_opened(Fold("", one, line), place)


def _other_layer(place: Place) -> Iterator[Hint]:
    """A point that the line names that was marked on the top layer, on the bottom one; and round about."""
    names = {*_NAME.findall(place.said)} if place.code == "cannot-reach" else set[str]()
    for one in statements_before(place):
        words = place.source.text[one.span.start : one.span.end]
        said = re.match(r"mark (\S+) at (?:the )?(top|bottom) layer at\b", words)
        if said is None or said[1] not in names:
            continue
        other = "bottom" if said[2] == "top" else "top"
        at = Span(one.span.start + said.start(2), one.span.start + said.end(2))
        line, _ = place.source.position(one.span.start)
        yield lacks(f"in line {line} say '{other} layer' for '{said[2]} layer'", Edit(at, other))


def after_turning_over(place: Place) -> Iterator[Hint]:
    """Left for right, and the other way round, where the model has just been turned over."""
    line = mirrored(place.said)
    last = statements_before(place)[-1:]
    if last and last[0].verb == "turn over" and line != place.said:
        why = "turning the model over has changed its sides about"
        yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _as_was_warned(place: Place) -> Iterator[Hint]:
    """What the warning of an earlier step asks for: its caption says one thing, its line another."""
    steps, names = steps_before(place), place.folding.names.points
    for number, step in reversed([*enumerate(steps, 1)]):
        moves = [one for one in place.folding.history if one.step == number]
        if not moves:
            continue
        folded = Folded(number, moves[0].before, moves, names)
        told_of = otherwise_said(step, folded, program_before(place))
        hint = (
            next((one for one in told_of.hints if one.edit is not None), None) if told_of else None
        )
        if hint is not None and hint.edit is not None and hint.edit.span.end <= place.span.start:
            line, _ = place.source.position(hint.edit.span.start)
            added = hint.text.removeprefix("add ")
            words = (
                f"in line {line} {hint.text}"
                if added == hint.text
                else f"end line {line} with {added}"
            )
            yield lacks(words, hint.edit)


def _spelt_otherwise(place: Place) -> Iterator[Hint]:
    """The name of a crease that is spelt a little otherwise where it is given."""
    if place.code != "unknown-name" or not re.fullmatch(r"[a-z][\w-]{3,}", place.amiss):
        return
    if re.fullmatch(r".+-?\d+", place.amiss):  # one of several, and not another spelling
        return
    for near in get_close_matches(place.amiss, place.folding.names.creases, 1, _NEARLY):
        given = re.search(rf"\bas {re.escape(near)}(?![\w-])", place.source.text)
        if given is not None:
            line, _ = place.source.position(given.start())
            at = Span(given.end() - len(near), given.end())
            yield lacks(
                f"line {line} calls it '{near}': say '{place.amiss}' there", Edit(at, place.amiss)
            )


def _name_of_an_unused_crease(place: Place) -> Iterator[Hint]:
    """The only crease whose name nothing speaks of, called as this line and another call it."""
    text = re.sub(r'"[^"\n]*"', "", place.source.text)

    def uses(name: str) -> int:
        return len(as_a_word(name).findall(text))

    unused = [name for name in place.folding.names.creases if uses(name) == 1]
    if place.code != "unknown-name" or uses(place.amiss) < 2 or len(unused) != 1:
        return
    given = re.search(rf"\bas {re.escape(unused[0])}$", place.source.text, re.MULTILINE)
    if given is not None and given.end() <= place.span.start:
        line, _ = place.source.position(given.start())
        at = Span(given.end() - len(unused[0]), given.end())
        why = f"line {line} calls a crease '{unused[0]}', of which nothing speaks"
        yield lacks(f"{why}: say '{place.amiss}' there", Edit(at, place.amiss))


def _unused_mark_before(place: Place) -> Iterator[Hint]:
    """The point that was marked and is used nowhere, for one that an earlier fold goes to."""
    unused = marked_and_not_used(place)
    for fold in folds_before(place) if len(unused) == 1 else ():
        goal = next((p for p in fold.node.phrases if p.word in ("to", "through", "and")), None)
        at = goal.operands[0] if goal is not None and len(goal.operands) == 1 else None
        if isinstance(at, nodes.Name) and at.text != unused[0]:
            why = f"{unused[0]} was marked and nothing goes there"
            change = f"in line {fold.line} say '{unused[0]}' for '{at.text}', as {why}"
            yield lacks(change, Edit(at.span, unused[0]))


def _through_two_points(place: Place) -> Iterator[Hint]:
    """A fold of one marked point onto another, of which more is said to move: a fold through both."""
    for fold in folds_before(place):
        words = place.source.text[fold.node.span.start : fold.node.span.end]
        said = _POINT_TO_POINT.match(words)
        if said is not None:
            again = f"{said[1]} through {said[2]} {said[3]}{words[said.end(3) :]}"
            yield lacks(f"in line {fold.line} say '{again}'", Edit(fold.node.span, again))


def with_unused_marks(place: Place) -> Iterator[Hint]:
    """Points that were marked and are used nowhere, in the place of as many that the line names."""
    unused = marked_and_not_used(place)
    names = [*dict.fromkeys(_NAME.findall(place.said))]
    if not 1 <= len(unused) <= 2 or place.code == "unknown-name":
        return
    if place.verb == "cut" and len(unused) == 1:
        line = re.sub(r"(?<= to )[A-Z]\w?(?=,|$)", rf"\g<0> to {unused[0]}", place.said, count=1)
        why = f"{unused[0]} was marked and nothing goes there"
        yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))
    for old in reversed([*combinations(names, len(unused))]):
        new = dict(zip(old, unused, strict=True))
        line = _NAME.sub(lambda m, new=new: new.get(m[0], m[0]), place.said)
        was = "were" if len(unused) > 1 else "was"
        why = f"{' and '.join(unused)} {was} marked and nothing goes there"
        yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def marked_and_not_used(place: Place) -> list[str]:
    """The points that were marked before the line and are named nowhere else in the script."""
    source = place.source.text
    text = re.sub(r'"[^"\n]*"', "", source)
    found: list[str] = []
    for one in statements_before(place):
        said = re.match(r"mark (\S+) (?:at|where)\b", source[one.span.start : one.span.end])
        if said is not None:
            found += [said[1]] if len(as_a_word(said[1]).findall(text)) == 1 else []
    return found
