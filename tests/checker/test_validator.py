"""The validator passes sound states and names each kind of fault, made by damaging one."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import Any

import pytest

from . import made
from .validator import faults

Document = dict[str, Any]

GOOD = [
    made.unfolded,
    made.diagonal,
    made.cupboard,
    made.letter,
    made.split_letter,
    made.book,
    made.half_split_book,
    made.preliminary,
    made.waterbomb,
    made.cut_flap,
    made.window,
    lambda: made.strip([0, 1, 2, 3]),
    lambda: made.strip([0]),
]


@pytest.mark.parametrize("make", GOOD, ids=lambda make: make.__name__)
def test_sound_states_have_no_fault(make: Callable[[], Document]) -> None:
    assert faults(make()) == []


@pytest.mark.parametrize("make", GOOD, ids=lambda make: make.__name__)
def test_sound_states_turned_over_have_no_fault(make: Callable[[], Document]) -> None:
    doc = make()
    for state in doc["states"]:
        for plate in state["plates"]:
            a, b = plate["place"]
            plate["place"] = [[-a[0], -a[1], 70 - a[2]], b]
            plate["shows"] = {"front": "back", "back": "front"}[plate["shows"]]
        state["above"] = [[j, i] for i, j in state["above"]]
    assert faults(doc) == []


def swapped(doc: Document, *pairs: tuple[int, int]) -> Document:
    """The document with the order of these pairs, listed as they stand, turned round."""
    above = doc["states"][1]["above"]
    for i, j in pairs:
        above[above.index([i, j])] = [j, i]
    return doc


def test_gap_in_the_tiling() -> None:
    doc = made.cupboard()
    doc["states"][1]["plates"].pop()
    doc["states"][1]["above"] = [[0, 1]]
    found = faults(doc)
    assert any("tiling: the plates' areas add up to 0.75" in f for f in found)
    assert any("tiling: part of the sheet belongs to no plate" in f for f in found)


def test_sliver_missing_from_the_tiling() -> None:
    doc = made.cupboard()
    for x in (0, 3):
        doc["states"][1]["plates"][1]["outline"][x][0] += 1e-5
    assert any("tiling: part of the sheet belongs to no plate" in f for f in faults(doc))


def test_plates_that_cover_the_same_paper() -> None:
    doc = made.cupboard()
    for x in (0, 3):
        doc["states"][1]["plates"][1]["outline"][x][0] -= 1
    assert any("tiling: plates 0 and 1 cover the same part" in f for f in faults(doc))


def test_plate_that_leaves_the_sheet() -> None:
    doc = made.cupboard()
    for x in (0, 3):
        doc["states"][1]["plates"][0]["outline"][x][0] -= 1e-5
    assert any("tiling: plate 0 reaches over the edge" in f for f in faults(doc))


def test_placement_that_stretches() -> None:
    doc = made.unfolded()
    for plate in doc["states"][1]["plates"]:
        plate["place"][0][0] += 1e-7
    found = faults(doc)
    assert [f.split(": ")[1] for f in found] == ["isometry", "isometry"]


def test_side_shown_that_the_placement_contradicts() -> None:
    doc = made.diagonal()
    doc["states"][1]["plates"][1]["shows"] = "front"
    assert faults(doc) == ["step 1: shows: plate 1 says front, its placement says otherwise"]


@pytest.mark.parametrize(("shift", "torn"), [(1e-9, False), (1e-6, True), (0.5, True)])
def test_tear(shift: float, torn: bool) -> None:
    """In millimetres on a 100 mm sheet: below and above the limit of 1e-9 of its size."""
    doc = made.diagonal()
    doc["states"][1]["plates"][1]["place"][0][2] += shift
    assert any("tear: plates 0 and 1 come apart by" in f for f in faults(doc)) is torn


def test_cut_that_is_not_listed_is_a_tear() -> None:
    doc = made.cut_flap()
    del doc["states"][1]["cuts"]
    found = faults(doc)
    assert any("tear: plates 0 and 1" in f for f in found)


def test_cut_too_short_leaves_a_tear() -> None:
    doc = made.cut_flap()
    doc["states"][1]["cuts"][0]["to"] = [50, 40]
    assert any("along (50.000, 40.000) to (50.000, 50.000)" in f for f in faults(doc))


def test_order_missing() -> None:
    doc = made.preliminary()
    doc["states"][1]["above"].remove([2, 1])
    assert "step 1: order: plates 1 and 2 overlap and neither is said to be above" in faults(doc)


def test_order_missing_for_a_narrow_overlap() -> None:
    """Cupboard doors wider by 0.002 mm of 100 overlap by more than 1e-6 of the sheet."""
    doc = made.cupboard()
    plates = doc["states"][1]["plates"]
    for k in (1, 2):
        plates[0]["outline"][k][0] += 1e-3
        plates[2]["outline"][0 if k == 1 else 3][0] -= 1e-3
        plates[1]["outline"][k][0] -= 1e-3
        plates[1]["outline"][0 if k == 1 else 3][0] += 1e-3
    plates[0]["place"][0][2] += 2e-3
    plates[2]["place"][0][2] -= 2e-3
    assert faults(doc) == ["step 1: order: plates 0 and 2 overlap and neither is said to be above"]
    doc["states"][1]["above"].append([2, 0])
    assert faults(doc) == []


def test_order_said_both_ways() -> None:
    doc = made.diagonal()
    doc["states"][1]["above"].append([0, 1])
    assert faults(doc) == ["step 1: order: plates 0 and 1 each lie above the other"]


def test_order_said_twice() -> None:
    doc = made.diagonal()
    doc["states"][1]["above"].append([1, 0])
    assert faults(doc) == ["step 1: order: plate 1 above plate 0 is said twice"]


def test_order_of_plates_that_only_touch() -> None:
    doc = made.cupboard()
    doc["states"][1]["above"].append([0, 2])
    assert faults(doc) == ["step 1: order: plates 0 and 2 do not overlap, yet have an order"]


@pytest.mark.parametrize("pair", [[0, 0], [0, 9], [0], "01", [-1, 0], [0, 1.5]])
def test_order_of_what_is_no_pair(pair: object) -> None:
    doc = made.diagonal()
    doc["states"][1]["above"].append(pair)
    assert faults(doc) == [f"step 1: order: {pair} is no pair of plates"]


def test_ring() -> None:
    doc = swapped(made.strip([0, 1, 2]), (0, 2))
    assert any("ring: plates 0, 1 and 2 lie above each other" in f for f in faults(doc))


def test_circle_without_a_common_spot_is_no_ring() -> None:
    """Four flaps folded in over one another like a box's lid, each above the next one."""
    c = 20.0
    flaps = [
        (made.box(c, 0, 100 - c, c), made.mirror_y(c)),
        (made.box(100 - c, c, 100, 100 - c), made.mirror_x(100 - c)),
        (made.box(c, 100 - c, 100 - c, 100), made.mirror_y(100 - c)),
        (made.box(0, c, c, 100 - c), made.mirror_x(c)),
        (made.box(c, c, 100 - c, 100 - c), made.STAY),
    ]
    corners = [
        (made.box(x, y, x + c, y + c), made.slide(500 + 2 * x))
        for x, y in [(0, 0), (100 - c, 0), (100 - c, 100 - c), (0, 100 - c)]
    ]
    doc = made.document([*flaps, *corners], [0, 4], [1, 4], [2, 4], [3, 4])
    state = doc["states"][1]
    state["above"] += [[0, 1], [1, 2], [2, 3], [3, 0]]
    state["cuts"] = [  # the corners are cut away, so that nothing but the lid is folded
        {"from": list(a), "to": list(b)}
        for x in (c, 100 - c)
        for a, b in (((x, 0), (x, c)), ((x, 100 - c), (x, 100)))
    ] + [
        {"from": list(a), "to": list(b)}
        for y in (c, 100 - c)
        for a, b in (((0, y), (c, y)), ((100 - c, y), (100, y)))
    ]
    assert faults(doc) == []


def test_pierced_fold() -> None:
    doc = swapped(made.letter(), (2, 0))
    assert faults(doc) == ["step 1: pierced: plate 2 goes through the fold between plates 0 and 1"]


def test_fold_pierced_by_a_flat_joint() -> None:
    doc = swapped(made.split_letter(), (2, 0))
    assert faults(doc) == ["step 1: pierced: plate 2 goes through the fold between plates 0 and 1"]


def test_flat_joint_pierced_by_a_plate() -> None:
    doc = swapped(made.half_split_book(), (1, 2))
    found = faults(doc)
    assert "step 1: joint: plate 1 goes through the flat joint between plates 0 and 2" in found


def test_two_flat_joints_through_each_other() -> None:
    doc = swapped(made.book(), (2, 3))
    found = faults(doc)
    assert any("joint: the flat joint between plates" in f for f in found)


def test_interleaved_folds() -> None:
    """Folds 0-1 and 2-3 lie on the same side of the pile; 0, 2, 1, 3 is no way to lie."""
    found = faults(made.strip([0, 2, 1, 3]))
    assert len(found) == 1
    assert (
        "interleaved: the fold between plates 0 and 1 and the fold between plates 2 and 3"
        in (found[0])
    )


def test_every_other_angle_must_add_up() -> None:
    """Four creases that do not fold flat, one of them laid 10 mm beside its opposite."""
    o, a, b, c, d = (50.0, 50.0), (0.0, 0.0), (100.0, 0.0), (60.0, 100.0), (0.0, 100.0)
    parts = [
        ([o, a, b], made.STAY),
        ([o, b, (100, 100), c], made.CROSS_SWAP),
        ([o, c, d], made.BACK_QUARTER),
        ([o, d, a], made.SWAP),
    ]
    found = faults(made.document(parts))
    assert any("tear: plates 1 and 2" in f for f in found)
    angle = 90 + 90 + 45 - math.degrees(math.atan2(50, 10))
    said = [f for f in found if "Kawasaki: every other angle at (50.000, 50.000)" in f]
    assert len(said) == 1
    assert f"{angle:.4f}" in said[0] or f"{360 - angle:.4f}" in said[0]


def test_odd_number_of_folds_at_a_point() -> None:
    o = (50.0, 50.0)
    parts = [
        ([o, (0, 0), (100, 0)], made.STAY),
        ([o, (100, 0), (100, 100)], made.CROSS_SWAP),
        ([o, (100, 100), (0, 100), (0, 0)], made.SWAP),
    ]
    found = faults(made.document(parts, [1, 0], [2, 0]))
    assert "step 1: Kawasaki: 3 folds, an odd number, meet at (50.000, 50.000)" in found


def test_too_many_valleys_at_a_point() -> None:
    doc = swapped(made.preliminary(), (2, 1))
    assert any(
        "Maekawa: 5 valley and 1 mountain folds meet at (50.000, 50.000)" in f for f in faults(doc)
    )


def test_mark_that_leaves_the_sheet() -> None:
    doc = made.diagonal()
    doc["states"][1]["marks"] = [{"from": [50, 50], "to": [100.001, 50]}]
    assert faults(doc) == ["step 1: mark: mark 0 leaves the sheet"]


def test_mark_along_a_fold() -> None:
    doc = made.diagonal()
    doc["states"][1]["marks"] = [{"from": [20, 20], "to": [10, 10]}]
    assert faults(doc) == ["step 1: mark: mark 0 is folded, between plates 0 and 1"]


def test_mark_without_length() -> None:
    doc = made.diagonal()
    doc["states"][1]["marks"] = [{"from": [20, 10], "to": [20, 10]}]
    assert faults(doc) == ["step 1: mark: mark 0 has no length"]


def test_steps_out_of_order() -> None:
    doc = made.diagonal()
    doc["states"][1]["step"] = 2
    assert faults(doc) == ["steps: state 1 is numbered 2"]


def test_first_state_that_is_folded() -> None:
    doc = made.diagonal()
    del doc["states"][0]
    doc["states"][0]["step"] = 0
    assert faults(doc) == ["step 0: steps: the sheet is not flat before the first step"]


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (["format"], "other", "format: format is not"),
        (["version"], 2, "format: version"),
        (["sheet"], None, "format: sheet or states are missing"),
        (["sheet", "unit"], "inch", "format: the sheet's unit"),
        (["sheet", "outline"], [[0, 0], [1, 1]], "sheet: outline is not a list of at least 3"),
        (["sheet", "outline"], [[0, 0], [0, 1], [1, 0]], "sheet: outline is not counter-clockwise"),
        (["states"], [], "steps: there is no state"),
        (["states", 1], None, "format: state 1 is not an object"),
        (["states", 1, "plates"], [], "format: plates are missing"),
        (["states", 1, "plates", 0, "place"], [[1, 0], [0, 1]], "place of plate 0"),
        (["states", 1, "plates", 0, "shows"], "side", "shows of plate 0"),
        (["states", 1, "plates", 0, "outline"], "no", "outline of plate 0 is not a list"),
        (["states", 1, "plates", 0, "outline", 0], [0, float("nan")], "that is not finite"),
        (["states", 1, "plates", 0, "outline", 0], [200, 50], "outline of plate 0"),
        (["states", 1, "marks"], [3], "mark 0 is not an object"),
    ],
)
def test_malformed_documents(path: list[str | int], value: object, said: str) -> None:
    doc: Any = made.diagonal()
    at = doc
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = value
    assert any(said in f for f in faults(doc)), faults(doc)


@pytest.mark.parametrize(("cells", "ways"), [(2, 2), (3, 6), (4, 16), (5, 50)])
def test_piles_of_a_strip_of_stamps(cells: int, ways: int) -> None:
    """As many piles pass as the strip can be folded into (OEIS A000136)."""
    piles = itertools.permutations(range(cells))
    assert sum(not faults(made.strip(pile)) for pile in piles) == ways


def test_piles_of_a_square_in_quarters() -> None:
    """2 x 2 map: 8 ways (OEIS A001415); also 8 layer orders of the vertex of four right angles."""
    piles = itertools.permutations(range(4))
    assert sum(not faults(made.quarters(pile)) for pile in piles) == 8


def _without_its_flap(doc: Document) -> Document:
    """A cupboard of which the door with the highest number has been cut off: what is left is told."""
    state = doc["states"][1]
    gone = state["plates"].pop()["outline"]
    state["above"] = [pair for pair in state["above"] if 2 not in pair]
    xs, ys = [x for p in doc["sheet"]["outline"] for x in p[:1]], [p[1] for p in gone]
    rest = [x for plate in state["plates"] for x, _ in plate["outline"]]
    low, high = min(rest), max(rest)
    assert (low, high) != (min(xs), max(xs))
    bottom, top = min(ys), max(ys)
    state["left"] = {
        "outline": [[low, bottom], [high, bottom], [high, top], [low, top]],
        "holes": [],
    }
    return doc


def test_what_is_left_of_a_cut_sheet_is_sound() -> None:
    assert faults(_without_its_flap(made.cupboard())) == []


def test_paper_that_was_cut_off_does_not_come_back() -> None:
    doc = _without_its_flap(made.cupboard())
    whole = made.cupboard()["states"][1] | {"step": 2}
    doc["states"].append(whole)
    assert any("left: paper is there that was cut off" in f for f in faults(doc))


def test_what_is_left_is_all_told() -> None:
    doc = _without_its_flap(made.cupboard())
    doc["states"][1]["left"] = {"outline": doc["sheet"]["outline"], "holes": []}
    assert any("tiling: part of the sheet belongs to no plate" in f for f in faults(doc))
