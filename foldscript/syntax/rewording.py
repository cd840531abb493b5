"""Hints that write a line anew: a line that cannot be read in, what to say instead out.

What `table_talk.py` makes of the line is tried here: only what can be read is shown, with the change that
writes it in the line's place.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from ..source.diagnostics import Hint, Refusal, Source, Span, write
from .craft_words import FREE_NAMES, OPENERS, among
from .nodes import Name, Statement
from .table_talk import said_otherwise
from .whole_lines import Lines, Setting

if TYPE_CHECKING:
    from lark import Token

#: Rewordings that are shown of one line.
MOST_SHOWN = 3
#: Hints of the craft that say something else besides.
_ELSE = frozenset(hint for hints in OPENERS.values() for hint in hints if hint.startswith("or "))
#: A line that does not say to which side it folds.
_EITHER_WAY = re.compile(r"(?:fold|bend)\b(?!.*\bvalley\b)", re.IGNORECASE)
#: A crease that is spoken of without a name.
_THE_CREASE = re.compile(
    r"\b(?:onto|to|along|meets)\s+"
    r"((?:the\s+|that\s+|this\s+|last\s+|dotted\s+|dashed\s+)*"
    r"(?:(?:fold|crease)(?:\s+line)?|(?<=dotted\s)line|(?<=dashed\s)line))\b(?!\s+[A-Z]\b)"
)
#: Words that begin no statement and go on with one.
_GOING_ON = re.compile(
    r"(?:all|along|and|as|at|between|beyond|by|discarding|from|holding|inside|keeping|moving|near|onto|opening"
    r"|through|to|under|with)\b"
)
_CREASING = frozenset(("crease", "pinch", "valley", "mountain"))
#: Mistakes of a line's place or length, which other words do not mend, or whose hints know the words to say.
_PLACE = frozenset(
    (
        "bad-language",
        "move-before-step",
        "head-after-step",
        "said-twice",
        "text-too-long",
        "too-many-moves",
    )
)

#: Mistakes of wording, where a word of the craft may be what is wrong.
_WORDING = frozenset(
    (
        "unexpected-word",
        "unfinished-line",
        "unfinished-phrase",
        "stray-word",
        "unknown-word",
        "reserved-name",
    )
)


def in_the_craft(
    refusal: Refusal, line: list[Token], counts: dict[str, int], advice: Mapping[str, str]
) -> Refusal:
    """The refusal of a move, with what to write for words of the craft that stand in the line.

    `advice` tells how a verb is said whose words are often guessed, '' for others.
    """
    if refusal.code not in _WORDING:
        return refusal
    verb, *words = (str(token) for token in line)
    words = words[1:] if words[:1] == ["fold"] else words  # 'petal fold A' is as good as 'petal A'
    more = among(word for word in words if counts.get(word, 0) <= 1)
    form = [advice[verb]] if advice.get(verb) else []
    found = refusal.with_hints(*form, *more, *refusal.hints)
    return refusal.with_hints(*found.hints[:3])


def reworded(
    refusal: Refusal,
    source: Source,
    span: Span,
    setting: Setting,
    reads: Callable[[Lines], bool],
    earlier: Sequence[Statement] = (),
) -> Refusal:
    """The refusal of a line, with what to say in its place first where that is known.

    `reads` tells whether lines can be read where this one stands, `earlier` what was said before.
    """
    if refusal.code in _PLACE:
        return refusal
    crease = naming_crease(source, span, earlier)
    if crease is not None:
        return refusal.with_hints(crease)
    line = source.text[span.start : span.end]
    goes_on = _going_on(source, span, line, reads)
    if goes_on is not None:
        return refusal.with_hints(goes_on)
    rows = [row for row in said_otherwise(line, setting) if reads(row)]
    moving = None if rows else _what_moves(refusal, source, span, reads)
    if moving is not None:
        return refusal.with_hints(moving, *refusal.hints)
    better = with_rows(refusal, source, span, rows)
    if rows and len(rows[0]) == 1 and rows[0][0].startswith("valley ") and _EITHER_WAY.match(line):
        behind = rows[0][0].replace("valley", "mountain", 1)
        other = Hint(
            f"or mountain, which folds behind: '{behind}'", edit=_hint(source, span, (behind,)).edit
        )
        return better.with_hints(*better.hints, other)
    return better


def _going_on(source: Source, span: Span, line: str, reads: Callable[[Lines], bool]) -> Hint | None:
    """To end the line above with a comma, where this one begins with a word that goes on with a statement."""
    above = source.text[: span.start].rstrip()
    before = above.rpartition("\n")[2].strip()
    if not _GOING_ON.match(line.strip()) or not before or before.startswith(("step", "#")):
        return None
    if not reads((f"{before.rstrip(',')}, {line.strip()}",)):
        return None
    end = Span(len(above), len(above))
    return write(end, ",", "end the line above with a comma: a statement goes on only after one")


def _what_moves(
    refusal: Refusal, source: Source, span: Span, reads: Callable[[Lines], bool]
) -> Hint | None:
    """The line with 'moving' before words that nothing connects, where it can be read so."""
    at = refusal.span
    if refusal.code != "stray-word" or at is None or not span.start < at.start:
        return None
    before = source.text[span.start : at.start].rstrip(" ,")
    line = f"{before}, moving {source.text[at.start : span.end]}"
    return write(span, line, f"if that is what moves, say '{line}'") if reads((line,)) else None


def with_rows(refusal: Refusal, source: Source, span: Span, rows: Iterable[Lines]) -> Refusal:
    """The refusal with rows of statements as the first of its hints, and few others."""
    anew = [_hint(source, span, row) for row in rows][:MOST_SHOWN]
    if not anew:
        return refusal
    anew[1:] = [Hint(f"or {hint.text}", edit=hint.edit) for hint in anew[1:]]
    said = " ".join(hint.text for hint in anew)
    others = [
        hint
        for hint in refusal.hints
        if "'valley " in said
        and hint.text in _ELSE
        and not any(w in said for w in re.findall("'[^']+'", hint.text))
    ]
    return refusal.with_hints(*anew, *others)


def naming_crease(source: Source, span: Span, earlier: Sequence[Statement]) -> Hint | None:
    """What to write for 'the crease' and 'the fold' in a statement: a name, for the crease made last."""
    unquoted = re.sub(r'"[^"\n]*"', lambda text: " " * len(text[0]), source.text)
    said = _THE_CREASE.search(unquoted, span.start, span.end)
    made = next((one for one in reversed(earlier) if one.verb in _CREASING), None)
    if said is None or made is None or re.search(r"\bas\s+crease\b", source.text):
        return None
    names = [
        o.text
        for one in earlier
        for p in one.phrases
        if p.word == "as"
        for o in p.operands
        if isinstance(o, Name)
    ]
    after = re.match(r"\s+([\w'-]+)", source.text[said.end(1) : span.end])
    if after is not None and after[1] in names:  # 'crease v'
        return write(Span(said.start(1), said.end(1) + after.end()), after[1])
    line, _ = source.position(made.span.end)
    given = [
        o.text for p in made.phrases if p.word == "as" for o in p.operands if isinstance(o, Name)
    ]
    if given:
        said_so = f"say '{given[0]}' for the crease that line {line} makes"
        return write(Span(*said.span(1)), given[0], said_so)
    name = next(k for k in FREE_NAMES if not re.search(rf"\b{k}\b", source.text))
    between = source.text[made.span.end : said.start(1)]
    return write(
        Span(made.span.end, said.end(1)),
        f", as {name}{between}{name}",
        f"give the crease a name where it is made, with ', as {name}' at the end of line {line}, "
        f"and say '{name}' here",
    )


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
