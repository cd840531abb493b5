"""What to say instead, tried on the paper: a statement that was refused in, the refusal with hints out.

A statement may be read and yet mean nothing ('crease A C', 'valley AB to DC'). What its words may stand for
at the table is made into statements, and those that fold come first. The changes that hints hold are made
and tried as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import islice

from ..moves.registry import moves, verbs
from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, Span, in_words, write
from ..syntax import nodes
from ..syntax.craft_words import FREE_NAMES
from ..syntax.parser import statements
from ..syntax.rewording import naming_crease, with_rows
from ..syntax.table_talk import said_otherwise, with_commas, without_articles
from ..syntax.whole_lines import Lines, Setting
from .by_sight import filled, landings, sides_in, with_edge_moving
from .groups import CalledRefusal
from .names_to_give import named_later, unfolded_by_name
from .one_each import OF_EACH, WORDS_MOVE, EachRefusal, in_lines
from .performing.perform import Folding
from .repeating.elsewhere import elsewhere
from .repeating.repeat import VERB
from .smallest_changes import changed
from .trying import OF_WORDING, end_of, lying, tried

FREE_POINTS = ("P", "Q", "R", "S", "T", *(f"P{n}" for n in range(1, 2000)))
_FOLDS = frozenset(("valley", "mountain"))
#: Statements that one message shows, of those that fold.
_MOST_PLACES = 3
#: What a tuck says at its end of where the flap goes.
_WHERE_TUCKED = re.compile(r",? (?:in|inside|into|under|behind|between|over)\b.*$", re.DOTALL)
#: Those of them where the line may be mended by changing one thing in it; lines that are tried.
_ONE_THING = OF_WORDING - {"name-it", "unknown-name", "unknown-group", "repeat-what", "unfold-what"}
_MOST_CHANGES = 12
#: Lines by sight that are tried for one message: about half a second of folding.
_MOST_SEEN = 16


def reworded(
    refusal: Refusal,
    statement: nodes.Statement,
    number: int,
    folding: Folding,
    program: nodes.Program,
) -> Refusal:
    """The refusal of a statement, with hints that fold where some do, and none that only lead back."""
    if isinstance(refusal, CalledRefusal):
        return refusal
    trial = _Trial(refusal, statement, number, folding, program)
    if isinstance(refusal, EachRefusal):
        return trial.with_lines_apart(refusal)
    if statement.verb == "tuck" and "'pocket'" in refusal.message:
        return trial.with_pocket_found()
    if refusal.code == "no-crease":
        return trial.with_crease_first()
    if refusal.code == "cannot-reach" and statement.verb in _FOLDS:
        return trial.with_other_corners()
    text = program.source.text
    if refusal.code == "which-side":
        return trial.with_what_folds(_said(with_edge_moving(statement, text)))
    if refusal.code == "several-folds" and not any(hint.edit for hint in refusal.hints):
        return trial.with_what_folds(_said(landings(statement, text)))
    if refusal.code in OF_WORDING:
        return trial.beside_an_article().with_other_words()
    if refusal.code == "no-spine":
        return trial.with_sight()
    return trial.with_other_places() if statement.verb == VERB else trial.with_hints_tried()


@dataclass(frozen=True)
class _Trial:
    """A refused statement, and the paper as it lay, on which others are tried."""

    refusal: Refusal
    statement: nodes.Statement
    number: int
    folding: Folding
    program: nodes.Program

    def with_other_words(self) -> Refusal:
        """What the statement's words may stand for: what folds, or else what gets further than they did."""
        refusal, source, span = self.refusal, self.program.source, self.statement.span
        before = [one for step in self.program.steps[: self.number] for one in step.body]
        later = named_later(refusal, self.statement, self.number, self.program)
        if later is not None:
            return refusal.with_hints(later)
        crease = naming_crease(source, span, [one for one in before if one.span.end <= span.start])
        if crease is not None:
            return refusal.with_hints(crease)
        names = self.folding.names.known()
        setting = Setting(
            self.folding.state.sheet.corner_names, self.number - 1, names=tuple(names)
        )
        if self.statement.verb == "unfold":
            named = unfolded_by_name(self.statement, before, self.program)
            if named is not None:
                return refusal.with_hints(named)
        said = source.text[span.start : span.end]
        rows = said_otherwise(said, setting)
        if without_articles(said) != said:
            rows = [(without_articles(said),), *rows]
        ends = {row: self.end_of(row) for row in rows}
        folds = [row for row, end in ends.items() if end == ""]
        folds = folds or [
            done
            for row, end in ends.items()
            if isinstance(end, Refusal) and end.code != refusal.code
            for done in self.completed(row, end)
        ]
        understood: list[Lines] = []
        if not folds:
            folds, understood = self.with_one_thing_changed()
        if folds:
            return with_rows(refusal, source, span, folds)
        seen = self.seen_here()
        if seen:
            return with_rows(refusal, source, span, [(line,) for line in seen])
        further = [
            row
            for row, end in ends.items()
            if isinstance(end, Refusal) and end.code != refusal.code
        ] or understood
        more = with_rows(refusal, source, span, further).hints if further else ()
        kept = self.with_hints_tried().hints
        if understood and further is understood:
            kept = tuple(hint for hint in kept if not hint.text.startswith("write it like"))
            more = () if any(hint.edit is not None for hint in kept) else more
        if more and self.statement.verb == "repeat":
            return refusal.with_hints(*more)
        told = more and (refusal.hints or further is not understood)
        forms = () if kept or told else self.forms()
        return refusal.with_hints(*kept, *more, *forms)

    def beside_an_article(self) -> _Trial:
        """The trial with the hints of the line without 'a', where a name was looked for behind that."""
        refusal, text, span = self.refusal, self.program.source.text, self.statement.span
        at = refusal.span
        if at is None or text[at.start : at.end] not in ("a", "an"):
            return self
        end = self.end_of((without_articles(text[span.start : span.end]),))
        hints = in_words(end.hints) if isinstance(end, Refusal) else ()
        return replace(self, refusal=refusal.with_hints(*hints)) if hints else self

    def with_one_thing_changed(self) -> tuple[list[Lines], list[Lines]]:
        """With one thing changed: lines that fold, each to another end; and one that is understood.

        Nothing where a hint of its own folds: that one knows what is wrong.
        """
        refusal, span = self.refusal, self.statement.span
        move = moves().get(self.statement.verb)
        if refusal.code not in _ONE_THING or move is None or self.has_hint_that_folds():
            return [], []
        amiss = refusal.span if refusal.span not in (None, span) else None
        tips = dict.fromkeys((*self.folding.state.sheet.corner_names, *self.folding.names.points))
        text = self.program.source.text
        lines = dict.fromkeys(changed(self.statement, text, amiss, move.forms, tuple(tips)))
        ends: dict[object, Lines] = {}
        further: list[Lines] = []
        for line in islice(lines, _MOST_CHANGES):
            end = tried((line,), self.folding, self.number)
            if isinstance(end, State):
                ends.setdefault((lying(end), frozenset(end.creases)), (line,))
            elif isinstance(end, Refusal) and end.code not in OF_WORDING:
                further.append((line,))
        return list(ends.values())[:_MOST_PLACES], further[:1]

    def seen_here(self) -> list[str]:
        """Lines of the statement's move that name what the eye sees and fold, each to another end."""
        move, span = moves().get(self.statement.verb), self.statement.span
        if move is None or not move.by_sight or self.has_hint_that_folds():
            return []
        said = self.program.source.text[span.start : span.end]
        amount = re.search(r"\b(?:to|by) \d.*$", said)
        rest = f" {amount[0]}" if amount else ""
        for lines in filled(move.by_sight, self.folding.state, self.folding.names, said):
            found: dict[object, str] = {}
            for line in lines[:_MOST_SEEN]:
                end = tried((f"{line}{rest}",), self.folding, self.number)
                if isinstance(end, State):  # what only stands up lies as it lay
                    found.setdefault(line if end is self.folding.state else lying(end), line + rest)
            if found:
                return list(found.values())[:_MOST_PLACES]
        return []

    def with_sight(self) -> Refusal:
        """The refusal of paper that is no such flap: by sight those that are, with all the sides said."""
        span = self.statement.span
        sides = sides_in(self.program.source.text[span.start : span.end])
        seen = [line for line in self.seen_here() if sides and sides <= sides_in(line)]
        return self.with_what_folds(_said(seen)) if seen else self.with_hints_tried()

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

    def forms(self) -> tuple[str, ...]:
        """How the statement's move is said, for a message that knows nothing better."""
        move = moves().get(self.statement.verb)
        if move is None:
            return ()
        advice = (move.advice,) if move.advice else ()
        return (*advice, *(f"write it like: {form}" for form in move.forms[:_MOST_PLACES]))

    def with_lines_apart(self, refusal: EachRefusal) -> Refusal:
        """The refusal of one of several moves that a line stands for: to be written in lines of their own."""
        source, span = self.program.source, self.statement.span
        row = in_lines(self.statement, source.text)
        at = refusal.span
        if refusal.code == WORDS_MOVE and (refusal.hints or at is None):
            return refusal
        if refusal.code == WORDS_MOVE and at is not None:
            name = next(k for k in FREE_POINTS if k not in self.folding.names.known())
            marked = source.text[span.start : at.start] + name + source.text[at.end : span.end]
            return with_rows(
                refusal,
                source,
                span,
                [(f"mark {name} at {source.text[at.start : at.end]}", marked)],
            )
        if refusal.code in OF_EACH:
            return with_rows(refusal, source, span, [tuple(line for line, _ in row)])
        fold = ", ".join(f"'{line}'" for line, _ in row[: refusal.done])
        other = ", ".join(f"'{head} ...'" for _, head in row[refusal.done :])
        apart = f"or write, each in a line of its own, {fold}, and {other} with the words that fit there"
        return refusal.with_hints(*refusal.hints, apart)

    def with_pocket_found(self) -> Refusal:
        """The refusal of 'tuck A into pocket', first of its hints the layers that take the flap up."""
        refusal, source, span = self.refusal, self.program.source, self.statement.span
        said = (_WHERE_TUCKED.sub("", source.text[span.start : span.end]),)
        end = self.end_of(said)
        rows = self.completed(said, end) if isinstance(end, Refusal) else []
        if not rows:
            return self.with_hints_tried()
        kept = (
            Hint(f"or {hint.text.removeprefix('or ')}", edit=hint.edit) for hint in refusal.hints
        )
        better = with_rows(refusal, source, span, rows)
        return refusal.with_hints(*better.hints, *kept)

    def with_crease_first(self) -> Refusal:
        """The refusal of a line without a crease: make the crease in a line before, with a name."""
        refusal, span, text = self.refusal, self.statement.span, self.program.source.text
        at = refusal.span
        if at is None or not span.start < at.start < at.end <= span.end:
            return refusal
        name = next(k for k in FREE_NAMES if not re.search(rf"\b{k}\b", text))
        row = (
            f"crease along {text[at.start : at.end]}, as {name}",
            f"{text[span.start : at.start]}{name}{text[at.end : span.end]}",
        )
        if self.end_of(row) != "":
            return refusal
        hint = with_rows(refusal, self.program.source, span, [row]).hints[0]
        return refusal.with_hints(hint)

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
            done = [line for (line,) in self.completed((self.changed(hint),), end)]
            whole[hint] = [
                write(span, line, f"{'or' if k else _said_with(hint)} '{line}'")
                for k, line in enumerate(done)
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
        row[:1] = [replace(hint, text=hint.text.removeprefix("or ")) for hint in row[:1]]
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

    def with_other_places(self) -> Refusal:
        """The refusal of a repeat, first of its hints those repeats of the same steps that fold here."""
        span = self.statement.span
        edits = ((h, h.edit.span) for h in self.refusal.hints if h.edit is not None)
        within = (h for h, at in edits if span.start <= at.start < at.end <= span.end)
        if (
            self.refusal.code == "repeat-inside-itself"
        ):  # its own hints say how to end the step first
            within = iter(())
        meant = [one for hint in within for one in statements((self.changed(hint),), verbs())]
        return self.with_what_folds(w for one in (self.statement, *meant) for w in elsewhere(one))

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
        others = [c for c in corners if not re.search(rf"\b{re.escape(c)}\b", said)]
        rows = [f"{said[: at.start]}{other}{said[at.end :]}" for other in others]
        folds = [
            write(span, row, f"for another corner say '{row}'")
            for row in rows
            if self.end_of((row,)) == ""
        ]
        own = self.with_hints_tried()
        return own.with_hints(*own.hints, *folds[:_MOST_PLACES])

    def with_what_folds(self, ways: Iterable[tuple[str, str]]) -> Refusal:
        """The refusal, first of its hints those statements that fold here, each to another end."""
        refusal, span = self.refusal, self.statement.span
        found: dict[object, Hint] = {}
        for words, hint in ways:
            if len(found) >= _MOST_PLACES:
                break
            end = tried((words,), self.folding, self.number)
            if isinstance(end, State):
                found.setdefault(lying(end), write(span, words, hint))
        own = [
            hint for hint in self.with_hints_tried().hints if self.lying_after(hint) not in found
        ]
        row = [*found.values(), *own]
        row[1:] = [replace(one, text=f"or {one.text.removeprefix('or ')}") for one in row[1:]]
        return refusal.with_hints(*row)

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


def _said(lines: Iterable[str]) -> Iterable[tuple[str, str]]:
    """Lines with the hint to say them."""
    return ((line, f"say '{line}'") for line in lines)


def _said_with(hint: Hint) -> str:
    """What leads to a whole line in the place of a hint that names a part of it."""
    return "say" if re.match("(?:or )?(?:say|add) '", hint.text) else f"{hint.text}:"
