"""Nothing hangs on hue: what must be told apart differs by pattern, weight, shape or lightness."""

from __future__ import annotations

from itertools import combinations

import pytest

from foldscript.drawing.scene.scene import Path, Text
from foldscript.drawing.signs.key import legend, sign_keys
from foldscript.drawing.style.contrast import contrast
from foldscript.drawing.style.styles import load_style, style_names

LINES = (
    "edge",
    "edge.under",
    "fold.valley",
    "fold.mountain",
    "fold.hidden",
    "crease",
    "line.guide",
)


@pytest.mark.parametrize("name", style_names())
@pytest.mark.parametrize(("one", "other"), list(combinations(LINES, 2)))
def test_lines_differ_by_pattern_or_weight(name: str, one: str, other: str) -> None:
    """Of two kinds of lines either the dashes differ, or one is heavier by a quarter or more."""
    a, b = load_style(name).ink(one), load_style(name).ink(other)
    if len(a.dash) == len(b.dash) and (not a.dash or a.dash[0] == pytest.approx(b.dash[0])):
        heavy, light = max(a.width, b.width), min(a.width, b.width)
        assert heavy >= 1.25 * light


@pytest.mark.parametrize("name", style_names())
def test_the_sides_of_the_paper_differ_by_lightness(name: str) -> None:
    style = load_style(name)
    sides = [style.ink(f"paper.{side}").fill or "#ffffff" for side in ("coloured", "plain")]
    assert contrast(*sides) > 1.15


@pytest.mark.parametrize("name", style_names())
def test_no_two_signs_look_alike_in_grey(name: str) -> None:
    """Shapes, dashes and weights of a sample, without its colours, belong to one sign alone."""
    style = load_style(name)
    seen: dict[str, str] = {}
    for key in sign_keys():
        ((_, scene),) = legend([key], style)
        looks: list[object] = []
        for item in scene.items:
            ink = style.ink(item.role)
            if isinstance(item, Path):
                looks.append((item.segments, ink.width, ink.dash, ink.fill is None))
            elif isinstance(item, Text):
                looks.append((item.text, item.at))
        if key.startswith("paper."):
            looks.append(key)  # told apart by lightness, above
        look = repr(looks)
        assert look not in seen, (key, seen.get(look))
        seen[look] = key
