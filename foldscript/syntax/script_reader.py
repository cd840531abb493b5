"""A script taken in line by line: lines of tokens in, what they say and every mistake in them out.

Each line is read on its own, so one mistake hides no other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import TYPE_CHECKING

from ..source.diagnostics import Diagnostic, Refusal, Source, Span, write
from .craft_words import among, instead, opened_by
from .grammar import Grammar
from .heads import HEAD_LINES, HeadReader, checked_text, language_tag
from .line_trees import BLOCK_LINES, LineTrees, refuse_broken
from .mistakes import (
    did_you_mean,
    goes_with_another,
    guess_opening,
    misspelt,
    quoted,
    reserved,
)
from .moves import group_without_do, match_verb, plain_words, read_move
from .nodes import Caption, Group, Name, Program, Statement, Step
from .operands import read_name, tokens_of, tree_span
from .parts import MOST_PARTS, Begun, parts_of
from .rewording import in_the_craft
from .script_lines import ScriptLine, token_span

if TYPE_CHECKING:
    from lark import Token

MOST_STEPS = 500
MOST_STATEMENTS = 5000
#: Diagnostics shown in one run.
MOST_MISTAKES = 25


class _Block:
    """A step or a group while its lines come in."""

    def __init__(self, span: Span, name: Name | None = None) -> None:
        self.span = span
        self.name = name
        self.parameters: tuple[Name, ...] = ()
        self.captions: list[Caption] = []
        self.body: list[Statement] = []
        self.half_way: tuple[bool, Span] | None = None
        self.broken = False  # a line of it could not be read, so it may look empty


class ScriptReader:
    """What has been read so far, and what was wrong with it."""

    def __init__(self, source: Source, grammar: Grammar, verbs: Mapping[str, str]) -> None:
        self.source = source
        self.reword: Callable[[Refusal, Span], Refusal] | None = None  # says more of a mistake
        self.grammar = grammar
        self.verbs = verbs
        self.counts: Counter[str] = Counter()
        self.named: set[str] = set()  # what a line of the script gives as a name
        self.trees = LineTrees(grammar, self.counts)
        self.head = self.lines = HeadReader(source, grammar)  # `lines`: of the part that is read
        self.parts: list[Begun] = []
        self.steps: list[Step] = []
        self.groups: list[Group] = []
        self.block: _Block | None = None
        self.found: list[Diagnostic] = []
        self.statements = 0
        self.full = False

    def refuse(self, refusal: Refusal, span: Span) -> None:
        """Notes a mistake."""
        at, code = refusal.span or span, refusal.code
        if self.block is not None:
            self.block.broken = True
        if not goes_with_another(at, self.found, self.source.text):
            told = Diagnostic(code, refusal.message, at, refusal.hints, source=self.source)
            self.found.append(told)

    # --- one line --------------------------------------------------------------------------

    def take(self, line: ScriptLine) -> None:
        """Reads one line into the head, the current step or the current group."""
        if line.loose_comma is not None:
            self.refuse(
                Refusal(
                    "loose-comma",
                    "a comma at the end of a line says that it goes on, but it does not",
                    "leave the comma out",
                ),
                line.loose_comma,
            )
        try:
            self._take(line)
        except Refusal as refusal:
            told = refusal if self.reword is None else self.reword(refusal, line.span)
            self.refuse(told, line.span)

    def begin_step(self, span: Span) -> None:
        """Takes the lines below for those of a step, although none could be read here."""
        self.block = _Block(span)
        self.block.broken = True

    def given_names(self) -> tuple[str, ...]:
        """Words that are names here: given by a line, or said twice where a base may have named them."""
        based = "start" in self.head.seen
        return tuple(
            name
            for name, count in self.counts.items()
            if name.rstrip("'") in self.named
            or (
                count > 1
                and name != "the"
                and (not name.islower() or (based and not instead(name)))
            )
        )

    @property
    def body(self) -> list[Statement]:
        """The statements read so far, of finished steps and of the one that is open."""
        done = [statement for step in self.steps for statement in step.body]
        return [*done, *(self.block.body if self.block is not None else ())]

    def _take(self, line: ScriptLine) -> None:
        tokens = line.tokens
        kind = self.trees.kind(tokens[0])
        if kind in BLOCK_LINES:
            self._open(kind, tokens)
        elif self.block is None:
            self._head_line(kind, tokens)
        else:
            self._move_line(kind, line)

    def _head_line(self, kind: str, tokens: list[Token]) -> None:
        if kind:
            if kind == "sheet_line":
                tokens = ScriptLine(tokens).without_article()
            self.lines.read(self.trees.read(kind, tokens))
            return
        for token in tokens[:1]:
            refuse_broken(token)
        moved = match_verb(tokens, self.verbs)
        if moved is not None:
            self.block = _Block(token_span(tokens[0]))  # so that this is said once
            raise Refusal(
                "move-before-step",
                "a move stands under a step, and no step has begun",
                write(
                    Span(token_span(moved[0]).start, token_span(moved[0]).start),
                    "step\n  ",
                    'put a line before it: step, or step "..."',
                ),
                span=token_span(moved[0]),
            )
        raise self._unknown(tokens, "word that opens a line before the first step")

    def _move_line(self, kind: str, written: ScriptLine) -> None:
        assert self.block is not None
        tokens = written.without_article()
        if not tokens:
            raise self._unknown(written.tokens, "move")
        refuse_broken(tokens[0])
        line = match_verb(tokens, self.verbs)
        if line is None:
            if kind in HEAD_LINES:
                raise Refusal(
                    "head-after-step",
                    f"{quoted(tokens[0])} belongs before the first step",
                    "move this line to the top of the script",
                    span=token_span(tokens[0]),
                )
            raise self._unknown(tokens, "move")
        self.statements += 1
        if self.statements > MOST_STATEMENTS:
            self.full = True
            raise Refusal(
                "too-many-moves",
                f"more than {MOST_STATEMENTS} moves in one script",
                span=token_span(line[0]),
            )
        try:
            statement = read_move(self.trees.read("move_line", plain_words(line)))
        except Refusal as refusal:
            raise in_the_craft(refusal, line, self.counts, self.verbs) from None
        vocabulary = self.grammar.words_of("move_line")
        for before, token in pairwise(line):
            # Straight after the verb a new name may stand; elsewhere a name is used twice or wrong.
            if before.type != "VERB" and before.type != "AS" and not self.lines.seen.get("start"):
                guess = misspelt(token, vocabulary, self.counts, 0.8)
                if guess is not None:
                    raise guess
        self.block.body.append(statement)
        self.block.span = self.block.span.cover(statement.span)

    # --- steps, captions, groups -----------------------------------------------------------

    def _open(self, kind: str, tokens: list[Token]) -> None:
        block, span = self.block, token_span(tokens[0])
        if (
            block is not None
            and block.name is not None
            and kind not in ("end_line", "caption_line", "half_line")
        ):
            self.close()
            self.refuse(
                Refusal(
                    "group-not-closed",
                    f"the group {quoted(block.name.text)} is not closed",
                    "put a line 'end' before this one",
                ),
                span,
            )
        if kind in ("part_line", "assemble_line"):
            self._part(kind, tokens)
        elif kind == "step_line":
            self.close()
            self.block = _Block(span)
            if len(self.steps) >= MOST_STEPS:
                self.full = True
                raise Refusal("too-many-steps", f"more than {MOST_STEPS} steps in one script")
            tree = self.trees.read(kind, tokens)
            self.block.span = tree_span(tree)
            for text in tokens_of(tree, "STRING"):
                self._caption(text, "")
        elif kind == "caption_line":
            tree = self.trees.read(kind, tokens)
            languages = tokens_of(tree, "NAME")
            language = language_tag(languages[0]) if languages else ""
            if self.block is None or self.block.name is not None:
                raise Refusal("caption-outside-step", "a caption stands under a step", span=span)
            self.block.span = self.block.span.cover(tree_span(tree))
            self._caption(tokens_of(tree, "STRING")[0], language)
        elif kind == "half_line":
            self._half_way(tree_span(self.trees.read(kind, tokens)), str(tokens[0]))
        elif kind == "group_line":
            if self.parts or (block is not None and block.name is None):
                self.close()
                raise Refusal(
                    "group-after-step",
                    "groups stand before the first step",
                    "move the group up",
                    span=span,
                )
            self.block = _Block(span, Name("", span))
            names = tokens_of(self.trees.read(kind, tokens), "NAME")
            for token in names:
                if self.grammar.reserves(str(token)):
                    raise reserved(token)
            self.block.name, *parameters = [read_name(token) for token in names]
            self.block.parameters = tuple(parameters)
        else:
            tree = self.trees.read(kind, tokens)
            if block is None or block.name is None:
                raise Refusal(
                    "end-without-group",
                    "there is no group to end here",
                    "leave it out: a step ends where the next one begins",
                    span=span,
                )
            block.span = block.span.cover(tree_span(tree))
            self.close()

    def _half_way(self, span: Span, words: str) -> None:
        if self.block is None or self.block.name is not None:
            raise Refusal("half-way-outside-step", f"'{words}' stands under a step", span=span)
        if self.block.half_way is not None:
            raise Refusal("said-twice", "this has been said of this step already", span=span)
        self.block.span = self.block.span.cover(span)
        self.block.half_way = not words.startswith("no"), span

    def _part(self, kind: str, tokens: list[Token]) -> None:
        """Begins a part: lines of a head may follow, then its steps."""
        self.close()
        tree = self.trees.read(kind, tokens)
        span = tree_span(tree)
        assembles = kind == "assemble_line"
        titles = [checked_text(text) for text in tokens_of(tree, "STRING")]
        if len(self.parts) >= MOST_PARTS:
            self.full = True
            raise Refusal(
                "too-many-parts", f"more than {MOST_PARTS} parts in one script", span=span
            )
        if self.steps and not self.parts and not assembles:
            self.refuse(
                Refusal(
                    "part-after-step",
                    "the steps above belong to no part",
                    "put a line 'part' with its title before them too",
                ),
                span,
            )
        if not assembles and titles and not titles[0]:
            self.refuse(Refusal("empty-text", "this text is empty", "say what the part is"), span)
        self.lines = HeadReader(self.source, self.grammar, "assemble" if assembles else "part")
        title = titles[0] if titles else ""
        self.parts.append(
            Begun(title, self.lines.head, self.lines.seen, len(self.steps), assembles, span)
        )

    def _caption(self, token: Token, language: str) -> None:
        assert self.block is not None
        text = checked_text(token)
        if language == self.head.texts.get("language", "en"):
            language = ""
        if any(caption.language == language for caption in self.block.captions):
            raise Refusal(
                "said-twice",
                "this step has a caption in this language already",
                "keep one of the two",
                span=token_span(token),
            )
        if text:
            self.block.captions.append(Caption(text, language, token_span(token)))

    def close(self) -> None:
        """Ends the step or group that is open."""
        block, self.block = self.block, None
        if block is None:
            return
        if block.name is not None:
            self.groups.append(Group(block.name, block.parameters, tuple(block.body), block.span))
            return
        if not block.captions and not block.body and not block.broken:
            self.refuse(
                Refusal(
                    "empty-step",
                    "nothing happens in this step",
                    "put a move under it, or a caption after it",
                ),
                block.span,
            )
        step = Step(tuple(block.captions), tuple(block.body), block.span, block.half_way)
        self.steps.append(step)

    def finish(self) -> Program:
        """The whole script, once every line has been taken."""
        block = self.block
        self.close()
        if block is not None and block.name is not None:
            self.refuse(
                Refusal(
                    "group-not-closed",
                    f"the group {quoted(block.name.text)} is not closed",
                    "put a line 'end' after its last move",
                ),
                block.span,
            )
        if not self.steps and not self.found:
            empty = not self.source.text.strip()
            self.refuse(
                Refusal(
                    "no-steps",
                    "the script is empty" if empty else "the script has no step",
                    'begin each step with a line: step "Fold in half."',
                ),
                Span(0, 0),
            )
        head = self.head.head()
        try:
            parts = parts_of(head, self.parts, len(self.steps)) if not self.found else ()
        except Refusal as refusal:
            self.refuse(refusal, Span(0, 0))
            parts = ()
        self.found.sort(key=lambda d: d.span.start if d.span else 0)
        if len(self.found) >= MOST_MISTAKES:
            del self.found[MOST_MISTAKES:]
            last = self.found[-1].span
            self.found.append(
                Diagnostic(
                    "more-mistakes",
                    "there may be more mistakes below: mend these first",
                    last,
                    source=self.source,
                )
            )
        return Program(self.source, head, tuple(self.steps), tuple(self.groups), parts)

    def _unknown(self, tokens: list[Token], what: str) -> Refusal:
        """A line that opens with no known word."""
        inside = self.block is not None
        known = {"step", "caption", "half way", *self.verbs}
        if not inside:
            known |= self.trees.head_words()
        guess = guess_opening(tokens, known, self.verbs if inside else None)
        if not inside and guess.near[:1] == ["step"]:
            self.begin_step(guess.span)
        if inside and any(group.name.text == tokens[0] for group in self.groups):
            return group_without_do(tokens[0])
        hints = (
            guess.craft or did_you_mean(guess.near, guess.span) or (opened_by(tokens[0], inside),)
        )
        if guess.craft and inside:
            said = (str(t) for t in tokens[1:] if t != "fold" and self.counts[str(t)] <= 1)
            hints = (*among(said), *hints)[:3]
        message = f"{quoted(guess.word)} is no {what}"
        return Refusal("unknown-word", message, *hints, span=guess.span)
