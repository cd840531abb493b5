"""What every command may be asked about its messages: form, strictness, how much, colours; standard input."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest

from ..command import CARD, COMMAND, run, script

#: Folds, with a warning: the mark T has gone along with its flap.
WARNED = """\
model "Card"
credit traditional
sheet square 100 mm, coloured side down, corner A at the bottom
step
  valley A to C
step
  mark T at top corner
step
  valley top corner to midpoint of B D, 1 layer
step
  valley left corner to T
"""
WRONG = CARD.replace("  turn over\n", "  trun over\n")


def test_json_tells_place_and_what_to_write(tmp_path: Path) -> None:
    path = script(tmp_path, text=WRONG)
    done = run("check", "--message-format", "json", path.name, cwd=tmp_path)
    assert done.code == 1
    (told,) = map(json.loads, done.err.splitlines())
    assert (told["severity"], told["file"]) == ("error", path.name)
    line = WRONG.splitlines().index("  trun over")
    assert told["range"]["start"] == {"line": line + 1, "column": 3, "offset": WRONG.index("trun")}
    edit = next(hint["edit"] for hint in told["hints"] if hint["edit"])
    start, end = (edit["range"][key]["offset"] for key in ("start", "end"))
    mended = WRONG[:start] + edit["text"] + WRONG[end:]
    assert run("check", script(tmp_path, text=mended).name, cwd=tmp_path).code == 0


def test_annotations_name_file_line_and_columns(tmp_path: Path) -> None:
    script(tmp_path, text=WRONG)
    done = run("check", "--message-format", "github", ".", cwd=tmp_path)
    (told,) = done.err.splitlines()
    line = WRONG.splitlines().index("  trun over") + 1
    assert told.startswith(f"::error file=card.foldscript,line={line},endLine={line},col=3,")
    assert told.count("::") == 2


def test_strict_fails_where_there_is_a_warning(tmp_path: Path) -> None:
    name = script(tmp_path, text=WARNED).name
    usual = run("check", name, cwd=tmp_path)
    assert (usual.code, "warning" in usual.err) == (0, True), usual.err
    strict = run("check", "--strict", name, cwd=tmp_path)
    assert (strict.code, strict.err) == (1, usual.err)


def test_quiet_tells_only_what_is_wrong(tmp_path: Path) -> None:
    script(tmp_path)
    script(tmp_path, "wrong", WRONG)
    done = run("check", "-q", ".", cwd=tmp_path)
    assert (done.code, done.out) == (1, "")
    assert "'trun over'" in done.err


def test_quiet_still_gives_what_was_asked_for(tmp_path: Path) -> None:
    script(tmp_path)
    assert json.loads(run("states", "-q", "card.foldscript", cwd=tmp_path).out)["model"] == "Card"


def test_verbose_tells_the_stages_in_their_order(tmp_path: Path) -> None:
    script(tmp_path)
    told = run("check", "-v", "card.foldscript", cwd=tmp_path).err.splitlines()
    assert [line.split()[2] for line in told] == ["reading", "folding"]


@pytest.mark.parametrize(
    ("when", "env", "coloured"),
    [("always", {"NO_COLOR": "1"}, True), ("never", {}, False), ("auto", {}, False)],
)
def test_colours(tmp_path: Path, when: str, env: dict[str, str], coloured: bool) -> None:
    script(tmp_path, text=WRONG)
    done = run("check", "--color", when, "card.foldscript", cwd=tmp_path, env=env)
    assert ("\033[" in done.err) is coloured


@pytest.mark.parametrize(("text", "code"), [(CARD, 0), (WRONG, 1)])
def test_a_script_comes_through_standard_input(tmp_path: Path, text: str, code: int) -> None:
    done = subprocess.run(
        [COMMAND, "check", "-"], input=text.encode(), cwd=tmp_path, capture_output=True, check=False
    )
    assert done.returncode == code, done.stderr
    if code:
        assert done.stderr.startswith(b"standard input:")


@pytest.mark.parametrize(
    "command",
    ["build", "booklet", "check", "states", "changes", "plan", "practice", "preview", "signs"],
)
def test_every_command_has_them(tmp_path: Path, command: str) -> None:
    told = run(command, "--help", cwd=tmp_path).out
    for option in ("--message-format", "--strict", "--quiet", "--verbose", "--color"):
        assert option in told
