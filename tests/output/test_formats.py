"""Formats are found by lying in their folder; one that leaves a part out says so when it is loaded."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from foldscript import commands
from foldscript.output import formats


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder that is searched for formats and commands besides their own."""
    with monkeypatch.context() as patch:
        for package in (formats, commands):
            patch.setattr(package, "__path__", [*package.__path__, str(tmp_path)])
        formats.format_names.cache_clear()
        commands.command_names.cache_clear()
        yield tmp_path
    formats.format_names.cache_clear()
    commands.command_names.cache_clear()


def test_a_file_is_all_it_takes(folder: Path) -> None:
    text = "SUMMARY = 'a list'\ndef files(drawn):\n    yield 'list.txt', b''\n"
    (folder / "plain_list.py").write_text(text, "utf-8")
    assert "plain-list" in formats.format_names()
    assert formats.load_format("plain-list").SUMMARY == "a list"


@pytest.mark.parametrize(
    ("name", "text", "lacks"),
    [
        ("without_a_summary", "def files(drawn):\n    return ()\n", "SUMMARY"),
        ("without_files", "SUMMARY = 'nothing'\n", r"files\(drawn\)"),
    ],
)
def test_what_a_format_leaves_out_is_told(folder: Path, name: str, text: str, lacks: str) -> None:
    (folder / f"{name}.py").write_text(text, "utf-8")
    with pytest.raises(TypeError, match=f"it has no .*{lacks}"):
        formats.load_format(name.replace("_", "-"))


def test_a_command_without_a_command_is_told(folder: Path) -> None:
    (folder / "without_a_command.py").write_text("", "utf-8")
    with pytest.raises(TypeError, match="it has no COMMAND"):
        commands.load_command("without-a-command")
