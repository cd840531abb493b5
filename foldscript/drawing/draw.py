"""The drawing stage: every figure of a model becomes a Scene.

In: a folded `Model`, a style, and the frame a figure has on the page (width and height in points).
Out: a `DrawnFigure` for each that is planned; all scenes have the frame's size, or are higher, the frame in
their middle. Where drawings of an earlier version are kept (`DrawingCache`), figures that are the same are
not drawn again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, replace
from functools import partial

from ..folding.ending import Ending, ending
from ..folding.part_words import part_finished, part_heading
from ..folding.steps import Model, Panel, Step
from ..languages.wording import Language, Template, phrase, sentences
from ..paper.signs import Angle, Measure
from .figure import compose, finished_alone, half_way
from .framing.framing import EDGE, Framing
from .row import Row
from .scene.groups import Sketch
from .scene.outlines import shifted
from .scene.scene import Scene
from .style.styles import Style

#: After a step's number, for the figure of the step half way.
HALF = "½"

#: What a sentence ends with.
_ENDS = ".!?…:;"
#: Points that ink may stand out of a frame unseen.
_SEEN = 0.01

#: What the last figure shows, for those who cannot see it.
_LAST: dict[Ending, Template] = {
    Ending.FLAT: "Finished: {title}",
    Ending.STANDING: "Finished: {title}",
    Ending.OPENED: "{title}, before it is opened out",
    Ending.CURLED: "{title}, before it is curled",
    Ending.REFUSED: "{title}, unfinished",
}


@dataclass(frozen=True)
class DrawnFigure:
    """One numbered figure: label '3', or '3a', '3b' where a step has several, '3½' for the step half way.

    Where it shows several steps, from `step` to `last`, the label is '3–4'; '' where a finished part is shown
    after its last step. `heading` stands over the first figure of a part, '' over others: what is folded now,
    and from which sheets. `part` is what tells it from others of its step. `turns_before` and `turns_after`
    are signs between it and its neighbours that the page is to place, each in a scene of its own.
    """

    label: str
    step: int
    caption: str
    scene: Scene
    heading: str = ""
    last: int = 0
    part: str = ""
    turns_before: tuple[Scene, ...] = ()
    turns_after: tuple[Scene, ...] = ()

    def shows(self, number: int) -> bool:
        """Whether a step is told with it."""
        return self.step <= number <= max(self.step, self.last)

    @property
    def name(self) -> str:
        """What its file is called by after the step's number: '', 'a', '-half'."""
        return self.part.replace(HALF, "-half")


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
        self._places: dict[tuple[int | str, tuple[float, ...]], Sketch] = {}

    def turn(self) -> None:
        """Begins a new round, without hurry."""
        self._before, self._now = self._now, []
        self.wanted, self.behind = None, False

    def sketch(
        self, place: int | str, what: object, make: Callable[[], Sketch], frame: tuple[float, ...]
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
    model: Model,
    style: Style,
    frame: tuple[float, float],
    kept: DrawingCache | None = None,
    gutter: float | None = None,
    alone: bool = False,
    only: Collection[int] | None = None,
) -> tuple[DrawnFigure, ...]:
    """Draws every figure of a model, and its steps half way; `frame` is a figure's size in points.

    The signs between figures stand in the frame, or, where there is a `gutter` of so many points between
    frames, are left to the page. `alone` : they are left to it, but figures lie as if they stood in their
    frames. `only` : the places in the row of those that are drawn, where others may stay empty.
    """
    out: list[DrawnFigure] = []
    row = Row(model, gutter)
    lying = Row(model) if alone else row
    where = (*frame, 0.0 if alone else gutter or 0.0)
    begun = {part.first for part in model.parts}
    for number, (framing, one) in enumerate(
        zip(lying.framings(style, frame), lying.figures, strict=False)
    ):
        ink = Sketch()
        if only is None or len(out) in only:
            ink = _figure(model, one.panel, framing, style, where, kept, len(out))
        if alone:
            ink = replace(ink, groups=[group for group in ink.groups if group.kind != "turn"])
        if one.finished:
            words = part_finished(model, one.last).render(model.speech)
            scene = _scene(model, ink, frame, words, words)
            out.append(DrawnFigure("", one.first, words, scene))
            continue
        title = phrase("Step {n}", n=one.label).render(model.speech)
        words = f"{title}. {_joined(_whole_caption(s, model.speech) for s, _ in one.told)}".strip()
        scene = _scene(model, ink, frame, title, words)
        heading = part_heading(model, one.first) if one.begins and one.first in begun else ""
        caption = _joined(_caption(step, k, model.speech) for step, k in one.told)
        drawn = DrawnFigure(one.label, one.first, caption, scene, heading, one.last, one.part)
        before, after = row.turns(number, style)
        if out and not heading:  # stands after the figure before, which may be one half way
            out[-1] = replace(out[-1], turns_after=(*out[-1].turns_after, *before))
            before = ()
        out.append(replace(drawn, turns_before=before, turns_after=after))
        half = model.halves.get(one.folded)
        if half is not None and one.ends:
            make = partial(half_way, model, half, one.panel, framing, ink.moved, style)
            colours = (model.front_colour, model.back_colour)
            what = ("half", half, framing, ink.moved, one.panel.state.sheet, colours, style)
            caption = phrase("Step {n}, half way.", n=str(one.folded)).render(model.speech)
            ink = Sketch() if only is not None else _sketched(kept, len(out), what, make, where)
            scene = _scene(model, ink, frame, caption, caption)
            label = f"{one.folded}{HALF}"
            out.append(DrawnFigure(label, one.folded, caption, scene, part=HALF))
    return tuple(out)


def finished_figure(
    model: Model,
    style: Style,
    frame: tuple[float, float],
    kept: DrawingCache | None = None,
    gutter: float | None = None,
) -> Scene:
    """The finished model as the last figure of the row: no signs, at the scale of the steps (`draw`)."""
    row = Row(model, gutter)
    framing = row.framings(style, frame)[-1]
    words = _finished(model)
    ink = _figure(model, row.last, framing, style, (*frame, gutter or 0.0), kept, "finished")
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
    """The drawing in its frame, which grows above and below alike for what stands out of it."""
    box = ink.box or (0.0, 0.0, *frame)
    out = max(0.0, -box[1], box[3] - frame[1])
    more = out + EDGE if out > EDGE else out if out > _SEEN else 0.0
    items = tuple(shifted(item, 0.0, more) for item in ink.items) if more else ink.items
    high = frame[1] + 2 * more
    return Scene(frame[0], high, items, title, words, model.language, frozenset(ink.signs))


def _figure(
    model: Model,
    panel: Panel,
    framing: Framing,
    style: Style,
    frame: tuple[float, ...],
    kept: DrawingCache | None,
    place: int | str,
) -> Sketch:
    written = any(isinstance(sign, Measure | Angle) for sign in panel.signs)
    mark = model.speech.decimal_mark if written else ""
    key = ("figure", panel, framing, model.front_colour, model.back_colour, style, mark)
    return _sketched(kept, place, key, lambda: compose(model, panel, framing, style), frame)


def _sketched(
    kept: DrawingCache | None,
    place: int | str,
    what: object,
    make: Callable[[], Sketch],
    frame: tuple[float, ...],
) -> Sketch:
    return make() if kept is None else kept.sketch(place, what, make, frame)


def _finished(model: Model) -> str:
    return phrase(_LAST[ending(model)], title=model.title or model.name).render(model.speech)


def _whole_caption(step: Step, speech: Language) -> str:
    return step.caption or sentences(step.wording, speech)


def _caption(step: Step, k: int, speech: Language) -> str:
    """Words under a figure: a step's own caption stands under its first, else what each does under it."""
    return step.caption if step.caption and k == 0 else sentences(step.told[k], speech)


def _joined(texts: Iterable[str]) -> str:
    """Captions of several steps in a row, each ended."""
    told = [text for text in texts if text]
    ended = [text if text[-1] in _ENDS else f"{text}." for text in told[:-1]]
    return " ".join((*ended, *told[-1:]))
