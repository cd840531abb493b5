"""`foldscript format`: files laid out in place, looked at only, or passed through."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

from .command import CARD, COMMAND, run, script

LOOSE = CARD.replace("  valley", "\tvalley  ").replace("step\n", "step\n\n")


def test_a_script_is_laid_out_and_keeps_its_rights(tmp_path: Path) -> None:
    path = script(tmp_path, text=LOOSE)
    path.chmod(0o640)
    done = run("format", ".", cwd=tmp_path)
    assert (done.code, done.out) == (0, "card.foldscript: laid out\n")
    assert "  valley bottom edge onto top edge\n" in path.read_text("utf-8")
    assert path.stat().st_mode & 0o777 == 0o640
    assert os.listdir(tmp_path) == ["card.foldscript"]
    again = run("format", ".", cwd=tmp_path)
    assert (again.code, again.out, again.err) == (0, "", "")


def test_check_and_diff_change_nothing(tmp_path: Path) -> None:
    path = script(tmp_path, text=LOOSE)
    done = run("format", "--check", ".", cwd=tmp_path)
    assert (done.code, "laid out otherwise" in done.err) == (1, True)
    shown = run("format", "--diff", ".", cwd=tmp_path)
    assert shown.code == 0
    assert "+  valley bottom edge onto top edge" in shown.out.splitlines()
    assert path.read_text("utf-8") == LOOSE


def test_standard_input_comes_out_laid_out(tmp_path: Path) -> None:
    path = script(tmp_path, text=LOOSE)
    done = subprocess.run(
        [COMMAND, "format", "-"], input=LOOSE.encode(), capture_output=True, check=True
    )
    run("format", path, cwd=tmp_path)
    assert done.stdout == path.read_bytes()


def test_a_script_that_cannot_be_read_is_told_and_left_alone(tmp_path: Path) -> None:
    wrong = LOOSE.replace("turn over", "trun over")
    path = script(tmp_path, text=wrong)
    done = run("format", ".", cwd=tmp_path)
    assert (done.code, "'trun over' is no move" in done.err) == (1, True)
    assert path.read_text("utf-8") == wrong
