"""The grammar file, built once: its lexer, its start rules and the words it reserves.

In: `grammar/foldscript.lark`. Out: a `Grammar` that lexes a whole script and parses one line at a
time. Importing this module is cheap; lark comes in when the first script is parsed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from .tables import tables

if TYPE_CHECKING:
    from lark import Lark, Token, Tree
    from lark.lexer import Lexer

#: Terminals that are no words of the language.
LITERALS = frozenset(
    (
        *("NAME", "NUMBER", "FRACTION", "NGON", "STRING", "COMMA", "NEWLINE", "VERB"),
        *("DECIMAL_COMMA", "OPEN_STRING", "STRAY"),
    )
)


class UnexpectedWord(Exception):
    """A line that breaks the grammar at token `index`; `accepted` are the terminals that fit."""

    def __init__(self, index: int, accepted: frozenset[str]) -> None:
        super().__init__(index)
        self.index = index
        self.accepted = accepted


@dataclass(frozen=True)
class Grammar:
    """The built grammar. `starts` are the start rules, one for each kind of line."""

    lark: Lark
    starts: tuple[str, ...]

    def lex(self, text: str) -> Iterable[Token]:
        """Tokens of a whole script, line ends and commas included. Never fails."""
        from lark.lexer import LexerThread

        return LexerThread.from_text(self._lexer, text).lex(None)

    @cached_property
    def _lexer(self) -> Lexer:
        """Built once: `Lark.lex` builds it anew at every call, which takes longer than most texts."""
        from lark.lexer import BasicLexer

        return BasicLexer(self.lark.lexer_conf)

    @cached_property
    def terminals_of(self) -> dict[str, frozenset[str]]:
        """For each start rule the terminals that a line of its kind can use."""
        uses: dict[str, set[str]] = {}
        for rule in self.lark.rules:
            uses.setdefault(str(rule.origin.name), set()).update(
                str(symbol.name) for symbol in rule.expansion
            )
        found: dict[str, frozenset[str]] = {}
        for start in self.starts:
            seen, waiting = {start}, [start]
            while waiting:
                fresh = uses.get(waiting.pop(), set()) - seen
                seen |= fresh
                waiting.extend(fresh)
            found[start] = frozenset(seen - uses.keys())
        return found

    @cached_property
    def spellings(self) -> dict[str, tuple[str, ...]]:
        """For each terminal that is a word (or a few words) of the language, how it is spelt."""
        found: dict[str, tuple[str, ...]] = {}
        for terminal in self.lark.terminals:
            if terminal.name in LITERALS or terminal.name.startswith("_"):
                continue
            # A pattern made of spellings, gaps and a closing look-ahead: the letters are the words.
            plain = re.sub(r"\(\?![^)]*\)|\\[a-z]", " ", terminal.pattern.value)
            plain = re.sub(r"\[[^\]]*\]\+", " ", plain)
            words = re.findall(r"[a-z]+(?:\\?-[a-z]+)*", plain)
            if words:
                found[terminal.name] = tuple(word.replace("\\", "") for word in words)
        return found

    @cached_property
    def phrases(self) -> dict[str, tuple[str, ...]]:
        """For each terminal that is a word or a row of words every way to write it: 'into the pocket at'."""
        from lark.lexer import PatternRE

        from .spellings import written

        return {
            terminal.name: written(terminal.pattern.value)
            if isinstance(terminal.pattern, PatternRE)
            else (terminal.pattern.value,)
            for terminal in self.lark.terminals
            if terminal.name in self.spellings
        }

    def words_of(self, start: str) -> tuple[str, ...]:
        """The reserved words of one kind of line, sorted."""
        used = self.terminals_of[start]
        return tuple(sorted({w for name, ws in self.spellings.items() if name in used for w in ws}))

    def reserves(self, word: str) -> bool:
        """Whether a word of the lines of a step cannot be a name."""
        first = next(iter(self.lex(word)), None)
        return (
            first is not None
            and first.type not in LITERALS
            and first.type in self.terminals_of["move_line"]
            and str(first) == word
        )

    def accepts(self, start: str, tokens: Iterable[Token]) -> frozenset[str] | None:
        """Terminals that may follow the first words of a line; None where these cannot be read."""
        from lark import UnexpectedInput

        state = self.lark.parse_interactive(start=start)
        try:
            for token in tokens:
                state.feed_token(token)
        except UnexpectedInput:
            return None
        return frozenset(state.accepts())

    def parse(self, start: str, tokens: list[Token]) -> Tree[Token]:
        """The tree of one line; raises UnexpectedWord where it breaks the grammar."""
        from lark import Token, UnexpectedInput

        line = [*tokens, Token("$END", "", tokens[-1].end_pos, end_pos=tokens[-1].end_pos)]
        state = self.lark.parse_interactive(start=start)
        tree = None
        for index, token in enumerate(line):
            try:
                tree = state.feed_token(token)
            except UnexpectedInput:
                # What could have stood here is asked of a fresh parser: this one has moved on.
                again = self.lark.parse_interactive(start=start)
                for earlier in line[:index]:
                    again.feed_token(earlier)
                raise UnexpectedWord(index, frozenset(again.accepts())) from None
        assert tree is not None
        return tree


@lru_cache(maxsize=1)
def load_grammar() -> Grammar:
    """The grammar that ships with the package, read or built at the first call."""
    text = _grammar_text()
    starts = tuple(re.findall(r"^(\w+_line|extra_tokens)\s*:", text, re.MULTILINE))
    built = tables(text, starts)
    return Grammar(built, tuple(s for s in starts if s.endswith("_line")))


def _grammar_text() -> str:
    """From the installed package, or from the folder beside it in a checkout."""
    name = "foldscript.lark"
    package = Path(__file__).parents[1]
    for folder in (package / "grammar", package.parent / "grammar"):
        with suppress(OSError):
            return (folder / name).read_text("utf-8")
    from importlib import resources  # the package is in an archive

    return (resources.files("foldscript.grammar") / name).read_text("utf-8")
