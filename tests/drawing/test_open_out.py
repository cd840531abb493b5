"""Opening out: the mouth lies on the edge that opens, and its two arrows lead to either side of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.drawing.figure import compose
from foldscript.drawing.framing.framing import framings, outlined
from foldscript.drawing.plan import planned
from foldscript.drawing.scene.groups import Group, Sketch
from foldscript.drawing.scene.outlines import subpaths, union_box
from foldscript.drawing.scene.scene import Curve, Draw
from foldscript.drawing.scene.scene import Path as Line
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import PointSign

from .seen import of_kind

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
STYLES = ("colour", "large")
FLAT, ROUND, SLIT = "point.open-flat", "point.open-out", "point.open-slit"


def figure(sample: str | Path, number: int, style_name: str = "colour") -> Sketch:
    path = sample if isinstance(sample, Path) else SAMPLES / f"{sample}.foldscript"
    model, style = Script(path).model, load_style(style_name)
    frame = figure_frame(page_size("A4"), style.enlarged)
    panels = [p for s in model.steps for p in s.panels] + [Panel(model.finished, ())]
    found = framings(outlined(panels), style, frame)
    places = [s.number for s in model.steps for _ in s.panels]
    k = places.index(number)
    return compose(model, panels[k], found[k], style)


def opened(ink: Sketch) -> tuple[Group, set[type]]:
    """The mouth in a figure, and what its rims are made of: straight lines or curves."""
    (mouth,) = of_kind(ink.groups, "mouth")
    (shape,) = mouth.items
    assert isinstance(shape, Line)
    return mouth, {type(s) for s in shape.segments} & {Draw, Curve}


def test_a_pocket_that_is_pressed_flat_has_a_mouth_with_corners_from_end_to_end() -> None:
    ink = figure("hat-to-boat", 10)
    mouth, rims = opened(ink)
    assert rims == {Draw}
    assert FLAT in ink.signs
    assert ROUND not in ink.signs
    paper = union_box(g.box for g in of_kind(ink.groups, "paper"))
    assert paper is not None
    assert mouth.box is not None
    assert mouth.box[2] - mouth.box[0] > 0.9 * (paper[2] - paper[0])
    # it lies on the lower edge: as much of it on the paper as below
    assert (mouth.box[1] + mouth.box[3]) / 2 == pytest.approx(paper[3], abs=2.0)


@pytest.mark.parametrize(("sample", "number"), [("hat-to-boat", 15), ("hat", 10), ("star-box", 12)])
def test_a_mouth_that_stays_open_is_round(sample: str, number: int) -> None:
    ink = figure(sample, number)
    assert opened(ink)[1] == {Curve}
    assert ROUND in ink.signs
    assert FLAT not in ink.signs


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize(("sample", "number"), [("hat-to-boat", 10), ("hat", 10), ("star-box", 12)])
def test_one_arrow_goes_over_the_paper_and_one_off_it(sample: str, number: int, style: str) -> None:
    ink = figure(sample, number, style)
    (mouth,), paper = of_kind(ink.groups, "mouth"), of_kind(ink.groups, "paper")
    (arrows,) = list(of_kind(ink.groups, "arrow"))
    edge = _middle(mouth)[1]
    sides = [_middle(Group("arrow", (item,)))[1] - edge for item in arrows.items]
    assert [item.role for item in arrows.items if isinstance(item, Line)] == ["arrow.open"] * 2
    assert sides[0] * sides[1] < 0
    outward = _middle(mouth)[1] - sum(_middle(g)[1] for g in paper) / len(paper)
    assert sides[1] * outward > 0


def test_the_two_wings_of_the_crane_are_drawn_apart_from_their_common_tip(tmp_path: Path) -> None:
    text = (SAMPLES / "crane.foldscript").read_text("utf-8")
    path = tmp_path / "crane.foldscript"
    flat, _ = text.split('step "Take both wings')
    path.write_text(f"{flat}step\n  shape\n", "utf-8")
    ink = figure(path, 17)
    assert not of_kind(ink.groups, "mouth")
    (arrows,) = of_kind(ink.groups, "arrow")
    paper = union_box(g.box for g in of_kind(ink.groups, "paper"))
    assert paper is not None
    assert arrows.box is not None
    assert arrows.box[2] - arrows.box[0] > 40.0
    assert [i.role for i in arrows.items] == ["arrow.open", "arrow.open"]


def test_a_point_that_is_pulled_to_both_sides_is_seen_between_its_arrows() -> None:
    ink = figure("hat-to-boat", 14)
    paper = union_box(g.box for g in of_kind(ink.groups, "paper"))
    left, right = sorted((g.box for g in of_kind(ink.groups, "arrow")), key=lambda b: b or ())
    assert paper is not None
    assert left is not None
    assert right is not None
    middle = (paper[0] + paper[2]) / 2
    assert left[2] < middle - 5.0
    assert right[0] > middle + 5.0
    (label,) = of_kind(ink.groups, "label")
    assert [i.text for i in label.items if not isinstance(i, Line)] == ["E, F"]


def _middle(group: Group) -> tuple[float, float]:
    box = group.box
    assert box is not None
    assert all(subpaths(i.segments) for i in group.items if isinstance(i, Line))
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


@pytest.mark.parametrize("style", STYLES)
def test_both_sides_of_a_slit_are_raised(style: str, tmp_path: Path) -> None:
    """The mouth lies amid the paper, and an arrow grows from either rim."""
    text = (SAMPLES / "masu.foldscript").read_text(encoding="utf-8")
    box = tmp_path / "box.foldscript"
    box.write_text(
        text.partition('step "Raise')[0] + "step\n  shape at the centre\n", encoding="utf-8"
    )
    ink = figure(box, 6, style)
    (mouth,), (arrows,) = of_kind(ink.groups, "mouth"), of_kind(ink.groups, "arrow")
    paper = union_box(g.box for g in of_kind(ink.groups, "paper"))
    assert paper is not None
    assert mouth.box is not None
    assert paper[1] < mouth.box[1] < mouth.box[3] < paper[3]
    assert [i.role for i in arrows.items] == ["arrow.open", "arrow.open"]
    up, down = sorted(_middle(Group("arrow", (i,)))[1] - _middle(mouth)[1] for i in arrows.items)
    assert up == pytest.approx(-down, abs=2.0)
    assert up < -5.0
    assert SLIT in ink.signs


def test_the_mouth_of_a_box_lies_where_the_pose_opens() -> None:
    """The footed box opens above: of the flat figure the upper edge, 50 mm from the lower, not a side."""
    model = Script(SAMPLES / "footed-box.foldscript").standing_model
    one = planned(model)[-1]
    (sign,) = (s for s in one.panel.signs if isinstance(s, PointSign) and s.kind == "open-out")
    assert sign.opens is not None
    highest = max(y for ring in one.panel.state.outlines for _, y in ring)
    assert [y for _, y in sign.opens] == pytest.approx([highest, highest])
    assert sign.toward is not None
    assert sign.toward[1] > highest  # one arrow leads off the paper, upwards
