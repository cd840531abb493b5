"""The lines nearest to one that its move does not understand: a statement in, it with one thing changed out.

Whoever wrote a line wants it back with the smallest change: its verb, its name and its layers stay, and only
the words that were not understood become others that the move knows. What comes out is tried before it is
shown, so a change may be bold.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from ..source.diagnostics import Span
from ..syntax import nodes

#: Words that say where a fold goes, in the order in which they are tried in the place of one not understood.
_LINKS = ("through", "along", "to", "onto", "between", "under", "into the pocket at", "on", "at")
#: Verbs that are taken for others, in the order in which they are tried.
_VERBS = ("valley", "pleat", "crease", "mark", "cut")
#: Words that read well where the language says nothing.
_IDLE = frozenset(("up", "down", "over", "inwards", "outwards", "inside", "outside"))
_POINTS = (nodes.Name, nodes.Seen, nodes.Fraction, nodes.FractionOfLine, nodes.EndOf, nodes.FromEnd)


def changed(
    statement: nodes.Statement,
    text: str,
    amiss: Span | None,
    forms: Sequence[str],
    tips: Sequence[str],
) -> Iterator[str]:
    """The statement with one change, the smallest first.

    `text` is the script's, `amiss` the words that were not understood (None for the whole line), `forms` how
    the move is written, `tips` the names of points that may be what moves, where nothing is named.
    """
    span, phrases = statement.span, statement.phrases
    known = [w for w in _LINKS if any(re.search(rf"\b{w}\b", form) for form in forms)]

    def line(at: Span, words: str) -> str:
        said = text[span.start : at.start] + words + text[at.end : span.end]
        return re.sub(r"(?<=\S)[ \t]{2,}", " ", said).strip(" ,")

    wrong = [p for p in phrases if amiss is None or _meet(p.span, amiss)]
    bare = [phrase.operands[0].span.start for phrase in phrases if _two_points(phrase)]
    if len(bare) > 1:  # every pair of points is meant for a line: 'along P Q and R S'
        starts = [span.start, *bare]
        said = (text[a:b] for a, b in zip(starts, (*bare, span.end), strict=True))
        yield "line ".join(said)
    for at, ends in _pairs(wrong, phrases):
        for link in ("through", "along line", "line"):
            if link.split()[0] in known or link == "line":
                yield line(
                    at,
                    f"{link} {text[ends[0].start : ends[0].end]} {text[ends[1].start : ends[1].end]}",
                )
    if phrases and _is_edge(phrases[0]):  # it comes to lie along itself through the point
        for goal in phrases[1:]:
            if goal.word in ("to", "onto") and isinstance(goal.operands[0], _POINTS):
                edge, point = (p.operands[0].span for p in (phrases[0], goal))
                words = f"onto line through {text[point.start : point.end]} parallel to "
                yield line(Span(goal.span.start, point.end), words + text[edge.start : edge.end])
                side = text[edge.start : edge.end]
                through = text[point.start : point.end]
                yield line(
                    Span(phrases[0].span.start, point.end),
                    f"along line through {through} parallel to {side}, moving {side}",
                )
    for phrase in wrong:
        if not phrase.word and len(phrase.operands) > 1:
            second = phrase.operands[1].span
            yield from (line(Span(second.start, second.start), f"{link} ") for link in known)
        elif phrase.word and phrase.operands and phrase.word not in ("as", "layers", "through"):
            first = phrase.operands[0].span
            head = Span(phrase.span.start, first.start)
            yield from (line(head, f"{link} ") for link in _nearest(known, phrase))
        if phrase.word in _IDLE:
            yield line(Span(phrase.span.start, _word_end(phrase)), "")
    if phrases and not phrases[0].word and any("moving" in form for form in forms):
        head = phrases[0].span
        rest = " ".join(
            f"{text[span.start : head.start]}{text[head.end : span.end].strip(' ,')}".split()
        )
        yield f"{rest}, moving {text[head.start : head.end]}"
    if phrases and phrases[0].word:
        here = Span(statement.verb_span.end, statement.verb_span.end)
        yield from (line(here, f" {tip}") for tip in tips)


def with_other_verbs(statement: nodes.Statement, text: str) -> Iterator[str]:
    """The statement with another verb: 'pleat into 8 equal parts' for 'crimp into 8 equal parts'."""
    rest = text[statement.verb_span.end : statement.span.end]
    yield from (f"{verb}{rest}" for verb in _VERBS if verb != statement.verb)


def _pairs(
    wrong: Sequence[nodes.Phrase], phrases: Sequence[nodes.Phrase]
) -> Iterator[tuple[Span, tuple[Span, Span]]]:
    """Where two points stand that may be meant for the line through them: their words, and the points."""
    for phrase in wrong:
        points = (
            phrase.operands[1:] if not phrase.word and len(phrase.operands) > 2 else phrase.operands
        )
        if len(points) == 2 and all(isinstance(o, _POINTS) for o in points):
            p, q = (o.span for o in points)
            yield (Span(p.start, q.end) if not phrase.word else phrase.span), (p, q)
        after = phrases[phrases.index(phrase) + 1 :]
        if (
            len(points) == 1
            and after
            and len(after[0].operands) == 1
            and after[0].word in ("and", "to")
        ):
            p, q = points[0], after[0].operands[0]
            if phrase.word and isinstance(p, _POINTS) and isinstance(q, _POINTS):
                yield phrase.span.cover(after[0].span), (p.span, q.span)


def _nearest(links: Sequence[str], phrase: nodes.Phrase) -> list[str]:
    """Words in the place of one, those first that begin as it does; before a line 'onto' comes next."""
    onto = not isinstance(phrase.operands[0], _POINTS)
    others = (link for link in links if link != phrase.word)
    return sorted(
        others, key=lambda link: (not link.startswith(phrase.word), not (onto and link == "onto"))
    )


def _is_edge(phrase: nodes.Phrase) -> bool:
    """Whether a phrase is an edge alone, of the figure or of the sheet."""
    operand = phrase.operands[0] if not phrase.word and len(phrase.operands) == 1 else None
    seen = isinstance(operand, nodes.Seen) and operand.kind == "edge"
    return seen or isinstance(operand, nodes.EdgeOf)


def _two_points(phrase: nodes.Phrase) -> bool:
    """Whether a phrase has two points and nothing that makes them a line."""
    return (
        bool(phrase.word)
        and phrase.word not in ("through", "between", "as")
        and len(phrase.operands) == 2
        and all(isinstance(o, _POINTS) for o in phrase.operands)
    )


def _word_end(phrase: nodes.Phrase) -> int:
    """Where a phrase's connecting word ends."""
    return phrase.operands[0].span.start if phrase.operands else phrase.span.end


def _meet(some: Span, other: Span) -> bool:
    return some.start < other.end and other.start < some.end
