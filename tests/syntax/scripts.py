"""Short ways to parse in tests. The verbs are a list of our own, so that no move's file matters here."""

from __future__ import annotations

from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Source
from foldscript.syntax.nodes import Operand, Program, Statement
from foldscript.syntax.parser import parse

VERBS: dict[str, str] = dict.fromkeys(
    (
        *("valley", "mountain", "crease", "pinch", "unfold", "pleat", "turn over", "rotate"),
        *("mark", "repeat", "collapse", "petal", "inside reverse", "open", "open out"),
    ),
    "",
)


def parsed(text: str) -> Program:
    """The program of a script that must be right."""
    return parse(Source("test.foldscript", text), VERBS)


def move(line: str) -> Statement:
    """The statement of one line of a step."""
    (statement,) = parsed(f"step\n{line}\n").steps[0].body
    return statement


def phrases(line: str) -> list[tuple[str, tuple[Operand, ...]]]:
    """Words and operands of one line of a step."""
    return [(p.word, p.operands) for p in move(line).phrases]


def words(line: str) -> list[tuple[str, list[str]]]:
    """Words of one line of a step, and its operands as they are written."""
    text = f"step\n{line}\n"
    (statement,) = parsed(text).steps[0].body
    return [
        (p.word, [text[o.span.start : o.span.end] for o in p.operands]) for p in statement.phrases
    ]


def faults(text: str) -> list[Diagnostic]:
    """Every diagnostic of a script; none when it is right."""
    try:
        parsed(text)
    except FoldscriptError as error:
        return list(error.diagnostics)
    return []


def places(text: str) -> list[tuple[int, int, str, str]]:
    """(line, column, code, the words under the caret) of every diagnostic."""
    source = Source("test.foldscript", text)
    return [
        (*source.position(d.span.start), d.code, text[d.span.start : d.span.end])
        for d in faults(text)
        if d.span is not None
    ]
