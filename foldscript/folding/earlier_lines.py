"""What the cause of a refused line may be elsewhere: in an earlier line, or in a side word of its own.

In: where a script was refused. Out: changes of the script, each with its hint, the likeliest first. Whoever
asks folds the script with each, and tells those with which it goes on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from ..moves.registry import verbs
from ..source.diagnostics import Edit, Hint, Refusal, Source, Span
from ..syntax import nodes
from ..syntax.parser import parse_all
from .performing.perform import Folding
from .statements import AND_UNFOLD

#: How a change is praised with which more than the line folds.
AND_WHAT_FOLLOWS = ", and what follows"
#: Folds before the line that are looked at.
_LOOKED_BACK = 3
_FOLDS = frozenset(("valley", "mountain"))
_MAKE_CREASES = frozenset((*_FOLDS, "crease", "pinch"))
#: What a caption says of a fold that is opened at once.
_SAYS_UNFOLD = re.compile(
    r"\b(?:unfold|open)|(?<!\bthe )(?<!\ba )(?<!\bthat )(?<!\bthis )(?<!\beach )\bcrease",
    re.IGNORECASE,
)
#: The sides of the paper as it lies: the axis on the table, and which way along it.
WAYS = {"left": (0, -1), "right": (0, 1), "bottom": (1, -1), "top": (1, 1)}
#: Words that are taken for each other.
OPPOSITE = {"top": "bottom", "upper": "lower", "left": "right"}
#: A caption that folds to the back.
SAYS_BEHIND = re.compile(
    r"\b(?:behind|back(?! (?:layers?|flaps?|one|edges?|sides?|half|points?|corners?|wings?)\b)|backwards"
    r"|under|underneath|away|mountain|other side|round)\b",
    re.IGNORECASE,
)
OPPOSITE |= {other: word for word, other in OPPOSITE.items()}
#: The sides, a quarter turn on and a quarter turn back.
_TURNED = (
    {"top": "right", "right": "bottom", "bottom": "left", "left": "top"},
    {"top": "left", "left": "bottom", "bottom": "right", "right": "top"},
)
_SQUARE = re.compile(r"\bsquare\b")


@dataclass(frozen=True)
class Place:
    """Where a script was refused.

    Attributes
    ----------
    source : the script
    span : the line, from its first character to its last
    number : its step
    folding : the paper as it lies there
    verb : the move of the line, '' where it cannot be read
    code : of the refusal
    amiss : the words that it points at
    """

    source: Source
    span: Span
    number: int
    folding: Folding
    verb: str = ""
    code: str = ""
    amiss: str = ""

    @classmethod
    def of(
        cls,
        program: nodes.Program,
        statement: nodes.Statement,
        number: int,
        folding: Folding,
        refusal: Refusal,
    ) -> Place:
        """Where a statement was refused."""
        at, text = refusal.span or statement.span, program.source.text
        verb, amiss = statement.verb, text[at.start : at.end]
        return cls(program.source, statement.span, number, folding, verb, refusal.code, amiss)

    @property
    def said(self) -> str:
        """The line."""
        return self.source.text[self.span.start : self.span.end]


@dataclass(frozen=True)
class Fold:
    """An earlier fold that stays folded, the caption of its step, and the line that it stands in."""

    caption: str
    node: nodes.Statement
    line: int


def likely(place: Place) -> Iterator[Hint]:
    """Changes for which something speaks; none for what is a question of choice."""
    if place.code.startswith("which-"):
        return
    yield from _known_names(place)
    yield from _never_named(place)
    yield from said_to_be_opened(place)
    yield from _other_mover(place)
    if place.code == "blocked" and place.verb != "turn over":
        at = Span(place.span.start, place.span.start)
        yield lacks("say 'turn over' in a line before", Edit(at, "turn over\n  "))
    yield from _sheet_turned(place)
    base = program_before(place).head.sheet is None
    if base and place.code == "two-candidates" and "edge" in place.said:
        at = Span(place.span.start, place.span.start)
        words = "rotate 45 degrees clockwise"
        yield lacks(
            f"it stands on a corner: say '{words}' in a line before", Edit(at, f"{words}\n  ")
        )


def guesses(place: Place) -> Iterator[Hint]:
    """Changes of earlier folds for which nothing speaks but that the script goes on with them."""
    if place.code.startswith("which-"):
        return
    yield from _other_sides(place)
    folds = folds_before(place)
    if not any(_SAYS_UNFOLD.search(fold.caption) for fold in folds):
        yield from _other_way_round(place, folds)
    yield from _other_count(place, folds)
    yield from _other_axis(place, folds)
    yield from _other_goal(place, folds)


def left_out(place: Place) -> Iterator[Hint]:
    """The line without a word that is no name."""
    if place.code != "unknown-name" or not re.fullmatch(r"[a-z]\w*", place.amiss):
        return
    line = re.sub(rf" (?:the )?{place.amiss}\b", "", place.said, count=1)
    yield Hint(f"leave '{place.amiss}' out: say '{line}'", edit=Edit(place.span, line))


def said_to_be_opened(place: Place) -> Iterator[Hint]:
    """Folds before the line whose captions say that they are opened again."""
    folds = folds_before(place)
    yield from (to_be_opened(fold, place) for fold in folds if _SAYS_UNFOLD.search(fold.caption))


def possible(place: Place) -> Iterator[Hint]:
    """Changes that may be meant, and nothing says so: each with a hint that says what for."""
    for fold in folds_before(place):
        if not fold.caption:
            hint = to_be_opened(fold, place)
            words = (
                f"or, if line {fold.line} was to leave only a crease, end it with '{AND_UNFOLD}'"
            )
            yield Hint(words, edit=hint.edit)


def turned_round(place: Place) -> Iterator[Hint]:
    """Folds before the line the other way round, for a line that meets the closed side."""
    if place.code == "more-layers":
        for hint in _other_way_round(place, folds_before(place)):
            yield Hint(f"or {hint.text.partition(':')[0]}: then this line folds", edit=hint.edit)


def as_a_word(name: str) -> re.Pattern[str]:
    """Where a name stands by itself, and not as a part of another."""
    return re.compile(rf"(?<![\w'-]){re.escape(name)}(?![\w'-])")


def lacks(words: str, edit: Edit) -> Hint:
    return Hint(f"{words}: then this line folds{AND_WHAT_FOLLOWS}", edit=edit)


def _other_sides(place: Place) -> Iterator[Hint]:
    """The line with 'bottom' for 'top', or 'left' for 'right', wherever it says so."""
    pairs = (("top", "bottom", "upper", "lower"), ("left", "right"))
    for words in pairs:
        pattern = rf"\b(?:{'|'.join(words)})\b"
        if place.verb and re.search(pattern, place.said):
            line = re.sub(pattern, lambda m: OPPOSITE[m[0]], place.said)
            yield Hint(f"say '{line}'", edit=Edit(place.span, line))


def _other_mover(place: Place) -> Iterator[Hint]:
    """Another corner of the sheet for one that does not say which side moves."""
    said = re.search(r"\bmoving (\w+)$", place.said.split(",")[-1].strip())
    if place.code != "on-the-line" or said is None:
        return
    name, at = said[1], place.span.start + place.said.rfind(said[1])
    for corner in place.folding.state.sheet.corner_names:
        if corner != name:
            edit = Edit(Span(at, at + len(name)), corner)
            yield Hint(f"for another flap say 'moving {corner}'", edit=edit)


def _known_names(place: Place) -> Iterator[Hint]:
    """For a name that is not known: one that differs by its case, and points that are marked and not used."""
    if place.code != "unknown-name" or not re.fullmatch(r"\w+", place.amiss):
        return
    known = [*place.folding.names.points, *place.folding.names.creases]
    at = place.said.find(place.amiss)
    span = Span(place.span.start + at, place.span.start + at + len(place.amiss))
    words = place.source.text
    alike = [name for name in known if name.lower() == place.amiss.lower()]
    unused = [
        name
        for name in place.folding.names.points
        if name not in place.folding.state.sheet.corner_names
        and len(as_a_word(name).findall(words)) == 1
    ]
    for name in alike:
        given = re.search(rf"\bmark {re.escape(name)}\b", words[: place.span.start])
        if given is not None:
            line, _ = place.source.position(given.start())
            where = Span(given.end() - len(name), given.end())
            yield lacks(
                f"in line {line} say '{place.amiss}' for '{name}'", Edit(where, place.amiss)
            )
    for name in dict.fromkeys((*alike, *(unused if place.amiss[0].isupper() else ()))):
        line = place.said[:at] + name + place.said[at + len(place.amiss) :]
        yield Hint(f"say '{line}'", edit=Edit(span, name))


def _never_named(place: Place) -> Iterator[Hint]:
    """A name that is said and given nowhere, to the last fold that has none."""
    name = place.amiss
    if place.code != "unknown-name" or not re.fullmatch(r"[a-z]\w*", name):
        return
    for one in reversed(statements_before(place)):
        if one.verb in _MAKE_CREASES and not any(p.word == "as" for p in one.phrases):
            line, _ = place.source.position(one.span.start)
            words = f"give the fold of line {line} that name: add ', as {name}' there"
            yield Hint(words, edit=Edit(Span(one.span.end, one.span.end), f", as {name}"))
            return


def program_before(place: Place) -> nodes.Program:
    return parse_all(place.source, verbs())[0]


def statements_before(place: Place) -> list[nodes.Statement]:
    steps = program_before(place).steps
    return [one for step in steps for one in step.body if one.span.end <= place.span.start]


def steps_before(place: Place) -> list[nodes.Step]:
    """The steps as read, up to the one in which a line was refused."""
    steps = parse_all(place.source, verbs())[0].steps
    return [step for step in steps if step.span.start <= place.span.start]


def caption_of(place: Place) -> str:
    """What the step says, in English, in which a line was refused; '' where it says nothing."""
    mine = steps_before(place)
    return said_in_english(mine[-1], program_before(place)) if mine else ""


def said_in_english(step: nodes.Step, program: nodes.Program) -> str:
    """The captions of a step in English, the only language of which words are looked for; '' for none."""
    return " ".join(
        caption.text
        for caption in step.captions
        if (caption.language or program.head.language).startswith("en")
    )


def folds_before(place: Place) -> list[Fold]:
    """The last plain folds before a line that stay folded, the last first."""
    program = program_before(place)
    row = [
        (said_in_english(step, program), one)
        for step in program.steps
        for one in step.body
        if one.span.end <= place.span.start
    ]
    opened = {k - 1 for k, (_, one) in enumerate(row) if one.verb == "unfold"}
    folds = [
        Fold(caption, one, place.source.position(one.span.start)[0])
        for k, (caption, one) in enumerate(row)
        if one.verb in _FOLDS
        and k not in opened
        and not any(phrase.word == AND_UNFOLD for phrase in one.phrases)
    ]
    return folds[: -_LOOKED_BACK - 1 : -1]


def to_be_opened(fold: Fold, place: Place) -> Hint:
    edit = Edit(Span(fold.node.span.end, fold.node.span.end), f" {AND_UNFOLD}")
    return lacks(f"end line {fold.line} with '{AND_UNFOLD}'", edit)


def _other_way_round(place: Place, folds: list[Fold]) -> Iterator[Hint]:
    """Folds that may have been meant the other way round: 'A to C' for 'C to A'."""
    text = place.source.text
    for fold in folds:
        node = fold.node
        if [len(one.operands) for one in node.phrases[:2]] != [1, 1]:
            continue
        (who,), (goal,) = (one.operands for one in node.phrases[:2])
        if node.phrases[0].word or node.phrases[1].word not in ("to", "onto"):
            continue
        between = text[who.span.end : goal.span.start]
        words = (
            f"{text[goal.span.start : goal.span.end]}{between}{text[who.span.start : who.span.end]}"
        )
        edit = Edit(Span(who.span.start, goal.span.end), words)
        yield lacks(f"in line {fold.line} say '{node.verb} {words}'", edit)


def _other_count(place: Place, folds: list[Fold]) -> Iterator[Hint]:
    """Earlier folds with another number of layers: one for more, all for one."""
    for fold in folds:
        said = next((p for p in fold.node.phrases if p.word == "layers"), None)
        if said is None:
            continue
        was = place.source.text[said.span.start : said.span.end].strip(" ,")
        for words in ("1 layer", "all layers"):
            if words != was:
                edit = Edit(Span(said.span.end - len(was), said.span.end), words)
                yield lacks(f"in line {fold.line} say '{words}'", edit)


def _other_axis(place: Place, folds: list[Fold]) -> Iterator[Hint]:
    """Earlier folds from top to bottom for one from left to right, and the other way round."""
    for fold in folds:
        words = place.source.text[fold.node.span.start : fold.node.span.end]
        for turn in _TURNED:
            line = re.sub(r"\b(?:top|bottom|left|right)\b", lambda m, to=turn: to[m[0]], words)
            if line != words:
                yield lacks(f"in line {fold.line} say '{line}'", Edit(fold.node.span, line))


def _other_goal(place: Place, folds: list[Fold]) -> Iterator[Hint]:
    """Earlier folds of a corner of the sheet to another corner."""
    corners = place.folding.state.sheet.corner_names
    for fold in folds:
        goal = next((p for p in fold.node.phrases if p.word == "to"), None)
        at = goal.operands[0] if goal is not None and len(goal.operands) == 1 else None
        if not isinstance(at, nodes.Name) or at.text not in corners:
            continue
        words = place.source.text[fold.node.span.start : fold.node.span.end]
        others = [c for c in corners if not as_a_word(c).search(words)]
        for other in others:
            yield lacks(f"in line {fold.line} say '{other}' for '{at.text}'", Edit(at.span, other))


def _sheet_turned(place: Place) -> Iterator[Hint]:
    """The square with a corner at the bottom, or without, where no side has been named before."""
    sheet = program_before(place).head.sheet
    if sheet is None or not place.verb:
        return
    said = place.source.text[sheet.span.start : sheet.span.end]
    if not _SQUARE.search(said):
        return
    line, _ = place.source.position(sheet.span.start)
    turned = re.search(r",? corner \w+ at the bottom", said)
    if turned is not None:
        at = Span(sheet.span.start + turned.start(), sheet.span.start + turned.end())
        yield lacks(f"leave '{turned[0].strip(' ,')}' out in line {line}", Edit(at, ""))
    elif not sheet.lowest:
        words = f", corner {sheet.names[0]} at the bottom"
        at = Span(sheet.span.end, sheet.span.end)
        yield lacks(f"add '{words}' to line {line}", Edit(at, words))
