"""Spans of keys and values: the text at a span is the value that the parser found."""

from __future__ import annotations

import json
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.source.diagnostics import Span
from foldscript.source.toml_spans import KeyPath, pair_spans

EXAMPLE = """\
# a comment with = and [brackets]
title = "Paper # on the \\"Quay\\""   # after
plain = 'C:\\hat'
long = \"\"\"
several "quoted" lines
[not a header]
\"\"\"
raw = '''
it's so
'''
models = [
  "cup.foldscript",  # first, with a comma
  'dog.foldscript',
]
when = 1979-05-27 07:32:00
a.b."c d" = 3
inline = { x = 1, y = [ { z = true } ] }

[cover]
figures = ["cup"]

[[part]]
name = "one"

[[part]]
name = "two"
[part.more]
deep = -0.5
"""


def at(text: str, span: Span) -> str:
    return text[span.start : span.end]


def leaves(value: Any, path: KeyPath = ()) -> list[tuple[KeyPath, Any]]:
    if isinstance(value, dict):
        return [leaf for key, inner in value.items() for leaf in leaves(inner, (*path, key))]
    if isinstance(value, list):
        return [leaf for i, inner in enumerate(value) for leaf in leaves(inner, (*path, i))]
    return [(path, value)]


def check(text: str) -> None:
    """Every value stands where it is said to stand."""
    found = pair_spans(text)
    for path, value in leaves(tomllib.loads(text)):
        written = at(text, found[path].value)
        assert tomllib.loads(f"x = {written}")["x"] == value, path


def test_every_value_of_the_example() -> None:
    check(EXAMPLE)


@pytest.mark.parametrize(
    ("path", "key", "value"),
    [
        (("title",), "title", '"Paper # on the \\"Quay\\""'),
        (("models", 1), "'dog.foldscript'", "'dog.foldscript'"),
        (("a", "b", "c d"), 'a.b."c d"', "3"),
        (("inline", "y", 0, "z"), "z", "true"),
        (("cover",), "cover", "[cover]"),
        (("cover", "figures", 0), '"cup"', '"cup"'),
        (("part", 1), "part", "[[part]]"),
        (("part", 1, "more", "deep"), "deep", "-0.5"),
        (("when",), "when", "1979-05-27 07:32:00"),
    ],
)
def test_keys_and_values_stand_apart(path: KeyPath, key: str, value: str) -> None:
    place = pair_spans(EXAMPLE)[path]
    assert (at(EXAMPLE, place.key), at(EXAMPLE, place.value)) == (key, value)


def test_the_second_table_of_a_list_is_another_place() -> None:
    found = pair_spans(EXAMPLE)
    assert found[("part", 0)].value.start < found[("part", 1)].value.start


TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), max_size=12)
VALUES = st.recursive(
    st.booleans() | st.integers(-99, 99) | TEXTS,
    lambda inner: st.lists(inner, max_size=3),
    max_leaves=6,
)


@given(st.dictionaries(TEXTS, VALUES, max_size=5), st.sampled_from(["", " ", "\n# so = [\n"]))
def test_any_table(table: dict[str, Any], between: str) -> None:
    """JSON texts, numbers and lists are TOML too (TOML 1.0; the letters need no escapes there)."""

    def written(value: Any) -> str:
        if isinstance(value, list):
            return "[" + between + ",".join(written(v) + between for v in value) + "]"
        return json.dumps(value, ensure_ascii=False)

    lines = (f"{json.dumps(k, ensure_ascii=False)} = {written(v)}" for k, v in table.items())
    check("\n".join(lines))
