"""The figures of steps as pictures that stand in a line of Markdown.

In: a folded model and one of its steps. Out: for each of its figures the bytes of an SVG, or of a PNG where
that is asked for. A step that was drawn, and is as it was, is not drawn again.
"""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import replace

from ..drawing.draw import draw
from ..drawing.kept import DrawingCache
from ..drawing.style.styles import load_style
from ..folding.steps import Model, Step
from ..output.cairo import png_bytes
from ..output.fonts import fonts_of
from ..output.svg import scene_svg
from ..pages.trimming import trimmed_to_ink
from ..source.diagnostics import FoldscriptError, Span

#: The frame that a figure is drawn in, in points: as large as on a page, and seen whole where editors give
#: a hover 250 pixels of height.
FRAME = (150.0, 150.0)
#: Dots per inch of a PNG, for screens that show two dots a point.
_DPI = 144.0
_NOWHERE = Span(0, 0)


class Figures:
    """Pictures of the steps of one script."""

    def __init__(self) -> None:
        self._style = load_style()
        self._drawn: dict[int, tuple[object, tuple[bytes, ...]]] = {}  # by number
        self._asked: list[int] = []

    def of(self, model: Model, step: Step) -> tuple[bytes, ...] | None:
        """The pictures of a step, () where it has none; None while they are not drawn."""
        known = self._drawn.get(step.number)
        return known[1] if known is not None and known[0] == _shown(model, step) else None

    def ask(self, number: int) -> None:
        """The step of a number is to be drawn before others."""
        self._asked.append(number)

    def next(self, model: Model) -> Step | None:
        """The step to be drawn next; None where all are."""
        steps = model.steps
        asked, self._asked = self._asked, []
        row = (*(steps[n - 1] for n in reversed(asked) if 0 < n <= len(steps)), *steps)
        return next((step for step in row if self.of(model, step) is None), None)

    def draw(self, model: Model, step: Step) -> None:
        """Draws a step of a model that is in a language."""
        alone = replace(model, steps=(step,), parts=())
        try:
            figures = draw(alone, self._style, FRAME, DrawingCache())
        except FoldscriptError:  # making the pages says so
            figures = ()
        pictures = tuple(
            scene_svg(trimmed_to_ink(figure.scene), self._style, painted=True) for figure in figures
        )
        self._drawn[step.number] = _shown(model, step), pictures


def _shown(model: Model, step: Step) -> object:
    """All that the figures of a step depend on; not where it stands in the text."""
    n = step.number
    half = step.half_way is not None and step.half_way[0]
    placeless = replace(step, span=_NOWHERE, half_way=None, remarks=())
    poses = (model.poses.get(n - 1), model.poses.get(n), model.halves.get(n))
    return placeless, half, poses, model.front_colour, model.back_colour, model.language


def in_markdown(pictures: Sequence[bytes], form: str, words: str) -> str:
    """The pictures as images of a Markdown text, in a row.

    `form` is 'svg' or 'png'; `words` say what is to be seen. '' for no pictures.
    """
    shown = []
    for svg in pictures:
        data, kind = (
            (png_bytes(svg, _DPI, fonts_of(load_style())), "image/png")
            if form == "png"
            else (svg, "image/svg+xml")
        )
        shown.append(f"![{words}](data:{kind};base64,{base64.b64encode(data).decode()})")
    return " ".join(shown)
