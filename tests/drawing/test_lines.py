"""Fold lines: one path from edge to edge, dots behind layers, patterns that need no colour."""

from __future__ import annotations

import math

import pytest

from foldscript.drawing.offsets.layers import spread
from foldscript.drawing.scene.outlines import walk
from foldscript.drawing.scene.scene import Draw, Move, Path, Point
from foldscript.drawing.scene.view import View
from foldscript.drawing.sheet import ink_of_paper as paper
from foldscript.drawing.sheet.fold_lines import fold_lines
from foldscript.drawing.sheet.runs import found
from foldscript.drawing.sheet.visible import Visible
from foldscript.drawing.style.styles import load_style
from foldscript.paper.signs import CutLine, FoldLine, GuideLine, Sense

from ..scripts import folds, script
from . import folded as f
from .test_visible import seen


def ends(path: Path) -> list[Point]:
    assert isinstance(path.segments[0], Move)
    return [s.to for s in path.segments]  # type: ignore[union-attr]


def same(found: list[Point], wanted: list[Point], slack: float = 0.01) -> bool:
    return any(
        all(math.dist(p, q) <= slack for p, q in zip(found, way, strict=True))
        for way in (wanted, wanted[::-1])
    )


def test_diagonal_valley_is_one_line_from_corner_to_corner() -> None:
    visible = seen(f.square())
    drawn = fold_lines(visible, [f.crease_of(f.square(), f.B, f.D)])
    (path,) = drawn.paths
    assert path.role == "fold.valley"
    assert same(ends(path), [visible.view(f.B), visible.view(f.D)])
    assert drawn.signs == {"fold.valley"}


def test_a_line_through_several_layers_is_drawn_once() -> None:
    """Sixteen layers folded at once: one dashed line, no dots."""
    state = f.stack(4)
    y = sum(p[1] for p in state.placed[0]) / 4
    x0, x1 = min(p[0] for p in state.placed[0]), max(p[0] for p in state.placed[0])
    sign = f.crease_of(state, (x1, y), (x0, y))
    assert len(sign.parts) == 16
    drawn = fold_lines(seen(state), [sign])
    assert [p.role for p in drawn.paths] == ["fold.valley"]


def test_mountain_and_pinch() -> None:
    visible = seen(f.square())
    sign = f.crease_of(f.square(), f.B, f.D, Sense.MOUNTAIN)
    assert [p.role for p in fold_lines(visible, [sign]).paths] == ["fold.mountain"]
    pinch = FoldLine(Sense.VALLEY, ((0, ((0.0, 0.5), (0.06, 0.5))),), pinch=True)
    drawn = fold_lines(visible, [pinch])
    assert drawn.signs == {"fold.pinch"}
    assert same(ends(drawn.paths[0]), [visible.view((0.0, 0.5)), visible.view((0.06, 0.5))])


def test_behind_a_layer_it_is_dotted() -> None:
    """A line across the sheet of a half-closed cupboard: dots under the door, dashes beside it."""
    state = f.folded(f.square(), (0.25, 0.0), (0.25, 1.0))
    under = next(i for i in (0, 1) if not state.above(i, 1 - i))
    sign = FoldLine(Sense.VALLEY, ((under, ((0.25, 0.5), (1.0, 0.5))),))
    visible = seen(state)
    drawn = fold_lines(visible, [sign])
    by_role = {p.role: ends(p) for p in drawn.paths}
    assert set(by_role) == {"fold.valley", "fold.hidden"}
    door, far = visible.view((0.5, 0.5)), visible.view((1.0, 0.5))
    assert same(by_role["fold.valley"], [door, far], 0.4)
    assert same(by_role["fold.hidden"], [visible.view((0.25, 0.5)), door], 0.4)
    assert drawn.signs == {"fold.valley", "fold.hidden"}


def test_in_the_slit_between_two_flaps_it_stands_for_their_edges() -> None:
    """A cupboard folded in half along the line where its doors meet."""
    state = f.cupboard()
    sign = f.crease_of(state, (0.5, 0.0), (0.5, 1.0))
    visible = seen(state)
    drawn = fold_lines(visible, [sign])
    (path,) = drawn.paths
    assert path.role == "fold.valley"
    slit = visible.view((0.5, 0.0))[0]
    assert all(abs(x - slit) < 1e-6 for x, _ in ends(path))
    assert len(drawn.instead) == 1
    assert not upright(paper.edges(visible, drawn.instead), slit)


def test_along_the_edge_of_a_flap_it_stands_for_that_edge() -> None:
    """One line, where the edge is drawn: readers took the two beside each other for two places."""
    state = f.folded(f.square(), (0.25, 0.0), (0.25, 1.0))
    under = next(i for i in (0, 1) if not state.above(i, 1 - i))
    sign = FoldLine(Sense.VALLEY, ((under, ((0.5, 0.0), (0.5, 1.0))),))
    visible = seen(state)
    drawn = fold_lines(visible, [sign])
    (path,) = drawn.paths
    assert path.role == "fold.valley"
    edge = [visible.view(visible.spread.at(1 - under, (0.5, y))) for y in (0.0, 1.0)]
    assert same(ends(path), edge, 0.5)
    assert all(abs(x - edge[0][0]) < 0.01 for x, _ in ends(path))
    assert len(upright(paper.edges(visible), edge[0][0])) == 1
    assert not upright(paper.edges(visible, drawn.instead), edge[0][0])


def upright(paths: list[Path], at: float) -> list[Path]:
    """Paths with a stroke along the upright line at `at`."""
    return [
        p
        for p in paths
        for s, here, _ in walk(p.segments)
        if isinstance(s, Draw) and abs(s.to[0] - at) < 1.0 and abs(here[0] - at) < 1.0
    ]


def test_cut_and_guide() -> None:
    visible = seen(f.square())
    cut = fold_lines(visible, [CutLine(((0, ((0.5, 0.0), (0.5, 0.5))),))])
    assert cut.paths[0].role == "line.cut"
    assert len(cut.paths) > 1  # scissors
    guide = fold_lines(visible, [GuideLine((f.A, f.C))])
    assert [p.role for p in guide.paths] == ["line.guide"]
    assert cut.signs | guide.signs == {"line.cut", "line.guide"}


def test_a_cut_along_the_outline_is_drawn_on_it_as_a_cut() -> None:
    """A line beside it would look like one more layer, and as if the cut ran beside the edge."""
    visible = seen(f.square())
    cut = fold_lines(visible, [CutLine(((0, ((0.0, 0.0), (0.5, 0.0))),))])
    (ax, ay), (bx, by) = visible.view((0.0, 0.0)), visible.view((0.5, 0.0))
    assert same(ends(cut.paths[0]), [(ax, ay), (bx, by)])
    assert cut.paths[0].role == "line.cut"


@pytest.mark.parametrize("style", ["colour", "grey", "large", "dark"])
def test_a_cut_is_stronger_than_edges_and_creases(style: str) -> None:
    look = load_style(style)
    others = max(look.ink(role).width for role in ("edge.raw", "crease", "fold.valley"))
    assert look.ink("line.cut").width > 1.3 * others


def test_scissors_are_clear_of_the_ring_at_the_start_of_a_cut() -> None:
    """The ring of a landmark has a radius of 2.7 points; the blades end before it."""
    visible = seen(f.square())
    cut = fold_lines(visible, [CutLine(((0, ((0.5, 0.0), (0.5, 0.5))),))])
    start = visible.view((0.5, 0.0))[1]
    assert min(box[1] for box in cut.boxes) >= start + 2.7


def test_no_dots_where_the_same_line_is_seen_in_another_layer() -> None:
    """A petal fold: mountain in the layer in front, valley right behind it; one line is enough."""
    state = f.folded(f.square(), (0.5, 0.0), (0.5, 1.0))
    top = next(i for i in (0, 1) if state.above(i, 1 - i))
    x0 = min(p[0] for ring in state.placed for p in ring)
    across = ((x0 + 0.1, 0.2), (x0 + 0.4, 0.8))
    front = FoldLine(Sense.MOUNTAIN, ((top, across),))
    behind = FoldLine(Sense.VALLEY, ((1 - top, across),))
    visible = seen(state)
    assert [p.role for p in fold_lines(visible, [behind]).paths] == ["fold.hidden"]
    for both in ([front, behind], [behind, front]):
        drawn = fold_lines(visible, both)
        assert [p.role for p in drawn.paths] == ["fold.mountain"]
        assert "fold.hidden" not in drawn.signs


def test_folds_that_run_behind_layers_along_one_line_are_dotted_once() -> None:
    """The hull of a boat folds up in front and behind: two rows of dots would run into each other."""
    state = f.folded(f.square(), (0.5, 0.0), (0.5, 1.0))
    top = next(i for i in (0, 1) if state.above(i, 1 - i))
    x0 = min(p[0] for ring in state.placed for p in ring)
    across = ((x0 + 0.1, 0.2), (x0 + 0.4, 0.8))
    folds = [FoldLine(sense, ((1 - top, across),)) for sense in (Sense.VALLEY, Sense.MOUNTAIN)]
    drawn = fold_lines(seen(state), folds)
    assert [p.role for p in drawn.paths] == ["fold.hidden"]


@pytest.mark.parametrize(
    "steps",
    [
        (
            "mark M at midpoint of A B;mark O at the centre;valley A to C",
            "mountain B to A",
            "crease mountain along line O M, as k",
        ),
        (
            "mark P at 1/5 of A B;mark Q at 1/5 of B C;mark R at 3/5 of C A;mark S at 4/5 of C A;"
            "valley R to P",
            "mountain along line S Q, moving B",
        ),
        ("mark P at 1/3 of C A;valley B to P, as k", "crease mountain along k, moving C, as m"),
    ],
)
def test_a_line_along_the_very_edge_of_the_paper_is_drawn_from_end_to_end(
    steps: tuple[str, ...],
) -> None:
    """However the last digits of the edge were rounded: it was drawn in part, or not at all."""
    sheet = "sheet square 15 cm\n" if len(steps) == 3 else "sheet regular triangle, side 12 cm\n"
    step = folds(script(*steps, sheet=sheet)).steps[-1]
    signs = [s for s in step.records[-1].signs if isinstance(s, FoldLine)]
    visible = seen(step.before)
    drawn = fold_lines(visible, signs)
    (path,) = (p for p in drawn.paths if p.role == "fold.mountain")
    (line,) = found(visible, signs[0].parts)
    (run,) = line.seen
    assert math.dist(*ends(path)) == pytest.approx((run.hi - run.lo) * visible.view.scale, rel=1e-2)


def test_edges_of_small_paper_are_finer() -> None:
    """30 mm on the page is where figures begin to be small: what a publisher asked for."""
    wide = 30 * 72 / 25.4
    for size, small in ((wide - 1.0, True), (wide + 1.0, False)):
        visible = Visible(spread(f.square(), 0.0, 0.0), View(size, (0.5, 0.5)))
        roles = {path.role for path in paper.edges(visible)}
        assert roles == {"edge.small.raw" if small else "edge.raw"}
    for name in ("colour", "grey", "dark", "large"):
        style = load_style(name)
        assert style.ink("fold.valley").width < style.ink("edge.small.raw").width
        assert style.ink("edge.small.raw").width < style.ink("edge.raw").width
