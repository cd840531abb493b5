"""What captions tell of a line that was refused: changes of it, or of one before it, that they speak for.

In: where a script was refused. Out: changes, each with its hint. Captions are the author's own; only English
ones are read, and only for few words (common practice). Whoever asks folds the script with each.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..geometry.tolerance import EPS
from ..paper.silhouette import centre
from ..source.diagnostics import Edit, Hint, Span
from .earlier_lines import (
    OPPOSITE,
    SAYS_BEHIND,
    WAYS,
    Place,
    caption_of,
    folds_before,
    lacks,
    program_before,
    said_in_english,
    steps_before,
)
from .siblings import unnamed

_FOLDS = frozenset(("valley", "mountain"))
#: A caption that speaks of one layer.
_SAYS_ONE = re.compile(
    r"\b(?:(?:front|top|upper|first) (?:layer|flap|one)|in front|(?:one|single) layer)\b",
    re.IGNORECASE,
)
_SAYS_FRONT_TOO = re.compile(r"\bfront\b.*\bbehind\b|\bboth\b", re.IGNORECASE)
#: A caption that folds a side.
_FOLDED_SIDE = re.compile(
    r"\bfold (?:up |down |over )?the (left|right|top|bottom) (?:half|side|corner|edge|flap|point|tip)\b",
    re.IGNORECASE,
)
_COUNT = re.compile(r",? (?:all layers|\d+ layers?)\b")
#: A caption of all corners; a line that folds several of them; a caption that raises more than one.
_ALL_CORNERS = re.compile(
    r"\b(?:all|four|every|each)\b(?: of)?(?: the| its)?(?: four)? ?\w* ?corners?\b", re.IGNORECASE
)
_SEVERAL = re.compile(r"(\w+ )((?:[A-Z]\w?, )*[A-Z]\w? and [A-Z]\w?)( .*)$")
_SEVERAL_RAISED = re.compile(r"\b(?:wings|flaps|sides|walls|ends|both)\b", re.IGNORECASE)
_SIDES = r"(?:top|bottom|upper|lower|left|right)"
_HEIGHTS = {"upper": "top", "lower": "bottom"}
#: A caption that brings one side or corner to another.
_FROM_TO = re.compile(
    rf"\b(?:fold|bring|take|crease) (?:the )?({_SIDES}(?: {_SIDES})?) (corner|edge)"
    rf"(?: \w+){{0,2}}? (?:on)?to (?:the )?({_SIDES}(?: {_SIDES})?) (?:corner|edge|one)\b",
    re.IGNORECASE,
)
#: A fold of one thing by sight to another.
_SEEN_TO = re.compile(
    rf"(valley|mountain|crease|pinch) (?:the )?({_SIDES}(?: {_SIDES})? (?:corner|edge)) ((?:on)?to) "
    rf"(?:the )?({_SIDES}(?: {_SIDES})? (?:corner|edge))"
)
_HEIGHT = re.compile(r"\b(?:upper|lower)\b")
_LAYER = re.compile(r"\b(?:top|upper) (?:layers?|flaps?|one)\b")
_SIDE_WORD = re.compile(r"\b(?:left|right|top|bottom)\b")


def told_by_a_caption(place: Place) -> Iterator[Hint]:
    """Changes that the caption of the step speaks for, the surest first; then those of captions before."""
    yield from _from_and_to(place)
    yield from _corner_left_out(place)
    yield from _both_copies(place)
    yield from _front_of_this_line(place)
    yield from _front_alone(place)
    yield from _as_the_caption_folds(place)
    yield from _corner_of_the_caption(place)
    yield from _sides_of_captions(place)


def _from_and_to(place: Place) -> Iterator[Hint]:
    """A fold of one side to another as the caption has it, where the line names other sides."""
    told_of, said = _FROM_TO.search(caption_of(place)), _SEEN_TO.match(place.said)
    if told_of is None or said is None or not said[2].endswith(told_of[2].lower()):
        return
    what = told_of[2].lower()
    who, goal = (
        " ".join(_HEIGHTS.get(word, word) for word in told_of[k].lower().split()) for k in (1, 3)
    )
    line = f"{said[1]} {who} {what} {said[3]} {goal} {what}{place.said[said.end() :]}"
    yield Hint(f"the caption says it: say '{line}'", edit=Edit(place.span, line))


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


def _corner_left_out(place: Place) -> Iterator[Hint]:
    """The last corner, for a line before that folds all but one, and whose caption speaks of all."""
    corners, program = place.folding.state.sheet.corner_names, program_before(place)
    for step in reversed(steps_before(place)):
        if not _ALL_CORNERS.search(said_in_english(step, program)):
            continue
        for one in step.body:
            said = _SEVERAL.match(place.source.text[one.span.start : one.span.end])
            named = re.findall(r"[A-Z]\w?", said[2]) if said is not None else []
            left = [name for name in corners if name not in named]
            if said is not None and len(left) == 1 and {*named} < {*corners}:
                row = [name for name in corners if name in (*named, *left)]
                line = f"{said[1]}{', '.join(row[:-1])} and {row[-1]}{said[3]}"
                number, _ = place.source.position(one.span.start)
                why = f"in line {number} say '{line}', as its step speaks of all corners"
                yield lacks(why, Edit(one.span, line))


def _both_copies(place: Place) -> Iterator[Hint]:
    """A crease and its copy behind, for one alone that is raised where the caption speaks of several."""
    said = re.match(r"raise along ([a-z][\w-]*)(?: until level)?$", place.said)
    if said is not None and _SEVERAL_RAISED.search(caption_of(place)):
        copy = f"{said[1]}'"
        if copy in place.folding.names.creases:
            line = f"raise along {said[1]} and {copy}"
            why = f"the caption raises several, and {copy} is the same fold behind"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _front_of_this_line(place: Place) -> Iterator[Hint]:
    """The line without its number of layers, or with one, where the caption speaks of the front flap."""
    count = _COUNT.search(place.said)
    if count is None or not _SAYS_ONE.search(caption_of(place)):
        return
    for other in ("", ", 1 layer"):
        line = place.said[: count.start()] + other + place.said[count.end() :]
        why = "the caption speaks of the front alone"
        yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _as_the_caption_folds(place: Place) -> Iterator[Hint]:
    """A valley fold for a mountain fold of whose going behind the caption tells nothing, and round about."""
    caption = caption_of(place)
    if not caption or place.verb not in _FOLDS:
        return
    if _SAYS_FRONT_TOO.search(caption):
        return
    behind = SAYS_BEHIND.search(caption) is not None
    if behind == (place.verb == "valley"):
        other = "mountain" if behind else "valley"
        line = f"{other}{place.said[len(place.verb) :]}"
        way = "behind" if behind else "nothing of going behind"
        yield Hint(f"the caption says {way}: say '{line}'", edit=Edit(place.span, line))


def _corner_of_the_caption(place: Place) -> Iterator[Hint]:
    """For a corner that lies on the fold line, one on the side that the caption folds."""
    said = re.search(r"\bmoving ([A-Z]\w?)$", place.said)
    side = _FOLDED_SIDE.search(caption_of(place))
    if place.code != "on-the-line" or said is None or side is None:
        return
    state = place.folding.state
    axis, sign = WAYS[side[1].lower()]
    middle = centre(state)[axis]
    for corner in state.sheet.corner_names:
        if sign * (state.where(state.sheet.corner(corner))[axis] - middle) > EPS:
            line = f"{place.said[: said.start(1)]}{corner}"
            why = f"corner {corner} lies on the {side[1].lower()}, which the caption folds"
            yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))


def _sides_of_captions(place: Place) -> Iterator[Hint]:
    """The other side for one that a line says, and its caption and the name that it gives do not: of the line
    itself, and of those before it.
    """
    program, text = program_before(place), place.source.text
    for step in reversed(steps_before(place)):
        caption = said_in_english(step, program).lower()
        for one in reversed(step.body):
            if one.span.start > place.span.start:
                continue
            said = text[one.span.start : one.span.end]
            words, name = unnamed(said)
            told_of = _HEIGHT.sub(lambda m: _HEIGHTS[m[0]], _LAYER.sub("", caption))
            changes = [
                f"{words[: at.start()]}{other}{words[at.end() :]}{name}"
                for at, other in _not_its_sides(words, f"{told_of} {name}")
            ]
            changes += [
                f"{words}{name[: at.start()]}{other}{name[at.end() :]}"
                for at, other in _not_its_sides(name, f"{told_of} {words}")
            ]
            for line in changes:
                if one.span == place.span:
                    why = "the step speaks of it"
                    yield Hint(f"{why}: say '{line}'", edit=Edit(place.span, line))
                else:
                    number, _ = place.source.position(one.span.start)
                    why = f"in line {number} say '{line}', as its step speaks of it"
                    yield lacks(why, Edit(one.span, line))


def _not_its_sides(words: str, told_of: str) -> Iterator[tuple[re.Match[str], str]]:
    """Sides in a line of which its caption names only the opposite ones, each with that."""
    for at in _SIDE_WORD.finditer(words):
        other = OPPOSITE[at[0]]
        if re.search(rf"\b{other}\b", told_of) and not re.search(rf"\b{at[0]}\b", told_of):
            yield at, other
