"""Models that start from a base, or from what another script has left."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.folding.start import LONGEST_CHAIN, base_names
from foldscript.folding.steps import Model
from foldscript.output.states import states_json
from foldscript.source.diagnostics import Diagnostic, FoldscriptError
from foldscript.source.finding import bases_folder

from ..conftest import assert_sound
from ..scripts import covered, folded, folds, lies, refused

TURN = "step\n  turn over\n"


def write(folder: Path, **scripts: str) -> None:
    for name, text in scripts.items():
        (folder / f"{name}.foldscript").write_text(text, "utf-8")


def wrong(path: Path) -> Diagnostic:
    with pytest.raises(FoldscriptError) as error:
        _ = Script(path).model
    (found,) = error.value.diagnostics
    return found


def model_of(folder: Path, name: str) -> Model:
    model = Script(folder / f"{name}.foldscript").model
    assert_sound(model)
    return model


# Silhouettes: shared/checks/values.md, section 5 (derived).
AREAS = {
    "preliminary": 1 / 4,
    "waterbomb": 1 / 4,
    "kite": 2 - 2**0.5,
    "fish": 2**0.5 - 1,
    "bird": (2**0.5 - 1) / 2,
    "blintz": 1 / 2,
    "cupboard": 1 / 2,
    "windmill": 3 / 8,
}


@pytest.mark.parametrize("name", base_names())
def test_every_base(name: str) -> None:
    """It folds soundly from the flat sheet, says whence it comes, and is started from by its name."""
    path = bases_folder() / f"{name.replace(' ', '-')}-base.foldscript"
    base = Script(path).model
    assert_sound(base)
    assert base.credit == "traditional"
    assert base.title.lower() == f"{name} base"
    if name in AREAS:
        assert covered(base) == pytest.approx(AREAS[name])
    model = folded("turn over", sheet=f"start from {name} base\n")
    assert model.start.facets == base.finished.facets
    assert model.start.order == base.finished.order


@pytest.mark.parametrize(
    "words", ["preliminary base", "Preliminary Base", "preliminary", "square base"]
)
def test_ways_to_say_a_base(words: str) -> None:
    assert covered(folded("turn over", sheet=f"start from {words}\n")) == pytest.approx(0.25)


def test_the_first_figure_is_the_base_and_state_0_the_sheet() -> None:
    model = folded("turn over", sheet="start from kite base\n")
    assert len(model.start.facets) == 3
    assert model.steps[0].panels[0].before_turns or model.steps[0].before is model.start
    document = json.loads(states_json(model))
    assert [len(s["plates"]) for s in document["states"]] == [1, 3]
    assert model.notes == ("Start from: Kite base.",)


def test_names_of_the_base_are_known_and_may_be_given_anew() -> None:
    """Blintz knows O, the centre, and 'rising', a diagonal; both may mean something else here."""
    sheet = "start from blintz base\n"
    assert covered(folded("valley right corner to O", sheet=sheet)) == pytest.approx(7 / 16)
    model = folded(
        "valley right corner to left corner as rising; mark O at the bottom corner",
        "unfold rising",
        "valley top corner to O",
        sheet=sheet,
    )
    assert covered(model) == pytest.approx(0.25)


def test_only_inherited_names_may_be_given_anew() -> None:
    found = refused("mark A at the centre", sheet="start from blintz base\n")
    assert found.code == "name-taken"
    found = refused(
        "mark O at the centre", "mark O at midpoint of A B", sheet="start from blintz base\n"
    )
    assert found.code == "name-taken"


def test_the_folds_of_the_base_can_be_opened() -> None:
    """Last first: a kite's left side, then its right one; then nothing is left."""
    kite = "start from kite base\nsheet square 100 mm\n"
    one = folded("unfold", sheet=kite)
    assert covered(one) > covered(folded("turn over", sheet=kite))
    assert covered(folded("unfold; unfold", sheet=kite)) == pytest.approx(1)
    assert refused("unfold; unfold; unfold", sheet=kite).code == "nothing-folded"
    assert lies(folded("unfold; refold", sheet=kite), "D") == lies(
        folded("turn over; turn over", sheet=kite), "D"
    )
    turned = folded("rotate half turn; unfold; unfold", sheet=kite)
    assert lies(turned, "A")[1] > lies(turned, "C")[1]


def test_steps_of_the_base_are_not_this_scripts() -> None:
    assert refused("repeat step 1", sheet="start from kite base\n").code == "repeat-inside-itself"
    assert (
        refused("turn over", "unfold to step 0", sheet="start from kite base\n").code
        == "nothing-folded"
    )


def test_another_size() -> None:
    model = folded("turn over", sheet="start from kite base\nsheet square 20 cm\n")
    assert model.sheet.unit_mm == pytest.approx(200)
    assert model.sheet.shape == "square 20 cm"
    assert covered(model) == pytest.approx(2 - 2**0.5)


def test_other_corner_names() -> None:
    model = folded(
        "mark Z at midpoint of P Q",
        sheet="start from kite base\nsheet square 20 cm, corners named P Q R S\n",
    )
    assert model.sheet.corner_names == ("P", "Q", "R", "S")
    sheet = "start from kite base\nsheet square 20 cm, corners named P Q R S\n"
    assert refused("valley A to C", sheet=sheet).code == "unknown-name"


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ("sheet A4", "other-shape", "sheet A4"),
        (
            "sheet square 10 cm, coloured side up",
            "lies-already",
            "sheet square 10 cm, coloured side up",
        ),
        ("sheet square 10 cm, corner B at the bottom", "lies-already", "corner B"),
        ("start from kiet base", "unknown-base", "kiet base"),
        ('start from "hat.foldscript"', "no-such-file", '"hat.foldscript"'),
        ('start from "../../x/hat.foldscript"', "no-such-file", '"../../x/hat.foldscript"'),
    ],
)
def test_wrong_starts(line: str, code: str, words: str) -> None:
    start = "" if line.startswith("start") else "start from kite base\n"
    found = refused("turn over", sheet=f"{start}{line}\n")
    assert found.code == code
    assert words in found.words


def test_another_script(tmp_path: Path) -> None:
    (tmp_path / "more").mkdir()
    write(
        tmp_path,
        hat='model "Hat"\ncolours red and white\nstep\n  valley A to C\n  mark M at midpoint of B D\n',
    )
    write(tmp_path / "more", boat='start from "../hat.foldscript"\nstep\n  valley A to M\n')
    model = model_of(tmp_path / "more", "boat")
    assert lies(model, "A") == (75, 75)
    assert model.front_colour == "red"
    assert model.notes == ("Start from: Hat.",)
    assert model.name == "boat"


def test_a_chain_of_scripts(tmp_path: Path) -> None:
    write(tmp_path, s0="step\n  valley A to C\n")
    for k in range(1, LONGEST_CHAIN + 3):
        write(tmp_path, **{f"s{k}": f'start from "s{k - 1}.foldscript"\n{TURN}'})
    model_of(tmp_path, f"s{LONGEST_CHAIN}")
    found = wrong(tmp_path / f"s{LONGEST_CHAIN + 2}.foldscript")
    assert found.code == "start-too-deep"


def test_a_circle_is_told_with_its_chain(tmp_path: Path) -> None:
    write(
        tmp_path,
        a=f'start from "b.foldscript"\n{TURN}',
        b=f'start from "c.foldscript"\n{TURN}',
        c=f'start from "b.foldscript"\n{TURN}',
        own=f'start from "own.foldscript"\n{TURN}',
    )
    found = wrong(tmp_path / "a.foldscript")
    assert found.code == "start-circle"
    assert "b.foldscript -> c.foldscript -> b.foldscript" in found.message
    assert found.source is not None
    assert found.source.name.endswith("c.foldscript")
    assert "own.foldscript -> own.foldscript" in wrong(tmp_path / "own.foldscript").message


def test_mistakes_of_the_other_script(tmp_path: Path) -> None:
    write(tmp_path, bad="step\n  valley A to Z\n", good=f'start from "bad.foldscript"\n{TURN}')
    found = wrong(tmp_path / "good.foldscript")
    assert found.code == "unknown-name"
    assert found.source is not None
    assert found.source.name.endswith("bad.foldscript")
    assert found.hints[-1].text == "good.foldscript starts from bad.foldscript"


def test_what_is_no_script(tmp_path: Path) -> None:
    (tmp_path / "bytes.foldscript").write_bytes(b"\xff\xfe\x00model")
    (tmp_path / "folder.foldscript").mkdir()
    write(
        tmp_path,
        one=f'start from "bytes.foldscript"\n{TURN}',
        two=f'start from "folder.foldscript"\n{TURN}',
    )
    assert wrong(tmp_path / "one.foldscript").code == "not-utf-8"
    assert wrong(tmp_path / "two.foldscript").code == "no-such-file"


def test_a_name_that_no_system_takes(tmp_path: Path) -> None:
    write(tmp_path, one=f'start from "{"x" * 300}.foldscript"\n{TURN}')
    found = wrong(tmp_path / "one.foldscript")
    assert found.code == "no-such-file"
    assert "file name too long" in found.message
    assert len(found.message) < 150


def test_a_folder_without_rights(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, one=f'start from "closed/hat.foldscript"\n{TURN}')

    def closed(self: Path) -> bool:
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "is_file", closed)
    assert "permission denied" in wrong(tmp_path / "one.foldscript").message


def test_a_model_that_is_not_flat(tmp_path: Path) -> None:
    write(
        tmp_path,
        ball="start from waterbomb base\nstep\n  inflate at O\n",
        on=f'start from "ball.foldscript"\n{TURN}',
    )
    found = wrong(tmp_path / "on.foldscript")
    assert found.code == "not-flat-any-more"
    assert "in its step 1" in found.message


@pytest.mark.parametrize("words", ["coloured side down", "white side up"])
def test_the_side_that_is_coloured_is_left_out(words: str) -> None:
    text = f"start from windmill base\nsheet square 15 cm, {words}\nstep\n  turn over\n"
    with pytest.raises(FoldscriptError) as error:
        folds(text)
    (found,) = error.value.diagnostics
    edit = found.hints[0].edit
    assert found.hints[0].text == f"leave out '{words}'"
    assert edit is not None
    mended = edit.applied(text)
    assert mended.splitlines()[1] == "sheet square 15 cm"
    assert folds(mended).steps
