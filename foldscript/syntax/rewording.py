"""Hints that write a line anew: a line that cannot be read in, what to say instead out.

What `table_talk.py` makes of the line is tried here: only what can be read is shown, with the change that
writes it in the line's place.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from ..source.diagnostics import Hint, Refusal, Source, Span, write
from .table_talk import Lines, Setting, said_otherwise

#: Rewordings that are shown of one line.
MOST_SHOWN = 3
#: Mistakes of a line's place, which other words do not mend.
_PLACE = frozenset(("move-before-step", "head-after-step", "said-twice", "too-many-moves"))


def reworded(
    refusal: Refusal,
    source: Source,
    span: Span,
    setting: Setting,
    reads: Callable[[Lines], bool],
) -> Refusal:
    """The refusal of a line, with what to say in its place first where that is known.

    `reads` tells whether lines can be read where this one stands.
    """
    if refusal.code in _PLACE:
        return refusal
    rows = [row for row in said_otherwise(source.text[span.start : span.end], setting) if reads(row)]
    return with_rows(refusal, source, span, rows)


def with_rows(refusal: Refusal, source: Source, span: Span, rows: Iterable[Lines]) -> Refusal:
    """The refusal with rows of statements as the first of its hints, and few others."""
    anew = [_hint(source, span, row) for row in rows][:MOST_SHOWN]
    if not anew:
        return refusal
    anew[1:] = [Hint(f"or {hint.text}", edit=hint.edit) for hint in anew[1:]]
    others = [hint for hint in refusal.hints if not hint.text.startswith("write it like")]
    return Refusal(refusal.code, refusal.message, *anew, *others[: MOST_SHOWN - 1], span=refusal.span)


def _hint(source: Source, span: Span, row: Lines) -> Hint:
    first, *more = row
    if not more:
        said = f"say '{first}'"
    elif len(more) == 1:
        said = f"say '{first}', and in the next line '{more[0].strip()}'"
    else:
        quoted = (f"'{line.strip()}'" for line in row)
        said = f"say, each in a line: {', '.join(quoted)}"
    start = source.text.rfind("\n", 0, span.start) + 1
    indent = re.match(r"[ \t]*", source.text[start : span.start])
    margin = indent[0] if indent and indent.end() == span.start - start else "  "
    return write(span, ("\n" + margin).join(row), said)
