"""A model that is wrong: drawn as far as it folds where that is wanted, and the page says what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building import handout
from foldscript.building.script import Script
from foldscript.drawing.style.styles import load_style
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError, Severity

from ..command import CARD, run, script

REFUSED = CARD.replace("left edge onto right edge", "left edge onto left edge")
UNREAD = CARD.replace("turn over", "turn ovr")


def built(folder: Path, text: str, *, unfinished: bool) -> handout.Built:
    path = script(folder, text=text)
    wanted = handout.build_options(
        ["svg", "words", "slides"], "A4", "colour", unfinished=unfinished
    )
    return handout.build(path, folder / "out", wanted)


@pytest.mark.parametrize(("text", "step"), [(REFUSED, 3), (UNREAD, 2)])
def test_the_steps_before_are_drawn_and_the_mistake_is_told(
    tmp_path: Path, text: str, step: int
) -> None:
    made = built(tmp_path, text, unfinished=True)
    (wrong,) = (note for note in made.notes if note.severity is Severity.ERROR)
    with pytest.raises(FoldscriptError) as usual:
        built(tmp_path, text, unfinished=False)
    assert wrong == usual.value.diagnostics[0]
    files = {path.name: path.read_text("utf-8") for path in made.files}
    assert "card-01.svg" in files
    assert "card-03.svg" not in files
    for name in ("card-words.txt", "card-slides.html"):
        assert f"Step {step} is refused: " in " ".join(files[name].split())
        assert "(in step" not in files[name]


def test_the_page_says_it_under_the_last_figure_and_shows_no_result(tmp_path: Path) -> None:
    whole = Script(script(tmp_path, text=REFUSED))
    with pytest.raises(FoldscriptError) as wrong:
        _ = whole.model
    short = whole.unfinished(wrong.value.diagnostics)
    assert short is not None
    assert [step.number for step in short.model.steps] == [1, 2]
    page = short.drawn(load_style(), page_size("A4")).lay_out()
    assert any("Step 3 is refused: " in text for text in page.texts())
    assert not any(text.startswith("Finished") for text in page.texts())


def test_a_model_that_folds_is_drawn_as_ever(tmp_path: Path) -> None:
    usual = built(tmp_path / "usual", CARD, unfinished=False)
    asked = built(tmp_path / "asked", CARD, unfinished=True)
    assert asked.notes == ()
    texts = [[p.read_bytes() for p in one.files] for one in (usual, asked)]
    assert texts[0] == texts[1]


@pytest.mark.parametrize("text", [CARD.replace("square 15 cm", "circle 15 cm"), "nonsense\n"])
def test_what_is_wrong_in_no_step_is_only_told(tmp_path: Path, text: str) -> None:
    with pytest.raises(FoldscriptError):
        built(tmp_path, text, unfinished=True)


def test_a_first_step_that_is_wrong_leaves_the_sheet(tmp_path: Path) -> None:
    made = built(tmp_path, CARD.replace("bottom edge onto top", "A to Q onto"), unfinished=True)
    assert "card-finished.svg" in {path.name for path in made.files}


def test_the_command_ends_as_for_a_mistake_and_says_the_option_once(tmp_path: Path) -> None:
    for name in ("card", "second"):
        script(tmp_path, name, REFUSED)
    usual = run("build", "card.foldscript", "second.foldscript", cwd=tmp_path)
    assert (usual.code, usual.err.count("--unfinished")) == (1, 1)
    asked = run("build", "card.foldscript", "--unfinished", cwd=tmp_path)
    assert (asked.code, asked.err.count("--unfinished")) == (1, 0)
    assert asked.out.startswith("card.foldscript: ")
    for form in ("json", "github"):
        quiet = run("build", "card.foldscript", "--message-format", form, cwd=tmp_path)
        assert "--unfinished" not in quiet.err + quiet.out


def test_unfinished_is_no_advice_where_a_side_file_is_wrong(tmp_path: Path) -> None:
    script(tmp_path)
    (tmp_path / "card.es.toml").write_text('title = "Tarjeta\n', encoding="utf-8")
    wrong = run("build", "card.foldscript", "--language", "es", "--format", "svg", cwd=tmp_path)
    assert wrong.code == 1
    assert "card.es.toml:1:" in wrong.err
    assert "--unfinished" not in wrong.err
