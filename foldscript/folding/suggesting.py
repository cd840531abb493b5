"""What to say instead, tried on the paper: a statement that was refused in, the refusal with hints out.

A statement may be read and yet mean nothing ('crease A C', 'valley AB to DC'). What its words may stand for
at the table is made into statements, and those that fold come first. The changes that hints hold are made
and tried as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..moves.registry import moves, verbs
from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, Span, write
from ..syntax import nodes
from ..syntax.craft_words import FREE_NAMES
from ..syntax.parser import statements
from ..syntax.rewording import naming_crease, with_rows
from ..syntax.table_talk import said_otherwise, with_commas
from ..syntax.whole_lines import Lines, Setting
from .groups import CalledRefusal
from .one_each import OF_EACH, WORDS_MOVE, EachRefusal, in_lines
from .performing.perform import Folding
from .performing.proving import ClaimBroken
from .repeating.checkpoints import restore, save
from .repeating.elsewhere import elsewhere
from .repeating.repeat import VERB
from .statements import carry

FREE_POINTS = ("P", "Q", "R", "S", "T", *(f"P{n}" for n in range(1, 2000)))
_FOLDS = frozenset(("valley", "mountain"))
#: Statements that one message shows, of those that fold; names that are tried as those of layers.
_MOST_PLACES, _MOST_NAMES = 3, 16
#: Refusals of a tuck whose mistake is where the flap goes; what says so at its end, and what may instead.
_TUCKS = frozenset(("tuck-where", "tuck-misses", "not-inside", "no-pocket"))
_WHERE_TUCKED = re.compile(r",? (?:in|inside|into|under|behind|between|over)\b.*$", re.DOTALL)
_TUCKED = ("under", "into the pocket at")
#: Mistakes in what was said; others are of the paper, and other words for the same do not mend them.
OF_WORDING = frozenset(
    (
        "name-it",
        "turn-by",
        "not-a-line",
        "not-a-point",
        "repeat-what",
        "sign-where",
        "unclear-fold",
        "unexpected-words",
        "unfold-what",
        "unknown-group",
        "unknown-name",
    )
)


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
    if statement.verb == "tuck" and (refusal.code in _TUCKS or "'pocket'" in refusal.message):
        return trial.with_layers_to_tuck_under()
    if refusal.code == "no-crease":
        return trial.with_crease_first()
    if refusal.code == "cannot-reach" and statement.verb in _FOLDS:
        return trial.with_other_corners()
    if refusal.code not in OF_WORDING:
        return trial.with_hints_tried() if statement.verb != VERB else trial.with_other_places()
    return trial.with_other_words()


def _given(statement: nodes.Statement) -> set[str]:
    """The names that a statement gives: that of `as`, or what is marked."""
    naming = [p for p in statement.phrases if p.word == "as"]
    if statement.verb == "mark":
        naming.extend(p for p in statement.phrases[:1] if not p.word)
    return {o.text for p in naming for o in p.operands if isinstance(o, nodes.Name)}


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
        later = self.named_later()
        if later is not None:
            return Refusal(refusal.code, refusal.message, later, span=refusal.span)
        crease = naming_crease(source, span, [one for one in before if one.span.end <= span.start])
        if crease is not None:
            return Refusal(refusal.code, refusal.message, crease, span=refusal.span)
        names = self.folding.names.known()
        setting = Setting(
            self.folding.state.sheet.corner_names, self.number - 1, names=tuple(names)
        )
        if self.statement.verb == "unfold":
            named = self.unfolded_by_name(before)
            if named is not None:
                return Refusal(refusal.code, refusal.message, named, span=refusal.span)
        rows = said_otherwise(source.text[span.start : span.end], setting)
        ends = {row: self.end_of(row) for row in rows}
        folds = [row for row, end in ends.items() if end == ""]
        folds = folds or [
            done
            for row, end in ends.items()
            if isinstance(end, Refusal) and end.code != refusal.code
            for done in self.completed(row, end)
        ]
        if folds:
            return with_rows(refusal, source, span, folds)
        further = [
            row
            for row, end in ends.items()
            if isinstance(end, Refusal) and end.code != refusal.code
        ]
        more = with_rows(refusal, source, span, further).hints if further else ()
        kept = self.with_hints_tried().hints
        if more and self.statement.verb == "repeat":
            return Refusal(refusal.code, refusal.message, *more, span=refusal.span)
        forms = () if kept or more else self.forms()
        return Refusal(refusal.code, refusal.message, *kept, *more, *forms, span=refusal.span)

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
        return Refusal(refusal.code, refusal.message, *refusal.hints, apart, span=refusal.span)

    def unfolded_by_name(self, before: list[nodes.Statement]) -> Hint | None:
        """The name to give to the earlier fold that 'unfold A' or 'unfold step 1' means; None for others."""
        source, span = self.program.source, self.statement.span
        said = re.fullmatch(
            r"unfold (?:the )?(?:step (\d+)|(?:corner |point )?(\w+))",
            source.text[span.start : span.end],
        )
        folds = [one for one in before if one.span.end <= span.start and one.verb in _FOLDS]
        if said is None or not folds:
            return None
        if said[1]:
            steps = self.program.steps[int(said[1]) - 1 : int(said[1])]
            meant = [one for step in steps for one in step.body if one in folds]
            meant = meant if len(meant) == 1 else []
        else:
            first = [source.text[one.span.start : one.span.end].split()[1:2] for one in folds]
            meant = [one for one, words in zip(folds, first, strict=True) if words == [said[2]]]
        if not meant or meant[-1] is folds[-1] or any(p.word == "as" for p in meant[-1].phrases):
            return None
        made = meant[-1]
        name = next(k for k in FREE_NAMES if not re.search(rf"\b{k}\b", source.text))
        line, _ = source.position(made.span.start)
        return write(
            Span(made.span.end, span.end),
            f", as {name}{source.text[made.span.end : span.start]}unfold {name}",
            f"give the fold a name where it is made, with ', as {name}' at the end of line {line}, "
            f"and say 'unfold {name}' here",
        )

    def named_later(self) -> Hint | None:
        """Where the name that is not known yet is given, if a line further down gives it."""
        at, source = self.refusal.span, self.program.source
        if self.refusal.code != "unknown-name" or at is None:
            return None
        name = source.text[at.start : at.end]
        for step in self.program.steps[self.number - 1 :]:
            for one in step.body:
                if one.span.start > self.statement.span.start and name in _given(one):
                    line, _ = source.position(one.span.start)
                    return Hint(f"line {line} gives this name: put that line above this one")
        return None

    def with_layers_to_tuck_under(self) -> Refusal:
        """The refusal of a tuck, first of its hints the layers with a name that the flap can go under."""
        span = self.statement.span
        said = _WHERE_TUCKED.sub("", self.program.source.text[span.start : span.end])
        names = [
            n for n in self.folding.names.points if not re.search(rf"\b{re.escape(n)}\b", said)
        ]
        rows = [f"{said}, {where} {name}" for where in _TUCKED for name in names[:_MOST_NAMES]]
        return self.with_what_folds([(row, f"say '{row}'") for row in (f"{said}, inside", *rows)])

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
        return Refusal(refusal.code, refusal.message, hint, span=refusal.span)

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
        row[:1] = [replace(hint, text=hint.text.removeprefix("or ")) for hint in row[:1]]
        return Refusal(refusal.code, refusal.message, *row, span=refusal.span)

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
        return Refusal(own.code, own.message, *own.hints, *folds[:_MOST_PLACES], span=own.span)

    def with_what_folds(self, ways: Iterable[tuple[str, str]]) -> Refusal:
        """The refusal, first of its hints those statements that fold here, each to another end."""
        refusal, span = self.refusal, self.statement.span
        found: dict[object, Hint] = {}
        for words, hint in ways:
            if len(found) >= _MOST_PLACES:
                break
            end = tried((words,), self.folding, self.number)
            if isinstance(end, State):
                found.setdefault(_lying(end), write(span, words, hint))
        row = [*found.values(), *self.with_hints_tried().hints]
        row[1:] = [replace(one, text=f"or {one.text.removeprefix('or ')}") for one in row[1:]]
        return Refusal(refusal.code, refusal.message, *row, span=refusal.span)

    def end_of(self, row: Lines) -> Refusal | str | None:
        """What becomes of statements on this paper."""
        return end_of(row, self.folding, self.number)


def end_of(row: Lines, folding: Folding, number: int) -> Refusal | str | None:
    """'' where statements fold on this paper, else what refuses them; None for what cannot be read."""
    end = tried(row, folding, number)
    return "" if isinstance(end, State) else end


def tried(row: Lines, folding: Folding, number: int) -> State | Refusal | None:
    """The paper after statements, or what refuses them; None for what cannot be read."""
    said = statements(row, verbs()) if row else ()
    if not said:
        return None
    was = save(folding)
    try:
        for statement in said:
            carry(folding, number, statement)
    except Refusal as refusal:
        return refusal
    except ClaimBroken:  # our fault, but not that of the line in question
        return None
    else:
        return folding.state
    finally:
        restore(folding, was)


def _said_with(hint: Hint) -> str:
    """What leads to a whole line in the place of a hint that names a part of it."""
    return "say" if re.match("(?:or )?(?:say|add) '", hint.text) else f"{hint.text}:"


def _lying(state: State) -> object:
    """The same for papers that lie alike, however their parts are counted."""
    return frozenset(
        tuple(sorted((round(x, 6), round(y, 6)) for x, y in outline)) for outline in state.placed
    ), frozenset(state.order.items())
