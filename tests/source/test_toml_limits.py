"""What is refused before it is parsed, and what is not."""

from __future__ import annotations

import pytest

from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.source.toml_limits import (
    DEEPEST,
    LONGEST_TEXT,
    LONGEST_WORD,
    MOST_VALUES,
    refuse_beyond_limits,
)
from foldscript.source.toml_table import MOST_FAULTS, Table

STEPS = "".join(f'{k} = "Fold #{k} [so] {{and}} so."  # "}}]\n' for k in range(1, 2000))


@pytest.mark.parametrize(
    ("text", "code", "place"),
    [
        ("a = 1\n" + ".".join("b" * 5000) + " = 1", "too-deep", (2, 1)),
        ("[" + ".".join("b" * (DEEPEST + 1)) + "]", "too-deep", (1, 2)),
        ("a = {" + ".".join(['"b"'] * (DEEPEST + 1)) + " = 1}", "too-deep", (1, 6)),
        ("a = " + "[" * 5000 + "]" * 5000, "too-deep", (1, 5 + DEEPEST)),
        ("a = " + "9" * 5000, "too-long", (1, 5)),
        ("a" * (LONGEST_WORD + 1) + " = 1", "too-long", (1, 1)),
        ('a = """' + '\\"' * LONGEST_TEXT + '"""', "too-long", (1, 5)),
        ("a = '''" + '"' * LONGEST_TEXT + "'''", "too-long", (1, 5)),
        ('a = "' + "b" * LONGEST_TEXT + '"', "too-long", (1, 5)),
        ("a = [" + "1," * (MOST_VALUES + 1) + "]", "too-many-values", (1, 2 * MOST_VALUES + 2)),
    ],
)
def test_what_no_file_needs_is_refused_at_its_place(
    text: str, code: str, place: tuple[int, int]
) -> None:
    source = Source("a.toml", text)
    with pytest.raises(FoldscriptError) as caught:
        Table(source)
    (told,) = caught.value.diagnostics
    assert told.span is not None
    assert (told.code, source.position(told.span.start)) == (code, place)
    assert len(told.message) < 100


@pytest.mark.parametrize(
    "text",
    [
        STEPS,
        "a = [" + "[1, [2, {b = [3]}]], " * 200 + "]\n" + "[[c.d]]\ne.f = 1.5\n" * 200,
        "a = 1979-05-27T07:32:00.999999-07:00\nb = [1, # ]]]\n 2]\n",
        "".join(f"k{k} = {{ stroke = 'sign', dash = [1.5, 2] }}\n" for k in range(500)),
        "a = '''" + "[" * 500 + "." * 500 + '\'\'\'\nb = """\n[[[[ "quoted" """',
    ],
)
def test_files_of_use_pass(text: str) -> None:
    refuse_beyond_limits(Source("a.toml", text))


@pytest.mark.parametrize(
    "text", ['a = "' + '\\"' * 50_000, "a = '''" + "''\\" * 50_000, 'a = "x\n' * 9]
)
def test_texts_that_never_end_are_left_to_the_parser(text: str) -> None:
    with pytest.raises(FoldscriptError) as caught:
        Table(Source("a.toml", text))
    assert caught.value.diagnostics[0].code == "not-toml"


def test_faults_are_noted_up_to_a_number_and_told_briefly() -> None:
    table = Table(Source("a.toml", "".join(f"x{k}{'y' * 150} = 1\n" for k in range(3000))))
    table.only(known=("title",))
    assert len(table.faults) == MOST_FAULTS
    assert all(len(fault.message) < 100 for fault in table.faults)
