"""Every example in the language reference folds, and every state it makes is sound paper."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from foldscript.folding.fold import _folded as fold_other
from foldscript.folding.fold import fold
from foldscript.folding.start import base_names, start_of
from foldscript.moves.registry import verbs
from foldscript.output.states import states_json
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse
from tests.checker.validator import faults

REFERENCE = (Path(__file__).parents[2] / "grammar" / "README.md").read_text("utf-8")
EXAMPLES = re.findall(r"^```foldscript\n(.*?)^```$", REFERENCE, re.MULTILINE | re.DOTALL)


def titled(example: str) -> str:
    found = re.search(r'^model "(.*)"', example, re.MULTILINE)
    return found[1] if found else "untitled"


def test_the_reference_has_examples() -> None:
    assert len(EXAMPLES) > 20


@pytest.mark.parametrize("example", EXAMPLES, ids=titled)
def test_examples_fold_soundly(example: str) -> None:
    model = fold(parse(Source("example.foldscript", example), verbs()))
    document = json.loads(states_json(model))
    assert len(document["states"]) == len(model.steps) + 1
    assert faults(document) == []


def test_every_move_has_an_example() -> None:
    """The pages that show each move before and after are drawn from these."""
    said = {
        statement.verb
        for example in EXAMPLES
        for step in parse(Source("example.foldscript", example), verbs()).steps
        for statement in step.body
    }
    assert set(verbs()) - said - {"do"} == set()  # a group's name stands for its verb


#: Rows of the table of what bases name: base, points, creases.
BASES = re.findall(r"^\| (\w+) base \|(.*?)\|(.*?)\|$", REFERENCE, re.MULTILINE)


def names_in(cell: str) -> set[str]:
    return set(re.findall(r"`([^`]+)`", cell))


def test_every_base_has_its_row() -> None:
    assert sorted(base for base, *_ in BASES) == sorted(base_names())


@pytest.mark.parametrize(("base", "points", "creases"), BASES, ids=[row[0] for row in BASES])
def test_the_names_in_bases(base: str, points: str, creases: str) -> None:
    """All that a base names is in its row; of images on other faces those with the most strokes at least."""
    script = Source("start.foldscript", f"start from {base} base\nstep\n  turn over\n")
    names = start_of(parse(script, verbs()), None, (), fold_other).names
    told = (names_in(points), names_in(creases))
    given = (set(names.points) - set("ABCD"), set(names.creases))
    for said, there in zip(told, given, strict=True):
        assert said - set("ABCD") <= there
        strokes = max((name.count("'") for name in there), default=0)
        assert {name for name in there if name.count("'") in (0, strokes)} <= said
