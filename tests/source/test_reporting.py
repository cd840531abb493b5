"""Diagnostics as text: carets under the words, whatever the line holds."""

from __future__ import annotations

from foldscript.source.diagnostics import Diagnostic, Hint, Severity, Source, Span
from foldscript.source.reporting import WIDTH, render


def fault(text: str, under: str, *hints: str, length: int | None = None) -> Diagnostic:
    start = text.index(under)
    span = Span(start, start + (len(under) if length is None else length))
    hinted = tuple(Hint(h) for h in hints)
    return Diagnostic("code", "it is wrong", span, hinted, source=Source("a.foldscript", text))


def test_the_whole() -> None:
    shown = render(fault("step\n  vally A to C\n", "vally", "valley", "mountain"))
    assert shown == (
        "a.foldscript:2:3: error: it is wrong\n"
        "    vally A to C\n"
        "    ^^^^^\n"
        "  try: valley\n"
        "  try: mountain"
    )


def test_several() -> None:
    one = fault("vally", "vally")
    assert render([one, one]) == f"{render(one)}\n{render(one)}"
    assert render([]) == ""


def test_without_a_place() -> None:
    assert render(Diagnostic("code", "no room")) == "error: no room"
    warned = Diagnostic("code", "hm", severity=Severity.WARNING, source=Source("a", ""))
    assert render(warned) == "a: warning: hm"


def test_an_empty_line_shows_no_caret() -> None:
    assert render(Diagnostic("c", "empty", Span(0, 0), source=Source("a", ""))) == (
        "a:1:1: error: empty"
    )


def test_tabs_line_up() -> None:
    _, line, caret = render(fault("\tvalley\tA ontoo C", "ontoo")).split("\n")
    assert "\t" not in line
    assert line.index("ontoo") == caret.index("^")
    assert caret.count("^") == 5


def test_wide_letters_take_two_columns() -> None:
    _, line, caret = render(fault('model "折り紙" ontoo', "ontoo")).split("\n")
    assert line.index("ontoo") + 3 == caret.index("^")
    _, _, caret = render(fault('model "折り紙"', "折り")).split("\n")
    assert caret.count("^") == 4


def test_accents_typed_apart_take_no_column() -> None:
    _, line, caret = render(fault("cafe\u0301 ontoo", "ontoo")).split("\n")
    assert line.index("ontoo") - 1 == caret.index("^")


def test_long_lines_are_cut_round_the_caret() -> None:
    text = "A " * 300 + "ontoo" + " B" * 300
    _, line, caret = render(fault(text, "ontoo")).split("\n")
    assert len(line) <= WIDTH + 4
    assert line.strip().startswith("…")
    assert line.endswith("…")
    assert line[caret.index("^") : caret.rindex("^") + 1] == "ontoo"
    _, line, caret = render(fault("x" * 500, "x" * 500)).split("\n")
    assert len(caret) <= len(line) <= WIDTH + 4


def test_a_span_over_several_lines_marks_the_first() -> None:
    _, line, caret = render(fault("valley A,\n  to C", "A", length=9)).split("\n")
    assert (line, caret) == ("  valley A,", "         ^^")


def test_nothing_reaches_the_terminal_but_text() -> None:
    text = "\x1b[31m ontoo\x9b"
    shown = render(fault(text, "ontoo", "a\x1bb"))
    assert "\x1b" not in shown
    assert "\x9b" not in shown
    evil = Diagnostic("c", "m\x1b\nn", Span(0, 1), source=Source("a\x1b\nb", text))
    assert render(evil).startswith("a  b:1:1: error: m  n\n")


def test_hints_may_point_elsewhere() -> None:
    source = Source("a", "one\ntwo\n")
    hinted = Diagnostic("c", "m", Span(4, 7), (Hint("look", Span(0, 3)),), source=source)
    assert render(hinted).endswith("try: look (see line 1)")


def test_colours_only_when_asked() -> None:
    one = fault("vally", "vally")
    assert "\x1b" not in render(one)
    assert "\x1b[1;31merror" in render(one, tty=True)
