"""What no TOML file of ours needs, refused before it is parsed.

In: a text that may be no TOML at all. Out: nothing, or a diagnostic at the first place that lies too deep,
is too long or is one too many. The parser copies the way to every value, so that keys with many dots take
time and memory by the square of their length; one look over the text, which never goes back, costs little.
"""

from __future__ import annotations

import re

from .diagnostics import Diagnostic, FoldscriptError, Hint, Source, Span

#: Parts of one dotted key, and lists and tables inside one another.
DEEPEST = 20
#: Keys and values in one file. A side file of five hundred steps has a thousand.
MOST_VALUES = 20_000
#: Letters or digits of a key or number that stands without quotes.
LONGEST_WORD = 200
#: Letters of a text in quotes.
LONGEST_TEXT = 20_000

_BLANK = re.compile(r"(?:[ \t\r\n,=\]}]|#[^\n]*)+")
_QUOTED = r'"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\''
_PART = rf"(?:{_QUOTED}|[A-Za-z0-9_+:-]+)"
_STRING = re.compile(r'"""(?:[^\\]|\\.)*?"{3,5}(?!")' r"|'''.*?'{3,5}(?!')", re.DOTALL)
_KEY = re.compile(_PART)
_DOT = re.compile(r"[ \t]*\.[ \t]*")


def refuse_beyond_limits(source: Source) -> None:
    """Raises FoldscriptError 'too-deep', 'too-long' or 'too-many-values'."""
    text, at, depth, count = source.text, 0, 0, 0
    while at < len(text):
        if blank := _BLANK.match(text, at):
            depth = max(0, depth - _closing(blank[0]))
            at = blank.end()
            continue
        start, parts, mark = at, 0, text[at]
        if mark in "[{":
            depth += 1
            at += 1
            parts = depth
        elif text.startswith(('"""', "'''"), at):
            match = _STRING.match(text, at)
            if match is None:
                return  # never closed: the parser says so
            at = match.end()
        else:
            at, parts = _dotted(source, at)
            if at == start:
                if mark in "\"'":
                    return  # never closed: the parser says so
                at += 1
                continue
        count += 1
        if parts > DEEPEST:
            what = f"names and lists lie more than {DEEPEST} deep in one another here"
            raise _refusal(source, "too-deep", what, start, at)
        if mark in "\"'" and at - start > LONGEST_TEXT:
            what = f"this text has more than {LONGEST_TEXT:,} letters"
            raise _refusal(source, "too-long", what, start, start + 1)
        if count > MOST_VALUES:
            what = f"more than {MOST_VALUES:,} names and values in one file"
            raise _refusal(source, "too-many-values", what, start, at)


def _closing(blank: str) -> int:
    """How many lists and tables end in what separates two values; a comment ends none."""
    return sum(
        line.partition("#")[0].count("]") + line.partition("#")[0].count("}")
        for line in blank.split("\n")
    )


def _dotted(source: Source, at: int) -> tuple[int, int]:
    """Where a key ends, and its parts; a number or a short text looks the same. Stops past the limit."""
    parts = 0
    while match := _KEY.match(source.text, at):
        if match[0][0] not in "\"'" and len(match[0]) > LONGEST_WORD:
            what = f"this word or number has more than {LONGEST_WORD} letters"
            raise _refusal(source, "too-long", what, at, match.end())
        at, parts = match.end(), parts + 1
        dot = _DOT.match(source.text, at)
        if dot is None or parts > DEEPEST:
            break
        at = dot.end()
    return at, parts


def _refusal(source: Source, code: str, what: str, start: int, end: int) -> FoldscriptError:
    hint = Hint("check that this is the right file")
    return FoldscriptError(Diagnostic(code, what, Span(start, end), (hint,), source=source))
