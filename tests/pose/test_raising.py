"""Raised flaps: places worked out by hand, closed and proved."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.geometry.lines import Segment
from foldscript.moves.registry import verbs
from foldscript.pose.goals import Raise
from foldscript.pose.pose import Line, Pose
from foldscript.pose.raising import raised
from foldscript.pose.standing import stood
from foldscript.source.diagnostics import Refusal, Source
from foldscript.syntax.parser import parse

from ..checker.poses import pose_faults
from ..scripts import folded, standing_document

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
#: A glider: the sheet of 100 mm in half, and 30 mm of each half folded down again as a wing.
GLIDER = (
    "valley the left edge onto the right edge",
    "valley along line 3 cm from the right edge, 1 layer, moving A, as k",
    "turn over",
    "valley along line 3 cm from the left edge, 1 layer, moving B, as m",
)


def creases(model: Model, *names: str) -> tuple[Segment, ...]:
    return tuple(
        s for step in model.steps for r in step.records if r.name in names for s in r.creases
    )


def glider(angle: float) -> Pose:
    model = folded(*GLIDER)
    return raised(model.finished, [Raise(creases(model, "k", "m"), angle)])


def test_wings_level() -> None:
    """20 mm of body, and 30 mm of wing to either side of it, 100 mm long."""
    pose = glider(90)
    assert pose.proof.holds, pose.proof
    assert pose.size == pytest.approx((20, 100, 60), abs=1e-6)
    assert pose.proof.stretch < 1e-12
    assert [r.got for r in pose.proof.reached] == pytest.approx([90])


@pytest.mark.parametrize("angle", [15, 45, 120, 180])
def test_wings_at_an_angle(angle: float) -> None:
    """The tips stand 30 sin a off the body's plane, to both sides."""
    pose = glider(angle)
    assert pose.proof.holds, pose.proof
    assert pose.size[2] == pytest.approx(60 * math.sin(math.radians(angle)), abs=1e-6)


def test_wings_at_an_angle_each_one_after_the_other() -> None:
    """The tips stand 30 sin a to either side; what is raised again later stands as that has it."""
    model = folded(*GLIDER)
    one, other = creases(model, "k"), creases(model, "m")
    pose = raised(model.finished, [Raise(one, 20), Raise(other, 60), Raise(one, 30)])
    assert pose.proof.holds, pose.proof
    wide = 30 * (math.sin(math.radians(30)) + math.sin(math.radians(60)))
    assert pose.size[2] == pytest.approx(wide, abs=1e-6)
    assert [r.asked for r in pose.proof.reached] == [60, 30]


def test_a_flap_folded_flat_lies_where_the_flat_state_has_it() -> None:
    model = folded(*GLIDER)
    pose = glider(0)
    assert pose.proof.crossing == 0
    flat = [model.finished.where((x / 100, y / 100)) for x, y in pose.sheet]
    for (x, y), (u, v, w) in zip(flat, pose.space, strict=True):
        assert (100 * x, 100 * y, 0) == pytest.approx((u, v, w), abs=1e-6)


def test_layers_that_lie_together_are_told_by_side() -> None:
    """The body's halves lie together at their backs or fronts; raised wings touch nothing."""
    pose = glider(90)
    (pair,) = pose.touching
    folds = [e for e in pose.edges if e.kind is Line.FOLD and abs(e.angle) > 3]
    (spine,) = folds
    assert {pair.one, pair.other} == {spine.left, spine.right}
    assert pair.on_front == (spine.angle > 0)


def test_what_turns_takes_the_rest_of_its_line_along() -> None:
    """Half of a crease across the sheet cannot be folded without the other half."""
    model = folded("crease the left edge onto the right edge as upright")
    pose = raised(model.finished, [Raise((((0.5, 0.0), (0.5, 0.5)),), 90)])
    assert pose.proof.holds, pose.proof
    assert pose.size == pytest.approx((50, 100, 50))


def test_an_angle_that_tears_is_found_out() -> None:
    """Two creases that meet at a right angle cannot be folded alone: the pieces gape."""
    model = folded(
        "crease the left edge onto the right edge as upright",
        "crease the bottom edge onto the top edge as level",
    )
    assert len(creases(model, "upright", "level")) == 2
    corner = (((0.5, 0.0), (0.5, 0.5)), ((0.5, 0.5), (1.0, 0.5)))
    pose = raised(model.finished, [Raise(corner, 90)])
    assert not pose.proof.holds
    assert pose.proof.faults[0].text == "the paper would be pulled to pieces"


@pytest.mark.parametrize("sample", ["crane", "flapping-bird"])
def test_wings_of_birds_level(sample: str) -> None:
    """Many layers, and yet exact: each wing, and all that it is made of, turns about the line from E to F.

    Raised level, the tips of both wings are as far from the body's plane as they were below E F.
    """
    text = (SAMPLES / f"{sample}.foldscript").read_text(encoding="utf-8")
    before, found, _ = text.partition(
        "repeat step 15 behind" if sample == "crane" else "repeat step 4 behind"
    )
    model = fold(
        parse(
            Source("bird.foldscript", f"{before}{found}\nstep\n  raise along line E F\n"), verbs()
        ),
        SAMPLES / "bird.foldscript",
    )
    record = model.steps[-1].records[-1]
    flat, turns = record.before, [g for g in record.goals if isinstance(g, Raise)]
    pose = raised(flat, turns)
    assert pose.proof.holds, pose.proof
    assert pose.proof.stretch < 1e-12
    (ex, ey), (fx, fy) = (flat.where(dict(model.steps[-1].named)[name]) for name in "EF")
    for corner in "AC":
        x, y = flat.where(flat.sheet.corner(corner))
        away = abs((fx - ex) * (y - ey) - (fy - ey) * (x - ex)) / math.hypot(fx - ex, fy - ey)
        at = [c * 150 for c in flat.sheet.corner(corner)]
        tip = next(
            q for p, q in zip(pose.sheet, pose.space, strict=True) if math.dist(p, at) < 1e-6
        )
        assert abs(tip[2]) == pytest.approx(150 * away, abs=1e-6)
        assert 150 * away > 20


def test_no_crease_is_refused() -> None:
    with pytest.raises(Refusal, match="no crease"):
        raised(folded("turn over").finished, [Raise((((2.0, 0.0), (2.0, 1.0)),), 90)])


@pytest.mark.parametrize("layers", ["", ", 2 layers"])
def test_pages_that_lie_on_each_other_rise_together(layers: str) -> None:
    """Both pages of a book, creased as one 50 mm from their ends, stand at 60 degrees on one side: turned
    over the book is itself, but what is raised to the front is not raised to the back.
    """
    model = folded(
        "valley left edge onto right edge",
        "crease along line 5 cm from the right edge, all layers as k",
        f"raise along k to 120 degrees{layers}",
        sheet="sheet rectangle 20 cm by 10 cm\n",
    )
    (record,) = model.steps[-1].records
    pose = stood(model.finished, (record.goals,))
    assert not pose.proof.faults
    assert not pose_faults(standing_document(model, pose))
    assert pose.size == pytest.approx((75, 100, 50 * math.sin(math.pi / 3)))
