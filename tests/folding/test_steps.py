"""A script folded: steps, states, captions, and the step that an error is in."""

from __future__ import annotations

import pytest

from foldscript.folding.fold import fold
from foldscript.geometry.lines import distance
from foldscript.geometry.polygons import area
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax.parser import parse

from ..scripts import covered, folded, folds, lies, refused

HEAD = 'model "Test"\ncredit traditional\nlicence "CC0"\nlevel simple\nlanguage de\n'


def test_what_the_head_says() -> None:
    model = folds(HEAD + "sheet square 10 cm\nstep\nvalley A to C\n")
    assert (model.name, model.title, model.credit) == ("test", "Test", "traditional")
    assert (model.licence, model.language) == ("CC0", "de")
    assert model.sheet.unit_mm == 100


def test_steps_follow_each_other() -> None:
    model = folded("valley A to C", "valley B to D, all layers", "turn over")
    assert [s.number for s in model.steps] == [1, 2, 3]
    assert model.steps[0].before is model.start
    assert all(a.after is b.before for a, b in zip(model.steps, model.steps[1:], strict=False))
    assert model.finished is model.steps[-1].after


def test_captions_of_each_step() -> None:
    text = (
        'language de\nstep "Ecke auf Ecke."\ncaption en "Corner to corner."\nvalley A to C\n'
        "step\nvalley B to D, all layers\n"
    )
    first, second = folds(text).steps
    assert first.caption == "Ecke auf Ecke."
    assert ("en", "Corner to corner.") in first.captions
    assert second.caption == ""
    assert [w.render() for w in second.wording] == [
        "Fold corner B over to corner D, all layers together."
    ]


def test_captions_can_be_translated_in_parts() -> None:
    (words,) = folded("valley A to C").steps[0].wording
    german = {"Fold {what} over {where}{layers}.": "{what} {where}{layers} falten."}
    assert words.render(lambda text: german.get(text, text)) == "corner A to corner C falten."


@pytest.mark.parametrize(
    "line", ["valley A to Z", "valley C to midpoint of B D", "unfold to step 9"]
)
@pytest.mark.parametrize("before", [1, 3])
def test_errors_say_in_which_step(line: str, before: int) -> None:
    lines = ["valley A to C", "crease B to D, all layers", "crease A to midpoint of B D, 1 layer"]
    found = refused(*lines[:before], line)
    assert found.message.endswith(f"(in step {before + 1})")


def test_folding_stops_at_the_first_error() -> None:
    """Later steps have no paper, so nothing is said of them."""
    found = refused("valley A to C", "valley Z to C", "valley Y to C")
    assert found.words == "Z"


def test_an_error_s_span_lies_in_its_statement() -> None:
    text = "sheet square 100 mm\nstep\nvalley A to C\nstep\nvalley D to C,\n  5 layers\n"
    with pytest.raises(FoldscriptError) as error:
        fold(parse(Source("test.foldscript", text), verbs()))
    (diagnostic,) = error.value.diagnostics
    assert diagnostic.span is not None
    assert diagnostic.source is not None
    line, column = diagnostic.source.position(diagnostic.span.start)
    assert (line, column) == (5, 1)
    assert text[diagnostic.span.start : diagnostic.span.end].startswith("valley D to C")


@pytest.mark.parametrize(
    ("sheet", "a", "b"),
    [
        ("sheet square 100 mm", (0, 0), (100, 0)),
        ("sheet square 100 mm, edge B C at the bottom", (0, 100), (0, 0)),
        ("sheet rectangle 100 mm by 50 mm", (0, 0), (100, 0)),
    ],
)
def test_how_the_sheet_lies_at_first(
    sheet: str, a: tuple[float, float], b: tuple[float, float]
) -> None:
    model = folded("crease A to C", sheet=sheet + "\n")
    assert lies(model.start, "A") == pytest.approx(a)
    assert lies(model.start, "B") == pytest.approx(b)


def test_a_corner_at_the_bottom() -> None:
    model = folded("valley A to C", sheet="sheet square 100 mm, corner B at the bottom\n")
    low = min("ABCD", key=lambda c: lies(model.start, c)[1])
    assert low == "B"
    assert lies(model.start, "D")[0] == pytest.approx(lies(model.start, "B")[0])


def test_which_side_shows() -> None:
    for words, coloured in (("coloured side up", True), ("coloured side down", False)):
        model = folded("valley A to C", sheet=f"sheet square 100 mm, {words}\n")
        assert model.sheet.front_coloured is coloured
        assert model.start.facets[0].shows_front


def test_a_script_without_steps() -> None:
    model = folds('sheet square 100 mm\nstep "Take a sheet."\n')
    assert covered(model) == 1
    assert model.finished.facets == model.start.facets


def test_the_same_script_folds_the_same() -> None:
    lines = (
        "valley A to C",
        "valley B to D, all layers",
        "crease A to midpoint of B C, all layers",
    )
    one, other = folded(*lines), folded(*lines)
    assert [s.after.facets for s in one.steps] == [s.after.facets for s in other.steps]
    assert [dict(s.after.order) for s in one.steps] == [dict(s.after.order) for s in other.steps]


def test_sixty_steps_do_not_drift() -> None:
    """Areas and shared boundaries within 1e-9 of the sheet's size (`folded` checks the latter too)."""
    lines = [
        "mark P at 1/7 of A B; mark Q at 3/11 of A D; mark R at 5/13 of B C; mark S at 4/9 of C D"
    ]
    folds_made = [
        "valley A to centre",
        "turn over",
        "rotate 33 degrees clockwise",
        "valley along line R S, moving C",
        "turn over top to bottom",
        "rotate 71 degrees anticlockwise",
        "unfold",
        "turn over",
        "unfold",
        "mountain along line P Q, moving A",
        "rotate 17 degrees clockwise",
        "unfold",
    ]
    lines += [folds_made[k % len(folds_made)] for k in range(60)]
    model = folded(*lines)
    assert len(model.steps) >= 60
    for step in model.steps:
        total = sum(area(f.outline) for f in step.after.facets)
        assert abs(total - 1) < 1e-9
        for joint in step.after.joints:
            a, b = (step.after.facets[k].place for k in (joint.a, joint.b))
            assert all(distance(a(p), b(p)) < 1e-9 for p in joint.segment)
