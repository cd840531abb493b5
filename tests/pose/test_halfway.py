"""Moves half way: the paper keeps its lengths, what is still stays, what moves is on its way."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

import pytest

from foldscript.geometry.isometries import reflection
from foldscript.geometry.lines import Line as Axis
from foldscript.moves.planning.request import MoveRecord
from foldscript.paper.state import State
from foldscript.pose.halfway import Halfway, halfway
from foldscript.pose.pose import Line
from foldscript.source.diagnostics import Refusal

from ..sample_scripts import sample as of
from ..scripts import folded

MOVES = [
    ("bases/preliminary-base", "collapse"),
    ("bases/waterbomb-base", "collapse"),
    ("bases/bird-base", "petal"),
    ("lily", "squash"),
    ("bases/fish-base", "rabbit ear"),
]
TURNED = [
    ("swan", "inside reverse"),
    ("fish", "outside reverse"),
    ("crane", "inside reverse"),
    ("frog", "inside reverse"),
]


@cache
def record(sample: str, verb: str) -> MoveRecord:
    """The first such move of a sample."""
    model = of(sample).model
    return next(r for step in model.steps for r in step.records if r.move and r.move.verb == verb)


@cache
def half(sample: str, verb: str) -> Halfway:
    made = record(sample, verb)
    return halfway(made.before, made.after)


@pytest.mark.parametrize(("sample", "verb"), MOVES + TURNED)
def test_plane_pieces_keep_their_lengths(sample: str, verb: str) -> None:
    pose = half(sample, verb).pose
    assert pose.proof.holds, pose.proof
    assert pose.proof.stretch < 1e-11
    assert pose.proof.crossing < 0.05


@pytest.mark.parametrize(("sample", "verb"), MOVES + TURNED)
def test_still_paper_lies_where_it_lay(sample: str, verb: str) -> None:
    found = half(sample, verb)
    still = set(range(len(found.pose.pieces))) - set(found.lifted)
    assert still
    for k in still:
        for v in found.pose.pieces[k].corners:
            x, y, z = found.pose.space[v]
            assert (x, y) == pytest.approx(found.before[v], abs=0.05)
            assert z == pytest.approx(0, abs=0.05)


@pytest.mark.parametrize(("sample", "verb"), MOVES)
def test_what_moves_stands_up_to_one_side(sample: str, verb: str) -> None:
    pose = half(sample, verb).pose
    heights = [z for _, _, z in pose.space]
    assert max(map(abs, heights)) > 10
    assert min(heights) > -0.05 or max(heights) < 0.05


@pytest.mark.parametrize(("sample", "verb"), MOVES)
def test_a_mirrored_move_is_mirrored_half_way(sample: str, verb: str) -> None:
    """Turned over side to side, the paper stands on the other side; every length and height is the same."""
    made = record(sample, verb)
    over = reflection(Axis(1.0, 0.0, 0.5))
    other = halfway(made.before.moved(over), made.after.moved(over))
    one = sorted(half(sample, verb).pose.space, key=lambda p: [round(v, 3) for v in p])
    unit = made.before.sheet.unit_mm
    back = [(unit - x, y, -z) for x, y, z in other.pose.space]
    for p in one:
        assert min(math.dist(p, q) for q in back) < 0.05


def test_a_plain_fold_has_no_figure() -> None:
    model = folded("valley the left edge onto the right edge")
    made = model.steps[0].records[0]
    with pytest.raises(Refusal, match="plain turn"):
        halfway(made.before, made.after)


def test_a_pleat_has_no_figure() -> None:
    model = folded(
        "crease through 1/4 of A B perpendicular to edge A B, as k\n"
        "crease through 2/4 of A B perpendicular to edge A B, as m",
        "pleat along k and m, moving A",
    )
    made = model.steps[-1].records[-1]
    with pytest.raises(Refusal, match="plain turn"):
        halfway(made.before, made.after)


def test_one_figure_for_each_kind_of_move() -> None:
    """The lily squashes once and again by repeats, and petals: two figures."""
    found = of("lily").half_done.found
    assert sorted(found) == [1, 5]


def only(*steps: str) -> MoveRecord:
    """The last move of these steps."""
    return folded(*steps).steps[-1].records[-1]


def test_a_tip_turned_between_its_layers_lies_where_geometry_says() -> None:
    """The square ABCD folded over its diagonal AC, D on B; the tip A reversed along x = 50, which leaves the
    spine AC at its middle Q at 45 degrees. The front flap DC stands at an angle b to the back one. Both lines
    of the fold leave Q, on either side of the bisecting plane, so their plane rises from the spine by f,
    where tan f = tan 45 cos b/2; the tip is mirrored in it: it lies in the bisecting plane, as far from Q as
    before, at 2 f to the spine."""
    found = halfway(
        *_states(only("valley D to B", "inside reverse A through 1/2 of A B and centre"))
    )
    z = {(round(x), round(y)): found.pose.space[k] for k, (x, y) in enumerate(found.pose.sheet)}
    half_diagonal = 50 * math.sqrt(2)
    x, y, high = z[(0, 100)]  # D, from the middle of the spine
    b = math.atan2(high, (x - y) * math.sqrt(0.5))
    assert math.dist((x, y, high), (50, 50, 0)) == pytest.approx(half_diagonal, abs=1e-9)
    assert z[(100, 0)] == pytest.approx((100, 0, 0), abs=1e-9)  # B
    f = math.atan(math.cos(b / 2))
    along, aside = half_diagonal * math.cos(2 * f), half_diagonal * math.sin(2 * f)
    root = math.sqrt(0.5)
    x, y = (
        50 - along * root + aside * math.cos(b / 2) * root,
        50 - root * (along + aside * math.cos(b / 2)),
    )
    assert z[(0, 0)] == pytest.approx((x, y, aside * math.sin(b / 2)), abs=1e-9)  # A


HAT = (
    "valley top edge onto bottom edge; mark K at midpoint of A D; mark L at midpoint of B C",
    "mark T at midpoint of K L; valley line K T onto centre line; valley line L T onto centre line",
    "valley through K perpendicular to centre line, moving C",
    "mountain through K perpendicular to centre line, moving A",
    "mark E at bottom left corner; mark F at bottom right corner",
    "tuck D along line T E, inside; tuck C along line T F, inside",
    "tuck A along line T E, inside; tuck B along line T F, inside",
    "open out E and F",
)


def test_a_hat_opened_out_is_a_pyramid() -> None:
    """Its four faces, stacks of layers, meet in its tip at 45 degrees each. Cut by a sphere about the tip
    they are a rhombus of sides 45 degrees; its halved angles, a and b, meet in a right triangle over such a
    side, so cot a cot b = cos 45. All other folds stay as they were."""
    model = folded(*HAT, sheet="sheet rectangle 200 mm by 280 mm\n")
    made = model.steps[-1].records[-1]
    found = halfway(made.before, made.after)
    pose = found.pose
    assert pose.proof.holds, pose.proof
    assert pose.proof.stretch < 1e-12
    amid = {
        round(abs(edge.angle), 7)
        for edge in pose.edges
        if 0.01 < abs(edge.angle) < math.pi - 0.01 and edge.right is not None
    }
    sides, middles = sorted(amid)
    assert math.tan(sides / 2) * math.tan(middles / 2) == pytest.approx(math.sqrt(0.5), abs=1e-6)
    assert math.pi / 3 < sides < middles < 2 * math.pi / 3
    highs = [z for _, _, z in pose.space]
    assert min(highs) < 0 < max(highs)  # to the reader, and away from them


def test_loose_ends_of_brims_that_would_go_through_each_other_are_not_drawn() -> None:
    """Not tucked in, they stand beyond the sides of the hat, in front and behind, and cross as it opens."""
    model = folded(*HAT[:5], HAT[-1], sheet="sheet rectangle 200 mm by 280 mm\n")
    made = model.steps[-1].records[-1]
    with pytest.raises(Refusal, match="through paper"):
        halfway(made.before, made.after)


def test_a_model_that_moves_as_a_whole_lies_between_its_two_places() -> None:
    """The two ends of the hat have come nearer to each other, and will lie on each other."""
    model = folded(*HAT, sheet="sheet rectangle 200 mm by 280 mm\n")
    made = model.steps[-1].records[-1]
    found = halfway(made.before, made.after)
    across = [p[0] for p in found.before]
    one, other = across.index(min(across)), across.index(max(across))
    ways = [math.dist(flat[one], flat[other]) for flat in (found.before, found.after)]
    assert ways == pytest.approx([200, 0], abs=0.01)
    assert 50 < math.dist(found.pose.space[one], found.pose.space[other]) < 195


def test_the_middle_of_a_twist_has_made_about_half_of_its_turn() -> None:
    """A fold at 150 degrees to the side of a triangle turns it by twice 30 degrees."""
    model = folded(
        "mark O at centre; mark P at 1/4 of O A; mark Q at 1/4 of O C; mark R at 1/4 of O E",
        "twist P Q R, along line through P at 150 degrees to line P Q",
        sheet="sheet regular hexagon, side 100 mm\n",
    )
    made = model.steps[-1].records[-1]
    found = halfway(made.before, made.after)
    assert found.pose.proof.holds
    before, space = found.before, found.pose.space
    middle = (sum(p[k] for p in before) / len(before) for k in range(2))
    x, y = middle
    inner = [k for k, p in enumerate(before) if 20 < math.dist(p, (x, y)) < 30]
    assert len(inner) == 3
    for one, other in zip(inner, inner[1:] + inner[:1], strict=True):
        was, now = (
            math.atan2(flat[other][1] - flat[one][1], flat[other][0] - flat[one][0])
            for flat in (before, space)
        )
        turned = abs(math.degrees(math.remainder(now - was, math.tau)))
        assert 15 < turned < 45


def _states(made: MoveRecord) -> tuple[State, State]:
    return made.before, made.after


@pytest.mark.parametrize(("sample", "verb"), TURNED)
def test_a_turned_tip_has_one_way_on_to_where_it_lands(sample: str, verb: str) -> None:
    found = half(sample, verb)
    ((tip, way),) = found.onward
    assert way[0] == pytest.approx(found.pose.space[tip])
    assert way[3] == pytest.approx((*found.after[tip], 0))
    lengths = [math.dist(p, q) for p, q in pairwise(way)]
    assert max(lengths) < 3 * min(lengths)


@pytest.mark.parametrize("outside", ["", "outside "])
def test_crimps_inside_and_outside(outside: str) -> None:
    """The example of the language's page: both are exact."""
    made = only(
        "valley B to D; mark S at 3/5 of A C; mark P at 1/5 of D C; mark Q at 2/5 of D C",
        f"crimp {outside}C along line S P and line S Q",
    )
    pose = halfway(made.before, made.after).pose
    assert pose.proof.holds
    assert pose.proof.stretch < 1e-12


@pytest.mark.parametrize("end", ["S", "Q"])
def test_a_double_rabbit_ear_stands_between_the_opened_halves(end: str) -> None:
    """The language page's example. Both halves of the body turn about the diagonal B D and have the same ear:
    the tip lies in their bisecting plane, as far from A as from C, and keeps its way to S along the spine's
    two parts; uncreased paper hardly bends.
    """
    made = only(
        "valley A to C; mark S at 1/4 of B D; mark Q at midpoint of A B",
        f"double rabbit ear B between Q and S to {end}",
    )
    found = halfway(made.before, made.after, asked=True)
    pose = found.pose
    assert pose.proof.holds, pose.proof
    assert pose.proof.bend < 20
    at = {(round(x), round(y)): p for (x, y), p in zip(pose.sheet, pose.space, strict=True)}
    a, b, c, d, s = (at[p] for p in ((0, 0), (100, 0), (100, 100), (0, 100), (75, 25)))
    assert math.dist(a, b) == pytest.approx(math.dist(c, b), abs=0.1)
    assert math.dist(a, d) == pytest.approx(100, abs=1e-6)
    assert 90 < math.dist(a, c) < 130  # of 0 before and 141.4 on the sheet: opened a good half
    assert math.dist(b, s) < 25 * math.sqrt(2) + 1e-6
    ((tip, _),) = found.onward
    assert pose.space[tip] == b


OPEN_SINK = "open sink O along line through 1/3 of O K perpendicular to line O K"
SPREAD_SINK = "spread sink O along line through 1/5 of O K perpendicular to line O K"


def sunk(words: str) -> MoveRecord:
    """A sink of a waterbomb base with its closed point O at the top, K the middle of the edge below."""
    return (
        folded("mark K at midpoint of C D", words, sheet="start from waterbomb base\n")
        .steps[-1]
        .records[-1]
    )


def test_for_an_open_sink_the_paper_is_opened_and_shut_again() -> None:
    """The square round the closed point is 1/3 of the sheet wide. Its middle is below its rim, as deep as
    folds of so long sides allow, and the halves are opened alike: so say the mirrors of the base.
    """
    made = sunk(OPEN_SINK)
    found = halfway(made.before, made.after)
    pose = found.pose
    assert found.opened
    assert pose.proof.holds, pose.proof
    assert pose.proof.crossing < 0.3
    assert pose.proof.bend < 40
    at = {(round(x), round(y)): p for (x, y), p in zip(pose.sheet, pose.space, strict=True)}
    side = made.before.sheet.unit_mm
    third, half_way, far = (round(side * k) for k in (1 / 3, 1 / 2, 2 / 3))
    middle = at[(half_way, half_way)]
    ring = [at[p] for p in ((third, third), (far, third), (far, far), (third, far))]
    below = [p[1] - middle[1] for p in ring]
    assert max(below) == pytest.approx(min(below), abs=0.5)
    assert 0.1 * side < min(below) < side / 6
    away = [math.dist(p, middle) for p in ring]
    assert away == pytest.approx([math.dist((third, third), (half_way, half_way))] * 4, abs=0.7)
    whole = round(side)
    corners = [at[p] for p in ((0, 0), (whole, 0), (whole, whole), (0, whole))]
    heights = [abs(z) for _, _, z in corners]
    assert max(heights) == pytest.approx(min(heights), abs=0.5)
    assert min(heights) > 0.15 * side


def test_for_a_spread_sink_too() -> None:
    """Its square lies open to the front, and is still all of the sheet round the closed point."""
    made = sunk(SPREAD_SINK)
    found = halfway(made.before, made.after)
    assert found.opened
    assert found.pose.proof.holds, found.pose.proof
    assert found.pose.proof.bend < 40


def test_a_closed_sink_has_none() -> None:
    """Hands do not open it."""
    made = sunk("closed sink O to 1/2 of O K")
    with pytest.raises(Refusal, match="other side"):
        halfway(made.before, made.after)


def test_paper_bends_where_plane_pieces_stay_flat_or_go_all_the_way() -> None:
    """The windmill's four corners go round at once: plane pieces hold no way between; bent ones do."""
    made = record("windmill", "collapse")
    pose = halfway(made.before, made.after).pose
    assert pose.proof.holds
    assert pose.proof.stretch < 1e-9
    assert pose.proof.reached[0].got == pytest.approx(54, abs=3)
    bends = [e for e in pose.edges if e.kind in (Line.BEND, Line.CREASE)]  # flat before and after
    assert max(abs(e.angle) for e in bends) > math.radians(5)


def test_a_tip_that_is_held_elsewhere_is_not_opened() -> None:
    """The goldfish's tail: its halves hang together beside the fold that they turn at."""
    made = record("goldfish", "turn inside out")
    with pytest.raises(Refusal, match="no way was found to open"):
        halfway(made.before, made.after)


def test_so_small_a_part_has_a_figure_only_where_it_is_asked_for() -> None:
    """The crane's head."""
    model = of("crane").model
    head = [
        r
        for step in model.steps
        for r in step.records
        if r.move and r.move.verb == "inside reverse"
    ][-1]
    with pytest.raises(Refusal, match="too little"):
        halfway(head.before, head.after)
    assert halfway(head.before, head.after, asked=True).pose.proof.holds
