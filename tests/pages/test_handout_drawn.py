"""The handout from a model drawn for real: head picture, key of the signs used, last figure."""

from __future__ import annotations

from dataclasses import replace

from foldscript.drawing.draw import draw, finished_figure
from foldscript.drawing.scene.scene import Text
from foldscript.drawing.signs.key import sign_keys
from foldscript.drawing.signs.registry import glyphs
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model, Panel, Step
from foldscript.languages.wording import phrase
from foldscript.output.fonts import measure
from foldscript.pages.document import Document
from foldscript.pages.grid import grid
from foldscript.pages.layout.handout import handout
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import Arrow, FoldLine, Sense, TurnOver
from foldscript.paper.state import flat
from foldscript.source.diagnostics import Span

from .fakes import HALVED, SHEET, model

STYLE = load_style("colour")
A4 = page_size("A4")


def folded() -> Model:
    """Fold the top edge down to the bottom edge; turn over."""
    fold = Panel(
        flat(SHEET),
        (
            FoldLine(Sense.VALLEY, ((0, ((0.0, 0.5), (1.0, 0.5))),)),
            Arrow("valley", (0.5, 1.0), (0.5, 0.0)),
        ),
    )
    turn = Panel(HALVED, (TurnOver(True),))
    words = ("Fold the top edge to the bottom edge.", "Turn over.")
    steps = tuple(
        Step(i + 1, words[i], (), (phrase(words[i]),), (panel,), panel.state, HALVED, Span(0, 0))
        for i, panel in enumerate((fold, turn))
    )
    return replace(model(), steps=steps)


def made(one: Model) -> Document:
    return handout(one, STYLE, A4, measure)


def texts_of(document: Document) -> list[str]:
    return list(document.texts())


def test_key_names_the_signs_used_and_no_others() -> None:
    one = folded()
    frame = grid(A4).frame
    scenes = [figure.scene for figure in draw(one, STYLE, frame)]
    used = {key for s in (*scenes, finished_figure(one, STYLE, frame)) for key in s.signs}
    assert {"fold.valley", "arrow.valley", "turn-over"} <= used
    words = " ".join(
        item.content.text
        for page in made(one).pages
        for item in page.items
        if isinstance(item.content, Text) and item.content.role == "text.key"
    )
    for key in sign_keys():
        assert (glyphs()[key].name in words) == (key in used), key


def test_numbered_figures_then_the_finished_model() -> None:
    texts = texts_of(made(folded()))
    told = [t for t in texts if t[0].isdigit() or t.startswith(("Fold the top", "The finished"))]
    turned = "Fold the top edge to the bottom edge. Turn over."  # a turn has no figure of its own
    assert told == ["2", "1–2", turned, "The finished model."]  # first, how many steps there are


def test_same_model_same_document() -> None:
    assert made(folded()) == made(folded())


def test_a_model_without_steps_is_laid_out_too() -> None:
    document = made(replace(model(), steps=()))
    assert len(document.pages) == 1
    assert "The finished model." in texts_of(document)
