"""The lines before the first step, steps and their captions."""

from __future__ import annotations

import pytest

from tests.syntax.scripts import parsed, places

HEAD = """\ufeffmodel "Tea \\"cup\\""
credit traditional, as told
licence CC BY-SA 4.0
level low intermediate
colours dark red and “warm white”
language es
note "One."
note "Two \\\\ three"
start from preliminary base
step "Doblar."
  caption en "Fold."
  caption pt-BR "Dobrar."
  turn over
"""


def test_everything_a_head_can_say() -> None:
    program = parsed(HEAD)
    head = program.head
    assert head.title == 'Tea "cup"'
    assert head.credit == "traditional, as told"
    assert head.licence == "CC BY-SA 4.0"
    assert head.level == "low intermediate"
    assert (head.front_colour, head.back_colour) == ("dark red", "warm white")
    assert head.language == "es"
    assert head.notes == ("One.", "Two \\ three")
    assert head.start_from == "preliminary base"
    assert head.start_span is not None
    assert HEAD[head.start_span.start : head.start_span.end] == "preliminary base"
    assert head.sheet is None
    assert [(c.language, c.text) for c in program.steps[0].captions] == [
        ("", "Doblar."),
        ("en", "Fold."),
        ("pt-BR", "Dobrar."),
    ]


def test_the_usual_sheet() -> None:
    """15 cm square, coloured side down: common practice in teaching."""
    sheet = parsed("step\nturn over").head.sheet
    assert sheet is not None
    assert sheet.outline == ((0, 0), (150, 0), (150, 150), (0, 150))
    assert sheet.names == ("A", "B", "C", "D")
    assert not sheet.coloured_up


def test_the_language_of_the_script_is_the_captions_own() -> None:
    (step,) = parsed('step\n  caption en "Fold."').steps
    assert [(c.language, c.text) for c in step.captions] == [("", "Fold.")]


def test_titles_and_notes_in_other_languages() -> None:
    head = parsed(
        'model "Cup"\nmodel es "Vaso"\nmodel de "Becher"\nnote "Thin."\nnote es "Fino."\n'
        "step\nturn over"
    ).head
    assert head.title == "Cup"
    assert [(t.language, t.text) for t in head.titles] == [("es", "Vaso"), ("de", "Becher")]
    assert head.notes == ("Thin.",)
    assert [(n.language, n.text) for n in head.translated_notes] == [("es", "Fino.")]


def test_line_ends_and_tabs() -> None:
    program = parsed('model "A"\r\n\r\nstep\r\n\tvalley\tA\tto C\r\n')
    assert program.head.title == "A"
    assert [p.word for p in program.steps[0].body[0].phrases] == ["", "to"]


def test_a_hash_in_a_text_is_no_comment() -> None:
    assert parsed('model "No. #1"  # but this is\nstep\nturn over').head.title == "No. #1"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('model "a"\nmodel "b"\nstep\nturn over', [(2, 1, "said-twice", 'model "b"')]),
        ("level hard\nstep\nturn over", [(1, 7, "unknown-level", "hard")]),
        ("language e_s\nstep\nturn over", [(1, 10, "bad-language", "e_s")]),
        ("model Tea\nstep\nturn over", [(1, 7, "unfinished-line", "Tea")]),
        (
            'model "a"\nmodel es "b"\nmodel es "c"\nstep\nturn over',
            [(3, 1, "said-twice", 'model es "c"')],
        ),
        ('note e_s "a"\nstep\nturn over', [(1, 6, "bad-language", "e_s")]),
        ('model ""\nstep\nturn over', [(1, 1, "empty-text", 'model ""')]),
        ('step "a"\nlevel simple', [(2, 1, "head-after-step", "level")]),
        ('step "a"\n caption es "b"\n caption es "c"', [(3, 13, "said-twice", '"c"')]),
        ('caption es "b"\nstep "a"', [(1, 1, "caption-outside-step", "caption")]),
        ("group g P\nturn over\nstep\nturn over", [(3, 1, "group-not-closed", "step")]),
        ("group g top\nend\nstep\nturn over", [(1, 9, "reserved-name", "top")]),
        ("step\nturn over\nend", [(3, 1, "end-without-group", "end")]),
        (
            "step\nturn over\ngroup g\nend",
            [(3, 1, "group-after-step", "group"), (4, 1, "end-without-group", "end")],
        ),
        ("", [(1, 1, "no-steps", "")]),
        ("# nothing\n", [(1, 1, "no-steps", "")]),
        ("step\nstep\nturn over", [(1, 1, "empty-step", "step")]),
    ],
)
def test_what_a_head_cannot_say(text: str, expected: list[tuple[int, int, str, str]]) -> None:
    assert places(text) == expected
