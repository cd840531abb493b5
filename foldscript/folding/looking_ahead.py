"""Which of several hints is meant: the one with which the lines that follow fold.

In: the hints of a line that was refused, and the script. Out: the same hints, those first with which most of
what comes after folds, without those that stop short of another; and where none leads on, what an earlier
line may lack. A script knows what it is for: most mistakes are one wrong line among right ones.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from ..source.diagnostics import Hint
from .earlier_lines import (
    AND_WHAT_FOLLOWS,
    Place,
    guesses,
    left_out,
    likely,
    possible,
    said_to_be_opened,
    turned_round,
)
from .going_on import Beginnings, Budget, LayOut, Run, lines_after
from .one_word_off import (
    another_point,
    at_odds_with_itself,
    flap_there,
    in_a_line_before,
    in_this_line,
)
from .script_tells import after_turning_over, marked_and_not_used, told, with_unused_marks
from .step_tells import goal_beside

#: Statements after the line that are looked at; hints of one line that are.
_AHEAD, _MOST_HINTS = 8, 8
#: What one look may spend: some third of a second of folding.
_SPENT = 800.0
#: So many times that for what the script speaks for, and for lines before it, of which there are more.
_MORE = 3.0
#: How far what the script speaks for is followed; so many lines that follow bear out what nothing speaks for.
_TOLD_AHEAD, _ENOUGH = 4, 2
#: What may lack before the line, told in one message; of words taken for others so many tell nothing.
_MOST_EARLIER, _TOO_MANY = 2, 3
#: How a hint begins that asks for something, as one way of several.
_ASKS = re.compile(r"(?:say|add|make|leave|put|end|for|in line)\b")
#: How a hint begins that says for which other wish it is.
_ELSE = re.compile(r"(?:or,? )?(?:for|if)\b")
#: What is said beside hints with which only their own line folds.
_BEFORE = Hint("what follows folds with none of these: look at the lines before it, too")
#: How a hint begins that shows how a move is written.
_A_FORM = "write it like"


def by_what_follows(hints: Sequence[Hint], place: Place, lay_out: LayOut) -> tuple[Hint, ...]:
    """The hints of a refused line, first those with which the script goes on, or what may lack before it."""
    after = min(_AHEAD, lines_after(place.source, place.span.end))
    look = _Look(Beginnings(place, lay_out))
    known = (
        look.first(chain(after_turning_over(place), goal_beside(place)), after)
        if place.code.startswith("which-")
        else look.first(_by_itself(place), min(after, _TOLD_AHEAD), spent=_MORE * _SPENT)
    )
    unused = [] if place.code == "unknown-name" else marked_and_not_used(place)
    vague = place.code == "no-pocket" or not any(
        hint.edit is not None or _names(hint, unused) for hint in hints
    )
    if not known and vague:
        known = look.first(with_unused_marks(place), after)
    if not known and not any(hint.edit is not None for hint in hints):
        known = look.first(flap_there(place), after)
    if not known:
        several = look.first(another_point(place), after)
        known = several if len(several) == 1 else []
    ranked = _ranked(hints, place, look, after)
    if not known:  # what was marked is meant for something
        using = [hint for hint in ranked if _names(hint, unused)]
        row = [*using, *(hint for hint in ranked if hint not in using)]
        return ranked if row == [*ranked] else _as_choice(row, ranked)
    first = known[0] if after else _alone(known[0])
    return _as_choice(
        [first, *(hint for hint in _beside(ranked) if hint.edit != first.edit)], hints
    )


def _beside(hints: Iterable[Hint]) -> list[Hint]:
    """Of hints beside one that the script bears out those that advise, or are openly for another wish."""
    return [hint for hint in hints if hint.edit is None or _ELSE.match(hint.text)]


def _by_itself(place: Place) -> Iterator[Hint]:
    """Changes that the script or the line itself speaks for."""
    yield from told(place)
    yield from at_odds_with_itself(place)


def _names(hint: Hint, points: Sequence[str]) -> bool:
    """Whether what a hint says to write names one of these points."""
    added = re.match("(?:or )?add '([^']*)'", hint.text)
    said = hint.edit.text if hint.edit is not None else added[1] if added else ""
    return any(point in re.findall(r"[\w-]+", said) for point in points)


def _alone(hint: Hint) -> Hint:
    """A hint of a line after which nothing follows."""
    return replace(hint, text=hint.text.replace(AND_WHAT_FOLLOWS, ""))


def _ranked(hints: Sequence[Hint], place: Place, look: _Look, after: int) -> tuple[Hint, ...]:
    """The hints, first those with which the script goes on, or what may lack before the line."""
    runs: dict[Hint, Run] = {}
    if after or place.verb == "collapse":
        runs, after = look.together(hints[:_MOST_HINTS], after)
    best = max((run.lines for run in runs.values()), default=-1)
    if best < after:
        return _led_nowhere(hints, place, look, after, tried=bool(runs))
    if not after and place.verb != "collapse":
        return tuple(hints)  # nothing was looked at: it costs too much
    alike = {hint: run.alike() for hint, run in runs.items() if run.lines == best}
    row = sorted(alike, key=lambda hint: (runs[hint].remarks, -alike[hint]))
    if after and not alike[row[0]]:
        row = [*look.first(chain(likely(place), guesses(place)), after, alike=1), *row]
    elif after and runs[row[0]].changes > 1:
        row = [*look.first(chain(likely(place), guesses(place)), after, changes=1), *row]
    others = [
        hint
        for hint in hints
        if hint not in runs and not (after and (hint.text.startswith(_A_FORM) or hint.edit))
    ]
    if after and hints[0] in others and hints[0].edit is not None:
        return tuple(hints)  # the first does not fold at all, and is meant as a way there
    return _as_choice((*row, *others), hints)


def _led_nowhere(
    hints: Sequence[Hint], place: Place, look: _Look, after: int, tried: bool
) -> tuple[Hint, ...]:
    """The hints of a line that lead no further than to it: first what may lack before, or be another word."""
    certain = any(hint.edit is not None for hint in hints)
    alone = not certain or place.code == "unknown-name"
    found = look.first(likely(place) if after or alone else said_to_be_opened(place), after)
    borne_out = after >= _ENOUGH or (after and tried)
    if not found and (borne_out or (alone and place.verb == "repeat")):
        found = look.first(guesses(place), after)
    if not (found or certain):
        found = look.first(left_out(place), after)
    if not found:
        found = look.one_word_off(place, after)
    if found and after:
        return _as_choice([*found, *_beside(hints)], hints)
    more = look.first(possible(place) if after else turned_round(place), after)
    if not found and alone and not borne_out:
        more = [*more, *(_as_a_guess(hint) for hint in look.first(guesses(place), after))]
    row = [*map(_alone, found), *(_beside(hints) if found else hints)]
    untold = tried and after and not more and place.verb and place.code != "name-taken"
    return (*_as_choice(row, hints), *more, *([_BEFORE] if untold else []))


def _as_a_guess(hint: Hint) -> Hint:
    """A change for which nothing speaks but that the line folds."""
    where, _, then = hint.text.partition(": ")
    said = re.fullmatch(r"in line (\d+) (say .+)", where)
    if said is None or not then:
        return replace(hint, text=f"or, if another place is meant, {hint.text}")
    return replace(hint, text=f"or, if line {said[1]} was meant otherwise: {said[2]} there")


@dataclass(frozen=True)
class _Look:
    """What changed scripts are tried for, from where they begin."""

    begin: Beginnings

    def together(self, hints: Sequence[Hint], after: int) -> tuple[dict[Hint, Run], int]:
        """The runs of the hints with which the line folds, all as far as each other or refused; and how far.

        That is fewer lines than asked where they cost too much.
        """
        budget = Budget(_SPENT)
        runs = {
            hint: run
            for hint in hints
            if hint.edit is not None
            and (run := self.begin.run(hint.edit)) is not None
            and run.to(0, budget)
            and run.lines >= 0
        }
        for far in range(1, after + 1):
            for hint, run in runs.items():
                if not run.stopped and not run.to(far, budget):
                    return runs, far - 1
                if run.stopped and run.lines == far - 1 and run.changes == 1:
                    runs[hint] = self._sister(hint, far, budget) or run
        return runs, after

    def _sister(self, hint: Hint, far: int, budget: Budget) -> Run | None:
        """The run of a hint that is followed in the next lines too; None where that leads no further."""
        assert hint.edit is not None
        run = self.begin.run(hint.edit, sisters=True)
        return run if run is not None and run.to(far, budget) and run.lines >= far else None

    def one_word_off(self, place: Place, after: int) -> list[Hint]:
        """Changes of one word, of this line or where enough follows of one before, that lead to the end."""
        if after < _ENOUGH or place.code.startswith("which-"):
            return []
        found = self.first(in_this_line(place), after, most=_TOO_MANY)
        if not found:
            before = in_a_line_before(place)
            found = self.first(before, after, spent=_MORE * _SPENT, most=_TOO_MANY)
        return found if len(found) < _TOO_MANY else []

    def first(
        self,
        hints: Iterable[Hint],
        after: int,
        alike: int = 0,
        changes: int = 2,
        spent: float | None = None,
        most: int = _MOST_EARLIER,
    ) -> list[Hint]:
        """Of changes, the first with which the line and all that is looked at after it folds.

        `alike` : how regular the paper has to be then; `changes` : how many the script may need
        """
        found: list[Hint] = []
        budget = Budget(_SPENT if spent is None else spent)
        given: set[str] = set()
        for hint in hints:
            why, colon, _ = hint.text.partition(": say ")
            if colon and why in given:
                continue  # other words for the same
            run = None if hint.edit is None else self.begin.run(hint.edit)
            if budget.left < 0:
                break
            if run is None or not run.to(after, budget):
                continue
            if run.lines < after and run.lines >= 0 and changes > 1:
                run = self._sister(hint, after, budget)
            if run is not None and run.lines >= after and (not alike or run.alike() >= alike):
                found.append(hint)
                given.add(why)
            if len(found) == most:
                break
        return found


def _as_choice(row: Sequence[Hint], hints: Sequence[Hint]) -> tuple[Hint, ...]:
    """A row that was `hints`: its first without 'or', and what came before or is new with one."""
    if not row:
        return ()
    first, *rest = row
    moved = (
        replace(hint, text=f"or {hint.text}")
        if _ASKS.match(hint.text) and hint not in hints[1:]
        else hint
        for hint in rest
    )
    return replace(first, text=re.sub("^or,? ", "", first.text)), *moved
