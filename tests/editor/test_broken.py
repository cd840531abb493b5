"""Whatever stands in the editor, each question has an answer: texts torn and sown with strange words."""

from __future__ import annotations

import contextlib
import random
from pathlib import Path

import pytest
from lsprotocol import types

from foldscript.editor.bench import Bench
from foldscript.editor.completing import completions
from foldscript.editor.hovering import hover
from foldscript.editor.kinds import encoded, kinds
from foldscript.editor.outline import foldings, numbers, symbols
from foldscript.editor.places import definition, references
from foldscript.editor.positions import Positions
from foldscript.editor.renaming import renaming
from foldscript.editor.signatures import signatures
from foldscript.editor.telling import fixes, told
from foldscript.editor.written import Written
from foldscript.source.diagnostics import FoldscriptError, Span

from .speaking import SAMPLES

STRANGE = (
    *(
        '"',
        "“",
        "(",
        ",",
        "#",
        "\n",
        "\t",
        "\r\n",
        "\ufeff",
        "🦢",
        "é",
        "step",
        "group",
        "end",
        "part",
    ),
    *(
        "assemble",
        "do",
        "do x y",
        "mark",
        "as",
        "repeat step 99",
        "sheet",
        "corners named",
        "unit 2",
    ),
    *("1/0", "9" * 40, "A of unit 0", "valley", "inside", "start from", "the", "-4", "''''", "\0"),
)
NAMES = ("box-and-lid", "six-unit-cube", "cup")


def torn(text: str, rng: random.Random) -> str:
    """The text with a piece of it gone, or something strange in it."""
    at = rng.randrange(len(text))
    kind = rng.randrange(3)
    if kind == 0:
        return text[:at]
    if kind == 1:
        return text[:at] + text[at + rng.randrange(40) :]
    return text[:at] + rng.choice(STRANGE) + text[at:]


def ask_everything(bench: Bench, offset: int, encoding: types.PositionEncodingKind) -> None:
    """Every question of an editor; none raises but a rename, which says why it cannot be."""
    written = bench.written
    places = Positions(written.source, encoding)
    assert places.offset(places.position(offset)) == offset
    hover(bench, offset, "svg")
    completions(bench, offset)
    signatures(written, offset)
    definition(written, offset)
    references(written, offset, definitions=True)
    with contextlib.suppress(FoldscriptError):
        renaming(written, offset, "Q7", frozenset())
    symbols(written, places)
    foldings(written)
    numbers(written, places, Span(0, offset))
    assert len(encoded(kinds(written), places).data) % 5 == 0
    for one in told(written.mistakes, places, "file:///x", Span(0, 0)):
        assert (one.range.start.line, one.range.start.character) <= (
            one.range.end.line,
            one.range.end.character,
        )
    list(fixes(written.mistakes, places, "file:///x", Span(0, len(written.source.text))))


@pytest.mark.parametrize("name", NAMES)
def test_nothing_brings_it_down(name: str) -> None:
    rng = random.Random(name)
    path = SAMPLES / f"{name}.foldscript"
    whole = path.read_text(encoding="utf-8")
    bench = Bench(Written(path, whole), lambda written, faults: None)
    for version in range(1, 30):
        text = whole
        for _ in range(rng.randrange(1, 5)):
            text = torn(text, rng) or "step"
        bench.take(text, version)
        offset = rng.randrange(len(bench.written.source.text) + 1)
        ask_everything(bench, offset, rng.choice(list(types.PositionEncodingKind)))


@pytest.mark.parametrize("text", ["", "\n", "#", '"', "step", "\r\n\r\n", "\0", "x" * 5000])
def test_hardly_any_text(text: str) -> None:
    bench = Bench(Written(Path("x.foldscript"), text), lambda written, faults: None)
    bench.work()
    for offset in (0, len(bench.written.source.text)):
        ask_everything(bench, offset, types.PositionEncodingKind.Utf16)


def test_a_text_that_is_too_long_for_a_script_is_not_read() -> None:
    bench = Bench(Written(Path("long.foldscript"), "step\n  turn over\n" * 70_000), lambda *_: None)
    bench.work()
    assert [fault.code for fault in bench.faults[1]] == ["file-too-long"]
    assert bench.written.tokens == ()
    assert symbols(bench.written, Positions(bench.written.source)) == []
    assert completions(bench, 5) is not None
