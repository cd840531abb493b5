"""What a script itself tells of a line that was refused in it: changes that its other lines speak for.

In: where a script was refused. Out: changes of the script, each with its hint. Other hints come from the move
and the paper; these from what was marked and never used, from a fold whose twin goes elsewhere, from a
caption, from where a corner has gone. Whoever asks folds the script with each.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches
from itertools import combinations, pairwise

from ..geometry.tolerance import EPS, same_point
from ..paper.silhouette import centre, corners_toward
from ..source.diagnostics import Edit, Hint, Span
from ..syntax import nodes
from .earlier_lines import (
    OPPOSITE,
    SAYS_BEHIND,
    Fold,
    Place,
    caption_of,
    folds_before,
    lacks,
    statements_before,
    to_be_opened,
)
from .statements import AND_UNFOLD

_FOLDS = frozenset(("valley", "mountain"))
_ONTO = frozenset((*_FOLDS, "crease", "pinch"))
#: A fold of a corner that is named by sight: its verb, and the corner.
_SEEN_MOVER = re.compile(
    r"(valley|mountain) (?:the )?((?:top|bottom|upper|lower)(?: (?:left|right))?|left|right) corner\b"
)
#: A fold of a point that says besides what moves.
_POINT_TO_POINT = re.compile(r"(valley|mountain) ([A-Z]\w?) to ([A-Z]\w?)(?=, moving\b)")
#: A caption that speaks of one layer.
_SAYS_ONE = re.compile(r"\b(?:front|top|upper|first) (?:layer|flap|one)\b", re.IGNORECASE)
_SAYS_FRONT_TOO = re.compile(r"\bfront\b.*\bbehind\b|\bboth\b", re.IGNORECASE)
#: A caption that folds a side.
_FOLDED_SIDE = re.compile(
    r"\bfold (?:up |down |over )?the (left|right|top|bottom) (?:half|side|corner|edge|flap|point|tip)\b",
    re.IGNORECASE,
)
#: How near the spelling of a name is to another that is the same (share of letters).
_NEARLY = 0.8
_NAME = re.compile(r"(?<![\w'-])[A-Z]\w?(?![\w'-])")
#: A fold of an edge that is named by its ends.
_EDGE = re.compile(r"\w+ edge [A-Z]\w? [A-Z]\w?$")
#: A caption that folds two alike.
_SAYS_BOTH = re.compile(
    r"\b(?:both|the (?:two )?(?:sides|edges|corners|points|flaps))\b", re.IGNORECASE
)
_HEIGHTS = {"upper": "top", "lower": "bottom"}


def told(place: Place) -> Iterator[Hint]:
    """Changes that the rest of the script speaks for, the surest first."""
    yield from _centre_never_marked(place)
    yield from _where_it_went(place)
    yield from _crease_still_folded(place)
    yield from _other_layer(place)
    yield from _front_alone(place)
    yield from _through_two_points(place)
    yield from _goal_of_the_twin(place)
    yield from _one_of_both(place)
    yield from _as_the_caption_folds(place)
    yield from _as_earlier_captions_fold(place)
    yield from _spelt_otherwise(place)
    yield from _corner_of_the_caption(place)
    yield from _side_of_the_caption(place)


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


def _front_alone(place: Place) -> Iterator[Hint]:
    """A fold of several layers whose caption speaks of the front one."""
    for fold in folds_before(place):
        count = next((p for p in fold.node.phrases if p.word == "layers"), None)
        if count is None or not _SAYS_ONE.search(fold.caption):
            continue
        was = place.source.text[count.span.start : count.span.end].strip(" ,")
        if was != "1 layer":
            at = Span(count.span.end - len(was), count.span.end)
            yield lacks(f"in line {fold.line} say '1 layer'", Edit(at, "1 layer"))


def _as_the_caption_folds(place: Place) -> Iterator[Hint]:
    """A valley fold for a mountain fold of whose going behind the caption tells nothing, and round about."""
    caption = caption_of(place)
    if not caption or place.verb not in _FOLDS or place.code not in ("blocked", "fold-misses-flap"):
        return
    if _SAYS_FRONT_TOO.search(caption):
        return
    behind = SAYS_BEHIND.search(caption) is not None
    if behind == (place.verb == "valley"):
        other = "mountain" if behind else "valley"
        line = f"{other}{place.said[len(place.verb) :]}"
        way = "behind" if behind else "nothing of going behind"
        yield Hint(f"the caption says {way}: say '{line}'", edit=Edit(place.span, line))


def _as_earlier_captions_fold(place: Place) -> Iterator[Hint]:
    """A mountain fold before of whose going behind its caption tells nothing, as a valley fold."""
    for fold in folds_before(place):
        if fold.node.verb == "mountain" and fold.caption and not SAYS_BEHIND.search(fold.caption):
            at = fold.node.verb_span
            yield lacks(f"in line {fold.line} say 'valley' for 'mountain'", Edit(at, "valley"))


def _spelt_otherwise(place: Place) -> Iterator[Hint]:
    """The name of a crease that is spelt a little otherwise where it is given."""
    if place.code != "unknown-name" or not re.fullmatch(r"[a-z][\w-]{3,}", place.amiss):
        return
    for near in get_close_matches(place.amiss, place.folding.names.creases, 1, _NEARLY):
        given = re.search(rf"\bas {re.escape(near)}(?![\w-])", place.source.text)
        if given is not None:
            line, _ = place.source.position(given.start())
            at = Span(given.end() - len(near), given.end())
            yield lacks(
                f"line {line} calls it '{near}': say '{place.amiss}' there", Edit(at, place.amiss)
            )


def _corner_of_the_caption(place: Place) -> Iterator[Hint]:
    """For a corner that lies on the fold line, one on the side that the caption folds."""
    said = re.search(r"\bmoving ([A-Z]\w?)$", place.said)
    side = _FOLDED_SIDE.search(caption_of(place))
    if place.code != "on-the-line" or said is None or side is None:
        return
    state = place.folding.state
    axis, sign = {"left": (0, -1), "right": (0, 1), "bottom": (1, -1), "top": (1, 1)}[
        side[1].lower()
    ]
    middle = centre(state)[axis]
    for corner in state.sheet.corner_names:
        if sign * (state.where(state.sheet.corner(corner))[axis] - middle) > EPS:
            line = f"{place.said[: said.start(1)]}{corner}"
            why = f"corner {corner} lies on the {side[1].lower()}, which the caption folds"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _side_of_the_caption(place: Place) -> Iterator[Hint]:
    """The other side for one that the line says, and its caption and the name that it gives do not."""
    sides = [*re.finditer(r"\b(?:left|right|top|bottom)\b", place.said)]
    given = re.search(r"\bas ([\w-]+)$", place.said)
    told_of = f"{caption_of(place)} {given[1] if given else ''}".lower()
    for at in sides if len(sides) == 1 else ():
        other = OPPOSITE[at[0]]
        if re.search(rf"\b{other}\b", told_of) and not re.search(rf"\b{at[0]}\b", told_of):
            line = f"{place.said[: at.start()]}{other}{place.said[at.end() :]}"
            yield Hint(f"the step speaks of '{other}': say '{line}'", edit=Edit(place.span, line))


def _through_two_points(place: Place) -> Iterator[Hint]:
    """A fold of one marked point onto another, of which more is said to move: a fold through both."""
    for fold in folds_before(place):
        words = place.source.text[fold.node.span.start : fold.node.span.end]
        said = _POINT_TO_POINT.match(words)
        if said is not None:
            again = f"{said[1]} through {said[2]} {said[3]}{words[said.end(3) :]}"
            yield lacks(f"in line {fold.line} say '{again}'", Edit(fold.node.span, again))


def _goal_of_the_twin(place: Place) -> Iterator[Hint]:
    """Of two folds in a row with words for opposite sides, each with where the other goes; of a refused line
    and the fold before it only that one.
    """
    text, row = place.source.text, statements_before(place)
    lines = [(one.verb, one.span, text[one.span.start : one.span.end]) for one in row]
    pairs = [*pairwise([*lines, (place.verb, place.span, place.said)])]
    for (verb, span, words), (other_verb, other_span, other) in reversed(pairs):
        if verb != other_verb or verb not in _ONTO:
            continue
        (who, _, goal), (twin, _, its_goal) = (one.partition(" onto ") for one in (words, other))
        if who == twin or goal == its_goal or not (goal and its_goal):
            continue
        if _mirrored(who) != twin and not (other_span == place.span and _EDGE.match(who)):
            continue
        changes = [(span, f"{who} onto {its_goal}"), (other_span, f"{twin} onto {goal}")]
        for at, again in changes[:1] if other_span == place.span else changes:
            line, _ = place.source.position(at.start)
            yield lacks(f"in line {line} say '{again}'", Edit(at, again))


def _one_of_both(place: Place) -> Iterator[Hint]:
    """The fold that an earlier step lacks whose caption speaks of both sides, and which folds one."""
    for fold in folds_before(place):
        words = place.source.text[fold.node.span.start : fold.node.span.end]
        twin = _mirrored(words)
        if _SAYS_BOTH.search(fold.caption) and twin != words:
            at = Span(fold.node.span.end, fold.node.span.end)
            why = f"line {fold.line} folds one of both: write '{twin}' below it"
            yield lacks(why, Edit(at, f"\n  {twin}"))


def _mirrored(words: str) -> str:
    """The words with left and right changed about."""
    other = {"left": "right", "right": "left"}
    return re.sub(r"\b(?:left|right)\b", lambda m: other[m[0]], words)


def with_unused_marks(place: Place) -> Iterator[Hint]:
    """Points that were marked and are used nowhere, in the place of as many that the line names."""
    unused = marked_and_not_used(place)
    names = [*dict.fromkeys(_NAME.findall(place.said))]
    if not 1 <= len(unused) <= 2 or place.code == "unknown-name":
        return
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
            use = rf"(?<![\w'-]){re.escape(said[1])}(?![\w'-])"
            found += [said[1]] if len(re.findall(use, text)) == 1 else []
    return found
