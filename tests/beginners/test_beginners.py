"""What beginners write: each line is refused, and whoever does what the hints say comes further.

`mistakes.toml` holds the scripts, written as a teacher would who has not read the language's page: with the
words of books and of the table.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Severity, Source
from foldscript.syntax.parser import parse

from ..following import circles

MISTAKES = {
    row["name"]: row["script"]
    for row in tomllib.loads(Path(__file__).with_name("mistakes.toml").read_text("utf-8"))[
        "mistake"
    ]
}
#: Hints followed one after the other, at most.
_MOST = 8


def told(text: str) -> list[Diagnostic]:
    """What is wrong in a script; nothing when it folds."""
    try:
        fold(parse(Source("test.foldscript", text), verbs()))
    except FoldscriptError as error:
        return [d for d in error.diagnostics if d.severity is Severity.ERROR]
    return []


def followed(text: str) -> tuple[str, list[Diagnostic]]:
    """A script after the first change that its messages ask for, as often as they ask for one."""
    seen = {text}
    for _ in range(_MOST):
        found = told(text)
        edit = next((h.edit for d in found for h in d.hints if h.edit is not None), None)
        if edit is None:
            return text, found
        text = edit.applied(text)
        assert text not in seen, "a circle"
        seen.add(text)
    return text, told(text)


def test_there_are_enough() -> None:
    assert len(MISTAKES) >= 80


@pytest.mark.parametrize("script", MISTAKES.values(), ids=MISTAKES)
def test_a_hint_leads_on(script: str) -> None:
    found = told(script)
    assert found, "this is understood"
    assert all(diagnostic.hints for diagnostic in found)
    assert [hint for diagnostic in found for hint in circles(script, diagnostic)] == []
    followed(script)


def test_most_fold_when_the_first_hints_are_followed() -> None:
    """What is left asks for a point, a line or a name that nobody can guess."""
    left = {name for name, script in MISTAKES.items() if followed(script)[1]}
    assert len(left) <= len(MISTAKES) / 5, sorted(left)
