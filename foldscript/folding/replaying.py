"""Does a row of moves once more, on the image of their paper under a symmetry.

In: the paper, which moves (`Part`), a symmetry of the paper as it was before them. Out: the paper with
every one of them really folded again there, through the same moves. Before each move the image must
lie as the original lay, afterwards as the original came to lie: nothing is assumed.

Moves whose image lies on the hidden face are made there: the model is turned over in the mind, so
that valley means valley as seen from behind, and lies as before in the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..diagnostics import Refusal, Span
from ..geometry import polygons
from ..geometry.isometries import (
    IDENTITY,
    Isometry,
    compose,
    inverse,
    map_line,
    reflection,
)
from ..geometry.lines import Line, Point, flipped
from ..moves.request import Deed, Outcome, PointValue, Steps
from ..moves.words import CHOICES
from ..paper.leaves import leaf_round
from ..paper.silhouette import centre
from ..paper.state import State
from ..paper.symmetry import Symmetry
from ..wording import Phrase
from .images import Image, Piece, Trace, astray, close, moved_paper, uncreased
from .names import Names, locate
from .performing import Folding, Said, carry_out, remember_deed


@dataclass(frozen=True)
class Part:
    """A row of finished steps: their numbers, the deeds [start, end) they took, the paper before."""

    first: int
    last: int
    start: int
    end: int
    before: State

    @property
    def words(self) -> str:
        """'step 3' or 'steps 5 to 6'."""
        return (
            f"step {self.first}"
            if self.first == self.last
            else f"steps {self.first} to {self.last}"
        )


@dataclass(frozen=True)
class Calls:
    """What a repetition calls things.

    `renamed` holds the new name for each name given in the part; `naming` a deed and the name that
    'as' gives its crease.
    """

    renamed: dict[str, str]
    naming: tuple[int, str] | None = None

    def name_of(self, index: int, name: str) -> str:
        """The name that the repetition of a deed gives."""
        if self.naming is not None and self.naming[0] == index:
            return self.naming[1]
        return self.renamed.get(name, "")


@dataclass(frozen=True)
class Saved:
    """The paper at one moment, to go back to when an attempt fails."""

    state: State
    names: Names
    history: tuple[Deed, ...]
    said: tuple[Said, ...]
    solid: tuple[int, str] | None
    cautions: tuple[Phrase, ...]


def save(paper: Folding) -> Saved:
    """Everything that a move can change."""
    return Saved(
        paper.state,
        paper.names.copy(),
        tuple(paper.history),
        tuple(paper.said),
        paper.solid,
        tuple(paper.cautions),
    )


def restore(paper: Folding, saved: Saved) -> None:
    """Puts everything back."""
    paper.state, paper.names = saved.state, saved.names.copy()
    paper.history[:], paper.said[:] = saved.history, saved.said
    paper.solid, paper.cautions[:] = saved.solid, saved.cautions


def turn_since(paper: Folding, start: int, end: int | None = None) -> Isometry:
    """How the model as a whole has been turned over and round by the deeds [start, end)."""
    turn: Isometry = IDENTITY
    for deed in paper.history[start:end]:
        if deed.turn is not None:
            turn = compose(deed.turn, turn)
    return turn


def turned_over(paper: Folding, start: int) -> bool:
    """Whether the deeds from a start on have turned the model to its other side."""
    turns = (deed.turn for deed in paper.history[start:])
    return sum(turn is not None and turn.flips for turn in turns) % 2 == 1


def over(state: State) -> Isometry:
    """The motion that turns the model over from side to side."""
    return reflection(Line(1.0, 0.0, centre(state)[0]))


def trace_of(paper: Folding, part: Part) -> Trace:
    """Where on the sheet the part did something."""
    pieces = []
    creases = []
    for deed in paper.history[part.start : part.end]:
        if deed.turn is None:
            pieces.extend(piece.outline for piece in moved_paper(deed.before, deed.after))
            creases.extend(deed.creases)
    return Trace(tuple(pieces), tuple(creases))


def points_of(said: Said) -> list[PointValue]:
    """The points of the sheet that a statement named, in the order written."""
    return [
        v
        for c in said.clauses
        for v in c.values
        if isinstance(v, PointValue) and v.sheet is not None
    ]


def turn_leaves(paper: Folding, number: int, part: Part, spine: Line, rounds: int) -> bool:
    """Turns flaps like pages about a line of the part's folded plane; negative: the other way.

    Whether there were so many flaps to turn.
    """
    for _ in range(abs(rounds)):
        line = map_line(turn_since(paper, part.start), spine)
        turned = leaf_round(paper.state, line if rounds > 0 else flipped(line))
        if turned is None:
            return False
        for leaf in turned:
            _aside(paper, number, "turn a page", leaf.after, None)
    return True


def _aside(paper: Folding, number: int, verb: str, after: State, turn: Isometry | None) -> None:
    said = Said(verb, (), Span(0, 0), "", Span(0, 0), aside=True)
    remember_deed(paper, said, Deed(number, verb, paper.state, after, (), turn=turn))


def _turn(paper: Folding, number: int, motion: Isometry) -> None:
    _aside(paper, number, "turn over", paper.state.moved(motion), motion)


def replay(
    paper: Folding,
    number: int,
    part: Part,
    symmetry: Symmetry,
    calls: Calls,
    *,
    folded: Sequence[Trace] | None = None,
) -> list[Outcome]:
    """Does the part again on its image; the model lies as before in the end.

    Parameters
    ----------
    symmetry : of the paper before the part (or to the paper before it with its pages turned)
    calls : what is called how
    folded : for a symmetry that was found by turning pages, what has been folded since; all other
        paper must lie as it did before the part, the image's page uppermost

    Raises
    ------
    Refusal : of the moves; 'folded-since' when the image does not lie as the original did;
        'repeat-differs' when it comes to lie elsewhere
    """
    home = turn_since(paper, part.start)
    if folded is not None:
        _refuse_other_pages(paper, part, symmetry, folded)
    ends = {part.first - 1: (paper.state, len(paper.history))}
    done: list[Outcome] = []
    for i in range(part.start, part.end):
        deed, said = paper.history[i], paper.said[i]
        for step in range(ends_before(paper, i, part), deed.step):
            ends[step] = (paper.state, len(paper.history))
        if said.aside:
            continue
        then = turn_since(paper, part.start, i)
        if turn_since(paper, part.start).flips != (then.flips != symmetry.behind):
            _turn(paper, number, over(paper.state))
        motion = compose(compose(turn_since(paper, part.start), symmetry.motion), inverse(then))
        steps = tuple(
            ends.get(k, end) if k >= part.first - 1 else end
            for k, end in enumerate(paper.step_ends)
        )
        _refuse_looking_back(said, part)
        if folded is not None:
            _refuse_covered(paper, deed, symmetry.sheet)
        done.append(_once_more(paper, number, i, symmetry.sheet, motion, calls, steps))
    now = turn_since(paper, part.start)
    if not close(now, home):
        _turn(paper, number, compose(home, inverse(now)))
    return done


def ends_before(paper: Folding, index: int, part: Part) -> int:
    """The step whose end was last passed before a deed of the part."""
    if index == part.start:
        return part.first - 1
    return paper.history[index - 1].step


def _refuse_looking_back(said: Said, part: Part) -> None:
    for value in (v for c in said.clauses for v in c.values):
        if isinstance(value, Steps) and value.first < part.first - 1:
            raise Refusal(
                "repeat-looks-back",
                f"it goes back to step {value.first}, before the steps that are repeated",
                "repeat from an earlier step on, or write the fold out",
            )


def _refuse_other_pages(
    paper: Folding, part: Part, symmetry: Symmetry, folded: Sequence[Trace]
) -> None:
    """The pages must lie to the left and right as they did, but for what has been folded since."""
    motion = compose(turn_since(paper, part.start), symmetry.motion)
    whole = [Piece(f.outline, f.place, f.place) for f in part.before.facets]
    for place in astray(paper.state, symmetry.sheet, motion, whole, after=False):
        if not any(trace.holds(place) for trace in folded):
            raise Refusal("covered", f"the flap for {part.words} lies under others there")


def _refuse_covered(paper: Folding, deed: Deed, sheet: Isometry) -> None:
    """The page with the image must be turned up before it can be folded as the original was."""
    for piece in moved_paper(deed.before, deed.after):
        place = polygons.centroid(piece.outline)
        over_and_under = [
            _layers_around(state, p)
            for state, p in ((deed.before, place), (paper.state, sheet(place)))
        ]
        (above, below), (above_now, below_now) = over_and_under
        if above != above_now and below != below_now:
            raise Refusal("covered", f"the flap for step {deed.step} lies under others there")


def _layers_around(state: State, place: Point) -> tuple[int, int]:
    """Layers over and under a place of the sheet."""
    stack = state.facets_at(state.where(place))
    (mine, *_) = state.facets_on_sheet(place)
    k = stack.index(mine)
    return k, len(stack) - 1 - k


def _once_more(
    paper: Folding,
    number: int,
    index: int,
    sheet: Isometry,
    motion: Isometry,
    calls: Calls,
    steps: tuple[tuple[State, int], ...],
) -> Outcome:
    """One move on its image, checked before and after."""
    deed, said = paper.history[index], paper.said[index]
    pieces = moved_paper(deed.before, deed.after)
    place = next(astray(paper.state, sheet, motion, pieces, after=False), None)
    if place is not None:
        where = locate(paper.state, paper.names, paper.state.where(place))
        raise Refusal(
            "folded-since",
            f"the paper there ({where}) does not lie as it did for step {deed.step}",
            "repeat before folding that part of the paper",
        )
    image = Image(deed.before, paper.state, sheet, motion, paper.names, calls.renamed)
    anew = replace(
        said,
        clauses=tuple(image.clause(c) for c in said.clauses),
        new_name=calls.name_of(index, said.new_name),
    )
    before = save(paper)
    problem: Refusal | None = None
    for choice in _choices(anew):
        try:
            outcome = carry_out(paper, number, choice, steps)
        except Refusal as refusal:
            problem = problem or refusal
            restore(paper, before)
            continue
        place = next(astray(paper.state, sheet, motion, pieces, after=True), None)
        if place is None:
            place = uncreased(paper.state, sheet, deed.creases)
        if place is None:
            return outcome
        restore(paper, before)
        where = locate(paper.state, paper.names, paper.state.where(place))
        problem = Refusal(
            "repeat-differs",
            f"the paper there ({where}) does not come to lie as in step {deed.step}",
            "write the fold out for that part of the paper",
        )
    assert problem is not None
    raise problem


def _choices(said: Said) -> list[Said]:
    """As it is; with 'first', 'second' ... also the other ways: their order may be mirrored."""
    found = [said]
    for k, clause in enumerate(said.clauses):
        if clause.word in CHOICES:
            found.extend(
                replace(
                    said,
                    clauses=(*said.clauses[:k], replace(clause, word=w), *said.clauses[k + 1 :]),
                )
                for w in CHOICES
                if w != clause.word
            )
    return found


def names_given(paper: Folding, part: Part) -> list[str]:
    """Names that the part gave."""
    return [
        said.new_name
        for said in paper.said[part.start : part.end]
        if said.new_name and not said.aside
    ]


def last_crease(paper: Folding, part: Part) -> int | None:
    """The last deed of the part that made creases."""
    for i in reversed(range(part.start, part.end)):
        if paper.history[i].creases and not paper.said[i].aside:
            return i
    return None


def renamings(names: Names, given: Sequence[str], times: int) -> list[dict[str, str]]:
    """For each repetition, what it calls the images of names: M', M'', M''', then M-4, M-5 ..."""
    taken = set(names.points) | set(names.creases)
    found: list[dict[str, str]] = []
    for _ in range(times):
        fresh: dict[str, str] = {}
        for name in given:
            k = 1
            while (new := f"{name}{chr(39) * k}" if k < 4 else f"{name}-{k}") in taken:
                k += 1
            taken.add(new)
            fresh[name] = new
        found.append(fresh)
    return found
