"""Style files of a person's own: only what differs is said, and mistakes are told at their line."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

import pytest

from foldscript.drawing.style.style_files import own_style, shipped_style
from foldscript.drawing.style.styles import load_style, style_names
from foldscript.source.diagnostics import FoldscriptError


def own(folder: Path, text: str) -> Path:
    path = folder / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_an_empty_file_is_the_colour_style(tmp_path: Path) -> None:
    style, colour = load_style(own(tmp_path, "")), load_style("colour")
    assert style.roles == colour.roles
    assert style.tints == colour.tints
    assert style.layer_gap == colour.layer_gap
    assert style.name == "mine"


def test_only_what_is_said_changes(tmp_path: Path) -> None:
    text = """\
    based_on = "grey"
    enlarged = 1.25

    [colours]
    sign = "#7A1F1F"

    [layers]
    spread = 7

    [tints]
    blue = "#ccddee"

    [roles]
    "fold.valley" = { width = 1.1 }
    "text.title" = { fill = "sign" }
    page.rule = { width = 1 }
    crease = { dash = [1, 2] }
    "edge.hidden" = { dash = [] }
    """
    style, grey = load_style(own(tmp_path, text)), load_style("grey")
    assert style.enlarged == pytest.approx(1.25)
    assert style.layer_spread == pytest.approx(7.0)
    assert style.layer_gap == grey.layer_gap
    assert style.ink("arrow").stroke == "#7a1f1f"
    assert style.ink("paper.coloured.blue").fill == "#ccddee"
    assert style.ink("paper.coloured.white") == grey.ink("paper.coloured.white")
    valley, before = style.ink("fold.valley"), grey.ink("fold.valley")
    assert valley.width == pytest.approx(1.1)
    assert (valley.dash, valley.stroke, valley.cap) == (before.dash, before.stroke, before.cap)
    assert style.ink("fold.mountain") == grey.ink("fold.mountain")
    assert style.ink("text.title").fill == "#7a1f1f"
    assert style.ink("text.caption") == grey.ink("text.caption")
    assert style.ink("page.rule").width == pytest.approx(1.0)
    assert style.ink("page.rule").stroke == grey.ink("page.rule").stroke
    assert style.ink("crease").dash == (1.0, 2.0)
    assert style.ink("edge.hidden").dash == ()


@pytest.mark.parametrize(
    ("text", "place", "code", "hint"),
    [
        ('based_on = "gray"', (1, 12), "bad-value", "grey"),
        ("[color]\nink = '#000000'", (1, 2), "unknown-key", "colours"),
        ("[text]\nlable = 9", (2, 1), "unknown-key", "label"),
        ("[text]\nlabel = 'big'", (2, 9), "bad-value", ""),
        ("enlarged = 40", (1, 12), "bad-value", ""),
        ("[colours]\nink = 'black'", (2, 7), "bad-colour", "six digits"),
        ("[colours]\nink = '#12345'", (2, 7), "bad-colour", "six digits"),
        ("[tints]\nblue = 7", (2, 8), "bad-value", ""),
        ("[roles]\n'fold.vally' = { width = 1 }", (2, 1), "unknown-role", "fold.valley"),
        ("[roles]\nnonsense.width = 1", (2, 1), "unknown-role", ""),
        ("[roles]\nedge = 3", (2, 8), "bad-value", ""),
        ("[roles]\nedge = { widht = 1 }", (2, 10), "unknown-key", "width"),
        ("[roles]\nedge = { width = -1 }", (2, 18), "bad-value", ""),
        ("[roles]\nedge = { stroke = 'sing' }", (2, 19), "bad-colour", "sign"),
        ("[roles]\nedge = { cap = 'flat' }", (2, 16), "bad-value", "butt"),
        ("[roles]\ncrease = { dash = [1,\n  'x'] }", (3, 3), "bad-value", ""),
        ("[roles]\ncrease = { dash = [0, 0] }", (2, 19), "bad-value", "solid"),
        ("[roles]\ncrease = {", (2, 11), "not-toml", ""),
    ],
)
def test_a_mistake_is_told_at_its_place(
    tmp_path: Path, text: str, place: tuple[int, int], code: str, hint: str
) -> None:
    path = own(tmp_path, text)
    with pytest.raises(FoldscriptError) as caught:
        load_style(path)
    (fault,) = caught.value.diagnostics
    assert fault.code == code
    assert fault.source is not None
    assert fault.source.name == str(path)
    assert fault.span is not None
    assert fault.source.position(fault.span.start) == place
    assert hint in " ".join(h.text for h in fault.hints)


def test_all_mistakes_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(FoldscriptError) as caught:
        load_style(own(tmp_path, "enlarged = 'x'\n[roles]\nedge = 1\n'fold.vally' = {}\n"))
    assert [fault.code for fault in caught.value.diagnostics] == [
        "bad-value",
        "bad-value",
        "unknown-role",
    ]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(FoldscriptError) as caught:
            load_style(path if path.suffix else f"{own(tmp_path, '')}/x.toml")
        assert caught.value.diagnostics[0].code == "cannot-read"
    latin = tmp_path / "latin.toml"
    latin.write_bytes(b"based_on = 'caf\xe9'")
    with pytest.raises(FoldscriptError) as caught:
        load_style(latin)
    assert caught.value.diagnostics[0].code == "not-utf-8"


def test_large_print_is_half_as_large_again() -> None:
    """18 point captions (shared practice: 16 to 18 in large print), where 12 are usual."""
    large = load_style("large")
    assert 12.0 * large.enlarged == pytest.approx(18.0)
    assert large.label * large.enlarged >= 16.0


def test_a_shipped_style_need_not_say_anything_of_roles(tmp_path: Path) -> None:
    """One that differs in its colours alone: styles of one's own are read beside it, or based on it."""
    folder = resources.files("foldscript.drawing.style")
    shipped = {name: (folder / f"{name}.toml").read_text("utf-8") for name in style_names()}
    shipped["sepia"] = 'based_on = "colour"\n[colours]\nink = "#3a2a1a"\n'
    plain = own_style(own(tmp_path, ""), shipped)
    assert plain.roles == load_style("colour").roles
    based = own_style(own(tmp_path, 'based_on = "sepia"\n'), shipped)
    assert (
        based.ink("edge").stroke == "#3a2a1a" == shipped_style("sepia", shipped).ink("edge").stroke
    )


def test_a_font_lies_beside_the_style(tmp_path: Path) -> None:
    (tmp_path / "ours.ttf").write_bytes(b"some letters")
    style = load_style(own(tmp_path, '[text]\nfonts = ["ours.ttf"]\n'))
    (font,) = style.fonts
    assert Path(font.path) == tmp_path / "ours.ttf"
    before = font.digest
    (tmp_path / "ours.ttf").write_bytes(b"other letters")
    (again,) = load_style(own(tmp_path, '[text]\nfonts = ["ours.ttf"]\n')).fonts
    assert again.digest != before  # pages are made anew
    assert load_style("colour").fonts == ()


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ('fonts = ["none.ttf"]', "no-font"),
        ('fonts = ["mine.toml"]', "bad-font"),
        ('fonts = "ours.ttf"', "bad-value"),
        ("fonts = [3]", "bad-value"),
    ],
)
def test_a_font_that_is_none_is_told_at_its_place(tmp_path: Path, said: str, code: str) -> None:
    with pytest.raises(FoldscriptError) as caught:
        load_style(own(tmp_path, f"[text]\n{said}\n"))
    (fault,) = caught.value.diagnostics[:1]
    assert fault.code == code
    assert fault.span is not None  # the value, not the whole file
    text = f"[text]\n{said}\n"
    assert text[fault.span.start : fault.span.end] in said.partition("= ")[2]
