"""What is said of each step: its paper, its drawing, its words, its number."""

from __future__ import annotations

from pathlib import Path

from foldscript.changes.comparing import Fate
from foldscript.source.diagnostics import Severity

from .made import CARD, FOUR, HEAD, ONE, THREE, TWO, compared, kinds


def test_the_same_text_is_not_even_folded(tmp_path: Path) -> None:
    wrong = CARD.replace("as middle", "as middle as")
    change = compared(tmp_path, CARD, CARD)
    assert (change.fate, change.steps, change.title) == (Fate.SAME, (), "Card")
    assert compared(tmp_path, wrong, wrong).fate is Fate.BROKEN


def test_remarks_and_spaces_change_nothing(tmp_path: Path) -> None:
    change = compared(tmp_path, CARD, "# a remark\n" + CARD.replace("  valley", "    valley"))
    assert change.fate is Fate.SAME
    assert {kind for kind, _, _ in kinds(change)} == {"SAME"}


def test_only_the_words(tmp_path: Path) -> None:
    change = compared(tmp_path, CARD, CARD.replace("Two.", "Fold up."))
    assert change.fate is Fate.CHANGED
    assert kinds(change) == [
        ("SAME", 1, 1),
        ("WORDS", 2, 2),
        ("SAME", 3, 3),
        ("SAME", 4, 4),
    ]
    assert not change.head


def test_captions_in_another_language_are_words(tmp_path: Path) -> None:
    more = CARD.replace('"Two."\n', '"Two."\n  caption es "Dos."\n')
    assert kinds(compared(tmp_path, CARD, more))[1] == ("WORDS", 2, 2)
    (tmp_path / "new" / "card.es.toml").write_text('title = "Tarjeta"\n')
    change = compared(tmp_path, CARD, CARD)
    assert (change.fate, change.languages) == (Fate.CHANGED, ("es",))


def test_only_the_drawing(tmp_path: Path) -> None:
    """A hand that holds the paper moves none of it."""
    change = compared(tmp_path, CARD, CARD.replace(FOUR, FOUR + "  hold A\n"))
    assert kinds(change)[3] == ("DRAWING", 4, 4)
    assert not change.head


def test_the_paper_from_that_step_on(tmp_path: Path) -> None:
    change = compared(tmp_path, CARD, CARD.replace("valley bottom", "mountain bottom"))
    assert [kind for kind, _, _ in kinds(change)] == ["SAME", "PAPER", "PAPER", "PAPER"]
    assert "finished model" in change.head
    assert change.finished is not None


def test_a_step_inserted(tmp_path: Path) -> None:
    new = HEAD + ONE + 'step "Look."\n  mark M at midpoint of A B\n' + TWO + THREE + FOUR
    change = compared(tmp_path, CARD, new)
    assert [(old, new) for _, old, new in kinds(change)] == [
        (1, 1),
        (None, 2),
        (2, 3),
        (3, 4),
        (4, 5),
    ]
    assert kinds(change)[1][0] == "NEW"
    assert kinds(change)[4] == ("NUMBER", 4, 5)
    assert change.head == ("number of steps",)


def test_a_step_taken_out(tmp_path: Path) -> None:
    change = compared(tmp_path, CARD, HEAD + ONE + TWO + FOUR)
    assert kinds(change)[2] == ("GONE", 3, None)
    assert kinds(change)[3] == ("PAPER", 4, 3)


def test_a_new_model_one_that_went_and_one_that_does_not_fold(tmp_path: Path) -> None:
    assert compared(tmp_path, CARD, None).fate is Fate.GONE
    new = compared(tmp_path, None, CARD)
    assert new.fate is Fate.NEW
    assert {kind for kind, _, _ in kinds(new)} == {"NEW"}
    broken = compared(tmp_path, CARD, CARD.replace("turn over", "valley A to Z"))
    assert broken.fate is Fate.BROKEN
    assert "'Z'" in broken.faults[0].message
    was_broken = compared(tmp_path, CARD.replace("turn over", "turn ovr"), CARD)
    assert (was_broken.fate, len(was_broken.faults)) == (Fate.NEW, 1)
    assert was_broken.faults[0].severity is Severity.WARNING


def test_head(tmp_path: Path) -> None:
    old = CARD.replace("credit", "level simple\ncredit")
    change = compared(tmp_path, old, CARD.replace('"Card"', '"Postcard"').replace("15", "16"))
    assert change.head == ("title", "level", "sheet")
    assert change.title == "Postcard"


def test_what_it_starts_from_counts(tmp_path: Path) -> None:
    text = 'start from "base.foldscript"\n' + FOUR
    for name, move in (("old", TWO), ("new", TWO.replace("valley", "mountain"))):
        (tmp_path / name).mkdir()
        (tmp_path / name / "base.foldscript").write_text(HEAD + move, "utf-8")
    assert kinds(compared(tmp_path, text, text)) == [("PAPER", 1, 1)]
