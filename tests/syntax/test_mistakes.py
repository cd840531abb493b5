"""Mistakes: where they are pointed at, what is said, what is to be tried."""

from __future__ import annotations

import pytest

from foldscript.syntax import script_reader
from tests.syntax.scripts import faults, places


def one(line: str) -> tuple[int, int, str, str]:
    (place,) = places(f"step\n{line}\n")
    return place


@pytest.mark.parametrize(
    ("line", "column", "code", "under", "part", "hint"),
    [
        ("vally A to C", 1, "unknown-word", "vally", "'vally' is no move", "valley"),
        ("Valley A to C", 1, "unknown-word", "Valley", "no move", "valley"),
        ("turn ovr", 1, "unknown-word", "turn ovr", "no move", "turn over"),
        ("wobble A", 1, "unknown-word", "wobble", "no move", "start the line with a move"),
        ("fold A to C", 1, "unknown-word", "fold", "no move", "or mountain, which folds behind"),
        ("book fold A to C", 1, "unknown-word", "book", "no move", "valley"),
        ("flip over", 1, "unknown-word", "flip", "no move", "turn over"),
        ("reverse A", 1, "unknown-word", "reverse", "no move", "inside reverse"),
        ("2 layers", 1, "unknown-word", "2", "no move", "start the line with a move"),
        ("the", 1, "unknown-word", "the", "no move", ""),
        ("valley A ontoo C", 10, "unknown-word", "ontoo", "no word of the language", "onto"),
        ("valley bottm edge onto C", 8, "unknown-word", "bottm", "no word", "bottom"),
        ("valley A to", 10, "unfinished-phrase", "to", "after 'to'", ""),
        ("valley A through over C", 10, "unfinished-phrase", "through", "after 'through'", ""),
        ("valley 1/3 of", 12, "unfinished-line", "of", "a point or a line should follow", ""),
        ("mark P at 2 cm from A", 21, "unfinished-line", "A", "'along' or 'on'", "on edge A B"),
        ("mark P at 2 cm from A toward B", 23, "unexpected-word", "toward", "'on'", "on edge A B"),
        ("mark P at 0 cm from A on edge A B", 11, "no-length", "0 cm", "more than nothing", ""),
        (
            "valley to 1 cm from top edge",
            25,
            "unexpected-word",
            "edge",
            "'corner'",
            "line 2 cm from",
        ),
        (
            "valley along line parallel to L",
            19,
            "unexpected-word",
            "parallel to",
            "a point",
            "line through P parallel to L",
        ),
        ("valley A to corner", 13, "unfinished-line", "corner", "a name should follow", ""),
        ("valley where A", 14, "unfinished-line", "A", "'meets' should follow", ""),
        ("valley A onto line bisecting", 20, "unfinished-line", "bisecting", "a line", ""),
        ("crease A to C as left", 18, "reserved-name", "left", "cannot be a name", ""),
        ("crease A to C as", 15, "unfinished-line", "as", "a name should follow", ""),
        ("mark top where a meets b", 10, "unexpected-word", "where", "'top'", "mark P where"),
        ("valley A of B", 10, "unexpected-word", "of", "does not fit", "midpoint of A B"),
        ("valley A meets B", 10, "unexpected-word", "meets", "does not fit", "valley A to B"),
        ("valley cm", 8, "unexpected-word", "cm", "does not fit", "2 cm"),
        ("valley line through P to Q", 23, "unexpected-word", "to", "a point", "perpendicular"),
        ("rotate 2,5 cm", 8, "decimal-comma", "2,5", "two ways", "2.5"),
        ("valley A to ½ of C D", 13, "strange-character", "½", "no meaning", "1/2"),
        ("valley 10 % of A", 11, "strange-character", "%", "percent sign", ""),
        (", valley A to C", 1, "strange-character", ",", "comma", ""),
        ("valley A \x07 C", 10, "strange-character", "\x07", "U+0007", ""),
        ('valley A "b\x07"', 12, "strange-character", "\x07", "U+0007", ""),
        ('valley A "oops', 10, "unclosed-quote", '"oops', "no closing quote", '"'),
        ("repeat step 3.5", 13, "not-a-count", "3.5", "step number", ""),
        ("repeat step -1", 13, "not-a-count", "-1", "step number", ""),
        ("repeat steps 6 to 5", 8, "bad-step-range", "steps 6 to 5", "row of steps", "5 to 6"),
        ("valley A to C, 0 layers", 16, "not-a-count", "0", "number of layers", ""),
        ("mark M at 4/3 of A B", 11, "bad-fraction", "4/3", "not on the line", "1/3"),
        ("mark M at 1/0 of A B", 11, "bad-fraction", "1/0", "divides by nothing", ""),
        ("valley A by 1234567890123", 13, "number-too-long", "1234567890123", "12 figures", ""),
        ("valley A behind B clockwise C D", 29, "stray-word", "C D", "nothing says", ""),
        (f"valley {'A' * 41} to B", 8, "name-too-long", "A" * 41, "41 letters", ""),
        (f"valley {'A ' * 300}", 1, "line-too-long", "valley", "200 words", ""),
        (f"valley {'midpoint of A ' * 12}B", 132, "too-deep", "A", "inside one another", "mark"),
    ],
)
def test_one_mistake(line: str, column: int, code: str, under: str, part: str, hint: str) -> None:
    text = f"step\n{line}\n"
    (fault,) = faults(text)
    assert part in fault.message
    assert places(text) == [(2, column, code, under)]
    if hint:
        assert any(hint in h.text for h in fault.hints)


def test_several_mistakes_in_one_run() -> None:
    text = (
        "shet square 15 cm\n"
        'model "Tea\n'
        "step Fold it\n"
        "  vally A to C\n"
        "  valley A to C\n"
        "  valley A to\n"
        'step "Good."\n'
        "  mark over at\n"
    )
    assert [(line, code) for line, _, code, _ in places(text)] == [
        (1, "unknown-word"),
        (2, "unclosed-quote"),
        (3, "unexpected-word"),
        (4, "unknown-word"),
        (6, "unfinished-phrase"),
        (8, "unfinished-phrase"),
    ]


def test_a_missing_step_is_said_once() -> None:
    text = "valley A to C\nturn over\nvalley B to D\nstep\nturn over"
    assert places(text) == [(1, 1, "move-before-step", "valley")]
    assert places("stepp\nvalley A to C\nstep\nturn over") == [(1, 1, "unknown-word", "stepp")]


def test_a_comma_that_leads_nowhere() -> None:
    expected = [(2, 14, "loose-comma", ",")]
    assert places("step\nvalley A to C,\nstep\nturn over") == expected
    assert places("step\nvalley A to C,\nturn over") == expected
    assert places("step\nvalley A to C,") == expected


def test_a_mistake_on_the_next_line_of_a_statement() -> None:
    (fault,) = faults("step\nvalley A to C,\nof B")
    assert any("ends in a comma" in hint.text for hint in fault.hints)


def test_numbered_and_unquoted_steps() -> None:
    (fault,) = faults('step 3 "Fold."\nturn over')
    assert fault.hints[0].text == "say 'step \"Fold.\"'"
    (fault,) = faults("step Fold it\nturn over")
    assert fault.hints[0].text == "say 'step \"Fold it\"'"


def test_a_name_used_twice_is_no_misspelling() -> None:
    assert places("step\nmark corners at A\nvalley corners to B") == []
    assert places('start from "x.foldscript"\nstep\nvalley A to corners') == []


def test_endless_mistakes_are_cut_short() -> None:
    found = faults("step\n" + "vally A\n" * 1000)
    assert len(found) == script_reader.MOST_MISTAKES + 1
    assert found[-1].code == "more-mistakes"


def test_endless_scripts_are_cut_short() -> None:
    assert [d.code for d in faults('step "a"\n' * 501)] == ["too-many-steps"]
    assert [d.code for d in faults("step\n" + "turn over\n" * 5001)] == ["too-many-moves"]
    assert [d.code for d in faults("#" * 1_000_001)] == ["file-too-long"]
    assert [d.code for d in faults(", " * 200_000)] == ["file-too-long"]


def test_every_diagnostic_knows_its_source() -> None:
    for fault in faults("vally\nstep\nvally"):
        assert fault.source is not None
        assert fault.span is not None


def test_a_text_that_is_too_long_is_not_said_again_in_a_hint() -> None:
    (fault,) = faults(f'step "{"word " * 500}"\n  turn over\n')
    assert fault.code == "text-too-long"
    assert [hint.text for hint in fault.hints] == ["shorten it"]
