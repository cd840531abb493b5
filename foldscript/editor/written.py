"""A script as it stands in the editor at one moment, read as far as it can be.

In: its text, whatever state it is in. Out: its words and lines, the program without the lines that cannot be
read, what is wrong with those, and its names. Nothing is folded.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from ..moves.registry import verbs
from ..source.diagnostics import Diagnostic, FoldscriptError, Source
from ..source.reading import LARGEST_FILE
from ..syntax import nodes
from ..syntax.grammar import load_grammar
from ..syntax.parser import parse_all
from ..syntax.script_lines import ScriptLine, cut_lines, token_span
from .names import Names, names_of
from .positions import plain

if TYPE_CHECKING:
    from lark import Token


class Written:
    """One version of a text; everything is made when it is first asked for, and kept."""

    def __init__(self, path: Path, text: str, version: int = 0) -> None:
        self.path = path
        self.source = Source(str(path), plain(text))
        self.version = version

    @cached_property
    def tokens(self) -> tuple[Token, ...]:
        """Every word, comma and line end; none of a text that is too long to be a script."""
        if len(self.source.text) > LARGEST_FILE:
            return ()
        return tuple(load_grammar().lex(self.source.text))

    @cached_property
    def lines(self) -> tuple[ScriptLine, ...]:
        """The statements' worth of words."""
        openers = frozenset(verb.split()[0] for verb in verbs())
        fresh = (token.update() for token in self.tokens)  # cutting lines marks stray commas
        return tuple(cut_lines(fresh, openers))

    @cached_property
    def _read(self) -> tuple[nodes.Program, tuple[Diagnostic, ...]]:
        try:
            return parse_all(self.source, verbs())
        except FoldscriptError as error:
            none = nodes.Program(self.source, nodes.Head("", "", None), ())
            return none, error.diagnostics

    @property
    def program(self) -> nodes.Program:
        """What of it can be read."""
        return self._read[0]

    @property
    def mistakes(self) -> tuple[Diagnostic, ...]:
        """What cannot be read, before anything is folded."""
        return self._read[1]

    @cached_property
    def names(self) -> Names:
        """What its names stand for."""
        return names_of(self.program, self.lines, self.tokens)

    # --- what stands at a place --------------------------------------------------------------

    def line_at(self, offset: int) -> ScriptLine | None:
        """The statement around an offset, up to the end of its last line of text."""
        starts = [line.span.start for line in self.lines]
        k = bisect_right(starts, offset) - 1
        if k < 0:
            return None
        line = self.lines[k]
        between = self.source.text[line.span.end : offset]
        on = "\n" not in between or between.split("\n", 1)[0].rstrip().endswith(",")
        return line if on else None

    def token_at(self, offset: int) -> Token | None:
        """The word around an offset, or right before it."""
        starts = [token_span(token).start for token in self.tokens]
        for k in (bisect_right(starts, offset) - 1, bisect_right(starts, offset) - 2):
            if k >= 0 and self.tokens[k].type not in ("NEWLINE", "COMMA"):
                span = token_span(self.tokens[k])
                if span.start <= offset <= span.end:
                    return self.tokens[k]
        return None

    def step_at(self, offset: int) -> int:
        """Index of the step whose lines a place belongs to; -1 before the first."""
        starts = [step.span.start for step in self.program.steps]
        k = bisect_right(starts, offset) - 1
        after = self.program.parts
        part = next((p for p in reversed(after) if p.span.start <= offset), None)
        return -1 if k >= 0 and part is not None and part.span.start > starts[k] else k

    def statement_at(self, offset: int) -> nodes.Statement | None:
        """The statement around an offset, in a step or a group."""
        bodies = (*self.program.steps, *self.program.groups)
        return next(
            (s for one in bodies for s in one.body if s.span.start <= offset <= s.span.end), None
        )
