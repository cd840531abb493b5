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
        ("Fold the corner to the centre.", "valley A to C", "caption-goal"),
        ("Fold the corner to the centre.", "valley A to top right corner", "caption-goal"),
        ("Fold the corner to the centre.", "valley A to centre", ""),
        ("Fold the left edge over.", "valley right edge onto left edge", "caption-side"),
        ("Fold it to the left corner.", "valley C to bottom left corner", ""),
        ("Fold up to the right corner.", "valley D to bottom left corner", "caption-goal"),
        ("Fold the front layer up.", "valley A to D, 2 layers", "caption-layers"),
        (
            "Fold the front layer.",
            "valley along line 3 cm from the left edge, 1 layer, moving C",
            "",
        ),
        ("Fold the wing in front up.", "valley A to D, 2 layers", "caption-layers"),
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


@pytest.mark.parametrize(
    ("caption", "lines", "told"),
    [
        ("Fold the left third over.", ("valley A to P",), "this folds a sixth"),
        ("Fold the left third over.", ("valley A to Q",), ""),
        ("Fold the left third over.", ("valley along line 5 cm from the left edge, moving A",), ""),
        (
            "Fold the left third over.",
            ("valley along line 3 cm from the left edge, moving A",),
            "this folds a fifth",
        ),
        ("Fold the left half over.", ("valley left edge onto right edge",), ""),
        ("Fold the left door, a third of the width.", ("valley A to P",), "this folds a sixth"),
        ("Fold the left edge over by a third.", ("valley A to P",), "this folds a sixth"),
        ("Fold over.", ("valley A to P",), ""),
        ("Fold the left third over and turn over.", ("valley A to P", "turn over"), ""),
    ],
)
def test_a_third_is_a_third(caption: str, lines: tuple[str, ...], told: str) -> None:
    marks = "mark P at 1/3 of A B", "mark Q at 2/3 of A B"
    body = "".join(f"  {line}\n" for line in (*marks, *lines))
    text = f'sheet square 15 cm\nstep "{caption}"\n{body}'
    found = [
        w for w in fold(read(Source("x.foldscript", text))).warnings if w.code == "caption-part"
    ]
    assert len(found) == bool(told)
    assert all(told in one.message for one in found)
    if told == "this folds a sixth":
        (edit,) = [hint.edit for hint in found[0].hints if hint.edit is not None]
        assert "valley A to Q" in edit.applied(text)


@pytest.mark.parametrize(
    ("caption", "line", "told"),
    [
        ("Fold the left side to the middle.", "mountain left edge onto centre line", True),
        ("Fold the left side to the middle.", "valley left edge onto centre line", False),
        ("Fold the left side behind.", "mountain left edge onto centre line", False),
        ("The left side likewise.", "mountain left edge onto centre line", False),
        ("Bend the side.", "mountain left edge onto centre line and unfold", False),
        ("", "mountain left edge onto centre line", False),
    ],
)
def test_a_fold_to_the_back_is_spoken_of(caption: str, line: str, told: bool) -> None:
    title = f' "{caption}"' if caption else ""
    text = f"sheet square 15 cm\nstep{title}\n  {line}\n"
    found = fold(read(Source("x.foldscript", text))).warnings
    assert [one.code for one in found] == ["caption-front"] * told


@pytest.mark.parametrize(
    ("caption", "told"),
    [
        ("Fold the upper half over.", True),
        ("Fold the flap back.", False),
        ("Open the flap.", False),
    ],
)
def test_a_fold_that_only_opens(caption: str, told: bool) -> None:
    line = "valley along line 3 cm from the left edge, moving {}"
    text = (
        f"sheet square 15 cm\nstep\n  {line.format('A')} as k\n"
        f'step "{caption}"\n  valley along k, moving D\n'
    )
    found = fold(read(Source("x.foldscript", text))).warnings
    assert ["caption-opens" for one in found if one.code == "caption-opens"] == [
        "caption-opens"
    ] * told


def test_a_point_that_has_left_the_side_of_the_caption() -> None:
    text = (
        "sheet square 15 cm, corner A at the bottom\nstep\n  mark T at the top corner\n"
        '  valley T to centre\nstep "Fold the bottom corner up to the top edge."\n  valley A to {}\n'
    )
    for goal, codes in (("T", ["caption-goal"]), ("midpoint of the top edge", [])):
        found = fold(read(Source("x.foldscript", text.format(goal)))).warnings
        assert [one.code for one in found] == codes


@pytest.mark.parametrize(
    ("caption", "told"),
    [
        ("Fold both long edges to the middle.", True),
        ("Fold in half, then the edge to the middle.", False),
        ("Fold both long edges over.", False),
    ],
)
def test_one_of_two_edges_goes_past_the_middle(caption: str, told: bool) -> None:
    text = (
        "sheet rectangle 10 cm by 20 cm\nstep\n  crease left edge onto right edge, as v\n"
        f'step "{caption}"\n  valley left edge onto right edge\n  valley right edge onto v\n'
    )
    found = fold(read(Source("x.foldscript", text))).warnings
    assert ("caption-goal" in [one.code for one in found]) == told


@pytest.mark.parametrize(
    ("caption", "side", "told"),
    [
        ("Fold the other lower edge to the middle, too.", "right", True),
        ("Fold the other lower edge to the middle, too.", "left", False),
        ("Fold this edge to the middle, too.", "right", False),
    ],
)
def test_the_other_edge_after_turning_over(caption: str, side: str, told: bool) -> None:
    text = (
        "sheet square 15 cm, corner A at the bottom\nstep\n  valley bottom left edge onto centre line\n"
        f'step\n  turn over\nstep "{caption}"\n  valley bottom {side} edge onto centre line\n'
    )
    found = fold(read(Source("x.foldscript", text))).warnings
    assert [one.code for one in found] == ["caption-side"] * told
    for one in found:
        assert one.hints[0].text == "say 'bottom left edge'"
