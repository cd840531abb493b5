"""Pleats of equal width, from an edge: a fan."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from foldscript.moves.planning.equal_pleats import MOST
from foldscript.paper.signs import FoldLine, Sense

from ..laws.images import IMAGES, Image
from ..laws.outcomes import broken
from ..scripts import captions, creases, folded, layers_at, lies, refused

STRIP = "sheet strip 160 mm by 50 mm, coloured side up\n"


@pytest.mark.parametrize("parts", [2, 3, 5, 8, 16])
def test_so_many_layers_of_one_width(parts: int) -> None:
    """The packet lies where the last part lay; the edge lands on one end or the other."""
    model = folded(f"pleat into {parts} equal parts, moving the right edge", sheet=STRIP)
    width = 160 / parts
    assert len(model.finished.facets) == parts
    assert layers_at(model, width / 2, 25) == parts
    assert layers_at(model, width * 1.1, 25) == 0
    assert lies(model, "A") == (0, 0)
    assert lies(model, "B") == pytest.approx((0 if parts % 2 == 0 else width, 0))


def test_by_turns_to_the_front_and_to_the_back() -> None:
    model = folded("pleat into 4 parts, moving the right edge", sheet=STRIP)
    lines = [s for s in model.steps[0].panels[0].signs if isinstance(s, FoldLine)]
    assert [line.sense for line in lines] == [Sense.VALLEY, Sense.MOUNTAIN, Sense.VALLEY]
    assert [round(line.parts[0][1][0][0] * 160) for line in lines] == [120, 80, 40]
    assert captions(model) == [
        "Pleat from the right edge into 4 equal parts, the first fold to the front."
    ]


def test_the_first_fold_behind() -> None:
    model = folded("pleat mountain into 2 equal parts, moving the top edge", sheet=STRIP)
    once = folded("mountain top edge onto bottom edge", sheet=STRIP)
    assert dict(model.finished.order) == dict(once.finished.order)
    assert lies(model, "C") == pytest.approx((160, 0))


def test_a_fan_follows_creases_and_has_a_name() -> None:
    steps = ("pleat into 8 equal parts, moving the left edge, as fan", "unfold fan")
    lines = creases(folded(*steps, sheet=STRIP))
    assert lines == [((20 * k, 0), (20 * k, 50)) for k in range(1, 8)]
    again = folded(*steps, "pleat into 8 equal parts, moving the right edge", sheet=STRIP)
    assert creases(again) == []


def test_all_layers_go_along() -> None:
    model = folded(
        "valley bottom edge onto top edge",
        "pleat into 4 equal parts, moving the left edge",
        sheet=STRIP,
    )
    assert layers_at(model, 140, 40) == 8


def test_a_fan_of_measured_pleats_by_a_repeat() -> None:
    """Sixteen parts of 1 cm: two folds, six times more, and a last one."""
    model = folded(
        "valley along line 1 cm from the right edge, moving the right edge, all layers",
        "mountain along line 1 cm from the right edge, moving the right edge, all layers",
        "repeat steps 1 to 2 again, 6 times",
        "repeat step 1 again",
        sheet=STRIP,
    )
    assert layers_at(model, 5, 25) == 16
    assert len(model.finished.facets) == 16


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("into 1 equal parts, moving the right edge", "pleat-parts"),
        (f"into {MOST + 1} parts, moving the right edge", "pleat-parts"),
        ("into 2.5 parts, moving the right edge", "pleat-parts"),
        ("into 16, moving the right edge", "pleat-parts"),
        ("into 4 equal parts", "which-side"),
        ("into 4 equal parts, moving B", "which-side"),
        ("into 4 equal parts, moving centre line", "paper-on-both-sides"),
        ("valley centre line into 4 equal parts, moving the right edge", "pleat-lines"),
    ],
)
def test_refused(words: str, code: str) -> None:
    assert refused(f"pleat {words}", sheet=STRIP).code == code


SAID: Sequence[Sequence[str]] = (
    ("pleat into 6 equal parts, moving edge A B",),
    ("valley A to C", "pleat into 4 equal parts, moving line B D"),
    ("pleat into 3 equal parts, moving edge C D", "unfold", "pleat into 3 parts, moving edge A B"),
)


@pytest.mark.parametrize("statements", SAID, ids=lambda said: said[-1])
@pytest.mark.parametrize("image", [i for i in IMAGES if not i.over], ids=lambda image: image.name)
def test_the_mirror_law(statements: Sequence[str], image: Image) -> None:
    assert not broken(statements, image)
