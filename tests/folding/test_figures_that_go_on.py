"""A line of a script that takes two figures is told once, where the script has a caption of its own."""

from __future__ import annotations

from foldscript.captions.speaking import spoken
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.languages.language import load_language
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

FOUR = "sheet square 15 cm\nstep {}\n  mark O at centre\n  crease A, B, C and D to O\n"


def read(text: str) -> Model:
    return fold(parse(Source("test.foldscript", text), verbs()))


def test_the_caption_of_a_line_stands_under_its_first_figure_alone() -> None:
    (step,) = read(FOUR.format('"Fold every corner to the centre, and unfold."')).steps
    assert len(step.panels) == 2
    assert [panel.goes_on for panel in step.panels] == [False, True]
    assert step.told[1] == ()


def test_without_a_caption_each_figure_has_its_sentences() -> None:
    (step,) = read(FOUR.format("")).steps
    assert [len(some) for some in step.told] == [2, 2]


def test_where_the_caption_is_of_another_language_each_figure_has_its_sentences() -> None:
    model = read(FOUR.format('"Fold every corner to the centre, and unfold."'))
    (step,) = spoken(model, load_language("de"), None).steps
    assert step.caption == ""
    assert all(step.told)


def test_what_another_line_folds_keeps_its_sentence() -> None:
    model = read(
        'sheet square 15 cm\nstep "Fold in half, twice."\n  valley bottom edge onto top edge\n'
        "  valley left edge onto right edge\n"
    )
    (step,) = model.steps
    assert [panel.goes_on for panel in step.panels] == [False, False]
    assert step.told[1] != ()
