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
