"""What the README promises is so: its commands, its first script, its example of a mistake."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from shutil import copytree

import pytest

from .command import run

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """The README's fenced blocks in a language, in order."""
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)


def test_it_opens_with_the_job_a_picture_and_two_commands() -> None:
    title, job, picture, *_ = README.split("\n\n")
    assert title == "# foldscript"
    assert "\n#" not in job
    assert picture.startswith("![")
    setup, tests, *_ = blocks("sh")
    assert setup.startswith("sh .ci/setup && ")
    assert setup.endswith(" build samples\n")
    assert tests.startswith("sh .ci/setup test && ")


def test_ci_runs_the_same_test_command() -> None:
    command = blocks("sh")[1].strip()
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert f"\n{command} || exit 1\n" in ci


@pytest.mark.parametrize("name", ["setup", "run"])
def test_the_scripts_are_sound(name: str) -> None:
    shell = {"setup": "sh", "run": "bash"}[name]
    subprocess.run([shell, "-n", str(ROOT / ".ci" / name)], check=True)


def test_every_link_leads_somewhere() -> None:
    for page in ("README.md", "DEVELOPERS.md", "grammar/README.md"):
        text = (ROOT / page).read_text(encoding="utf-8")
        for target in re.findall(r"\]\(([^)#:]+)\)", text):
            assert ((ROOT / page).parent / target).exists(), f"{page} links to {target}"


def test_the_first_script_builds_what_is_promised(tmp_path: Path) -> None:
    (tmp_path / "cone.foldscript").write_text(blocks("foldscript")[0], encoding="utf-8")
    command = blocks("sh")[2].split()
    assert command[0] == "foldscript"
    done = run(*command[1:], cwd=tmp_path)
    assert done.code == 0, done.err
    for name in ("cone-01.svg", "cone-02.svg", "cone-finished.svg", "cone.pdf"):
        assert (tmp_path / "out" / "cone" / name).stat().st_size > 500


def test_the_mistake_looks_as_shown(tmp_path: Path) -> None:
    lines = blocks("foldscript")[0].splitlines(keepends=True)
    lines[8] = lines[8].replace("valley", "vally")
    (tmp_path / "cone.foldscript").write_text("".join(lines), encoding="utf-8")
    done = run("build", "cone.foldscript", cwd=tmp_path)
    assert done.code == 1
    assert done.err == blocks("text")[0]


def test_the_commands_in_the_table_exist(tmp_path: Path) -> None:
    (tmp_path / "cone.foldscript").write_text(blocks("foldscript")[0], encoding="utf-8")
    (tmp_path / "samples").mkdir()
    (tmp_path / "samples" / "cone.foldscript").write_text(blocks("foldscript")[0], encoding="utf-8")
    commands = re.findall(r"^\| `foldscript ([^`]+)` \|", README, re.MULTILINE)
    assert len(commands) >= 4
    for command in commands:
        done = run(*command.split(), cwd=tmp_path)
        assert done.code == 0, f"{command}: {done.err}"


def lines() -> list[str]:
    """Every foldscript command of the README's shell blocks, but those of the two that set everything up."""
    rows = [
        row.partition("#")[0].strip() for block in blocks("sh")[2:] for row in block.splitlines()
    ]
    found = [re.search(r"(?:^|/| )foldscript ((?:\w).*)$", row) for row in rows]
    return [match[1] for match in found if match]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """What the README's commands are run in: scripts, booklet files, a revision of git called v1."""
    cone = blocks("foldscript")[0]
    (tmp_path / "cone.foldscript").write_text(cone, "utf-8")
    for name in ("samples", "models", "last-term"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "cone.foldscript").write_text(cone, "utf-8")
    (tmp_path / "samples/club-booklet.toml").write_text('title = "A"\nmodels = ["."]\n', "utf-8")
    (tmp_path / "club.toml").write_text('title = "A"\nmodels = ["models"]\n', "utf-8")
    git = ["git", "-c", "user.name=A", "-c", "user.email=a@example.org", "-C", str(tmp_path)]
    for command in (["init", "-q"], ["add", "."], ["commit", "-qm", "A"], ["tag", "v1"]):
        subprocess.run([*git, *command], check=True, capture_output=True)
    copytree(tmp_path / "last-term", tmp_path / "this-term")
    for name in ("this-term", "samples"):
        text = cone.replace("Fold the top corner down in front", "Fold the top corner down")
        (tmp_path / name / "cone.foldscript").write_text(text, "utf-8")
    return tmp_path


def test_the_commands_in_the_shell_blocks_work(folder: Path) -> None:
    assert len(lines()) >= 8
    for line in lines():
        command = line.split()
        if command[0] == "preview":  # goes on for ever: tests/preview
            command.append("--help")
        done = run(*command, cwd=folder)
        assert done.code == 0, f"{line}: {done.err}"
    assert (folder / "out/changes/changes.html").exists()
    assert (folder / "out/cone/cone.pdf").exists()
    assert (folder / "pages/club/club.pdf").exists()


def test_other_languages(tmp_path: Path) -> None:
    (tmp_path / "cone.foldscript").write_text(blocks("foldscript")[0], encoding="utf-8")
    run("untranslated", "cone.foldscript", "--language", "es", "--write", cwd=tmp_path)
    side = tmp_path / "cone.es.toml"
    side.write_text(
        side.read_text("utf-8").replace(
            'unfold.", says = ""', 'unfold.", says = "Dobla un cucurucho."'
        ),
        "utf-8",
    )
    done = run("build", "cone.foldscript", "--language", "es", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    assert (tmp_path / "out/cone/es/cone.pdf").exists()
    assert "cucurucho" in (tmp_path / "out/cone/es/cone-01.svg").read_text("utf-8")


def test_the_python_example_runs(tmp_path: Path) -> None:
    (tmp_path / "cone.foldscript").write_text(blocks("foldscript")[0], encoding="utf-8")
    (example,) = blocks("python")
    done = subprocess.run(
        [sys.executable, "-c", example], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    first, *others = done.stdout.splitlines()
    assert first == "1 Fold the left corner to the right corner, crease well, and unfold."
    assert len(others) == 3 - 1 + 4 + 1  # the last step, a turn, has no figure of its own
    assert others[-2] == str(Path("pages/cone/cone-finished.svg"))
    assert others[-1] == "cannot-read there is no file hat.foldscript"


def test_every_file_that_the_guide_names_is_there() -> None:
    """A name without a folder is one of the package's, wherever it lies; `<name>` stands for any."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    files = set(re.findall(r"(?<![\w>./-])[\w./-]+\.(?:py|toml|md|po|lark)\b", text)) - {
        "step_pdf.py"
    }
    for name in files:
        there = [*ROOT.glob(f"foldscript/**/{name}"), *ROOT.glob(name)]
        assert there, f"DEVELOPERS.md names {name}"
    for name in set(re.findall(r"`([\w/]+/)`", text)):
        assert any(
            (ROOT / part / name).is_dir() for part in ("", "foldscript", "foldscript/drawing")
        )
