"""Which names stand for the same thing: every place where a point, crease or group is named or used.

In: a script as far as it can be read. Out: `Names`, with an `Entity` for each thing that has a name, and
every place where it stands. What a repeat calls after a name (`M'` after `M`) is an image of it, found at the
same entity. Nothing is folded here: a name that what the script starts from has given is one whose giving
place is not in the script.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ..languages.unit_names import letter_of
from ..moves.registry import moves
from ..source.diagnostics import Span
from ..syntax import nodes
from ..syntax.operands import read_name
from ..syntax.script_lines import ScriptLine, token_span
from .giving import DO, Kind, gives, names_in

if TYPE_CHECKING:
    from lark import Token

#: What a repeat puts behind a name: M', M'', M''', M-4.
_IMAGE = re.compile(r"'+$|-\d+$")
#: Words that a repeat reads where names stand: 'on the other side', 'on flaps B and D'.
_OF_REPEATS = frozenset(("other", "side", "flap", "flaps"))
_REPEAT = "repeat"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a name stands: the word's span, what of it is an image's ending, whether it is given there."""

    span: Span
    ending: str = ""
    gives: bool = False

    @property
    def stem(self) -> Span:
        """The span without the image's ending."""
        return Span(self.span.start, self.span.end - len(self.ending))


@dataclass(eq=False)
class Entity:
    """One thing with a name, and the places where that stands; `room` is where the name is known."""

    kind: Kind
    name: str
    room: Room
    places: list[Place] = field(default_factory=list)

    @property
    def given(self) -> Place | None:
        """Where it gets its name."""
        return next((place for place in self.places if place.gives), None)


@dataclass(eq=False)
class Room:
    """Where names are known: a part of the script, or a group. `span` is the text of it."""

    span: Span
    group: nodes.Group | None = None
    known: dict[str, Entity] = field(default_factory=dict)
    entities: list[Entity] = field(default_factory=list)

    def give(self, kind: Kind, name: str, place: Place | None) -> Entity:
        """A new thing of this name, known from here on."""
        new = Entity(kind, name, self, [place] if place is not None else [])
        self.known[name] = new
        self.entities.append(new)
        return new

    def find(self, name: str) -> tuple[Entity, str] | None:
        """The thing with this name, or the one that it is an image of, with the image's ending."""
        if name in self.known:
            return self.known[name], ""
        ending = _IMAGE.search(name)
        stem = name[: ending.start()] if ending else name
        if ending and stem in self.known:
            return self.known[stem], ending.group()
        return None


@dataclass(frozen=True)
class Names:
    """All names of a script; `rooms` are those of its parts, then those of its groups."""

    rooms: tuple[Room, ...]
    groups: Mapping[str, Entity]

    @property
    def entities(self) -> Iterator[Entity]:
        """Everything that has a name."""
        yield from self.groups.values()
        for room in self.rooms:
            yield from room.entities

    def at(self, offset: int) -> tuple[Entity, Place] | None:
        """What is named at an offset, also right behind the word."""
        return next(
            (
                (entity, place)
                for entity in self.entities
                for place in entity.places
                if place.span.start <= offset <= place.span.end
            ),
            None,
        )

    def room_at(self, offset: int) -> Room:
        """The room that a place of the text belongs to: the group around it, or else the part."""
        around = [r for r in self.rooms if r.group and r.span.start <= offset <= r.span.end]
        parts = [r for r in self.rooms if not r.group and r.span.start <= offset]
        return (around or parts or list(self.rooms))[-1]

    def known_at(self, offset: int) -> list[Entity]:
        """What has a name at a place of the text, in the order in which names are given."""
        room = self.room_at(offset)
        found: dict[str, Entity] = {}
        for entity in room.entities:
            given = entity.given
            if given is None or given.span.end < offset:
                found.pop(entity.name, None)
                found[entity.name] = entity
        return list(found.values())


def names_of(program: nodes.Program, lines: Sequence[ScriptLine], tokens: Sequence[Token]) -> Names:
    """The names of a script; of lines that cannot be read those that they give."""
    return _Reader(program, lines, tokens).read()


class _Reader:
    """Goes through a script from top to bottom, as folding does."""

    def __init__(
        self, program: nodes.Program, lines: Sequence[ScriptLine], tokens: Sequence[Token]
    ) -> None:
        self.program = program
        self.words = [t for t in tokens if t.type not in ("NEWLINE", "COMMA")]
        self.starts = [token_span(t).start for t in self.words]
        self.lines = lines
        self.groups: dict[str, Entity] = {}
        self.inner: dict[str, Room] = {}  # of the groups, by their names
        self.outer: list[Room] = []
        self.free: list[tuple[str, Place]] = []  # in groups, known only where those are done

    def read(self) -> Names:
        whole = Span(0, len(self.program.source.text))
        parts = [k for k, line in enumerate(self.lines) if line.tokens[0].type in _PARTS]
        first = self.lines[parts[0]].span.start if parts else whole.end
        if not parts or any(step.span.start < first for step in self.program.steps):
            self.outer.append(self._part(0, min(first, whole.end), self.program.head))
        for k, at in enumerate(parts):
            start = self.lines[at].span.start
            end = self.lines[parts[k + 1]].span.start if k + 1 < len(parts) else whole.end
            assembles = self.lines[at].tokens[0].type == "ASSEMBLE"
            self.outer.append(self._part(start, end, None if assembles else self._head_of(start)))
        for group in self.program.groups:
            self._group_head(group)
        statements = self._statements()
        for group in self.program.groups:
            room = self.inner[group.name.text]
            for statement in group.body:
                self._statement(room, statement)
        for room in self.outer:
            for start, what in statements:
                if room.span.start <= start < room.span.end:
                    if isinstance(what, nodes.Statement):
                        self._statement(room, what)
                    else:
                        self._broken(room, what)
        self._free_ones()
        return Names((*self.outer, *self.inner.values()), self.groups)

    def _head_of(self, start: int) -> nodes.Head:
        found = next((p.head for p in self.program.parts if p.span.start == start), None)
        return found or self.program.head

    def _part(self, start: int, end: int, head: nodes.Head | None) -> Room:
        """The room of a part, its corners known; units that are put together bring theirs (`_unit`)."""
        room = Room(Span(start, end))
        sheet = head.sheet if head is not None else None
        if sheet is None:
            return room
        words = list(self._within(sheet.span))
        named = next((k for k, word in enumerate(words) if word.type == "CORNERS"), len(words))
        new = {read_name(w).text: w for w in words[named:] if w.type == "NAME"}
        for name in sheet.names:
            place = Place(token_span(new[name]), gives=True) if name in new else None
            corner = room.give(Kind.CORNER, name, place)
            corner.places.extend(
                Place(token_span(word))
                for k, word in enumerate(words[:named])
                if word.type == "NAME" and read_name(word).text == name and _is_corner(words[:k])
            )
        return room

    def _within(self, span: Span) -> Iterator[Token]:
        for k in range(bisect_right(self.starts, span.start - 1), len(self.words)):
            if self.starts[k] >= span.end:
                return
            yield self.words[k]

    def _group_head(self, group: nodes.Group) -> None:
        name = group.name
        room = Room(group.span, group)
        self.groups.setdefault(
            name.text, Entity(Kind.GROUP, name.text, room, [Place(name.span, gives=True)])
        )
        self.inner.setdefault(name.text, room)
        for parameter in group.parameters:
            room.give(Kind.PARAMETER, parameter.text, Place(parameter.span, gives=True))

    def _statements(self) -> list[tuple[int, nodes.Statement | ScriptLine]]:
        """The statements of the steps, and the lines between them that could not be read, in order."""
        read = [s for step in self.program.steps for s in step.body]
        starts = {s.span.start for s in (*read, *(s for g in self.program.groups for s in g.body))}
        lost = [
            line
            for line in self.lines
            if line.span.start not in starts and any(True for _ in line.given_names())
        ]
        both: list[tuple[int, nodes.Statement | ScriptLine]] = [
            *((s.span.start, s) for s in read),
            *((line.span.start, line) for line in lost),
        ]
        return sorted(both, key=lambda pair: pair[0])

    def _broken(self, room: Room, line: ScriptLine) -> None:
        """A line that cannot be read still gives its names."""
        opener = line.tokens[0]
        if opener.type == "GROUP" or opener == DO:
            return
        given = set(line.given_names())
        for token in line.tokens[1:]:
            if token.type == "NAME" and str(token) in given:
                given.discard(str(token))
                kind = Kind.POINT if opener == "mark" else Kind.CREASE
                room.give(kind, read_name(token).text, Place(token_span(token), gives=True))

    # --- statements ------------------------------------------------------------------------

    def _statement(self, room: Room, statement: nodes.Statement) -> None:
        given: list[tuple[Kind, nodes.Name]] = []
        uses: list[nodes.Name] = []
        if statement.verb == DO:
            given, uses = self._call(room, statement)
        else:
            move = moves().get(statement.verb)
            leading = move is not None and move.names_first
            for k, phrase in enumerate(statement.phrases):
                for j, operand in enumerate(phrase.operands):
                    names = list(names_in(operand))
                    if phrase.word == "as" or (leading and k == 0 and j == 0):
                        kind = Kind.CREASE if phrase.word == "as" else Kind.POINT
                        given.extend((kind, name) for name in names)
                    elif statement.verb != _REPEAT:
                        uses.extend(names)
                    else:
                        uses.extend(n for n in names if n.text not in _OF_REPEATS)
        for name in uses:
            self._use(room, name)
        for kind, name in given:
            self._give(room, kind, name)

    def _call(
        self, room: Room, statement: nodes.Statement
    ) -> tuple[list[tuple[Kind, nodes.Name]], list[nodes.Name]]:
        """What a call gives and what it uses."""
        operands = [o for phrase in statement.phrases for o in phrase.operands]
        name, *passed = operands or [None]
        group = self.groups.get(name.text) if isinstance(name, nodes.Name) else None
        if not isinstance(name, nodes.Name):
            return [], []
        if group is None:
            return [], [n for o in passed for n in names_in(o)]
        group.places.append(Place(name.span))
        given_at = gives({g.name.text: g for g in self.program.groups}, name.text)
        given: list[tuple[Kind, nodes.Name]] = []
        uses: list[nodes.Name] = []
        for k, operand in enumerate(passed):
            if (
                isinstance(operand, nodes.Name)
                and k in given_at
                and room.find(operand.text) is None
            ):
                given.append((given_at[k], operand))
            else:
                uses.extend(names_in(operand))
        return given, uses

    def _give(self, room: Room, kind: Kind, name: nodes.Name) -> None:
        word = self._word(name)
        if word is None:
            return
        known = room.known.get(name.text)
        if known is not None and known.kind is Kind.PARAMETER:
            known.places.append(Place(word))  # the call says what it is called
        else:
            room.give(kind, name.text, Place(word, gives=True))

    def _use(self, room: Room, name: nodes.Name) -> None:
        word = self._word(name)
        if word is None:
            return
        letter, of, number = letter_of(name.text), name.text, name.text.rpartition(" ")[2]
        there = room if letter == of else self._unit(int(number))
        found = there.find(letter) if there is not None else None
        if found is not None:
            found[0].places.append(Place(word, found[1]))
        elif room.group is not None:
            self.free.append((letter, Place(word)))
        elif there is not None:
            self._begun_with(there, letter, Place(word))

    def _begun_with(self, room: Room, name: str, place: Place) -> None:
        room.give(Kind.BEGUN_WITH, name, place)

    def _unit(self, number: int) -> Room | None:
        """The part that a unit is folded in."""
        heads = [p.head for p in self.program.parts if not p.assembles] or [self.program.head]
        count = 0
        for room, head in zip(self.outer, heads, strict=False):
            count += sum(lot.count for lot in head.lots) or 1
            if number <= count:
                return room
        return None

    def _word(self, name: nodes.Name) -> Span | None:
        """Where the name itself stands; None where a word of the language was read as one."""
        for word in self._within(name.span):
            if word.type not in _NOT_NAMES and read_name(word).text == letter_of(name.text):
                return token_span(word)
        return None

    def _free_ones(self) -> None:
        """Names in groups that are known where those are done: in all parts that have them, one thing."""
        for name, place in self.free:
            found = [hit for room in self.outer if (hit := room.find(name)) is not None]
            if not found and self.outer:
                self._begun_with(self.outer[0], name, place)
                continue
            for entity, ending in found:
                entity.places.append(Place(place.span, ending))


_PARTS = frozenset(("PART", "ASSEMBLE"))
#: Words of the language that a statement may hold where names stand: 'on the left'.
_NOT_NAMES = frozenset(("FLANK", "HEIGHT", "UPDOWN", "BARE", "PLACE", "NUMBER", "OF_UNIT"))


def _is_corner(before: Sequence[Token]) -> bool:
    """Whether a corner is named after these words of a sheet line: 'corner A', 'edge A B'."""
    kinds = [word.type for word in before[-2:]]
    return kinds[-1:] in (["CORNER"], ["EDGE"]) or kinds == ["EDGE", "NAME"]
