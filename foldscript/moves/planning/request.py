"""What a move is asked and what it answers: the small interface that every move file shares.

In: a `Request` (the paper as it lies, what the script's words stand for). Out: an `Outcome` (the
paper afterwards, signs, an automatic caption, the creases made). Nothing here knows the grammar.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from ...geometry.isometries import Isometry
from ...geometry.lines import Line, Point, Segment
from ...languages.levels import Level
from ...languages.wording import Phrase
from ...paper.signs import Landmark, Sign
from ...paper.state import State
from ...pose.goals import Goal
from ...source.diagnostics import Hint, Refusal, Span
from .claims import Claim
from .fingers import Fingers


@dataclass(frozen=True, slots=True)
class PointValue:
    """A point as it lies now.

    `facets` carry it, topmost first (none when it is off the paper); `sheet` is its place on the
    sheet. `words` name it in a caption ('corner A'); `letter` is the name to print beside it; `seen` that it
    was named as the eye sees it ('the top corner'). `found` are the landmarks that it was measured by
    ('1/3 of A B'). `layer` that the words say which layer is meant ('bottom layer at P').
    """

    at: Point
    facets: tuple[int, ...]
    sheet: Point | None
    words: Phrase
    span: Span
    letter: str = ""
    seen: bool = False
    found: tuple[Landmark, ...] = ()
    layer: bool = False


@dataclass(frozen=True, slots=True)
class LineValue:
    """A line as it lies now; `segment` is the part on paper that was meant, where there is one.

    `facets` carry it, topmost first. `others` holds further lines that fit the same words (the
    second bisector); a choosing phrase picks. `letters` are named points that fixed it; `name` and
    `creases` (segments on the sheet) belong to a named crease. `found` are the landmarks that it was
    drawn by.
    """

    line: Line
    segment: Segment | None
    facets: tuple[int, ...]
    words: Phrase
    span: Span
    letters: tuple[tuple[str, Point], ...] = ()
    others: tuple[Line, ...] = ()
    name: str = ""
    creases: tuple[Segment, ...] = ()
    found: tuple[Landmark, ...] = ()


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit: 'degrees', 'mm', 'times', 'parts' or ''."""

    value: float
    unit: str
    span: Span


@dataclass(frozen=True, slots=True)
class Steps:
    """Numbers of the first and last step meant."""

    first: int
    last: int
    span: Span


Value = PointValue | LineValue | Quantity | Steps


@dataclass(frozen=True, slots=True)
class Clause:
    """A connecting word ('' straight after the verb) and what follows it."""

    word: str
    values: tuple[Value, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Solid:
    """How a move leaves the plane: `why` the model is no longer flat, in words; `partly` where only a part
    of it is bent, and the rest stays as large as it was.
    """

    why: str
    partly: bool = False


@dataclass(frozen=True)
class MoveRecord:
    """A move already made, for those that look back.

    `move` is None for what only prepares a repeat (the model turned in the mind, a flap turned like a
    page); `fingers` are the sentences that it is narrated with; `undone` tells that its fold has been taken
    back, `undid` which records it took back itself.
    """

    step: int
    move: Move | None
    fingers: Fingers
    before: State
    after: State
    signs: tuple[Sign, ...]
    name: str = ""
    creases: tuple[Segment, ...] = ()
    folded: bool = False
    turn: Isometry | None = None
    moved: tuple[Point, ...] = ()
    undone: bool = False
    undid: tuple[int, ...] = ()
    solid: Solid | None = None
    goals: tuple[Goal, ...] = ()


#: How messages speak of one state: facet -> 'the layer with corner A'; folded point -> 'near corner B';
#: folded point -> 'top corner', as a script says it, '' where it cannot.
Speech = tuple[Callable[[int], str], Callable[[Point], str], Callable[[Point], str]]


@dataclass(frozen=True)
class Request:
    """One statement, its words looked up.

    Attributes
    ----------
    state : the paper as it lies
    move : the move that is asked
    clauses : in the order written, without `as`
    span : of the whole statement
    new_name : the name that `as` or `mark` gives, '' when none
    describe : facet -> 'the layer with corner A'
    locate : folded point -> 'near corner B'
    words_at : folded point -> 'top corner', as a script says it; '' where it cannot
    history : earlier moves, oldest first
    step_ends : state after each finished step and how many records it took; number 0 is the start
    called : creases on the sheet -> the name of a crease that they are, or are part of; '' for none
    points : names that the script has given to places on the sheet, its corners first
    first_step : number of the first step that is folded from this sheet
    speaking : a state -> `describe`, `locate` and `words_at` for that state
    """

    state: State
    move: Move
    clauses: tuple[Clause, ...]
    span: Span
    new_name: str
    describe: Callable[[int], str]
    locate: Callable[[Point], str]
    words_at: Callable[[Point], str] = lambda at: ""
    history: tuple[MoveRecord, ...] = ()
    step_ends: tuple[tuple[State, int], ...] = ()
    called: Callable[[Sequence[Segment]], str] = lambda creases: ""
    points: Mapping[str, Point] = field(default_factory=dict[str, Point])
    speaking: Callable[[State], Speech] | None = None
    first_step: int = 1

    def amid(self, state: State) -> Request:
        """The same request while it is carried out: the paper lies as a first fold has left it."""
        if self.speaking is None:
            return replace(self, state=state)
        describe, locate, words_at = self.speaking(state)
        return replace(self, state=state, describe=describe, locate=locate, words_at=words_at)

    @property
    def verb(self) -> str:
        """What the move is called."""
        return self.move.verb

    @property
    def forms(self) -> tuple[str, ...]:
        """How the move may be written."""
        return self.move.forms

    @property
    def verb_span(self) -> Span:
        """Where the verb stands."""
        return Span(self.span.start, self.span.start + len(self.verb))

    @property
    def unit_mm(self) -> float:
        """Millimetres per sheet unit."""
        return self.state.sheet.unit_mm

    def clause(self, *words: str) -> Clause | None:
        """First clause with one of these words."""
        return next((c for c in self.clauses if c.word in words), None)

    def allow(self, *words: str) -> None:
        """Refuses clauses with other words than these."""
        for c in self.clauses:
            if c.word not in words:
                shown = c.word or "these words"
                raise Refusal(
                    "unexpected-words",
                    f"'{self.verb}' does not know what to do with '{shown}'"
                    if c.word
                    else f"'{self.verb}' takes nothing straight after it",
                    *(f"write it like: {form}" for form in self.forms[:4]),
                    span=c.span,
                )


@dataclass(frozen=True, slots=True)
class Remark:
    """What whoever wrote a move should know, although it can be made: shown as a warning."""

    code: str
    message: str
    hints: tuple[str | Hint, ...] = ()


@dataclass(frozen=True)
class Outcome:
    """What a move has done.

    Attributes
    ----------
    after : the paper afterwards
    signs : what to draw, in folded coordinates of the state before
    wording : automatic caption
    creases : the creases made, on the sheet, for `as`
    moved : places on the sheet, one in every piece that a single fold moved
    undoes : which records of the history this one takes back
    points : (name, place on the sheet) of points named
    folded : whether `unfold` may take it back
    turn : motion of the whole model (turn over, rotate), signs drawn between figures
    letters : (name, folded point) to letter in the figure
    solid : why the model is no longer flat (None while it is); `after` is then the last flat state
    caution : advice on safety that must reach the reader whatever the caption says
    remarks : what the script's author should know
    claims : what the caption says of the paper afterwards; checked on `after`
    goals : what a pose in space is found from, where the move leaves the plane
    fingers : what hands are told, where that is not what the move says of itself
    before : the paper as the figure shows it, where that is not how the move found it
    figure : whether it asks for a figure, though nothing may be folded in it
    """

    after: State
    signs: tuple[Sign, ...]
    wording: Phrase | None
    creases: tuple[Segment, ...] = ()
    points: tuple[tuple[str, Point], ...] = ()
    moved: tuple[Point, ...] = ()
    undoes: tuple[int, ...] = ()
    folded: bool = False
    turn: Isometry | None = None
    letters: tuple[tuple[str, Point], ...] = ()
    solid: Solid | None = None
    caution: Phrase | None = None
    remarks: tuple[Remark, ...] = ()
    claims: tuple[Claim, ...] = ()
    goals: tuple[Goal, ...] = ()
    fingers: Fingers | None = None
    before: State | None = None
    figure: bool = False


@dataclass(frozen=True, slots=True)
class Each:
    """How a move is made of several things named at once: one after another, each as if it stood alone.

    heads : words after which the things stand ('' straight after the verb)
    dealt : words after which as many places as things are dealt out, one each in their order
    """

    heads: tuple[str, ...] = ("",)
    dealt: tuple[str, ...] = ("to", "onto", "along")


@dataclass(frozen=True)
class Move:
    """One move: everything that is known of it, wherever that is needed.

    Attributes
    ----------
    verb, summary : what a line of a script opens with; what the move does, in one line
    forms : how it may be written, shown when a statement is wrong
    make : how it is done
    fingers : what hands are told of it, where a model is narrated
    advice : how it is said, a hint where its words are often guessed
    by_sight : how it is written of what the eye sees, with holes `{edge}`, `{corner}` (or
        `{crease}`, one with a name), all of one kind: tried where a statement's words name nothing
    side : where its paper goes by itself ('in front', 'behind'), so that saying so again does no harm
    names_first : whether its first word is a new name ('mark M at ...')
    whole_folds : whether a crease's name stands for all of it, also where that does not lie along one
        line now ('unfold k')
    each : how it is made of several things at once; None where it takes one, or takes several by itself
    flat : whether it needs a flat model
    level : least level of a model that needs it, for class plans; so are these:
    tools, caution : what it takes besides paper, and what to mind
    brings_unit : whether a further unit is laid beside the paper before its words are looked up
    folds : whether it takes hands time, and does not only turn, name or show something

    Raises TypeError, when the move's file is loaded, that says what the move lacks.
    """

    verb: str
    summary: str
    forms: tuple[str, ...]
    make: Callable[[Request], Outcome]
    fingers: Fingers = field(kw_only=True)
    advice: str = ""
    by_sight: tuple[str, ...] = ()
    side: str = ""
    names_first: bool = False
    whole_folds: bool = False
    each: Each | None = None
    flat: bool = True
    level: Level = Level.SIMPLE
    tools: tuple[str, ...] = ()
    caution: Phrase | None = None
    folds: bool = True
    brings_unit: bool = False

    def __post_init__(self) -> None:
        lacking = [name for name in ("verb", "summary", "forms") if not getattr(self, name)]
        if lacking:
            raise TypeError(f"the move {self.verb!r} lacks its {' and its '.join(lacking)}")
        wrong = [form for form in self.forms if not form.startswith(self.verb)]
        if wrong:
            raise TypeError(f"the move {self.verb!r} is not written as its form says: {wrong[0]!r}")
        if not isinstance(self.fingers, Fingers):
            raise TypeError(
                f"the move {self.verb!r} lacks its sentences for fingers: give it `fingers`, one of the "
                "values of moves/planning/fingers.py"
            )
