"""No line without a way to find it: every fold line is fixed by what is seen, or has its landmark drawn."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from foldscript.drawing.figure import compose
from foldscript.drawing.framing.framing import framings, outlined
from foldscript.drawing.scene.scene import Text
from foldscript.drawing.style.styles import load_style
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model, Panel
from foldscript.moves.registry import verbs
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import Angle, EqualLengths, GuideLine, Measure
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

from ..sample_scripts import SCRIPTS, sample
from ..scripts import folded
from .finding import lost, lost_points, lost_rings

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = re.findall(
    r"^```foldscript\n(.*?)^```$",
    (ROOT / "grammar" / "README.md").read_text("utf-8"),
    re.MULTILINE | re.DOTALL,
)


def titled(example: str) -> str:
    found = re.search(r'^model "(.*)"', example, re.MULTILINE)
    return found[1] if found else "untitled"


def lost_in(model: Model) -> list[tuple[int, object]]:
    return [(s.number, seg) for s in model.steps for panel in s.panels for seg in lost(panel)]


def lost_points_in(model: Model) -> list[tuple[int, object]]:
    return [(s.number, at) for s in model.steps for panel in s.panels for at in lost_points(panel)]


def lost_rings_in(model: Model) -> list[tuple[int, object]]:
    return [(s.number, at) for s in model.steps for panel in s.panels for at in lost_rings(panel)]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_every_fold_line_and_named_point_of_a_sample_can_be_found(path: Path) -> None:
    model = sample(path.stem).model
    assert not lost_in(model)
    assert not lost_points_in(model)
    assert not lost_rings_in(model)


@pytest.mark.parametrize("example", EXAMPLES, ids=titled)
def test_every_fold_line_and_named_point_of_the_page_can_be_found(example: str) -> None:
    """Not its rings: examples have points that are found by folding alone, as a corner on a line."""
    model = fold(parse(Source("example.foldscript", example), verbs()))
    assert not lost_in(model)
    assert not lost_points_in(model)


@pytest.mark.parametrize(
    ("body", "kind", "count"),
    [
        ("valley along line 2 cm from the bottom edge, moving A", Measure, 1),
        ("valley A to 2 cm beyond C", Measure, 1),
        ("valley bottom edge onto 1 cm short of the top edge", Measure, 1),
        ("mark P at 3 cm from A on edge A B; crease through P D", Measure, 1),
        ("crease along line through A at 30 degrees to edge A B", Angle, 1),
        ("mark P at 1/16 of A B; crease through P D", EqualLengths, 1),
        ("valley left edge onto centre line", GuideLine, 1),
        ("pleat into 6 equal parts, moving the right edge", EqualLengths, 1),
        ("crease A to C", Measure, 0),
    ],
)
def test_what_is_measured_has_its_landmark(body: str, kind: type, count: int) -> None:
    (panel,) = folded(body).steps[0].panels
    assert sum(isinstance(sign, kind) for sign in panel.signs) == count


def of_kind(model: Model, kind: type) -> int:
    return sum(isinstance(s, kind) for step in model.steps for p in step.panels for s in p.signs)


def test_a_length_between_equal_parts_is_not_told_twice() -> None:
    """Both thirds, where the first fold bends the way that they are parts of."""
    thirds = "mark P at 1/3 of A D; mark Q at 2/3 of A D; valley A to Q; valley D to P"
    model = folded(thirds, sheet="sheet square 15 cm\n")
    assert (of_kind(model, EqualLengths), of_kind(model, Measure)) == (1, 0)


def test_one_row_of_equal_parts_is_marked_once_whatever_its_numbers_were_rounded_to() -> None:
    """Both tips lie together at the top corner, by ways that add up differently in the last bit."""
    helmet = (
        "mark O at centre; valley C to A",
        "valley D to A; valley B to A",
        "valley D to top corner; valley B to top corner",
        "mark L at the left corner; mark R at the right corner; mark M at midpoint of line L R",
        "mark J at 1/3 of line O L; mark K at 1/3 of line O R; valley D through M J; valley B through M K",
    )
    model = folded(
        *helmet, sheet="sheet square 15 cm, coloured side down, corner A at the bottom\n"
    )
    (panel,) = model.steps[-1].panels
    assert sum(isinstance(s, EqualLengths) for s in panel.signs) == 2


def test_a_point_that_only_tells_a_layer_is_not_measured() -> None:
    """U lies on the edge of a door, with nothing to show its height: a flap goes under the door there."""
    start = (
        "mark U at 2/5 of B C; mark Q at 3/4 of A D",
        "valley right edge onto centre line; mark P at 4/5 of the bottom edge",
    )
    under, onto = (
        folded(*start, words, sheet="sheet square 15 cm\n")
        for words in ("tuck A through P Q, under U", "valley A to U")
    )
    assert of_kind(under, EqualLengths) == 2  # those of P and Q
    assert of_kind(onto, EqualLengths) == 1


def test_without_its_landmark_a_line_is_lost() -> None:
    """The check itself: it finds the lines that have none."""
    (panel,) = folded("valley along line 2 cm from the bottom edge, moving A").steps[0].panels
    bare = Panel(panel.state, tuple(s for s in panel.signs if not isinstance(s, Measure)))
    assert not lost(panel)
    assert len(lost(bare)) == 1


def test_a_landmark_goes_along_with_its_paper() -> None:
    """Marked in one step and folded by in a later one: it is shown where the fold goes by it."""
    model = folded("mark P at 1/3 of A B", "valley C to midpoint of B C", "crease through P and D")
    shown = [
        [len(s.segments) for p in step.panels for s in p.signs if isinstance(s, EqualLengths)]
        for step in model.steps
    ]
    assert shown == [[], [2], [3]]  # halves of B C, then thirds of A B


def test_a_point_whose_measure_is_folded_away_is_measured_from_what_is_seen() -> None:
    """X is 12 cm from A on a side of 15 cm: folded in at 4 cm, the paper begins there, 8 cm from X, and ends
    3 cm from it, at B.
    """
    model = folded(
        "mark X at 12 cm from A on edge A B",
        "valley along line 4 cm from the left edge, moving A",
        "valley along line through X parallel to the left edge, moving B",
        sheet="sheet square 15 cm\n",
    )
    (panel,) = model.steps[-1].panels
    (measure,) = (s for s in panel.signs if isinstance(s, Measure))
    assert (measure.number, measure.unit) == ("30", "mm")
    assert not lost_rings(panel)
    assert lost_rings(Panel(panel.state, tuple(s for s in panel.signs if s is not measure)))


def test_the_middle_of_a_folded_edge_has_its_halves() -> None:
    """The centre of the sheet was found by middle lines; folded in half, it is the middle of an edge."""
    model = folded(
        "mark O at the centre; valley top edge onto bottom edge",
        "valley along line through O at 72 degrees to the top edge, moving the right edge, all layers",
    )
    (panel,) = model.steps[-1].panels
    assert [len(s.segments) for s in panel.signs if isinstance(s, EqualLengths)] == [2]
    assert not lost_rings(panel)


def test_where_corners_in_sight_show_a_line_no_length_is_given_anew() -> None:
    """M lies on the edge of the flap along which the paper below is folded up."""
    model = folded(
        "mark M at 1/3 of D A; mark N at 1/3 of C B",
        "valley D to M",
        "valley along line M N, moving A, all layers",
    )
    (panel,) = model.steps[-1].panels
    assert of_kind(model, Measure) == 0
    assert not lost_rings(panel)


def texts(model: Model) -> list[str]:
    style, frame = load_style("colour"), figure_frame(page_size("A4"))
    panels = [panel for step in model.steps for panel in step.panels]
    sketches = [
        compose(model, p, f, style)
        for p, f in zip(panels, framings(outlined(panels), style, frame), strict=False)
    ]
    return [
        i.text
        for sketch in sketches
        for group in sketch.groups
        if group.kind == "mark"
        for i in group.items
        if isinstance(i, Text) and i.role == "text.sign"
    ]


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("valley along line 2 cm from the bottom edge, moving A", "2 cm"),
        ("valley along line 1/2 inch from the bottom edge, moving A", "1/2 in"),
        ("crease along line through A at 30 degrees to edge A B", "30°"),
        ("mark P at 1/16 of A B; crease through P D", "16"),
    ],
)
def test_its_value_stands_beside_it(body: str, said: str) -> None:
    assert texts(folded(body)) == [said]


def test_without_its_landmark_a_ring_tells_nothing() -> None:
    """A point an eighth of the way along an edge: the row of equal lengths says where it is."""
    (panel,) = folded("mark P at 1/8 of A B; crease through P D").steps[0].panels
    assert not lost_points(panel)
    bare = replace(panel, signs=tuple(s for s in panel.signs if not isinstance(s, EqualLengths)))
    assert [name for name, _ in lost_points(bare)] == ["P"]
