"""Gathers the signs of a step into figures: one, or several where one picture could not be true.

A move can share a figure with those before it as long as the paper that it creases has not moved
since the figure's state, and as what its sentence tells by a side is there in the figure, too; otherwise
a new figure starts. A fold that is laid back at once is
drawn with one arrow there and back; what else is unfolded is drawn on the paper as it lies then, and shares a
figure only where that shows it on top, in its place. More than
three such arrows would bury the paper: they are shared out among figures, as evenly as can be. Turning
the model over or round is drawn between figures.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from ..geometry import polygons
from ..geometry.isometries import inverse
from ..geometry.lines import Point, Segment
from ..geometry.tolerance import same_point
from ..moves.planning.request import Outcome
from ..paper.signs import Arrow, CutLine, FoldLine, Landmark, Sign, landmark_points
from ..paper.state import State
from .landmarks import with_landmarks
from .said_sides import sides_hold
from .steps import Panel

#: Arrows of a fold that has one there and back.
_THERE = ("valley", "mountain")
#: An arrow there and back, and how many of them one figure may have.
_AND_BACK, _MOST = "fold-unfold", 3


@dataclass
class Figures:
    """Panels of one step, under construction."""

    state: State
    most: int | None = (
        None  # arrows there and back that begin a new figure, None to share out too many
    )
    done: list[Panel] = field(default_factory=list)
    signs: list[Sign] = field(default_factory=list)
    labels: dict[str, Point] = field(default_factory=dict)
    before_turns: list[Sign] = field(default_factory=list)
    after_turns: list[Sign] = field(default_factory=list)
    first: State = field(init=False)
    undone_next: list[tuple[State, Outcome]] = field(default_factory=list)
    moves: list[tuple[State, Outcome]] = field(default_factory=list)
    said: set[Landmark] = field(default_factory=set)
    sentences: int = 0
    asked: bool = False

    def __post_init__(self) -> None:
        self.first = self.state

    def add(self, now: State, outcome: Outcome) -> None:
        """Takes in one move, made on `now`."""
        full = self.most is not None and _pairs(self.signs) + _pairs(outcome.signs) > self.most
        if full and not outcome.undoes:  # what is laid back stays with its fold
            self._close()
            self.state = now
        laid_back = self._gather(now, outcome)
        if not laid_back:
            self.undone_next.append((now, outcome))
        self.moves.append((now, outcome))
        self.sentences += outcome.wording is not None
        self.asked = self.asked or outcome.figure

    def _gather(self, now: State, outcome: Outcome) -> bool:
        """Takes in its signs; whether it lays back the last fold that lies folded, and is told with it."""
        if outcome.undoes and self.undone_next and self._back_again(*self.undone_next[-1], outcome):
            self.undone_next.pop()
            return True
        if outcome.turn is not None:
            if self.signs or self.after_turns:
                self.after_turns.extend(outcome.signs)
            else:
                self.before_turns.extend(outcome.signs)
                self.state = outcome.after
                self.labels.clear()
            return False
        if outcome.before is not None and not (self.signs or self.labels or self.after_turns):
            self.state = now
        carried = None
        if not self.after_turns and sides_hold(self.state, now, outcome.wording):
            carried = _carried(self.state, now, outcome)
        if carried is None:
            self._close()
            self.state = now
            carried = list(outcome.signs)
        folds = any(isinstance(sign, FoldLine | CutLine) for sign in carried)
        for sign in carried:
            if isinstance(sign, Landmark) and not _stands(self.state, now, sign):
                continue
            if sign not in self.signs:
                self.signs.append(sign)
            if isinstance(sign, Landmark) and folds:
                self.said.add(sign)
        for name, at in outcome.letters:
            if _same_place(self.state, now, at):
                self.labels[name] = at
        return False

    def _back_again(self, now: State, fold: Outcome, unfold: Outcome) -> bool:
        """Turns the arrow of a fold into one there and back, where it is laid back as a whole.

        Of several folds it is the last that still lies folded.
        """
        arrows = [s for s in fold.signs if isinstance(s, Arrow)]
        if not arrows or self.after_turns or not _lies_as(now, unfold.after):
            return False
        if any(a.act not in _THERE or a not in self.signs for a in arrows):
            return False
        self.signs = [
            replace(s, act=_AND_BACK) if isinstance(s, Arrow) and s in arrows else s
            for s in self.signs
        ]
        return True

    def _close(self) -> None:
        self.done += self._shared_out() or [
            Panel(
                self.state,
                with_landmarks(self.state, self.signs, self.said),
                tuple(self.before_turns),
                tuple(self.after_turns),
                tuple(self.labels.items()),
                sentences=self.sentences,
                asked=self.asked,
            )
        ]
        self.signs, self.labels, self.before_turns, self.after_turns = [], {}, [], []
        self.moves, self.sentences, self.asked, self.said = [], 0, False, set()
        self.undone_next = []

    def _shared_out(self) -> list[Panel]:
        """The figure as several where it has too many arrows there and back; () where it stays one."""
        count = _pairs(self.signs)
        if self.most is not None or count <= _MOST or self.before_turns or self.after_turns:
            return []
        again = Figures(self.state, math.ceil(count / math.ceil(count / _MOST)))
        for now, outcome in self.moves:
            again.add(now, outcome)
        return list(again.finish())

    def finish(self) -> tuple[Panel, ...]:
        """All panels of the step; at least one.

        A step that only turns the model shows it before, the sign leading on to the next figure.
        """
        if not self.done and not self.signs and self.before_turns and not self.after_turns:
            self.state, self.labels = self.first, {}
            self.after_turns, self.before_turns = self.before_turns, []
        self._close()
        return tuple(self.done)


def _pairs(signs: Sequence[Sign]) -> int:
    """How many of them are arrows there and back."""
    return sum(isinstance(sign, Arrow) and sign.act == _AND_BACK for sign in signs)


def _lies_as(before: State, after: State) -> bool:
    """Whether the paper has come back to where it lay, in the same facets."""
    if before.facets == after.facets:
        return True
    if len(before.facets) != len(after.facets):
        return False
    return all(
        any(
            all(polygons.inside(was.outline, p) for p in now.outline)
            and all(same_point(was.place(p), now.place(p)) for p in now.outline)
            for was in before.facets
        )
        for now in after.facets
    )


def _carried(figure: State, now: State, outcome: Outcome) -> list[Sign] | None:
    """Signs made on `now` as signs of the figure's state; None when its paper has moved since."""
    if figure is now:
        return list(outcome.signs)
    if outcome.undoes and not _lies_on_top(figure, now, outcome):
        return None
    out: list[Sign] = []
    for sign in outcome.signs:
        if isinstance(sign, FoldLine | CutLine):
            parts: list[tuple[int, Segment]] = []
            for facet, seg in sign.parts:
                pieces = _pieces(figure, now, facet, seg)
                if pieces is None:
                    return None
                parts.extend(pieces)
            out.append(replace(sign, parts=tuple(parts)))
            continue
        if isinstance(sign, Arrow) and not _same_place(figure, now, sign.tail):
            return None
        out.append(sign)
    return out


def _lies_on_top(figure: State, now: State, outcome: Outcome) -> bool:
    """Whether all of the flap that is opened lies in the figure where it lies now, with nothing over it."""
    flap = {i for p in outcome.moved for i in now.facets_on_sheet(p)}
    middles = [polygons.centroid(facet.outline) for facet in figure.facets]
    here = {i for i, p in enumerate(middles) if not flap.isdisjoint(now.facets_on_sheet(p))}
    lies = all(same_point(figure.where(middles[i]), now.where(middles[i])) for i in here)
    over = any(figure.above(j, i) for i in here for j in range(len(middles)) if j not in here)
    return bool(here) and lies and not over


def _pieces(
    figure: State, now: State, facet: int, seg: Segment
) -> list[tuple[int, Segment]] | None:
    """A segment on a facet of `now`, on the facets of the figure, if it lies where it lay."""
    back = inverse(now.facets[facet].place)
    p, q = back(seg[0]), back(seg[1])
    found: list[tuple[int, Segment]] = []
    for i, f in enumerate(figure.facets):
        piece = polygons.clip_segment(f.outline, (p, q))
        if piece is None:
            continue
        placed = (f.place(piece[0]), f.place(piece[1]))
        there = (now.facets[facet].place(piece[0]), now.facets[facet].place(piece[1]))
        if not (same_point(placed[0], there[0]) and same_point(placed[1], there[1])):
            return None
        if f.shows_front != now.facets[facet].shows_front:
            continue
        found.append((i, placed))
    return found or None


def _stands(figure: State, now: State, sign: Landmark) -> bool:
    """Whether a landmark on `now` stands on the same paper in the figure."""
    return figure is now or all(_same_place(figure, now, p) for p in landmark_points(sign))


def _same_place(figure: State, now: State, at: Point) -> bool:
    """Whether paper at a folded point of `now` lay there in the figure too, if any is there."""
    there = now.facets_at(at)
    if figure is now or not there:
        return True
    for i in there:
        sheet = inverse(now.facets[i].place)(at)
        if figure.facets_on_sheet(sheet) and same_point(figure.where(sheet), at):
            return True
    return False
