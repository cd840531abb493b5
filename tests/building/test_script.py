"""One script on its way: every stage once, and nothing before it is asked for."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from foldscript.building.script import Script, ScriptFault
from foldscript.drawing import asked as drawing
from foldscript.drawing.style.styles import load_style
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError

from ..command import CARD, script


def test_every_stage_is_done_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also in another language; only the words are another one's then."""
    told: list[str] = []
    composed: list[object] = []
    compose = drawing.compose
    monkeypatch.setattr(
        drawing, "compose", lambda *given: composed.append(given) or compose(*given)
    )
    one = Script(script(tmp_path), told.append)
    assert told == []
    first = one.drawn(load_style(), page_size("A4"))
    assert told == ["reading", "folding", "drawing"]
    count = len(composed)
    other = one.drawn(load_style(), page_size("A4"), "es")
    assert told == ["reading", "folding", "drawing", "drawing"]
    assert len(composed) == count
    assert one.said()[0] is one.said()[0]
    assert [f.scene.items for f in other.figures] == [f.scene.items for f in first.figures]
    assert other.figures[1].caption != first.figures[1].caption


def test_folding_loads_nothing_that_draws(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from foldscript.building.script import Script\n"
        "Script(Path(sys.argv[1])).said()\n"
        "print([m for m in sys.modules if m.startswith(('foldscript.drawing', 'foldscript.pages'))])"
    )
    command = [sys.executable, "-c", code, str(script(tmp_path))]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_what_the_pages_bring_to_light_is_told_in_the_script(tmp_path: Path) -> None:
    path = script(tmp_path, text=CARD.replace("Fold in half again.", "Fold it in half. " * 110))
    drawn = Script(path).drawn(load_style("large"), page_size("A6"))
    with pytest.raises(ScriptFault) as caught:
        drawn.lay_out()
    (fault,) = caught.value.diagnostics
    assert fault.source is not None
    assert fault.span is not None
    assert fault.source.position(fault.span.start) == (9, 1)


def test_the_next_version_begins_where_the_text_changes(tmp_path: Path) -> None:
    path = script(tmp_path)
    one = Script(path).renewed()
    assert one.unchanged_steps() == 0
    before = one.model
    path.write_text(CARD.replace("left edge onto right", "right edge onto left"), "utf-8")
    two = one.renewed()
    assert two.unchanged_steps() == 2
    assert [step.number for step in two.beginning(3).model.steps] == [1, 2, 3]
    assert [a.after is b.after for a, b in zip(before.steps, two.model.steps, strict=True)] == [
        True,
        True,
        False,
    ]
    assert two.kept is one.kept


def test_what_is_wrong_is_told_with_its_place(tmp_path: Path) -> None:
    path = script(tmp_path, text=CARD.replace("left edge onto right", "left edge onto left"))
    with pytest.raises(FoldscriptError) as caught:
        Script(path).said("es")
    (fault,) = caught.value.diagnostics
    assert fault.source == Script(path).source
    assert "in step 3" in fault.message
