"""The drawing stage: every panel of a model becomes a Scene.

In: a folded `Model`, a style, and the frame a figure has on the page (width and height in points).
Out: a `DrawnFigure` for each panel; all scenes have the frame's size.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..folding.steps import Model, Panel, Step
from .figure import compose, paper_alone
from .framing import Framing, framings
from .scene import Scene
from .styles import Style


@dataclass(frozen=True)
class DrawnFigure:
    """One numbered figure: label '3', or '3a', '3b' where a step has several."""

    label: str
    step: int
    caption: str
    scene: Scene


def draw(model: Model, style: Style, frame: tuple[float, float]) -> tuple[DrawnFigure, ...]:
    """Draws every panel of a model; `frame` is a figure's width and height in points."""
    plan = [(step, k, panel) for step in model.steps for k, panel in enumerate(step.panels)]
    out: list[DrawnFigure] = []
    for (step, k, panel), framing in zip(plan, _framings(model, frame), strict=False):
        label = f"{step.number}{_letter(k)}" if len(step.panels) > 1 else f"{step.number}"
        words = f"Step {label}. {_whole_caption(step)}".strip()
        scene = _scene(model, panel, framing, style, frame, f"Step {label}", words)
        out.append(DrawnFigure(label, step.number, _caption(step, k), scene))
    return tuple(out)


def finished_figure(model: Model, style: Style, frame: tuple[float, float]) -> Scene:
    """The finished model as the last figure of the row: no signs, at the scale of the steps."""
    last = _framings(model, frame)[-1]
    words = _finished(model)
    return _scene(model, Panel(model.finished, ()), last, style, frame, words, words)


def portrait(model: Model, style: Style, frame: tuple[float, float]) -> Scene:
    """The finished model as large as the frame allows, for the head of a page."""
    ink = paper_alone(model, model.finished, style, frame)
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
) -> Scene:
    ink = compose(model, panel, framing, style)
    return Scene(frame[0], frame[1], ink.items, title, words, model.language, frozenset(ink.signs))


def _finished(model: Model) -> str:
    return f"Finished: {model.title or model.name}"


def _framings(model: Model, frame: tuple[float, float]) -> list[Framing]:
    """Of every panel, and of the finished model after them."""
    panels = [panel for step in model.steps for panel in step.panels]
    return framings([*panels, Panel(model.finished, ())], frame)


def _letter(k: int) -> str:
    return "abcdefghijklmnopqrstuvwxyz"[k] if k < 26 else f".{k + 1}"


def _whole_caption(step: Step) -> str:
    return step.caption or " ".join(w.render() for w in step.wording)


def _caption(step: Step, k: int) -> str:
    """Words under a figure: a step's own caption stands under its first."""
    if not step.caption and len(step.wording) == len(step.panels):
        return step.wording[k].render()
    return _whole_caption(step) if k == 0 else ""
