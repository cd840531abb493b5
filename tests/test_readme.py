"""What the README promises is so: its commands, its first script, its example of a mistake."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

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
