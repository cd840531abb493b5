"""The shape of a script: its parts, steps and groups, what can be folded away, and the steps' numbers.

In: what is written. Out: the protocol's symbols, folding ranges and inlay hints.
"""

from __future__ import annotations

from collections.abc import Iterator

from lsprotocol import types

from ..source.diagnostics import Span
from ..syntax import nodes
from .giving import Kind
from .names import Entity
from .positions import Positions
from .written import Written

#: Letters of a caption in the outline.
_LONGEST = 60
_SYMBOLS = {
    Kind.POINT: types.SymbolKind.Variable,
    Kind.CREASE: types.SymbolKind.Field,
}


def symbols(written: Written, positions: Positions) -> list[types.DocumentSymbol]:
    """Groups, then the steps under their parts; under a step the names that it gives."""
    steps = [_step(written, positions, k) for k in range(len(written.program.steps))]
    groups = [_group(written, positions, group) for group in written.program.groups]
    parts = written.program.parts
    if not parts:
        return [*groups, *steps]
    found: list[types.DocumentSymbol] = []
    for k, part in enumerate(parts):
        last = parts[k + 1].first if k + 1 < len(parts) else len(steps)
        title = part.title or ("put together" if part.assembles else "part")
        end = max([part.span.end, *(s.span.end for s in written.program.steps[part.first : last])])
        found.append(
            _symbol(
                positions,
                _short(title),
                types.SymbolKind.Namespace,
                Span(part.span.start, end),
                part.span,
                steps[part.first : last],
            )
        )
    return [*groups, *found]


def _step(written: Written, positions: Positions, k: int) -> types.DocumentSymbol:
    step = written.program.steps[k]
    own = next((c.text for c in step.captions if not c.language), "")
    moves = ", ".join(dict.fromkeys(statement.verb for statement in step.body))
    given = [
        _symbol(positions, entity.name, _SYMBOLS[entity.kind], place.span, place.span)
        for entity in written.names.entities
        if (place := entity.given) is not None and _within(entity, step)
    ]
    return _symbol(
        positions,
        _short(f"{k + 1}. {own or moves}"),
        types.SymbolKind.Event,
        step.span,
        Span(step.span.start, step.span.start + len("step")),
        given,
    )


def _within(entity: Entity, step: nodes.Step) -> bool:
    place = entity.given
    return (
        entity.kind in _SYMBOLS
        and place is not None
        and step.span.start <= place.span.start < step.span.end
    )


def _group(written: Written, positions: Positions, group: nodes.Group) -> types.DocumentSymbol:
    name = f"group {group.name.text}"
    return _symbol(positions, name, types.SymbolKind.Module, group.span, group.name.span)


def _symbol(
    positions: Positions,
    name: str,
    kind: types.SymbolKind,
    span: Span,
    chosen: Span,
    children: list[types.DocumentSymbol] | None = None,
) -> types.DocumentSymbol:
    around = span.cover(chosen)
    return types.DocumentSymbol(
        name, kind, positions.range(around), positions.range(chosen), children=children or None
    )


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1].rstrip()}…"


def foldings(written: Written) -> list[types.FoldingRange]:
    """Steps, groups and parts of more than one line, statements that go on, and rows of comments."""
    spans = [one.span for one in (*written.program.steps, *written.program.groups)]
    spans.extend(line.span for line in written.lines)
    parts = written.program.parts
    for k, part in enumerate(parts):
        last = parts[k + 1].first if k + 1 < len(parts) else len(written.program.steps)
        own = written.program.steps[part.first : last]
        spans.append(Span(part.span.start, max([part.span.end, *(s.span.end for s in own)])))
    found = {}
    for span in spans:
        first, last = written.source.position(span.start)[0], written.source.position(span.end)[0]
        if last > first:
            found[first - 1] = max(found.get(first - 1, 0), last - 1)
    rows = [types.FoldingRange(first, last) for first, last in sorted(found.items())]
    return [*rows, *_comments(written)]


def _comments(written: Written) -> Iterator[types.FoldingRange]:
    lines = [line.lstrip().startswith("#") for line in written.source.text.split("\n")]
    first: int | None = None
    for number, comment in enumerate((*lines, False)):
        if comment and first is None:
            first = number
        elif not comment and first is not None:
            if number - first > 1:
                yield types.FoldingRange(first, number - 1, kind=types.FoldingRangeKind.Comment)
            first = None


def numbers(written: Written, positions: Positions, asked: Span) -> list[types.InlayHint]:
    """The number of each step in a span, behind the word that begins it."""
    return [
        types.InlayHint(
            positions.position(step.span.start + len("step")),
            str(k),
            padding_left=True,
            tooltip=f"step {k} of {len(written.program.steps)}",
        )
        for k, step in enumerate(written.program.steps, 1)
        if asked.start <= step.span.start <= asked.end
    ]
