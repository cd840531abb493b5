"""The running foot of every page: a rule, words, the folio; and the document that this completes.

In: pages made up. Out: the pages of a document.
"""

from __future__ import annotations

from ...drawing.scene.scene import Text
from ...folding.steps import Model
from ...languages.wording import Translate
from .. import measures
from ..document import Bookmark, Document, Page, Placed, rule
from ..grid import Grid
from ..parts import DECORATION
from ..typesetting import Typesetter, shortened
from .makeup import PageMakeup


def foot_rule(g: Grid) -> Placed:
    """The line between a page and its foot."""
    m = measures.FOOT
    return Placed((g.left, g.bottom + m.rule * (g.foot - g.bottom) - m.rule_lift), rule(g.width))


def finished_document(
    model: Model, pages: PageMakeup, typesetter: Typesetter, translate: Translate
) -> Document:
    """The pages with running foot, page labels and outline."""
    left = " · ".join(part for part in (model.title, model.credit) if part)
    first = Bookmark(model.title, 0, 0.0)
    return Document(
        title=model.title,
        author=model.credit,
        language=model.language,
        pages=with_running_feet(pages, left, typesetter, translate),
        bookmarks=(first, *pages.marks),
        subject=translate("Folding steps"),
    )


def with_running_feet(
    pages: PageMakeup, running: str, typesetter: Typesetter, translate: Translate
) -> tuple[Page, ...]:
    """The pages, each with a rule at its foot, running words at the left and its number at the right."""
    g = pages.grid
    count = len(pages.items)
    out: list[Page] = []
    for number, items in enumerate(pages.items, start=1):
        right = translate("page {n} of {count}").format(n=number, count=count)
        room = g.width - typesetter.width(right, g.small, False) - g.gutter
        left = shortened(running, room, g.small, typesetter)
        words = Text("text.soft", (0.0, 0.0), left, g.small)
        folio = Text("text.soft", (0.0, 0.0), right, g.small, "end")
        foot = (
            foot_rule(g),
            Placed((g.left, g.foot), words, part=DECORATION),
            Placed((g.right, g.foot), folio, part=DECORATION),
        )
        out.append(Page(pages.size, str(number), (*items, *foot)))
    return tuple(out)
