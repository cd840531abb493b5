"""Unfold: paper goes back, creases stay."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest
from shapely import LineString

from foldscript.moves.planning.fingers import Opened as OpenedByHands
from foldscript.paper.signs import Arrow, FoldLine, Opened

from ..scripts import captions, creases, folded, folds, lies, refused, refused_text


def test_the_last_fold() -> None:
    model = folded("valley A to C", "unfold")
    assert len(model.finished.facets) == 1
    assert creases(model) == [((0, 100), (100, 0))]
    assert captions(model)[-1] == "Unfold."
    (panel,) = model.steps[1].panels
    (arrow,) = [s for s in panel.signs if isinstance(s, Arrow)]
    assert arrow.act == "unfold"
    assert arrow.tail == pytest.approx((1, 1))
    assert arrow.head == pytest.approx((0, 0))


def test_more_than_one_fold_at_once_is_told_by_how_the_paper_lies_then() -> None:
    """One arrow alone would not say whether one fold is opened, or all."""
    twice = ("valley A to C", "valley B to D, all layers")
    signs = folded(*twice, "unfold to step 0").steps[-1].panels[-1].signs
    (told,) = (s for s in signs if isinstance(s, Opened))
    (ring,) = told.rings
    assert sorted((round(x, 6), round(y, 6)) for x, y in ring) == [(0, 0), (0, 1), (1, 0), (1, 1)]
    one = folded(*twice, "unfold").steps[-1].panels[-1].signs
    assert not any(isinstance(s, Opened) for s in one)


def test_one_after_the_other() -> None:
    model = folded("valley A to C", "valley B to D, all layers", "unfold", "unfold")
    assert len(model.steps[2].after.facets) == 2
    assert lies(model, "A") == (0, 0)
    assert creases(model) == [((0, 0), (100, 100)), ((0, 100), (100, 0))]


def test_back_to_a_step() -> None:
    model = folded(
        "valley A to C",
        "valley B to D, all layers",
        "crease C to centre, all layers",
        "unfold to step 1",
    )
    assert lies(model, "A") == (100, 100)
    assert len(model.finished.facets) == 2
    assert captions(model)[-1] == "Unfold until the paper lies as it did after step 1."
    everything = folded("valley A to C", "valley B to D, all layers", "unfold to step 0")
    assert len(everything.finished.facets) == 1
    assert captions(everything)[-1] == "Unfold everything."


def test_step_0_is_the_base_that_a_model_starts_from() -> None:
    """The base stays folded, so that 'everything' would be wrong."""
    start = "start from waterbomb base\nstep\n"
    model = folds(f"{start}  valley bottom left corner to top corner\nstep\n  unfold to step 0\n")
    assert model.finished.facets == model.start.facets
    assert captions(model)[-1] == "Unfold all that was folded from step 1 on."
    found = refused_text(f"{start}  unfold to step 0\n")
    assert found.message.startswith("nothing has been folded since step 0, which is the base")


def test_by_name() -> None:
    model = folded("valley A to centre as a", "valley C to centre as c", "unfold a")
    assert lies(model, "A") == (0, 0)
    assert lies(model, "C") == pytest.approx((50, 50))
    assert captions(model)[-1] == "Unfold what was folded in step 1."


def test_turned_over_since() -> None:
    """The fold opens on the side where it now is; the model stays turned over."""
    model = folded("valley A to centre", "turn over", "unfold")
    assert not model.finished.facets[0].shows_front
    assert lies(model, "A") == pytest.approx((100, 0))


@pytest.mark.parametrize(
    ("steps", "code", "words"),
    [
        (["unfold"], "nothing-folded", None),
        (["crease A to C", "unfold"], "nothing-folded", None),
        (["valley A to C", "unfold", "unfold"], "nothing-folded", None),
        (["crease A to C as d", "unfold d"], "not-a-fold", "d"),
        (["valley A to C as d", "unfold d", "unfold d"], "nothing-folded", "d"),
        (["valley A to C", "unfold edge A B"], "unfold-what", "edge A B"),
        (["valley A to C", "unfold to step 7"], "no-such-step", "step 7"),
        (["valley A to C", "turn over", "unfold to step 1"], "nothing-folded", None),
        (["valley A to C as d", "valley B to D, all layers", "unfold d"], "folded-in", "d"),
    ],
)
def test_refusals(steps: list[str], code: str, words: str | None) -> None:
    found = refused(*steps)
    assert found.code == code
    assert found.message.endswith(f"(in step {len(steps)})")
    if words is not None:
        assert found.words == words


def test_a_compound_fold_is_undone_by_its_name() -> None:
    """A squash leaves several creases; its name stands for all of them."""
    model = folded(
        "crease A to C as d1, all layers",
        "turn over",
        "crease edge A B onto edge D C as h",
        "crease edge A D onto edge B C as v",
        "collapse mountain d1, valley h, valley v, holding A",
        "squash right corner onto centre line as s",
        "unfold s",
        sheet="sheet square 10 cm, corner A at the bottom\n",
    )
    squash, opened = model.steps[-2:]
    assert len(opened.after.fold_segments) == len(squash.before.fold_segments)
    assert len(opened.after.creases) > len(squash.before.creases)


@pytest.mark.parametrize(
    ("fold", "back"),
    [
        ("valley top edge onto bottom edge as h", "valley along h, moving C"),
        ("valley top edge onto bottom edge as h", "valley C along h, 1 layer"),
        ("mountain top edge onto bottom edge as h", "mountain along h, moving C"),
        ("mountain top edge onto bottom edge as h", "mountain C through P Q"),
    ],
)
def test_a_flap_folded_back_along_its_own_fold_is_unfolded(fold: str, back: str) -> None:
    """Drawn without a line, told as unfolding, and no fold that `unfold` would take back."""
    marks = "mark P at midpoint of A D; mark Q at midpoint of B C"
    model = folded(marks, fold, back)
    signs = model.steps[-1].panels[0].signs
    (arrow,) = [s for s in signs if isinstance(s, Arrow)]
    assert arrow.act == "unfold"
    assert all(s.opens for s in signs if isinstance(s, FoldLine))
    assert captions(model)[-1].startswith("Unfold corner C")
    assert isinstance(model.steps[-1].records[0].fingers, OpenedByHands)
    assert lies(model, "C") == (100, 100)
    assert refused(marks, fold, back, "unfold").code == "nothing-folded"
    assert refused(marks, fold, back, "unfold h").code == "nothing-folded"


def test_a_crease_folded_again_is_unfolded_by_its_name() -> None:
    again = ("valley top edge onto bottom edge as h", "valley along h, moving C")
    model = folded(*again, "mountain along h, moving C", "unfold h")
    assert lies(model, "C") == (100, 100)
    assert captions(model)[-1] == "Unfold what was folded in step 3."


def test_ways_back_over_several_folds_do_not_cross() -> None:
    """The snowflake, folded three times: to the far corner, and up; a third way would cross the first."""
    snowflake = Path(__file__).parents[2] / "samples" / "snowflake.foldscript"
    (panel,) = folds(snowflake.read_text("utf-8")).steps[-1].panels
    ways = [LineString((s.tail, s.head)) for s in panel.signs if isinstance(s, Arrow)]
    assert ways[0].length == max(way.length for way in ways) == pytest.approx(2**0.5)
    assert len(ways) == 2
    assert not any(a.crosses(b) for a, b in combinations(ways, 2))


@pytest.mark.parametrize(
    ("before", "line", "said"),
    [
        ((), "unfold to step 0", "no fold has been made yet"),
        (("crease A to C",), "unfold", "'crease' lays the paper back by itself"),
        (("crease A to C",), "unfold to step 0", "'crease' lays the paper back by itself"),
        (("valley A to C", "unfold"), "unfold", "the paper lies open, with its creases"),
    ],
)
def test_where_nothing_is_folded_it_is_told_why(
    before: tuple[str, ...], line: str, said: str
) -> None:
    told = refused(*before, line)
    assert told.code == "nothing-folded"
    assert said in told.message
    assert "leave this line out, and its step too where it says no more" in told.hints


def test_since_a_step_that_had_folded_it_already_the_last_fold_is_offered() -> None:
    told = refused("valley A to C", "crease C to centre, all layers", "unfold to step 1")
    assert told.hints[0] == "to open the last fold, say 'unfold'"


@pytest.mark.parametrize("last", ["unfold k", "unfold"])
def test_what_was_unfolded_before_stays_unfolded(last: str) -> None:
    """Two flaps about one line; the first made is opened first. Opening the second folds nothing again."""
    flaps = ("valley A to centre as a", "valley C to centre as k", "unfold a", last)
    model = folded(*flaps)
    assert lies(model, "A") == (0, 0)
    assert lies(model, "C") == (100, 100)
    assert not any(joint.folded for joint in model.finished.joints)


def test_a_compound_fold_is_not_laid_back_over_what_was_unfolded() -> None:
    """An inside reverse fold is no single flap: the paper before it lay with the corner that is open now."""
    made = (
        "mark O at the centre; mark P at 1/3 of A B; mark Q at 1/4 of A C",
        "valley C to O as k",
        "valley B to D",
        "inside reverse A through P Q as m",
    )
    found = refused(*made, "unfold k", "unfold m")
    assert found.code == "folded-in"


def test_what_scissors_have_parted_from_the_rest_is_not_opened() -> None:
    told = refused_text(
        "sheet A4 portrait\nstep\n  valley edge A B onto edge A D as slope\n"
        "  mark S where slope meets right edge\nstep\n  cut from A to S, discarding D\nstep\n  unfold\n"
    )
    assert told.code == "nothing-folded"
    assert "parted from the rest by the cut of step 2" in told.message
