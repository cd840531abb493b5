"""What operands are looked up on: the paper as it lies, the names given, and how it came to lie so.

In: places on the sheet or in the folded plane. Out: the points and lines that moves work with. How the
kinds of operands become such values is said in `point_operands`, `line_operands` and `measures`; these
need each other (a point may be where two lines meet, a line may run through two points), so each is
given a `Context`, which knows how to look up any operand.
"""

from __future__ import annotations

import difflib
from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.isometries import inverse
from ...geometry.lines import Line, Point, Segment
from ...geometry.tolerance import same, same_point
from ...languages.wording import Phrase
from ...moves.planning.request import LineValue, MoveRecord, PointValue
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, Span, write
from ...syntax import nodes
from ...syntax.craft_words import instead
from . import caption_names
from .names import Names, line_to_write
from .spans import hull, rim_side
from .words_for import tell_points


@dataclass(frozen=True)
class Context(ABC):
    """One state of the paper, the script's names, and the history that led to the state."""

    state: State
    names: Names
    history: Sequence[MoveRecord] = ()

    @abstractmethod
    def point(self, node: nodes.Operand) -> PointValue:
        """The operand as a point. Raises Refusal."""

    @abstractmethod
    def line(self, node: nodes.Operand) -> LineValue:
        """The operand as a line. Raises Refusal."""

    def on_sheet(self, sheet: Point, words: Phrase, span: Span, letter: str = "") -> PointValue:
        """A place on the sheet as it lies now. Raises Refusal where a cut has parted it."""
        try:
            at, *apart = self.state.places(sheet)
        except ValueError:
            raise Refusal(
                "cut-off",
                f"{words.render()} is no place on the paper that is left: it has been cut off",
                "name a place on the paper that is left",
                span=span,
            ) from None
        if apart:
            others = self.names.copy()  # a name of this very place would not tell the sides apart
            for name in [k for k, p in others.points.items() if same_point(p, sheet)]:
                del others.points[name]
            told = tell_points(self.state, others, (at, *apart), span)
            raise Refusal(
                "on-a-cut",
                f"{words.render()} lies on a cut, and the two sides of the cut lie apart now: {told.shown}",
                *told.hints,
                "or mark a point beside the cut, on the side that is meant",
                span=span,
            )
        carriers = self.state.top_down(self.state.facets_on_sheet(sheet))
        return PointValue(at, carriers, sheet, words, span, letter)

    def at(
        self, spot: Point, words: Phrase, span: Span, carriers: tuple[int, ...] = ()
    ) -> PointValue:
        """A place in the folded plane: on the topmost paper there, or on `carriers`."""
        found: tuple[int, ...] = carriers if carriers else self.state.facets_at(spot)
        sheet = inverse(self.state.facets[found[0]].place)(spot) if found else None
        return PointValue(spot, found, sheet, words, span)

    def drawn(self, line: Line, words: Phrase, span: Span, *through: PointValue) -> LineValue:
        """A line that is not on the paper yet; it crosses whatever lies there."""
        pieces = [
            (i, seg)
            for i, placed in enumerate(self.state.placed)
            if (seg := polygons.clip_line(placed, line)) is not None
        ]
        segment = hull([seg for _, seg in pieces])
        carriers = self.state.top_down([i for i, _ in pieces])
        letters = tuple((p.letter, p.at) for p in through if p.letter)
        return LineValue(line, segment, carriers, words, span, letters)

    def on_way(
        self, p: PointValue, q: PointValue, t: float, words: Phrase, span: Span, *, as_lies: bool
    ) -> PointValue:
        """The point at a part of the way from p to q."""
        if p.sheet is not None and q.sheet is not None and self.along_sheet(p, q, as_lies=as_lies):
            return self.on_sheet(geo.between(p.sheet, q.sheet, t), words, span)
        return self.at(geo.between(p.at, q.at, t), words, span)

    def along_sheet(self, p: PointValue, q: PointValue, *, as_lies: bool) -> bool:
        """Whether the way from p to q is measured on the sheet.

        It is while it is straight in the folded model too. An edge of the sheet that is folded between the
        two is measured round its folds, but (with `as_lies`) straight from where the one lies to the other.
        """
        if p.sheet is None or q.sheet is None:
            return False
        straight = same(geo.distance(p.sheet, q.sheet), geo.distance(p.at, q.at))
        return straight or (self.on_rim(p, q) and not as_lies)

    def way_words(self, p: PointValue, q: PointValue, *, as_lies: bool) -> Phrase:
        """What the way between two points is called: an edge where it is measured along one."""
        edge = self.on_rim(p, q) and self.along_sheet(p, q, as_lies=as_lies)
        return caption_names.edge(p, q) if edge else caption_names.through(p, q)

    def on_rim(self, p: PointValue, q: PointValue) -> bool:
        """Whether two points lie on one edge of the sheet."""
        if p.sheet is None or q.sheet is None:
            return False
        return rim_side(self.state.sheet, p.sheet, q.sheet) is not None

    def rim_of(self, p: PointValue, q: PointValue, span: Span, *, whole: bool = True) -> Segment:
        """The ends on the sheet of the edge between two points. Raises Refusal when there is none.

        `whole` tells whether the span takes in the word 'edge'.
        """
        if p.sheet is None or q.sheet is None or not self.on_rim(p, q):
            line = line_to_write(p, q)
            straight = f"for the straight line through two points say '{line}'"
            raise Refusal(
                "not-an-edge",
                f"{p.words.render()} and {q.words.render()} do not lie on one edge of the sheet",
                *self._edges_at(p, q),
                write(span, line, straight) if whole and p.letter and q.letter else straight,
                span=span,
            )
        return p.sheet, q.sheet

    def _edges_at(self, p: PointValue, q: PointValue) -> tuple[str, ...]:
        """Between which corners the edges run that start at a corner from which none runs to another."""
        names = self.state.sheet.corner_names
        if p.letter not in names or q.letter not in names:
            return ()
        at = names.index(p.letter)
        ends = (names[at - 1], names[(at + 1) % len(names)])
        return (
            f"corners are named round the sheet: the edges at {p.letter} are "
            + " and ".join(f"'edge {p.letter} {end}'" for end in ends),
        )

    def unknown(self, node: nodes.Name) -> Refusal:
        """Says that nothing has this name, and what may have been meant."""
        if node.text in self.names.gone:
            raise Refusal(
                "cut-off",
                f"'{node.text}' was cut off in step {self.names.gone[node.text]}",
                "name a place on the paper that is left, by eye as in 'bottom left corner', or mark one",
                span=node.span,
            )
        known = self.names.known()
        near = difflib.get_close_matches(node.text, known, 1, 0.6)
        told = instead(node.text, known)
        hints: tuple[str | Hint, ...] = (told,)
        if not told and near:
            hints = (write(node.span, near[0], f"did you mean '{near[0]}'?"),)
        elif not told:
            row = ", ".join(sorted(known)[:20])
            known_here = (f"names known here: {row}",) if row else ()
            hints = (
                f"a new point gets its name first: 'mark {node.text} at ...', "
                f"and a crease where it is made: '... as {node.text}'",
                *known_here,
            )
            if is_word(node.text):
                hints = (
                    f"leave it out, or say it otherwise, if '{node.text}' is not meant as a name",
                    f"if it is: a crease gets its name where it is made, '... as {node.text}', "
                    f"a point with 'mark {node.text} at ...'",
                    *known_here,
                )
        return Refusal(
            "unknown-name", f"nothing is called '{node.text}' yet", *hints, span=node.span
        )


def is_word(text: str) -> bool:
    """Whether a word that is no name is more likely meant as a word of the language than as a name."""
    return text.islower() and len(text) > 2
