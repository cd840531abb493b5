"""The drawing stage: every panel of a model becomes a Scene.

In: a folded `Model`, a style, and the frame a figure has on the page (width and height in points).
Out: a `DrawnFigure` for each panel; all scenes have the frame's size. Where drawings of an earlier
version are kept (`DrawingCache`), figures that are the same are not drawn again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

from ..folding.ending import Ending, ending
from ..folding.part_words import part_finished, part_heading
from ..folding.steps import Model, Panel, Step
from ..languages.wording import Language, Template, phrase, sentences
from .figure import compose, paper_alone
from .framing.framing import Framing, framings
from .scene.groups import Sketch
from .scene.scene import Scene
from .style.styles import Style

#: What the last figure shows, for those who cannot see it.
_LAST: dict[Ending, Template] = {
    Ending.FLAT: "Finished: {title}",
    Ending.OPENED: "{title}, before it is opened out",
    Ending.CURLED: "{title}, before it is curled",
}


@dataclass(frozen=True)
class DrawnFigure:
    """One numbered figure: label '3', or '3a', '3b' where a step has several.

    The label is '' where a finished part is shown after its last step. `heading` stands over the first figure
    of a part, '' over others: what is folded now, and from which sheets.
    """

    label: str
    step: int
    caption: str
    scene: Scene
    heading: str = ""


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
    """Draws every panel of a model; `frame` is a figure's width and height in points."""
    out: list[DrawnFigure] = []
    for place, (framing, (step, k, panel)) in enumerate(
        zip(_framings(model, style, frame), _plan(model), strict=False)
    ):
        if k < 0:
            words = part_finished(model, step.number).render(model.speech)
            scene = _scene(model, panel, framing, style, frame, words, words, kept, place)
            out.append(DrawnFigure("", step.number, words, scene))
            continue
        label = f"{step.number}{_letter(k)}" if len(step.panels) > 1 else f"{step.number}"
        title = phrase("Step {n}", n=label).render(model.speech)
        words = f"{title}. {_whole_caption(step, model.speech)}".strip()
        scene = _scene(model, panel, framing, style, frame, title, words, kept, place)
        heading = part_heading(model, step.number) if k == 0 else ""
        caption = _caption(step, k, model.speech)
        out.append(DrawnFigure(label, step.number, caption, scene, heading))
    return tuple(out)


def finished_figure(
    model: Model, style: Style, frame: tuple[float, float], kept: DrawingCache | None = None
) -> Scene:
    """The finished model as the last figure of the row: no signs, at the scale of the steps."""
    last = _framings(model, style, frame)[-1]
    words = _finished(model)
    panel = Panel(model.finished, ())
    return _scene(model, panel, last, style, frame, words, words, kept, "finished")


def portrait(
    model: Model, style: Style, frame: tuple[float, float], kept: DrawingCache | None = None
) -> Scene:
    """The finished model as large as the frame allows, for the head of a page."""
    key = ("alone", model.finished, model.front_colour, model.back_colour, style, frame)
    ink = _sketched(
        kept, "portrait", key, lambda: paper_alone(model, model.finished, style, frame), frame
    )
    words = _finished(model)
    return Scene(frame[0], frame[1], ink.items, words, words, model.language, frozenset(ink.signs))


def _scene(
    model: Model,
    panel: Panel,
    framing: Framing,
    style: Style,
    frame: tuple[float, float],
    title: str,
    words: str,
    kept: DrawingCache | None,
    place: int | str,
) -> Scene:
    key = ("figure", panel, framing, model.front_colour, model.back_colour, style)
    ink = _sketched(kept, place, key, lambda: compose(model, panel, framing, style), frame)
    return Scene(frame[0], frame[1], ink.items, title, words, model.language, frozenset(ink.signs))


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
    rows[-1].append(Panel(model.finished, ()))
    return [framing for row in rows for framing in framings(row, style, frame)]


def _plan(model: Model) -> list[tuple[Step, int, Panel]]:
    """Every figure in order: its step, its number among the step's, -1 for a part that is finished then."""
    closed = {part.last for part in model.parts[:-1]}
    return [
        (step, k, panel)
        for step in model.steps
        for k, panel in (
            *enumerate(step.panels),
            *(((-1, Panel(step.after, ())),) if step.number in closed else ()),
        )
    ]


def _letter(k: int) -> str:
    return "abcdefghijklmnopqrstuvwxyz"[k] if k < 26 else f".{k + 1}"


def _whole_caption(step: Step, speech: Language) -> str:
    return step.caption or sentences(step.wording, speech)


def _caption(step: Step, k: int, speech: Language) -> str:
    """Words under a figure: a step's own caption stands under its first."""
    if not step.caption and len(step.wording) == len(step.panels):
        return sentences(step.wording[k : k + 1], speech)
    return _whole_caption(step, speech) if k == 0 else ""
