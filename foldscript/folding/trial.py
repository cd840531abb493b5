"""A refused statement on trial: other lines, and what its hints change, made on the paper as it lies.

In: a refusal, its statement, the paper. Out: the refusal with those hints that fold, or that lead further.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, write
from ..syntax import nodes
from ..syntax.table_talk import with_commas
from ..syntax.whole_lines import Lines
from .performing.perform import Folding
from .trying import end_of, lying, tried

#: Statements that one message shows, of those that fold.
MOST_PLACES = 3


@dataclass(frozen=True)
class Trial:
    """A refused statement, and the paper as it lay, on which others are tried."""

    refusal: Refusal
    statement: nodes.Statement
    number: int
    folding: Folding
    program: nodes.Program

    def has_hint_that_folds(self) -> bool:
        """Whether what a hint of the refusal itself says to write folds."""
        span = self.statement.span
        edits = (h for h in self.refusal.hints if h.edit is not None)
        within = (
            h
            for h in edits
            if h.edit and span.start <= h.edit.span.start <= h.edit.span.end <= span.end
        )
        return any(self.end_of((self.changed(hint),)) == "" for hint in within)

    def with_hints_tried(self) -> Refusal:
        """The refusal without hints that lead nowhere; where the changes of some fold, only these stay."""
        refusal, span = self.refusal, self.statement.span
        ends: dict[Hint, Refusal | str | None] = {}
        for hint in refusal.hints:
            edit = hint.edit
            if edit is None or not span.start <= edit.span.start <= edit.span.end <= span.end:
                continue
            ends[hint] = self.end_of((self.changed(hint),))
        folds = [hint for hint, end in ends.items() if end == ""]
        whole: dict[Hint, list[Hint]] = {}
        for hint, end in ends.items():
            if folds or not isinstance(end, Refusal) or end.code == refusal.code:
                continue
            done = self.completed(tuple(self.changed(hint).split("\n")), end)
            whole[hint] = [
                write(
                    span, "\n  ".join(line.strip() for line in row), _said_whole(hint, row, k > 0)
                )
                for k, row in enumerate(done)
            ]
        further = [
            hint
            for hint, end in ends.items()
            if not folds and isinstance(end, Refusal) and end.message != refusal.message
        ]
        row = [
            one
            for h in refusal.hints
            if h not in ends or h in folds or h in further
            for one in whole.get(h) or [h]
        ]
        row = [self.whole(hint) if hint in ends else hint for hint in row]
        row[:1] = [replace(hint, text=re.sub("^or,? ", "", hint.text)) for hint in row[:1]]
        return refusal.with_hints(*row)

    def whole(self, hint: Hint) -> Hint:
        """A hint for other words than those that are shown as wrong, as the statement with it."""
        said = re.fullmatch(r"(or )?say '[^']+'", hint.text)
        if hint.edit is None or hint.edit.span == self.refusal.span:
            return hint
        return replace(hint, text=f"{said[1] or ''}say '{self.changed(hint)}'") if said else hint

    def changed(self, hint: Hint) -> str:
        """The statement after the change of a hint, which lies in it."""
        text, span, edit = self.program.source.text, self.statement.span, hint.edit
        assert edit is not None
        longer = len(edit.text) - (edit.span.end - edit.span.start)
        return edit.applied(text)[span.start : span.end + longer]

    def completed(self, row: Lines, refusal: Refusal) -> list[Lines]:
        """Statements that were refused, with each change that their own refusal asks for and that folds."""
        text = "\n".join(("step", *row))
        changed = (hint.edit.applied(text) for hint in refusal.hints if hint.edit is not None)
        rows = (tuple(with_commas(line) for line in one.split("\n")[1:]) for one in changed)
        return [one for one in rows if self.end_of(one) == ""]

    def instead(self, lines: Iterable[str]) -> Refusal:
        """The refusal with those of the lines that fold here in the place of its hints, if any does."""
        return self.in_other_ways(saying(lines))

    def in_other_ways(self, ways: Iterable[tuple[str, str]]) -> Refusal:
        """The refusal with the hints of those lines that fold here in the place of its own, if any does."""
        bare = replace(self, refusal=self.refusal.with_hints()).with_what_folds(ways)
        return bare if bare.hints else self.with_hints_tried()

    def with_what_folds(self, ways: Iterable[tuple[str, str]]) -> Refusal:
        """The refusal, first of its hints those statements that fold here, each to another end."""
        refusal, span = self.refusal, self.statement.span
        found: dict[object, Hint] = {}
        for words, hint in ways:
            if len(found) >= MOST_PLACES:
                break
            end = tried((words,), self.folding, self.number)
            if isinstance(end, State):
                found.setdefault(lying(end), write(span, words, hint))
        own = [
            hint for hint in self.with_hints_tried().hints if self.lying_after(hint) not in found
        ]
        row = [
            *found.values(),
            *own[:1],
        ]  # further ones of its own say themselves whether they are a choice
        row[1:] = [
            replace(
                one,
                text=one.text
                if one.text.startswith("or,")
                else f"or {one.text.removeprefix('or ')}",
            )
            for one in row[1:]
        ]
        return refusal.with_hints(*row, *own[1:])

    def lying_after(self, hint: Hint) -> object:
        """How the paper lies when a hint is followed; None where that does not fold or is no line of it."""
        edit, span = hint.edit, self.statement.span
        if edit is None or not span.start <= edit.span.start <= edit.span.end <= span.end:
            return None
        end = tried((self.changed(hint),), self.folding, self.number)
        return lying(end) if isinstance(end, State) else None

    def end_of(self, row: Lines) -> Refusal | str | None:
        """What becomes of statements on this paper."""
        return end_of(row, self.folding, self.number)


def saying(lines: Iterable[str]) -> Iterable[tuple[str, str]]:
    """Lines with the hint to say them."""
    return ((line, f"say '{line}'") for line in lines)


def _said_whole(hint: Hint, row: Lines, again: bool) -> str:
    """What to write for a hint, in one line or in several."""
    lines = ", ".join(f"'{line.strip()}'" for line in row)
    if again:
        return f"or {lines}" if len(row) == 1 else f"or, each in a line: {lines}"
    return f"{_said_with(hint)} {lines}" if len(row) == 1 else f"say, each in a line: {lines}"


def _said_with(hint: Hint) -> str:
    """What leads to a whole line in the place of a hint that names a part of it."""
    return "say" if re.match("(?:or )?(?:say|add) '", hint.text) else f"{hint.text}:"
