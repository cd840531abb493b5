"""What has not changed is not made again, and whatever a result depends on makes it anew."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from foldscript.building import binding, handout
from foldscript.building.cache import file, ingredients, version
from foldscript.building.cache.file import CACHE_FILE
from foldscript.source.diagnostics import Diagnostic, Hint, Severity, Source, Span, write

from ..command import CARD, run, script

BASE = """\
sheet square 15 cm, coloured side down
step
  valley bottom edge onto top edge
"""
STARTED = 'start from "../base.foldscript"\nstep "Fold."\n  valley left edge onto right edge\n'


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A shelf with a model that starts from another, and a booklet."""
    script(tmp_path, "base", BASE)
    script(tmp_path / "models", "card", CARD)
    script(tmp_path / "models", "half", STARTED)
    (tmp_path / "club.toml").write_text('title = "Club"\nmodels = ["models"]\n', "utf-8")
    return tmp_path


def build(shelf: Path, name: str = "half", style: str = "colour", page: str = "A4") -> bool:
    """Builds a model; whether it was unchanged."""
    options = handout.build_options(["svg"], page, style)
    return handout.build(shelf / "models" / f"{name}.foldscript", shelf / "out", options).unchanged


def bind(shelf: Path, page: str = "", imposed: bool = False) -> bool:
    """Binds the booklet; whether it was unchanged."""
    options = binding.booklet_options(page, "", imposed)
    return binding.bind(shelf / "club.toml", shelf / "out", options).unchanged


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


CHANGES: dict[str, Callable[[Path], object]] = {
    "caption": lambda s: edit(s / "models/half.foldscript", "Fold.", "Fold it."),
    "move": lambda s: edit(
        s / "models/half.foldscript", "left edge onto right", "right edge onto left"
    ),
    "what it starts from": lambda s: edit(s / "base.foldscript", "15 cm", "16 cm"),
    "what it starts from is gone": lambda s: (s / "base.foldscript").unlink(),
    "other language": lambda s: (s / "models/half.es.toml").write_text('title = "Mitad"\n'),
    "file gone": lambda s: (s / "out/half/half-01.svg").unlink(),
    "file touched up": lambda s: (s / "out/half/half-01.svg").write_text("<svg/>"),
    "cache gone": lambda s: (s / "out/half" / CACHE_FILE).unlink(),
    "cache spoilt": lambda s: (s / "out/half" / CACHE_FILE).write_text('{"results": {"svg": 3}}'),
    "cache of nonsense": lambda s: (s / "out/half" / CACHE_FILE).write_bytes(b"\xff\x00["),
}


@pytest.mark.parametrize("what", CHANGES)
def test_what_makes_a_model_anew(shelf: Path, what: str) -> None:
    assert not build(shelf)
    assert build(shelf)
    CHANGES[what](shelf)
    if what == "what it starts from is gone":
        with pytest.raises(Exception, match="no file"):
            build(shelf)
    else:
        assert not build(shelf)
        assert build(shelf)


def test_style_and_page_make_a_model_anew(shelf: Path) -> None:
    assert [build(shelf), build(shelf, style="grey"), build(shelf, style="grey")] == [
        False,
        False,
        True,
    ]
    assert [build(shelf, page="Letter"), build(shelf, page="Letter")] == [False, True]
    own = shelf / "own.toml"
    own.write_text('based_on = "grey"\n')
    assert not build(shelf, style=str(own))
    assert build(shelf, style=str(own))
    own.write_text('based_on = "grey"\n[colours]\nsign = "#7a1f1f"\n')
    assert not build(shelf, style=str(own))


def test_another_foldscript_makes_all_anew(shelf: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    build(shelf)
    bind(shelf)
    monkeypatch.setattr(ingredients, "versions", lambda: {"foldscript": "another"})
    assert not build(shelf)
    assert not bind(shelf)


def test_what_is_kept_of_the_package_is_no_part_of_it() -> None:
    """Tables that are kept beside the compiled modules come and go; foldscript stays the same."""
    before = version._content()
    names = {"nothing-0123.json", "nothing-0123.tables", "nothing.cpython-311.pyc"}
    folder = Path(version.__file__).parents[2] / "moves/__pycache__"
    folder.mkdir(exist_ok=True)
    try:
        for name in names:
            (folder / name).write_text("kept", "utf-8")
        assert version._content() == before
    finally:
        for name in names:
            (folder / name).unlink(missing_ok=True)


def test_line_ends_and_what_does_not_matter(shelf: Path) -> None:
    build(shelf, "card")
    path = shelf / "models/card.foldscript"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    (shelf / "models/other.txt").write_text("a remark")
    assert build(shelf, "card")


def test_formats_are_known_apart(shelf: Path) -> None:
    """A format more makes that format alone; both are known afterwards."""
    path, out = shelf / "models/card.foldscript", shelf / "out"
    handout.build(path, out, handout.build_options(["svg"], "A4", "colour"))
    before = (out / "card/card-01.svg").stat().st_mtime_ns
    both = handout.build_options(["svg", "pdf"], "A4", "colour")
    built = handout.build(path, out, both)
    assert not built.unchanged
    assert {p.suffix for p in built.files} == {".svg", ".pdf"}
    assert (out / "card/card-01.svg").stat().st_mtime_ns == before
    assert handout.build(path, out, both).unchanged


def test_the_command_says_so_and_can_be_told_otherwise(shelf: Path) -> None:
    for command in (["build", "models/card.foldscript"], ["booklet", "club.toml"]):
        assert "unchanged" not in run(*command, cwd=shelf).out
        again = run(*command, cwd=shelf)
        assert again.code == 0, again.err
        assert again.out.endswith(" (unchanged)\n")
        assert "unchanged" not in run(*command, "--fresh", cwd=shelf).out


def test_warnings_are_said_again(shelf: Path) -> None:
    edit(shelf / "models/card.foldscript", "Fold in half", "Fold 折り紙 in half")
    for command in (["build", "models/card.foldscript"], ["booklet", "club.toml"]):
        first, again = run(*command, cwd=shelf), run(*command, cwd=shelf)
        assert "unchanged" in again.out
        assert "no font has '折'" in first.err
        assert again.err == first.err


def test_the_build_cache_is_the_same_everywhere(shelf: Path, tmp_path: Path) -> None:
    for out, cwd, up in (("a", shelf, "models/"), ("b", shelf / "models", "")):
        for command in ([f"{up}half.foldscript"], [f"{up}card.foldscript"]):
            done = run("build", *command, "--out", tmp_path / out, "--format", "svg", cwd=cwd)
            assert done.code == 0, done.err
    for name in ("half", "card"):
        caches = [(tmp_path / out / name / CACHE_FILE).read_text("utf-8") for out in "ab"]
        assert caches[0] == caches[1]
        assert str(tmp_path) not in caches[0]
    told = json.loads((tmp_path / "a/half" / CACHE_FILE).read_text("utf-8"))["results"]["svg"][
        "from"
    ]
    assert told["scripts"][0].startswith("half.foldscript ")
    assert list(told["starts from"]) == ["../base.foldscript"]


BOOKLET_CHANGES: dict[str, Callable[[Path], object]] = {
    "title": lambda s: edit(s / "club.toml", "Club", "Our club"),
    "caption": lambda s: edit(s / "models/half.foldscript", "Fold.", "Fold it."),
    "what a model starts from": lambda s: edit(s / "base.foldscript", "15 cm", "16 cm"),
    "a model more": lambda s: script(s / "models", "hat", CARD.replace("Card", "Hat")),
    "a model less": lambda s: (s / "models/half.foldscript").unlink(),
    "other language": lambda s: (s / "models/card.es.toml").write_text('title = "Tarjeta"\n'),
    "PDF gone": lambda s: (s / "out/club/club.pdf").unlink(),
}


@pytest.mark.parametrize("what", BOOKLET_CHANGES)
def test_what_makes_a_booklet_anew(shelf: Path, what: str) -> None:
    assert not bind(shelf)
    assert bind(shelf)
    BOOKLET_CHANGES[what](shelf)
    assert not bind(shelf)
    assert bind(shelf)


def test_options_make_a_booklet_anew(shelf: Path) -> None:
    bind(shelf)
    assert not bind(shelf, page="A6")
    assert bind(shelf, page="A6")
    assert not bind(shelf, page="A6", imposed=True)
    assert (shelf / "out/club/club-imposed.pdf").exists()


def test_a_booklet_that_is_wrong_says_why_though_it_was_bound_before(shelf: Path) -> None:
    bind(shelf)
    edit(shelf / "models/card.foldscript", "turn over", "turn ovr")
    done = run("booklet", "club.toml", cwd=shelf)
    assert done.code == 1
    assert "'turn ovr' is no move" in done.err


def test_what_a_killed_build_left_goes_away_when_nothing_has_changed(shelf: Path) -> None:
    assert not build(shelf)
    left = [
        shelf / "out" / f".half.{2**22 + 1}.part",
        shelf / "out/half" / ".half-01.svg.4194305.part",
    ]
    left[0].mkdir()
    left[1].write_bytes(b"part")
    assert build(shelf)
    assert not any(path.exists() for path in left)


def test_a_cache_reads_each_file_once_however_much_is_said_about_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "card.es.toml"
    path.write_text("text", "utf-8")
    source = file.read_file(path, str(path), "file")
    notes = [Diagnostic("note", f"{k}", Span(0, 1), source=source) for k in range(1000)]
    made = file.CachedResult.of({}, {}, notes)
    (tmp_path / CACHE_FILE).write_bytes(file.cache_bytes({"a": made}, tmp_path))
    reads: list[Path] = []

    def counted(path: Path, name: str, kind: str) -> Source:
        reads.append(path)
        return source

    monkeypatch.setattr(file, "read_file", counted)
    assert len(file.read_cache(tmp_path, tmp_path)["a"].notes) == 1000
    assert reads == [path]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with names are POSIX")
def test_pipes_among_the_results_are_not_waited_for(shelf: Path) -> None:
    assert not build(shelf)
    for path in (shelf / "out/half" / CACHE_FILE, shelf / "out/half/half-01.svg"):
        path.unlink()
        os.mkfifo(path)
        assert not build(shelf)
        assert path.is_file()
    os.mkfifo(shelf / "models/half.es.toml")
    assert not build(shelf)


def test_a_cache_keeps_the_changes_that_hints_hold(tmp_path: Path) -> None:
    path = tmp_path / "card.foldscript"
    path.write_text("valley A to B", "utf-8")
    source = file.read_file(path, str(path), "file")
    hints = (write(Span(12, 13), "C"), Hint("or see there", Span(0, 6)), Hint("or not"))
    note = Diagnostic("note", "said", Span(0, 6), hints, Severity.WARNING, source)
    made = file.CachedResult.of({}, {}, [note])
    (tmp_path / CACHE_FILE).write_bytes(file.cache_bytes({"a": made}, tmp_path))
    assert file.read_cache(tmp_path, tmp_path)["a"].notes == (note,)


def test_what_has_not_changed_loads_nothing_that_folds_or_draws(shelf: Path) -> None:
    assert not build(shelf)
    code = (
        "import sys; from pathlib import Path; from foldscript.building import handout\n"
        "options = handout.build_options(['svg'], 'A4', 'colour')\n"
        "print(handout.build(Path(sys.argv[1]), Path(sys.argv[2]), options).unchanged)\n"
        "print({'numpy', 'shapely', 'lark', 'foldscript.folding.fold', 'foldscript.drawing.draw'}"
        " & {*sys.modules})"
    )
    paths = [str(shelf / "models" / "half.foldscript"), str(shelf / "out")]
    command = [sys.executable, "-c", code, *paths]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout == "True\nset()\n"
