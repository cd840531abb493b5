"""Hints of scripts with one mistake: what they are, and that the first leads on."""

from __future__ import annotations

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Hint, Source


def hints_of(text: str) -> tuple[Hint, ...]:
    """What the script is told to try, which is refused."""
    with pytest.raises(FoldscriptError) as caught:
        fold(read(Source("x.foldscript", text)))
    return caught.value.diagnostics[0].hints


def comes_first_and_folds(text: str, said: str) -> None:
    """The first hint begins so, and the script that follows it folds to its end."""
    first = hints_of(text)[0]
    assert first.text.startswith(said), hints_of(text)
    assert first.edit is not None
    fold(read(Source("x.foldscript", first.edit.applied(text))))
