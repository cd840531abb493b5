"""`foldscript booklet`: what it writes, what it says, and how it ends."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from pathlib import Path

import pikepdf
import pytest

from ..command import CARD, COMMAND, run, script
from ..test_cli import tree

ROOT = Path(__file__).resolve().parents[2]
CLUB = """\
title = "Club"
models = ["card.foldscript", "hat.foldscript"]
"""


def shelf(folder: Path, text: str = CLUB) -> Path:
    script(folder, "card", CARD)
    script(folder, "hat", CARD.replace('"Card"', '"Hat"'))
    path = folder / "club.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_it_writes_one_pdf(tmp_path: Path) -> None:
    shelf(tmp_path)
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    assert list(tree(tmp_path / "out")) == ["club/club.pdf"]
    with pikepdf.open(tmp_path / "out/club/club.pdf") as pdf:
        count = len(pdf.pages)
        assert [page.label for page in pdf.pages][:2] == ["Cover", "2"]
    assert done.out == f"out{os.sep}club{os.sep}club.pdf: {count} pages of A5\n"


def test_imposed_says_how_to_print(tmp_path: Path) -> None:
    shelf(tmp_path)
    done = run("booklet", "club.toml", "--imposed", "--page", "half letter", cwd=tmp_path)
    assert done.code == 0, done.err
    assert list(tree(tmp_path / "out")) == ["club/club-imposed.pdf", "club/club.pdf"]
    assert "sheets of Letter: print on both sides" in done.out
    assert "turned on the short edge" in done.out
    with pikepdf.open(tmp_path / "out/club/club-imposed.pdf") as pdf:
        assert len(pdf.pages) % 2 == 0
        assert [float(x) for x in pdf.pages[0].mediabox.as_list()] == [0, 0, 792, 612]  # pyright: ignore


def test_slides_of_all_models(tmp_path: Path) -> None:
    shelf(tmp_path)
    done = run("booklet", "club.toml", "--format", "slides", cwd=tmp_path)
    assert done.code == 0, done.err
    assert list(tree(tmp_path / "out")) == ["club/club-slides.html"]
    where = f"out{os.sep}club{os.sep}club-slides.html"
    assert done.out == f"{where}: 2 models, one step a screen\n"
    page = (tmp_path / "out/club/club-slides.html").read_text()
    assert "<title>Club</title>" in page
    assert page.count('<section class="slide cover"') == 2
    again = run("booklet", "club.toml", "--format", "pdf,slides", cwd=tmp_path)
    first, second = again.out.splitlines()
    assert first.endswith("pages of A5")
    assert second == f"{where}: 2 models, one step a screen"
    assert len(tree(tmp_path / "out")) == 2
    for formats in ("pdf", "slides", "pdf,slides"):
        again = run("booklet", "club.toml", "--format", formats, cwd=tmp_path)
        assert again.out.count(" (unchanged)\n") == len(formats.split(","))


@pytest.mark.parametrize("said", ['format = ["pdf", "slides"]\n', 'format = "slides"\n'])
def test_the_file_may_ask_for_slides_itself(tmp_path: Path, said: str) -> None:
    shelf(tmp_path, CLUB + said + 'imposed = true\nlanguage = ["en", "es"]\n')
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 0, done.err
    made = tree(tmp_path / "out")
    assert len(made) == (6 if "pdf" in said else 2)
    assert b'<html lang="es">' in made["club/es/club-slides.html"]
    done = run("booklet", "club.toml", "--format", "pdf", "--out", "only", cwd=tmp_path)
    assert len(tree(tmp_path / "only")) == 4


def test_a_format_that_there_is_not(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB + 'format = ["pdf", "slide"]\n')
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert "club.toml:3:18: error: 'slide' is no choice here" in done.err
    assert "did you mean 'slides'?" in done.err
    done = run("booklet", "club.toml", "--format", "slide", cwd=tmp_path)
    assert (done.code, "there is no format" in done.err) == (2, True)
    done = run("booklet", "club.toml", "--format", "slides", "--imposed", cwd=tmp_path)
    assert (done.code, "--imposed goes with" in done.err) == (2, True)
    assert not (tmp_path / "out").exists()


def test_thick_paper(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB + "imposed = true\ncreep = 0.2\n")
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 0, done.err
    assert "trim the outer edge: inner pages are moved in by up to 0." in done.out
    plain = run("booklet", "club.toml", "--creep", "0", "--out", "plain", cwd=tmp_path)
    assert "trim" not in plain.out
    name = "club/club-imposed.pdf"
    assert tree(tmp_path / "out")[name] != tree(tmp_path / "plain")[name]
    assert tree(tmp_path / "out")["club/club.pdf"] == tree(tmp_path / "plain")["club/club.pdf"]
    shelf(tmp_path, CLUB + "creep = 2\n")
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert "club.toml:3:9: error: 2 is no number from 0 to 1" in done.err
    assert run("booklet", "club.toml", "--creep", "2", cwd=tmp_path).code == 2


def test_too_much_for_the_margin(tmp_path: Path) -> None:
    many = "".join(f'step "Step {k}."\n  turn over\n  show\n' for k in range(100))
    shelf(tmp_path, CLUB + 'imposed = true\ncreep = 1\npage = "A6"\nstyle = "large"\n')
    script(tmp_path, "hat", CARD.replace('"Card"', '"Hat"') + many)
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert "club.toml:4:9: error: with 1 mm a sheet the innermost pages are moved by" in done.err
    assert not (tmp_path / "out").exists()


def test_the_file_may_ask_for_sheets_itself(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB + "imposed = true\n")
    assert run("booklet", "club.toml", cwd=tmp_path).code == 0
    assert len(tree(tmp_path / "out")) == 2


def test_the_same_booklet_gives_the_same_bytes(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB + "imposed = true\n")
    for folder, seed in (("one", "1"), ("two", "2")):
        env = {"PYTHONHASHSEED": seed}
        assert run("booklet", "club.toml", "--out", folder, cwd=tmp_path, env=env).code == 0
    assert tree(tmp_path / "one") == tree(tmp_path / "two")


@pytest.mark.parametrize("style", ["grey", "large", "dark", "own.toml"])
def test_every_style(tmp_path: Path, style: str) -> None:
    shelf(tmp_path)
    (tmp_path / "own.toml").write_text('based_on = "dark"\n[colours]\nsign = "#ffd479"\n')
    done = run("booklet", "club.toml", "--style", style, "--page", "A4", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")


def test_a_pale_style_is_warned_of_once(tmp_path: Path) -> None:
    shelf(tmp_path)
    (tmp_path / "pale.toml").write_text('[roles]\ncrease = { stroke = "#cccccc" }\n')
    for command in (["booklet", "club.toml"], ["build", "card.foldscript", "hat.foldscript"]):
        done = run(*command, "--style", "pale.toml", cwd=tmp_path)
        assert done.code == 0
        assert done.err.count("pale.toml: warning: hard to see: 'crease'") == 1


def test_a_mistake_in_the_file(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB.replace("hat.fold", "hut.fold"))
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert done.err == (
        "club.toml:2:30: error: there is no file 'hut.foldscript'\n"
        '  models = ["card.foldscript", "hut.foldscript"]\n'
        "                               ^^^^^^^^^^^^^^^^\n"
        "  try: did you mean 'hat.foldscript'?\n"
    )
    assert not (tmp_path / "out").exists()


def test_mistakes_in_several_scripts_are_told_in_theirs(tmp_path: Path) -> None:
    shelf(tmp_path)
    for name in ("card", "hat"):
        script(tmp_path, name, CARD.replace("valley bottom", "vally bottom"))
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert "card.foldscript:6:3: error:" in done.err
    assert "hat.foldscript:6:3: error:" in done.err
    assert not (tmp_path / "out").exists()


def test_two_models_with_one_title(tmp_path: Path) -> None:
    shelf(tmp_path)
    script(tmp_path, "hat", CARD)
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert (
        "club.toml:2:30: error: 'card.foldscript' and 'hat.foldscript' have one title" in done.err
    )


def test_models_without_a_title_go_by_their_names(tmp_path: Path) -> None:
    shelf(tmp_path)
    for name in ("card", "hat"):
        script(tmp_path, name, CARD.replace('model "Card"\n', ""))
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 0, done.err
    with pikepdf.open(tmp_path / "out/club/club.pdf") as pdf, pdf.open_outline() as outline:
        names = [child.title for item in outline.root for child in (item, *item.children)]
        assert {"card", "hat"} <= set(names)


def test_a_page_too_small_for_a_caption(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB + 'page = "A6"\n')
    long = CARD.replace('"Card"', '"Hat"').replace("Fold in half again.", "Fold it in half. " * 110)
    script(tmp_path, "hat", long)
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert "club.toml:3:8: error: a page of A6 is too small for 'Hat'" in done.err
    assert "the caption of step 3 does not fit" in done.err


def test_a_title_too_long_for_the_cover(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB.replace("Club", "Club " * 80))
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert "club.toml:1:9: error: title and subtitle do not fit on the cover" in done.err


@pytest.mark.parametrize("option", [("--page", "A55"), ("--style", "gray")])
def test_misuse(tmp_path: Path, option: tuple[str, str]) -> None:
    shelf(tmp_path)
    assert run("booklet", "club.toml", *option, cwd=tmp_path).code == 2


def test_a_mistake_leaves_the_earlier_booklet(tmp_path: Path) -> None:
    path = shelf(tmp_path, CLUB + "imposed = true\n")
    assert run("booklet", "club.toml", cwd=tmp_path).code == 0
    before = tree(tmp_path / "out")
    path.write_text(CLUB + 'page = "A55"\n')
    assert run("booklet", "club.toml", cwd=tmp_path).code == 1
    assert tree(tmp_path / "out") == before


def test_a_booklet_killed_while_it_is_made_leaves_the_earlier_one(tmp_path: Path) -> None:
    shelf(tmp_path, CLUB + "imposed = true\n")
    assert run("booklet", "club.toml", cwd=tmp_path).code == 0
    before = tree(tmp_path / "out")
    for pause in (0.1, 0.3, 0.5, 0.7):
        made = subprocess.Popen(
            [COMMAND, "booklet", "club.toml"],
            cwd=tmp_path,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(pause)
        made.send_signal(signal.SIGKILL)
        made.wait()
        whole = {name: data for name, data in tree(tmp_path / "out").items() if ".part" not in name}
        assert whole == before


def test_the_sample_booklet(tmp_path: Path) -> None:
    """From the checkout, as the README says: A5, at least eight models, and sheets to staple."""
    done = run("booklet", "samples/club-booklet.toml", "--out", tmp_path, cwd=ROOT)
    assert done.code == 0, done.err
    with pikepdf.open(tmp_path / "club-booklet/club-booklet.pdf") as pdf:
        with pdf.open_outline() as outline:
            assert len([item for item in outline.root if item.children]) >= 8
        assert float(pdf.pages[0].mediabox[2]) == pytest.approx(419.53, abs=0.01)  # pyright: ignore
        links = sum(len(page.get("/Annots", [])) for page in pdf.pages)
        assert links >= 8
    with pikepdf.open(tmp_path / "club-booklet/club-booklet-imposed.pdf") as pdf:
        assert len(pdf.pages) % 2 == 0
