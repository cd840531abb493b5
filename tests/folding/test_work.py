"""How much a script may ask for: work is counted before it is done."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.folding.performing import perform
from foldscript.source.diagnostics import FoldscriptError
from foldscript.source.finding import bases_folder

MARKED = "".join(
    f"step\n  mark P{k} at {k}/40 of A B\n  crease through P{k} perpendicular to edge A B\n"
    for k in range(1, 40)
)


def wrong(path: Path, text: str) -> str:
    path.write_text(f"sheet square 15 cm\n{text}", "utf-8")
    with pytest.raises(FoldscriptError) as caught:
        _ = Script(path).model
    return caught.value.diagnostics[0].code


def test_creases_count_as_well_as_pieces(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(perform, "WORK_LIMIT", 10_000)
    assert wrong(tmp_path / "a.foldscript", MARKED) == "too-complex"
    monkeypatch.setattr(perform, "WORK_LIMIT", 30_000)
    (tmp_path / "b.foldscript").write_text(f"sheet square 15 cm\n{MARKED}", "utf-8")
    assert len(Script(tmp_path / "b.foldscript").model.steps) == 39


def test_models_of_use_stay_far_below_the_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    """The most complex base takes less than a hundredth."""
    monkeypatch.setattr(perform, "WORK_LIMIT", perform.WORK_LIMIT // 100)
    assert Script(bases_folder() / "frog-base.foldscript").model.steps
