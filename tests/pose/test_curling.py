"""Rolled paper: places on the cylinder worked out by hand, petals that open flat, samples that stand."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from foldscript.building.script import Script
from foldscript.geometry.isometries import reflection
from foldscript.geometry.lines import Line as Axis
from foldscript.paper.state import State
from foldscript.pose.curling import curled
from foldscript.pose.flaps import free, inward
from foldscript.pose.flattening import chain
from foldscript.pose.goals import Bring, Curl, Goal, Open, Pull, Spread
from foldscript.pose.pose import Pose
from foldscript.pose.standing import stood
from foldscript.source.diagnostics import Refusal

from ..scripts import folded

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def sheet() -> State:
    """A square of 100 mm with one crease, flat."""
    return folded("crease the left edge onto the right edge").finished


@cache
def sample(name: str) -> Pose:
    script = Script(SAMPLES / f"{name}.foldscript")
    assert not script.standing.warnings
    return script.standing.poses[len(script.model.steps)]


@pytest.mark.parametrize("front_inside", [True, False])
@pytest.mark.parametrize("girth", [100.0, 150.0, 320.0])
def test_a_strip_lies_on_its_cylinder(girth: float, front_inside: bool) -> None:
    """A point s beyond the beginning lies r sin(s/r) along, r (1 - cos(s/r)) off the plane; to 0.3 % of r."""
    r = girth / 2 / math.pi
    pose = stood(sheet(), ((Curl((0.5, 1.0), (0.5, 0.0), r, front_inside),),))
    assert pose.proof.holds, pose.proof
    side = 1 if front_inside else -1
    for (x, s), place in zip(pose.sheet, pose.space, strict=True):
        there = (x, r * math.sin(s / r), side * r * (1 - math.cos(s / r)))
        assert math.dist(place, there) < 3e-3 * r


def test_a_strip_as_long_as_the_girth_closes_exactly() -> None:
    """Its end comes to its start, and no length has changed."""
    pose = stood(sheet(), ((Curl((0.5, 1.0), (0.5, 0.0), 100 / 2 / math.pi, True),),))
    at = {(round(x, 6), round(y, 6)): p for (x, y), p in zip(pose.sheet, pose.space, strict=True)}
    for x in (0.0, 50.0, 100.0):
        assert at[(x, 100.0)] == pytest.approx(at[(x, 0.0)], abs=1e-9)
    assert pose.proof.stretch < 1e-10


def test_a_roll_goes_round_once_with_all_that_goes_with_its_point() -> None:
    """Rolled aslant from 44.7 mm on, the corner beside the point reaches 22.4 mm farther than the point."""
    far = math.hypot(20, 40) + 50 / math.sqrt(5)
    once = far / 2 / math.pi
    pose = stood(sheet(), ((Curl((0.5, 1.0), (0.7, 0.6), once / 0.98, True),),))
    assert pose.proof.holds, pose.proof
    with pytest.raises(Refusal, match=r"over itself, 1\.1 times round"):
        stood(sheet(), ((Curl((0.5, 1.0), (0.7, 0.6), once / 1.1, True),),))


def test_what_lies_before_the_beginning_stays() -> None:
    """A corner rolled from 40 mm on: everything farther from it lies where it lay."""
    begins = (0.4 / math.sqrt(2), 0.4 / math.sqrt(2))
    pose = stood(sheet(), ((Curl((0.0, 0.0), begins, 12.0, True),),))
    assert pose.proof.holds, pose.proof
    still = [
        (s, p) for s, p in zip(pose.sheet, pose.space, strict=True) if sum(s) > 40 * math.sqrt(2)
    ]
    assert len(still) >= 3
    for (x, y), p in still:
        assert p == pytest.approx((x, y, 0), abs=1e-9)


def test_layers_that_lie_together_are_rolled_together() -> None:
    """The folded edge of a book, rolled with both layers: they lie on one surface still."""
    model = folded("valley the left edge onto the right edge")
    state = model.finished
    tip = (0.5, 0.5)
    begins = (0.8, 0.5)
    pose = stood(state, ((Curl(tip, begins, 15.0, True),),))
    assert pose.proof.holds, pose.proof
    mirror = {
        (round(x, 6), round(y, 6)): p for (x, y), p in zip(pose.sheet, pose.space, strict=True)
    }
    paired = [(p, mirror[(round(100 - x, 6), y)]) for (x, y), p in mirror.items()]
    for one, other in paired:
        assert one == pytest.approx(other, abs=1e-9)


@pytest.mark.parametrize("over", [False, True])
def test_a_corner_is_not_rolled_through_layers_beside_it(over: bool) -> None:
    """Folded in quarters, a corner amid the layers: its first strips would lie in those before or behind it,
    about a millimetre deep, whichever of the two is asked of the other.
    """
    model = folded("valley bottom edge onto top edge", "valley left edge onto right edge")
    state = model.finished
    if over:
        state = state.moved(reflection(Axis(1.0, 0.0, 0.5)))
    ways = [stood(state, ((Curl((0.0, 0.0), (0.25, 0.25), 22.5, f),),)) for f in (True, False)]
    assert min(pose.proof.swapped for pose in ways) > 0.3
    assert not any(pose.proof.holds for pose in ways)


def test_mirrored_paper_has_the_mirrored_roll() -> None:
    curl = Curl((0.0, 0.0), (0.3, 0.3), 12.0, True)
    one = stood(sheet(), ((curl,),))
    other = stood(sheet().moved(reflection(Axis(1.0, 0.0, 0.5))), ((curl,),))
    assert other.proof.holds, other.proof
    for at, mirrored in zip(other.sheet, other.space, strict=True):
        k = min(range(len(one.sheet)), key=lambda k: math.dist(one.sheet[k], at))
        x, y, z = one.space[k]
        assert one.sheet[k] == pytest.approx(at, abs=1e-6)
        assert (100 - x, y, -z) == pytest.approx(mirrored, abs=1e-6)


def test_a_bent_flap_is_not_rolled() -> None:
    """What has been rolled along the sheet lies in no plane to be rolled across it."""
    flat = sheet()
    base = stood(flat, ((Curl((0.5, 1.0), (0.5, 0.2), 20.0, True),),))
    with pytest.raises(Refusal) as error:
        curled(flat, base, [Curl((0.0, 0.5), (0.5, 0.5), 20.0, True)])
    assert error.value.code == "curl-bent"


BOOK = "valley the bottom edge onto the top edge"


@pytest.mark.parametrize(
    ("goal", "name", "asked"),
    [
        (Bring((0.5, 0.0), (0.5, 1.0)), "bring", 0.0),
        (Pull((0.5, 0.0), (0.5, 1.0), (0.0, 0.0, 1.0), 25.0), "pull", 25.0),
        (Spread((0.5, 1.0), 25.0), "width", 25.0),
        (Open(((0.0, 1.0), (1.0, 1.0)), 25.0), "width", 25.0),
    ],
)
def test_what_is_done_with_a_roll_or_after_it_is_there_in_the_end(
    goal: Goal, name: str, asked: float
) -> None:
    """A book of 100 mm, the edge of its page rolled all round from 40 mm off. The roll carries the edge back
    to where it begins: what was asked of the edge is undone. Only what was done before the roll may be.
    """
    state = folded(BOOK).finished
    curl = Curl((0.5, 0.0), (0.5, 0.4), 40 / 2 / math.pi, True)
    reached = {r.goal: r for r in stood(state, ((goal,),)).proof.reached}
    assert reached[name].enough
    for stages in (((curl, goal),), ((curl,), (goal,))):
        pose = stood(state, stages)
        again = next(r for r in pose.proof.reached if r.goal == name)
        assert again.asked == pytest.approx(asked)
        assert not again.enough
        assert not pose.proof.holds
    last = stood(state, ((goal,), (curl,)))
    assert reached[name] in last.proof.reached


def test_a_flap_is_free_as_far_as_its_own_plates_go() -> None:
    """A corner of a book's front layer: to the fold, whichever way its corner is halved."""
    state = folded("valley the left edge onto the right edge").finished
    corner = (0.0, 0.0)
    tip, way = state.where(corner), inward(state, corner)
    assert way is not None
    assert abs(way[0]) == pytest.approx(abs(way[1]))
    found = free(state, corner, tip, way)
    assert found == pytest.approx(0.5 * math.sqrt(0.5), abs=1e-6)
    assert inward(state, (0.3, 0.3)) is None


def test_the_chain_of_bends_closes() -> None:
    """Placed by hand with plain rotations, the flat part of a petal is flat, and both halves meet in it.

    The way down the crease and the plane of a half at 45 degrees are given; each bend turns about its ray.
    """
    root, low, high, half = 0.353, (0.229, 0.095), (0.153, 0.063), math.pi / 4
    angles = chain(root, low, high, half)
    assert angles is not None
    a = math.pi - math.atan2(low[1], root - low[0])
    c = math.atan2(high[1], root - high[0])
    b = math.pi - a - c
    ray = np.array([0.0, -1.0, 0.0])
    normal = np.array([-math.cos(half), 0.0, math.sin(half)])
    for turn, fold in ((a, angles[0]), (b, angles[1]), (c, 0.0)):
        ray = math.cos(turn) * ray + math.sin(turn) * np.cross(normal, ray)
        onward = np.cross(normal, ray)
        normal = math.cos(fold) * normal - math.sin(fold) * onward
    assert ray[0] == pytest.approx(0, abs=1e-12)
    assert normal[0] == pytest.approx(0, abs=1e-12)


def test_the_lily_stands_with_four_petals_alike() -> None:
    """Its tips lie at the corners of a square seen from above, farther out than the petals' sides."""
    pose = sample("lily")
    assert pose.proof.stretch < 1e-10
    assert [r.unit for r in pose.proof.reached] == ["degrees", *["mm"] * 4]
    corners = [(0, 0), (0, 150), (150, 0), (150, 150)]
    tips = [
        p
        for s, p in zip(pose.sheet, pose.space, strict=True)
        if any(math.dist(s, c) < 1e-6 for c in corners)
    ]
    assert len(tips) == 4
    middle = np.mean(tips, axis=0)
    away = [math.dist((x, z), (middle[0], middle[2])) for x, _, z in tips]
    assert away == pytest.approx([away[0]] * 4)
    assert away[0] > 20
    assert pose.size[0] == pytest.approx(pose.size[2])


def test_the_tulip_stands_on_a_square() -> None:
    """Of the diamond, 37.5 mm from the middle to either corner, 3/7 and 2/5 stay on each side of the middle.

    So the base is 2 · 3/7 · 37.5 mm wide, and the top 2 · 2/5 · 37.5 mm.
    """
    pose = sample("tulip")
    at = {
        (round(x, 3), round(y, 3)): np.array(p)
        for (x, y), p in zip(pose.sheet, pose.space, strict=True)
    }
    wide, top = 2 * 37.5 * 3 / 7, 2 * 37.5 * 2 / 5
    assert pose.size[0] == pytest.approx(wide, abs=0.05)
    assert pose.size[2] == pytest.approx(wide, abs=0.05)
    low = pose.box[0][1]
    base = [p for p in at.values() if p[1] < low + 0.2]
    assert np.ptp(base, axis=0)[0] == pytest.approx(wide, abs=0.05)
    rim = [p for p in at.values() if 43.5 < p[1] - low < 44.2]
    assert np.ptp(rim, axis=0)[0] == pytest.approx(top, abs=0.1)


def test_petals_that_are_spread_about_the_closed_point_are_told_of(tmp_path: Path) -> None:
    text = (
        "start from preliminary base\nstep\n  spread A, B, C and O\n"
        "step\n  curl A, B, C and D outwards, round a pencil\n"
    )
    path = tmp_path / "daisy.foldscript"
    path.write_text(text, "utf-8")
    (told,) = Script(path).standing.warnings
    assert "the paper stays flat" in told.message
