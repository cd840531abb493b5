"""Pictures: size in dots, resolution, white paper."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from foldscript.drawing.style.styles import load_style
from foldscript.output import cairo
from foldscript.output.fonts import measure
from foldscript.output.png import page_png, scene_png
from foldscript.pages.grid import grid
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError
from tests.pages.fakes import figures, handout_of, model, scene

STYLE = load_style("colour")


def opened(png: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(png))
    image.load()
    return image


@pytest.mark.parametrize("dpi", [72, 144, 300])
def test_a_point_is_a_72nd_of_an_inch(dpi: int) -> None:
    image = opened(scene_png(scene(144.0, 72.0), STYLE, dpi))
    assert image.size == (2 * dpi, dpi)
    assert image.info["dpi"] == pytest.approx((dpi, dpi), abs=0.02)


def test_the_paper_is_white_and_the_figure_is_not() -> None:
    image = opened(scene_png(scene(100.0, 100.0), STYLE, 72))
    assert image.convert("RGBA").getchannel("A").getextrema() == (255, 255)
    image = image.convert("RGB")
    assert image.getpixel((0, 0)) == (255, 255, 255)
    assert image.getpixel((50, 30)) != (255, 255, 255)


def test_a_page_as_a_picture() -> None:
    size = page_size("Letter")
    document = handout_of(model(3), figures(3, grid(size).frame), None, [], size, measure)
    image = opened(page_png(document.pages[0], STYLE, 100))
    assert image.size == (850, 1100)
    assert image.convert("RGB").getpixel((5, 5)) == (255, 255, 255)


def test_same_scene_same_bytes() -> None:
    assert scene_png(scene(60.0, 60.0), STYLE, 144) == scene_png(scene(60.0, 60.0), STYLE, 144)


def test_missing_cairo_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail() -> None:
        raise OSError('no library called "cairo-2" was found')

    monkeypatch.setattr(cairo, "ready_cairo", fail)
    with pytest.raises(FoldscriptError) as caught:
        scene_png(scene(9.0, 9.0), STYLE, 72)
    assert caught.value.diagnostics[0].code == "missing-cairo"
