"""A fold that is not as the others of its step is told of; where a line is refused, that comes first."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Source

SAMPLES = Path(__file__).parents[2] / "samples"
CORNERS = ("valley A to O", "valley B to O", "valley C to O", "valley D to O")
CREASE = "crease the left edge onto the right edge as k"
CENTRE = "mark O at the centre"


def script(*lines: str, caption: str = "", before: str = CENTRE) -> str:
    title = f' "{caption}"' if caption else ""
    body = "".join(f"  {line}\n" for line in lines)
    return f"sheet square 15 cm\nstep\n  {before}\nstep{title}\n{body}"


def warned(text: str) -> list[Diagnostic]:
    model = fold(read(Source("a.foldscript", text)))
    return [one for one in model.warnings if one.code == "not-as-the-others"]


@pytest.mark.parametrize("odd", ["mountain D to O", "valley D to T"])
def test_the_one_that_differs_from_all_others(odd: str) -> None:
    row = "mark T at 1/3 of D B", *CORNERS[:3]
    text = script(*row, odd)
    (told,) = warned(text)
    edit = told.hints[0].edit
    assert edit is not None
    assert edit.applied(text) == script(*row, CORNERS[3])


@pytest.mark.parametrize(
    "lines",
    [
        CORNERS,
        CORNERS[:1],
        ("valley A to O", "mountain B to O"),
        ("valley left edge onto centre line", "valley right edge onto centre line"),
        ("valley A to O", "valley B to O", "valley along line 1 cm from the top edge, moving C"),
        (
            "valley left edge onto centre line",
            "valley right edge onto centre line",
            "valley bottom edge onto horizontal centre line, all layers",
        ),
    ],
)
def test_lines_alike_and_lines_that_differ_in_all_are_quiet(lines: tuple[str, ...]) -> None:
    assert not warned(script(*lines))


def test_the_same_side_twice() -> None:
    twice = "valley left edge onto k", "mark P at the centre", "valley left edge onto k as m"
    (told,) = warned(script(*twice, caption="Fold the sides to the middle.", before=CREASE))
    assert told.hints[0].text == "say 'valley right edge onto k as m'"
    assert not warned(script(*twice, caption="Fold the side over twice.", before=CREASE))
    other = script(*twice, caption="Den Rand zweimal einschlagen.", before=CREASE)
    assert not warned(f"language de\n{other}")  # whether it says so is not known


#: Of a sample: a line, what stands there by mistake, and how the hint that comes first begins.
SLIPS = {
    "goal-of-a-caption": (
        *("frame", "valley the bottom corner to O", "valley the bottom corner to D"),
        "in line 20 say 'to the centre'",
    ),
    "move-of-the-others": (
        *("frame", "valley the top corner to O", "mountain the top corner to O"),
        "in line 24 say 'valley the top corner to O', as the other folds of the step say 'valley'",
    ),
    "side-of-a-caption": (
        *("cup", "valley the left corner to G", "valley the right corner to G"),
        "in line 29 say 'left corner'",
    ),
    "the-same-twice": (
        *("crane", "  valley the bottom right edge onto", "  valley the bottom left edge onto"),
        "in line 48 say 'valley the bottom right edge onto centre line', as the fold before it says the same",
    ),
    "beside-its-twin": (
        *("dart", "valley the top right edge onto m", "valley the bottom right edge onto m"),
        "the fold before it goes so on its side: say 'valley the top right edge onto middle'",
    ),
}


@pytest.mark.parametrize("case", SLIPS)
def test_the_change_that_the_rest_of_the_script_speaks_for_comes_first(case: str) -> None:
    name, right, wrong, said = SLIPS[case]
    meant = (SAMPLES / f"{name}.foldscript").read_text("utf-8")
    with pytest.raises(FoldscriptError) as caught:
        warned(meant.replace(right, wrong, 1))
    (first, *_) = caught.value.diagnostics[0].hints
    assert first.text.startswith(said)
    assert first.edit is not None
    assert not warned(first.edit.applied(meant.replace(right, wrong, 1)))


def test_a_step_that_goes_as_the_one_before_but_for_one_point() -> None:
    text = (
        "sheet square 15 cm, corner A at the bottom\nstep\n  valley C to A\nstep\n"
        "  mark T at midpoint of B D\n  mark P at 1/4 of T D\n  mark Q at 1/4 of D A\n"
        "  valley through P and Q, moving D\nstep\n  mark R at 1/4 of T B\n  mark S at 1/4 of {} A\n"
        "  valley through R and S, moving B\n"
    )
    row = fold(read(Source("x.foldscript", text.format("C")))).warnings
    (warned,) = (one for one in row if one.code == "not-as-the-others")
    assert warned.hints[0].text == "say 'mark S at 1/4 of B A'"
    assert not fold(read(Source("x.foldscript", text.format("B")))).warnings


@pytest.mark.parametrize(
    ("caption", "lines", "said"),
    [
        (
            "Fold both sides to the crease.",
            ("valley left edge onto middle", "valley right edge onto left edge"),
            "say 'valley right edge onto middle'",
        ),
        (
            "Fold left and right to the crease.",
            ("valley left edge onto right edge", "valley right edge onto middle"),
            "say 'valley left edge onto middle'",
        ),
        (
            "Fold both sides to the crease.",
            ("valley left edge onto middle", "valley right edge onto middle"),
            "",
        ),
        ("Crease both ways.", ("crease left edge onto middle", "crease A to top right corner"), ""),
    ],
)
def test_two_folds_that_the_caption_tells_as_one(
    caption: str, lines: tuple[str, ...], said: str
) -> None:
    body = "\n  ".join(lines)
    text = (
        "sheet rectangle 10 cm by 20 cm\nstep\n  crease left edge onto right edge as middle\n"
        f'step "{caption}"\n  {body}\n'
    )
    told = [w for w in fold(read(Source("x.foldscript", text))).warnings if "alike" in w.message]
    assert [w.hints[0].text for w in told] == [said] * bool(said)


@pytest.mark.parametrize(
    ("caption", "told"),
    [
        ("Both lower edges to the middle.", True),
        ("Both edges to the middle.", False),
        ("The lower edges and an upper one to the middle.", False),
    ],
)
def test_the_other_height_than_the_caption_says(caption: str, told: bool) -> None:
    text = (
        f'sheet square 15 cm, corner A at the bottom\nstep "{caption}"\n'
        "  valley bottom left edge onto centre line\n  valley top right edge onto centre line\n"
    )
    row = [w for w in fold(read(Source("x.foldscript", text))).warnings if "speaks of" in w.message]
    assert [w.hints[0].text for w in row] == [
        "say 'valley bottom right edge onto centre line'"
    ] * told


def test_both_sides_to_a_line_through_two_points() -> None:
    text = (
        "sheet square 15 cm, corner A at the bottom\nstep\n  mark O at the centre\n"
        'step "Sides to the middle."\n  valley bottom left edge onto the bottom right edge\n'
        "  valley bottom right edge onto line A O\n"
    )
    row = [w for w in fold(read(Source("x.foldscript", text))).warnings if "alike" in w.message]
    assert row[0].hints[0].text == "say 'valley bottom left edge onto line A O'"
