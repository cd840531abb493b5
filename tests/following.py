"""Hints followed in tests: what a message says to write is written, and the script is folded again."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from foldscript.folding.fold import fold
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import (
    Diagnostic,
    Edit,
    FoldscriptError,
    Hint,
    Severity,
    Source,
    Span,
)
from foldscript.syntax.parser import parse


def outcome(text: str) -> list[str]:
    """The messages of a script; none when it folds."""
    try:
        fold(parse(Source("test.foldscript", text), verbs()))
    except FoldscriptError as error:
        return [d.message for d in error.diagnostics if d.severity is Severity.ERROR]
    return []


def statement_at(text: str, offset: int) -> Span:
    """From the first word to the last of the statement at a place: lines that end in commas go on."""
    start = text.rfind("\n", 0, offset) + 1
    while start > 0 and text[:start].rstrip(" \n").endswith(","):
        start = text.rfind("\n", 0, start - 1) + 1
    end = offset
    while True:
        end = text.find("\n", end)
        end = len(text) if end < 0 else end
        if end == len(text) or not text[start:end].rstrip().endswith(","):
            break
        end += 1
    start += len(text[start:end]) - len(text[start:end].lstrip())
    return Span(start, end)


def changes(text: str, diagnostic: Diagnostic) -> Iterator[tuple[Hint, Edit]]:
    """What each hint says to write: its own change, or the words that it puts between quotes."""
    assert diagnostic.span is not None
    here = statement_at(text, diagnostic.span.start)
    for hint in diagnostic.hints:
        if hint.edit is not None:
            yield hint, hint.edit
            continue
        like = re.search(r"(?:write it like|for instance|, as in): ?(.+)", hint.text)
        for words in [like[1]] if like else re.findall(r"'([^']+)'", hint.text):
            if "..." in words:
                continue
            if re.search(r"(?:^|or )add '" + re.escape(words), hint.text):
                yield hint, Edit(Span(here.end, here.end), f", {words}")
            elif any(words.startswith(f"{verb} ") for verb in verbs()):
                yield hint, Edit(here, words)


def circles(text: str, diagnostic: Diagnostic) -> list[str]:
    """Hints that only lead back to the message that gave them."""
    return [
        hint.text
        for hint, edit in changes(text, diagnostic)
        if diagnostic.message in outcome(edit.applied(text))
    ]


def first_change(text: str, told: Callable[[str], list[Diagnostic]]) -> Edit:
    """The first change that a hint to the one fault of a script makes: with it the script folds, and no hint
    of the fault leads back to it. `told` gives what is wrong in a script."""
    (found,) = told(text)
    assert circles(text, found) == []
    edit = next(hint.edit for hint in found.hints if hint.edit is not None)
    assert told(edit.applied(text)) == []
    return edit
