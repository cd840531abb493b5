"""How a script is coloured where nothing reads it: patterns for each kind of word, a line at a time.

In: the grammar and the moves' verbs. Out: rules, in the order in which they are tried, from which the
TextMate grammar and the Pygments lexer are made; and lines coloured by them. A line's first word says what
kind of line it is, and so which words are words of the language on it; on a line that goes on from the one
before, all of them are.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from ..moves.registry import verbs
from ..syntax.grammar import Grammar, load_grammar
from ..syntax.heads import HEAD_LINES
from ..syntax.line_trees import BLOCK_LINES

#: Kinds of words, each with its scope in TextMate grammars and the name of its token in Pygments.
KINDS: dict[str, tuple[str, str]] = {
    "comment": ("comment.line.number-sign", "Comment.Single"),
    "text": ("string.quoted.double", "String.Double"),
    "wrong": ("invalid.illegal", "Error"),
    "number": ("constant.numeric", "Number"),
    "opener": ("keyword.control", "Keyword.Declaration"),
    "verb": ("support.function", "Name.Function"),
    "word": ("keyword.other", "Keyword"),
    "name": ("variable.other", "Name.Variable"),
    "comma": ("punctuation.separator", "Punctuation"),
    "plain": ("", "Text"),
}
#: What a word of the language may not be followed by: more of a word.
_STOP = r"(?![\w'’\-])"
_GAP = r"[ \t]+"


@dataclass(frozen=True, slots=True)
class Rule:
    """A pattern, and the kind of what it matches; `leads` to rules for the rest of the line.

    A pattern of a line's beginning has two groups: the blanks before, and what is coloured.
    """

    pattern: str
    kind: str
    leads: str = ""


@dataclass(frozen=True)
class Colours:
    """Rules by the state that they belong to: 'line' where a line begins, else what it led to."""

    states: dict[str, tuple[Rule, ...]]


@cache
def colours() -> Colours:
    """The rules of the language as it is."""
    grammar = load_grammar()
    first = {f"{start.removesuffix('_line').upper()}": start for start in sorted(HEAD_LINES)}
    openers = [f"{start.removesuffix('_line').upper()}" for start in BLOCK_LINES]
    heads = [word for kind in first for word in grammar.phrases[kind]]
    blocks = [word for kind in openers for word in grammar.phrases[kind]]
    in_head = _words(grammar, (*sorted(HEAD_LINES), *BLOCK_LINES))
    in_moves = _words(grammar, ("move_line",))
    always, rest = _always(grammar), _rest(grammar)
    return Colours(
        {
            "line": (
                Rule(_at_start(blocks), "opener", "head"),
                Rule(_at_start(heads), "opener", "head"),
                Rule(_at_start(verbs()), "verb", "move"),
                *always,
                Rule(_any([*in_head, *in_moves]), "word"),
                *rest,
            ),
            "head": (*always, Rule(_any(in_head), "word"), *rest),
            "move": (*always, Rule(_any(in_moves), "word"), *rest),
        }
    )


def coloured(line: str) -> list[tuple[str, str]]:
    """The pieces of a line, each with its kind."""
    found: list[tuple[str, str]] = []
    state, at = "line", 0
    while at < len(line):
        piece, kind, leads = _piece(line, at, state)
        state = leads or state
        blank = len(piece) - len(piece.lstrip()) if leads else 0
        found += [(piece[:blank], "plain")] if blank else []
        found.append((piece[blank:], kind))
        at += len(piece)
    return found


def _piece(line: str, at: int, state: str) -> tuple[str, str, str]:
    """What comes next, its kind, and the state that it leads to ('' for the same)."""
    for pattern, rule in _compiled()[state]:
        match = pattern.match(line, at)
        if match and match[0]:
            return match[0], rule.kind, rule.leads
    return line[at:], "plain", ""


@cache
def _compiled() -> dict[str, list[tuple[re.Pattern[str], Rule]]]:
    return {
        state: [(re.compile(rule.pattern), rule) for rule in rules]
        for state, rules in colours().states.items()
    }


def _always(grammar: Grammar) -> tuple[Rule, ...]:
    """What is alike on all lines, before words are looked at."""
    return (
        Rule(r"#.*", "comment"),
        Rule(_pattern(grammar, "STRING"), "text"),
        Rule(_pattern(grammar, "OPEN_STRING"), "wrong"),
        Rule(_pattern(grammar, "NGON"), "number"),
        Rule(_pattern(grammar, "FRACTION"), "number"),
        Rule(_pattern(grammar, "DECIMAL_COMMA"), "wrong"),
        Rule(_pattern(grammar, "NUMBER"), "number"),
        Rule(rf"the{_STOP}", "plain"),
    )


def _rest(grammar: Grammar) -> tuple[Rule, ...]:
    """What is left once words of the language have been looked for."""
    return (
        Rule(_pattern(grammar, "NAME"), "name"),
        Rule(",", "comma"),
        Rule(r"[^\S\n]+|\ufeff", "plain"),
        Rule(r"[^\n]", "wrong"),
    )


def _pattern(grammar: Grammar, terminal: str) -> str:
    """The grammar's pattern of a terminal, its line breaks and marks as escapes that every engine reads."""
    found = next(t.pattern.value for t in grammar.lark.terminals if t.name == terminal)
    return found.replace("\n", r"\n").replace("\\/", "/")


def _words(grammar: Grammar, starts: Iterable[str]) -> list[str]:
    """The words of the language on some kinds of lines, the longest first."""
    used = {name for start in starts for name in grammar.terminals_of[start]}
    words = {word for name in used for word in grammar.phrases.get(name, ())}
    return sorted(words, key=lambda word: (-len(word), word))


def _any(words: Iterable[str]) -> str:
    """A pattern for any of some words, the longest first; gaps may be as wide as one likes."""
    ordered = sorted(dict.fromkeys(words), key=lambda word: (-len(word), word))
    letters = [_escaped(word) for word in ordered if word[:1].isalpha()]
    signs = [_escaped(word) for word in ordered if not word[:1].isalpha()]
    found = rf"(?:{'|'.join(letters)}){_STOP}"
    return "|".join((found, *signs))


def _escaped(word: str) -> str:
    return re.escape(word).replace(r"\ ", _GAP).replace(r"\-", "-")


def _at_start(words: Iterable[str]) -> str:
    return rf"^([^\S\n]*)({_any(words)})"
