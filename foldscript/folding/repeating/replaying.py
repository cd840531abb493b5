"""Does a row of moves once more, on the image of their paper under a symmetry.

In: the folding, the original steps, a symmetry of the paper as it was before them. Out: the paper with
every move of them really folded again on its image. Before each move the image must lie as the
original lay, afterwards as the original came to lie, between the same layers: nothing is assumed.

Moves whose image lies on the hidden face are made there: the model is turned over in the mind, so
that valley means valley as seen from behind, and lies as before in the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...geometry import polygons
from ...geometry.isometries import Isometry, compose, inverse, map_segment, nearly_same
from ...geometry.lines import Point
from ...geometry.tolerance import EPS
from ...moves.planning.fold_clauses import CHOICES
from ...moves.planning.request import MoveRecord, Steps
from ...paper.silhouette import over_side_to_side
from ...paper.state import State
from ...paper.symmetry import Symmetry
from ...source.diagnostics import Refusal
from ..performing.perform import Folding, add_record, carry_out
from ..resolving.names import Names, locate
from ..resolving.resolved import ResolvedStatement
from .checkpoints import restore, save
from .leaf_turning import refuse_covered, refuse_other_leaves
from .local_symmetries import unlike
from .lying import other_way_round
from .repeated_steps import RepeatedSteps, add_whole_turn, turn_since
from .traces import Trace, astray, creased_besides, lines_made, moved_paper, uncreased
from .transfer import Transfer


@dataclass(frozen=True)
class NewNames:
    """What a repetition calls things.

    `renamed` holds the new name for each name given in the original steps; `naming` a record and the
    name that 'as' gives its crease.
    """

    renamed: dict[str, str]
    naming: tuple[int, str] | None = None

    def name_of(self, index: int, name: str) -> str:
        """The name that the repetition of a record gives."""
        if self.naming is not None and self.naming[0] == index:
            return self.naming[1]
        return self.renamed.get(name, "")


def replay(
    folding: Folding,
    number: int,
    original: RepeatedSteps,
    symmetry: Symmetry,
    new_names: NewNames,
    *,
    folded: Sequence[Trace] | None = None,
    local: bool = False,
) -> None:
    """Does the original steps again on their image; the model lies as before in the end.

    Parameters
    ----------
    symmetry : of the paper before them (or to that paper with its leaves turned)
    new_names : what the repetition calls things
    folded : for a symmetry that was found by turning leaves, what has been folded since; all other
        paper must lie as it did before them, the image's leaf uppermost
    local : for a symmetry of the flap alone: the paper there has to be as free as the
        original was, and nothing else may move with it

    Raises
    ------
    Refusal : of the moves; 'folded-since' when the image does not lie as the original did;
        'repeat-differs' when it comes to lie elsewhere
    """
    home = turn_since(folding, original.start)
    if folded is not None:
        refuse_other_leaves(folding, original, symmetry, folded)
    ends = {original.first - 1: (folding.state, len(folding.history))}
    for i in range(original.start, original.end):
        record, resolved = folding.history[i], folding.statements[i]
        for step in range(ends_before(folding, i, original), record.step):
            ends[step] = (folding.state, len(folding.history))
        if resolved.preparation:
            continue
        then = turn_since(folding, original.start, i)
        if turn_since(folding, original.start).flips != (then.flips != symmetry.behind):
            add_whole_turn(folding, number, over_side_to_side(folding.state))
        motion = compose(
            compose(turn_since(folding, original.start), symmetry.motion), inverse(then)
        )
        steps = tuple(
            ends.get(k, end) if k >= original.first - 1 else end
            for k, end in enumerate(folding.step_ends)
        )
        _refuse_looking_back(resolved, original)
        if folded is not None:
            refuse_covered(folding, record, symmetry.sheet)
        if local:
            _refuse_unlike(folding, record, symmetry)
        began = len(folding.history)
        _once_more(folding, number, original, i, symmetry.sheet, motion, new_names, steps)
        if local:
            _refuse_more(folding, record, began, symmetry)
    now = turn_since(folding, original.start)
    if not nearly_same(now, home):
        add_whole_turn(folding, number, compose(home, inverse(now)))


def _refuse_unlike(folding: Folding, record: MoveRecord, symmetry: Symmetry) -> None:
    """The image must lie as free on its face as the original, its layers in the same order."""
    pieces = moved_paper(record.before, record.after)
    # the image's face lies in front here: the model has been turned for it
    place = unlike(record.before, folding.state, symmetry.sheet, pieces, behind=False)
    if place is not None:
        where = locate(record.before, folding.names, record.before.where(place))
        raise Refusal(
            "no-symmetry",
            f"the layers {where} do not lie as freely where step {record.step} would be repeated",
            "write the fold out there",
        )


def _refuse_more(folding: Folding, record: MoveRecord, began: int, symmetry: Symmetry) -> None:
    """Just the image of the paper that moved may have moved."""
    wanted = Trace(tuple(p.outline for p in moved_paper(record.before, record.after)), ())
    now = [d for d in folding.history[began:] if d.turn is None]
    moved = Trace(tuple(p.outline for d in now for p in moved_paper(d.before, d.after)), ())
    if not wanted.mapped(symmetry.sheet).same(moved):
        raise Refusal(
            "repeat-differs",
            f"other paper would move along than in step {record.step}",
            "write the fold out there",
        )


def ends_before(folding: Folding, index: int, original: RepeatedSteps) -> int:
    """The step whose end was last passed before a record of the original."""
    if index == original.start:
        return original.first - 1
    return folding.history[index - 1].step


def _refuse_looking_back(resolved: ResolvedStatement, original: RepeatedSteps) -> None:
    for value in (v for c in resolved.clauses for v in c.values):
        if isinstance(value, Steps) and value.first < original.first - 1:
            raise Refusal(
                "repeat-looks-back",
                f"it goes back to step {value.first}, before the steps that are repeated",
                "repeat from an earlier step on, or write the fold out",
            )


def _once_more(
    folding: Folding,
    number: int,
    original: RepeatedSteps,
    index: int,
    sheet: Isometry,
    motion: Isometry,
    new_names: NewNames,
    steps: tuple[tuple[State, int], ...],
) -> None:
    """One move on its image, checked before and after."""
    record, resolved = folding.history[index], folding.statements[index]
    pieces = moved_paper(record.before, record.after)
    place = next(astray(folding.state, sheet, motion, pieces, after=False), None)
    if place is not None:
        raise _lies_elsewhere(folding, number, original, record, place)
    transfer = Transfer(
        record.before, folding.state, sheet, motion, folding.names, new_names.renamed
    )
    anew = replace(
        resolved,
        clauses=tuple(transfer.clause(c) for c in resolved.clauses),
        new_name=new_names.name_of(index, resolved.new_name),
    )
    before, was = save(folding), folding.state
    was_there = not pieces and uncreased(was, sheet, record.creases) is None
    problem: Refusal | None = None
    for choice in _choices(anew):
        try:
            outcome = carry_out(folding, number, choice, steps)
        except Refusal as refusal:
            restore(folding, before)
            there = uncreased(folding.state, sheet, lines_made(record)) is None
            if refusal.code == "crease-there-already" and there:
                _creased_already(folding, number, anew, record, sheet)
                return
            problem = problem or refusal
            continue
        if any(remark.code == "crease-there-already" for remark in outcome.remarks):
            restore(folding, before)
            _creased_already(folding, number, anew, record, sheet)
            return
        if was_there and creased_besides(was, folding.state, sheet, record.creases):
            restore(folding, before)
            _creased_already(folding, number, anew, record, sheet)
            return
        place = next(astray(folding.state, sheet, motion, pieces, after=True), None)
        if place is None:
            place = uncreased(folding.state, sheet, lines_made(record))
        if place is None:
            place = other_way_round(record, folding.state, sheet, motion, pieces)
        if place is None:
            return
        restore(folding, before)
        if not folding.state.facets_on_sheet(place):
            raise Refusal(
                "cut-off",
                f"paper where step {record.step} would be repeated has been cut off",
                "repeat before that piece is cut off, or write the moves out",
            )
        where = locate(folding.state, folding.names, folding.state.where(place))
        problem = Refusal(
            "repeat-differs",
            f"the paper there ({where}) does not come to lie as in step {record.step}",
            "write the fold out for that part of the paper",
        )
    assert problem is not None
    raise problem


def _lies_elsewhere(
    folding: Folding, number: int, original: RepeatedSteps, record: MoveRecord, place: Point
) -> Refusal:
    """That the image does not lie as its original did, and which step has moved it last."""
    where = locate(folding.state, folding.names, folding.state.where(place))
    what = f"the paper there ({where}) does not lie as it did for step {record.step}"
    out = "write the fold out there"
    for k, one in reversed([*enumerate(folding.history)]):
        moved = () if one.turn else moved_paper(one.before, one.after)
        if not any(polygons.inside(piece.outline, place, EPS) for piece in moved):
            continue
        if one.step == number:
            what, hints = (
                f"{what}: it has been moved in this step already",
                ("repeat it fewer times, or before that paper is moved", f"or {out}"),
            )
        elif k >= original.end:
            what, hints = (
                f"{what}: step {one.step} has moved it since",
                (
                    f"repeat before step {one.step}: put this line into a step above that one",
                    f"or {out}",
                ),
            )
        elif k >= original.start:
            what, hints = (
                f"{what}: step {one.step} itself has moved it",
                (
                    f"see in its figure what step {one.step} moves; where that is more than you mean, "
                    "say there how many layers, or 'moving' and a point of what moves",
                    f"or {out}",
                ),
            )
        else:
            what, hints = f"{what}: step {one.step} has moved it, and not its counterpart", (out,)
        return Refusal("folded-since", what, *hints)
    return Refusal("folded-since", what, out)


def _creased_already(
    folding: Folding, number: int, resolved: ResolvedStatement, record: MoveRecord, sheet: Isometry
) -> None:
    """A crease that is its own image, or that another repetition has made: it only gets its name."""
    creases = tuple(map_segment(sheet, s) for s in record.creases)
    if resolved.new_name:
        folding.names.name_crease(resolved.new_name, creases)
    again = replace(
        record,
        step=number,
        before=folding.state,
        after=folding.state,
        signs=(),
        name=resolved.new_name,
        creases=creases,
        moved=(),
    )
    add_record(folding, resolved, again)


def _choices(resolved: ResolvedStatement) -> list[ResolvedStatement]:
    """As it is; with 'first', 'second' ... also the other ways: their order may be mirrored."""
    found = [resolved]
    for k, clause in enumerate(resolved.clauses):
        if clause.word in CHOICES:
            found.extend(
                replace(
                    resolved,
                    clauses=(
                        *resolved.clauses[:k],
                        replace(clause, word=w),
                        *resolved.clauses[k + 1 :],
                    ),
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
