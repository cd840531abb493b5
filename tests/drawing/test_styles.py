"""Styles: every role has a look, patterns carry the meaning, ink is dark enough to read."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.drawing.scene.scene import Path as Stroke
from foldscript.drawing.signs.registry import glyphs
from foldscript.drawing.style.styles import Style, load_style, style_names
from foldscript.source.diagnostics import FoldscriptError

#: The styles for white paper.
STYLES = [load_style(name) for name in ("colour", "grey")]


@pytest.fixture(params=STYLES, ids=lambda s: s.name)
def style(request: pytest.FixtureRequest) -> Style:
    return request.param


def test_the_shipped_styles() -> None:
    assert {"colour", "grey"} <= set(style_names())
    assert load_style("grey") is load_style("grey")


def test_mountain_and_valley_differ_by_pattern(style: Style) -> None:
    """And by nothing else, so that a photocopy reads the same."""
    valley, mountain = style.ink("fold.valley"), style.ink("fold.mountain")
    assert len(valley.dash) == 2
    assert len(mountain.dash) > 2
    assert (valley.stroke, valley.width) == (mountain.stroke, mountain.width)


def test_weights_are_ranked(style: Style) -> None:
    """Edges heaviest, then folds, then earlier creases (common practice)."""
    edge, fold, crease = (style.ink(r).width for r in ("edge.raw", "fold.valley", "crease"))
    assert edge > fold > crease > 0.25
    assert not style.ink("edge.raw").dash
    assert not style.ink("crease").dash
    assert style.ink("fold.hidden").dash[0] < 0.05  # dots


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(a: str, b: str) -> float:
    hi, lo = sorted((luminance(a), luminance(b)), reverse=True)
    return (hi + 0.05) / (lo + 0.05)


def test_ink_stands_out(style: Style) -> None:
    """WCAG 2.2: 3:1 for lines (1.4.11), 4.5:1 for text (1.4.3), on plain paper and on every tint."""
    papers = ["#ffffff", *style.tints.values()]
    papers += [str(style.ink(r).fill) for r in ("paper.coloured", "paper.plain")]
    for paper in papers:
        for role in ("edge.raw", "crease", "fold.valley", "line.guide", "arrow.head", "mark.ring"):
            ink = style.ink(role)
            assert contrast(ink.stroke or ink.fill or "", paper) >= 3, (role, paper)
        for role in ("text.label", "text.sign"):
            assert contrast(style.ink(role).fill or "", paper) >= 4.5, (role, paper)


def test_the_tint_is_light(style: Style) -> None:
    """10 to 25 % (common practice): told from white, never heavy."""
    tint = luminance(style.ink("paper.coloured").fill or "")
    assert 0.6 < tint < 0.9


def test_roles_fall_back_to_their_parents(style: Style) -> None:
    assert style.ink("edge.raw.anything") == style.ink("edge")
    assert style.ink("paper.coloured.no-such-colour") == style.ink("paper.coloured")
    assert style.ink("paper.plain.white").fill == "#ffffff"
    with pytest.raises(KeyError):
        style.ink("nonsense")


def test_every_sign_has_a_look(style: Style) -> None:
    for glyph in glyphs().values():
        for item in glyph.sample(style):
            ink = style.ink(item.role)
            assert ink.stroke or ink.fill
            assert not isinstance(item, Stroke) or item.segments


def test_a_named_paper_colour_becomes_a_tint() -> None:
    assert load_style("colour").ink("paper.coloured.blue").fill != (
        load_style("colour").ink("paper.coloured").fill
    )
    assert load_style("grey").ink("paper.coloured.blue") == (
        load_style("grey").ink("paper.coloured")
    )


def test_unknown_style_is_told_with_a_suggestion() -> None:
    with pytest.raises(FoldscriptError) as told:
        load_style("gray")
    (fault,) = told.value.diagnostics
    assert fault.code == "unknown-style"
    assert "grey" in " ".join(h.text for h in fault.hints)


def test_a_style_of_ones_own(tmp_path: Path) -> None:
    own = tmp_path / "mine.toml"
    source = Path(__file__).parents[2] / "foldscript/drawing/style/grey.toml"
    own.write_text(source.read_text("utf-8").replace("gap = 1.5", "gap = 2.5"), "utf-8")
    assert load_style(own).layer_gap == 2.5
    own.write_text("[roles", "utf-8")
    with pytest.raises(FoldscriptError):
        load_style(own)
    with pytest.raises(FoldscriptError):
        load_style(tmp_path / "none.toml")
