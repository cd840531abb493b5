"""Open and closed sinks, of the tops of bases and of points with many layers."""

from __future__ import annotations

import pytest

from foldscript.folding.steps import Model
from foldscript.moves.planning.creasing import fronts_meet
from foldscript.paper.signs import Arrow, PointSign, Sense

from ..scripts import captions, covered, folded, refused, spot
from .starts import BIRD, DIAMOND, PRELIMINARY, UPRIGHT, WATERBOMB, rays_at, signs

ACROSS_B = "along line through 1/3 of O B perpendicular to line O B"
ACROSS_K = "along line through 1/3 of O K perpendicular to line O K"


def rim_senses(model: Model, ring: list[tuple[float, float]]) -> list[bool | None]:
    """For places of the sheet (mm) on the creases round the point: whether the fronts meet there."""
    return [fronts_meet(model.finished, (x / 100, y / 100)) for x, y in ring]


#: Middles of the eight creases round O, for the waterbomb base sunk at a third of O K.
RING = [
    (50 + sx * (100 / 6 if along else 100 / 12), 50 + sy * (100 / 12 if along else 100 / 6))
    for sx in (1, -1)
    for sy in (1, -1)
    for along in (True, False)
]


def test_open_sink_turns_the_point_inside_out() -> None:
    """The top comes down as far below the line as it was above it; the silhouette loses the tip."""
    model = folded(*WATERBOMB, f"open sink O {ACROSS_K}", sheet=UPRIGHT)
    assert spot(model, 50, 50) == pytest.approx((50, 50 - 2 * 50 / 3))
    assert covered(model) == pytest.approx(1 / 4 * (1 - 1 / 9))


def test_creases_round_an_open_sink_have_one_sense() -> None:
    model = folded(*WATERBOMB, f"open sink O {ACROSS_K}", sheet=UPRIGHT)
    assert set(rim_senses(model, RING)) in ({True}, {False})


def test_creases_round_a_closed_sink_have_both() -> None:
    model = folded(*WATERBOMB, f"closed sink O {ACROSS_K}", sheet=UPRIGHT)
    assert set(rim_senses(model, RING)) == {True, False}


@pytest.mark.parametrize("kind", ["open", "closed"])
def test_the_point_lies_inside(kind: str) -> None:
    """Neither in front of everything nor behind it."""
    model = folded(*PRELIMINARY, f"{kind} sink O {ACROSS_B}", sheet=DIAMOND)
    state = model.finished
    order = state.top_down(range(len(state.facets)))
    at_point = [
        k
        for k, i in enumerate(order)
        if any(abs(x - 0.5) + abs(y - 0.5) < 1e-9 for x, y in state.facets[i].outline)
    ]
    assert len(at_point) == 6
    assert 0 not in at_point
    assert len(order) - 1 not in at_point
    assert len(rays_at(model, 50, 50)) == 6


@pytest.mark.parametrize("kind", ["open", "closed"])
def test_of_many_layers(kind: str) -> None:
    """Two flaps squashed first: eight folds meet at O."""
    squashed = (
        *PRELIMINARY,
        "squash line O M onto centre line",
        "turn over",
        "squash line O L onto centre line",
    )
    before = folded(*squashed, sheet=DIAMOND)
    assert len(rays_at(before, 50, 50)) == 10
    model = folded(
        *squashed,
        f"{kind} sink O along line through 1/5 of O B perpendicular to line O B",
        sheet=DIAMOND,
    )
    assert spot(model, 50, 50)[1] < spot(before, 50, 50)[1]


def test_of_a_bird_base() -> None:
    """The point between the wings, whose sides are narrower."""
    model = folded(
        *BIRD,
        "open sink O along line through 1/5 of O A perpendicular to line O A",
        sheet=DIAMOND,
    )
    assert spot(model, 50, 50) == pytest.approx((50, 50 - 2 * 50 * 2**0.5 / 5))


def test_by_where_the_point_lands() -> None:
    model = folded(*WATERBOMB, "open sink O to 1/2 of O K", sheet=UPRIGHT)
    assert spot(model, 50, 50) == pytest.approx((50, 25))


def test_signs() -> None:
    for kind, words in (("open", "turned inside out"), ("closed", "its layers stay together")):
        model = folded(*WATERBOMB, f"{kind} sink O {ACROSS_K}", sheet=UPRIGHT)
        assert not [s for s in signs(model) if isinstance(s, Arrow)]
        (sign,) = [s for s in signs(model) if isinstance(s, PointSign)]
        assert sign.kind == f"{kind}-sink"
        assert sign.toward is not None
        assert tuple(100 * x for x in sign.toward) == pytest.approx(spot(model, 50, 50))
        front = [s for s in signs(model) if getattr(s, "sense", None) is Sense.MOUNTAIN]
        assert front
        assert words in captions(model)[-1]


@pytest.mark.parametrize("kind", ["open", "closed"])
@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("B along line M N", "open-point"),
        ("O along line through 1/3 of O M perpendicular to line O M", "open-point"),
        ("along line M N", "which-tip"),
        ("O along line through B parallel to line M N", "fold-misses-flap"),
    ],
)
def test_refused(kind: str, words: str, code: str) -> None:
    told = refused(*PRELIMINARY, f"{kind} sink {words}", sheet=DIAMOND)
    assert told.code == code
    assert told.hints


def test_no_nearer_line_is_offered_where_edges_lie_at_the_point_itself() -> None:
    """The middle of a sheet halved twice, where two corners in front and two behind were brought."""
    told = refused(
        "mark O at centre; valley bottom edge onto top edge",
        "valley A to O; valley B to O",
        "repeat step 2 behind",
        "mark K at the left corner; valley left corner to right corner, all layers",
        "open sink O along line through 1/5 of line O K and 1/4 of the left edge",
    )
    assert told.code == "open-point"
    (hint,) = told.hints
    assert hint.startswith("unfold first the flaps whose edges lie at the point itself")


@pytest.mark.parametrize(
    ("corner", "first"),
    [
        ("top left", "to push the tip in between its layers, say 'inside reverse top left corner "),
        (
            "top right",
            "to push the tip in between its layers, say 'inside reverse top right corner ",
        ),
    ],
)
def test_for_an_open_tip_what_hands_do_there_is_offered(corner: str, first: str) -> None:
    """A book: at the left its corners are open, at the right the fold is closed on one side."""
    side = corner.split()[1]
    told = refused(
        "valley right edge onto left edge",
        f"mark P at 20 mm from {corner} corner on top edge; "
        f"mark Q at 20 mm from {corner} corner on {side} edge",
        f"open sink {corner} corner through P Q",
    )
    assert told.hints[0].startswith(first)
    assert any("to fold it behind, say 'mountain" in hint for hint in told.hints)


def test_a_raw_corner_of_the_sheet_folds_behind() -> None:
    told = refused("open sink A through 1/3 of A B and 1/3 of A D")
    assert told.hints == (
        "to fold it behind, say 'mountain A through 1/3 of A B and 1/3 of A D'",
        "or name a point that is closed all round",
    )


def test_a_number_of_layers_is_refused_not_ignored() -> None:
    for verb in ("open sink", "closed sink"):
        told = refused(*WATERBOMB, f"{verb} O to 1/2 of O K, 2 layers", sheet=UPRIGHT)
        assert told.code == "unexpected-words"
        assert "takes no number of layers" in told.message
        assert told.words == "2 layers"
