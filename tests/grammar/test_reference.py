"""Every example in the language reference folds, and every state it makes is sound paper."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from foldscript.folding.fold import fold
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
