"""Values taken out of a TOML file: kinds, bounds, and messages that point at the line."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Source
from foldscript.source.toml_table import Table


def table(text: str) -> Table:
    return Table(Source("a.toml", text))


def fault(text: str, take: Callable[[Table], object]) -> tuple[int, int, str]:
    """Line, column and message of the one fault that taking something out gives."""
    made = table(text)
    take(made)
    (diagnostic,) = made.faults
    with pytest.raises(FoldscriptError):
        made.settle()
    return where(diagnostic)


def where(diagnostic: Diagnostic) -> tuple[int, int, str]:
    assert diagnostic.source is not None
    assert diagnostic.span is not None
    return (*diagnostic.source.position(diagnostic.span.start), diagnostic.message)


def test_values_come_out_and_defaults_stand_in() -> None:
    made = table('a = " x "\nb = true\nc = 2\nd = "on"\ne = [1, 2]\n[f]\ng = 1')
    assert made.text("a") == "x"
    assert made.text("none", default="y") == "y"
    assert made.flag("b") is True
    assert made.number("c", default=0.0) == pytest.approx(2.0)
    assert made.number("none", default=7.0) == pytest.approx(7.0)
    assert made.choice("d", among=("on", "off"), default="off") == "on"
    assert list(made.items("e")) == [0, 1]
    assert made.table("f") == ("g",)
    made.settle()


@pytest.mark.parametrize(
    ("take", "text", "place"),
    [
        (lambda t: t.text("a"), "\na = 3", (2, 5)),
        (lambda t: t.flag("a"), 'a = "yes"', (1, 5)),
        (lambda t: t.flag("a"), "a = 1", (1, 5)),
        (lambda t: t.number("a", default=0.0), "a = true", (1, 5)),
        (lambda t: t.number("a", default=0.0, most=9.0), "  a = 10", (1, 7)),
        (lambda t: t.choice("a", among=("on",), default="on"), 'a = "om"', (1, 5)),
        (lambda t: t.items("a"), 'a = "x"', (1, 5)),
        (lambda t: t.table("a"), "a = 1979-05-27", (1, 5)),
        (lambda t: t.text("a", 1), 'a = ["x",\n     2]', (2, 6)),
        (lambda t: t.only("b", known=("size",)), "[b]\nsise = 1", (2, 1)),
    ],
)
def test_a_wrong_value_is_pointed_at(
    take: Callable[[Table], object], text: str, place: tuple[int, int]
) -> None:
    line, column, message = fault(text, take)
    assert (line, column) == place
    assert message


def test_a_misspelt_key_gets_a_suggestion() -> None:
    made = table("sise = 1")
    made.only(known=("size", "colour"))
    assert made.faults[0].hints[0].text == "did you mean 'size'?"


def test_all_faults_come_at_once_in_the_order_of_the_file() -> None:
    made = table("a = 1\nb = 2")
    made.text("b")
    made.text("a")
    with pytest.raises(FoldscriptError) as caught:
        made.settle()
    assert [where(d)[0] for d in caught.value.diagnostics] == [1, 2]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ('title = "x"\nmodels = [1, 2\nx = 1', (3, 1)),
        ("title = x", (1, 9)),
        ("title = 1\ntitle = 2", (2, 10)),
        ('title = "x', (1, 11)),
        ("= 1", (1, 1)),
    ],
)
def test_what_is_no_toml_is_told_at_its_place(text: str, place: tuple[int, int]) -> None:
    with pytest.raises(FoldscriptError) as caught:
        table(text)
    (diagnostic,) = caught.value.diagnostics
    assert diagnostic.code == "not-toml"
    assert where(diagnostic)[:2] == place


def test_lists_as_deep_as_a_well_are_refused() -> None:
    with pytest.raises(FoldscriptError) as caught:
        table("a = " + "[" * 5000 + "]" * 5000)
    assert caught.value.diagnostics[0].code == "too-deep"
