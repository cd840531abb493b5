"""Which figures a model has, and which of its steps each of them shows.

In: a folded `Model`. Out: a `Planned` for every figure, in order. A step keeps the number that it has in
the script, everywhere. Only what is folded has a figure of its own:

- a step that only turns the model is told by its sign, which leads on from the figure before;
- a step that only repeats the one before has its box on the figure of that;
- a step that only names points, or turns the model first of all or after a figure half way, is told with
  the figure after it.

Such a figure shows several steps, '7–8'. A script asks for a figure with `show`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeGuard

from ..folding.steps import Model, Panel, Step
from ..geometry.lines import Point
from ..geometry.remembered import remembered
from ..geometry.tolerance import same_point
from ..paper.signs import Arrow, Landmark, PointSign, RepeatSign, Rotate, Sign, TurnOver
from ..pose.goals import Raise
from ..pose.pose import Pose
from .space.levels import with_levels
from .space.mouths import opened
from .space.moving import lifts
from .space.standing import standing

#: Signs that stand between two figures, and how many there may be.
Turn = TurnOver | Rotate
_MOST = 2


@dataclass(frozen=True)
class Planned:
    """One figure.

    Attributes
    ----------
    steps : what it shows, in order
    panel : as it is drawn
    part : 'a', 'b', ... where the step that folds in it has several figures
    folded : number of that step
    told : the steps that its caption tells, each with the number of the figure among the step's own
    finished : whether it shows a part that is finished after its step, and nothing is done
    """

    steps: tuple[Step, ...]
    panel: Panel
    folded: int
    part: str = ""
    told: tuple[tuple[Step, int], ...] = ()
    finished: bool = False

    @property
    def first(self) -> int:
        """Number of its first step."""
        return self.steps[0].number

    @property
    def last(self) -> int:
        """Number of its last step."""
        return self.steps[-1].number

    @property
    def begins(self) -> bool:
        """Whether it is the first figure of its steps."""
        return not self.finished and self.part in ("", "a")

    @property
    def ends(self) -> bool:
        """Whether it is the last figure of the step that folds in it."""
        return any(s.number == self.folded and k == len(s.panels) - 1 for s, k in self.told)

    @property
    def label(self) -> str:
        """What is written beside it: '3', '3a', '3–4'; '' for a finished part."""
        if self.finished:
            return ""
        ends = [f"{n}{self.part if n == self.folded else ''}" for n in (self.first, self.last)]
        return "–".join(dict.fromkeys(ends))


@remembered
def planned(model: Model) -> tuple[Planned, ...]:
    """Every figure of a model but that of the finished one."""
    closed = {part.last for part in model.parts[:-1]}
    out: list[Planned] = []
    waiting: list[Step] = []  # told with the figure after them
    for step in model.steps:
        host = out[-1] if out and not waiting and not _begins(model, step) else None
        if host is not None and _joins(model, host, step):
            out[-1] = _joined(host, step)
        elif (
            _waits(model, step, host) and step.number not in closed and step is not model.steps[-1]
        ):
            waiting.append(step)
        else:
            out += _figures(model, step, waiting)
            waiting = []
        if step.number in closed:
            pose = model.poses.get(step.number)
            shown = Panel(step.after, (), pose=pose)
            out.append(Planned((step,), shown, step.number, finished=True))
    return tuple(out)


def _begins(model: Model, step: Step) -> bool:
    return any(part.first == step.number for part in model.parts)


def _figures(model: Model, step: Step, waiting: Sequence[Step]) -> Iterator[Planned]:
    """The figures of a step, the first of which tells the steps that have waited for it, too."""
    panels = panels_of(model, step)
    for k, panel in enumerate(panels):
        part = _letter(k) if len(panels) > 1 else ""
        if k > 0 or not waiting:
            yield Planned((step,), panel, step.number, part, ((step, k),))
            continue
        turns = tuple(sign for one in waiting for sign in turns_of(one.panels[0]))
        panel = replace(panel, before_turns=(*turns, *panel.before_turns))
        for one in waiting:
            panel = _lettered(panel, one)
        told = (*((one, 0) for one in waiting), (step, 0))
        yield Planned((*waiting, step), panel, step.number, part, told)


def turns_of(panel: Panel) -> tuple[Turn, ...]:
    """The signs between a figure and its neighbours, those before it first."""
    every = (*panel.before_turns, *panel.signs, *panel.after_turns)
    return tuple(sign for sign in every if isinstance(sign, Turn))


def _only(step: Step) -> Panel | None:
    """The one figure of a step in which nothing is folded; None for others, and where it is asked for."""
    if len(step.panels) != 1 or step.panels[0].asked or step.panels[0].pose is not None:
        return None
    panel = step.panels[0]
    silent = RepeatSign | TurnOver | Rotate | Landmark
    return panel if all(isinstance(sign, silent) for sign in panel.signs) else None


def _repeats(panel: Panel) -> tuple[RepeatSign, ...]:
    return tuple(sign for sign in panel.signs if isinstance(sign, RepeatSign))


def _joins(model: Model, host: Planned, step: Step) -> bool:
    """Whether a step is told with the figure before it."""
    panel = _only(step)
    numbers = (step.number - 1, step.number)
    if panel is None or host.finished:
        return False
    if any(number in model.poses for number in numbers):
        return False
    if _repeats(panel):
        turned = turns_of(panel) or host.panel.after_turns
        return not turned and all(sign.last == host.last for sign in _repeats(panel))
    most = 0 if host.folded in model.halves else _MOST - len(host.panel.after_turns)
    return 0 < len(turns_of(panel)) <= most


def _waits(model: Model, step: Step, host: Planned | None) -> bool:
    """Whether a step is told with the figure after it."""
    panel = _only(step)
    if panel is None or _repeats(panel):
        return False
    return not turns_of(panel) or host is None or host.folded in model.halves


def _joined(host: Planned, step: Step) -> Planned:
    """The figure with what a step adds to it."""
    panel = step.panels[0]
    more = _lettered(host.panel, step)
    more = replace(
        more,
        signs=(*more.signs, *_repeats(panel)),
        after_turns=(*more.after_turns, *turns_of(panel)),
    )
    return replace(host, steps=(*host.steps, step), panel=more, told=(*host.told, (step, 0)))


def _lettered(panel: Panel, step: Step) -> Panel:
    """The panel with the letters of a step that it shows, too, where these points lie in it."""
    known = dict(step.named)
    letters = [
        (name, panel.state.where(known[name]) if name in known else at)
        for name, at in step.panels[0].letters
    ]
    had = {name for name, _ in panel.letters}
    wanted = tuple((name, at) for name, at in letters if name not in had)
    if not wanted:
        return panel
    if panel.lettering is None:
        return replace(panel, labels=(*panel.labels, *wanted))
    return replace(panel, lettering=(*panel.lettering, *wanted))


def panels_of(model: Model, step: Step) -> tuple[Panel, ...]:
    """The figures of a step, standing in space where the model does before the step."""
    pose = None if _begins(model, step) else model.poses.get(step.number - 1)
    later = model.poses.get(step.number)
    panels = tuple(with_levels(panel, step, later) for panel in step.panels)
    if pose is None:
        return panels if later is None else (*panels[:-1], _raised(step, panels[-1], later))
    return tuple(
        replace(standing(panel, pose), next_pose=None if later is pose else later)
        for panel in panels
    )


def _raised(step: Step, panel: Panel, pose: Pose) -> Panel:
    """The last figure of a step after which the model stands: what is raised, as arrows towards the eye."""
    flat = [opened(panel.state, pose, s) if _mouth(s) else s for s in panel.signs]
    panel = replace(panel, signs=tuple(map(_lying, _each_mouth_once(flat))))
    goals = [goal for record in step.records for goal in record.goals]
    if not goals or not all(isinstance(goal, Raise) for goal in goals):
        return panel
    tips = [sign.tail for sign in panel.signs if isinstance(sign, Arrow) and _opens(sign)]
    arrows = lifts(panel.state, pose, tips)
    if not arrows:
        return panel
    kept = (s for s in panel.signs if not _opens(s))
    return replace(panel, signs=(*kept, *arrows))


def _lying(sign: Sign) -> Sign:
    """A sign on flat paper: what the model comes to stand on is no place of that yet."""
    if isinstance(sign, PointSign) and sign.foot is not None:
        return replace(sign, foot=None)
    return sign


def _each_mouth_once(signs: Sequence[Sign]) -> Iterator[Sign]:
    """The signs, of those that open one place only the first."""
    places: list[Point] = []
    for sign in signs:
        if _mouth(sign):
            if any(same_point(sign.at, at) for at in places):
                continue
            places.append(sign.at)
        yield sign


def _mouth(sign: Sign) -> TypeGuard[PointSign]:
    return isinstance(sign, PointSign) and sign.kind == "open-out"


def _opens(sign: Sign) -> bool:
    """Whether the pose tells better what a sign says: of what opens, and of what is raised in sight."""
    raised = isinstance(sign, Arrow) and sign.act in ("raise", "lower") and not sign.under
    return raised or _mouth(sign)


def _letter(k: int) -> str:
    return "abcdefghijklmnopqrstuvwxyz"[k] if k < 26 else f".{k + 1}"
