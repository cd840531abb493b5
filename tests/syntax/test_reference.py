"""The language reference: every example parses, and its lists are the grammar's."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source
from foldscript.syntax.grammar import load_grammar
from foldscript.syntax.papers import REGULAR, US_NAMES
from foldscript.syntax.parser import parse

REFERENCE = (Path(__file__).parents[2] / "grammar" / "README.md").read_text("utf-8")
EXAMPLES = re.findall(r"^```foldscript\n(.*?)^```$", REFERENCE, re.MULTILINE | re.DOTALL)


def titled(example: str) -> str:
    found = re.search(r'^model "(.*)"', example, re.MULTILINE)
    return found[1] if found else "untitled"


@pytest.mark.parametrize("example", EXAMPLES, ids=titled)
def test_examples_parse(example: str) -> None:
    program = parse(Source("example.foldscript", example), verbs())
    assert program.head.title
    assert program.steps


def test_no_example_is_missed() -> None:
    side_files = REFERENCE.count("```toml\n")  # tests/languages/test_documented.py
    assert REFERENCE.count("```") == 2 * (len(EXAMPLES) + side_files) > 40


def test_reserved_words() -> None:
    grammar = load_grammar()
    section = REFERENCE.split("## Reserved words")[1].split("Other words")[0]
    listed = re.findall(r"`([^`]+)`", section)
    assert listed == [w for w in grammar.words_of("move_line") if grammar.reserves(w)]


def test_every_head_line_is_told() -> None:
    for start in load_grammar().starts:
        word = start.removesuffix("_line")
        if word not in ("move",):
            assert re.search(rf"`{word}\b", REFERENCE), word


def test_every_shape_is_told() -> None:
    for name in (*REGULAR, *US_NAMES):
        assert f"`{name}`" in REFERENCE or f"{name}, side" in REFERENCE, name


def test_every_move_has_its_section() -> None:
    told = set(re.findall(r"^### (.+)$", REFERENCE, re.MULTILINE))
    assert told <= set(verbs())
    basic = {"valley", "mountain", "crease", "pinch", "unfold", "pleat", "turn over", "rotate"}
    assert basic | {"mark"} <= told
