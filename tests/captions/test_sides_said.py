"""What a caption calls by its side is there in the figure that it stands under: the law, on random steps."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator

import pytest

from foldscript.folding.figures import Figures
from foldscript.folding.fold import fold
from foldscript.geometry.lines import Segment, line_through, same_line
from foldscript.geometry.tolerance import same_point
from foldscript.moves.planning.request import Outcome
from foldscript.moves.registry import verbs
from foldscript.paper.silhouette import corners_toward, edges_toward
from foldscript.paper.state import State
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax.parser import parse

from ..laws.random_scripts import BEGINNINGS, STANDING, Words
from ..scripts import captions, folded, script

_SIDE = re.compile(r"\bthe ((?:top|bottom|left|right)(?: (?:left|right))?) (corner|edge)\b")
Shown = tuple[State, State, str]  # paper of the figure, of the move; the sentence


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[Shown]:
    """Every move of what is folded, with the figure that it is told under."""
    found: list[Shown] = []
    add = Figures.add

    def noted(self: Figures, now: State, outcome: Outcome) -> None:
        add(self, now, outcome)
        if outcome.wording is not None and outcome.turn is None:
            found.append((self.state, outcome.before or now, outcome.wording.render()))

    monkeypatch.setattr(Figures, "add", noted)
    return found


def wanders(figure: State, now: State, text: str) -> Iterator[str]:
    """What is called by a side that it does not have in the figure."""
    for words in _SIDE.finditer(text):
        way = tuple(words[1].split())
        if words[2] == "corner":
            there, here = corners_toward(figure, way), corners_toward(now, way)
            alike = len(there) == len(here) == 1 and same_point(there[0], here[0])
        else:
            edges, own = edges_toward(figure, way), edges_toward(now, way)
            alike = len(edges) == len(own) == 1 and one_line(edges[0], own[0])
        if not alike:
            yield f"{words[0]}: {text}"


def one_line(one: Segment, other: Segment) -> bool:
    return same_line(line_through(*one), line_through(*other))


@pytest.mark.parametrize("seed", [3, 5, 23, 41, 54])
def test_on_random_steps(seed: int, shown: list[Shown]) -> None:
    rnd = random.Random(seed)
    words = Words(rnd)
    steps = [[line] for line in rnd.choice(BEGINNINGS)]
    for (line,) in steps:
        words.accept(line)
    for _ in range(30):
        line = words.statement()
        if any(line.split()[0] == form.split()[0] for form in STANDING):
            continue
        join = steps and rnd.random() < 0.6
        more = [*steps[:-1], [*steps[-1], line]] if join else [*steps, [line]]
        shown.clear()
        try:
            fold(parse(Source("x", script(*("; ".join(step) for step in more))), verbs()))
        except FoldscriptError:
            continue
        steps = more
        words.accept(line)
        assert [fault for one in shown for fault in wanders(*one)] == []


def test_a_corner_that_the_same_step_has_made_begins_a_figure(shown: list[Shown]) -> None:
    """After a piece has come off, another corner is the bottom right one."""
    model = folded(
        "mark S at 1/2 of A B; mark T at 1/2 of B C; cut from S to T, discarding B; "
        "crease bottom right edge onto line A C"
    )
    assert [fault for one in shown for fault in wanders(*one)] == []
    assert len(model.steps[0].panels) == 2


def test_parts_of_an_edge_at_the_side_are_counted_from_above_or_below() -> None:
    """An edge on the left has no left end for the eye; its mirror image is told alike."""
    in_half = "valley top edge onto bottom edge"
    left = folded(
        in_half,
        "valley left edge onto right edge, all layers",
        "valley bottom left corner to top right corner, all layers",
        "crease through 1/3 of the left edge perpendicular to left edge, all layers",
    )
    right = folded(
        in_half,
        "valley right edge onto left edge, all layers",
        "valley bottom right corner to top left corner, all layers",
        "crease through 2/3 of the right edge perpendicular to right edge, all layers",
    )
    told = captions(left)[-1].replace("right angle", "angle")
    assert "a third of the way along the left edge from its upper end" in told
    mirrored = told.replace("left", "RIGHT").replace("right", "left").replace("RIGHT", "right")
    assert captions(right)[-1].replace("right angle", "angle") == mirrored
