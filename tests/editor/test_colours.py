"""Colours of scripts: one source, a TextMate grammar and a Pygments lexer that colour alike."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from pygments.lexers import get_lexer_by_name
from pygments.token import Error, string_to_tokentype

from foldscript.building.colours import KINDS, coloured
from foldscript.editor import textmate
from foldscript.moves.registry import verbs
from foldscript.syntax.grammar import load_grammar

from ..grammar.test_reference import EXAMPLES
from .speaking import SAMPLES

ROOT = Path(__file__).parents[2]
SCRIPTS = sorted(SAMPLES.rglob("*.foldscript"))
_OF_SCOPE = {f"{scope}.foldscript": kind for kind, (scope, _) in KINDS.items() if scope}
_OF_TOKEN = {string_to_tokentype(token): kind for kind, (_, token) in KINDS.items()}
Coloured = list[tuple[int, int, str]]


def by_pygments(text: str) -> Coloured:
    """Start, end and kind of every coloured piece; plain text left out."""
    lexer = get_lexer_by_name("foldscript", stripnl=False, ensurenl=False)
    found = []
    for start, token, piece in lexer.get_tokens_unprocessed(text):
        kind = _OF_TOKEN[token]
        if kind != "plain" and piece:
            found.append((start, start + len(piece), kind))
    return found


def by_textmate(text: str, grammar: dict[str, Any]) -> Coloured:
    """The same by the grammar file, as a TextMate engine goes through it: a line at a time, the leftmost
    match of the rules that are on, the first of these where several begin at one place; a begin/end rule is
    on until its end matches.
    """
    found: Coloured = []
    at = 0
    for line in text.split("\n"):
        rules = _included(grammar, grammar["patterns"])
        place = 0
        while place < len(line):
            hits = [
                (match.start(), k)
                for k, rule in enumerate(rules)
                if (match := _pattern(rule).search(line, place)) and match.end() > place
            ]
            if not hits:
                break
            rule = rules[min(hits)[1]]
            match = _pattern(rule).search(line, place)
            assert match
            if "begin" in rule:
                scope = rule["beginCaptures"]["2"]["name"]
                found.append((at + match.start(2), at + match.end(2), _OF_SCOPE[scope]))
                rules = _included(grammar, rule["patterns"])
            elif "name" in rule:
                found.append((at + match.start(), at + match.end(), _OF_SCOPE[rule["name"]]))
            place = match.end()
        at += len(line) + 1
    return found


def _included(grammar: dict[str, Any], patterns: list[dict[str, Any]]) -> list[dict[str, Any]]:
    rules: list[dict[str, Any]] = []
    for rule in patterns:
        if "include" in rule:
            rules += grammar["repository"][rule["include"][1:]]["patterns"]
        else:
            rules.append(rule)
    return rules


def _pattern(rule: dict[str, Any]) -> re.Pattern[str]:
    return re.compile(rule["begin"] if "begin" in rule else rule["match"])


@pytest.fixture(scope="module")
def shipped() -> dict[str, Any]:
    return json.loads(textmate.FILE.read_text(encoding="utf-8"))


def test_the_grammar_file_is_made_from_the_rules() -> None:
    """Made anew by: python -m foldscript.editor.textmate."""
    assert textmate.FILE.read_text(encoding="utf-8") == textmate.text()


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_both_colour_the_samples_alike(path: Path, shipped: dict[str, Any]) -> None:
    text = path.read_text(encoding="utf-8")
    assert by_textmate(text, shipped) == by_pygments(text)


def test_both_colour_mistakes_alike(shipped: dict[str, Any]) -> None:
    text = (
        'step "open\n  valley A ( to 1,5 of B,\n    mountain "x" 🦢 k\' left-ear 7-gon\nsheet A4\n'
    )
    found = by_textmate(text, shipped)
    assert found == by_pygments(text)
    assert (5, 10, "wrong") in found
    assert {kind for _, _, kind in found} >= {"wrong", "verb", "opener", "name", "number"}


@pytest.mark.parametrize("example", EXAMPLES, ids=range(len(EXAMPLES)))
def test_the_references_examples_have_no_errors(example: str) -> None:
    lexer = get_lexer_by_name("foldscript")
    wrong = [piece for token, piece in lexer.get_tokens(example) if token in Error]
    assert wrong == []


def test_words_are_coloured_as_the_language_reads_them() -> None:
    """Every verb where a line begins, every reserved word in a move's line, and names as names."""
    for verb in verbs():
        assert (2, 2 + len(verb), "verb") in by_pygments(f"  {verb}\n")
    for word in load_grammar().words_of("move_line"):
        first = (*by_pygments(f"valley {word}\n"), None)[1]
        if word != "the" and load_grammar().reserves(word):
            assert first == (7, 7 + len(word), "word"), word
    coloured = by_pygments("valley square to level\n")  # words of the head are free in a step
    assert [kind for _, _, kind in coloured] == ["verb", "name", "word", "name"]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_lines_are_coloured_as_pygments_colours_them(path: Path) -> None:
    """The page of changes colours lines one by one, and without that library."""
    text = path.read_text(encoding="utf-8")
    found, at = [], 0
    for line in text.splitlines(keepends=True):
        for piece, kind in coloured(line.rstrip("\n")):
            if kind != "plain":
                found.append((at, at + len(piece), kind))
            at += len(piece)
        at += line.endswith("\n")
    assert found == by_pygments(text)
