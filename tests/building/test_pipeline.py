"""The driver: stages in order, all or nothing, and what happens when a format fails."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from foldscript.building import handout
from foldscript.output.drawn import Drawn
from foldscript.output.formats import format_names, load_format
from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Severity

from ..command import script


class Fails:
    """A format that gives one file and then fails."""

    SUMMARY = "fails"

    def __init__(self, error: Exception) -> None:
        self.error = error

    def files(self, drawn: Drawn) -> Iterator[tuple[str, bytes]]:
        yield "card.half", b"half"
        raise self.error


def with_failing(monkeypatch: pytest.MonkeyPatch, error: Exception) -> handout.BuildOptions:
    """Options for SVG and for a format that fails."""
    monkeypatch.setattr(
        handout, "load_format", lambda name: Fails(error) if name == "half" else load_format(name)
    )
    return handout.build_options(["svg", "half"], "A4", "colour")


def test_each_stage_is_told_in_order(tmp_path: Path) -> None:
    told: list[str] = []
    options = handout.build_options(["svg"], "A4", "colour")
    handout.build(script(tmp_path), tmp_path / "out", options, told.append)
    assert told == ["reading", "folding", "drawing", "making svg of"]


def test_a_format_that_cannot_be_made_is_left_out_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fault = Diagnostic("missing-cairo", "there is no cairo")
    options = with_failing(monkeypatch, FoldscriptError(fault))
    built = handout.build(script(tmp_path), tmp_path / "out", options)
    assert built.notes == (fault,)
    assert {path.suffix for path in built.files} == {".svg"}
    assert not (tmp_path / "out" / "card" / "card.half").exists()


def test_a_fault_of_our_own_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    options = with_failing(monkeypatch, ZeroDivisionError())
    with pytest.raises(ZeroDivisionError):
        handout.build(script(tmp_path), tmp_path / "out", options)
    assert not (tmp_path / "out").exists()


def test_letters_that_the_font_lacks_are_told_and_the_pages_made(tmp_path: Path) -> None:
    path = script(tmp_path, text='model "鶴"\nsheet square\nstep\n  turn over\n')
    options = handout.build_options(["pdf"], "A4", "colour")
    built = handout.build(path, tmp_path / "out", options)
    assert [note.severity for note in built.notes] == [Severity.WARNING]
    assert [file.name for file in built.files] == ["card.pdf"]


def test_every_format_says_what_it_makes() -> None:
    assert {"svg", "pdf", "png", "states"} <= set(format_names())
    for name in format_names():
        assert load_format(name).SUMMARY
