"""Crease patterns as files: true size, patterns of lines, layers by the craft's words, same bytes."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest

from foldscript.building import handout
from foldscript.building.script import Script
from foldscript.folding.steps import Model
from foldscript.output.creases import creases_dxf
from foldscript.source.diagnostics import FoldscriptError

ROOT = Path(__file__).parents[2]
WATERBOMB = ROOT / "samples" / "bases" / "waterbomb-base.foldscript"


def built(tmp_path: Path, *formats: str, page: str = "A4", style: str = "colour") -> list[Path]:
    options = handout.build_options(formats, page, style)
    return list(handout.build(WATERBOMB, tmp_path, options).files)


def waterbomb() -> Model:
    return Script(WATERBOMB).model


@pytest.mark.parametrize("style", ["colour", "large"])
def test_svg_is_as_large_as_the_sheet(tmp_path: Path, style: str) -> None:
    """150 mm are 425.2 points; large print never enlarges a pattern."""
    (path,) = built(tmp_path, "creases", style=style)
    text = path.read_text("utf-8")
    assert path.name == "waterbomb-base-creases.svg"
    size = re.search(r'width="([\d.]+)pt"', text)
    assert size
    assert float(size[1]) == pytest.approx(150 / 25.4 * 72 + 16, abs=0.01)
    assert 'class="fold mountain"' in text
    assert 'class="fold valley"' in text


def test_mountain_and_valley_differ_by_pattern(tmp_path: Path) -> None:
    (path,) = built(tmp_path, "creases", style="grey")
    dashes = set(re.findall(r'stroke-dasharray="([\d. ]+)"', path.read_text("utf-8")))
    assert len({len(dash.split()) for dash in dashes}) == 2


@pytest.mark.parametrize(("page", "width"), [("A4", 595.28), ("Letter", 612.0), ("A6", 493.2)])
def test_pdf_stands_on_the_page_or_on_one_made_to_measure(
    tmp_path: Path, page: str, width: float
) -> None:
    """150 mm and two margins of 12 mm are 493.2 points."""
    (path,) = built(tmp_path, "creases-pdf", page=page)
    with pikepdf.open(io.BytesIO(path.read_bytes())) as pdf:
        (only,) = pdf.pages
        box = [float(v) for v in only.mediabox.as_list()]  # pyright: ignore[reportArgumentType]
        assert box[2] == pytest.approx(width, abs=0.1)


def test_dxf_layers_are_the_craft_s_words() -> None:
    ezdxf = pytest.importorskip("ezdxf")
    document = ezdxf.read(io.StringIO(creases_dxf(waterbomb()).decode()))
    names = {layer.dxf.name for layer in document.layers} - {"0", "Defpoints"}
    assert names == {"edge", "mountain", "valley", "crease", "cut"}
    valley, mountain = document.layers.get("valley"), document.layers.get("mountain")
    assert valley.dxf.linetype != mountain.dxf.linetype
    assert not document.audit().errors


def test_dxf_is_the_same_whatever_the_order_of_sets() -> None:
    pytest.importorskip("ezdxf")
    code = (
        "import sys; from tests.output.test_creases import creases_dxf, waterbomb; "
        "sys.stdout.buffer.write(creases_dxf(waterbomb()))"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=ROOT,
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "4", "7")  # their orders differed
    }
    assert made == {creases_dxf(waterbomb())}


def test_dxf_lines_are_millimetres_from_the_lower_left_corner() -> None:
    """The waterbomb base of a 150 mm square: V and M through the centre (75, 75) (derived)."""
    ezdxf = pytest.importorskip("ezdxf")
    document = ezdxf.read(io.StringIO(creases_dxf(waterbomb()).decode()))
    assert document.header["$INSUNITS"] == 4  # millimetres (DXF reference)
    space = document.modelspace()
    (outline,) = space.query("LWPOLYLINE")
    assert {(round(p[0], 6), round(p[1], 6)) for p in outline.get_points()} == {
        (0, 0),
        (150, 0),
        (150, 150),
        (0, 150),
    }
    by_layer: dict[str, set[tuple[float, ...]]] = {}
    for line in space.query("LINE"):
        ends = sorted(
            tuple(round(v, 6) for v in (p.x, p.y)) for p in (line.dxf.start, line.dxf.end)
        )
        by_layer.setdefault(line.dxf.layer, set()).add((*ends[0], *ends[1]))
    folds = by_layer["valley"] | by_layer["mountain"]
    assert (0, 0, 150, 150) in folds
    assert (0, 150, 150, 0) in folds
    assert set(by_layer) <= {"valley", "mountain", "crease"}


def test_same_model_same_bytes(tmp_path: Path) -> None:
    pytest.importorskip("ezdxf")
    formats = ("creases", "creases-pdf", "creases-dxf")
    first = [path.read_bytes() for path in built(tmp_path / "a", *formats)]
    second = [path.read_bytes() for path in built(tmp_path / "b", *formats)]
    assert first == second


def test_without_ezdxf_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    with pytest.raises(FoldscriptError) as caught:
        creases_dxf(waterbomb())
    (fault,) = caught.value.diagnostics
    assert fault.code == "missing-ezdxf"
    assert any("foldscript[dxf]" in hint.text for hint in fault.hints)
