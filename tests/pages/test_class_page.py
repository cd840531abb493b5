"""The class plan on pages: everything on it, nothing past the margins, pictures of the right cuts."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building import class_plan
from foldscript.classes.cutting import Paper, cut
from foldscript.drawing.draw import HALF
from foldscript.drawing.scene.outlines import box_of
from foldscript.drawing.scene.scene import Path as Stroke
from foldscript.drawing.scene.scene import Text
from foldscript.output.fonts import measure
from foldscript.pages.document import Document
from foldscript.pages.grid import grid
from foldscript.pages.sheets.class_page import class_page, picture_frame
from foldscript.pages.sheets.cut_drawing import cut_drawing
from foldscript.pages.sheets.lesson_page import lesson_grid
from foldscript.pages.sizes import page_size
from foldscript.pages.typesetting import Typesetter
from foldscript.source.diagnostics import FoldscriptError

from ..command import CARD, script


def laid(tmp_path: Path, page: str = "A4", title: str = "Card", count: int = 1) -> Document:
    for k in range(count):
        script(tmp_path / "shelf", f"card{k}", CARD.replace("Card", f"{title} {k}"))
    who = class_plan.class_of(12, "", page, "grey")
    planned = class_plan.plan([tmp_path / "shelf"], who)
    frame = picture_frame(who.page)
    pictures = [script.portrait(who.style, frame) for script in planned.scripts]
    small = lesson_grid(grid(who.page, large_letters=True)).frame
    lessons = [script.figures(who.style, small) for script in planned.scripts]
    return class_page(planned.plan, pictures, lessons, who.page, measure)


@pytest.mark.parametrize("page", ["A4", "Letter", "A5", "Half letter"])
def test_everything_stays_within_the_margins(tmp_path: Path, page: str) -> None:
    document = laid(tmp_path, page, count=4)
    g = grid(page_size(page))
    for one in document.pages:
        for item in one.items:
            if isinstance(item.content, Text) and item.content.anchor == "start":
                right = item.at[0] + measure(
                    item.content.text, item.content.size, item.content.bold
                )
                assert item.at[0] >= g.left - 0.1
                assert right <= g.right + 1.0, item.content.text
                assert item.at[1] <= g.foot + 0.1


def test_each_model_has_a_bookmark_and_each_page_its_number(tmp_path: Path) -> None:
    document = laid(tmp_path, "A5", count=4)
    assert [mark.title for mark in document.bookmarks[1:]] == [f"Card {k}" for k in range(4)]
    assert len(document.pages) > 1
    texts = list(document.texts())
    assert f"page 1 of {len(document.pages)}" in texts
    assert any("common practice" in text for text in texts)


def test_a_title_longer_than_a_page_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FoldscriptError) as caught:
        laid(tmp_path, "A6", "Card " * 300)
    assert caught.value.diagnostics[0].code == "page-too-small"


def test_the_drawing_shows_the_cut_to_scale() -> None:
    """A4 with one square of 150 mm: tinted sheet, two plain leftovers, sizes in all three."""
    cutting = cut(Paper("A4", 210, 297), 150, 150)
    assert cutting is not None
    block = cut_drawing(cutting, 200, 297, Typesetter(measure, leading=1.25))
    strokes = [i.content for i in block.items if isinstance(i.content, Stroke)]
    (sheet,) = [s for s in strokes if s.role == "paper.coloured"]
    assert len([s for s in strokes if s.role == "paper.plain"]) == 2
    assert block.width == pytest.approx(200)
    box = box_of(sheet.segments)
    assert box == pytest.approx((0, 0, 150 * 200 / 210, 150 * 200 / 210))
    words = " ".join(i.content.text for i in block.items if isinstance(i.content, Text))
    assert words == "150 × 150 210 × 147 60 × 150"


def test_every_step_has_a_box_and_its_minute_and_the_class_waits_at_the_end(tmp_path: Path) -> None:
    """Two simple folds a model: three minutes each to teach, told in fives, so the second begins at ten."""
    document = laid(tmp_path, count=2)
    items = [item for page in document.pages for item in page.items]
    boxes = [i for i in items if isinstance(i.content, Stroke) and i.content.role == "page.box"]
    assert len(boxes) == 4
    words = [i.content.text for i in items if isinstance(i.content, Text)]
    assert words.count("Wait for everyone.") == 2
    minutes = [w for w in words if w.endswith(" min") and len(w) < 8]
    assert minutes == ["0 min", "3 min", "10 min", "13 min"]
    assert "▲" not in words
    assert not [w for w in words if w.startswith("Hard")]


def test_half_way_figures_are_not_ticked_and_hard_steps_are_marked(tmp_path: Path) -> None:
    """The windmill's collapse is shown half way, too; it is the only hard move there."""
    who = class_plan.class_of(12, "", "A4", "grey")
    windmill = Path(__file__).parents[2] / "samples" / "windmill.foldscript"
    planned = class_plan.plan([windmill], who)
    small = lesson_grid(grid(who.page, large_letters=True)).frame
    (one,) = planned.scripts
    pictures = [one.portrait(who.style, picture_frame(who.page))]
    lessons = [one.figures(who.style, small)]
    items = [
        item
        for page in class_page(planned.plan, pictures, lessons, who.page, measure).pages
        for item in page.items
    ]
    words = [i.content.text for i in items if isinstance(i.content, Text)]
    assert any(figure.part == HALF for figure in lessons[0])
    assert not [w for w in words if w.endswith(HALF)]
    assert [w for w in words if w.startswith("Hard: ")] == ["Hard: collapse"]
