"""The installed command: what it writes, what it says, and how it ends."""

from __future__ import annotations

import json
import os
import re
import subprocess
from pathlib import Path

import pytest

from foldscript import __version__
from foldscript.output.formats import format_names, load_format

from .command import CARD, COMMAND, run, script

#: A module that Python imports first: it stands for a machine without the cairo library.
NO_CAIRO = """\
import sys

class Missing:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] == "cairocffi":
            raise OSError('no library called "cairo-2" was found')

sys.meta_path.insert(0, Missing())
"""

#: A module that makes folding fail in a way nobody foresaw.
BROKEN = """\
import foldscript.folding.fold as module

def fold(program, source_path=None):
    raise ZeroDivisionError("division by zero")

module.fold = fold
"""


def hooked(tmp_path: Path, code: str) -> dict[str, str]:
    """Environment in which `code` runs before the command does."""
    folder = tmp_path / "hook"
    folder.mkdir()
    (folder / "sitecustomize.py").write_text(code)
    return {"PYTHONPATH": str(folder)}


def tree(folder: Path) -> dict[str, bytes]:
    """What a person sees in a folder: hidden files are not theirs."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.name.startswith(".")
    }


# --- all is well ---------------------------------------------------------------------------


def test_version(tmp_path: Path) -> None:
    done = run("--version", cwd=tmp_path)
    assert (done.code, done.out, done.err) == (0, f"foldscript {__version__}\n", "")


@pytest.mark.parametrize("args", [["--help"], ["build", "-h"], ["check", "-h"], ["states", "-h"]])
def test_help_shows_an_example(tmp_path: Path, args: list[str]) -> None:
    done = run(*args, cwd=tmp_path)
    assert done.code == 0
    assert re.search(r"Examples?:\n +foldscript \w+ \w", done.out)


def test_help_lists_every_format(tmp_path: Path) -> None:
    done = run("build", "--help", cwd=tmp_path)
    for name in format_names():
        assert re.search(rf"^  {name} +{load_format(name).SUMMARY[:20]}", done.out, re.MULTILINE)


def test_build_writes_pictures_and_a_handout(tmp_path: Path) -> None:
    script(tmp_path)
    done = run("build", "card.foldscript", cwd=tmp_path)
    assert done.code == 0, done.err
    assert done.err == ""
    assert done.out.startswith("card.foldscript: ")
    names = list(tree(tmp_path / "out"))
    assert names == [
        "card/card-01.svg",
        "card/card-03.svg",
        "card/card-finished.svg",
        "card/card.pdf",
    ]
    files = tree(tmp_path / "out")
    assert files["card/card.pdf"].startswith(b"%PDF-")
    assert b"<svg" in files["card/card-01.svg"]


def test_the_same_script_gives_the_same_bytes(tmp_path: Path) -> None:
    path = script(tmp_path)
    formats = "svg,png,pdf,states,step-pdf,page-png"
    for folder in ("one", "two"):
        assert run("build", path, "--out", folder, "--format", formats, cwd=tmp_path).code == 0
    assert tree(tmp_path / "one") == tree(tmp_path / "two")
    endings = {name.rpartition(".")[2] for name in tree(tmp_path / "one")}
    assert endings == {"svg", "png", "pdf", "json"}


def test_formats_may_be_repeated_and_listed(tmp_path: Path) -> None:
    path = script(tmp_path)
    done = run("build", path, "--format", "svg", "--format", "STATES, svg", cwd=tmp_path)
    assert done.code == 0, done.err
    assert {Path(name).suffix for name in tree(tmp_path / "out")} == {".svg", ".json"}


def test_a_folder_stands_for_its_scripts(tmp_path: Path) -> None:
    for name in ("card", "sheet"):
        script(tmp_path / "shelf", name)
    done = run("build", "shelf", "--format", "svg", "--out", "pages", cwd=tmp_path)
    assert done.code == 0, done.err
    assert sorted(path.name for path in (tmp_path / "pages").iterdir()) == ["card", "sheet"]
    assert len(done.out.splitlines()) == 2


def test_the_page_is_as_large_as_asked(tmp_path: Path) -> None:
    """US Letter is 8.5 x 11 inches (ANSI/ASME Y14.1): 612 x 792 points."""
    path = script(tmp_path)
    done = run("build", path, "--format", "pdf", "--page", "letter", cwd=tmp_path)
    assert done.code == 0, done.err
    import pikepdf

    with pikepdf.open(tmp_path / "out" / "card" / "card.pdf") as pdf:
        box = [float(x) for x in pdf.pages[0].mediabox]
    assert box == pytest.approx([0, 0, 612, 792], abs=0.01)


def test_check_writes_nothing(tmp_path: Path) -> None:
    script(tmp_path / "shelf")
    done = run("check", "shelf", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    assert done.out == f"{Path('shelf', 'card.foldscript')}: folds, 3 steps\n"
    assert list(tree(tmp_path)) == [str(Path("shelf", "card.foldscript"))]


def test_states_are_json(tmp_path: Path) -> None:
    done = run("states", script(tmp_path), cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    data = json.loads(done.out)
    assert (data["format"], data["version"]) == ("foldscript-states", 1)
    assert [state["step"] for state in data["states"]] == [0, 1, 2, 3]
    assert list(tree(tmp_path)) == ["card.foldscript"]


def test_a_shorter_script_takes_its_old_steps_away(tmp_path: Path) -> None:
    path = script(tmp_path)
    run("build", path, "--format", "svg", cwd=tmp_path)
    (tmp_path / "out" / "card" / "notes.txt").write_text("mine")
    script(tmp_path, text=CARD[: CARD.index("step\n")])
    assert run("build", path, "--format", "svg", cwd=tmp_path).code == 0
    assert list(tree(tmp_path / "out" / "card")) == [
        "card-01.svg",
        "card-finished.svg",
        "notes.txt",
    ]


def test_text_in_any_language_reaches_the_picture_escaped(tmp_path: Path) -> None:
    text = CARD.replace('model "Card"', 'model "Karte & <Herz> Ö Ж"')
    done = run("build", script(tmp_path, text=text), cwd=tmp_path)
    assert done.code == 0, done.err
    for name, data in tree(tmp_path / "out").items():
        if name.endswith(".svg"):
            assert b"<Herz>" not in data


# --- a model is wrong ----------------------------------------------------------------------


def test_every_mistake_is_shown_where_it_stands(tmp_path: Path) -> None:
    text = CARD.replace("valley", "vally").replace("turn over", "turn ovr")
    path = script(tmp_path, text=text)
    done = run("build", path, cwd=tmp_path)
    assert done.code == 1
    places = re.findall(rf"^{re.escape(str(path))}:(\d+):(\d+)", done.err, re.MULTILINE)
    assert [row for row, _ in places] == ["6", "8", "10"]
    assert "vally bottom edge onto top edge" in done.err
    assert "^" in done.err
    assert done.err.count("try: valley") == 2
    assert not (tmp_path / "out").exists()


def test_a_fold_that_cannot_be_is_shown_where_it_stands(tmp_path: Path) -> None:
    text = CARD.replace("valley bottom edge onto top edge", "valley A to A")
    path = script(tmp_path, text=text)
    done = run("check", path, cwd=tmp_path)
    assert done.code == 1
    assert re.search(rf"^{re.escape(str(path))}:6:\d+", done.err, re.MULTILINE)


def test_good_models_are_built_beside_bad_ones(tmp_path: Path) -> None:
    script(tmp_path / "shelf", "bad", CARD.replace("valley", "vally"))
    script(tmp_path / "shelf", "good")
    script(tmp_path / "shelf", "worse", "nonsense\n")
    done = run("build", "shelf", "--format", "svg", cwd=tmp_path)
    assert done.code == 1
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["good"]
    assert "bad.foldscript:" in done.err
    assert "worse.foldscript:" in done.err
    assert done.out.count("\n") == 1


def test_an_earlier_good_output_stays_as_it_was(tmp_path: Path) -> None:
    path = script(tmp_path)
    assert run("build", path, cwd=tmp_path).code == 0
    before = tree(tmp_path / "out")
    script(tmp_path, text=CARD + "  vally A to B\n")
    assert run("build", path, cwd=tmp_path).code == 1
    assert tree(tmp_path / "out") == before


def test_a_caption_too_long_for_its_page_is_shown_where_it_stands(tmp_path: Path) -> None:
    """In whatever format or language: nothing is written, and what was there stays as it was."""
    script(tmp_path)
    build = ("build", "card.foldscript", "--page", "A6", "--language", "en,es")
    assert run(*build, cwd=tmp_path).code == 0
    before = tree(tmp_path / "out")
    script(tmp_path, text=CARD.replace("Fold in half again.", "Fold it in half. " * 110))
    done = run(*build, cwd=tmp_path)
    assert (done.code, done.out) == (1, "")
    assert "card.foldscript:9:1: error: the caption of step 3 does not fit on a page" in done.err
    assert tree(tmp_path / "out") == before


def test_a_file_that_is_not_utf8(tmp_path: Path) -> None:
    path = tmp_path / "card.foldscript"
    path.write_bytes(CARD.replace("Card", "Kärtchen").encode("latin-1"))
    done = run("check", path, cwd=tmp_path)
    assert done.code == 1
    assert f"{path}:1:9" in done.err
    assert "UTF-8" in done.err


def test_an_empty_file(tmp_path: Path) -> None:
    done = run("check", script(tmp_path, text=""), cwd=tmp_path)
    assert done.code == 1
    assert "card.foldscript" in done.err


def test_two_models_of_one_name(tmp_path: Path) -> None:
    done = run("build", script(tmp_path / "a"), script(tmp_path / "b"), cwd=tmp_path)
    assert done.code == 1
    assert "would be drawn into the same folder" in done.err
    assert not (tmp_path / "out").exists()


def test_a_folder_without_scripts(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    done = run("check", "empty", cwd=tmp_path)
    assert done.code == 1
    assert "no script in 'empty'" in done.err


# --- the machine is wrong ------------------------------------------------------------------


def test_a_place_that_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file, not a folder")
    done = run("build", script(tmp_path), "--out", "out/deeper", cwd=tmp_path)
    assert done.code == 1
    assert "cannot write" in done.err
    assert (tmp_path / "out").read_text() == "a file, not a folder"


def test_a_folder_without_permission(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir(mode=0o555)
    # Root may write everywhere but where the kernel itself says no.
    place = "out" if os.geteuid() else "/proc/self"
    done = run("build", script(tmp_path), "--out", place, cwd=tmp_path)
    assert done.code == 1
    assert "cannot write" in done.err
    assert place in done.err
    assert done.out == ""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_output_that_goes_to_a_full_disk(tmp_path: Path) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [COMMAND, "check", script(tmp_path)],
            env={**os.environ, "PYTHONUNBUFFERED": ""},
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 1
    assert done.stderr.startswith(b"error: cannot write")
    assert b"Traceback" not in done.stderr


def test_a_reader_that_stops_early(tmp_path: Path) -> None:
    with subprocess.Popen(
        [COMMAND, "states", script(tmp_path)], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout
        assert process.stderr
        process.stdout.close()
        assert b"Traceback" not in process.stderr.read()


def test_without_cairo_pictures_are_still_drawn(tmp_path: Path) -> None:
    path = script(tmp_path)
    done = run("build", path, cwd=tmp_path, env=hooked(tmp_path, NO_CAIRO))
    assert done.code == 1
    assert list(tree(tmp_path / "out" / "card"))[-1] == "card-finished.svg"
    assert "apt-get install" in done.err
    assert "libcairo2" in done.err


def test_without_cairo_an_earlier_handout_stays(tmp_path: Path) -> None:
    path = script(tmp_path)
    assert run("build", path, cwd=tmp_path).code == 0
    before = tree(tmp_path / "out")
    done = run(
        "build", path, "--format", "pdf", "--fresh", cwd=tmp_path, env=hooked(tmp_path, NO_CAIRO)
    )
    assert (done.code, done.out) == (1, "")
    assert tree(tmp_path / "out") == before


def test_a_fault_of_our_own_is_owned_up_to(tmp_path: Path) -> None:
    done = run("check", script(tmp_path), cwd=tmp_path, env=hooked(tmp_path, BROKEN))
    assert done.code == 1
    assert "internal error" in done.err
    assert "report it, with the script" in done.err
    assert "FOLDSCRIPT_DEBUG=1" in done.err


@pytest.mark.parametrize("name", ["k\N{LATIN SMALL LETTER A WITH DIAERESIS}rtchen", "card\udcff"])
def test_names_that_a_terminal_cannot_show(tmp_path: Path, name: str) -> None:
    path = script(tmp_path, name)
    env = {"PYTHONIOENCODING": "ascii", "LC_ALL": "C"}
    assert run("check", path, cwd=tmp_path, env=env).code == 0
    script(tmp_path, name, CARD.replace("valley", "vally"))
    done = run("build", path, cwd=tmp_path, env=env)
    assert done.code == 1
    assert "did you mean" in done.err or "try:" in done.err


# --- the command is used wrongly -----------------------------------------------------------


@pytest.mark.parametrize(
    ("args", "said"),
    [
        ([], "Usage:"),
        (["fold", "card.foldscript"], "No such command"),
        (["build"], "Missing argument"),
        (["build", "missing.foldscript"], "does not exist"),
        (["states", "."], "is a directory"),
        (["build", "card.foldscript", "--format", "sgv"], "Did you mean svg?"),
        (["build", "card.foldscript", "--format", ","], "name one of"),
        (["build", "card.foldscript", "--page", "A44"], "A4"),
        (["build", "card.foldscript", "--style", "colr"], "colour"),
        (["build", "card.foldscript", "--style", "missing.toml"], "missing.toml"),
        (["build", "card.foldscript", "--out", "card.foldscript"], "is a file"),
        (["check", "card.foldscript", "--colour"], "No such option"),
    ],
)
def test_misuse(tmp_path: Path, args: list[str], said: str) -> None:
    script(tmp_path)
    done = run(*args, cwd=tmp_path)
    assert done.code == 2
    assert said in done.err
    assert list(tree(tmp_path)) == ["card.foldscript"]


# --- the symbol poster ---------------------------------------------------------------------


def test_signs(tmp_path: Path) -> None:
    done = run("signs", "--style", "grey", "--out", "wall", cwd=tmp_path)
    assert done.code == 0, done.err
    assert done.out.split() == [str(Path("wall") / "signs" / "signs-grey.pdf")]
    assert "wall/signs/signs-grey-page-1.svg" in {p.replace("\\", "/") for p in tree(tmp_path)}
    wrong = run("signs", "--style", "gray", cwd=tmp_path)
    assert wrong.code == 2
    assert "did you mean 'grey'?" in wrong.err
