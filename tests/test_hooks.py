"""The pre-commit entries: they name commands that exist, and files that are scripts."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from .command import CARD, run, script

ROOT = Path(__file__).resolve().parent.parent


def hooks() -> dict[str, dict[str, str]]:
    """The entries by their ids; they are plain enough to be read without a YAML reader."""
    text = (ROOT / ".pre-commit-hooks.yaml").read_text("utf-8")
    found = {}
    for block in re.split(r"^- ", text, flags=re.MULTILINE)[1:]:
        rows = dict(re.findall(r"^ *(\w+): (.*)$", block, re.MULTILINE))
        found[rows["id"]] = rows
    return found


@pytest.mark.parametrize("name", hooks())
def test_a_hook_passes_what_folds_and_stops_what_does_not(tmp_path: Path, name: str) -> None:
    hook = hooks()[name]
    program, *command = hook["entry"].split()
    assert (program, hook["language"]) == ("foldscript", "python")
    files = [] if hook.get("pass_filenames") == "false" else ["card.foldscript"]
    script(tmp_path)
    assert run(*command, *files, cwd=tmp_path).code == 0
    script(tmp_path, text=CARD.replace("turn over", "turn ovr"))
    assert run(*command, *files, cwd=tmp_path).code == 1


def test_scripts_are_what_hooks_look_at() -> None:
    for hook in hooks().values():
        assert re.search(hook["files"], "models/cup.foldscript")
        assert not re.search(hook["files"], "models/cup.toml")


def test_the_guide_names_them() -> None:
    guide = (ROOT / "docs/how-to/ci.md").read_text("utf-8")
    assert all(f"id: {name}" in guide for name in hooks())
