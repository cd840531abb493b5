"""What folding gives to drawing: steps, each with the paper before and after and what to show."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from ..geometry.lines import Point
from ..languages.wording import ENGLISH, Language, Phrase
from ..moves.planning.request import MoveRecord, Remark
from ..paper.sheet import Sheet
from ..paper.signs import Sign
from ..paper.state import State
from ..pose.pose import Pose
from ..source.diagnostics import Diagnostic, Span

if TYPE_CHECKING:
    from ..pose.halfway import Halfway


@dataclass(frozen=True)
class Panel:
    """One figure of a step: the paper as it lies, and the signs drawn on it.

    `before_turns` are whole-model signs (TurnOver, Rotate) drawn between the previous figure and
    this one; `after_turns` between this one and the next. `labels` are points that the moves name,
    `lettering` those that the step's own caption speaks of, None where it has none. `pose` is how the paper
    stands in space, None where it lies flat, and `next_pose` how it will stand when the step is done. With
    `finished`, nothing more is done to the model. `sentences` is how many of the step's automatic sentences
    tell of this figure; `asked` whether the script asks for it, so that it is drawn though nothing is folded.
    """

    state: State
    signs: tuple[Sign, ...]
    before_turns: tuple[Sign, ...] = ()
    after_turns: tuple[Sign, ...] = ()
    labels: tuple[tuple[str, Point], ...] = ()
    lettering: tuple[tuple[str, Point], ...] | None = None
    pose: Pose | None = None
    next_pose: Pose | None = None
    finished: bool = False
    sentences: int = 0
    asked: bool = False

    @property
    def letters(self) -> tuple[tuple[str, Point], ...]:
        """Every (name, place) that is lettered: what the reader is told of, and nothing else."""
        return self.labels if self.lettering is None else self.lettering


@dataclass(frozen=True)
class Step:
    """One numbered step.

    `caption` is the teacher's own text in the script's language, '' when none was given;
    `wording` is the automatic caption, one phrase a move. `records` are the moves in the order in which
    hands make them, each with the paper before and after it; those of a repeat and of a group stand
    there one by one, with the turnings that they need. `remarks` are what the script's author should
    know, each with the index of its statement in the step. `named` are the points that have a name before
    the step or when it is done, where they lie on the sheet. `half_way` is whether the script wants a figure
    half way, and where it says so.
    """

    number: int
    caption: str
    captions: tuple[tuple[str, str], ...]  # (language, text), for other languages
    wording: tuple[Phrase, ...]
    panels: tuple[Panel, ...]
    before: State
    after: State
    span: Span
    records: tuple[MoveRecord, ...] = ()
    remarks: tuple[tuple[int, Remark], ...] = ()
    named: tuple[tuple[str, Point], ...] = ()
    half_way: tuple[bool, Span] | None = None

    @property
    def told(self) -> tuple[tuple[Phrase, ...], ...]:
        """The automatic sentences of each figure; all with the first where none says which are its own.

        None where a caption of the script's own tells of all figures: it stands under the first.
        """
        if self.caption:
            return ((),) * len(self.panels)
        counts = [panel.sentences for panel in self.panels]
        if sum(counts) != len(self.wording):
            return (self.wording, *((),) * (len(counts) - 1))
        ends = list(accumulate(counts, initial=0))
        return tuple(self.wording[a:b] for a, b in pairwise(ends))


@dataclass(frozen=True)
class Part:
    """The steps that fold one kind of unit, each from a sheet of its own, or that put units together.

    first, last : numbers of its steps
    sheet : as it comes, before anything of it is cut off
    start, finished : the paper before and after them
    colours : (coloured side, plain side) of every sheet that is folded so, '' for the style's own; () where
        the part only puts together what was folded before
    begun : the steps of the base or script that it starts from
    """

    title: str
    first: int
    last: int
    sheet: Sheet
    start: State
    finished: State
    colours: tuple[tuple[str, str], ...]
    begun: tuple[Step, ...] = ()
    starts_from: Phrase | None = None

    @property
    def assembles(self) -> bool:
        """Whether it puts together what the parts before it have folded."""
        return not self.colours


@dataclass(frozen=True, slots=True)
class Refused:
    """The number of a step that cannot be folded, and what is wrong in it."""

    step: int
    message: str


@dataclass(frozen=True)
class Model:
    """A folded model: what the head says, and its steps.

    Steps are numbered through all its parts; `parts` are () where it is folded from one sheet, and its sheet,
    its start and what it has `begun` with are those of the first part.

    `begun` are the steps of the base or script that it starts from, () for a sheet. `language` is that
    of its texts; what foldscript says itself is said in `speech`. `titles` and `other_notes` are (language,
    text) for other languages. `own_notes` are the script's; foldscript adds what the model `starts_from`, and
    the `cautions` of its moves. `warnings` are for the script's author. `poses` are, by the number of a step,
    how the model stands in space when that step is done; `halves` are steps that are shown half way, too.
    `refused` is the step after the last one here, where the script goes on with what cannot be folded.
    """

    name: str  # file stem, used for output names
    title: str
    credit: str
    licence: str
    level: str
    language: str
    front_colour: str
    back_colour: str
    sheet: Sheet
    start: State
    steps: tuple[Step, ...]
    own_notes: tuple[str, ...] = ()
    begun: tuple[Step, ...] = ()
    titles: tuple[tuple[str, str], ...] = ()
    other_notes: tuple[tuple[str, str], ...] = ()
    starts_from: Phrase | None = None
    cautions: tuple[Phrase, ...] = ()
    speech: Language = ENGLISH
    warnings: tuple[Diagnostic, ...] = ()
    parts: tuple[Part, ...] = ()
    poses: Mapping[int, Pose] = field(default_factory=dict)
    halves: Mapping[int, Halfway] = field(default_factory=dict)
    refused: Refused | None = None

    @property
    def notes(self) -> tuple[str, ...]:
        """Everything that is noted, in the order in which a page says it."""
        first = (self.starts_from.render(self.speech),) if self.starts_from is not None else ()
        return (*first, *self.own_notes, *(words.render(self.speech) for words in self.cautions))

    @property
    def folded_parts(self) -> tuple[Part, ...]:
        """Its parts that are folded from sheets; one that is the whole where it has none."""
        if self.parts:
            return tuple(part for part in self.parts if not part.assembles)
        colours = ((self.front_colour, self.back_colour),)
        last = len(self.steps)
        return (
            Part(self.title, 1, last, self.sheet, self.start, self.finished, colours, self.begun),
        )

    @property
    def sheets(self) -> int:
        """How many sheets it takes."""
        return sum(len(part.colours) for part in self.folded_parts)

    def part_of(self, number: int) -> Part | None:
        """The part that a step belongs to; None where there are none."""
        return next((part for part in self.parts if part.first <= number <= part.last), None)

    @property
    def finished(self) -> State:
        """The last state."""
        return self.steps[-1].after if self.steps else self.start

    @property
    def standing(self) -> Pose | None:
        """How the finished model stands in space; None where it lies flat."""
        return self.poses.get(self.steps[-1].number) if self.steps else None
