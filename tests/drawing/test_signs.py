"""One sign, one file: what a file lacks is told when it is loaded; a new file is known everywhere at once."""

from __future__ import annotations

import ast
import math
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely

import foldscript.drawing.signs as package
from foldscript.building.script import Script
from foldscript.drawing.draw import draw
from foldscript.drawing.placement.obstacles import Obstacles
from foldscript.drawing.scene.scene import Path as Line
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.scene.view import View
from foldscript.drawing.signs import key, registry
from foldscript.drawing.signs.glyph import ArrowGlyph, PointGlyph, Setting
from foldscript.drawing.signs.registry import SignFault, glyph_for, glyphs
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.moves.planning.fingers import Still
from foldscript.moves.planning.request import MoveRecord
from foldscript.narration.description import StateDescription
from foldscript.narration.spots import spots
from foldscript.output.fonts import measure
from foldscript.pages.sheets.poster import poster
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import Arrow, PointSign

from . import clashes
from . import folded as f
from .seen import items_of

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "foldscript" / "drawing" / "signs"
STYLE = load_style("colour")
FRAME = (142.0, 145.0)

TAP = '''
"""A tap with a fingertip: a small triangle."""

from foldscript.drawing.scene.shapes import Shape
from foldscript.drawing.signs.glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.tap-for-trial",
    name="Tap here",
    meaning="Tap the paper with a fingertip.",
    fingers="Tap the paper at {where}.",
    shape=Shape((("sign.solid", "M 0 0 L -6 -3 L -6 3 Z"),)),
)
'''


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder whose files are signs too, as if they lay beside the others."""
    monkeypatch.setattr(package, "__path__", [*package.__path__, str(tmp_path)])
    _forget()
    yield tmp_path
    for path in tmp_path.glob("*.py"):
        if sys.modules.pop(f"{package.__name__}.{path.stem}", None) is not None:
            delattr(package, path.stem)
    monkeypatch.undo()
    _forget()


def _forget() -> None:
    registry.glyphs.cache_clear()
    registry.families.cache_clear()
    registry.of_class.cache_clear()


# --- a new file ------------------------------------------------------------------------------------


def test_a_new_file_is_known_to_key_poster_figures_words_and_clashes(folder: Path) -> None:
    (folder / "point_tap.py").write_text(TAP, "utf-8")
    ((name, scene),) = key.legend(["point.tap-for-trial"], STYLE)
    assert name == "Tap here"
    assert items_of(scene, "sign.solid")
    keys = key.sign_keys()
    assert (
        keys.index("point.squeeze")
        < keys.index("point.tap-for-trial")
        < keys.index("point.open-out")
    )
    words = " ".join(poster(STYLE, page_size("A4"), measure).texts())
    assert "Tap here" in words
    assert "Tap the paper with a fingertip." in words
    sign = PointSign("tap-for-trial", f.C)
    figure = draw(f.model(Panel(f.square(), (sign,))), STYLE, FRAME)[0].scene
    assert "point.tap-for-trial" in figure.signs
    square = f.square()
    record = MoveRecord(1, None, Still(), square, square, (sign,))
    (told,) = spots(StateDescription(record.before), record)
    assert told.render().startswith("Tap the paper at ")


def test_a_new_family_brings_what_it_may_share(folder: Path) -> None:
    text = TAP.replace("GLYPH =", 'SEAL = Family("seal", {"arrow": 3.5}, "ink")\nGLYPH =')
    text = text.replace('key="point.tap-for-trial"', 'key="point.tap-for-trial",\n    family=SEAL')
    text = text.replace(
        "from foldscript.drawing.signs.glyph",
        "from foldscript.drawing.signs.families import Family\nfrom foldscript.drawing.signs.glyph",
    )
    (folder / "point_tap.py").write_text(text, "utf-8")
    assert clashes.allowed("arrow", "seal") == clashes.allowed("seal", "arrow") == 3.5


@pytest.mark.parametrize(
    ("cut", "told"),
    [
        ('    name="Tap here",\n', "'name'"),
        ('    meaning="Tap the paper with a fingertip.",\n', "'meaning'"),
        ('    key="point.tap-for-trial",\n', "'key'"),
        ('    shape=Shape((("sign.solid", "M 0 0 L -6 -3 L -6 3 Z"),)),\n', "'shape'"),
    ],
)
def test_a_sign_that_lacks_a_part_is_refused_with_its_file(
    folder: Path, cut: str, told: str
) -> None:
    (folder / "point_tap.py").write_text(TAP.replace(cut, ""), "utf-8")
    with pytest.raises(SignFault, match=rf"signs/point_tap\.py: .*missing.*{told}"):
        glyphs()


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"Tap here"', '""', "says no name"),
        ('"point.tap-for-trial"', '"Tap!"', "is no key"),
        ('"point.tap-for-trial"', '"point.hold"', "there is a sign 'point.hold' already"),
        ("{where}", "this place", "does not tell fingers where"),
        ("M 0 0 L -6", "M 0 0 Q -6", "may hold M, L, C and Z"),
        ("GLYPH =", "SIGN =", "has no GLYPH"),
        (
            'key="point.tap-for-trial"',
            'key="point.tap-for-trial", heading="Whims"',
            "under no heading",
        ),
    ],
)
def test_a_part_that_cannot_be_is_refused(folder: Path, old: str, new: str, told: str) -> None:
    (folder / "point_tap.py").write_text(TAP.replace(old, new), "utf-8")
    with pytest.raises(SignFault, match=re.escape(told)):
        glyphs()


# --- what moves leave ------------------------------------------------------------------------------


def keys_in_the_code() -> set[str]:
    """Keys written where moves make arrows and signs at points, or choose between them."""
    found: set[str] = set()
    for path in sorted((ROOT / "foldscript" / "moves").rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        given = {
            target.id: node.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Assign)
            for target in node.targets
            if isinstance(target, ast.Name)
        }
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            kind, place = {
                "Arrow": ("arrow", 0),
                "arrow_of": ("arrow", 1),
                "PointSign": ("point", 0),
                "signed": ("point", 1),
                "Pointing": ("point", 0),
            }.get(node.func.id, ("", 0))
            if kind and len(node.args) > place:
                found |= {f"{kind}.{text}" for text in _texts(node.args[place], given)}
    return found


def _texts(node: ast.expr, given: dict[str, ast.expr]) -> set[str]:
    match node:
        case ast.Constant(value=str(text)):
            return {text}
        case ast.IfExp(body=body, orelse=other):
            return _texts(body, given) | _texts(other, given)
        case ast.Name(id=name) if name in given:
            return _texts(given[name], {})
    return set()


def test_everything_that_moves_leave_has_a_sign() -> None:
    left = keys_in_the_code()
    assert len(left) > 20
    assert left <= set(glyphs())


def test_every_arrow_and_every_point_sign_is_left_by_some_move() -> None:
    of_moves = {g.key for g in glyphs().values() if isinstance(g, ArrowGlyph | PointGlyph)}
    opened = {"point.open-flat", "point.open-slit"}  # which of them, the figure tells
    assert of_moves - opened == keys_in_the_code()


@pytest.mark.parametrize("name", ["crane", "hat-to-boat", "masu", "lily", "cicada"])
def test_every_sign_of_a_model_has_one_glyph(name: str) -> None:
    for step in Script(ROOT / "samples" / f"{name}.foldscript").model.steps:
        for panel in step.panels:
            for sign in panel.signs:
                fit = [g for g in glyphs().values() if g.stands_for(sign, panel.signs)]
                assert len(fit) <= 1, sign
                if isinstance(sign, Arrow | PointSign):
                    assert fit, sign


def test_a_sign_that_no_file_tells_of_is_named() -> None:
    with pytest.raises(LookupError, match="no file of drawing/signs"):
        glyph_for(PointSign("wave", f.A), PointGlyph)


# --- the files -------------------------------------------------------------------------------------


def test_each_file_is_named_after_its_sign() -> None:
    """But for families of signs that differ in little: the paper, sinks, openings, turning over, repeats."""
    named = {g.key.replace(".", "_").replace("-", "_") for g in glyphs().values()}
    files = {p.stem for p in FOLDER.glob("*.py")} - {"__init__", *registry.TOOLS}
    assert files - named == {"paper_sides"}
    assert named - files == {
        "paper_coloured",
        "paper_plain",
        "point_closed_sink",
        "point_open_flat",
        "point_open_slit",
        "turn_over_top_to_bottom",
        "repeat_behind",
    }


def test_the_signs_are_known_without_any_heavy_library() -> None:
    """The narration reads its sentences from them, and draws nothing."""
    code = (
        "import sys; from foldscript.drawing.signs.registry import glyphs; glyphs(); "
        "print([m for m in ('numpy', 'shapely', 'cairo') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


# --- signs that tell what hands do ---------------------------------------------------------------


def _drawn(sign: PointSign) -> list[Line]:
    around = Obstacles(shapely.box(-50.0, -50.0, 50.0, 50.0), (-80.0, -80.0, 80.0, 80.0))
    setting = Setting(View(100.0, (0.5, 0.5)), f.square(), STYLE, around, (sign,))
    groups = glyph_for(sign, PointGlyph).draw(sign, setting)
    return [i for group in groups for i in group.items if isinstance(i, Line)]


def test_sinks_are_told_apart_without_their_captions() -> None:
    """Open: a hollow arrow; closed: a solid one; both dotted from the tip to where it comes to lie."""
    areas = {}
    for kind in ("open-sink", "closed-sink"):
        drawn = _drawn(PointSign(kind, (0.5, 1.0), (0.5, 0.5)))
        areas[kind] = {i.role for i in drawn} & {"sign.open", "sign.solid"}
        (dots,) = [i for i in drawn if i.role == "arrow.hidden"]
        (line,) = polylines([dots])
        assert math.dist(line[-1], (0.0, 0.0)) < 1e-6
    assert areas == {"open-sink": {"sign.open"}, "closed-sink": {"sign.solid"}}


@pytest.mark.parametrize("at", [(1.0, 0.5), (0.0, 0.0), (0.5, 0.6)])
def test_fingers_never_stand_over_what_is_held(at: tuple[float, float]) -> None:
    """Nothing of the sign comes nearer than a point of length; the tick ends there."""
    spot = View(100.0, (0.5, 0.5))(at)
    dots = [p for line in polylines(_drawn(PointSign("hold", at))) for p in line]
    assert min(math.dist(p, spot) for p in dots) == pytest.approx(1.0, abs=0.05)
    ink = shapely.union_all(
        [shapely.LineString(p) for p in polylines(_drawn(PointSign("hold", at)))]
    )
    assert not ink.convex_hull.contains(shapely.Point(spot))


def test_the_bar_of_a_squash_leaves_the_ring_free() -> None:
    """A ring has a radius of 2.7 points; without one the bar is whole."""
    head = (20.0, 0.0)
    for marks, least in (([head], 3.5), ([], 0.0)):
        around = Obstacles(shapely.Polygon(), (-80.0, -80.0, 80.0, 80.0), marks=list(marks))
        drawn = glyph_for(Arrow("squash", (0, 0), (0, 0)), ArrowGlyph).draw(
            (-20.0, 0.0), head, False, around
        )
        lines = [shapely.LineString(p) for p in polylines(drawn)]
        assert min(line.distance(shapely.Point(head)) for line in lines) >= least


@pytest.mark.parametrize("name", ["colour", "grey", "large", "dark"])
def test_a_hidden_fold_and_a_guide_line_are_unlike(name: str) -> None:
    """Dots, as for all that is hidden; long dashes, thinner than those of a fold."""
    style = load_style(name)
    hidden, guide, valley = (style.ink(r) for r in ("fold.hidden", "line.guide", "fold.valley"))
    assert hidden.dash[0] < 0.1
    assert guide.dash[0] > 1.5 * valley.dash[0]
    assert guide.width < 0.7 * valley.width


def test_pushing_and_pulling_are_shown_on_paper_and_unlike() -> None:
    """A fingertip comes to the edge; two that grip it, and an arrow that leaves it."""
    samples = {k: list(glyphs()[f"point.{k}"].sample(STYLE)) for k in ("push", "pull")}
    for items in samples.values():
        assert {"paper.coloured", "edge.raw"} <= {i.role for i in items}
    roles = {k: {i.role for i in items} for k, items in samples.items()}
    assert "sign.solid" in roles["pull"] - roles["push"]
