"""The figures of one script are drawn in several processes: the same files, the same faults."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from foldscript.building import handout
from foldscript.drawing import asked
from foldscript.source.diagnostics import FoldscriptError
from foldscript.terminal import dividing

from ..command import CARD, script
from .test_booklet_jobs import BENCH


@pytest.fixture(autouse=True)
def _always_worth_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asked, "_WORTH", 0.0)


def built(path: Path, free: int) -> dict[str, bytes]:
    out = path.with_name(f"out{free}")
    with dividing.lend(free):
        made = handout.build(path, out, handout.build_options(("svg", "pdf"), "A4", "colour"))
    assert not made.notes
    return {file.name: file.read_bytes() for file in made.files}


@pytest.mark.parametrize("text", [CARD, BENCH])
def test_several_processes_give_the_bytes_of_one(tmp_path: Path, text: str) -> None:
    path = script(tmp_path, "model", text)
    assert built(path, 0) == built(path, 1) == built(path, 2)


@pytest.mark.skipif(sys.platform != "linux", reason="processes are not copied here")
def test_copies_are_asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[int] = []
    begin = dividing.Begun.__init__

    def noted(self: dividing.Begun[object], works: list[object], *rest: object) -> None:
        begun.append(len(works))
        begin(self, works, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(dividing.Begun, "__init__", noted)
    assert built(script(tmp_path), 1)
    assert begun


def test_nothing_is_drawn_ahead_where_no_core_is_free(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object) -> None:
        raise AssertionError("drawn ahead")

    monkeypatch.setattr("foldscript.drawing.draw.figures_meanwhile", never)
    assert built(script(tmp_path), 0)


def test_the_same_fault_is_told(tmp_path: Path) -> None:
    text = CARD.replace("Fold in half again.", "Fold it in half. " * 110)
    path = script(tmp_path, "card", text)
    options = handout.build_options(("pdf",), "A6", "colour")
    told: list[list[tuple[str, str]]] = []
    for free in (0, 1):
        with dividing.lend(free), pytest.raises(FoldscriptError) as refused:
            handout.build(path, tmp_path / "out", options)
        told.append([(fault.code, fault.message) for fault in refused.value.diagnostics])
    assert told[0] == told[1]
    assert told[0][0][0] == "caption-too-long"
