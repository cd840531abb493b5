"""What to say instead, tried on the paper: a statement that was refused in, the refusal with hints out.

A statement may be read and yet mean nothing ('crease A C', 'valley AB to DC'). What its words may stand for
at the table is made into statements, and those that fold come first. The changes that hints hold are made
and tried as well.
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import islice

from ..moves.registry import moves, verbs
from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, in_words
from ..syntax import nodes
from ..syntax.craft_words import FREE_NAMES
from ..syntax.parser import statements
from ..syntax.rewording import naming_crease, with_rows
from ..syntax.table_talk import said_otherwise, without_articles
from ..syntax.whole_lines import Lines, Setting
from .by_sight import (
    corners_for_sides,
    edges_of_side,
    filled,
    in_half,
    landings,
    open_edges,
    sides_in,
    with_edge_moving,
)
from .groups import CalledRefusal
from .named_otherwise import Named, creases_first, line_meant
from .names_to_give import named_later, said_and_never_given, unfolded_by_name
from .one_each import OF_EACH, WORDS_MOVE, EachRefusal, in_lines
from .performing.perform import Folding
from .repeating.elsewhere import elsewhere
from .repeating.repeat import VERB
from .resolving.scope import Scope
from .smallest_changes import changed, with_other_verbs
from .trial import MOST_PLACES, Trial, saying
from .trying import OF_WORDING, lying, tried

FREE_POINTS = ("P", "Q", "R", "S", "T", *(f"P{n}" for n in range(1, 2000)))
_FOLDS = frozenset(("valley", "mountain"))
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
    better = _reworded(refusal, statement, number, folding, program)
    return Trial(better, statement, number, folding, program).with_count_kept()


def _reworded(
    refusal: Refusal,
    statement: nodes.Statement,
    number: int,
    folding: Folding,
    program: nodes.Program,
) -> Refusal:
    trial = _Trial(refusal, statement, number, folding, program)
    if isinstance(refusal, EachRefusal):
        return trial.with_lines_apart(refusal)
    if statement.verb == "tuck" and "'pocket'" in refusal.message:
        return trial.with_pocket_found()
    if refusal.code == "no-crease":
        return trial.with_crease_first()
    text = program.source.text
    named = Named(statement, program.source)
    if refusal.code == "cannot-reach" and statement.verb in _FOLDS:
        runs = named.names("onto") and " through " in named.said
        seen = [*edges_of_side(statement, text, folding.state)]
        if any(trial.end_of((line,)) == "" for line in seen):
            return trial.instead(seen)
        return trial.with_line_meant(named) if runs else trial.with_other_corners()
    if refusal.code in ("two-candidates", "no-such-edge"):
        opened = [*open_edges(statement, text, folding.state)]
        if opened:
            return trial.in_other_ways(saying(opened))
        halves = in_half(statement, text, folding.state)
        return trial.with_what_folds(saying([*halves, *corners_for_sides(statement, text)]))
    if refusal.code == "which-side":
        return trial.with_what_folds(saying(with_edge_moving(statement, text)))
    match refusal.code:
        case "fold-misses-flap":
            return trial.in_other_ways(named.at_other_angles(folding.state.sheet.corner_names))
        case "turns-inside":
            return trial.with_what_folds(
                (*saying(named.one_step_each(program.steps)), *named.once_more())
            )
        case "line-to-point":
            found = trial.with_what_folds(saying(named.onto_creases(folding.names)))
            return found if found.hints != refusal.hints else trial.with_other_words()
        case "two-angles":
            return trial.with_what_folds(saying(named.with_other_crease(folding.names.creases)))
        case "cut-off":
            return trial.with_piece_kept()
        case "on-the-line":
            return trial.with_line_meant(named)
        case "not-a-triangle" | "ear-toward":
            return trial.instead(named.with_ends(folding.state.sheet.corner_names))
        case "open-point":
            other = trial.instead(named.from_the_other_end())
            if any(hint.edit for hint in other.hints) or "closed point" not in refusal.message:
                return other
            return trial.with_what_folds(named.pushed_in_otherwise())
        case "not-a-point" if refusal.span is not None:
            found = trial.instead(named.midway(refusal.span))
            return found if found.hints else trial.with_other_words()
        case "name-taken":
            known = folding.names.known()
            other = said_and_never_given(refusal, statement, program, known)
            return trial.with_hints_tried() if other is None else refusal.with_hints(other)
        case "no-pocket" if statement.verb == "open out":
            seen = [
                line
                for line in trial.seen_here()
                if line.startswith(named.said.partition(" and ")[0])
            ]
            return trial.with_what_folds(saying(seen))
        case "no-such-unit":
            left = [n for n in folding.units if n not in folding.laid]
            return trial.with_what_folds(saying(named.of_units(left)))
        case "unknown-name" if statement.verb == "place" and refusal.span is not None:
            return trial.instead(named.at_other_units(refusal.span, folding.laid))
        case "held" if statement.verb in _FOLDS and refusal.hints[0].edit is not None:
            return trial.with_what_folds(trial.loose_there())
        case "blocked" if statement.verb in _FOLDS:
            scope = Scope(folding.state, folding.names, folding.history)
            return trial.with_what_folds(named.with_the_upper(scope))
        case _:
            pass
    if refusal.code == "several-folds" and not any(hint.edit for hint in refusal.hints):
        scope = Scope(folding.state, folding.names, folding.history)
        return trial.with_what_folds(saying(landings(statement, text, scope)))
    if refusal.code in OF_WORDING:
        return trial.beside_an_article().with_other_words()
    if refusal.code == "no-spine":
        return trial.with_sight()
    return trial.with_other_places() if statement.verb == VERB else trial.with_hints_tried()


class _Trial(Trial):
    """A refused statement, for which other words are sought."""

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
        if not folds and refusal.code == "unknown-name":
            named = Named(self.statement, source)
            lines = creases_first(refusal, named, self.folding.state, self.folding.names)
            made = [row for row in lines if self.end_of(row) == ""]
            folds = made if len(made) == 1 else []  # of several nobody knows which is meant
        if folds:
            return with_rows(refusal, source, span, folds)
        seen = self.seen_here()
        if seen:
            return with_rows(refusal, source, span, [(line,) for line in seen])
        verbs = with_other_verbs(self.statement, source.text)
        certain = any(hint.edit for hint in refusal.hints)
        meant = [] if certain else [(one,) for one in verbs if self.end_of((one,)) == ""]
        if meant:
            other = with_rows(refusal, source, span, meant[:1])
            return refusal.with_hints(*other.hints, *self.forms())
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
                ends.setdefault(lying(end), (line,))
            elif isinstance(end, Refusal) and end.code not in OF_WORDING:
                further.append((line,))
        return list(ends.values())[:MOST_PLACES], further[:1]

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
                return list(found.values())[:MOST_PLACES]
        return []

    def with_sight(self) -> Refusal:
        """The refusal of paper that is no such flap: by sight those that are, with all the sides said."""
        span = self.statement.span
        said = self.program.source.text[span.start : span.end]
        sides, goal = sides_in(said), said.rpartition(" onto ")[2]
        seen = [
            line for line in self.seen_here() if sides and sides <= sides_in(line) and goal in line
        ]
        return self.with_what_folds(saying(seen)) if seen else self.with_hints_tried()

    def forms(self) -> tuple[str, ...]:
        """How the statement's move is said, for a message that knows nothing better."""
        move = moves().get(self.statement.verb)
        if move is None:
            return ()
        advice = (move.advice,) if move.advice else ()
        return (*advice, *(f"write it like: {form}" for form in move.forms[:MOST_PLACES]))

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
        line = text[at.start : at.end]
        rest = f"{text[span.start : at.start]}{name}{text[at.end : span.end]}"
        rows = [(f"crease along {line}, as {name}", rest)]
        heaped = any(joint.folded for joint in self.folding.state.joints)
        if self.statement.verb == "raise" and heaped:  # only the layer in front
            points = (*self.folding.state.sheet.corner_names, *self.folding.names.points)
            sides = (f"valley along {line}, 1 layer, moving {p}, as {name}" for p in points)
            rows = [*((side, rest) for side in islice(sides, _MOST_CHANGES)), *rows]
        row = next((row for row in rows if self.end_of(row) == ""), None)
        if row is None:
            return refusal
        hint = with_rows(refusal, self.program.source, span, [row]).hints[0]
        return refusal.with_hints(hint)

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
        found = self.with_what_folds(w for one in (self.statement, *meant) for w in elsewhere(one))
        if self.refusal.code != "folded-since" or not self.refusal.hints:
            return found
        first, *_ = self.refusal.hints  # what was said, done before the paper was moved
        others = [h for h in found.hints if h.text.removeprefix("or ") != first.text]
        return found.with_hints(
            first, *(replace(h, text=f"or {h.text.removeprefix('or ')}") for h in others)
        )

    def with_line_meant(self, named: Named) -> Refusal:
        """The refusal of a crease that runs through the point that should move: first another crease."""
        own, folding = self.with_hints_tried(), self.folding
        before = [one for step in self.program.steps[: self.number] for one in step.body]
        meant = line_meant(named, before, folding.state, folding.names)
        if meant is None or self.end_of(meant[0]) != "":
            return own
        _, first, runs = meant
        if self.refusal.code == "cannot-reach":
            return own.with_hints(first, *(replace(h, text=f"or {h.text}") for h in own.hints))
        kept = (
            replace(h, text=f"or, to fold along the line {runs}, {h.text}") if h.edit else h
            for h in own.hints
        )
        return own.with_hints(first, *(kept if runs else own.hints))
