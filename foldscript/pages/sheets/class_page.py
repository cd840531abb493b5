"""The class plan on pages: what to get ready, then each model with its picture.

In: a plan and a picture of every finished model. Out: a Document in the handout's look.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ...classes.plan import ClassPlan, ModelPlan, PaperNeed
from ...classes.plan_rows import BASIS, Row, class_rows, model_rows, paper_rows, paper_title
from ...drawing.scene.scene import Scene, Text
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..document import Block, Bookmark, Document, Placed, rule
from ..filling import Filling, with_feet
from ..grid import Grid, grid
from ..head import Translate
from ..key import stacked
from ..sizes import PageSize
from ..text import ASCENT, DESCENT, LEADING, Measure, paragraph, text_block
from .cut_drawing import cut_drawing

#: Width and height that the drawings at the right may take, as parts of the page's width.
_ASIDE = 0.24
#: Width of the column of labels, in type sizes: it is wider only for longer words.
_LABEL = 4.9


def picture_frame(page: PageSize) -> tuple[float, float]:
    """Width and height in points that the pictures of the models are to be drawn in."""
    width = _ASIDE * grid(page).width
    return width, 0.8 * width


def class_page(
    plan: ClassPlan,
    pictures: Sequence[Scene],
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a class plan out; `pictures` are of the finished models, in the plan's order.

    Raises FoldscriptError ('page-too-small') where a part of it does not fit on a page.
    """
    g = grid(page)
    pages = Filling(g, page)
    pages.turn()
    several = len(plan.models) > 1
    _put(pages, _head(plan, g, measure, translate), g.row_gap)
    for need in plan.paper:
        _put(pages, _paper(need, several, g, measure, translate), g.row_gap)
    marks: list[Bookmark] = []
    for model, picture in zip(plan.models, pictures, strict=True):
        block = _model(model, picture, g, measure, translate)
        _put(pages, block, 0.4 * g.caption)
        top = pages.y - block.height - 0.4 * g.caption
        marks.append(Bookmark(model.title, len(pages.items) - 1, top, level=1))
        for label, texts in (
            (translate("Notes"), model.notes),
            (translate("Mind"), [caution.render(translate) for caution in model.cautions]),
        ):
            for part in _paragraphs(label, texts, g, measure):
                _put(pages, part, 0.3 * g.caption)
        pages.y += g.row_gap - 0.3 * g.caption
    title = translate("Class plan: {title}").format(title=plan.title)
    return Document(
        title,
        "",
        plan.language,
        with_feet(pages, title, measure, translate),
        (Bookmark(title, 0, 0.0), *marks),
        translate("Class plan"),
    )


def _put(pages: Filling, block: Block, below: float) -> None:
    if block.height > pages.grid.height:
        raise FoldscriptError(
            Diagnostic(
                "page-too-small",
                f"a page of {pages.size.name} is too small for the class plan",
                hints=(Hint("choose a larger page, or shorten titles and credits"),),
            )
        )
    pages.put(block, below)


def _head(plan: ClassPlan, g: Grid, measure: Measure, translate: Translate) -> Block:
    parts = [
        text_block(translate("Class plan"), g.width, g.heading, measure, "text.credit"),
        text_block(plan.title, g.width, g.title, measure, "text.title", bold=True),
        _rows(class_rows(plan, translate), g.width, g, measure),
        text_block(translate(BASIS), g.width, g.small, measure, "text.soft"),
    ]
    return stacked(parts, 0.5 * g.caption)


def _paper(
    need: PaperNeed, several: bool, g: Grid, measure: Measure, translate: Translate
) -> Block:
    title = translate("Paper {size}").format(size=paper_title(need, several, translate))
    aside: Block | None = None
    if need.cutting is not None and need.cutting.cuts:
        width = _ASIDE * g.width
        aside = cut_drawing(need.cutting, width, width, measure)
    return _section(title, "", paper_rows(need, translate), aside, g, measure)


def _model(
    plan: ModelPlan, picture: Scene, g: Grid, measure: Measure, translate: Translate
) -> Block:
    aside = Block(picture.width, picture.height, (Placed((0.0, 0.0), picture),))
    return _section(plan.title, plan.credit, model_rows(plan, translate), aside, g, measure)


def _section(
    title: str, credit: str, rows: Iterable[Row], aside: Block | None, g: Grid, measure: Measure
) -> Block:
    """A rule, a heading, rows at the left and a drawing at the right."""
    room = g.width - (_ASIDE * g.width + g.gutter if aside is not None else 0.0)
    left = stacked(
        [
            _title(title, credit, room, g, measure),
            _rows(rows, room, g, measure),
        ],
        0.35 * g.caption,
    )
    top = 0.6 * g.caption
    items = [Placed((0.0, 0.0), rule(g.width)), *left.at(0.0, top)]
    high = left.height
    if aside is not None:
        across = g.width - _ASIDE * g.width + (_ASIDE * g.width - aside.width) / 2
        items.extend(aside.at(across, top))
        high = max(high, aside.height)
    return Block(g.width, top + high, tuple(items))


def _title(title: str, credit: str, width: float, g: Grid, measure: Measure) -> Block:
    """A heading, and the credit after it where there is room, else below."""
    head = text_block(title, width, g.heading, measure, "text.heading", bold=True)
    if not credit:
        return head
    after = measure(title, g.heading, True) + g.caption
    one_line = head.height < 1.5 * g.heading
    if one_line and after + 1.03 * measure(credit, g.caption, False) <= width:
        text = Text("text.soft", (0.0, 0.0), credit, g.caption)
        placed = Placed((after, g.heading * ASCENT), text)
        return Block(width, head.height, (*head.items, placed))
    below = text_block(credit, width, g.caption, measure, "text.soft")
    return stacked([head, below], 0.2 * g.caption)


def _rows(rows: Iterable[Row], width: float, g: Grid, measure: Measure) -> Block:
    """Labels in a column, what they say beside them, a line each."""
    told = list(rows)
    room = max(_LABEL * g.caption, *(measure(name, g.caption, True) for name, _ in told))
    room += 0.8 * g.caption
    items: list[Placed] = []
    y = 0.0
    between = (LEADING - ASCENT - DESCENT) * g.caption
    for label, lines in told:
        name = Text("text.soft", (0.0, 0.0), label, g.caption, bold=True)
        items.append(Placed((0.0, y + g.caption * ASCENT), name))
        for line in lines:
            block = text_block(line, width - room, g.caption, measure, "text.fact")
            items.extend(block.at(room, y))
            y += block.height + between
    return Block(width, max(0.0, y - between), tuple(items))


def _paragraphs(label: str, texts: Iterable[str], g: Grid, measure: Measure) -> list[Block]:
    """Paragraphs; the first begins with a label where one is given."""
    said = [text for text in texts if text.strip()]
    if said and label:
        said[0] = f"{label}: {said[0]}"
    return [part for text in said for part in paragraph(text, g.width, g.caption, measure)]
