"""Whatever the text, parsing gives a program or diagnostics that point into it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.source.reporting import render
from foldscript.syntax.grammar import load_grammar
from foldscript.syntax.parser import parse
from tests.syntax.scripts import VERBS

_grammar = load_grammar()
_WORDS = sorted(
    {
        *VERBS,
        *(word for start in _grammar.starts for word in _grammar.words_of(start)),
        *("A", "B", "k1", "the", "A4", "letter", "half", "turn", "side", "do", "ear", "hexagon"),
        *("1", "15", "-2", "3.5", "1/3", "0", "7-gon", "2,5", "99999999999999", "1/0", "4/3"),
        *('"text"', '"', '"\\""', "“x”", ",", ",\n", "\n", "\n", "\n", "#", "\t", "\r\n", "°", "½"),
        *("step\n", "step\nvalley", "sheet", "sheet square", "sheet polygon", "model"),
    }
)


def survives(text: str) -> None:
    source = Source("fuzz.foldscript", text)
    try:
        program, faults = parse(source, VERBS), ()
    except FoldscriptError as error:
        program, faults = None, error.diagnostics
    if program is None:
        assert faults
        assert render(faults)
    else:
        assert program.steps
        for step in program.steps:
            assert step.span.start < step.span.end <= len(text)
    for fault in faults:
        assert fault.source is source
        assert fault.message
        if fault.span is not None:
            assert 0 <= fault.span.start <= fault.span.end <= len(text)


@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    survives(text)


@given(st.lists(st.sampled_from(_WORDS), max_size=40), st.booleans())
def test_any_row_of_words(words: list[str], headed: bool) -> None:
    survives(("step\n" if headed else "") + " ".join(words))


@given(
    st.sampled_from(sorted(VERBS)),
    st.lists(st.sampled_from(_WORDS), max_size=12).map(lambda ws: [w for w in ws if "\n" not in w]),
)
def test_any_move(verb: str, words: list[str]) -> None:
    survives(f"step\n{verb} {' '.join(words)}\n")


@given(st.lists(st.sampled_from(_WORDS), max_size=12))
def test_any_sheet(words: list[str]) -> None:
    survives(f"sheet {' '.join(words)}\nstep\nturn over\n")
