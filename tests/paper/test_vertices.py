"""One point where creases meet: how many ways there are to fold it flat."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.paper.signs import Sense
from foldscript.source.diagnostics import Refusal

from ..conftest import assert_sound, examples
from .orders import assignments, count_assignments, count_orders, folded, orders
from .sheets import M, V, vertex

# Assignments: Hull, Ars Combinatoria 67 (2003) 175-188, and 2 * C(2n, n - 1) for equal angles (OEIS A162551).
# Orders: derived; for 2n equal angles 2n times the closed meanders (OEIS A005315).
TABLE = [
    ([90] * 4, 8, 8),
    ([60] * 6, 30, 48),
    ([45] * 8, 112, 336),
    ([36] * 10, 420, 2620),
    ([80, 80, 100, 100], 6, 6),
    ([50, 80, 130, 100], 4, 4),
    ([90, 45, 45, 90, 45, 45], 18, 18),
]
CLOSED_MEANDERS = {2: 2, 3: 8, 4: 42, 5: 262}  # OEIS A005315


@pytest.mark.parametrize(("angles", "ways", "piles"), TABLE, ids=lambda v: str(v))
def test_assignments_and_orders(angles: list[float], ways: int, piles: int) -> None:
    flat = vertex(angles)
    assert count_assignments(flat) == ways
    assert count_orders(flat) == piles


@pytest.mark.parametrize(("angles", "ways", "piles"), TABLE[:4], ids=lambda v: str(v))
def test_equal_angles_give_meanders_and_the_upper_bound(
    angles: list[float], ways: int, piles: int
) -> None:
    """Upper bound 2 * C(2n, n - 1): Hull (2003); orders: OEIS A005315."""
    n = len(angles) // 2
    assert ways == 2 * math.comb(2 * n, n - 1)
    assert piles == 2 * n * CLOSED_MEANDERS[n]


def test_every_order_of_a_vertex_is_a_sound_state() -> None:
    flat = vertex([60] * 6)
    assert_sound([folded(flat, order) for order in orders(flat)])


@pytest.mark.parametrize(
    ("angles", "missing"),
    [([90, 80, 90, 100], "0"), ([90, 90, 80, 100], "10"), ([120.5, 59, 59.5, 121], "0")],
)
def test_kawasaki_names_the_missing_angle(angles: list[float], missing: str) -> None:
    """Alternate angles add up to 180 degrees (Kawasaki; Justin)."""
    if missing == "0":
        assert count_orders(vertex(angles)) > 0
        return
    with pytest.raises(Refusal) as refused:
        vertex(angles)
    assert refused.value.code == "kawasaki"
    assert "(50.0, 50.0) mm" in refused.value.message
    assert f"{missing} degrees are missing" in refused.value.message


@pytest.mark.parametrize("angles", [[120, 120, 120], [360], [100, 80, 90, 50, 40]])
def test_an_odd_number_of_creases_is_refused(angles: list[float]) -> None:
    with pytest.raises(Refusal) as refused:
        vertex(angles)
    assert refused.value.code == "odd-vertex"
    assert "(50.0, 50.0) mm" in refused.value.message


def test_a_straight_crease_through_a_point() -> None:
    assert count_orders(vertex([180, 180])) == 2
    assert count_orders(vertex([180, 180]), [M, V]) == 0


def crimps_flat(angles: Sequence[float], senses: Sequence[Sense]) -> bool:
    """The crimp rule: fold away a smallest angle between unlike creases until two creases are left.

    Crease k lies between angle k - 1 and angle k. Source: M. Bern and B. Hayes, SODA 1996; E. Demaine
    and J. O'Rourke, Geometric Folding Algorithms (2007), section 12.2.
    """
    angles, senses = list(angles), list(senses)
    while len(angles) > 2:
        n = len(angles)
        for k in range(n):
            before, after = angles[k - 1], angles[(k + 1) % n]
            if angles[k] <= min(before, after) and senses[k] is not senses[(k + 1) % n]:
                turned = [angles[(k + 1 + m) % n] for m in range(n)]  # angle k comes last
                creases = [senses[(k + 1 + m) % n] for m in range(n)]
                # angle k and the creases on either side of it are gone
                angles = [turned[-2] - turned[-1] + turned[0], *turned[1:-2]]
                senses = [creases[-2], *creases[1:-2]]
                break
        else:
            return False
    return senses[0] is senses[1]


@st.composite
def flat_angles(draw: st.DrawFn) -> list[int]:
    """Angles of a vertex that folds flat, with many equal ones among them."""
    half = draw(st.integers(2, 4))

    def parts() -> list[int]:
        cuts = draw(st.lists(st.integers(1, 11), min_size=half - 1, max_size=half - 1, unique=True))
        return [15 * (b - a) for a, b in itertools.pairwise([0, *sorted(cuts), 12])]

    one, two = parts(), parts()
    return [angle for pair in zip(one, two, strict=True) for angle in pair]


@examples(25)
@given(flat_angles())
def test_assignments_are_those_of_the_crimp_rule(angles: list[int]) -> None:
    flat = vertex(angles)
    n = len(angles)
    allowed = {
        senses for senses in itertools.product((M, V), repeat=n) if crimps_flat(angles, senses)
    }
    found = list(assignments(flat))
    creases = [fold.crease for fold in flat.folds]
    by_crease = {
        tuple(
            sense for _, sense in sorted(zip(creases, one, strict=True), key=lambda item: item[0])
        )
        for one in found
    }
    assert len(found) == len(by_crease)
    assert by_crease == allowed
    assert 2 ** (n // 2) <= len(found) <= 2 * math.comb(n, n // 2 - 1)  # Hull (2003)


@examples(25)
@given(flat_angles(), st.data())
def test_with_senses_given_an_order_exists_as_the_crimp_rule_says(
    angles: list[int], data: st.DataObject
) -> None:
    senses = data.draw(
        st.lists(st.sampled_from((M, V)), min_size=len(angles), max_size=len(angles))
    )
    assert (count_orders(vertex(angles), senses) > 0) == crimps_flat(angles, senses)


@examples(25)
@given(flat_angles())
def test_maekawa_and_big_little_big(angles: list[int]) -> None:
    """|M - V| = 2, and a strictly smallest angle lies between unlike creases (Maekawa; Justin)."""
    flat = vertex(angles)
    n = len(angles)
    for one in assignments(flat):
        senses = dict(zip((f.crease for f in flat.folds), one, strict=True))
        assert abs(sum(1 if s is M else -1 for s in senses.values())) == 2
        for k in range(n):
            if angles[k] < min(angles[k - 1], angles[(k + 1) % n]):
                assert senses[k] is not senses[(k + 1) % n]
