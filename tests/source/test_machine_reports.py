"""Diagnostics for programs: what stands in the lines, and what cannot break out of them."""

from __future__ import annotations

import json

from foldscript.source.diagnostics import Diagnostic, Hint, Severity, Source, Span
from foldscript.source.machine_reports import json_lines, workflow_commands

SOURCE = Source("a,b:c%.foldscript", "one\ntwo three\n")


def test_without_a_place() -> None:
    (told,) = map(json.loads, json_lines([Diagnostic("code", "all is wrong")]).splitlines())
    assert told == {
        "code": "code",
        "severity": "error",
        "message": "all is wrong",
        "file": None,
        "range": None,
        "hints": [],
    }
    assert (
        workflow_commands([Diagnostic("code", "all is wrong")])
        == "::error title=code::all is wrong"
    )


def test_a_place_is_told_in_lines_columns_and_offsets() -> None:
    hint = Hint("look there", Span(0, 3))
    fault = Diagnostic("code", "no", Span(8, 13), (hint,), Severity.WARNING, SOURCE)
    told = json.loads(json_lines([fault]))
    assert told["range"] == {
        "start": {"line": 2, "column": 5, "offset": 8},
        "end": {"line": 2, "column": 10, "offset": 13},
    }
    assert told["hints"] == [
        {
            "text": "look there",
            "range": {
                "start": {"line": 1, "column": 1, "offset": 0},
                "end": {"line": 1, "column": 4, "offset": 3},
            },
            "edit": None,
        }
    ]


def test_nothing_breaks_out_of_an_annotation() -> None:
    fault = Diagnostic("code", "100 %\n::error::forged", Span(4, 7), (), Severity.WARNING, SOURCE)
    assert workflow_commands([fault]) == (
        "::warning file=a%2Cb%3Ac%25.foldscript,line=2,endLine=2,col=1,endColumn=4,title=code"
        "::100 %25 ::error::forged"
    )


def test_over_several_lines_no_columns_are_told() -> None:
    told = workflow_commands([Diagnostic("code", "no", Span(0, 7), source=SOURCE)])
    assert "line=1,endLine=2,title" in told
