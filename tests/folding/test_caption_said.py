"""A caption that says 'unfold' over a fold that stays folded is told of; others are not."""

from __future__ import annotations

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import Diagnostic, Source

FOLD = "  valley left edge onto right edge"


def warned(caption: str, *lines: str, head: str = "") -> tuple[Diagnostic, ...]:
    text = "\n".join((f"{head}sheet square 15 cm", f'step "{caption}"', *lines, ""))
    return fold(read(Source("a.foldscript", text))).warnings


def test_a_fold_that_the_caption_unfolds_and_the_step_does_not() -> None:
    (told,) = warned("Fold in half and unfold.", FOLD)
    assert told.code == "caption-unfold"
    edit = told.hints[0].edit
    assert edit is not None
    assert edit.text == " and unfold"
    assert told.source is not None
    assert not fold(read(Source("a.foldscript", edit.applied(told.source.text)))).warnings


@pytest.mark.parametrize(
    ("caption", "lines"),
    [
        ("Fold in half and unfold.", (f"{FOLD} and unfold",)),
        ("Fold in half and unfold.", (FOLD, "  unfold")),
        ("Crease and unfold.", ("  crease left edge onto right edge",)),
        ("Fold in half.", (FOLD,)),
        ("Fold in half, and do not unfold.", (FOLD,)),
        ("Turn over, then unfold it later.", ("  turn over",)),
    ],
)
def test_what_is_done_or_not_said_is_quiet(caption: str, lines: tuple[str, ...]) -> None:
    assert not warned(caption, *lines)


def test_captions_in_other_languages_are_not_read() -> None:
    assert not warned("unfold", FOLD, head="language de\n")


@pytest.mark.parametrize(
    ("caption", "line", "code"),
    [
        ("Fold the left edge to the middle.", "valley left edge onto right edge", "caption-goal"),
        ("Fold the left edge over to the right.", "valley left edge onto right edge", ""),
        ("Fold it to the left corner.", "valley C to bottom left corner", ""),
        ("Fold up to the right corner.", "valley D to bottom left corner", "caption-goal"),
        ("Fold the front layer up.", "valley A to D, 2 layers", "caption-layers"),
        (
            "Fold the front layer.",
            "valley along line 3 cm from the left edge, 1 layer, moving C",
            "",
        ),
        ("Fold the front layer and the one behind up.", "valley A to D, 2 layers", ""),
    ],
)
def test_where_it_goes_and_how_many_go(caption: str, line: str, code: str) -> None:
    before = "step\n  valley right edge onto left edge\n" if "layer" in line else ""
    text = f'sheet square 15 cm\n{before}step "{caption}"\n  {line}\n'
    model = fold(read(Source("x.foldscript", text)))
    assert [one.code for one in model.warnings if one.code.startswith("caption")] == [code][
        : bool(code)
    ]
