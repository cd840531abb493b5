"""Scripts laid out: what it looks like, that it stays, and that no script means anything else after it."""

from __future__ import annotations

import dataclasses
import random
import re
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source, Span
from foldscript.source.reading import read_script
from foldscript.syntax.formatting import formatted
from foldscript.syntax.parser import parse

SAMPLES = sorted((Path(__file__).parents[2] / "samples").rglob("*.foldscript"))


def laid_out(text: str) -> str:
    return formatted(Source("test.foldscript", text))


def meaning(thing: object) -> object:
    """A program without its places in the text."""
    if isinstance(thing, Span | Source):
        return None
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        return (
            type(thing).__name__,
            *(meaning(getattr(thing, field.name)) for field in dataclasses.fields(thing)),
        )
    if isinstance(thing, tuple | list):
        return tuple(map(meaning, thing))
    if isinstance(thing, dict):
        return tuple((key, meaning(value)) for key, value in thing.items())
    return thing


@cache
def sample(number: int) -> tuple[str, object]:
    source = read_script(SAMPLES[number])
    return source.text, meaning(parse(source, verbs()))


def untidy(text: str, chance: random.Random) -> str:
    """The same script with spaces, tabs, blank lines and comments where none mean anything."""
    lines: list[str] = []
    for line in text.split("\n"):
        parts = re.split(r'("[^"]*"|#.*)', line.strip())
        loose = [
            part if k % 2 else re.sub(r" ", lambda _: chance.choice((" ", "  ", "\t")), part)
            for k, part in enumerate(parts)
        ]
        lines.append(chance.choice(("", " ", "\t", "      ")) + "".join(loose))
        if "#" not in line and chance.random() < 0.1:
            lines[-1] += chance.choice((" # said", "# said", "   "))
        if chance.random() < 0.1:
            lines.append(chance.choice(("", "", "# a remark", "   # a remark")))
    return "\n".join(lines) + chance.choice(("", "\n", "\n\n\n"))


def comments(text: str) -> list[str]:
    return re.findall(r"#.*", re.sub(r'"[^"\n]*"', "", text))


@given(st.integers(0, len(SAMPLES) - 1), st.integers(0, 2**32))
def test_whatever_the_layout_was(number: int, seed: int) -> None:
    text, meant = sample(number)
    mess = untidy(text, random.Random(seed))
    tidy = laid_out(mess)
    assert laid_out(tidy) == tidy
    assert meaning(parse(Source("test.foldscript", tidy), verbs())) == meant
    assert [c.strip() for c in comments(mess)] == [c.strip() for c in comments(tidy)]


@given(st.text(alphabet='stepvalyAB ,"#\n\t1/2cm', max_size=80))
def test_any_text_keeps_its_words_and_settles(text: str) -> None:
    once = laid_out(text)
    assert laid_out(once) == once
    assert re.sub(r"\s", "", once) == re.sub(r"\s", "", text)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_samples_are_laid_out(path: Path) -> None:
    text = path.read_text("utf-8")
    assert laid_out(text) == text


def test_indents_blank_lines_and_comments() -> None:
    assert (
        laid_out(
            '\n\n#   first\nmodel   "A  b"\nsheet square 10 cm ,coloured side down\nstep\n\n'
            'valley A to C  ,holding B # so\n\n\n\tturn  over\n# on\nstep "x"\n collapse valley A C,\n'
            "mountain B D,\n  # inside\nvalley E F\n\n\n"
        )
        == '#   first\nmodel "A  b"\nsheet square 10 cm, coloured side down\n\nstep\n'
        '  valley A to C, holding B  # so\n\n  turn over\n\n# on\nstep "x"\n  collapse valley A C,\n'
        "    mountain B D,\n  # inside\n    valley E F\n"
    )
