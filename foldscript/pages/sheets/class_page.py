"""The class plan on pages: what to get ready, then each model with its picture and its steps.

In: a plan, and a picture and small figures of every model. Out: a Document in the handout's look.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ...classes.plan import ClassPlan, ModelPlan, PaperNeed
from ...classes.plan_rows import (
    BASIS,
    Row,
    class_rows,
    cut_lines,
    model_rows,
    paper_rows,
    paper_title,
)
from ...drawing.draw import DrawnFigure
from ...drawing.scene.scene import Scene, Text
from ...languages.wording import Translate
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from .. import measures
from ..document import Block, Bookmark, Document, Placed, rule, stacked
from ..grid import Grid, grid
from ..layout.foot import with_running_feet
from ..layout.makeup import PageMakeup
from ..parts import Part, PartKind, list_item, new_list
from ..sizes import PageSize
from ..typesetting import TextWidth, Typesetter, paragraph, text_block
from .cut_drawing import cut_drawing
from .lesson_page import lesson_grid, lesson_rows


def picture_frame(page: PageSize) -> tuple[float, float]:
    """Width and height in points that the pictures of the models are to be drawn in."""
    width = measures.CLASS_PLAN.aside * grid(page).width
    return width, measures.CLASS_PLAN.aside_height * width


def class_page(
    plan: ClassPlan,
    pictures: Sequence[Scene],
    lessons: Sequence[Sequence[DrawnFigure]],
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a class plan out; `pictures` are of the finished models, in the plan's order, `lessons` the figures
    of their steps, drawn in `lesson_page.lesson_grid`.

    Raises FoldscriptError ('page-too-small') where a part of it does not fit on a page.
    """
    g, m = grid(page, large_letters=True), measures.CLASS_PLAN
    typesetter = Typesetter(text_width, g.leading)
    pages = PageMakeup(g, page)
    pages.turn()
    several = len(plan.models) > 1
    _put(pages, _head(plan, g, typesetter, translate), g.row_gap)
    for need in plan.paper:
        _put(pages, _paper(need, several, g, typesetter, translate), g.row_gap)
    marks: list[Bookmark] = []
    small, begins = lesson_grid(g), 0
    for model, picture, figures in zip(plan.models, pictures, lessons, strict=True):
        block = _model(model, picture, g, typesetter, translate)
        _put(pages, block, m.below_model * g.caption)
        top = pages.y - block.height - m.below_model * g.caption
        marks.append(Bookmark(model.title, len(pages.items) - 1, top, level=1))
        for label, texts in (
            (translate("Notes"), model.notes),
            (translate("Mind"), [caution.render(translate) for caution in model.cautions]),
        ):
            for part in _paragraphs(label, texts, g, typesetter):
                _put(pages, part, m.below_paragraph * g.caption)
        pages.y += g.row_gap - m.below_paragraph * g.caption
        for row in lesson_rows(model.lesson, figures, begins, small, typesetter, translate):
            _put(pages, row, measures.LESSON.below_row * g.caption)
        begins += model.times.teaching
    title = translate("Class plan: {title}").format(title=plan.title)
    return Document(
        title,
        "",
        plan.language,
        with_running_feet(pages, title, typesetter, translate),
        (Bookmark(title, 0, 0.0), *marks),
        translate("Class plan"),
    )


def _put(pages: PageMakeup, block: Block, below: float) -> None:
    if block.height > pages.grid.height:
        raise FoldscriptError(
            Diagnostic(
                "page-too-small",
                f"a page of {pages.size.name} is too small for the class plan",
                hints=(Hint("choose a larger page, or shorten titles and credits"),),
            )
        )
    pages.put(block, below)


def _head(plan: ClassPlan, g: Grid, typesetter: Typesetter, translate: Translate) -> Block:
    parts = [
        text_block(translate("Class plan"), g.width, g.heading, typesetter, "text.credit"),
        text_block(plan.title, g.width, g.title, typesetter, "text.title", bold=True),
        _rows(class_rows(plan, translate), g.width, g, typesetter),
        text_block(translate(BASIS), g.width, g.small, typesetter, "text.soft"),
    ]
    return stacked(parts, measures.CLASS_PLAN.head * g.caption)


def _paper(
    need: PaperNeed, several: bool, g: Grid, typesetter: Typesetter, translate: Translate
) -> Block:
    title = translate("Paper {size}").format(size=paper_title(need, several, translate))
    aside: Block | None = None
    if need.cutting is not None and need.cutting.cuts:
        width = measures.CLASS_PLAN.aside * g.width
        drawn = cut_drawing(need.cutting, width, width, typesetter)
        says = translate("How the page is cut: {cuts}").format(
            cuts="; ".join(cut_lines(need.cutting, translate))
        )
        aside = drawn.as_part(Part(PartKind.FIGURE, instead=says))
    return _section(title, "", paper_rows(need, translate), aside, g, typesetter)


def _model(
    plan: ModelPlan, picture: Scene, g: Grid, typesetter: Typesetter, translate: Translate
) -> Block:
    aside = Block(picture.width, picture.height, (Placed((0.0, 0.0), picture),))
    return _section(plan.title, plan.credit, model_rows(plan, translate), aside, g, typesetter)


def _section(
    title: str,
    credit: str,
    rows: Iterable[Row],
    aside: Block | None,
    g: Grid,
    typesetter: Typesetter,
) -> Block:
    """A rule, a heading, rows at the left and a drawing at the right."""
    m = measures.CLASS_PLAN
    wide = m.aside * g.width
    room = g.width - (wide + g.gutter if aside is not None else 0.0)
    left = stacked(
        [
            _title(title, credit, room, g, typesetter),
            _rows(rows, room, g, typesetter),
        ],
        m.below_section_title * g.caption,
    )
    top = m.above_section * g.caption
    items = [Placed((0.0, 0.0), rule(g.width)), *left.at(0.0, top)]
    high = left.height
    if aside is not None:
        across = g.width - wide + (wide - aside.width) / 2
        items.extend(aside.at(across, top))
        high = max(high, aside.height)
    return Block(g.width, top + high, tuple(items))


def _title(title: str, credit: str, width: float, g: Grid, typesetter: Typesetter) -> Block:
    """A heading, and the credit after it where there is room, else below."""
    head = text_block(title, width, g.heading, typesetter, "text.heading", bold=True)
    if not credit:
        return head
    after = typesetter.width(title, g.heading, True) + g.caption
    m = measures.CLASS_PLAN
    one_line = head.height < m.one_line * g.heading
    if (
        one_line
        and after + measures.TYPE.slack_alone * typesetter.width(credit, g.caption, False) <= width
    ):
        text = Text("text.soft", (0.0, 0.0), credit, g.caption)
        placed = Placed((after, g.heading * measures.TYPE.ascent), text)
        return Block(width, head.height, (*head.items, placed))
    below = text_block(credit, width, g.caption, typesetter, "text.soft")
    return stacked([head, below], m.below_title_line * g.caption)


def _rows(rows: Iterable[Row], width: float, g: Grid, typesetter: Typesetter) -> Block:
    """Labels in a column, what they say beside them, a line each."""
    told = list(rows)
    m = measures.CLASS_PLAN
    room = max(m.label * g.caption, *(typesetter.width(name, g.caption, True) for name, _ in told))
    room += m.beside_label * g.caption
    items: list[Placed] = []
    y = 0.0
    between = typesetter.between * g.caption
    said = new_list()
    for label, lines in told:
        of_label, body = list_item(said)
        name = Text("text.soft", (0.0, 0.0), label, g.caption, bold=True)
        items.append(Placed((0.0, y + g.caption * measures.TYPE.ascent), name, part=of_label))
        for line in lines:
            block = text_block(line, width - room, g.caption, typesetter, "text.fact")
            items.extend(block.as_part(Part(PartKind.PARAGRAPH, body)).at(room, y))
            y += block.height + between
    return Block(width, max(0.0, y - between), tuple(items))


def _paragraphs(label: str, texts: Iterable[str], g: Grid, typesetter: Typesetter) -> list[Block]:
    """Paragraphs; the first begins with a label where one is given."""
    said = [text for text in texts if text.strip()]
    if said and label:
        said[0] = f"{label}: {said[0]}"
    return [part for text in said for part in paragraph(text, g.width, g.caption, typesetter)]
