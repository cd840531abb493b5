"""The same statement with another name in it, for one that was refused for what it names: to be tried.

In: a refused statement, the text, the names and the paper as it lies. Out: lines, and hints to write them.
Whether they fold is for whoever asks to find out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from ..geometry.lines import Point, line_through, on_line
from ..geometry.tolerance import same_point
from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, Source, Span, write
from ..syntax import nodes
from ..syntax.whole_lines import Lines
from .resolving.context import is_word
from .resolving.names import Names
from .resolving.scope import Scope

_AT_ANGLE = re.compile(r"\bat (\d+(?:\.\d+)?) degrees to ((?:edge |line )?(\w+) (\w+))")
_UNIT = re.compile(r"\bunit (\d+)\b")


@dataclass(frozen=True)
class Named:
    """A statement and its words, whose names are to be others."""

    statement: nodes.Statement
    source: Source

    @property
    def said(self) -> str:
        """The statement's words."""
        return self.source.text[self.statement.span.start : self.statement.span.end]

    def names(self, *words: str) -> list[nodes.Name]:
        """The names that stand by themselves after these words ('' straight after the verb)."""
        return [
            o
            for p in self.statement.phrases
            if p.word in words
            for o in p.operands
            if isinstance(o, nodes.Name)
        ]

    def renamed(self, other: dict[str, str]) -> str:
        """The words with each of these names put for another, wherever it stands."""
        any_of = "|".join(re.escape(name) for name in other)
        return re.sub(rf"(?<![\w'-])(?:{any_of})(?![\w'-])", lambda m: other[m[0]], self.said)

    def with_ends(self, corners: Sequence[str]) -> Iterator[str]:
        """A triangle with another corner in the place of an end of its base: first of that it lies toward."""
        tip, ends, goal = self.names(""), self.names("between", "and"), self.names("to", "onto")
        if len(tip) != 1 or len(ends) != 2:
            return
        toward = [o.text for o in goal]
        if tip[0].text in {o.text for o in ends} and tip[0].text in corners:
            k = corners.index(tip[0].text)
            sides = (corners[k - 1], corners[(k + 1) % len(corners)])
            between = re.search(r"\bbetween .*? and \S+", self.said)
            for a, b in (sides, sides[::-1]) if between else ():
                start, end = between.span() if between else (0, 0)
                yield f"{self.said[:start]}between {a} and {b}{self.said[end:]}"
        wrong = sorted((o.text for o in ends), key=lambda name: name not in toward)
        fresh = [c for c in corners if c not in (*wrong, tip[0].text)]
        for end, corner in product(wrong, fresh):
            yield self.renamed({end: corner})

    def from_the_other_end(self) -> Iterator[str]:
        """The tip at the far end of the line that it is measured on. A part counted from there stays as
        it is said; one that is counted from the tip is counted from the other tip then.
        """
        for tip in self.names("")[:1]:
            for said in re.finditer(r"\d+/\d+ of (?:line |edge )?(\w+) (\w+)", self.said):
                one, other = said.groups()
                if tip.text == other != one:
                    yield re.sub(rf"\b{tip.text}\b", one, self.said, count=1)
                elif tip.text == one != other:
                    yield self.renamed({tip.text: other, other: tip.text})

    def pushed_in_otherwise(self) -> Iterator[tuple[str, str]]:
        """A sink of a point that is open, as what hands do there: each with its hint."""
        rest = re.sub(r"^(?:open|closed|spread) sink\b", "", self.said)
        if rest == self.said:
            return
        for line, done in (
            (f"inside reverse{rest}", "to push the tip in between its layers"),
            (f"tuck mountain{rest}, inside", "to fold the layer in behind itself"),
            (f"mountain{rest}", "to fold it behind"),
        ):
            yield line, f"{done}, say '{line}'"

    def midway(self, at: Span) -> Iterator[str]:
        """The middle of a line that stands where a point is needed."""
        text, span = self.source.text, self.statement.span
        before, line = text[span.start : at.start], text[at.start : span.end]
        bare = re.sub(r"\bthe\s+$", "", before)
        yield f"{bare}midpoint of {'the ' if bare != before else ''}{line}"

    def at_other_angles(self, corners: Sequence[str]) -> Iterator[tuple[str, str]]:
        """A line at an angle to an edge, with the angle counted from another edge, or opening the other way;
        each with its hint.
        """
        said = _AT_ANGLE.search(self.said)
        if said is None or not {said[3], said[4]} <= set(corners):
            return
        degrees, edges = (
            float(said[1]),
            list(zip(corners, (*corners[1:], *corners[:1]), strict=True)),
        )
        through = re.search(r"\bthrough (\S+)", self.said)
        at = through[1] if through and through[1] in (said[3], said[4]) else said[3]
        others = [one for one in edges if at in one and set(one) != {said[3], said[4]}]
        for a, b in others:
            p, q = (a, b) if a == at else (b, a)
            line = f"{self.said[: said.start(2)]}edge {p} {q}{self.said[said.end() :]}"
            yield line, f"for an angle to edge {p} {q} say '{line}'"
        line = f"{self.said[: said.start(1)]}{180 - degrees:g}{self.said[said.end(1) :]}"
        yield line, f"to open the angle the other way say '{line}'"

    def with_other_crease(self, made: Iterable[str]) -> Iterator[str]:
        """A crease that is named twice, the second time as each of these that is not named."""
        twice = [one.text for one in self.names("along", "", "and")]
        name = next((one for one in twice if twice.count(one) > 1), None)
        if name is None:
            return
        *_, last = re.finditer(rf"(?<![\w'-]){re.escape(name)}(?![\w'-])", self.said)
        for other in made:
            if other not in twice:
                yield f"{self.said[: last.start()]}{other}{self.said[last.end() :]}"

    def one_step_each(self, steps: Sequence[nodes.Step]) -> Iterator[str]:
        """'repeat steps 2 to 3' as 'repeat step 2': of steps with a turn only those that fold, one alone."""
        said = re.search(r"\bsteps (\d+) to (\d+)", self.said)
        if said is None:
            return
        turns = ("turn over", "rotate")
        rows = range(int(said[1]), int(said[2]) + 1)
        left = [n for n in rows if not all(one.verb in turns for one in steps[n - 1].body)]
        if len(left) == 1:
            yield f"{self.said[: said.start()]}step {left[0]}"
            if not self.said.endswith(" behind"):  # what was turned over is in front
                yield f"{self.said[: said.start()]}step {left[0]}{self.said[said.end() :]}"

    def once_more(self) -> Iterator[tuple[str, str]]:
        """'repeat step 2 again' for a repeat elsewhere, with its hint."""
        said = re.match(r"repeat steps? \d+(?: to \d+)?", self.said)
        if said is not None:
            line = f"{said[0]} again"
            yield line, f"for the same words on the paper as it lies now say '{line}'"

    def onto_creases(self, names: Names) -> Iterator[str]:
        """A line that comes to a point: onto each crease through that."""
        for goal in self.names("to", "onto"):
            at, here = names.points.get(goal.text), self._within(goal.span)
            if at is None:
                continue
            before = re.sub(r"\bto\s+$", "onto ", self.said[: here.start])
            for crease, parts in names.creases.items():
                if any(on_line(line_through(*one), at) for one in parts if not same_point(*one)):
                    yield f"{before}{crease}{self.said[here.end :]}"

    def of_units(self, left: Sequence[int]) -> Iterator[str]:
        """Another unit in the place of the one that is placed."""
        placed = _UNIT.search(self.said)
        if placed is None:
            return
        for number in left:
            yield re.sub(rf"\bunit {placed[1]}\b", f"unit {number}", self.said)

    def at_other_units(self, at: Span, laid: Iterable[int]) -> Iterator[str]:
        """A point of a unit that has none of that name, as one of another unit that lies there already."""
        here = self._within(at)
        for number in laid:
            name = re.sub(r"\bunit \d+$", f"unit {number}", self.said[here.start : here.end])
            yield f"{self.said[: here.start]}{name}{self.said[here.end :]}"

    def with_the_upper(self, scope: Scope) -> Iterator[tuple[str, str]]:
        """The corner that lies where another should go, brought to where that one lies; with its hint.

        Of two flaps that overlap, the lower one is easily named for the upper one.
        """
        state, points = scope.state, scope.names.points
        for who, goal in product(self.names("")[:1], self.statement.phrases):
            if who.text not in points or goal.word != "to" or len(goal.operands) != 1:
                continue
            there = self._place(scope, goal.operands[0])
            start, end = (self._within(at) for at in (who.span, goal.operands[0].span))
            for other in state.sheet.corner_names:
                at = points.get(other)
                if at is None or there is None or other == who.text:
                    continue
                if same_point(state.where(at), there):
                    said = self.said
                    between, rest = said[start.end : end.start], said[end.end :]
                    line = f"{said[: start.start]}{other}{between}{who.text}{rest}"
                    yield (
                        line,
                        f"to fold corner {other}, which lies there, the other way say '{line}'",
                    )

    def _place(self, scope: Scope, node: nodes.Operand) -> Point | None:
        try:
            return scope.point(node).at
        except Refusal:
            return None

    def _within(self, at: Span) -> Span:
        return Span(at.start - self.statement.span.start, at.end - self.statement.span.start)


def creases_first(refusal: Refusal, named: Named, state: State, names: Names) -> Iterator[Lines]:
    """An unknown name as that of a crease made in a line before: of two edges, or of two corners.

    Lines that have a name already are left out.
    """
    corners = state.sheet.corner_names
    text, at = named.source.text, refusal.span
    if at is None:
        return
    name = text[at.start : at.end]
    if is_word(name):
        return
    sides = list(zip(corners, (*corners[1:], *corners[:1]), strict=True))
    for (a, b), (c, d) in combinations(sides, 2):
        if not {a, b} & {c, d}:
            yield f"crease edge {a} {b} onto edge {c} {d}, as {name}", named.said
    for p, q in combinations(corners, 2):
        taken = any({p, q} <= set(_met(k, state, names)) for k in names.creases)
        if (p, q) not in sides and (q, p) not in sides and not taken:
            yield f"crease through {p} {q}, as {name}", named.said


def line_meant(
    named: Named, before: Sequence[nodes.Statement], state: State, names: Names
) -> tuple[Lines, Hint, str] | None:
    """The line through two points, where the fold is along a crease that brings the one onto the other.

    Out: lines that fold along it, for a trial; the hint to crease it so; where the crease that was made runs.
    None where the fold is along no such crease.
    """
    along = named.names("along") or named.names("onto")
    made = next(
        (
            one
            for one in reversed(before)
            for p in one.phrases
            if along and p.word == "as"
            for o in p.operands
            if isinstance(o, nodes.Name) and o.text == along[0].text
        ),
        None,
    )
    if made is None or made.verb != "crease":
        return None
    whole = Named(made, named.source)
    ends = [*whole.names(""), *whole.names("to")]
    if [p.word for p in made.phrases] != ["", "to", "as"] or len(ends) != 2:
        return None
    p, q = (end.text for end in ends)
    name = along[0].text
    anew = f"crease through {p} {q} as {name}"
    row = (f"crease through {p} {q}", named.renamed({name: f"line {p} {q}"}))
    number, _ = named.source.position(made.span.start)
    runs = points_along(name, state, names)
    hint = write(
        made.span,
        anew,
        f"line {number} creases {name} where {p} comes onto {q}{f', {runs}' if runs else ''}: "
        f"for the line from {p} to {q} say '{anew}' there",
    )
    return row, hint, runs


def points_along(crease: str, state: State, names: Names) -> str:
    """Which corners of the sheet a crease runs through: 'through B and D'; '' where it runs through none."""
    met = _met(crease, state, names)
    return f"through {' and '.join(met)}" if met else ""


def _met(crease: str, state: State, names: Names) -> list[str]:
    parts = [line_through(*part) for part in names.creases[crease] if not same_point(*part)]
    corners = [c for c in state.sheet.corner_names if c in names.points]
    return [c for c in corners if any(on_line(one, names.points[c]) for one in parts)]
