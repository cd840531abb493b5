"""A refused statement on trial: other lines, and what its hints change, made on the paper as it lies.

In: a refusal, its statement, the paper. Out: the refusal with those hints that fold, or that lead further.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from ..geometry.tolerance import same_point
from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, Span, write
from ..syntax import nodes
from ..syntax.table_talk import with_commas
from ..syntax.whole_lines import Lines
from .by_sight import on_goal
from .performing.perform import Folding
from .resolving.scope import Scope
from .trying import end_of, lying, tried

#: Statements that one message shows, of those that fold.
MOST_PLACES = 3


#: What a change of words has come to where it is no way to what was meant.
_LEADS_NOWHERE = frozenset(("cannot-reach",))
#: What leaves a choice that nobody can make but the author.
_A_CHOICE = frozenset(("cuts-off",))
#: How many layers a statement says.
_COUNT = re.compile(r",? *\b(?:(\d+) layers?|all layers)\b")


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
        return bool(self.lines_that_fold())

    def lines_that_fold(self) -> list[str]:
        """The statement with each change of the refusal's hints that folds."""
        span = self.statement.span
        lines = (
            self.changed(h)
            for h in self.refusal.hints
            if h.edit and span.start <= h.edit.span.start <= h.edit.span.end <= span.end
        )
        return [line for line in dict.fromkeys(lines) if self.end_of((line,)) == ""]

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
            if folds or not isinstance(end, Refusal) or end.code in (refusal.code, *_A_CHOICE):
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
            if not folds
            and isinstance(end, Refusal)
            and end.message != refusal.message
            and not (end.code in _LEADS_NOWHERE and refusal.code == "no-such-edge")
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
        edit = hint.edit
        if edit is None:
            return hint
        said = re.fullmatch(r"(or )?say '[^']+'", hint.text)
        wish = re.fullmatch(r"((?:or,? )?(?:for|if) [^']+\bsay )'([^']+)'", hint.text)
        if wish is not None and wish[2] == edit.text and edit.span != self.statement.span:
            return replace(hint, text=f"{wish[1]}'{self.changed(hint)}'")
        if edit.span == self.refusal.span or said is None:
            return hint
        return replace(hint, text=f"{said[1] or ''}say '{self.changed(hint)}'")

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

    def with_piece_kept(self) -> Refusal:
        """The refusal of what was cut off, first of its hints to keep that piece where it is thrown away."""
        refusal, source, at = self.refusal, self.program.source, self.refusal.span
        name = "" if at is None else source.text[at.start : at.end]
        step = self.folding.names.gone.get(name, 0)
        cuts = (
            [one for one in self.program.steps[step - 1].body if one.verb == "cut"] if step else []
        )
        chosen = [p for one in cuts for p in one.phrases if p.word in ("discarding", "keeping")]
        if len(chosen) != 1:
            return self.with_hints_tried()
        said = chosen[0].span
        line, _ = source.position(said.start)
        keeping = f"keeping {name.partition(' of unit')[0]}"
        kept = write(
            said, keeping, f"line {line} throws that piece away: to keep it, say '{keeping}' there"
        )
        return refusal.with_hints(
            kept, *(replace(h, text=f"or {h.text}") for h in self.with_hints_tried().hints)
        )

    def with_count_kept(self) -> Refusal:
        """The refusal, before hints that change the number of layers the corner that moves with that number:
        of corners that lie on each other the one is easily named for the other.
        """
        span, refusal = self.statement.span, self.refusal
        said = self.program.source.text[span.start : span.end]
        count, (who, there) = _COUNT.search(said), self._beside_who_moves()
        if count is None or count[1] is None or not there:
            return refusal
        row: list[Hint] = []
        for hint in refusal.hints:
            edit = hint.edit
            inside = edit is not None and span.start <= edit.span.start <= edit.span.end <= span.end
            line = self.changed(hint) if inside else ""
            other = _COUNT.search(line)
            if other is not None and other[0].strip(" ,") != count[0].strip(" ,"):
                again = f"{line[: other.start()]}{count[0]}{line[other.end() :]}"
                for name in there:
                    kept = re.sub(rf"^(\w+(?: \w+)*?) {re.escape(who)}\b", rf"\1 {name}", again)
                    if kept != again and self.end_of((kept,)) == "":
                        why = (
                            f"for '{count[0].strip(' ,')}' name corner {name}, which lies there too"
                        )
                        row.append(write(span, kept, f"{why}: say '{kept}'"))
            row.append(hint)
        return refusal.with_hints(*dict.fromkeys(row))

    def loose_there(self) -> Iterator[tuple[str, str]]:
        """The statement with another corner that lies where the one that is held does; each with its hint."""
        span = self.statement.span
        said = self.program.source.text[span.start : span.end]
        who, there = self._beside_who_moves()
        if who in self.folding.state.sheet.corner_names:
            return  # the other is of another flap
        for name in there:
            line = re.sub(rf"^(\w+(?: the)?) {re.escape(who)}\b", rf"\1 {name}", said)
            yield line, f"corner {name} lies there too, and is loose: say '{line}'"

    def _beside_who_moves(self) -> tuple[str, list[str]]:
        """The point that moves, by its name, and the corners of the sheet that lie where it does."""
        first = self.statement.phrases[:1]
        who = first[0].operands[0] if first and first[0].operands else None
        points, state = self.folding.names.points, self.folding.state
        if not isinstance(who, nodes.Name) or who.text not in points:
            return "", []
        at, sheet = state.where(points[who.text]), state.sheet
        corners = [name for name in sheet.corner_names if name != who.text]
        return who.text, [c for c in corners if same_point(state.where(sheet.corner(c)), at)]

    def with_other_corners(self) -> Refusal:
        """The refusal of a fold of a corner that cannot go there, with corners that can."""
        first = self.statement.phrases[:1]
        who = first[0].operands[0] if first and first[0].operands else None
        corners = self.folding.state.sheet.corner_names
        if not isinstance(who, nodes.Name) or who.text not in corners:
            return self.with_hints_tried()
        span = self.statement.span
        said = self.program.source.text[span.start : span.end]
        at = Span(who.span.start - span.start, who.span.end - span.start)
        scope = Scope(self.folding.state, self.folding.names, self.folding.history)
        there = on_goal(self.statement, scope)
        others = [
            c for c in corners if c not in there and not re.search(rf"\b{re.escape(c)}\b", said)
        ]
        rows = [f"{said[: at.start]}{other}{said[at.end :]}" for other in others]
        folds = [
            write(span, row, f"for another corner say '{row}'")
            for row in rows
            if self.end_of((row,)) == ""
        ]
        own = self.with_hints_tried()
        return own.with_hints(*own.hints, *folds[:MOST_PLACES])

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
