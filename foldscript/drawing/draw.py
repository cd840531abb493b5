"""The drawing stage: every panel of a model becomes a Scene.

In: a folded `Model`, a style, and the frame a figure has on the page (width and height in points).
Out: a `DrawnFigure` for each panel; all scenes have the frame's size. Where drawings of an earlier
version are kept (`DrawingCache`), figures that are the same are not drawn again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from functools import partial

from ..folding.ending import Ending, ending
from ..folding.part_words import part_finished, part_heading
from ..folding.steps import Model, Panel, Step
from ..languages.wording import Language, Template, phrase, sentences
from ..paper.signs import Arrow, PointSign
from ..pose.goals import Raise
from ..pose.pose import Pose
from .figure import compose, finished_alone, half_way
from .framing.framing import Framing, framings
from .scene.groups import Sketch
from .scene.scene import Scene
from .space.moving import lifts
from .space.standing import standing
from .style.styles import Style

#: After a step's number, for the figure of the step half way.
HALF = "½"

#: What the last figure shows, for those who cannot see it.
_LAST: dict[Ending, Template] = {
    Ending.FLAT: "Finished: {title}",
    Ending.STANDING: "Finished: {title}",
    Ending.OPENED: "{title}, before it is opened out",
    Ending.CURLED: "{title}, before it is curled",
}


@dataclass(frozen=True)
class DrawnFigure:
    """One numbered figure: label '3', or '3a', '3b' where a step has several, '3½' for the step half way.

    The label is '' where a finished part is shown after its last step. `heading` stands over the first figure
    of a part, '' over others: what is folded now, and from which sheets.
    """

    label: str
    step: int
    caption: str
    scene: Scene
    heading: str = ""

    @property
    def name(self) -> str:
        """What its file is called by after the step's number: '', 'a', '-half'."""
        return self.label.removeprefix(str(self.step)).replace(HALF, "-half")


class DrawingCache:
    """Drawings to be taken again where the very same is to be drawn.

    `turn` ends a round: what has not been used since the one before is dropped. In a hurry only some
    places are `wanted`: any other that had a drawing before keeps it, though another belongs there now;
    `behind` tells that this has happened. A place is that of a figure in the row, or the name of another
    drawing, 'finished' or 'portrait'.
    """

    def __init__(self) -> None:
        self.wanted: Collection[int | str] | None = None  # None for all
        self.behind = False
        self._before: list[tuple[object, Sketch]] = []
        self._now: list[tuple[object, Sketch]] = []
        self._places: dict[tuple[int | str, tuple[float, float]], Sketch] = {}

    def turn(self) -> None:
        """Begins a new round, without hurry."""
        self._before, self._now = self._now, []
        self.wanted, self.behind = None, False

    def sketch(
        self, place: int | str, what: object, make: Callable[[], Sketch], frame: tuple[float, float]
    ) -> Sketch:
        """The drawing of `what`, which holds everything that it depends on, for a place.

        A drawing for another `frame` never stands in for one that is not wanted now.
        """
        sketch = self._known(what)
        if sketch is None:
            waits = self.wanted is not None and place not in self.wanted
            if waits and (place, frame) in self._places:
                self.behind = True
                return self._places[place, frame]
            sketch = make()
            self._now.append((what, sketch))
        self._places[place, frame] = sketch
        return sketch

    def _known(self, what: object) -> Sketch | None:
        for known in (self._now, self._before):
            for one in known:
                if one[0] == what:
                    if known is self._before:
                        self._now.append(one)
                    return one[1]
        return None


def draw(
    model: Model, style: Style, frame: tuple[float, float], kept: DrawingCache | None = None
) -> tuple[DrawnFigure, ...]:
    """Draws every panel of a model, and its steps half way; `frame` is a figure's size in points."""
    out: list[DrawnFigure] = []
    for framing, (step, k, panel) in zip(
        _framings(model, style, frame), _plan(model), strict=False
    ):
        ink = _figure(model, panel, framing, style, frame, kept, len(out))
        if k < 0:
            words = part_finished(model, step.number).render(model.speech)
            out.append(DrawnFigure("", step.number, words, _scene(model, ink, frame, words, words)))
            continue
        label = f"{step.number}{_letter(k)}" if len(step.panels) > 1 else f"{step.number}"
        title = phrase("Step {n}", n=label).render(model.speech)
        words = f"{title}. {_whole_caption(step, model.speech)}".strip()
        scene = _scene(model, ink, frame, title, words)
        heading = part_heading(model, step.number) if k == 0 else ""
        caption = _caption(step, k, model.speech)
        out.append(DrawnFigure(label, step.number, caption, scene, heading))
        half = model.halves.get(step.number)
        if half is not None and k == len(step.panels) - 1:
            make = partial(half_way, model, half, panel, framing, ink.moved, style)
            colours = (model.front_colour, model.back_colour)
            what = ("half", half, framing, ink.moved, panel.state.sheet, colours, style)
            caption = phrase("Step {n}, half way.", n=str(step.number)).render(model.speech)
            ink = _sketched(kept, len(out), what, make, frame)
            scene = _scene(model, ink, frame, caption, caption)
            out.append(DrawnFigure(f"{step.number}{HALF}", step.number, caption, scene))
    return tuple(out)


def finished_figure(
    model: Model, style: Style, frame: tuple[float, float], kept: DrawingCache | None = None
) -> Scene:
    """The finished model as the last figure of the row: no signs, at the scale of the steps."""
    last = _framings(model, style, frame)[-1]
    words = _finished(model)
    ink = _figure(model, _last(model), last, style, frame, kept, "finished")
    return _scene(model, ink, frame, words, words)


def portrait(
    model: Model, style: Style, frame: tuple[float, float], kept: DrawingCache | None = None
) -> Scene:
    """The finished model as large as the frame allows, for the head of a page."""
    key = (
        "alone",
        model.standing or model.finished,
        model.front_colour,
        model.back_colour,
        style,
        frame,
    )
    ink = _sketched(kept, "portrait", key, lambda: finished_alone(model, style, frame), frame)
    words = _finished(model)
    return _scene(model, ink, frame, words, words)


def _scene(model: Model, ink: Sketch, frame: tuple[float, float], title: str, words: str) -> Scene:
    return Scene(frame[0], frame[1], ink.items, title, words, model.language, frozenset(ink.signs))


def _figure(
    model: Model,
    panel: Panel,
    framing: Framing,
    style: Style,
    frame: tuple[float, float],
    kept: DrawingCache | None,
    place: int | str,
) -> Sketch:
    key = ("figure", panel, framing, model.front_colour, model.back_colour, style)
    return _sketched(kept, place, key, lambda: compose(model, panel, framing, style), frame)


def _sketched(
    kept: DrawingCache | None,
    place: int | str,
    what: object,
    make: Callable[[], Sketch],
    frame: tuple[float, float],
) -> Sketch:
    return make() if kept is None else kept.sketch(place, what, make, frame)


def _finished(model: Model) -> str:
    return phrase(_LAST[ending(model)], title=model.title or model.name).render(model.speech)


def _framings(model: Model, style: Style, frame: tuple[float, float]) -> list[Framing]:
    """Of every panel, and of the finished model after them; each part has a scale of its own."""
    rows: list[list[Panel]] = [[]]
    begun = {part.first for part in model.parts[1:]}
    for step, k, panel in _plan(model):
        if k == 0 and step.number in begun:
            rows.append([])
        rows[-1].append(panel)
    rows[-1].append(_last(model))
    return [framing for row in rows for framing in framings(row, style, frame)]


def _plan(model: Model) -> list[tuple[Step, int, Panel]]:
    """Every figure in order: its step, its number among the step's, -1 for a part that is finished then."""
    closed = {part.last for part in model.parts[:-1]}
    return [
        (step, k, panel)
        for step in model.steps
        for k, panel in (
            *enumerate(_panels(model, step)),
            *(
                ((-1, Panel(step.after, (), pose=model.poses.get(step.number))),)
                if step.number in closed
                else ()
            ),
        )
    ]


def _panels(model: Model, step: Step) -> tuple[Panel, ...]:
    """The figures of a step, standing in space where the model does before the step."""
    begins = any(part.first == step.number for part in model.parts)
    pose = None if begins else model.poses.get(step.number - 1)
    later = model.poses.get(step.number)
    if pose is None:
        return step.panels if later is None else (*step.panels[:-1], _raised(step, later))
    return tuple(
        replace(standing(panel, pose), next_pose=None if later is pose else later)
        for panel in step.panels
    )


def _raised(step: Step, pose: Pose) -> Panel:
    """The last figure of a step after which the model stands: what is raised, as arrows towards the eye."""
    panel = step.panels[-1]
    goals = [goal for record in step.records for goal in record.goals]
    if not goals or not all(isinstance(goal, Raise) for goal in goals):
        return panel
    arrows = lifts(panel.state, pose)
    if not arrows:
        return panel
    kept = (
        s
        for s in panel.signs
        if not (isinstance(s, PointSign) and s.kind == "open-out")
        and not (isinstance(s, Arrow) and s.act == "raise")
    )
    return replace(panel, signs=(*kept, *arrows))


def _last(model: Model) -> Panel:
    """The figure of the finished model."""
    return Panel(model.finished, (), pose=model.standing, finished=True)


def _letter(k: int) -> str:
    return "abcdefghijklmnopqrstuvwxyz"[k] if k < 26 else f".{k + 1}"


def _whole_caption(step: Step, speech: Language) -> str:
    return step.caption or sentences(step.wording, speech)


def _caption(step: Step, k: int, speech: Language) -> str:
    """Words under a figure: a step's own caption stands under its first."""
    if step.caption:
        return step.caption if k == 0 else ""
    return sentences(step.told[k], speech)
