"""Named groups of moves: what they stand for, what they name, where their mistakes are shown."""

from __future__ import annotations

import pytest

from foldscript.source.diagnostics import FoldscriptError

from ..scripts import covered, folded, folds, lies, refused, script

EAR = """sheet square 100 mm
group ear P Q
  valley P to Q as k
  mark X at midpoint of P Q
end
"""


def test_points_stand_for_parameters() -> None:
    model = folded("mark O at the centre", "do ear A O", "do ear C, O", sheet=EAR)
    assert lies(model, "A") == lies(model, "C") == (50, 50)


def test_lines_and_what_the_eye_sees() -> None:
    """'Left edge' is looked up at the call: it is the same edge in the second move."""
    group = """sheet square 100 mm
group door E F
  valley E onto F
  unfold
  mountain E onto F
end
"""
    model = folded("crease left edge onto right edge as v", "do door left edge, v", sheet=group)
    assert lies(model, "A") == (50, 0)
    assert covered(model) == pytest.approx(0.75)


def test_what_the_eye_sees_stays_the_same_paper() -> None:
    """After the first fold the 'bottom left corner' is another one; the group goes on with A."""
    group = """sheet square 100 mm
group twice P
  valley P to the centre
  unfold
  valley P to 1/3 of A C
end
"""
    model = folded("do twice bottom left corner", sheet=group)
    assert lies(model, "A") == (pytest.approx(100 / 3), pytest.approx(100 / 3))


def test_a_call_is_read_before_its_moves() -> None:
    """'Centre line' of the whole sheet, although the figure gets narrower on the way."""
    group = """sheet square 100 mm
group gate M
  valley left edge onto M
  valley right edge onto M
end
"""
    model = folded("do gate centre line", sheet=group)
    assert covered(model) == pytest.approx(0.5)
    assert lies(model, "A") == lies(model, "B") == (50, 0)


def test_captions_say_the_words_of_the_call() -> None:
    model = folded("mark O at the centre", "do ear bottom left corner, O", sheet=EAR)
    (words,) = model.steps[1].wording
    assert words.render() == "Fold the bottom left corner over to point O."


def test_names_stay_inside() -> None:
    model = folded(
        "mark O at the centre; mark X at midpoint of A D", "do ear A O", "do ear C X", sheet=EAR
    )
    assert lies(model, "C") == (0, 50)
    assert refused("do ear A C", "unfold k", sheet=EAR).code == "unknown-name"
    assert refused("do ear A C", "valley D to X", sheet=EAR).code == "unknown-name"


def test_a_parameter_can_be_a_new_name() -> None:
    group = """sheet square 100 mm
group ear P Q k
  valley P to Q as k
end
"""
    model = folded(
        "mark O at the centre", "do ear A O tip", "do ear C O other", "unfold tip", sheet=group
    )
    assert lies(model, "A") == (0, 0)
    assert lies(model, "C") == (50, 50)
    assert refused("do ear A C A", sheet=group).code == "name-taken"


def test_groups_call_groups() -> None:
    group = """sheet square 100 mm
group both P Q
  do ear P, O
  do ear Q, O
end
group ear P Q
  valley P to Q
end
"""
    model = folded("mark O at the centre", "do both A C", sheet=group)
    assert lies(model, "A") == lies(model, "C") == (50, 50)


def test_a_step_with_a_group_can_be_repeated() -> None:
    model = folded("mark O at the centre", "do ear A O", "repeat step 2, 3 times", sheet=EAR)
    assert covered(model) == pytest.approx(0.5)
    assert refused("do ear A C", "repeat step 1 again", "mark Z at X'", sheet=EAR).code in (
        "cannot-reach",
        "unknown-name",
    )


def test_a_group_can_repeat_steps() -> None:
    group = "sheet square 100 mm\ngroup rest P\n  repeat step 2 on P\nend\n"
    model = folded("mark O at the centre", "valley A to O", "do rest C", sheet=group)
    assert lies(model, "C") == (50, 50)


@pytest.mark.parametrize(
    ("call", "code", "words"),
    [
        ("do eer A B", "unknown-group", "eer"),
        ("do ear A", "wrong-number", "do ear A"),
        ("do ear A B C", "wrong-number", "do ear A B C"),
        ("do", "do-what", "do"),
        ("do 3 times", "do-what", "do 3 times"),
        ("do ear A to B", "unexpected-words", "to B"),
        ("do ear A A", "cannot-reach", "Q"),
        ("do ear A Z", "unknown-name", "Q"),
    ],
)
def test_wrong_calls(call: str, code: str, words: str) -> None:
    found = refused(call, sheet=EAR)
    assert (found.code, found.words) == (code, words)


def test_a_near_name_is_suggested() -> None:
    assert refused("do eer A B", sheet=EAR).hints == ("did you mean 'ear'?",)
    assert "ear" in refused("do nothing A B", sheet=EAR).hints[0]
    assert "before the first step" in refused("do ear A B").hints[0]


def test_mistakes_point_into_the_group_and_at_the_call() -> None:
    text = script("do ear A A", sheet=EAR)
    with pytest.raises(FoldscriptError) as error:
        folds(text)
    (found,) = error.value.diagnostics
    assert "in step 1, in a group of moves" in found.message
    assert found.span is not None
    assert found.span.start < text.index("end")
    (call,) = [h for h in found.hints if h.span is not None]
    assert call.span is not None
    assert text[call.span.start : call.span.end] == "do ear A A"


def test_no_group_inside_itself() -> None:
    group = """sheet square 100 mm
group one P
  do two P
end
group two P
  do one P
end
"""
    found = refused("do one A", sheet=group)
    assert found.code == "group-calls-itself"
    assert "one does two does one" in found.message


def test_groups_and_parameters_have_different_names() -> None:
    text = script(
        "do ear A B",
        sheet="group ear P\n valley P to C\nend\ngroup ear Q Q\n valley Q to C\nend\n",
    )
    with pytest.raises(FoldscriptError) as error:
        folds(text)
    assert [d.code for d in error.value.diagnostics] == ["group-twice", "parameter-twice"]


def test_rows_of_calls_end() -> None:
    """Each group does the next one four times: refused long before the end."""
    groups = (
        "".join(f"group g{k}\n" + f"  do g{k + 1}\n" * 4 + "end\n" for k in range(12))
        + "group g12\n  turn over\nend\n"
    )
    assert refused("do g0", sheet=groups).code == "too-many-moves"
    deep = "".join(f"group g{k}\n  do g{k + 1}\nend\n" for k in range(40))
    assert refused("do g0", sheet=deep + "group g40\n  turn over\nend\n").code == "too-deep"
