"""`--language` in every command, and `foldscript untranslated`."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest

from ..command import run, script
from ..test_cli import tree

CARD = """\
model "Card"
model es "Tarjeta"
credit traditional
sheet square 7.5 cm, coloured side down

step "Fold the bottom edge to the top edge."
  caption es "Dobla el borde de abajo hasta el de arriba."
  valley bottom edge onto top edge
step
  turn over
step "Fold in half."
  valley left edge onto right edge, all layers
"""
CLUB = """\
title = "Paper Club"
subtitle = "Second term"
models = ["card.foldscript"]
language = ["en", "es"]
introduction = "Fold slowly."

[es]
title = "Club de papel"
introduction = "Dobla despacio."
"""


def words_of(pdf: Path) -> str:
    """The text of a PDF's pages, as poppler reads it; the test is skipped where it is not installed."""
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    return done.stdout.decode()


def test_each_language_has_a_folder(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    done = run("build", "card.foldscript", "--language", "es,de", "--format", "svg", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    assert done.out == f"card.foldscript: 6 files in out{os.sep}card{os.sep}\n"
    names = ["card-01.svg", "card-03.svg", "card-finished.svg"]
    assert [n for n in tree(tmp_path / "out") if n.endswith(".svg")] == [
        f"card/{tag}/{name}" for tag in ("de", "es") for name in names
    ]
    spanish = (tmp_path / "out/card/es/card-01.svg").read_text("utf-8")
    assert 'xml:lang="es"' in spanish or 'lang="es"' in spanish
    assert "Paso 1" in spanish
    assert "Dobla el borde de abajo" in spanish
    german = (tmp_path / "out/card/de/card-01.svg").read_text("utf-8")
    assert "Falte die untere Kante nach oben auf die obere Kante." in german


def test_all_means_its_own_and_those_foldscript_speaks(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    (tmp_path / "card.it.toml").write_text('title = "Biglietto"\n', "utf-8")
    done = run("build", "card.foldscript", "--language", "all", "--format", "svg", cwd=tmp_path)
    assert done.code == 0
    assert "no words of its own in 'it'" in done.err
    tags = {name.split("/")[1] for name in tree(tmp_path / "out")}
    assert tags == {"de", "en", "es", "fr", "it", "nl"}


def test_built_again_it_is_unchanged_until_a_translation_changes(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    side = tmp_path / "card.es.toml"
    side.write_text('[steps]\n3 = "Dobla."\n', "utf-8")
    order = ("build", "card.foldscript", "--language", "es", "--format", "svg")
    run(*order, cwd=tmp_path)
    assert "(unchanged)" in run(*order, cwd=tmp_path).out
    side.write_text('[steps]\n3 = "Dobla por la mitad."\n', "utf-8")
    assert "(unchanged)" not in run(*order, cwd=tmp_path).out
    assert "por la mitad" in (tmp_path / "out/card/es/card-03.svg").read_text("utf-8")


def test_the_handout_is_all_in_one_language(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    done = run("build", "card.foldscript", "--language", "es", "--format", "pdf", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    pdf = tmp_path / "out/card/es/card.pdf"
    words = words_of(pdf)
    for said in (
        "Tarjeta",
        "tradicional",
        "cuadrado de 7,5 cm",
        "El modelo terminado.",
        "Símbolos usados",
        "Valle: hacia delante",
        "página 1 de 1",
    ):
        assert said in words, said
    for english in ("Sheet", "Signs used", "page 1", "Valley", "Fold"):
        assert english not in words, english
    with pikepdf.open(pdf) as opened:
        assert str(opened.Root.Lang) == "es"


def test_accents_and_cyrillic_come_out_as_text(tmp_path: Path) -> None:
    head = 'model "Стакан"\nlanguage ru\n'
    text = head + 'step "Согните нижний край вверх."\nvalley bottom edge onto top edge\n'
    script(tmp_path, "cup", text)
    done = run("build", "cup.foldscript", "--format", "pdf,svg", cwd=tmp_path)
    assert done.code == 0
    assert "no words of its own in 'ru'" in done.err
    assert "glyph" not in done.err
    assert "font" not in done.err
    words = words_of(tmp_path / "out/cup/cup.pdf")
    assert "Стакан" in words
    assert "Согните нижний край вверх." in " ".join(words.split())


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("x1", "'x1' is no language code"),
        ("nowhere.po", "there is no file nowhere.po"),
        ("words.po", "words.po:5:1: this translation cannot be used: it lacks {what}"),
    ],
)
def test_a_language_that_cannot_be_used(said: str, words: str, tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    (tmp_path / "words.po").write_text(
        'msgid ""\nmsgstr "Language: qaa\\n"\n\nmsgid "Hold {what}."\nmsgstr "Haltu."\n', "utf-8"
    )
    for command in (("build", "card.foldscript"), ("plan", "card.foldscript")):
        done = run(*command, "--language", said, cwd=tmp_path)
        assert done.code == 2
        assert words in " ".join(done.err.split())
    assert not (tmp_path / "out").exists()


def test_a_faulty_side_file_writes_nothing(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    (tmp_path / "card.fr.toml").write_text("[steps]\nfirst = 'x'\n", "utf-8")
    done = run("build", "card.foldscript", "--language", "es,fr", "--format", "svg", cwd=tmp_path)
    assert done.code == 1
    assert "card.fr.toml:2:1: error: 'first' is no step" in done.err
    assert not list((tmp_path / "out").rglob("*.svg")) if (tmp_path / "out").exists() else True


def test_a_booklet_in_two_languages(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    (tmp_path / "club.toml").write_text(CLUB, "utf-8")
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    assert f"out{os.sep}club{os.sep}es{os.sep}club.pdf: " in done.out
    english, spanish = (words_of(tmp_path / f"out/club/{tag}/club.pdf") for tag in ("en", "es"))
    for said in ("Paper Club", "Fold slowly.", "Contents", "Credits and licences"):
        assert said in english
    for said in (
        "Club de papel",
        "Second term",
        "Dobla despacio.",
        "Índice",
        "Tarjeta",
        "Símbolos usados en este cuadernillo",
        "Créditos y licencias",
    ):
        assert said in spanish
    assert "Contents" not in spanish
    again = run("booklet", "club.toml", "--language", "es", cwd=tmp_path)
    assert (
        again.out == f"out{os.sep}club{os.sep}es{os.sep}club.pdf: {_pages(spanish)} (unchanged)\n"
    )


def _pages(text: str) -> str:
    return f"{text.count(chr(12))} pages of A5"


@pytest.mark.parametrize(
    ("line", "place", "words"),
    [
        ('language = ["en", "e s"]', "4:20", "'e s' is no language"),
        ('language = ["en", 3]', "4:19", "a text in quotes is wanted"),
        ('language = "en"\n[es]\ntitel = "x"', "6:1", "'titel' means nothing here"),
    ],
)
def test_languages_of_a_booklet_file(line: str, place: str, words: str, tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    head = CLUB.partition("language")[0]
    (tmp_path / "club.toml").write_text(head + line + "\n", "utf-8")
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert done.code == 1
    assert f"club.toml:{place.split(':')[0]}:" in done.err
    assert words in done.err


def test_plans_and_practice_sheets(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    plan = run("plan", "card.foldscript", "--format", "text", "--language", "de", cwd=tmp_path)
    assert plan.code == 0
    assert plan.out.startswith("Kursplan: Card\n")
    assert "Quadrat 7,5 cm, farbige Seite unten" in plan.out
    done = run("practice", "card.foldscript", "--language", "fr", cwd=tmp_path)
    assert done.code == 0
    assert "Feuille d'exercice" in words_of(tmp_path / "out/card/card-practice.pdf") or (
        "feuille d'exercice" in words_of(tmp_path / "out/card/card-practice.pdf")
    )


def test_untranslated(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    done = run("untranslated", "card.foldscript", cwd=tmp_path)
    assert (done.code, done.err) == (0, "")
    assert done.out == (
        'card.foldscript:11:6: es: step 3: "Fold in half."\nes: 1 sentence untranslated\n'
    )
    french = run("untranslated", "card.foldscript", "--language", "fr", cwd=tmp_path).out
    assert french.splitlines() == [
        'card.foldscript:1:1: fr: title: "Card"',
        'card.foldscript:6:6: fr: step 1: "Fold the bottom edge to the top edge."',
        'card.foldscript:11:6: fr: step 3: "Fold in half."',
        "fr: 3 sentences untranslated",
    ]
    polish = run("untranslated", "card.foldscript", "--language", "pl", cwd=tmp_path).out
    assert "card.foldscript:9:1: pl: step 2\n" in polish  # nothing is written from its moves


def test_untranslated_in_a_booklet(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    (tmp_path / "club.toml").write_text(CLUB, "utf-8")
    done = run("untranslated", "club.toml", cwd=tmp_path)
    assert done.out.splitlines() == [
        'club.toml:2:12: es: subtitle: "Second term"',
        'card.foldscript:11:6: es: step 3: "Fold in half."',
        "es: 2 sentences untranslated",
    ]


def test_a_side_file_to_fill_in(tmp_path: Path) -> None:
    script(tmp_path, text=CARD)
    first = run("untranslated", ".", "--language", "fr", "--write", cwd=tmp_path)
    assert first.out.endswith("written: card.fr.toml\n")
    side = tmp_path / "card.fr.toml"
    text = side.read_text("utf-8")
    assert '3 = { of = "Fold in half.", says = "" }\n' in text
    for words in ("Carte", "Pliez.", "Pliez encore."):
        text = text.replace('says = ""', f'says = "{words}"', 1)
    side.write_text(text, "utf-8")
    again = run("untranslated", ".", "--language", "fr", "--write", cwd=tmp_path)
    assert again.out == "fr: 0 sentences untranslated\n"
    assert "Pliez encore." in side.read_text("utf-8")


def test_nothing_to_look_for(tmp_path: Path) -> None:
    script(tmp_path)
    done = run("untranslated", "card.foldscript", cwd=tmp_path)
    assert done.code == 0
    assert "no script here has words in another language" in done.err
