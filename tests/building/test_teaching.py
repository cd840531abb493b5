"""`foldscript plan` and `foldscript practice` as a person runs them."""

from __future__ import annotations

import contextlib
import io
import json
import re
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from click.testing import CliRunner

from foldscript.cli import command

from ..command import CARD, Run, script
from ..command import run as run_installed

SAMPLES = Path(__file__).parents[2] / "samples"
LONG = CARD.replace("square 15 cm", "strip 50 cm by 10 cm")


def run(*args: str, cwd: Path) -> Run:
    """The command in this process, in a folder of the test's own."""
    with contextlib.chdir(cwd):
        done = CliRunner().invoke(command, args, prog_name="foldscript")
    assert not isinstance(done.exception, Exception), done.exception
    return Run(done.exit_code, done.stdout, done.stderr)


def pdf_text(path: Path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    done = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    )
    assert done.stderr == ""
    return done.stdout


# --- plan ------------------------------------------------------------------------------------------


def test_a_plan_is_a_page(tmp_path: Path) -> None:
    script(tmp_path)
    done = run("plan", "card.foldscript", "--people", "12", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    path = tmp_path / "out" / "card" / "card-plan.pdf"
    assert f"class plan: {path.relative_to(tmp_path)}" in done.out
    text = pdf_text(path)
    assert "1 from each A4" in text
    assert "People" in text
    assert "about 2: as a rule of thumb" in text  # common practice: one helper to 6 to 8 beginners


def test_the_same_plan_is_the_same_bytes(tmp_path: Path) -> None:
    script(tmp_path)
    for out in ("a", "b"):
        assert run("plan", "card.foldscript", "--out", out, cwd=tmp_path).code == 0
    assert (tmp_path / "a/card/card-plan.pdf").read_bytes() == (
        tmp_path / "b/card/card-plan.pdf"
    ).read_bytes()


def test_json_and_text_go_to_standard_output(tmp_path: Path) -> None:
    script(tmp_path)
    done = run("plan", "card.foldscript", "--format", "json", "--from", "Letter", cwd=tmp_path)
    data = json.loads(done.out)
    assert data["people"] == 10
    assert data["paper"][0]["cutting"]["page"] == {"width": 215.9, "height": 279.4}
    done = run("plan", "card.foldscript", "--format", "text", cwd=tmp_path)
    assert done.out.startswith("Class plan: Card\n")
    assert not (tmp_path / "out").exists()


def test_a_booklet_is_planned_in_its_order_under_its_title(tmp_path: Path) -> None:
    for name in ("one", "two"):
        script(tmp_path, name, CARD.replace("Card", name))
    (tmp_path / "club.toml").write_text(
        'title = "Club"\nmodels = ["two.foldscript", "one.foldscript"]\n', "utf-8"
    )
    data = json.loads(run("plan", "club.toml", "--format", "json", cwd=tmp_path).out)
    assert data["title"] == "Club"
    assert [m["title"] for m in data["models"]] == ["two", "one"]
    assert data["paper"][0]["sheets"] == 24


def test_a_folder_may_hold_two_models_of_one_name(tmp_path: Path) -> None:
    script(tmp_path / "shelf" / "a")
    script(tmp_path / "shelf" / "b")
    data = json.loads(run("plan", "shelf", "--format", "json", cwd=tmp_path).out)
    assert data["title"] == "Shelf"
    assert len(data["models"]) == 2


def test_a_sheet_larger_than_the_paper_is_told_at_its_line(tmp_path: Path) -> None:
    script(tmp_path, "long", LONG)
    done = run("plan", "long.foldscript", "--from", "A4", cwd=tmp_path)
    assert done.code == 1
    assert re.search(
        r"long\.foldscript:3:1: error: .* is larger than A4 \(210 × 297 mm\)", done.err
    )
    assert "strip 50 cm by 10 cm" in done.err
    assert not (tmp_path / "out").exists()


def test_without_a_paper_named_it_is_only_good_to_know(tmp_path: Path) -> None:
    script(tmp_path, "long", LONG)
    done = run("plan", "long.foldscript", "--format", "text", cwd=tmp_path)
    assert done.code == 0
    assert "warning" in done.err
    assert "ready cut" in done.out


def test_the_hint_names_a_page_that_is_large_enough(tmp_path: Path) -> None:
    script(tmp_path, "long", CARD.replace("square 15 cm", "square 25 cm"))
    done = run("plan", "long.foldscript", "--from", "Letter", cwd=tmp_path)
    assert "--from A3" in done.err
    assert run("plan", "long.foldscript", "--from", "A3", cwd=tmp_path).code == 0


def test_a_level_that_the_moves_do_not_bear_out_is_a_warning_at_its_line(tmp_path: Path) -> None:
    script(tmp_path, "card", CARD.replace("sheet", "level complex\nsheet"))
    done = run("plan", "card.foldscript", "--format", "text", cwd=tmp_path)
    assert done.code == 0
    assert (
        "card.foldscript:3:1: warning: the head says 'complex', but all its moves are simple"
        in (done.err)
    )


def test_one_wrong_script_leaves_the_old_plan_whole(tmp_path: Path) -> None:
    path = script(tmp_path / "shelf")
    assert run("plan", "shelf", cwd=tmp_path).code == 0
    plan = tmp_path / "out" / "shelf" / "shelf-plan.pdf"
    before = plan.read_bytes()
    path.write_text(CARD.replace("onto top", "onto bottom", 1), "utf-8")
    done = run("plan", "shelf", cwd=tmp_path)
    assert done.code == 1
    assert "card.foldscript:" in done.err
    assert plan.read_bytes() == before


@pytest.mark.parametrize(
    "args",
    [
        ("--people", "0"),
        ("--people", "many"),
        ("--from", "A99"),
        ("--format", "doc"),
        ("--page", ""),
    ],
)
def test_misuse(tmp_path: Path, args: tuple[str, str]) -> None:
    script(tmp_path)
    done = run("plan", "card.foldscript", *args, cwd=tmp_path)
    assert done.code == 2
    assert not (tmp_path / "out").exists()


# --- practice --------------------------------------------------------------------------------------


def test_a_practice_sheet(tmp_path: Path) -> None:
    script(tmp_path)
    done = run("practice", "card.foldscript", "--steps", "1-2", "--page", "Letter", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    path = tmp_path / "out" / "card" / "card-practice-1-2.pdf"
    with pikepdf.open(io.BytesIO(path.read_bytes())) as pdf:
        (page,) = pdf.pages
        box = [float(v) for v in page.mediabox.as_list()]  # pyright: ignore[reportArgumentType]
        assert box[2:] == pytest.approx([612, 792])
    text = pdf_text(path)
    assert "Print at 100 %" in text
    assert "steps 1 to 2" in text


@pytest.mark.parametrize(
    ("steps", "name"),
    [("", "card-practice"), ("2", "card-practice-2"), ("1 - 3", "card-practice-1-3")],
)
def test_which_steps(tmp_path: Path, steps: str, name: str) -> None:
    script(tmp_path)
    done = run("practice", "card.foldscript", "--steps", steps, cwd=tmp_path)
    assert done.code == 0, done.err
    assert [p.stem for p in (tmp_path / "out" / "card").iterdir()] == [name]


def test_a_step_that_folds_nothing_is_told(tmp_path: Path) -> None:
    script(tmp_path)
    assert (
        "nothing is folded" in run("practice", "card.foldscript", "--steps", "2", cwd=tmp_path).err
    )


@pytest.mark.parametrize("steps", ["three", "3-1", "1-", "-2"])
def test_steps_that_are_no_steps(tmp_path: Path, steps: str) -> None:
    script(tmp_path)
    done = run("practice", "card.foldscript", f"--steps={steps}", cwd=tmp_path)
    assert done.code == 2


@pytest.mark.parametrize("steps", ["0", "4", "2-9"])
def test_steps_that_the_model_has_not(tmp_path: Path, steps: str) -> None:
    script(tmp_path)
    done = run("practice", "card.foldscript", "--steps", steps, cwd=tmp_path)
    assert done.code == 1
    assert "'Card' has the steps 1 to 3" in done.err


def test_a_sheet_as_large_as_a_wall_is_told_at_its_line(tmp_path: Path) -> None:
    script(tmp_path, "wall", CARD.replace("15 cm", "500 cm"))
    done = run("practice", "wall.foldscript", cwd=tmp_path)
    assert done.code == 1
    assert "wall.foldscript:3:1: error: the sheet is too large for a practice sheet" in done.err


@pytest.mark.parametrize("name", ["plan", "practice"])
def test_help_shows_an_example(tmp_path: Path, name: str) -> None:
    done = run_installed(name, "--help", cwd=tmp_path)
    assert done.code == 0
    assert re.search(r"Examples:\n +foldscript \w+ \w", done.out)
    assert name in run("--help", cwd=tmp_path).out
