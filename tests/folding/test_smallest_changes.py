"""A line that its move does not understand comes back with the smallest change that folds."""

from __future__ import annotations

import pytest

from ..beginners.test_beginners import followed, told
from ..scripts import refused

DIAMOND = "sheet square 15 cm, corner A at the bottom\n"
#: A flap of two layers, its tip A at the bottom, and a line across it.
TIP = (
    f"{DIAMOND}step\n  valley left corner to right corner\nstep\n  mark P at 1/3 of A B\n"
    "  mark Q at 1/3 of A C\n  mark R at midpoint of A C\nstep\n"
)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("inside reverse A at P Q, as k", "inside reverse A through P Q, as k"),
        ("inside reverse A from P to Q, as k", "inside reverse A through P Q, as k"),
        ("inside reverse A between P and Q, as k", "inside reverse A through P Q, as k"),
        ("inside reverse A P Q, 2 layers", "inside reverse A through P Q, 2 layers"),
        ("reverse fold A inside, through P Q, as k", "inside reverse fold A through P Q, as k"),
        (
            "reverse fold the bottom corner through P Q",
            "inside reverse fold bottom corner through P Q",
        ),
        ("fold A inside along line P Q, as k", "inside reverse A along line P Q, as k"),
        ("push A inside along line P Q", "inside reverse A along line P Q"),
        (
            "inside reverse fold A upwards to midpoint of A B, as k",
            "inside reverse fold A to midpoint of A B, as k",
        ),
        ("swivel fold A along P Q", "swivel fold A along line P Q"),
        ("mark T halfway P Q", "mark T at midpoint of P Q"),
    ],
)
def test_the_line_keeps_its_verb_and_its_clauses(line: str, said: str) -> None:
    wrong, *_ = told(f"{TIP}  {line}\n")
    assert f"'{said}'" in wrong.hints[0].text
    assert not any(hint.text.startswith("write it like") for hint in wrong.hints)


@pytest.mark.parametrize(
    "line",
    [
        "inside reverse A at P Q, as k",
        "inside reverse A with P Q",
        "outside reverse fold A over along line P Q, as k",
        "crease P Q as k",
        "inside reverse both A and C through P Q",
    ],
)
def test_a_change_leads_on(line: str) -> None:
    wrong, *_ = told(f"{TIP}  {line}\n")
    edits = [hint.edit for hint in wrong.hints if hint.edit is not None]
    assert edits
    left = followed(f"{TIP}  {line}\n")[1]
    assert left == [] or left[0].code != wrong.code


def test_the_other_reverse_fold_is_written_in_the_place_of_its_word() -> None:
    wrong, *_ = told(f"{TIP}  outside reverse A through P Q, as k\n")
    assert wrong.code == "locked-layers"
    edit = next(hint.edit for hint in wrong.hints if hint.edit is not None)
    after = edit.applied(f"{TIP}  outside reverse A through P Q, as k\n")
    assert after == f"{TIP}  inside reverse A through P Q, as k\n"
    assert told(after) == []


def test_what_nothing_folds_comes_back_as_a_line_that_is_understood() -> None:
    wrong, *_ = told(f"{TIP}  petal A P Q\n")
    assert [hint.text for hint in wrong.hints] == ["say 'petal A through P Q'"]
    wrong, *_ = told(f"{TIP}  crimp A along P Q and R Q\n")
    assert wrong.hints[0].text == "say 'crimp A along line P Q and line R Q'"


def test_two_points_are_told_apart_from_one() -> None:
    wrong = refused("mark P at 1/3 of A B; mark Q at 1/4 of C D", "crease P Q as k")
    assert wrong.hints == (
        "for the line that runs through both say 'crease through P Q as k'",
        "for a fold that brings one to the other say 'crease P to Q as k'",
    )


def test_lines_of_one_outcome_are_said_once() -> None:
    wrong, *_ = told(f"{TIP}  inside reverse A with P Q, as k\n")
    assert len([hint for hint in wrong.hints if hint.edit is not None]) == 1
