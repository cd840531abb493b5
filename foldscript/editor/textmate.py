"""The colours of scripts as a TextMate grammar, for editors that colour by one.

In: the rules of `colours.py`. Out: the grammar as plain data, to be written as JSON
(`python -m foldscript.editor.textmate`). Patterns stay within what Python's `re` and Oniguruma read alike.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from ..building.colours import KINDS, Rule, colours

SCOPE = "source.foldscript"
#: Where the grammar lies in a checkout.
FILE = Path(__file__).parents[2] / "editors/vscode/foldscript.tmLanguage.json"


def grammar() -> dict[str, Any]:
    """The grammar: the rules for the beginning of a line, and those that they lead to."""
    states = colours().states
    return {
        "name": "foldscript",
        "scopeName": SCOPE,
        "fileTypes": ["foldscript"],
        "patterns": [{"include": "#line"}],
        "repository": {
            state: {"patterns": [_pattern(rule) for rule in rules]}
            for state, rules in states.items()
        },
    }


def _pattern(rule: Rule) -> dict[str, Any]:
    name = _name(rule.kind)
    if rule.leads:
        return {
            "begin": rule.pattern,
            "beginCaptures": {"2": name},
            "end": "$",
            "patterns": [{"include": f"#{rule.leads}"}],
        }
    return {"match": rule.pattern, **name}


def _name(kind: str) -> dict[str, str]:
    scope, _ = KINDS[kind]
    return {"name": f"{scope}.foldscript"} if scope else {}


def text() -> str:
    """The grammar as JSON."""
    return json.dumps(grammar(), indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FILE.parent.mkdir(parents=True, exist_ok=True)
    FILE.write_text(text(), encoding="utf-8")
    sys.stdout.write(f"{FILE}\n")
