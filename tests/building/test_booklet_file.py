"""Booklet files: what they may say, and messages that point at the line that is wrong."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foldscript.building.booklet.file import KEYS, MOST_MODELS, read_booklet
from foldscript.building.booklet.plan import BookletPlan
from foldscript.drawing.style.styles import load_style
from foldscript.pages.sizes import page_size
from foldscript.source import finding
from foldscript.source.diagnostics import Diagnostic, FoldscriptError
from tests.command import script

FIRST = 'title = "Club"\n'


def shelf(folder: Path, *names: str) -> None:
    for name in names or ("cup", "hat", "dog"):
        script(folder, name)


def booklet(folder: Path, text: str, name: str = "club") -> Path:
    path = folder / f"{name}.toml"
    path.write_text(text, encoding="utf-8")
    return path


def read(folder: Path, text: str) -> BookletPlan:
    return read_booklet(booklet(folder, text))


def faults(folder: Path, text: str) -> tuple[Diagnostic, ...]:
    with pytest.raises(FoldscriptError) as caught:
        read(folder, text)
    return caught.value.diagnostics


def position(fault: Diagnostic) -> tuple[int, int]:
    assert fault.source is not None
    assert fault.span is not None
    return fault.source.position(fault.span.start)


def names(plan: BookletPlan) -> list[str]:
    return [listed.name for listed in plan.models]


def test_a_short_file_will_do(tmp_path: Path) -> None:
    shelf(tmp_path)
    plan = read(tmp_path, FIRST + 'models = ["hat.foldscript", "cup.foldscript"]\n')
    assert (plan.name, plan.title) == ("club", "Club")
    assert names(plan) == ["hat", "cup"]
    assert plan.cover == ("hat", "cup")
    assert (plan.page.name, plan.style.name, plan.language) == ("A5", "colour", "en")
    assert not plan.by_level
    assert not plan.imposed
    assert plan.key


def test_a_booklet_may_go_without_the_key(tmp_path: Path) -> None:
    shelf(tmp_path)
    assert not read(tmp_path, FIRST + 'models = ["hat.foldscript"]\nkey = false\n').key


def test_everything_that_can_be_said(tmp_path: Path) -> None:
    shelf(tmp_path)
    plan = read(
        tmp_path,
        """\
title = "Paper on the Quay"
subtitle = "for the summer"
publisher = "the library"
introduction = '''
First.

Then.'''
credits = "Thanks."
licence = "Copy it."
language = "pt-BR"
models = ["cup.foldscript", "dog.foldscript", "hat.foldscript"]
order = "level"
page = "half letter"
style = "grey"
imposed = true
[cover]
figures = ["dog", "hat.foldscript"]
""",
    )
    assert plan.subtitle == "for the summer"
    assert plan.introduction.split("\n\n") == ["First.", "Then."]
    assert plan.by_level
    assert plan.imposed
    assert (plan.page.name, plan.style.name) == ("Half letter", "grey")
    assert plan.cover == ("dog", "hat")


def test_a_folder_stands_for_its_scripts(tmp_path: Path) -> None:
    shelf(tmp_path / "b", "cup", "hat")
    shelf(tmp_path, "ant")
    assert names(read(tmp_path, FIRST + 'models = ["b", "ant.foldscript"]')) == [
        "cup",
        "hat",
        "ant",
    ]
    assert read(tmp_path, FIRST + 'models = ["b"]\n[cover]\nfigures = []').cover == ()


def test_another_booklet_stands_for_its_models(tmp_path: Path) -> None:
    shelf(tmp_path)
    shelf(tmp_path / "winter", "star", "tree")
    booklet(tmp_path / "winter", 'models = ["tree.foldscript", "star.foldscript"]', "winter")
    plan = read(tmp_path, FIRST + 'models = ["cup.foldscript", "winter/winter.toml"]')
    assert names(plan) == ["cup", "tree", "star"]
    assert all(listed.script.exists() for listed in plan.models)


def test_a_style_file_lies_beside_the_booklet(tmp_path: Path) -> None:
    shelf(tmp_path)
    (tmp_path / "ours.toml").write_text("[roles]\nedge = { width = 2 }\n")
    plan = read(tmp_path, FIRST + 'models = ["cup.foldscript"]\nstyle = "ours.toml"')
    assert plan.style.ink("edge").width == pytest.approx(2.0)


def test_the_command_line_has_the_last_word(tmp_path: Path) -> None:
    shelf(tmp_path)
    path = booklet(tmp_path, FIRST + 'models = ["cup.foldscript"]\npage = "A6"\nstyle = "none"')
    plan = read_booklet(path, page_size("A4"), load_style("grey"))
    assert (plan.page.name, plan.style.name) == ("A4", "grey")


@pytest.mark.parametrize(
    ("text", "place", "code", "words"),
    [
        ('models = ["cup.foldscript"]', (1, 1), "no-title", "title"),
        (FIRST, (1, 1), "no-models", "models ="),
        (FIRST + "models = []", (2, 10), "no-models", ""),
        (FIRST + 'models = "cup.foldscript"', (2, 10), "bad-value", "list"),
        (
            FIRST + 'models = ["cup.foldscript",\n  "cap.foldscript"]',
            (3, 3),
            "missing-model",
            "cup",
        ),
        (FIRST + 'models = ["cup.foldscript", ""]', (2, 29), "missing-model", ""),
        (FIRST + 'models = ["cup.foldscript", 3]', (2, 29), "bad-value", "text"),
        (FIRST + 'models = ["notes.txt"]', (2, 11), "not-a-model", ".foldscript"),
        (FIRST + 'models = ["cup.foldscript", "cup.foldscript"]', (2, 29), "same-name", "once"),
        (FIRST + 'models = ["cup.foldscript", "more"]', (2, 29), "same-name", "rename"),
        (FIRST + 'models = ["empty"]', (2, 11), "no-scripts", ""),
        (FIRST + 'models = ["."]\npage = "A55"', (3, 8), "unknown-page-size", "A5"),
        (FIRST + 'models = ["."]\nstyle = "gray"', (3, 9), "unknown-style", "grey"),
        (FIRST + 'models = ["."]\norder = "levels"', (3, 9), "bad-value", "level"),
        (FIRST + 'models = ["."]\nimposed = "yes"', (3, 11), "bad-value", "true"),
        (FIRST + 'models = ["."]\nlanguage = "english!"', (3, 12), "bad-value", "en"),
        (FIRST + 'models = ["."]\nlink = "ftp://example.org"', (3, 8), "bad-value", "https://"),
        (FIRST + 'models = ["."]\nlink = "javascript:alert(1)"', (3, 8), "bad-value", "https://"),
        (FIRST + 'models = ["."]\nlink = "https://"', (3, 8), "bad-value", "site"),
        (FIRST + 'models = ["."]\nlink = "https://a b.org"', (3, 8), "bad-value", "spaces"),
        (FIRST + 'models = ["."]\nlink = "https://a.org:99999"', (3, 8), "bad-value", "address"),
        (FIRST + 'models = ["."]\nlink = "https://me:x@a.org"', (3, 8), "bad-value", "'@'"),
        (FIRST + f'models = ["."]\nlink = "https://a.org/{"x" * 200}"', (3, 8), "bad-value", "200"),
        (FIRST + 'models = ["."]\nlink = 3', (3, 8), "bad-value", "text"),
        (FIRST + 'models = ["."]\nsubtitel = "x"', (3, 1), "unknown-key", "subtitle"),
        (FIRST + 'models = ["."]\n[cover]\nfigurs = []', (4, 1), "unknown-key", "figures"),
        (FIRST + 'models = ["."]\n[cover]\nfigures = ["dig"]', (4, 12), "missing-model", "dog"),
        (FIRST + 'models = ["."', (2, 14), "not-toml", ""),
    ],
)
def test_a_mistake_is_told_at_its_place(
    tmp_path: Path, text: str, place: tuple[int, int], code: str, words: str
) -> None:
    shelf(tmp_path)
    (tmp_path / "notes.txt").write_text("no script")
    if '"more"' in text:
        shelf(tmp_path / "more", "Cup")
    if '"empty"' in text:
        (tmp_path / "empty").mkdir()
    (fault,) = faults(tmp_path, text)
    assert fault.code == code
    assert position(fault) == place
    assert fault.source is not None
    assert fault.source.name.endswith("club.toml")
    assert words in " ".join([fault.message, *(hint.text for hint in fault.hints)])


def test_several_mistakes_come_at_once(tmp_path: Path) -> None:
    shelf(tmp_path)
    found = faults(tmp_path, 'titel = "x"\npage = "A99"\nmodels = ["cap.foldscript"]')
    assert {fault.code for fault in found} == {
        "no-title",
        "unknown-key",
        "unknown-page-size",
        "missing-model",
    }


def test_booklets_in_a_circle(tmp_path: Path) -> None:
    booklet(tmp_path, 'models = ["two.toml"]', "one")
    booklet(tmp_path, 'models = ["one.toml"]', "two")
    (fault,) = faults(tmp_path, FIRST + 'models = ["one.toml"]')
    assert fault.code == "circle"
    assert "one.toml → two.toml → one.toml" in fault.message
    assert fault.source is not None
    assert fault.source.name.endswith("two.toml")
    assert position(fault) == (1, 11)
    (own,) = faults(tmp_path, FIRST + 'models = ["club.toml"]')
    assert (own.code, position(own)) == ("circle", (2, 11))


def test_a_mistake_in_a_booklet_within_is_told_there(tmp_path: Path) -> None:
    booklet(tmp_path, 'models = [\n  "nowhere.foldscript"]', "inner")
    (fault,) = faults(tmp_path, FIRST + 'models = ["inner.toml"]')
    assert fault.code == "missing-model"
    assert fault.source is not None
    assert fault.source.name.endswith("inner.toml")
    assert position(fault) == (2, 3)


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "club.toml"
    path.write_bytes(b'title = "caf\xe9"')
    with pytest.raises(FoldscriptError) as caught:
        read_booklet(path)
    assert caught.value.diagnostics[0].code == "not-utf-8"


def test_the_guide_names_every_key() -> None:
    text = (Path(__file__).parents[2] / "docs/how-to/booklet.md").read_text("utf-8")
    table = text.split("| key | what it says |")[1].split("\n\n")[0]
    told = re.findall(r"`(\w+)`", " ".join(row.split("|")[1] for row in table.splitlines()[2:]))
    assert set(told) - {"figures"} | {"cover"} == set(KEYS)


def test_the_readme_s_booklet_is_read(tmp_path: Path) -> None:
    text = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
    shelf(tmp_path, "cup", "helmet")
    shelf(tmp_path / "more", "star")
    example, style = re.findall(r"^```toml\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    assert names(read(tmp_path, example)) == ["cup", "helmet", "star"]
    (tmp_path / "ours.toml").write_text(style, encoding="utf-8")
    assert load_style(tmp_path / "ours.toml").ink("sign").stroke == "#7a1f1f"


# --- limits -----------------------------------------------------------------------------------------


def test_a_booklet_listed_twice_is_read_once(tmp_path: Path) -> None:
    shelf(tmp_path)
    booklet(tmp_path, FIRST + 'models = ["cup.foldscript"]\n', "b8")
    for k in range(8):
        text = FIRST + f'models = ["b{k + 1}.toml", "b{k + 1}.toml"]\n'
        booklet(tmp_path, text, f"b{k}")
    with pytest.raises(FoldscriptError) as caught:
        read_booklet(tmp_path / "b0.toml")
    told = {fault.message for fault in caught.value.diagnostics}
    assert told <= {f"'{tmp_path / f'b{k}.toml'}' is listed twice" for k in range(1, 9)}
    assert len(caught.value.diagnostics) <= 8


def test_a_folder_listed_twice_is_searched_once(tmp_path: Path) -> None:
    shelf(tmp_path)
    (fault,) = faults(tmp_path, FIRST + 'models = [".", "."]\n')
    assert (fault.code, position(fault)) == ("same-name", (2, 16))


def test_chains_of_booklets_have_an_end(tmp_path: Path) -> None:
    shelf(tmp_path)
    for k in range(600):
        booklet(tmp_path, FIRST + f'models = ["b{k + 1}.toml"]\n', f"b{k}")
    with pytest.raises(FoldscriptError) as caught:
        read_booklet(tmp_path / "b0.toml")
    (fault,) = caught.value.diagnostics
    assert fault.message == "more than 10 booklets hold one another"


def test_models_have_a_number(tmp_path: Path) -> None:
    shelf(tmp_path, *(f"m{k}" for k in range(MOST_MODELS + 2)))
    (fault,) = faults(tmp_path, FIRST + 'models = ["."]\n')
    assert (fault.code, position(fault)) == ("too-many-models", (2, 11))


def test_a_folder_that_is_no_shelf_ends_the_search(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf(tmp_path / "a", "cup", "hat")
    shelf(tmp_path / "b", "dog", "cat")
    monkeypatch.setattr(finding, "MOST_ENTRIES", 1)
    (fault,) = faults(tmp_path, FIRST + 'models = ["a", "b", "no.foldscript"]\n')
    assert fault.code == "folder-too-large"


@pytest.mark.parametrize("digits", [100, 300, 5000])
def test_huge_numbers_are_refused(tmp_path: Path, digits: int) -> None:
    shelf(tmp_path)
    text = FIRST + f'models = ["cup.foldscript"]\ncreep = {"9" * digits}\n'
    (fault,) = faults(tmp_path, text)
    assert position(fault) == (3, 9)
    assert len(fault.message) < 150


def test_a_script_is_no_booklet(tmp_path: Path) -> None:
    path = script(tmp_path, "cup")
    with pytest.raises(FoldscriptError) as caught:
        read_booklet(path)
    (fault,) = caught.value.diagnostics
    assert fault.code == "not-a-booklet"
    assert "foldscript build" in fault.hints[0].text
