"""`foldscript index`: one page over all results, whoever made them; nothing is missing without a word."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from .command import CARD, run, script


def archive(folder: Path) -> None:
    """Three scripts, built in two shares and put together."""
    for name, title in (("card", "Card"), ("boat", "A boat & a <mast>"), ("wing", "Wing")):
        script(folder / "archive", name, CARD.replace('"Card"', f'"{title}"'))
    for shard in ("1/2", "2/2"):
        out = f"pages-{shard[0]}"
        done = run("build", "archive", "--shard", shard, "--out", out, cwd=folder)
        assert done.code == 0, done.err
        if (folder / out).exists():
            shutil.copytree(folder / out, folder / "pages", dirs_exist_ok=True)


def test_every_model_has_its_card(tmp_path: Path) -> None:
    archive(tmp_path)
    done = run("index", "archive", "--out", "pages", "--title", "Club & co", cwd=tmp_path)
    assert (done.code, done.out, done.err) == (0, "pages/index.html: 3 of 3 models\n", "")
    page = (tmp_path / "pages/index.html").read_text("utf-8")
    assert re.findall(r"<h2>(.*)</h2>", page) == ["A boat &amp; a &lt;mast&gt;", "Card", "Wing"]
    assert "<h1>Club &amp; co</h1>" in page
    found = re.findall(r'(?:src|href)="([^"]*)"', page)
    assert found[:3] == [
        "./boat/boat-finished.svg",
        "./boat/boat-finished.svg",
        "./boat/boat.pdf",
    ]
    assert all((tmp_path / "pages" / name).is_file() for name in found)
    assert "<script" not in page


def test_what_lacks_is_told_and_fails(tmp_path: Path) -> None:
    archive(tmp_path)
    shutil.rmtree(tmp_path / "pages/card")
    script(tmp_path / "archive", "wing", CARD.replace("in half again", "in half once more"))
    script(tmp_path / "archive", "bad", "modle\n")
    done = run("index", "archive", "--out", "pages", cwd=tmp_path)
    assert done.code == 1
    assert done.out == "pages/index.html: 1 of 4 models\n"
    assert "archive/card.foldscript: nothing was made in pages/card" in done.err
    assert "archive/wing.foldscript: made from another text in pages/wing" in done.err
    assert "archive/bad.foldscript:1:1: error" in done.err
    page = (tmp_path / "pages/index.html").read_text("utf-8")
    assert page.count("class=wrong") == 3


def test_languages_and_formats_each_have_their_link(tmp_path: Path) -> None:
    script(tmp_path)
    formats = "png,pdf,words,slides"
    run("build", "card.foldscript", "--language", "en,es", "--format", formats, cwd=tmp_path)
    assert run("index", "card.foldscript", cwd=tmp_path).code == 0
    page = (tmp_path / "out/index.html").read_text("utf-8")
    assert '<a href="./card/es/card-words.txt">es words.txt</a>' in page
    assert '<a href="./card/en/card-slides.html">en slides.html</a>' in page
    assert 'src="./card/en/card-finished.png"' in page
    assert "card-01" not in page
