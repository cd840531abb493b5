"""Every style can be read: contrast of all inks on all they may lie on."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foldscript.drawing.style.contrast import contrast, faint, luminance
from foldscript.drawing.style.style_files import known_roles
from foldscript.drawing.style.styles import load_style, style_names

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("colour", "ratio"),
    [("#767676", 4.54), ("#949494", 3.03), ("#000000", 21.0), ("#ffffff", 1.0)],
)
def test_contrast_with_white(colour: str, ratio: float) -> None:
    """WCAG 2.2, relative luminance and contrast ratio: the darkest greys that just do on white."""
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=0.005)
    assert contrast("#ffffff", colour) == contrast(colour, "#ffffff")


def test_luminance_of_the_three_lights() -> None:
    """WCAG 2.2: L = 0.2126 R + 0.7152 G + 0.0722 B."""
    lights = [luminance(colour) for colour in ("#ff0000", "#00ff00", "#0000ff")]
    assert lights == pytest.approx([0.2126, 0.7152, 0.0722])


@pytest.mark.parametrize("name", style_names())
def test_nothing_is_faint(name: str) -> None:
    """3:1 for lines (WCAG 2.2, 1.4.11), 4.5:1 for text (1.4.3), on page, paper and every tint."""
    assert faint(load_style(name)) == ()


@pytest.mark.parametrize("name", style_names())
def test_the_sides_of_the_paper_can_be_told_apart(name: str) -> None:
    """By their lightness: a photocopy has no hue."""
    style = load_style(name)
    sides = [style.ink(f"paper.{side}").fill or "" for side in ("plain", "coloured")]
    assert contrast(*sides) > 1.2


def test_a_pale_line_and_a_pale_letter_are_noticed(tmp_path: Path) -> None:
    own = tmp_path / "pale.toml"
    own.write_text('[roles]\ncrease = { stroke = "#bbbbbb" }\n"text.soft" = { fill = "#888888" }\n')
    style = load_style(own)
    roles = {found.role for found in faint(style)}
    assert roles == {"crease", "text.soft"}
    (note,) = style.notes
    assert note.code == "faint-ink"
    assert "'crease' on the page (1.9:1)" in note.message


def roles_in_the_code() -> set[str]:
    """Role names written anywhere in the stages that make paths and texts, and beside path data."""
    families = "paper|edge|crease|fold|line|arrow|sign|mark|leader|text|page"
    found: set[str] = set()
    for folder in ("drawing", "pages", "output"):
        for path in (ROOT / "foldscript" / folder).rglob("*.py"):
            text = path.read_text("utf-8")
            found |= set(
                re.findall(rf'(?:Path|Text|rule)\([^()"]*"((?:{families})[a-z.-]*)"', text)
            )
            found |= set(re.findall(r'"((?:text|page)\.[a-z-]+)"', text))
            found |= set(re.findall(rf'"((?:{families})[a-z.-]*)",\s*"M ', text))
    return found


def test_every_role_that_is_drawn_may_be_named_in_a_style() -> None:
    folder = ROOT / "foldscript" / "drawing" / "style"
    known = known_roles({path.stem: path.read_text("utf-8") for path in folder.glob("*.toml")})
    drawn = roles_in_the_code()
    assert len(drawn) > 25
    assert drawn <= set(known)
