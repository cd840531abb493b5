"""The drawing stage: every figure of a model becomes a Scene.

In: a folded `Model`, a style, and the frame a figure has on the page (width and height in points).
Out: a `DrawnFigure` for each that is planned; all scenes have the frame's size, or are higher, the frame in
their middle. Where drawings of an earlier version are kept (`DrawingCache`), figures that are the same are
not drawn again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from functools import partial

from ..folding.ending import Ending, ending
from ..folding.part_words import part_finished, part_heading
from ..folding.steps import Model, Step
from ..languages.wording import Language, Template, phrase, sentences
from .asked import Asked, draw_beside, drawn_meanwhile, is_worth_dividing
from .figure import finished_alone
from .framing.framing import EDGE
from .kept import DrawingCache
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
    asked = _asked(lying, style, frame)
    draw_beside(_among(asked, only), model, style, kept)
    for number, (which, one) in enumerate(zip(asked, lying.figures, strict=False)):
        ink = Sketch()
        if only is None or len(out) in only:
            ink = _figure(model, which, style, where, kept, len(out))
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
        out.append(replace(drawn, turns_before=before, turns_after=after))
        if which.half is not None:
            caption = phrase("Step {n}, half way.", n=str(one.folded)).render(model.speech)
            ink = (
                Sketch()
                if only is not None
                else _half(model, which, ink, style, where, kept, len(out))
            )
            scene = _scene(model, ink, frame, caption, caption)
            label = f"{one.folded}{HALF}"
            out.append(DrawnFigure(label, one.folded, caption, scene, part=HALF))
    return tuple(out)


def figures_meanwhile(
    model: Model, style: Style, frame: tuple[float, float], kept: DrawingCache
) -> AbstractContextManager[None]:
    """Figures of a model that helpers draw, and keep, while it is found out how the model stands.

    What is told of the model later may change how they lie; those are drawn anew then.
    """
    row = Row(model)
    stands = [s.number for s in model.steps if any(record.goals for record in s.records)]
    flat = [one.last < min(stands, default=one.last + 1) for one in row.figures]
    if not is_worth_dividing(
        one.panel for one, lies in zip(row.figures, flat, strict=True) if lies
    ):
        return nullcontext()
    asked = [one for one, lies in zip(_asked(row, style, frame), flat, strict=False) if lies]
    return drawn_meanwhile(asked, model, style, kept)


def finished_figure(
    model: Model,
    style: Style,
    frame: tuple[float, float],
    kept: DrawingCache | None = None,
    gutter: float | None = None,
) -> Scene:
    """The finished model as the last figure of the row: no signs, at the scale of the steps (`draw`)."""
    row = Row(model, gutter)
    words = _finished(model)
    which = _asked(row, style, frame)[-1]
    ink = _figure(model, which, style, (*frame, gutter or 0.0), kept, "finished")
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


def _asked(row: Row, style: Style, frame: tuple[float, float]) -> list[Asked]:
    """Every figure of a row, and the finished model after them."""
    panels = [*(one.panel for one in row.figures), row.last]
    halves = [*map(row.half_of, row.figures), None]
    framings = row.framings(style, frame)
    return [Asked(*parts) for parts in zip(panels, framings, halves, strict=True)]


def _among(asked: Sequence[Asked], only: Collection[int] | None) -> Iterator[Asked]:
    """Those that are drawn at once: all, or the figures at some places, and no step half way."""
    place = 0
    for one in asked:
        if only is None:
            yield one
        elif place in only:
            yield replace(one, half=None)
        place += 1 if one.half is None else 2


def _figure(
    model: Model,
    one: Asked,
    style: Style,
    frame: tuple[float, ...],
    kept: DrawingCache | None,
    place: int | str,
) -> Sketch:
    make = partial(one.figure, model, style)
    return _sketched(kept, place, one.key(model, style), make, frame)


def _half(
    model: Model,
    one: Asked,
    figure: Sketch,
    style: Style,
    frame: tuple[float, ...],
    kept: DrawingCache | None,
    place: int,
) -> Sketch:
    make = partial(one.half_drawn, model, style, figure)
    return _sketched(kept, place, one.half_key(model, style, figure), make, frame)


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
