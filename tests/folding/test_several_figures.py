"""A step of several figures is told once where the script has a caption of its own, else each by itself."""

from __future__ import annotations

from dataclasses import replace

from foldscript.captions.speaking import spoken
from foldscript.drawing.draw import draw
from foldscript.drawing.style.styles import load_style
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model, Step
from foldscript.languages.language import load_language
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

FOUR = "sheet square 15 cm\nstep {}\n  mark O at centre\n  crease A, B, C and D to O\n"


def read(text: str) -> Model:
    return fold(parse(Source("test.foldscript", text), verbs()))


def caption(step: Step, k: int) -> str:
    """What stands under a figure of the step."""
    model = replace(read(FOUR.format("")), steps=(step,))
    return draw(model, load_style(), (200.0, 200.0))[k].caption


def test_the_caption_of_a_line_stands_under_its_first_figure_alone() -> None:
    (step,) = read(FOUR.format('"Fold every corner to the centre, and unfold."')).steps
    assert len(step.panels) == 2
    assert [caption(step, k) for k in (0, 1)] == [
        "Fold every corner to the centre, and unfold.",
        "",
    ]


def test_without_a_caption_each_figure_has_its_sentences() -> None:
    (step,) = read(FOUR.format("")).steps
    assert [len(some) for some in step.told] == [2, 2]


def test_where_the_caption_is_of_another_language_each_figure_has_its_sentences() -> None:
    model = read(FOUR.format('"Fold every corner to the centre, and unfold."'))
    (step,) = spoken(model, load_language("de"), None).steps
    assert step.caption == ""
    assert all(step.told)


def test_a_caption_tells_what_several_lines_fold() -> None:
    """One sentence of the author's for two moves, of which each needs a figure."""
    (step,) = read(
        'sheet square 15 cm\nstep "Fold in half, twice."\n  valley bottom edge onto top edge\n'
        "  valley left edge onto right edge\n"
    ).steps
    assert [caption(step, k) for k in (0, 1)] == ["Fold in half, twice.", ""]
