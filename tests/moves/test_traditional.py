"""Moves that no sample uses, each in a situation of the craft, said in the documented language.

Where points come to lie is worked out here from the paper before the move, apart from the kernel.
"""

from __future__ import annotations

import math

import pytest

from foldscript.geometry.lines import Point
from foldscript.paper.signs import PointSign
from foldscript.paper.state import State

from ..scripts import captions, covered, folded, refused
from .starts import signs

WATERBOMB = "mark T at the top corner; mark X at midpoint of the bottom edge"
PRELIMINARY = "mark T at the top corner; mark X at the bottom corner"
KITE = (
    "mark L at the left corner; mark R at the right corner; mark P at 1/2 of line L A; "
    "mark Q at 1/2 of line R A; mark U at midpoint of L D; mark V at midpoint of R B"
)
#: The fish base folded in half behind: A at the right end of the folded edge, on top; S below Q.
FISH_HALF = (
    "rotate quarter turn anticlockwise",
    "mountain the top corner to the bottom corner, all layers",
    "mark Q at 1/3 of A C; "
    "mark S at where line through Q perpendicular to line A C meets the bottom right edge",
)
BIRD = (
    "mark E at the left corner; mark F at the right corner; "
    "mark X at where line E F meets centre line"
)
MIDDLE = (0.5, 0.5)


def start(base: str) -> str:
    return f"start from {base} base\nsheet square 100 mm\n"


def between(p: Point, q: Point, t: float) -> Point:
    return p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])


def corner(state: State, name: str) -> Point:
    return state.where(state.sheet.corner(name))


def at_corner(state: State, pick: int) -> tuple[Point, Point]:
    """The corner farthest to the left (-1) or right (1): on the sheet, and as it lies."""
    return max(
        ((p, f.place(p)) for f in state.facets for p in f.outline), key=lambda c: pick * c[1][0]
    )


def test_closed_sink_of_a_waterbomb_base() -> None:
    """The top goes in by a third of its height; its layers lie between the front and the back."""
    model = folded(
        WATERBOMB,
        "closed sink T along line through 1/3 of T X perpendicular to line T X",
        sheet=start("waterbomb"),
    )
    before, after = model.steps[0].after, model.finished
    top = before.where(MIDDLE)
    assert after.where(MIDDLE) == pytest.approx((top[0], top[1] - 2 / 3 * 0.5))
    # the silhouette is a triangle without the similar one of a third of its height (derived)
    assert covered(model) == pytest.approx(1 / 4 * (1 - 1 / 9))
    point = {i for i, f in enumerate(after.facets) if MIDDLE in f.outline}
    stack = after.facets_at((top[0] + 0.01, top[1] - 0.22))
    assert len(point & set(stack)) == 4  # front, two gussets' halves on this side, back
    assert not point & {stack[0], stack[-1]}


def test_spread_sink_of_a_preliminary_base() -> None:
    """T comes forward and down by twice the depth; a square of that width lies in front, T in its middle."""
    model = folded(
        PRELIMINARY,
        "spread sink T along line through 1/6 of T X perpendicular to line T X",
        "turn over",
        sheet=start("preliminary"),
    )
    before, after = model.steps[0].after, model.steps[1].after
    top, deep = before.where(MIDDLE), math.sqrt(2) / 2 / 6
    assert after.where(MIDDLE) == pytest.approx((top[0], top[1] - 2 * deep))
    front = after.placed[after.facets_at(after.where(MIDDLE))[0]]
    xs, ys = [p[0] for p in front], [p[1] for p in front]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((2 * deep, 2 * deep))
    # what the square loses: the tip of a right angle, as high as the line lies deep (derived)
    assert covered(model) == pytest.approx(1 / 4 - deep**2)


def test_swivels_on_a_kite() -> None:
    """The folded edge of either flap swings about its middle, onto the line to U and to V."""
    model = folded(KITE, "swivel L along line P U", "swivel R along line Q V", sheet=start("kite"))
    before = model.steps[0].after
    for pick, inner, step in ((-1, "D", 1), (1, "B", 2)):
        place, side = at_corner(before, pick)
        pivot = between(side, corner(before, "A"), 0.5)
        goal = between(side, corner(before, inner), 0.5)
        reach = math.dist(pivot, side) / math.dist(pivot, goal)
        assert model.steps[step].after.where(place) == pytest.approx(between(pivot, goal, reach))
        assert corner(model.finished, inner) == pytest.approx(corner(before, inner))


def test_swivels_that_meet_are_refused() -> None:
    """Along P D the left flap comes to lie over the right one, which can then not be raised."""
    told = refused(KITE, "swivel L along line P D", "swivel R along line Q B", sheet=start("kite"))
    assert told.code == "blocked"
    assert "it lies under the layer with point L" in told.message


@pytest.mark.parametrize("toward", ["Q", "S"])
def test_double_rabbit_ear_of_a_fish_base(toward: str) -> None:
    """The tail lands on the line from S through Q, as far as it was from S or from Q."""
    model = folded(
        *FISH_HALF, f"double rabbit ear A between S and Q to {toward}", sheet=start("fish")
    )
    before = model.steps[2].after
    tip = corner(before, "A")
    end = corner(before, "C")
    q = between(tip, end, 1 / 3)
    bottom = min((p for placed in before.placed for p in placed), key=lambda p: p[1])
    s = (q[0], tip[1] + (bottom[1] - tip[1]) * (tip[0] - q[0]) / (tip[0] - bottom[0]))
    here, there = (s, q) if toward == "Q" else (q, s)
    reach = math.dist(here, tip) / math.dist(here, there)
    assert corner(model.finished, "A") == pytest.approx(between(here, there, reach))


def test_double_rabbit_ears_of_a_bird_base() -> None:
    """Both lower points, one bent out and one around its folded edge."""
    model = folded(
        BIRD,
        "double rabbit ear B between 1/2 of B E and 1/2 of B X to 1/2 of B E",
        "double rabbit ear D between 1/2 of D F and 1/2 of D X to 1/2 of D X",
        "valley C through E F",
        sheet=start("bird"),
    )
    before = model.steps[0].after
    b = corner(before, "B")
    e = at_corner(before, -1)[1]
    x = (b[0], e[1])
    here, there = between(b, x, 0.5), between(b, e, 0.5)
    reach = math.dist(here, b) / math.dist(here, there)
    assert corner(model.steps[1].after, "B") == pytest.approx(between(here, there, reach))
    # the far point is the mirror image of what the first would do toward X
    here, there = there, here
    reach = math.dist(here, b) / math.dist(here, there)
    landing = between(here, there, reach)
    assert corner(model.steps[2].after, "D") == pytest.approx((2 * b[0] - landing[0], landing[1]))


def test_squeezed_last() -> None:
    steps = (WATERBOMB, "squeeze bottom left corner and bottom right corner")
    model = folded(*steps, sheet=start("waterbomb"))
    assert [s.kind for s in signs(model) if isinstance(s, PointSign)] == ["squeeze"] * 2
    assert captions(model)[-1] == "Squeeze the model at both bottom corners."
    told = refused(*steps, "valley T to X", sheet=start("waterbomb"))
    assert told.code == "not-flat-any-more"
    assert "it was squeezed open in step 2" in told.message


ALONG = "along line through 1/3 of T X"


@pytest.mark.parametrize(
    ("base", "words", "code", "says"),
    [
        (
            "waterbomb",
            f"closed sink T {ALONG} at 30 degrees to line T X",
            "open-point",
            "an edge of the sheet lies beyond this line",
        ),
        (
            "waterbomb",
            f"closed sink X {ALONG} perpendicular to line T X",
            "open-point",
            "point X is not a closed point",
        ),
        ("waterbomb", "closed sink T along line T X", "on-the-line", "does not say which side"),
        (
            "waterbomb",
            f"open sink T {ALONG} at 70 degrees to line T X",
            "locked-layers",
            "this point cannot be sunk like this",
        ),
        ("waterbomb", "spread sink T to X", "too-deep", "reach as far below the line"),
        (
            "waterbomb",
            f"spread sink X {ALONG} perpendicular to line T X",
            "open-point",
            "no folds meet there",
        ),
        ("waterbomb", "squeeze T to X", "unexpected-words", "'to'"),
        ("waterbomb", "pull apart T and X", "no-wings", "not on two flaps"),
        ("waterbomb", "double rabbit ear T between X and C to X", "not-a-triangle", ""),
        ("preliminary", "swivel X along line T X", "on-the-line", ""),
    ],
)
def test_refused(base: str, words: str, code: str, says: str) -> None:
    told = refused(WATERBOMB if base == "waterbomb" else PRELIMINARY, words, sheet=start(base))
    assert (told.code, says in told.message) == (code, True), told.message
    assert told.hints
