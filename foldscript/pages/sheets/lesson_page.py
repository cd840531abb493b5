"""A model's steps on a class plan: small figures in the order they are taught, each with a box to tick.

In: a model's plan, its small figures, and the minute at which it begins. Out: blocks, a row each: number
and minute over a figure, its caption below it, then what is hard, and where the class waits.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ...classes.lesson import StepPlan
from ...classes.plan_rows import duration
from ...drawing.draw import HALF, DrawnFigure
from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Segment, Text
from ...languages.wording import Translate
from .. import measures
from ..document import Block, Placed, fitted
from ..grid import Grid
from ..parts import Part, PartKind, list_item, new_list
from ..trimming import trimmed_above_and_below
from ..typesetting import Typesetter, text_block


def lesson_grid(g: Grid) -> Grid:
    """The grid with the columns and the frame of small figures."""
    m = measures.LESSON
    columns = max(1, int((g.width + g.gutter) // (m.narrowest + g.gutter)))
    narrow = g.with_columns(columns)
    return replace(narrow, frame=(narrow.column, m.frame_height * narrow.column))


def lesson_rows(
    steps: Sequence[StepPlan],
    figures: Sequence[DrawnFigure],
    begins: int,
    g: Grid,
    typesetter: Typesetter,
    translate: Translate,
) -> Iterator[Block]:
    """The rows; `begins` is the minute at which the model begins, `g` the lesson's own grid."""
    said = new_list()
    taught = [figure for figure in figures if figure.label and figure.part != HALF]
    last = {step.number: figure for figure in taught for step in _of(figure, steps)}
    cells: list[Block] = []
    for figure in taught:
        shown = _of(figure, steps)
        waits = any(step.waits and last[step.number] is figure for step in shown)
        cells.append(_cell(figure, shown, waits, begins, g, typesetter, translate, said))
    for start in range(0, len(cells), g.columns):
        row = cells[start : start + g.columns]
        items = (
            item for k, cell in enumerate(row) for item in cell.at(k * (g.column + g.gutter), 0.0)
        )
        yield Block(g.width, max(cell.height for cell in row), tuple(items))


def _of(figure: DrawnFigure, steps: Sequence[StepPlan]) -> list[StepPlan]:
    """The steps that a figure shows."""
    return [step for step in steps if figure.shows(step.number)]


def _cell(
    figure: DrawnFigure,
    steps: Sequence[StepPlan],
    waits: bool,
    begins: int,
    g: Grid,
    typesetter: Typesetter,
    translate: Translate,
    said: Part,
) -> Block:
    m = measures.LESSON
    label, body = list_item(said)
    size, box = g.caption, m.box * g.caption
    base = box / 2 + measures.TYPE.centred * size
    starts = duration(begins + min(step.starts for step in steps), translate) if steps else ""
    items = [
        Placed((0.0, 0.0), Path("page.box", _square(box))),
        Placed(
            (box + m.beside_box * size, base),
            Text("text.number", (0.0, 0.0), figure.label, size, bold=True),
            part=label,
        ),
        Placed((g.column, base), Text("text.soft", (0.0, 0.0), starts, g.small, "end"), part=label),
    ]
    y = box + m.below_head * size
    scene = trimmed_above_and_below(figure.scene)
    scale, wide, high = fitted(scene, *g.frame)
    items.append(Placed(((g.column - wide) / 2, y), scene, scale, Part(PartKind.FIGURE, body)))
    y += high + m.below_figure * size
    verbs = list(dict.fromkeys(verb for step in steps for verb in step.hard))
    hard = translate("Hard: {moves}").format(moves=", ".join(translate(verb) for verb in verbs))
    everyone = translate("Wait for everyone.")
    for told, bold, bar in (
        (figure.caption, False, 0.0),
        (hard if verbs else "", True, m.bar),
        (everyone if waits else "", True, -m.bar),
    ):
        if not told:
            continue
        if bar < 0:
            items.append(Placed((0.0, y), Path("page.thumb", _box(g.column, -bar))))
            y -= bar - m.below_bar * size
        inside = 0.0
        if bar > 0:
            inside = m.mark * g.small
            items.append(Placed((0.0, y), Path("page.thumb", _wedge(g.small))))
        block = text_block(told, g.column - inside, g.small, typesetter, "text.fact", bold)
        items.extend(block.as_part(Part(PartKind.PARAGRAPH, body)).at(inside, y))
        y += block.height + m.between * size
    return Block(g.column, y, tuple(items))


def _square(side: float) -> tuple[Segment, ...]:
    return _box(side, side)


def _box(wide: float, high: float) -> tuple[Segment, ...]:
    return polyline(((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)), closed=True)


def _wedge(size: float) -> tuple[Segment, ...]:
    """A solid triangle as high as letters are."""
    top, low, wide = (part * size for part in measures.LESSON.mark_box)
    return polyline(((0.0, low), (wide / 2, top), (wide, low)), closed=True)
