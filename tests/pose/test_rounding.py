"""Layers rounded between two pinched lines: lengths and angles from formulas, what lies beyond, mirrors."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.folding.steps import Model
from foldscript.geometry.isometries import reflection
from foldscript.geometry.lines import Line as Axis
from foldscript.pose.goals import Round
from foldscript.pose.pose import Pose, Vector
from foldscript.pose.standing import stood
from foldscript.source.diagnostics import Refusal

from ..checker.poses import pose_faults
from ..scripts import folded, standing_document
from .test_random_poses import in_space

#: A doubled strip of 100 by 50 mm, its fold at the left edge.
STRIP = "sheet rectangle 200 mm by 50 mm\n"
DOUBLE = "valley the left edge onto the right edge"


def goal_of(model: Model) -> Round:
    (goal,) = (g for step in model.steps for r in step.records for g in r.goals)
    assert isinstance(goal, Round)
    return goal


def rounded(*steps: str, sheet: str = STRIP) -> tuple[Model, Pose]:
    model = folded(*steps, sheet=sheet)
    pose = stood(model.finished, ((goal_of(model),),))
    assert pose.proof.holds, pose.proof
    return model, pose


def half_angle(share: float) -> float:
    """The half angle of an arc whose height is this share of its girth: (1 - cos φ) / 2φ."""
    low, high = 0.0, math.pi / 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if (1 - math.cos(middle)) / 2 / middle < share else (low, middle)
    return low


@pytest.mark.parametrize("width", [5.0, 20.0, 40.0, 60.0])
def test_both_sides_are_arcs_of_a_circle(width: float) -> None:
    """A lens of two arcs of girth L = 2 r φ: its height is r (1 - cos φ), its chord 2 r sin φ.

    Source: the isosceles triangle over a chord. The strips of each side lie within 0.3 % of it.
    """
    model, pose = rounded(
        DOUBLE, f"round out between the left edge and the right edge by {width} mm"
    )
    girth = 100.0
    angle = half_angle(width / 2 / girth)
    r = girth / 2 / angle
    fold, rim = (in_space(pose, (x, 25.0)) for x in (100.0, 200.0))
    assert math.dist(fold, rim) == pytest.approx(2 * r * math.sin(angle), rel=3e-3)
    for s in (0.0, 20.0, 50.0, 77.0, 100.0):
        front, back = (in_space(pose, (x, 25.0)) for x in (100 - s, 100 + s))
        turn = angle * (2 * s / girth - 1)
        high = r * (math.cos(turn) - math.cos(angle))
        assert abs(front[2] - back[2]) == pytest.approx(2 * high, abs=6e-3 * r)
        assert front[2] == pytest.approx(-back[2], abs=1e-9)
    middle = math.dist(in_space(pose, (50.0, 25.0)), in_space(pose, (150.0, 25.0)))
    assert middle == pytest.approx(width, abs=1e-6)
    assert pose.proof.stretch < 1e-10
    assert pose_faults(standing_document(model, pose)) == []


def test_lines_that_meet_give_cones() -> None:
    """Places keep their distance from the tip, and their directions lie on a circle round an axis.

    The girth of a cone's part is 2 φ sin β for the wedge α; its rims are 2 asin(sin β sin φ) apart. Source:
    the right-angled spherical triangle.
    """
    _, pose = rounded(
        "valley the bottom edge onto the top edge",
        "mark P at 9/10 of B C; mark N at midpoint of A D; crease through N and P, all layers, as k",
        "round out between the bottom edge and k by 10 mm",
        sheet="sheet rectangle 100 mm by 50 mm\n",
    )
    tip = in_space(pose, (0.0, 25.0))
    wedge = math.atan2(20, 100)
    flat = [
        (d * math.cos(t), 25 + d * math.sin(t))
        for d in (30.0, 90.0)
        for t in (0.0, wedge / 2, wedge)
    ]
    there = [in_space(pose, p) for p in flat]
    for p, q in zip(flat, there, strict=True):
        assert math.dist(q, tip) == pytest.approx(math.dist(p, (0.0, 25.0)), abs=2e-3)
    closed = _angle(tip, there[3], there[5])
    rise = 5 / (100 / math.cos(wedge / 2))  # half of the width, over the middle's length
    best = min((abs(_risen(wedge, k / 1e4) - rise), k / 1e4) for k in range(1200, 15708))[1]
    slope = wedge / 2 / best
    assert closed == pytest.approx(2 * math.asin(slope * math.sin(best)), abs=2e-3)
    assert closed < wedge - 0.01


def _risen(wedge: float, angle: float) -> float:
    """Sine of the angle between the middle of a cone's part and the plane of its rims."""
    slope = wedge / 2 / angle
    if slope > 1:
        return 9.0
    axial = math.sqrt(1 - slope * slope)
    return axial * slope * (1 - math.cos(angle)) / math.hypot(axial, slope * math.cos(angle))


def _angle(tip: Vector, p: Vector, q: Vector) -> float:
    a, b = math.dist(tip, p), math.dist(tip, q)
    return math.acos((a * a + b * b - math.dist(p, q) ** 2) / (2 * a * b))


def test_what_is_beyond_a_line_goes_with_it_as_it_is() -> None:
    """A strip beyond the second line moves nearer by what the body is shorter, in its plane."""
    _, pose = rounded(
        DOUBLE,
        "crease along line 60 mm from the left edge, all layers, as k",
        "round out between the left edge and k by 20 mm",
    )
    angle = half_angle(10 / 60)
    shorter = 60 - 60 * math.sin(angle) / angle
    for x in (165.0, 200.0, 35.0, 0.0):
        place = in_space(pose, (x, 10.0))
        assert place[0] == pytest.approx(abs(x - 100) + 100 - shorter, abs=0.1)
        assert place[1:] == pytest.approx((10.0, 0.0), abs=1e-9)


def test_mirrored_paper_is_rounded_alike() -> None:
    model = folded(
        DOUBLE,
        "mark P at 1/4 of the top edge; crease through P and B, all layers, as k",
        "round out between the left edge and k by 10 mm",
        sheet=STRIP,
    )
    goal = goal_of(model)
    one = stood(model.finished, ((goal,),))
    other = stood(model.finished.moved(reflection(Axis(1.0, 0.0, 0.5))), ((goal,),))
    assert one.proof.holds
    assert other.proof.holds
    at = {(round(x, 6), round(y, 6)): p for (x, y), p in zip(one.sheet, one.space, strict=True)}
    unit = model.finished.sheet.unit_mm
    for (x, y), mirrored in zip(other.sheet, other.space, strict=True):
        p = at[(round(x, 6), round(y, 6))]
        assert (unit - p[0], p[1], -p[2]) == pytest.approx(mirrored, abs=1e-6)


def test_as_many_layers_go_to_either_side() -> None:
    """Four layers, two and two; each two lie on one surface."""
    _, pose = rounded(
        "valley the bottom edge onto the top edge",
        DOUBLE,
        "round out between the left edge and the right edge by 20 mm",
        sheet="sheet rectangle 200 mm by 100 mm\n",
    )
    heights = sorted(
        in_space(pose, p)[2] for p in ((50.0, 20.0), (50.0, 80.0), (150.0, 20.0), (150.0, 80.0))
    )
    assert heights == pytest.approx([-10, -10, 10, 10], abs=1e-6)


def test_where_layers_are_odd_fingers_say_between_which() -> None:
    """Three layers: with the pocket named, one goes to the back and two to the front, or the other way."""
    three = (
        "valley along line 100 mm from the left edge, moving A; "
        "mountain along line 100 mm from the right edge, moving B"
    )
    sheet = "sheet rectangle 300 mm by 50 mm\n"
    model = folded(
        three,
        "round out between the left edge and the right edge by 2 cm, opening the top right corner",
        sheet=sheet,
    )
    pose = stood(model.finished, ((goal_of(model),),))
    assert pose.proof.holds, pose.proof
    heights = sorted(round(in_space(pose, (x, 25.0))[2], 3) for x in (50.0, 150.0, 250.0))
    assert heights in ([-10, -10, 10], [-10, 10, 10])


def test_bent_paper_is_not_rounded() -> None:
    """What was rounded one way lies in no plane to be rounded another way."""
    model = folded(
        DOUBLE,
        "mark P at 1/3 of the top edge; mark Q at 1/2 of the bottom edge; mark R at 2/3 of the top edge",
        "crease through P and Q, all layers, as k",
        "crease through R and Q, all layers, as m",
        "round out between the left edge and the right edge by 20 mm; round out between k and m by 5 mm",
        sheet=STRIP,
    )
    goals = tuple(g for step in model.steps for r in step.records for g in r.goals)
    assert stood(model.finished, (goals[1:],)).proof.holds
    with pytest.raises(Refusal) as error:
        stood(model.finished, (goals,))
    assert error.value.code == "round-bent"


def test_the_exercise_stands() -> None:
    """Its body is 25 mm wide, its wings stand at 80 degrees to the strip, all of it proved."""
    script = Script(Path(__file__).resolve().parents[2] / "samples" / "winged-hull.foldscript")
    assert not script.standing.warnings
    pose = script.standing.poses[len(script.model.steps)]
    assert pose_faults(standing_document(script.model, pose)) == []
    assert {r.goal: r.got for r in pose.proof.reached}["raise"] == pytest.approx(80, abs=1e-6)
    front, back = (in_space(pose, (x, 40.0)) for x in (77.5, 162.5))
    assert math.dist(front, back) == pytest.approx(25, abs=1e-6)
