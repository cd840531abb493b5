"""A point, crease or group called otherwise, wherever it is named, with the captions that speak of it.

In: what is written, a place of it, and the new name. Out: changes to the text, or a FoldscriptError that says
why the new name cannot be. The script means what it meant: what is renamed is known by the new name in the
same places, and nothing else is. The letters of a step's captions are those of its figures, and so change
with them; what a repeat calls after a name follows by itself.
"""

from __future__ import annotations

import re
from pathlib import Path

from ..source.diagnostics import Diagnostic, Edit, FoldscriptError, Source, Span
from ..syntax.grammar import load_grammar
from ..syntax.operands import LONGEST_NAME, read_name
from .caption_letters import in_side_files, spans_in_captions, spoken_of
from .giving import Kind
from .names import Entity, Names, Place, Room
from .written import Written

_IMAGE = re.compile(r"('+|-\d+)$")


def renamable(written: Written, offset: int) -> tuple[Entity, Span]:
    """What is named or spoken of at a place, and the span of its name there, if it can be called otherwise.

    Raises FoldscriptError.
    """
    named = written.names.at(offset)
    found = (named[0], named[1].stem) if named is not None else spoken_of(written, offset)
    if found is None:
        raise _refused(
            written, "nothing-to-rename", "here stands no name of a point, crease or group"
        )
    entity, _ = found
    if entity.given is None:
        what = (
            "a corner that the sheet line does not name: add 'corners named ...' to it"
            if entity.kind is Kind.CORNER
            else "a name that comes from what the script starts from: rename it there"
        )
        raise _refused(written, "not-named-here", f"'{entity.name}' is {what}")
    if written.mistakes:
        raise _refused(
            written,
            "cannot-read",
            "a line of the script cannot be read, so it is not known where this name stands",
        )
    return found


def renaming(written: Written, offset: int, new: str, others: frozenset[str]) -> list[Edit]:
    """The changes that give what is named at a place a new name.

    `others` are names that the text does not show: those from what the script starts from.
    Raises FoldscriptError where the name cannot be, or is taken.
    """
    entity, _ = renamable(written, offset)
    new = new.strip()
    _check(written, entity, new, others)
    same = _together(written.names, entity)
    spans = {place.stem for one in same for place in one.places}
    spans |= {span for one in same for span in spans_in_captions(written, one)}
    edits = [Edit(span, new) for span in sorted(spans, key=lambda span: span.start)]
    _still_means(written, edits, same, new)
    return edits


def renamed_besides(written: Written, offset: int, new: str) -> list[tuple[Source, list[Edit]]]:
    """The changes to side files that go with `renaming`, each with the text that it is about."""
    entity, _ = renamable(written, offset)
    return list(in_side_files(written, _together(written.names, entity), new.strip()))


def _together(names: Names, entity: Entity) -> list[Entity]:
    """The entity, and those that a word in a group stands for as well."""
    same, waiting = [entity], [entity]
    while waiting:
        spans = {place.span for place in waiting.pop().places}
        for other in names.entities:
            if other not in same and any(place.span in spans for place in other.places):
                same.append(other)
                waiting.append(other)
    return same


def _check(written: Written, entity: Entity, new: str, others: frozenset[str]) -> None:
    """Refuses what is no name, or a name of something else."""
    grammar = load_grammar()
    words = list(grammar.lex(new))
    if len(words) != 1 or words[0].type in ("STRAY", "NUMBER", "STRING") or not new[:1].isalpha():
        raise _refused(
            written, "bad-name", f"'{new}' is no name: one word that begins with a letter"
        )
    if len(new) > LONGEST_NAME:
        raise _refused(written, "bad-name", f"a name has at most {LONGEST_NAME} letters")
    if grammar.reserves(new) or new == "the":
        raise _refused(written, "bad-name", f"'{new}' is a word of the language")
    name = read_name(words[0]).text
    if name == entity.name:
        return
    taken = _taken(written.names, entity, others)
    if (
        name in taken
        or _stem(name) in taken
        or (_stem(name) != name and _stem(name) == entity.name)
    ):
        raise _refused(
            written, "name-taken", f"'{name}' is, or may become, a name of something else"
        )


def _taken(names: Names, entity: Entity, others: frozenset[str]) -> set[str]:
    """Names that stand for something else where the entity is known; and what their images are called."""
    if entity.kind is Kind.GROUP:
        return set(names.groups) - {entity.name}
    same = _together(names, entity)
    rooms = {one.room for one in same}
    places = [place for one in same for place in one.places]
    rooms |= {room for room in names.rooms if any(_inside(place, room) for place in places)}
    if entity.room.group is not None:  # what its calls pass is known in it under other names
        rooms |= {room for room in names.rooms if room.group is None}
    taken = {e.name for room in rooms for e in room.entities} - {one.name for one in same}
    used = {
        e.name for e in names.entities for p in e.places if any(_inside(p, room) for room in rooms)
    } - {one.name for one in same}
    every = taken | used | (others - {entity.name})
    return every | {_stem(name) for name in every} - {entity.name}


def _inside(place: Place, room: Room) -> bool:
    return room.span.start <= place.span.start < room.span.end


def _stem(name: str) -> str:
    return _IMAGE.sub("", name)


def _still_means(written: Written, edits: list[Edit], same: list[Entity], new: str) -> None:
    """Refuses a change after which a word would stand for something else, or could not be read."""
    text = written.source.text
    for edit in reversed(edits):
        text = edit.applied(text)
    after = Written(Path(written.source.name), text)
    if after.mistakes:
        raise FoldscriptError(*after.mistakes[:1])
    before = [_shape(e, same, new) for e in written.names.entities]
    if before != [_shape(e, [], new) for e in after.names.entities]:
        raise _refused(
            written, "name-taken", f"with '{new}' other words would change what they mean"
        )


def _shape(entity: Entity, same: list[Entity], new: str) -> tuple[str, str, int, list[bool]]:
    name = new.replace("’", "'") if entity in same else entity.name
    return entity.kind.value, name, len(entity.places), [p.gives for p in entity.places]


def _refused(written: Written, code: str, message: str) -> FoldscriptError:
    return FoldscriptError(Diagnostic(code, message, source=written.source))
