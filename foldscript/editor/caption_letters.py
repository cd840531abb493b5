"""Where captions speak of a point: in the script, and in the side files that translate it.

In: what is written, and a point with a name. Out: the captions of the steps in which its letter may stand,
the places of it there, and changes to side files, where a translation keeps the sentence that it translates;
or, the other way round, of which point a caption speaks at a place.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from ..captions.side_file import side_files
from ..folding.lettering import is_letter, mentioned_at
from ..source.diagnostics import Edit, FoldscriptError, Source, Span
from ..source.reading import read_file
from ..source.toml_table import Table
from .giving import Kind
from .names import Entity
from .written import Written


@dataclass(frozen=True, slots=True)
class Told:
    """A caption: its text, what stands between its quotes, its span with them, the number of its step."""

    text: str
    raw: str
    span: Span
    step: int


def captions_about(written: Written, entity: Entity) -> Iterator[Told]:
    """The captions of the steps in which a point is known by its name, from that which names it on."""
    given = entity.given
    lettered = entity.kind in (Kind.POINT, Kind.CORNER) and is_letter(entity.name)
    if not lettered or given is None or entity.room.group is not None:
        return
    later = [
        other.given.span.start
        for other in entity.room.entities
        if other is not entity and other.name == entity.name and other.given is not None
    ]
    end = min((at for at in later if at > given.span.start), default=entity.room.span.end)
    first = max(0, written.step_at(given.span.start))
    for number, step in enumerate(written.program.steps[first:], first + 1):
        if entity.room.span.start <= step.span.start < end:
            for caption in step.captions:
                raw = written.source.text[caption.span.start + 1 : caption.span.end - 1]
                yield Told(caption.text, raw, caption.span, number)


def places_in(raw: str, entity: Entity) -> set[int]:
    """Where a text speaks of a point, or of what repeats call after it."""
    known = {other.name for other in entity.room.entities}
    found = set(mentioned_at(raw, entity.name, known))
    for ending in {place.ending for place in entity.places} - {""}:
        name = re.escape(f"{entity.name}{ending}")
        found |= {hit.start() for hit in re.finditer(rf"(?<!\w){name}(?![\w'])", raw)}
    return found


def spans_in_captions(written: Written, entity: Entity) -> set[Span]:
    """Where the script's captions speak of a point, each as the span of its name."""
    length = len(entity.name)
    return {
        Span(at, at + length)
        for caption in captions_about(written, entity)
        for at in (caption.span.start + 1 + k for k in places_in(caption.raw, entity))
    }


def spoken_of(written: Written, offset: int) -> tuple[Entity, Span] | None:
    """The point of which a caption speaks at an offset, also right behind its name, and where."""
    captions = [caption for step in written.program.steps for caption in step.captions]
    if not any(caption.span.start < offset < caption.span.end for caption in captions):
        return None
    return next(
        (
            (entity, span)
            for entity in written.names.entities
            for span in spans_in_captions(written, entity)
            if span.start <= offset <= span.end
        ),
        None,
    )


def in_side_files(
    written: Written, same: Collection[Entity], new: str
) -> Iterator[tuple[Source, list[Edit]]]:
    """The changes to each side file beside the script: a translation goes with its sentence."""
    told = {
        (caption.step, " ".join(caption.text.split())): entity
        for entity in same
        for caption in captions_about(written, entity)
    }
    if not told:
        return
    for path in side_files(written.path).values():
        try:
            table = Table(read_file(path, str(path), "side file"))
        except FoldscriptError:
            continue  # it is told when it is read
        edits = [
            Edit(Span(at, at + len(entity.name)), new)
            for key in table.table("steps")
            for (step, text), entity in told.items()
            for span in _spans(table, key, step, text)
            for at in _places(table.source, span, entity)
        ]
        if edits:
            yield table.source, edits


def _spans(table: Table, key: str, step: int, text: str) -> Iterator[Span]:
    """The texts of an entry that translates a sentence, or has the number of its step."""
    if table.has("steps", key, "of"):
        of = table.value("steps", key, "of")
        if not isinstance(of, str) or " ".join(of.split()) != text:
            return
        found = (table.span("steps", key, "of"), table.span("steps", key, "says"))
    else:
        found = (table.span("steps", key),) if key == str(step) else ()
    yield from (span for span in found if span is not None)


def _places(source: Source, span: Span, entity: Entity) -> list[int]:
    """Where a point stands in a text of a TOML file, quotes and all."""
    raw = source.text[span.start : span.end]
    quotes = len(raw) - len(raw.lstrip("\"'")) if raw else 0
    return sorted(span.start + quotes + at for at in places_in(raw[quotes:], entity))
