"""Names and operands: what the script's words stand for on the paper as it lies now.

In: operand nodes and a state. Out: the values that moves work with, or a `Refusal` with the word's
span. Points are places on the sheet, so a name given early still works late.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.constructions import NoCrease, line_to_line
from ...geometry.isometries import inverse, map_segment, rotation
from ...geometry.lines import Line, Point, Segment
from ...geometry.tolerance import EPS, same, same_point
from ...languages.wording import Number, Phrase, phrase
from ...moves.planning import called
from ...moves.planning.called import Kind
from ...moves.planning.request import (
    LineValue,
    MoveRecord,
    PointValue,
    Quantity,
    Quoted,
    Steps,
    Value,
)
from ...paper import silhouette
from ...paper.state import State
from ...source.diagnostics import Refusal, Span
from ...syntax import nodes
from ...syntax.craft_words import instead
from . import caption_names as saying
from . import measures, middles
from .names import Names, bent_edge, line_to_write, tell_apart
from .spans import by_line, equal_parts, hull, rim_side


@dataclass(frozen=True)
class Scope:
    """Looks operands up on one state; `history` is how it came to lie so."""

    state: State
    names: Names
    history: Sequence[MoveRecord] = ()

    def value(self, node: nodes.Operand, *, whole: bool = False) -> Value:
        """The operand's value, a point or a line or an amount.

        With `whole`, a named crease need not lie along one line.
        """
        match node:
            case nodes.Amount():
                return Quantity(node.value, node.unit, node.span)
            case nodes.StepRange():
                return Steps(node.first, node.last, node.span)
            case nodes.Text():
                return Quoted(node.text, node.span)
            case nodes.Name():
                if node.text in self.names.creases or node.text in self.names.held_lines:
                    return self._crease(node, whole=whole)
                return self.point(node)
            case nodes.Seen():
                return self.point(node) if node.kind in ("corner", "centre") else self.line(node)
            case (
                nodes.Fraction()
                | nodes.FractionOfLine()
                | nodes.FromEnd()
                | nodes.Meeting()
                | nodes.TopLayerAt()
                | nodes.BottomLayerAt()
            ):
                return self.point(node)
            case _:
                return self.line(node)

    # -- points

    def point(self, node: nodes.Operand) -> PointValue:
        """The operand as a point."""
        match node:
            case nodes.Name():
                return self._named_point(node)
            case nodes.Seen():
                return self._seen_point(node)
            case nodes.Fraction():
                return self._fraction(node)
            case nodes.FractionOfLine():
                return measures.part_of_line(self, node)
            case nodes.FromEnd():
                return measures.from_end(self, node)
            case nodes.Meeting():
                return self._meeting(node)
            case nodes.TopLayerAt():
                return self._layer(self.point(node.point), node.span, top=True)
            case nodes.BottomLayerAt():
                return self._layer(self.point(node.point), node.span, top=False)
            case _:
                raise Refusal("not-a-point", "a point is needed here", span=node.span)

    def _named_point(self, node: nodes.Name) -> PointValue:
        if node.text in self.names.held_points:
            place, said = self.names.held_points[node.text]
            return self.on_sheet(place, said, node.span)
        sheet = self.names.points.get(node.text)
        if sheet is None:
            if node.text in self.names.creases:
                raise Refusal(
                    "not-a-point",
                    f"'{node.text}' is a crease; a point is needed here",
                    "mark a point on it first",
                    span=node.span,
                )
            raise self._unknown(node)
        corner = node.text in self.state.sheet.corner_names
        words = called.corner(node.text) if corner else called.point(node.text)
        return self.on_sheet(sheet, words, node.span, node.text)

    def _unknown(self, node: nodes.Name) -> Refusal:
        known = self.names.known()
        near = difflib.get_close_matches(node.text, known, 1, 0.6)
        hint = instead(node.text, known) or (
            f"did you mean '{near[0]}'?"
            if near
            else f"names known here: {', '.join(sorted(known)[:20])}"
        )
        return Refusal("unknown-name", f"nothing is called '{node.text}' yet", hint, span=node.span)

    def on_sheet(self, sheet: Point, words: Phrase, span: Span, letter: str = "") -> PointValue:
        """A place on the sheet as it lies now."""
        carriers = self.state.top_down(self.state.facets_on_sheet(sheet))
        return PointValue(self.state.where(sheet), carriers, sheet, words, span, letter)

    def at(
        self, spot: Point, words: Phrase, span: Span, carriers: tuple[int, ...] = ()
    ) -> PointValue:
        """A place in the folded plane: on the topmost paper there, or on `carriers`."""
        found: tuple[int, ...] = carriers if carriers else self.state.facets_at(spot)
        sheet = inverse(self.state.facets[found[0]].place)(spot) if found else None
        return PointValue(spot, found, sheet, words, span)

    def _seen_point(self, node: nodes.Seen) -> PointValue:
        if node.kind == "centre":
            return self.at(
                middles.middle(self.state, self.history), Phrase("the centre"), node.span
            )
        if node.kind != "corner":
            raise Refusal("not-a-point", "a point is needed here", span=node.span)
        found = silhouette.corners_toward(self.state, node.toward)
        words = " ".join(node.toward)
        if len(found) > 1:
            shown = tell_apart(self.state, self.names, found)
            raise Refusal(
                "two-candidates",
                f"there are {len(found)} {words} corners, equally far that way: {shown}",
                "say which, such as 'bottom left corner', or name it",
                span=node.span,
            )
        told = called.seen(Kind.CORNER, node.toward)
        return replace(self.at(next(iter(found)), told, node.span), seen=True)

    def _fraction(self, node: nodes.Fraction) -> PointValue:
        p, q = self.point(node.start), self.point(node.end)
        if node.edge:
            self.rim_of(p, q, node.start.span.cover(node.end.span))
        t = node.numerator / node.denominator
        words = saying.between(p, q, node.numerator, node.denominator, rim=self._on_rim(p, q))
        found = self.on_way(p, q, t, words, node.span)
        return replace(found, parts=equal_parts(p.at, q.at, node.denominator))

    def on_way(
        self, p: PointValue, q: PointValue, t: float, words: Phrase, span: Span
    ) -> PointValue:
        """The point at a part of the way from p to q."""
        if p.sheet is not None and q.sheet is not None and self.go_together(p, q):
            return self.on_sheet(geo.between(p.sheet, q.sheet, t), words, span)
        return self.at(geo.between(p.at, q.at, t), words, span)

    def way_words(self, p: PointValue, q: PointValue) -> Phrase:
        """What the way between two points is called: an edge where both lie on one."""
        return saying.edge(p, q) if self._on_rim(p, q) else saying.through(p, q)

    def _on_rim(self, p: PointValue, q: PointValue) -> bool:
        if p.sheet is None or q.sheet is None:
            return False
        return rim_side(self.state.sheet, p.sheet, q.sheet) is not None

    def rim_of(self, p: PointValue, q: PointValue, span: Span) -> Segment:
        """The ends on the sheet of the edge between two points. Raises Refusal when there is none."""
        if p.sheet is None or q.sheet is None or not self._on_rim(p, q):
            raise Refusal(
                "not-an-edge",
                f"{p.words.render()} and {q.words.render()} do not lie on one edge of the sheet",
                f"for the straight line through two points say '{line_to_write(p, q)}'",
                span=span,
            )
        return p.sheet, q.sheet

    def go_together(self, p: PointValue, q: PointValue) -> bool:
        """Whether the way from p to q on the sheet is straight in the folded model too."""
        if p.sheet is None or q.sheet is None:
            return False
        return self._on_rim(p, q) or same(geo.distance(p.sheet, q.sheet), geo.distance(p.at, q.at))

    def _meeting(self, node: nodes.Meeting) -> PointValue:
        a, b = self.line(node.first), self.line(node.second)
        for value in (a, b):
            if value.others:
                raise Refusal(
                    "several-lines",
                    "two lines fit these words: say which one first",
                    "crease it, name the crease with 'as', and use that name",
                    span=value.span,
                )
        spot = geo.meet(a.line, b.line)
        if spot is None:
            raise Refusal("lines-never-meet", "these two lines never meet", span=node.span)
        words = phrase("where {a} meets {b}", a=a.words, b=b.words)
        here = self.state.facets_at(spot)
        both = tuple(i for i in here if i in a.facets and i in b.facets)
        either = tuple(i for i in here if i in a.facets or i in b.facets)
        return self.at(spot, words, node.span, both if both else either)

    def _layer(self, p: PointValue, span: Span, *, top: bool) -> PointValue:
        stack = self.state.facets_at(p.at)
        if not stack:
            raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=span)
        ordered = stack if top else stack[::-1]
        words = phrase("the top layer at {p}" if top else "the bottom layer at {p}", p=p.words)
        return PointValue(
            p.at, ordered, inverse(self.state.facets[ordered[0]].place)(p.at), words, span, p.letter
        )

    # -- lines

    def line(self, node: nodes.Operand) -> LineValue:
        """The operand as a line."""
        match node:
            case nodes.Name():
                return self._crease(node)
            case nodes.Seen():
                return self._seen_line(node)
            case nodes.EdgeOf():
                return self._edge(node)
            case nodes.LineThrough():
                return self._line_through(node)
            case nodes.LineSquareTo():
                p, to = self.point(node.through), self.line(node.to)
                words = phrase(
                    "the line through {p} at a right angle to {line}", p=p.words, line=to.words
                )
                return self.drawn(geo.perpendicular_at(to.line, p.at), words, node.span, p)
            case nodes.LineParallelTo():
                p, to = self.point(node.through), self.line(node.to)
                words = phrase("the line through {p} parallel to {line}", p=p.words, line=to.words)
                return self.drawn(geo.parallel_at(to.line, p.at), words, node.span, p)
            case nodes.LineAtAngle():
                return self._at_angle(node)
            case nodes.LineBisecting():
                return self._bisecting(node)
            case nodes.LineApart():
                return measures.line_apart(self, node)
            case _:
                raise Refusal("not-a-line", "a line is needed here", span=node.span)

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

    def _at_angle(self, node: nodes.LineAtAngle) -> LineValue:
        p, to = self.point(node.through), self.line(node.to)
        base = to.line.direction
        if base[0] < -EPS or (abs(base[0]) <= EPS and base[1] < 0):
            base = (-base[0], -base[1])
        turned = rotation(math.radians(node.degrees))(base)
        words = phrase(
            "the line through {p} at {n} degrees to {line}",
            p=p.words,
            n=Number(f"{node.degrees:g}"),
            line=to.words,
        )
        return self.drawn(geo.line_at(p.at, turned), words, node.span, p)

    def _bisecting(self, node: nodes.LineBisecting) -> LineValue:
        a, b = self.line(node.first), self.line(node.second)
        words = phrase("the line halfway between {a} and {b}", a=a.words, b=b.words)
        try:
            found = line_to_line(a.line, b.line)
        except NoCrease:
            raise Refusal("same-line", "the two lines are one", span=node.span) from None
        drawn = self.drawn(found[0].line, words, node.span)
        return LineValue(
            drawn.line,
            drawn.segment,
            drawn.facets,
            words,
            node.span,
            (*a.letters, *b.letters),
            tuple(c.line for c in found[1:]),
        )

    def _line_through(self, node: nodes.LineThrough) -> LineValue:
        p, q = self.point(node.start), self.point(node.end)
        if same_point(p.at, q.at):
            raise Refusal(
                "same-point",
                f"{p.words.render()} and {q.words.render()} lie on each other now, so they fix no line",
                "name two points that lie apart",
                span=node.span,
            )
        common = tuple(f for f in p.facets if f in q.facets)
        letters = tuple((v.letter, v.at) for v in (p, q) if v.letter)
        words = saying.through(p, q)
        carriers = common if common else self.state.top_down({*p.facets, *q.facets})
        return LineValue(
            geo.line_through(p.at, q.at), (p.at, q.at), carriers, words, node.span, letters
        )

    def _crease(self, node: nodes.Name, *, whole: bool = False) -> LineValue:
        held, said = self.names.held_lines.get(node.text, (None, None))
        segments = held or self.names.creases.get(node.text)
        if segments is None:
            if node.text in self.names.points:
                raise Refusal(
                    "not-a-line",
                    f"'{node.text}' is a point; a line is needed here",
                    f"say 'line {node.text} ...' with a second point",
                    span=node.span,
                )
            raise self._unknown(node)
        placed: list[tuple[int, Segment]] = []
        for i, facet in enumerate(self.state.facets):
            for seg in segments:
                piece = polygons.clip_segment(facet.outline, seg)
                if piece is not None:
                    placed.append((i, map_segment(facet.place, piece)))
        groups = by_line(placed)
        if len(groups) != 1 and not whole:
            shown = f"crease '{node.text}'"
            raise Refusal(
                "bent-crease",
                f"{said.render() if said else shown} does not lie along one line "
                f"now: it lies along {len(groups)}",
                "mark two points on the part you mean and say 'line P Q'",
                span=node.span,
            )
        line, members = groups[0]
        segment = hull([seg for _, seg in members])
        carriers = self.state.top_down({i for i, _ in members})
        words = said or saying.crease(
            self.state, self.names, node.text, line, segment or placed[0][1]
        )
        return LineValue(
            line,
            segment,
            carriers,
            words,
            node.span,
            name="" if said else node.text,
            creases=segments,
        )

    def _seen_line(self, node: nodes.Seen) -> LineValue:
        if node.kind == "centre line":
            return self._centre_line(node)
        if node.kind != "edge":
            raise Refusal("not-a-line", "a line is needed here", span=node.span)
        found = silhouette.edges_toward(self.state, node.toward)
        words = " ".join(node.toward)
        if not found:
            raise Refusal(
                "no-such-edge",
                f"no edge of the model faces the {words} now",
                "name the edge by a corner direction, such as 'bottom left edge'",
                span=node.span,
            )
        if len(found) > 1:
            shown = tell_apart(self.state, self.names, [geo.midpoint(*s) for s in found])
            raise Refusal(
                "two-candidates",
                f"{len(found)} edges face the {words} equally: {shown}",
                "say which, such as 'bottom left edge'",
                span=node.span,
            )
        segment = next(iter(found))
        carriers = [
            i
            for i, placed in enumerate(self.state.placed)
            if any(geo.overlap_of(segment, side) is not None for side in polygons.edges(placed))
        ]
        return LineValue(
            geo.line_through(*segment),
            segment,
            self.state.top_down(carriers),
            called.seen(Kind.EDGE, node.toward),
            node.span,
        )

    def _centre_line(self, node: nodes.Seen) -> LineValue:
        level = "horizontal" in node.toward
        line = middles.middle_line(self.state, self.history, level=level)
        words = (
            Phrase("the horizontal centre line") if level else Phrase("the vertical centre line")
        )
        return self.drawn(line, words, node.span)

    def _edge(self, node: nodes.EdgeOf) -> LineValue:
        p, q = self.point(node.start), self.point(node.end)
        rim = self.rim_of(p, q, node.span)
        if same_point(*rim):
            raise Refusal("same-point", "an edge needs two different points", span=node.span)
        if not same(geo.distance(p.at, q.at), geo.distance(*rim)):
            raise bent_edge(self.state, self.names, p, q, node.span)
        carriers = [i for i, seg in self.state.raw_edges if geo.overlap_of(rim, seg) is not None]
        letters = tuple((v.letter, v.at) for v in (p, q) if v.letter)
        words = saying.edge(p, q)
        return LineValue(
            geo.line_through(p.at, q.at),
            (p.at, q.at),
            self.state.top_down(set(carriers)),
            words,
            node.span,
            letters,
        )
