"""The grammar file: where it is found, what its start rules use."""

from __future__ import annotations

import logging
import re
from pathlib import Path

import pytest

from foldscript.syntax import grammar as module
from foldscript.syntax.grammar import LITERALS, load_grammar


def test_found_in_the_package_first_then_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A wheel has it inside, a checkout beside; another checkout that is installed is not asked."""
    monkeypatch.setattr(module, "__file__", str(tmp_path / "foldscript" / "syntax" / "grammar.py"))
    inside, beside = tmp_path / "foldscript" / "grammar", tmp_path / "grammar"
    for folder, text in ((beside, "beside"), (inside, "inside")):
        folder.mkdir(parents=True)
        (folder / "foldscript.lark").write_text(text, "utf-8")
        assert module._grammar_text() == text


def test_only_the_ambiguities_we_know(caplog: pytest.LogCaptureFixture) -> None:
    """Each is settled by reading on: `left edge` is one thing, as are `3 1/2` and `step 5 to 6`.

    After `1/3 of A` comes the way's other end; after `2 cm` says `from` that a place is measured off.
    """
    from lark import Lark, logger

    starts = [*load_grammar().starts, "extra_tokens"]
    level = logger.level
    try:
        logger.setLevel(logging.DEBUG)
        logger.addHandler(caplog.handler)
        Lark(module._grammar_text(), parser="lalr", lexer="basic", start=starts, debug=True)
    finally:
        logger.removeHandler(caplog.handler)
        logger.setLevel(level)
    told = " ".join(record.getMessage() for record in caplog.records)
    found = set(re.findall(r"conflict for terminal (\w+): .*?<(.*?) *>", told))
    second_end = (
        "AND",
        "CENTRE",
        "CORNER",
        "COUNTED_LAYER",
        "FLANK",
        "FRACTION",
        "HEIGHT",
        "MIDPOINT",
        "NAME",
        "POINT",
        "WHERE",
    )
    assert found == {
        *((word, "_segment : _name") for word in second_end),
        ("FROM", "amount : number _unit"),
        ("CORNER", "bare : FLANK"),
        ("EDGE", "bare : FLANK"),
        ("FRACTION", "number : NUMBER"),
        ("TO", "steps : STEP NUMBER"),
    }


def test_start_rules() -> None:
    grammar = load_grammar()
    assert {"move_line", "sheet_line", "step_line"} <= set(grammar.starts)
    assert grammar.terminals_of["step_line"] == {"STEP", "STRING"}
    assert "SQUARE" in grammar.terminals_of["sheet_line"]
    assert "SQUARE" not in grammar.terminals_of["move_line"]


def test_every_word_is_spelt() -> None:
    grammar = load_grammar()
    for start in grammar.starts:
        for terminal in grammar.terminals_of[start] - LITERALS:
            assert grammar.spellings[terminal], terminal


@pytest.mark.parametrize("word", ["edge", "onto", "upper", "counter-clockwise", "mm", "fold"])
def test_reserved(word: str) -> None:
    assert load_grammar().reserves(word)


@pytest.mark.parametrize("word", ["edges", "square", "A", "topper", "to-fro", "step'", ""])
def test_not_reserved(word: str) -> None:
    assert not load_grammar().reserves(word)
