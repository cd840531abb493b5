"""The colours of scripts as a Pygments lexer: for pages of documentation and printed listings.

In: the rules of `building/colours.py`. Out: a lexer that Pygments finds under the name 'foldscript'. Pygments
is needed only by whoever asks for the lexer.
"""

from __future__ import annotations

from typing import Any

from pygments.lexer import RegexLexer, bygroups
from pygments.token import Text, string_to_tokentype

from ..building.colours import KINDS, Rule, colours


def _tokens() -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for state, rules in colours().states.items():
        name = "root" if state == "line" else state
        end = (r"\n", Text) if name == "root" else (r"\n", Text, "#pop")
        found[name] = [end, *map(_rule, rules)]
    return found


def _rule(rule: Rule) -> tuple[Any, ...]:
    token = string_to_tokentype(KINDS[rule.kind][1])
    if rule.leads:
        return rule.pattern, bygroups(Text, token), rule.leads
    return rule.pattern, token


class FoldscriptLexer(RegexLexer):
    """Scripts of foldscript."""

    name = "foldscript"
    aliases = ["foldscript"]  # noqa: RUF012 (as Pygments has it)
    filenames = ["*.foldscript"]  # noqa: RUF012
    mimetypes = ["text/x-foldscript"]  # noqa: RUF012
    url = ""
    tokens = _tokens()
