"""How soon the language service answers about a script of thirty steps, once that is folded. Asserts no time.

What is asked is found afresh each time, without what the protocol's transport takes; `typing` is from a
changed text until what is wrong with it is told.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from lsprotocol import types
from pytest_benchmark.fixture import BenchmarkFixture

from foldscript.editor.bench import Bench
from foldscript.editor.completing import completions
from foldscript.editor.hovering import hover
from foldscript.editor.kinds import encoded, kinds
from foldscript.editor.outline import foldings, symbols
from foldscript.editor.places import definition, references
from foldscript.editor.positions import Positions
from foldscript.editor.renaming import renaming
from foldscript.editor.signatures import signatures
from foldscript.editor.written import Written
from foldscript.syntax.formatting import formatted

from .long import thirty_steps

TEXT = thirty_steps()
PATH = Path("thirty.foldscript")


@pytest.fixture(scope="module")
def bench() -> Bench:
    """All folded and drawn."""
    made = Bench(Written(PATH, TEXT, 1), lambda written, faults: None)
    made.work()
    return made


def within(words: str) -> int:
    """Where words stand, at their last letter."""
    return TEXT.rindex(words) + len(words) - 1


POINT = TEXT[: TEXT.index("mark ") + 6].rpartition(" ")[2]
ANSWERS: dict[str, Callable[[Bench, Positions], object]] = {
    "hover on a step": lambda b, p: hover(b, within("\nstep"), "svg"),
    "hover on a point": lambda b, p: hover(b, within(f"mark {POINT}"), "svg"),
    "completion": lambda b, p: completions(b, within("\n  ") + 1),
    "definition": lambda b, p: definition(b.written, within(f"mark {POINT}")),
    "references": lambda b, p: references(b.written, within(f"mark {POINT}"), definitions=True),
    "rename": lambda b, p: renaming(b.written, within(f"mark {POINT}"), "Z9", frozenset()),
    "outline": lambda b, p: symbols(b.written, p),
    "folding": lambda b, p: foldings(b.written),
    "signature": lambda b, p: signatures(b.written, within("valley") + 2),
    "kinds of words": lambda b, p: encoded(kinds(b.written), p),
    "layout": lambda b, p: formatted(b.written.source),
}


@pytest.mark.parametrize("what", ANSWERS)
def test_answers(what: str, bench: Bench, benchmark: BenchmarkFixture) -> None:
    positions = Positions(bench.written.source, types.PositionEncodingKind.Utf16)
    benchmark(ANSWERS[what], bench, positions)


def test_completion_in_a_new_text(bench: Bench, benchmark: BenchmarkFixture) -> None:
    """The text is read anew: what a keystroke takes whose text has not rested yet."""

    def typed() -> tuple[tuple[Bench], dict[str, object]]:
        bench.take(f"{TEXT}\nstep\n  v", 2)
        return (bench,), {}

    benchmark.pedantic(lambda b: completions(b, len(b.written.source.text)), setup=typed, rounds=20)


@pytest.mark.parametrize("more", ["\nstep\n  turn over\n", "\nstep\n  trun over\n"])
def test_typing(more: str, bench: Bench, benchmark: BenchmarkFixture) -> None:
    """A step more at the end, right or wrong, until it is told what is wrong."""

    class Told(BaseException):
        """Ends the work: what comes after is not waited for."""

    armed = False

    def told(written: Written, faults: object) -> None:
        if armed:
            raise Told

    made = Bench(Written(PATH, TEXT, 1), told)
    made.work()
    armed = True

    def typed() -> tuple[tuple[()], dict[str, object]]:
        made.take(TEXT + more + "  # " * (made.written.version % 2), made.written.version + 1)
        return (), {}

    def work() -> None:
        with pytest.raises(Told):
            made.work()

    benchmark.pedantic(work, setup=typed, rounds=10)
