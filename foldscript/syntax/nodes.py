"""The parsed script: frozen nodes, each with its span. Nothing here has been looked up or folded.

A move is kept as it was written: its verb and a row of phrases ('onto top edge', '2 layers'). Which
phrases a verb takes is settled by the move itself, so a new move needs no new grammar.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..source.diagnostics import Source, Span

# --- operands: points, lines, amounts ------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Name:
    """A name given by the sheet (corner), by `mark`, or by `as`."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Seen:
    """What the eye sees now.

    kind is 'edge', 'corner', 'centre line' or 'centre'; toward holds the direction words in the
    order top/bottom, left/right ('top',), ('bottom', 'left'); for a centre line ('vertical',),
    ('horizontal',) or () when not said.
    """

    kind: str
    toward: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class EdgeOf:
    """`edge A B`: the sheet's edge between two points that lie on it."""

    start: PointOperand
    end: PointOperand
    span: Span


@dataclass(frozen=True, slots=True)
class LineThrough:
    """`line P Q`: the straight line through where two points lie now."""

    start: PointOperand
    end: PointOperand
    span: Span


@dataclass(frozen=True, slots=True)
class LineSquareTo:
    """`line through P perpendicular to L`."""

    through: PointOperand
    to: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class LineParallelTo:
    """`line through P parallel to L`."""

    through: PointOperand
    to: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class LineAtAngle:
    """`line through P at 30 degrees to L`: turned counter-clockwise from L."""

    through: PointOperand
    degrees: float
    to: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class LineBisecting:
    """`line bisecting L and M`: both bisectors fit; a phrase such as `near P` chooses."""

    first: LineOperand
    second: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class Fraction:
    """`1/3 of A B`, `midpoint of A B`: on the way from start to end."""

    numerator: int
    denominator: int
    start: PointOperand
    end: PointOperand
    span: Span
    way: Literal["", "edge", "line"] = ""  # what stands before the two: how it is measured


@dataclass(frozen=True, slots=True)
class FractionOfLine:
    """`1/4 of the bottom edge`, `midpoint of k`: from the line's left end, or its lower one."""

    numerator: int
    denominator: int
    line: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class EndOf:
    """`right end of the top edge`, `upper end of k`: toward is 'left', 'right', 'top' or 'bottom'."""

    toward: str
    line: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class Length:
    """`2 cm`, in mm, and as it was written: `number` ('2 1/2') and `unit` ('mm', 'cm', 'inches')."""

    mm: float
    number: str
    unit: str
    span: Span


@dataclass(frozen=True, slots=True)
class FromEnd:
    """`2 cm from A on edge A B`: so far from one end of a line, or (`bare`) of the way between two points."""

    length: Length
    start: PointOperand
    line: LineOperand
    span: Span
    bare: bool = False


@dataclass(frozen=True, slots=True)
class LineApart:
    """`line 2 cm from L`: parallel to L, so far from it."""

    length: Length
    to: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class Beyond:
    """`2 cm beyond edge B C`, or (`short`) `2 cm short of C`: on the way of what moves."""

    length: Length
    to: PointOperand | LineOperand
    short: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Meeting:
    """`where L meets M`."""

    first: LineOperand
    second: LineOperand
    span: Span


@dataclass(frozen=True, slots=True)
class OuterLayerAt:
    """`top layer at P`, `bottom layer at P`: the uppermost or undermost paper where P lies now."""

    top: bool
    point: PointOperand
    span: Span


@dataclass(frozen=True, slots=True)
class CountedLayerAt:
    """`second layer at P`: the layer of that number, from the top, where P lies now."""

    number: int
    point: PointOperand
    span: Span


@dataclass(frozen=True, slots=True)
class Amount:
    """`45 degrees`, `2 cm`, `3 times`, `16 equal parts`, or a bare number (unit '').

    unit is one of 'degrees', 'mm', 'times', 'parts', ''; lengths are given in mm. `unit 2` has the
    unit 'unit'.
    """

    value: float
    unit: str
    span: Span


@dataclass(frozen=True, slots=True)
class StepRange:
    """`step 3` or `steps 5 to 6`; step 0 is the sheet before the first step."""

    first: int
    last: int
    span: Span


PointOperand = (
    Name
    | Seen
    | Fraction
    | FractionOfLine
    | EndOf
    | FromEnd
    | Meeting
    | OuterLayerAt
    | CountedLayerAt
)
LineOperand = (
    Name
    | Seen
    | EdgeOf
    | LineThrough
    | LineSquareTo
    | LineParallelTo
    | LineAtAngle
    | LineBisecting
    | LineApart
)
Operand = (
    LineOperand
    | Fraction
    | FractionOfLine
    | EndOf
    | FromEnd
    | Meeting
    | OuterLayerAt
    | CountedLayerAt
    | Beyond
    | Amount
    | StepRange
)

# --- statements ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Phrase:
    """A connecting word (or '' for what follows the verb directly) and its operands.

    `word` is one of the grammar's prepositions in its plain spelling ('to', 'onto', 'through',
    'along', 'perpendicular to', 'and', 'near', 'moving', 'holding', 'at', 'from', 'over',
    'under', 'into', 'between', 'by', 'on', 'with', 'as', 'behind', ...), or 'layers' with one Amount (all
    layers: operands are empty), or an ordinal ('first', 'second', 'third') without operands, or
    a bare adverb such as 'behind', 'clockwise', 'side to side' without operands.
    """

    word: str
    operands: tuple[Operand, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Statement:
    """One line of a step: `verb` as registered ('inside reverse'), in plain spelling."""

    verb: str
    verb_span: Span
    phrases: tuple[Phrase, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Caption:
    """A caption; language is an IETF tag, '' for the script's own language."""

    text: str
    language: str
    span: Span


@dataclass(frozen=True, slots=True)
class Group:
    """A named row of moves with parameters: `group ear P Q` ... `end`.

    It is called by a statement with the verb 'do' and the group's name as its first operand.
    """

    name: Name
    parameters: tuple[Name, ...]
    body: tuple[Statement, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Step:
    """A headed block of statements; `half_way`: whether it is drawn half way, and where that is said."""

    captions: tuple[Caption, ...]
    body: tuple[Statement, ...]
    span: Span
    half_way: tuple[bool, Span] | None = None


# --- head ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SheetSpec:
    """The sheet as written, resolved to millimetres.

    outline : corners in mm, counter-clockwise from the bottom left, seen from the front
    names : corner names (A, B, C, ... unless renamed)
    shape : canonical wording ('square 15 cm', 'A4 (210 x 297 mm)')
    coloured_up : whether the coloured side faces the reader at the start
    lowest : names of the corner (one) or edge (two) that the reader has at the bottom; () as given
    """

    outline: tuple[tuple[float, float], ...]
    names: tuple[str, ...]
    shape: str
    coloured_up: bool
    lowest: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Head:
    """What the script says about the model as a whole."""

    title: str
    credit: str
    sheet: SheetSpec | None
    licence: str = ""
    level: str = ""
    front_colour: str = ""  # colour name of the coloured side, '' for the style's own
    back_colour: str = ""
    language: str = "en"
    start_from: str = ""  # path or base name
    start_span: Span | None = None
    notes: tuple[str, ...] = ()
    titles: tuple[Caption, ...] = ()  # in other languages
    translated_notes: tuple[Caption, ...] = ()
    title_span: Span | None = None
    note_spans: tuple[Span, ...] = ()
    level_span: Span | None = None
    lots: tuple[Lot, ...] = ()  # of `sheets`; () where it is not said how many


@dataclass(frozen=True, slots=True)
class Lot:
    """So many sheets alike; `colour` of their coloured side, '' where it is not said."""

    count: int
    colour: str
    span: Span


@dataclass(frozen=True, slots=True)
class Part:
    """Some steps of a script with a head of their own: what is folded from its own sheet, or put together.

    title : '' where it has none
    head : that of the script, with the sheet, the colours and the number of sheets of the part
    first : how many steps of the script come before it
    assembles : whether it puts together what the parts before it have folded
    """

    title: str
    head: Head
    first: int
    assembles: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Program:
    """One model's script; `parts` are () where all of it is folded from one sheet."""

    source: Source
    head: Head
    steps: tuple[Step, ...]
    groups: tuple[Group, ...] = ()
    parts: tuple[Part, ...] = ()
