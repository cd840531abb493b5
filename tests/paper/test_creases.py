"""Crease patterns read back from folded states: senses, flat creases, cuts.

Values: derived (closed-form geometry, front up, V = the fronts meet; exact in Q(sqrt 2)).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.geometry.isometries import reflection
from foldscript.geometry.lines import Line, Segment
from foldscript.moves.registry import verbs
from foldscript.paper.creases import CreasePattern, Kind, crease_pattern, creases_made
from foldscript.paper.state import flat
from foldscript.source.reading import read_script
from foldscript.syntax.parser import parse

from .orders import fold_pattern
from .patterns import pattern
from .sheets import M, V, rectangle, spread
from .test_bases import BASES, A, B, C, D

ROOT = Path(__file__).parents[2]
SCRIPTS = ROOT / "samples" / "bases"
SHIPPED = [name for name in sorted(BASES) if (SCRIPTS / f"{name}-base.foldscript").exists()]


def model(path: Path) -> Model:
    return fold(parse(read_script(path), verbs()), path)


def covers(segments: Sequence[Segment], other: Segment) -> bool:
    """Whether every point of a segment lies on some of the segments."""
    (px, py), (qx, qy) = other
    for k in range(1, 20):
        x, y = px + (qx - px) * k / 20, py + (qy - py) * k / 20
        if not any(_on(s, x, y) for s in segments):
            return False
    return True


def _on(s: Segment, x: float, y: float) -> bool:
    (px, py), (qx, qy) = s
    n = math.hypot(qx - px, qy - py)
    t = ((x - px) * (qx - px) + (y - py) * (qy - py)) / n
    off = abs((x - px) * (qy - py) - (y - py) * (qx - px)) / n
    return off < 1e-7 and -1e-7 < t < n + 1e-7


def same_lines(found: Sequence[Segment], wanted: Sequence[Segment]) -> bool:
    return all(covers(found, s) for s in wanted) and all(covers(wanted, s) for s in found)


#: The eight ways in which a square can lie on itself, front up (four) and mirrored (four).
def _placements() -> list[tuple[float, float, float, float]]:
    return [
        (c, -f * s, s, f * c)
        for c, s in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
        for f in (1.0, -1.0)
    ]


def _placed(segments: Iterable[Segment], m: tuple[float, float, float, float]) -> list[Segment]:
    a, b, c, d = m

    def go(p: tuple[float, float]) -> tuple[float, float]:
        x, y = p[0] - 0.5, p[1] - 0.5
        return (a * x + b * y + 0.5, c * x + d * y + 0.5)

    return [(go(p), go(q)) for p, q in segments]


@pytest.mark.parametrize("name", BASES)
def test_senses_come_back(name: str) -> None:
    """What a base is folded from is read back from it, seen from either side of the folded model."""
    base = BASES[name]
    creases, senses = spread([(V, base.valleys), (M, base.mountains)])
    state = fold_pattern(pattern(rectangle(), creases), senses)
    for lying in (state, state.moved(reflection(Line(1.0, 0.0, 0.3)))):
        found = crease_pattern(lying)
        assert same_lines(found.lines[Kind.VALLEY], base.valleys)
        assert same_lines(found.lines[Kind.MOUNTAIN], base.mountains)
        assert found.lines[Kind.CREASE] == ()
        assert len(found.lines[Kind.EDGE]) == 4


#: The table has the bird base with all points down; the script leaves two of them up.
LAST = {"bird": "step\n  valley C to B\nstep\n  repeat step 1 behind\n"}


@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_bases(name: str, tmp_path: Path) -> None:
    """The scripts of the bases give the table's creases, the sheet turned as may be.

    Which face of the sheet lies inside is the script's choice: then mountain and valley change places.
    """
    base = BASES[name]
    found = crease_pattern(
        folded(f"start from {name} base\n{LAST[name]}", tmp_path).finished
        if name in LAST
        else model(SCRIPTS / f"{name}-base.foldscript").finished
    )
    valleys, mountains = found.lines[Kind.VALLEY], found.lines[Kind.MOUNTAIN]
    ways = [(_placed(base.valleys, m), _placed(base.mountains, m)) for m in _placements()]
    assert any(
        (same_lines(valleys, v) and same_lines(mountains, m))
        or (same_lines(valleys, m) and same_lines(mountains, v))
        for v, m in ways
    ), found.lines


def folded(text: str, tmp_path: Path) -> Model:
    path = tmp_path / "made.foldscript"
    path.write_text(text, "utf-8")
    return model(path)


BOOK = """\
sheet square 10 cm
step
  crease bottom edge onto top edge
step
  valley left edge onto right edge
step
  turn over
step
  valley left edge onto right edge, all layers
"""


def test_front_inside_is_a_valley(tmp_path: Path) -> None:
    """A valley fold of a sheet with its front up brings the fronts together (definition)."""
    book = folded(BOOK, tmp_path)
    first = crease_pattern(book.steps[1].after)
    assert same_lines(first.lines[Kind.VALLEY], (((0.5, 0.0), (0.5, 1.0)),))
    assert first.lines[Kind.MOUNTAIN] == ()
    assert same_lines(first.lines[Kind.CREASE], (((0.0, 0.5), (1.0, 0.5)),))
    assert crease_pattern(book.steps[2].after) == first


def test_a_fold_through_two_layers_is_one_of_each(tmp_path: Path) -> None:
    """Folded through two layers, front and back alternate: one valley, one mountain (Justin)."""
    book = folded(BOOK, tmp_path)
    last = crease_pattern(book.finished)
    assert len(last.lines[Kind.VALLEY]) == 2
    assert len(last.lines[Kind.MOUNTAIN]) == 1


def test_creases_of_a_step_are_those_that_were_no_line_before(tmp_path: Path) -> None:
    book = folded(BOOK, tmp_path)
    made = [creases_made(step.before, step.after) for step in book.steps]
    assert [_count(p) for p in made] == [1, 1, 0, 2]
    assert same_lines(made[0].lines[Kind.CREASE], (((0.0, 0.5), (1.0, 0.5)),))


def _count(found: CreasePattern) -> int:
    return sum(kind is not Kind.EDGE for kind, _ in found.segments())


def test_a_crease_that_is_folded_later_is_not_made_again(tmp_path: Path) -> None:
    text = (
        "sheet square 10 cm\nstep\n  crease bottom edge onto top edge as k\n"
        "step\n  valley along k, moving A\n"
    )
    twice = folded(text, tmp_path)
    assert _count(creases_made(twice.steps[1].before, twice.steps[1].after)) == 0
    assert crease_pattern(twice.finished).lines[Kind.CREASE] == ()
    assert len(crease_pattern(twice.finished).lines[Kind.VALLEY]) == 1


def test_cuts_are_no_creases(tmp_path: Path) -> None:
    text = (
        "sheet square 10 cm\nstep\n  mark P at midpoint of A B\n  mark O at the centre\n"
        "  cut from P to O, 1 layer\n"
    )
    found = crease_pattern(folded(text, tmp_path).finished)
    assert same_lines(found.lines[Kind.CUT], (((0.5, 0.0), (0.5, 0.5)),))
    assert found.lines[Kind.CREASE] == found.lines[Kind.VALLEY] == ()


def test_a_flat_sheet_has_edges_only() -> None:
    sheet = rectangle()
    state = flat(sheet)
    assert [kind for kind, _ in crease_pattern(state).segments()] == [Kind.EDGE] * 4
    assert {A, B, C, D} == {p for _, s in crease_pattern(state).segments() for p in s}
