"""Visible parts: together the silhouette, rings of layers whole, no seams within a plate."""

from __future__ import annotations

import numpy
import pytest
import shapely

from foldscript.drawing.offsets.layers import spread
from foldscript.drawing.scene.scene import Path
from foldscript.drawing.scene.view import View, view_within
from foldscript.drawing.sheet import ink_of_paper as paper
from foldscript.drawing.sheet.visible import Visible, difference
from foldscript.geometry.isometries import reflection
from foldscript.paper.state import State

from . import folded as f


def seen(state: State, gap: float = 1.7, most: float = 5.0) -> Visible:
    view = view_within(state, (120.0, 120.0))
    return Visible(spread(state, gap / view.scale, most / view.scale), view)


@pytest.mark.parametrize(
    "state", [f.square(), f.triangle(), f.cupboard(), f.stack(4), f.pinwheel()]
)
def test_visible_areas_make_up_the_silhouette(state: State) -> None:
    visible = seen(state)
    areas = [area for _, area in visible.fills]
    assert sum(a.area for a in areas) == pytest.approx(visible.silhouette.area, rel=2e-3)
    assert shapely.union_all(areas).area == pytest.approx(visible.silhouette.area, rel=2e-3)


@pytest.mark.parametrize("gap", [0.0, 1.7])
def test_a_ring_shows_every_member(gap: float) -> None:
    """Four strips, each over the next: of each the same is hidden, one square of a quarter side."""
    visible = seen(f.pinwheel(), gap)
    assert len(visible.fills) == 4
    strip = visible.shapes[0].area
    for _, area in visible.fills:
        assert area.area == pytest.approx(strip * 3 / 4, rel=0.001 if gap < 1 else 0.08)


def test_the_top_layer_is_seen_whole() -> None:
    state = f.triangle()
    visible = seen(state)
    (upper,) = (i for i in (0, 1) if state.above(i, 1 - i))
    assert visible.parts[upper].area == pytest.approx(visible.shapes[upper].area)
    assert visible.parts[1 - upper].area < 0.1 * visible.shapes[1 - upper].area


def roles(paths: list[Path]) -> set[str]:
    return {p.role for p in paths}


def test_sides_are_told_apart() -> None:
    """The front is plain: a valley fold brings the coloured back up, turning over shows it all."""
    assert roles(paper.fills(seen(f.square()))) == {"paper.plain"}
    turned = f.square().moved(reflection(f.upright_line(0.5)))
    assert roles(paper.fills(seen(turned))) == {"paper.coloured"}
    cupboard = paper.fills(seen(f.cupboard()))
    assert roles(cupboard) == {"paper.coloured", "paper.plain"}
    assert roles(paper.fills(seen(f.square()), "Red", "")) == {"paper.plain"}
    assert roles(paper.fills(seen(turned), "Red", "")) == {"paper.coloured.red"}


def test_a_plate_of_several_facets_shows_no_seam() -> None:
    """A fold that ends inside the sheet's halves divides a plate into facets; it is one area."""
    half = f.folded(f.square(), (0.5, 0.0), (0.5, 1.0))
    state = f.folded(half, (0.75, 1.0), (0.5, 0.0))
    visible = seen(state)
    many = [plate for plate in state.plates if len(plate) > 1]
    for facet, area in visible.fills:
        plate = next(p for p in state.plates if facet in p)
        if plate in many:
            assert len(area.geoms) == 1
    assert len(visible.fills) <= len(state.plates)


def test_edges_are_where_paper_ends_or_bends() -> None:
    visible = seen(f.square())
    raw, bent, under = visible.edges
    assert raw.length == pytest.approx(4 * 120)
    assert bent.is_empty
    assert under.is_empty
    raw, bent, under = seen(f.cupboard()).edges
    assert bent.length == pytest.approx(2 * 120, rel=0.02)


def test_creases_stop_short_of_edges() -> None:
    from dataclasses import replace

    from foldscript.drawing.style.styles import load_style

    style = load_style("colour")
    state = replace(f.square(), creases=(((0.5, 0.0), (0.5, 1.0)), ((0.0, 0.5), (0.25, 0.5))))
    (path,) = paper.creases(seen(state), style)
    points = [s.to for s in path.segments]  # type: ignore[union-attr]
    ys = sorted(p[1] for p in points if abs(p[0]) < 1e-6)
    assert ys[0] == pytest.approx(-60 + style.crease_inset)
    assert ys[-1] == pytest.approx(60 - style.crease_inset)
    # a pinch ends inside the paper: only its outer end is cut back
    xs = sorted(p[0] for p in points if abs(p[1]) < 1e-6 and p[0] < -1)
    assert xs == pytest.approx([-60 + style.crease_inset, -30.0])


def test_creases_on_covered_paper_are_hidden() -> None:
    from dataclasses import replace

    from foldscript.drawing.style.styles import load_style

    plain = f.cupboard()
    state = replace(plain, creases=(((0.5, 0.0), (0.5, 1.0)),))  # under the doors' meeting edges
    assert paper.creases(seen(state), load_style("colour")) == []


def test_paper_that_only_touches_another_does_not_vanish() -> None:
    """A difference of areas that barely touch, which comes out empty unless it is made on a grid."""
    whole, top = (
        shapely.Polygon(ring)
        for ring in (
            (
                (-27.81479416607282, 15.327085499744324),
                (-12.626216499372363, 0.1349647094368399),
                (-26.2476, -17.2981),
                (-36.8985, -17.2972),
            ),
            ((27.2511, 15.6108), (0.0121, -12.5063), (-28.7093, 16.2218)),
        )
    )
    left = difference(numpy.array([whole]), numpy.array([top]))
    assert left[0].area == pytest.approx(409.604, abs=0.01)


def test_of_paper_beside_another_no_part_is_lost() -> None:
    """Of two parts the larger one, with an edge nearly in common, vanishes in a difference not on a grid."""
    larger, smaller, top = (
        shapely.Polygon(ring)
        for ring in (
            (
                (18.807658465202604, -7.746906795609557),
                (28.037201599008622, 14.535196371423892),
                (42.7789, -38.3966),
            ),
            (
                (-0.3316, 16.7246),
                (25.1487, 24.9067),
                (0.0562162751196786, 16.228737078806162),
            ),
            ((-28.7411, 16.2349), (28.7412, 16.2348), (0.0001, -53.1524)),
        )
    )
    whole = shapely.MultiPolygon([larger, smaller])
    left = difference(numpy.array([whole]), numpy.array([top]))
    assert left[0].area == pytest.approx(416.41, abs=0.01)


def test_a_strip_narrower_than_its_lines_has_fine_edges() -> None:
    """A strip of a fan a point wide: heavy lines along both sides would leave no paper between them."""
    state = f.stack(4)
    small = Visible(spread(state, 0.0, 0.0), View(2.0, (0.5, 0.5)))
    assert not small.edges.under.is_empty
    assert small.edges.raw.is_empty
    assert small.edges.folded.is_empty


def test_what_floating_numbers_cannot_cut_is_cut_on_a_grid() -> None:
    """Slivers that lie on the side of the area over them: what is left was a hole outside its shell."""
    whole = shapely.from_wkt(
        "MULTIPOLYGON (((-46.5638 9.0659, -35.90048804983189 10.205717041963814, "
        "-24.01433445965361 -24.82686985729596, -42.7154 -26.8262, -46.5638 9.0659)), "
        "((0.5598852548956614 -15.149939209928167, -2.4289370589541703 -22.51917591481142, "
        "0.5598852548956613 -15.149939209928167, 0.5598852548956614 -15.149939209928167)), "
        "((-7.861836038641712 -35.91452510954704, -7.861836038641698 -35.91452510954701, "
        "-2.4289370589541703 -22.51917591481142, -7.861836038641712 -35.91452510954704)))"
    )
    top = shapely.from_wkt(
        "POLYGON ((-11.4517 -44.9345, -16.1403 -22.3885, -15.3572 -21.2209, "
        "-5.4626 -18.7752, -2.2318 -22.4981, -11.4517 -44.9345))"
    )
    (left,) = difference(numpy.array([whole]), numpy.array([top]))
    assert shapely.is_valid(left)
    assert left.area == pytest.approx(whole.area, rel=1e-3)  # they lie apart, but for the slivers
