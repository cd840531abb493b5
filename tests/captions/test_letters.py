"""In every language a figure has the letters that the words under it speak of, and no others."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.captions.speaking import in_language
from foldscript.drawing.plan import Planned, planned
from foldscript.folding.lettering import mentioned
from foldscript.folding.steps import Model
from foldscript.languages.language import load_language
from foldscript.languages.wording import sentences

from ..sample_scripts import SAMPLES, SCRIPTS, sample
from ..scripts import folded


def as_folded(path: Path) -> Model:
    return sample(path.stem).model


def words(model: Model, one: Planned) -> str:
    """What stands under a figure, and under those before it of the same step."""
    told = [s.caption or sentences(s.told[k], model.speech) for s, k in one.told]
    return " ".join(told)


def letters(one: Planned) -> set[str]:
    return {name.partition(" of unit ")[0] for name, _ in one.panel.letters}


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
@pytest.mark.parametrize("tag", ["en", "es", "fr", "de", "nl"])
def test_letters_are_those_of_the_words(path: Path, tag: str) -> None:
    model, _ = in_language(as_folded(path), path, load_language(tag))
    figures = [one for one in planned(model) if not one.finished]
    for one in figures:
        points = {name for step in one.steps for name, _ in step.named}
        # one caption may stand for several figures: what it says is found in one of them
        row = [other for other in figures if other.folded == one.folded]
        told = set(mentioned(words(model, one), points)) & (points | letters(one))
        assert told <= {name for other in row for name in letters(other)}, one.label
        assert letters(one) <= told, one.label


def test_ends_of_a_line_in_a_row_are_letters_only_where_both_are_points() -> None:
    assert mentioned("Fold it to line OK.", {"O", "K"}) == ("O", "K")
    assert mentioned("It is OK.", {"O"}) == ()


def test_what_may_be_a_word_where_a_sentence_begins_is_a_letter_beside_another() -> None:
    assert mentioned("It lies in front. E and F are its corners.", {"E", "F"}) == ("E", "F")
    assert mentioned("A, C und E liegen aufeinander.", {"A", "C", "E"}) == ("A", "C", "E")
    assert mentioned("A flap shows. I turn to F.", {"A", "F", "I"}) == ("F",)
    assert mentioned("A of the points", {"A"}) == ()


def test_a_name_that_is_no_letter_stands_where_it_is_told() -> None:
    model = folded("mark tip at midpoint of A B", "valley A to tip", "crease C to D")
    (first, *_, last) = planned(in_language(model, Path("x"), load_language("en"))[0])
    assert letters(first) == {"A", "tip"}
    assert "tip" not in letters(last)


def test_what_is_cut_off_keeps_its_letter_in_the_figure_of_the_cut() -> None:
    """The piece with D is not needed: the caption says so, and the figure has to show which."""
    path = SAMPLES / "square-from-a4.foldscript"
    model, _ = in_language(as_folded(path), path, load_language("fr"))
    cut = next(one for one in planned(model) if one.folded == 3)
    assert "D" in letters(cut)
