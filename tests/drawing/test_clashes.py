"""Signs keep clear of each other, of letters and of the frame: on every sample, base and page size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from foldscript.drawing.scene.groups import Group, moved
from foldscript.drawing.scene.scene import Draw, Move, Text
from foldscript.drawing.scene.scene import Path as Line
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model, Panel
from foldscript.languages.unit_names import letter_of
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import PointSign

from ..sample_scripts import SAMPLES, SCRIPTS, sample
from .clashes import Clash, allowed, clashes, gap, score
from .composed import composed

FRAME = (140.0, 140.0)
#: How far signs of layers keep off other signs (points).
LAYERS_CLEAR = 2.0


def checked(path: Path) -> Model:
    return sample(path.stem).model


@dataclass(frozen=True)
class Figure:
    """One figure: what it is called, what it shows, its groups of ink, and the room they have."""

    where: str
    panel: Panel
    groups: tuple[Group, ...]
    frame: tuple[float, float]

    def clashes(self) -> list[Clash]:
        return clashes(self.groups, self.frame)


@cache
def sketched(path: Path, page: str, style_name: str) -> list[Figure]:
    """Every figure of a model as it is drawn, the finished one last."""
    style = load_style(style_name)
    frame = figure_frame(page_size(page), style.enlarged)
    out: list[Figure] = []
    for label, panel, ink in composed(checked(path), style, frame):
        groups, room = _in_its_room(ink.groups, frame)
        out.append(Figure(f"{path.stem}, {label}", panel, groups, room))
    return out


def _in_its_room(
    groups: Sequence[Group], frame: tuple[float, float]
) -> tuple[tuple[Group, ...], tuple[float, float]]:
    """The groups, and how large their frame is: higher where a part is drawn larger beside the paper.

    So is that of a sign that tells the scale, of which there is one in a model or two.
    """
    higher = 0.0
    for group in groups:
        box = group.box
        if box is not None and group.kind in ("inset", "scale"):
            higher = max(higher, -box[1], box[3] - frame[1])
    return tuple(moved(g, 0.0, higher) for g in groups), (frame[0], frame[1] + 2 * higher)


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_no_sign_covers_another_or_leaves_the_frame(path: Path) -> None:
    bad = {one.where: found for one in sketched(path, "A4", "colour") if (found := one.clashes())}
    assert not bad


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_signs_of_layers_keep_off_letters_rings_arrows_and_marks(path: Path) -> None:
    """By as much as the thickness of a ring and a little more; letters have their lines to their points."""
    others = ("label", "leader", "ring", "arrow", "mark", "repeat", "point")
    for one in sketched(path, "A4", "colour"):
        for sign in (group for group in one.groups if group.kind == "layers"):
            near = [(gap(sign, g), g.kind) for g in one.groups if g.kind in others]
            assert not [found for found in near if found[0] < LAYERS_CLEAR], one.where


@pytest.mark.parametrize("larger", [1.0, 1.3])
@pytest.mark.parametrize(
    ("name", "value", "count"), [("cat", "50 mm", 2), ("fish", "60°", 1), ("whale", "60°", 1)]
)
def test_the_value_of_a_length_or_an_angle_stands_clear(
    name: str, value: str, count: int, larger: float
) -> None:
    """It is written when arrows and rows have their places: of the ears of the cat's face, inside."""
    wide, high = figure_frame(page_size("A4"))
    found = 0
    for label, _, ink in composed(
        sample(name).model, load_style("colour"), (larger * wide, larger * high)
    ):
        for group in ink.groups:
            if any(isinstance(item, Text) and item.text == value for item in group.items):
                found += 1
                others = [g for g in ink.groups if g.kind in ("arrow", "mark") and g is not group]
                assert min(gap(group, g) for g in others) > 0.5, label
    assert found == count


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_a_figure_is_no_higher_than_its_frame_and_a_circle(path: Path) -> None:
    """Circles have a radius of 32 points at most, and stand 3 off the paper."""
    frame = figure_frame(page_size("A4"))
    for one in sketched(path, "A4", "colour"):
        assert one.frame[1] <= frame[1] + 2 * 68.0, one.where


@pytest.mark.parametrize(("page", "style"), [("A5", "grey"), ("A4", "large")])
def test_nor_where_frames_are_small_or_letters_large(page: str, style: str) -> None:
    """Smaller frames leave less room; a few points more may be shared, and nothing leaves the frame."""
    for name in ("helmet", "boat", "cup"):
        for one in sketched(SAMPLES / f"{name}.foldscript", page, style):
            found = one.clashes()
            assert not [c for c in found if c.other == "frame"], one.where
            assert score(one.groups, one.frame) < 8.0, (one.where, found)


@pytest.mark.parametrize("page", ["A4", "A5"])
@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_a_scale_sign_stands_free_in_large_print(path: Path, page: str) -> None:
    """Its letters are larger there: it needs more room beside the paper, rings and letters."""
    for one in sketched(path, page, "large"):
        assert not [c for c in one.clashes() if "scale" in (c.kind, c.other)], one.where


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
    for style, page in STYLES_AND_PAGES:
        for one in sketched(path, page, style):
            wanted = {*(letter_of(name) for name, _ in one.panel.letters), *counts(one.panel)}
            drawn = letters([group for group in one.groups if group.kind != "unit"])
            assert wanted == set(drawn), (one.where, style, page)


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
