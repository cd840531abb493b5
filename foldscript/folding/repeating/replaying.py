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

from ...geometry.isometries import Isometry, compose, inverse, map_segment, nearly_same
from ...moves.planning.fold_clauses import CHOICES
from ...moves.planning.request import MoveRecord, Steps
from ...paper.state import State
from ...paper.symmetry import Symmetry
from ...source.diagnostics import Refusal
from ..performing.perform import Folding, ResolvedStatement, carry_out, remember
from ..resolving.names import Names, locate
from .images import Image, Trace, astray, moved_paper, uncreased
from .paging import refuse_covered, refuse_other_pages
from .partners import unlike
from .parts import Part, over, restore, save, turn_since, turned_in_mind


@dataclass(frozen=True)
class Calls:
    """What a repetition calls things.

    `renamed` holds the new name for each name given in the part; `naming` a record and the name that
    'as' gives its crease.
    """

    renamed: dict[str, str]
    naming: tuple[int, str] | None = None

    def name_of(self, index: int, name: str) -> str:
        """The name that the repetition of a record gives."""
        if self.naming is not None and self.naming[0] == index:
            return self.naming[1]
        return self.renamed.get(name, "")


def replay(
    paper: Folding,
    number: int,
    part: Part,
    symmetry: Symmetry,
    calls: Calls,
    *,
    folded: Sequence[Trace] | None = None,
    partial: bool = False,
) -> None:
    """Does the part again on its image; the model lies as before in the end.

    Parameters
    ----------
    symmetry : of the paper before the part (or to the paper before it with its pages turned)
    calls : what is called how
    folded : for a symmetry that was found by turning pages, what has been folded since; all other
        paper must lie as it did before the part, the image's page uppermost
    partial : for paper that has a partner on a model that is not alike: it has to be as free as the
        original was, and nothing else may move with it

    Raises
    ------
    Refusal : of the moves; 'folded-since' when the image does not lie as the original did;
        'repeat-differs' when it comes to lie elsewhere
    """
    home = turn_since(paper, part.start)
    if folded is not None:
        refuse_other_pages(paper, part, symmetry, folded)
    ends = {part.first - 1: (paper.state, len(paper.history))}
    for i in range(part.start, part.end):
        record, said = paper.history[i], paper.said[i]
        for step in range(ends_before(paper, i, part), record.step):
            ends[step] = (paper.state, len(paper.history))
        if said.aside:
            continue
        then = turn_since(paper, part.start, i)
        if turn_since(paper, part.start).flips != (then.flips != symmetry.behind):
            turned_in_mind(paper, number, over(paper.state))
        motion = compose(compose(turn_since(paper, part.start), symmetry.motion), inverse(then))
        steps = tuple(
            ends.get(k, end) if k >= part.first - 1 else end
            for k, end in enumerate(paper.step_ends)
        )
        _refuse_looking_back(said, part)
        if folded is not None:
            refuse_covered(paper, record, symmetry.sheet)
        if partial:
            _refuse_unlike(paper, record, symmetry)
        began = len(paper.history)
        _once_more(paper, number, i, symmetry.sheet, motion, calls, steps)
        if partial:
            _refuse_more(paper, record, began, symmetry)
    now = turn_since(paper, part.start)
    if not nearly_same(now, home):
        turned_in_mind(paper, number, compose(home, inverse(now)))


def _refuse_unlike(paper: Folding, record: MoveRecord, symmetry: Symmetry) -> None:
    """The image must lie as free on its face as the original, its layers in the same order."""
    pieces = moved_paper(record.before, record.after)
    # the image's face lies in front here: the model has been turned for it
    place = unlike(record.before, paper.state, symmetry.sheet, pieces, behind=False)
    if place is not None:
        where = locate(record.before, paper.names, record.before.where(place))
        raise Refusal(
            "no-symmetry",
            f"the layers {where} do not lie as freely where step {record.step} would be repeated",
            "write the fold out there",
        )


def _refuse_more(paper: Folding, record: MoveRecord, began: int, symmetry: Symmetry) -> None:
    """Just the image of the paper that moved may have moved."""
    wanted = Trace(tuple(p.outline for p in moved_paper(record.before, record.after)), ())
    now = [d for d in paper.history[began:] if d.turn is None]
    moved = Trace(tuple(p.outline for d in now for p in moved_paper(d.before, d.after)), ())
    if not wanted.mapped(symmetry.sheet).same(moved):
        raise Refusal(
            "repeat-differs",
            f"other paper would move along than in step {record.step}",
            "write the fold out there",
        )


def ends_before(paper: Folding, index: int, part: Part) -> int:
    """The step whose end was last passed before a record of the part."""
    if index == part.start:
        return part.first - 1
    return paper.history[index - 1].step


def _refuse_looking_back(said: ResolvedStatement, part: Part) -> None:
    for value in (v for c in said.clauses for v in c.values):
        if isinstance(value, Steps) and value.first < part.first - 1:
            raise Refusal(
                "repeat-looks-back",
                f"it goes back to step {value.first}, before the steps that are repeated",
                "repeat from an earlier step on, or write the fold out",
            )


def _once_more(
    paper: Folding,
    number: int,
    index: int,
    sheet: Isometry,
    motion: Isometry,
    calls: Calls,
    steps: tuple[tuple[State, int], ...],
) -> None:
    """One move on its image, checked before and after."""
    record, said = paper.history[index], paper.said[index]
    pieces = moved_paper(record.before, record.after)
    place = next(astray(paper.state, sheet, motion, pieces, after=False), None)
    if place is not None:
        where = locate(paper.state, paper.names, paper.state.where(place))
        raise Refusal(
            "folded-since",
            f"the paper there ({where}) does not lie as it did for step {record.step}",
            "repeat before folding that part of the paper",
        )
    image = Image(record.before, paper.state, sheet, motion, paper.names, calls.renamed)
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
            restore(paper, before)
            there = uncreased(paper.state, sheet, record.creases) is None
            if refusal.code == "crease-there-already" and there:
                _creased_already(paper, number, anew, record, sheet)
                return
            problem = problem or refusal
            continue
        if any(remark.code == "crease-there-already" for remark in outcome.remarks):
            restore(paper, before)
            _creased_already(paper, number, anew, record, sheet)
            return
        place = next(astray(paper.state, sheet, motion, pieces, after=True), None)
        if place is None:
            place = uncreased(paper.state, sheet, record.creases)
        if place is None:
            return
        restore(paper, before)
        where = locate(paper.state, paper.names, paper.state.where(place))
        problem = Refusal(
            "repeat-differs",
            f"the paper there ({where}) does not come to lie as in step {record.step}",
            "write the fold out for that part of the paper",
        )
    assert problem is not None
    raise problem


def _creased_already(
    paper: Folding, number: int, said: ResolvedStatement, record: MoveRecord, sheet: Isometry
) -> None:
    """A crease that is its own image, or that another repetition has made: it only gets its name."""
    creases = tuple(map_segment(sheet, s) for s in record.creases)
    if said.new_name:
        paper.names.name_crease(said.new_name, creases)
    again = replace(
        record,
        step=number,
        before=paper.state,
        after=paper.state,
        signs=(),
        name=said.new_name,
        creases=creases,
        moved=(),
    )
    remember(paper, said, again)


def _choices(said: ResolvedStatement) -> list[ResolvedStatement]:
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
