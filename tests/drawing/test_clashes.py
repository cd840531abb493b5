"""Signs keep clear of each other, of letters and of the frame: on every sample, base and page size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.drawing.clashes import allowed, clashes, score
from foldscript.drawing.figure import compose
from foldscript.drawing.framing.framing import framings
from foldscript.drawing.scene.groups import Group
from foldscript.drawing.scene.scene import Draw, Move, Text
from foldscript.drawing.scene.scene import Path as Line
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model, Panel
from foldscript.languages.unit_names import letter_of
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import PointSign

from .crowded import known

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SCRIPTS = sorted(SAMPLES.rglob("*.foldscript"))
FRAME = (140.0, 140.0)


@cache
def checked(path: Path) -> Model:
    return Script(path).model


@cache
def sketched(path: Path, page: str, style_name: str) -> list[tuple[str, tuple[Group, ...]]]:
    """(figure, its groups) of a model, the finished one last."""
    model, style = checked(path), load_style(style_name)
    frame = figure_frame(page_size(page), style.enlarged)
    tagged = [(f"step {s.number}", p) for s in model.steps for p in s.panels]
    tagged.append(("finished", Panel(model.finished, ())))
    found = framings([panel for _, panel in tagged], style, frame)
    return [
        (f"{path.stem}, {where}", tuple(compose(model, panel, framing, style).groups))
        for (where, panel), framing in zip(tagged, found, strict=True)
    ]


#: Known faults of these tests.
CROWDED = {"crane", "dog", "fish", "flapping-bird", "frame", "frog", "kimono", "swan"}


@pytest.mark.parametrize("path", known(SCRIPTS, CROWDED), ids=lambda p: p.stem)
def test_no_sign_covers_another_or_leaves_the_frame(path: Path) -> None:
    frame = figure_frame(page_size("A4"))
    bad = {
        where: found
        for where, groups in sketched(path, "A4", "colour")
        if (found := clashes(groups, frame))
    }
    assert not bad


@pytest.mark.parametrize(("page", "style"), [("A5", "grey"), ("A4", "large")])
def test_nor_where_frames_are_small_or_letters_large(page: str, style: str) -> None:
    """Smaller frames leave less room; a few points more may be shared, and nothing leaves the frame."""
    frame = figure_frame(page_size(page), load_style(style).enlarged)
    for name in ("helmet", "boat", "cup"):
        for where, groups in sketched(SAMPLES / f"{name}.foldscript", page, style):
            found = clashes(groups, frame)
            assert not [c for c in found if c.other == "frame"], where
            assert score(groups, frame) < 8.0, (where, found)


@pytest.mark.parametrize("page", ["A4", "A5"])
@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_a_scale_sign_stands_free_in_large_print(path: Path, page: str) -> None:
    """Its letters are larger there: it needs more room beside the paper, rings and letters."""
    if page == "A4" and path.stem in ("frame", "kimono", "swan"):
        pytest.xfail("crowded in its narrow frame")
    frame = figure_frame(page_size(page), load_style("large").enlarged)
    for where, groups in sketched(path, page, "large"):
        found = clashes(groups, frame)
        assert not [c for c in found if "scale" in (c.kind, c.other)], where


STYLES_AND_PAGES = [
    ("large", "A5"),
    ("large", "A4"),
    ("large", "A5 landscape"),
    ("colour", "A4"),
    ("colour", "A5 landscape"),
]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_every_letter_is_drawn(path: Path) -> None:
    """In its figure or in the circle beside it, however small the frame and large the letters.

    So is how often something is done on points that lie together.
    """
    panels = [panel for s in checked(path).steps for panel in s.panels]
    wanted = [{*(letter_of(name) for name, _ in panel.letters), *counts(panel)} for panel in panels]
    for style, page in STYLES_AND_PAGES:
        for names, (where, groups) in zip(wanted, sketched(path, page, style), strict=False):
            drawn = letters([group for group in groups if group.kind != "unit"])
            assert names == set(drawn), (where, style, page)


def counts(panel: Panel) -> set[str]:
    """What tells how often something is done: '4×', where no letters tell it."""
    return {
        f"{s.count}×"
        for s in panel.signs
        if isinstance(s, PointSign)
        and s.count > max(1, sum(math.dist(s.at, p) < 1e-6 for _, p in panel.letters))
    }


def test_the_lily_tells_how_many_petals_are_curled() -> None:
    assert set().union(
        *(counts(p) for p in checked(SAMPLES / "lily.foldscript").steps[-1].panels)
    ) == {"4×"}


def letters(groups: Sequence[Group]) -> list[str]:
    """Every letter at a point, those written together each for itself."""
    items = [i for g in groups for i in g.items if isinstance(i, Text) and i.role == "text.label"]
    return [name for item in items for name in item.text.split(", ")]


def level(kind: str, y: float, start: float = 20.0, end: float = 100.0) -> Group:
    return Group(kind, (Line("fold.valley", (Move((start, y)), Draw((end, y)))),))


def test_a_letter_on_a_fold_line_is_found() -> None:
    letter = Group("label", (Text("text.label", (60.0, 53.0), "M", 8.5, "middle"),))
    (clash,) = clashes([level("fold", 50.0), letter], FRAME)
    assert {clash.kind, clash.other} == {"fold", "label"}
    assert clash.amount > clash.allowed == allowed("fold", "label") == allowed("label", "fold")
    assert not clashes([level("fold", 70.0), letter], FRAME)


def test_what_leaves_the_frame_is_found() -> None:
    (clash,) = clashes([level("fold", 50.0, end=143.0)], FRAME)
    assert clash.other == "frame"
    assert clash.amount == pytest.approx(3.0)


def test_arrows_may_cross_but_not_run_together() -> None:
    across = Group("arrow", (Line("arrow.shaft", (Move((60.0, 20.0)), Draw((60.0, 90.0)))),))
    along = Group("arrow", (Line("arrow.shaft", (Move((20.0, 50.2)), Draw((100.0, 50.2)))),))
    one = Group("arrow", level("arrow", 50.0).items)
    assert not clashes([one, across], FRAME)
    assert score([one, along], FRAME) > 50


def test_a_sign_between_figures_stands_alone() -> None:
    sign = Group(
        "scale", level("scale", 50.0, 10.0, 40.0).items + level("scale", 60.0, 10.0, 40.0).items
    )
    assert clashes([sign, level("arrow", 55.0)], FRAME)
