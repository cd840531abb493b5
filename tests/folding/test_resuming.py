"""Folding on from the last unchanged step gives the very model that folding anew gives."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from foldscript.folding import fold as folding
from foldscript.folding.fold import fold
from foldscript.folding.resuming import FoldingCache
from foldscript.folding.steps import Step
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax.nodes import Program
from foldscript.syntax.parser import parse

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
HEAD = "sheet square 15 cm, coloured side down\n"
STEPS = (
    'step "One."\n  crease left edge onto right edge as middle\n',
    'step "Two."\n  valley bottom edge onto top edge\n',
    'step "Three."\n  turn over\n',
    'step "Four."\n  valley left edge onto right edge\n',
)


def program(text: str, name: str = "card.foldscript") -> Program:
    return parse(Source(name, text), verbs())


def counted(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Numbers of the steps that are really folded, in the order of folding."""
    seen: list[int] = []
    step = folding._step

    def noted(*given: Any) -> Step:
        seen.append(given[1])
        return step(*given)

    monkeypatch.setattr(folding, "_step", noted)
    return seen


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        (HEAD + "".join(STEPS), []),
        ("# a remark\n" + HEAD + "".join(STEPS).replace("One", "The first"), []),
        (HEAD + "".join(STEPS).replace("turn over", "rotate 90 degrees clockwise"), [3, 4]),
        (HEAD + "".join((*STEPS[:2], *STEPS[1:])), [3, 4, 5]),
        (HEAD + "".join(STEPS[:3]), []),
        (HEAD + "".join(STEPS[1:]), [1, 2, 3]),
        (HEAD.replace("15", "16") + "".join(STEPS), [1, 2, 3, 4]),
        ("group g\n  turn over\nend\n" + HEAD + "".join(STEPS), [1, 2, 3, 4]),
        ('model "Card"\n' + HEAD + "".join(STEPS), []),
    ],
    ids=["same", "words", "third", "inserted", "shorter", "first", "sheet", "group", "title"],
)
def test_only_what_a_change_affects_is_folded(
    monkeypatch: pytest.MonkeyPatch, text: str, folded: list[int]
) -> None:
    memory = FoldingCache()
    fold(program(HEAD + "".join(STEPS)), None, memory)
    afresh = fold(program(text))
    seen = counted(monkeypatch)
    again = fold(program(text), None, memory)
    assert seen == folded
    assert again == afresh


def test_what_is_kept_is_kept_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """Later versions do not change the paper that earlier steps have left."""
    memory = FoldingCache()
    texts = [HEAD + "".join(STEPS), HEAD + "".join(STEPS[:2] + STEPS[3:]), HEAD + "".join(STEPS)]
    for text in texts * 2:
        assert fold(program(text), None, memory) == fold(program(text))


def test_after_a_refusal_the_steps_before_it_are_still_known(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    memory = FoldingCache()
    fold(program(HEAD + "".join(STEPS)), None, memory)
    wrong = HEAD + "".join(STEPS).replace("  turn over", "  valley A to Z")
    with pytest.raises(FoldscriptError):
        fold(program(wrong), None, memory)
    seen = counted(monkeypatch)
    fold(program(HEAD + "".join(STEPS)), None, memory)
    assert seen == [3, 4]


def test_a_message_points_into_the_text_of_now() -> None:
    """Steps that stood elsewhere when they were folded are folded anew for a message."""
    body = "".join(STEPS) + "step\n  repeat step 3, 2 times\n"
    memory = FoldingCache()
    fold(program(HEAD + "".join(STEPS)), None, memory)
    text = "# a line more\n" + HEAD + body
    with pytest.raises(FoldscriptError) as afresh:
        fold(program(text))
    with pytest.raises(FoldscriptError) as resumed:
        fold(program(text), None, memory)
    assert resumed.value.diagnostics == afresh.value.diagnostics
    assert memory.stale


def test_what_the_script_starts_from_counts(tmp_path: Path) -> None:
    base = tmp_path / "base.foldscript"
    base.write_text(HEAD + STEPS[1], "utf-8")
    path = tmp_path / "card.foldscript"
    text = 'start from "base.foldscript"\nstep\n  turn over\n'
    memory = FoldingCache()
    fold(program(text, str(path)), path, memory)
    base.write_text(HEAD + STEPS[3], "utf-8")
    assert fold(program(text, str(path)), path, memory) == fold(program(text, str(path)), path)


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.foldscript")), ids=lambda p: p.stem)
def test_samples_grow_step_by_step(path: Path) -> None:
    """Written one step after the other, every sample comes out as when it is folded at once."""
    text = path.read_text("utf-8")
    whole = fold(program(text, str(path)), path)
    memory = FoldingCache()
    starts = [m.start() for m in re.finditer(r"^step\b", text, re.MULTILINE)]
    for end in (*starts[2::3], len(text)):
        fold(program(text[:end], str(path)), path, memory)
    assert fold(program(text, str(path)), path, memory) == whole
