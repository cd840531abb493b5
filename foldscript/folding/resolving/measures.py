"""Places by a length: points so far from the end of a line, lines so far from another one.

In: operand nodes that hold a length, and the context that looks up what else they name. Out: points and
lines, with words that keep the unit of the script; or a `Refusal` that says how long the line is.
"""

from __future__ import annotations

from dataclasses import replace

from ...geometry import lines as geo
from ...geometry.lines import Line, Segment
from ...geometry.tolerance import EPS, same_point
from ...languages.wording import Number, Phrase, phrase, plural
from ...moves.planning.request import LineValue, PointValue
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, Span, write
from ...syntax import nodes
from . import caption_names, landmarks
from .context import Context
from .eye import by_eye
from .names import locate
from .spans import SIDE_WORDS, ends_by_side, from_left
from .words_for import lines_ending_at

MM_PER = {"mm": 1.0, "cm": 10.0, "inches": 25.4}


def said_length(length: nodes.Length) -> Phrase:
    """'2 cm', '1/2 inch', '2 1/2 inches', as the script has it."""
    number = Number(length.number)
    if length.unit == "mm":
        return phrase("{n} mm", n=number)
    if length.unit == "cm":
        return phrase("{n} cm", n=number)
    several = 1 if length.mm <= MM_PER["inches"] else 2
    return plural("{size} inch", "{size} inches", several, size=number)


def measured(mm: float, unit: str) -> str:
    """A length in the unit that the script uses, for a message: '10.61 cm'."""
    value = round(mm / MM_PER[unit], 1 if unit == "mm" else 2)
    return f"{value:g} {unit}"


def _millimetres(length: nodes.Length, reach: float) -> tuple[Hint, ...]:
    """The same number of millimetres for one of centimetres that is longer than the paper reaches (mm)."""
    words = f"{length.number} mm"
    shorter = length.unit == "cm" and length.mm / 10 < reach
    return (
        (write(length.span, words, f"if millimetres are meant, say '{words}'"),) if shorter else ()
    )


def part_of_line(context: Context, node: nodes.FractionOfLine) -> PointValue:
    """The point at a part of a line, from its left end, or from its lower one when it is upright."""
    if isinstance(node.line, nodes.Name) and context.names.is_point(node.line.text):
        raise Refusal(
            "not-a-line",
            f"'{node.line.text}' is one point, and a part of a way has two ends",
            f"say both ends: '1/3 of {node.line.text} P'",
            span=node.line.span,
        )
    line = context.line(node.line)
    if line.segment is None:
        raise Refusal("no-ends", "this line has no ends to measure from", span=node.line.span)
    start, end = from_left(line.segment)
    spot = geo.between(start, end, node.numerator / node.denominator)
    words = caption_names.along(line.words, (start, end), node.numerator, node.denominator)
    carriers = tuple(i for i in context.state.facets_at(spot) if i in line.facets)
    found = context.at(spot, words, node.span, carriers)
    parts = (node.numerator, node.denominator)
    signs = landmarks.part(start, end, spot, *parts, context.state.sheet.unit_mm)
    return replace(found, found=(*signs, *line.found))


def end_of_line(context: Context, node: nodes.EndOf) -> PointValue:
    """The left, right, upper or lower end of a line, where it stops on the paper as that lies.

    Raises Refusal where the line has no such end: a level one has none above the other.
    """
    if isinstance(node.line, nodes.Name) and context.names.is_point(node.line.text):
        raise Refusal(
            "not-a-line",
            f"'{node.line.text}' is a point, and has no ends",
            "name an edge or a crease, as in 'right end of the top edge'",
            span=node.line.span,
        )
    line = context.line(node.line)
    if line.segment is None:
        raise Refusal("no-ends", "this line has no ends on the paper", span=node.line.span)
    ends = ends_by_side(line.segment)
    if node.toward not in ends:
        word = Span(node.span.start, node.line.span.start)
        one, other = (f"{SIDE_WORDS[side]} end of" for side in ends)
        raise Refusal(
            "no-such-end",
            f"{line.words.render()} has no {SIDE_WORDS[node.toward]} end: it runs "
            f"{'level' if 'left' in ends else 'upright'}",
            write(word, f"{one} ", f"say '{one}'"),
            write(word, f"{other} ", f"or say '{other}'"),
            span=node.span,
        )
    spot = ends[node.toward]
    words = caption_names.end(node.toward, line.words)
    if isinstance(node.line, nodes.Seen):  # the eye sees what lies uppermost there
        return replace(context.at(spot, words, node.span), seen=True)
    carriers = tuple(i for i in context.state.facets_at(spot) if i in line.facets)
    return context.at(spot, words, node.span, carriers)


def from_end(context: Context, node: nodes.FromEnd) -> PointValue:
    """The point so far from an end of a line. Raises Refusal where the line is shorter."""
    start = context.point(node.start)
    if isinstance(node.line, nodes.EdgeOf | nodes.LineThrough):
        p, q = context.point(node.line.start), context.point(node.line.end)
        if isinstance(node.line, nodes.EdgeOf):
            context.rim_of(p, q, node.line.span)
        as_lies = isinstance(node.line, nodes.LineThrough) and (
            not node.bare or by_eye(context, node.line)
        )
        line_words = context.way_words(p, q, as_lies=as_lies)
        if not _starts(start, p):
            p, q = q, p
        if not _starts(start, p):
            raise _no_end(node, start, line_words, (p.at, q.at), (p, q))
        on_sheet = context.along_sheet(p, q, as_lies=as_lies)
        ends = (p.sheet, q.sheet) if on_sheet else (p.at, q.at)
        t = _part(context.state, node, line_words, geo.distance(*ends))  # type: ignore[arg-type]
        words = _words(node, start, line_words)
        found = context.on_way(p, q, t, words, node.span, as_lies=as_lies)
        unit_mm = context.state.sheet.unit_mm
        signs = landmarks.from_either(q, p, found, unit_mm)
        if same_point(found.at, geo.between(p.at, q.at, t)):
            signs = (landmarks.measure(p.at, found.at, node.length),)
        return replace(found, found=(*signs, *p.found, *q.found))
    line = context.line(node.line)
    if line.segment is None:
        raise Refusal("no-ends", "this line has no ends to measure from", span=node.line.span)
    first, second = line.segment
    if not same_point(first, start.at):
        first, second = second, first
    if not same_point(first, start.at):
        raise _no_end_of_seen(context, node, start, line)
    t = _part(context.state, node, line.words, geo.distance(first, second))
    spot = geo.between(first, second, t)
    carriers = tuple(i for i in context.state.facets_at(spot) if i in line.facets)
    at = context.at(spot, _words(node, start, line.words), node.span, carriers)
    return replace(at, found=(landmarks.measure(first, spot, node.length), *line.found))


def _words(node: nodes.FromEnd, start: PointValue, line: Phrase) -> Phrase:
    return phrase(
        "the point {length} from {end} on {line}",
        length=said_length(node.length),
        end=start.words,
        line=line,
    )


def _starts(start: PointValue, end: PointValue) -> bool:
    """Whether the length is measured from this end."""
    return same_point(start.at, end.at)


def _part(state: State, node: nodes.FromEnd, line: Phrase, whole: float) -> float:
    """Which part of the whole the length is."""
    wanted = node.length.mm / state.sheet.unit_mm
    if wanted > whole + EPS:
        long = measured(whole * state.sheet.unit_mm, node.length.unit)
        asked = measured(node.length.mm, node.length.unit)
        raise Refusal(
            "too-long",
            f"{line.render()} is {long} long: no point of it lies {asked} from its end",
            "say a shorter length, or a part such as '1/4 of'",
            span=node.length.span,
        )
    return min(wanted / whole, 1.0) if whole > EPS else 0.0


def _no_end(
    node: nodes.FromEnd,
    start: PointValue,
    line: Phrase,
    ends: Segment,
    named: tuple[PointValue, ...] = (),
) -> Refusal:
    """The length is measured from a point that is no end of the line."""
    letters = [p.letter for p in named if p.letter]
    said = start.words.render()
    if geo.point_on_segment(ends, start.at) and not any(same_point(e, start.at) for e in ends):
        message = f"{said} lies between the ends of {line.render()}, so it does not say which way to measure"
        kind = "edge" if isinstance(node.line, nodes.EdgeOf) else "line"
        hint = (
            f"say '{kind} {start.letter} {letters[1]}' or '{kind} {start.letter} {letters[0]}' "
            "for the part you mean"
            if start.letter and len(letters) == 2
            else "mark the point and an end of the line, and say 'line P Q' for the part you mean"
        )
    else:
        message = f"{said} is no end of {line.render()}"
        hint = (
            f"measure from {letters[0]} or from {letters[1]}"
            if len(letters) == 2
            else "name the point at one of its ends, such as the corner that lies there"
        )
    return Refusal("not-an-end", message, hint, span=node.start.span)


def _no_end_of_seen(
    context: Context, node: nodes.FromEnd, start: PointValue, line: LineValue
) -> Refusal:
    """The same for an edge of the figure or a crease: with its ends, and lines that end at the point."""
    assert line.segment is not None
    plain = _no_end(node, start, line.words, line.segment)
    said = node.line.text if isinstance(node.line, nodes.Name) else line.words.render()
    ends = {
        f"{SIDE_WORDS[side]} end of {said}": at
        for side, at in list(ends_by_side(line.segment).items())[:2]
    }
    shown = " and ".join(
        f"'{words}' ({locate(context.state, context.names, at)})" for words, at in ends.items()
    )
    hints = [write(node.start.span, words, f"measure from '{words}'") for words in ends]
    others = [
        write(node.line.span, words, f"'{words}' ends at {start.words.render()}")
        for words in lines_ending_at(context.state, context.names, start.at)
    ]
    hints = [*others[:2], *hints]
    hints[1:] = [Hint(f"or {hint.text}", edit=hint.edit) for hint in hints[1:]]
    return Refusal(plain.code, f"{plain.message}; its ends are {shown}", *hints, span=plain.span)


def line_apart(context: Context, node: nodes.LineApart) -> LineValue:
    """The line so far from another one, on the side of the paper that hangs there.

    Where paper lies on both sides, the line on the other side is among the `others`.
    """
    to = context.line(node.to)
    state, away = context.state, node.length.mm / context.state.sheet.unit_mm
    words = phrase("the line {length} from {line}", length=said_length(node.length), line=to.words)
    sides = _sides(state, to)
    base = to.line
    tried = [Line(base.nx, base.ny, base.c + s * away) for s in sides]
    drawn = [context.drawn(line, words, node.span) for line in tried]
    found = [one for one in drawn if one.segment is not None and geo.distance(*one.segment) > EPS]
    if not found:
        unit = node.length.unit
        reach = max(
            s * geo.signed_distance(base, p) for s in sides for q in state.placed for p in q
        )
        raise Refusal(
            "too-long",
            f"the paper reaches {measured(reach * state.sheet.unit_mm, unit)} from "
            f"{to.words.render()}, not {measured(node.length.mm, unit)}",
            *_millimetres(node.length, reach * state.sheet.unit_mm),
            "say a shorter length",
            span=node.length.span,
        )
    first, *more = found
    signs = [landmarks.strip(to, one.segment, node.length) for one in found if one.segment]
    return LineValue(
        first.line,
        first.segment,
        first.facets,
        words,
        node.span,
        to.letters,
        tuple(one.line for one in more),
        found=(*signs, *to.found),
    )


def _sides(state: State, to: LineValue) -> tuple[int, ...]:
    """On which sides of a line the paper lies that carries it, as signs: left or lower first."""
    facets = to.facets or tuple(range(len(state.placed)))
    away = [geo.signed_distance(to.line, p) for i in facets for p in state.placed[i]]
    right = 1 if to.line.nx > EPS or (to.line.nx >= -EPS and to.line.ny > 0) else -1
    found = tuple(s for s in (-right, right) if any(s * d > EPS for d in away))
    return found or (-right, right)
