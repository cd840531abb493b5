"""Whole figures: what a step shows, the signs it says it used, the same scene every time."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from syrupy.assertion import SnapshotAssertion

from foldscript.drawing.draw import draw, finished_figure, portrait
from foldscript.drawing.scene.outlines import item_box, union_box
from foldscript.drawing.scene.scene import Path, Scene, Text
from foldscript.drawing.signs.glyph import ArrowGlyph, FixedGlyph, Glyph
from foldscript.drawing.signs.registry import glyphs_of
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.languages.wording import phrase
from foldscript.paper.signs import (
    Arrow,
    CutLine,
    EqualAngles,
    EqualLengths,
    GuideLine,
    PointSign,
    RepeatSign,
    RightAngle,
    Rotate,
    Sense,
    TurnOver,
)

from . import folded as f
from .seen import items_of

STYLE = load_style("colour")
FRAME = (142.0, 145.0)


def first() -> Panel:
    """Fold corner A to corner C."""
    return Panel(
        f.square(),
        (
            f.crease_of(f.square(), f.B, f.D),
            Arrow("valley", f.A, f.C),
            PointSign("landmark", f.A),
            PointSign("landmark", f.C),
        ),
        labels=(("A", f.A), ("C", f.C)),
    )


def rounded(scene: Scene) -> list[str]:
    """One line an item, short enough to read: role, and points to a point."""
    out: list[str] = []
    for item in scene.items:
        if isinstance(item, Text):
            out.append(f"{item.role} {item.text!r} at {item.at[0]:.0f},{item.at[1]:.0f}")
        else:
            box = item_box(item)
            assert box is not None
            out.append(f"{item.role} {len(item.segments)} in " + ",".join(f"{v:.0f}" for v in box))
    return out


def test_a_valley_fold(snapshot: SnapshotAssertion) -> None:
    """The paper before the fold, a dashed diagonal, an arrow from A to C, rings and letters."""
    (figure,) = draw(f.model(first(), finished=f.triangle()), STYLE, FRAME)
    assert figure.label == "1"
    assert figure.scene.signs == {
        "paper.plain",
        "fold.valley",
        "arrow.valley",
        "point.landmark",
    }
    assert rounded(figure.scene) == snapshot


def test_items_lie_in_the_frame() -> None:
    panel = first()
    others = [
        Panel(f.triangle(), (Arrow("mountain", f.C, f.A),), labels=(("A", f.C),)),
        Panel(f.cupboard(), (), before_turns=(TurnOver(True),), after_turns=(Rotate(180.0),)),
        Panel(f.stack(4), (f.crease_of(f.cupboard(), (0.5, 0.0), (0.5, 1.0)),)),
    ]
    for figure in draw(f.model(panel, *others[:2]), STYLE, FRAME):
        box = union_box(item_box(i) for i in figure.scene.items)
        assert box is not None
        assert box[0] > -1
        assert box[1] > -1
        assert box[2] < FRAME[0] + 1
        assert box[3] < FRAME[1] + 1


def test_paper_is_painted_first_then_lines_then_arrows_then_letters() -> None:
    (figure,) = draw(f.model(first(), finished=f.triangle()), STYLE, FRAME)
    order = [i.role.split(".")[0] for i in figure.scene.items]
    ranks = ["paper", "crease", "edge", "fold", "mark", "arrow", "leader", "text"]
    assert [ranks.index(r) for r in order] == sorted(ranks.index(r) for r in order)


def test_the_same_model_gives_the_same_scenes() -> None:
    model = f.model(first(), Panel(f.stack(5), ()))
    assert draw(model, STYLE, FRAME) == draw(model, STYLE, FRAME)


def test_labels_and_captions() -> None:
    model = f.model(first(), captions=("Fold A to C.",))
    (step,) = model.steps
    two = replace(step, panels=(first(), first()))
    a, b = draw(replace(model, steps=(two,)), STYLE, FRAME)
    assert (a.label, b.label, a.caption, b.caption) == ("1a", "1b", "Fold A to C.", "")
    told = tuple(replace(panel, sentences=1) for panel in two.panels)
    words = (phrase("Fold {x}.", x="this"), phrase("Turn over."))
    worded = replace(two, caption="", wording=words, panels=told)
    a, b = draw(replace(model, steps=(worded,)), STYLE, FRAME)
    assert (a.caption, b.caption) == ("Fold this.", "Turn over.")
    assert a.scene.title == "Step 1a"
    assert a.scene.description == "Step 1a. Fold this. Turn over."


def kind(glyph: Glyph) -> str:
    """What a sign says that has this glyph."""
    return glyph.key.partition(".")[2]


def test_every_sign_is_drawn_and_told() -> None:
    """Each kind of sign adds ink, and its key for the page."""
    square = f.square()
    bare = draw(f.model(Panel(square, ())), STYLE, FRAME)[0].scene
    middle = ((0.0, 0.5), (1.0, 0.5))
    cases = {
        "line.cut": CutLine(((0, middle),)),
        "line.guide": GuideLine(middle),
        "mark.equal-angles": EqualAngles(f.A, f.B, f.C, f.D),
        "mark.equal-lengths": EqualLengths(((f.A, (0.5, 0.0)), ((0.5, 0.0), f.B))),
        "mark.right-angle": RightAngle(f.A, f.B, f.D),
        "turn-over": TurnOver(True),
        "turn-over.top-to-bottom": TurnOver(False),
        "rotate": Rotate(-90.0),
        "repeat": RepeatSign(2, 4, 2, (1.0, 0.5)),
        "repeat.behind": RepeatSign(2, 4, 2, (1.0, 0.5), behind=True),
        "fold.mountain": f.crease_of(square, f.B, f.D, Sense.MOUNTAIN),
        **{g.key: PointSign(kind(g), f.C, (0.5, 0.5)) for g in glyphs_of(FixedGlyph)},
        "point.open-out": PointSign("open-out", f.C, (0.5, 0.5)),
        "point.open-slit": PointSign("open-out", f.C, (0.5, 0.5), slit=True),
        **{g.key: Arrow(kind(g), (0.1, 0.5), (0.9, 0.5)) for g in glyphs_of(ArrowGlyph)},
    }
    for key, sign in cases.items():
        scene = draw(f.model(Panel(square, (sign,))), STYLE, FRAME)[0].scene
        assert key in scene.signs
        assert len(scene.items) > len(bare.items), key
    for sign in (RepeatSign(3, 3, 1, behind=True), PointSign("push", (0.5, 0.5))):
        assert draw(f.model(Panel(square, (sign,))), STYLE, FRAME)


def test_an_angle_off_the_paper_is_not_marked() -> None:
    sign = EqualAngles((3.0, 3.0), (4.0, 3.0), (4.0, 4.0), (3.0, 4.0))
    scene = draw(f.model(Panel(f.square(), (sign,))), STYLE, FRAME)[0].scene
    assert not items_of(scene, "mark.angle")


def test_a_change_of_scale_is_declared_once() -> None:
    small = Panel(f.stack(4), (), asked=True)
    model = f.model(first(), small, small, small)
    figures = draw(model, STYLE, FRAME)
    assert ["scale" in g.scene.signs for g in figures] == [False, True, False, False]
    words = [i.text for i in figures[1].scene.items if isinstance(i, Text)]
    assert any(re.fullmatch(r"\d:\d", w) for w in words)
    finished = finished_figure(model, STYLE, FRAME)
    assert "scale" not in finished.signs


def test_finished_figure_and_portrait() -> None:
    model = f.model(first(), finished=f.triangle())
    figure, last = draw(model, STYLE, FRAME)[0].scene, finished_figure(model, STYLE, FRAME)
    flat, bent = paper_width(figure), paper_width(last)
    assert bent == pytest.approx(flat, rel=0.05)  # half the square keeps its width at this turn
    large = portrait(model, STYLE, FRAME)
    assert paper_width(large) > bent
    assert "Sample" in last.title
    assert last.signs <= {"paper.coloured", "paper.plain"}


def paper_width(scene: Scene) -> float:
    box = union_box(item_box(i) for i in items_of(scene, "paper") if isinstance(i, Path))
    assert box is not None
    return box[2] - box[0]


def test_no_sign_moves_the_paper_far() -> None:
    """The middle of the paper stays near the middle of the frame."""
    (figure,) = draw(f.model(first(), finished=f.triangle()), STYLE, FRAME)
    box = union_box(item_box(i) for i in items_of(figure.scene, "edge"))
    assert box is not None
    at = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    assert math.dist(at, (FRAME[0] / 2, FRAME[1] / 2)) < 8
