"""A model, figures and signs made by hand, for tests of the pages alone.

The model is a 15 cm square folded once along its middle: its finished size is known by hand.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from types import MappingProxyType

from foldscript.drawing.scene.scene import Close, Curve, Draw, Move, Path, Scene, Text
from foldscript.drawing.signs.key import KeyEntry
from foldscript.folding.steps import Model, Step
from foldscript.geometry.isometries import IDENTITY, Isometry
from foldscript.pages.document import Document
from foldscript.pages.grid import grid
from foldscript.pages.layout.foot import finished_document
from foldscript.pages.layout.handout import Opening, model_blocks
from foldscript.pages.layout.key import key_parts
from foldscript.pages.layout.makeup import PageMakeup
from foldscript.pages.layout.pagination import paginate
from foldscript.pages.layout.row_places import Figure
from foldscript.pages.sizes import PageSize
from foldscript.pages.typesetting import TextWidth, Typesetter
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import Facet, State, flat
from foldscript.source.diagnostics import Span

CAPTIONS = (
    "Fold the bottom edge to the top edge and unfold.",
    "Fold the left edge to the centre crease.",
    "Fold both top corners to the centre line. Press the creases flat with a fingernail.",
    "Turn the model over, side to side.",
    "Fold the top flap down, through the points where the edges meet the crease.",
    "Tuck the small triangle under the front layer.",
)

#: A square of 15 cm; its upper half folded to the front.
SHEET = Sheet(
    ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)), tuple("ABCD"), 150.0, "square 15 cm"
)
LOWER = Facet(((0.0, 0.0), (1.0, 0.0), (1.0, 0.5), (0.0, 0.5)), IDENTITY)
UPPER = Facet(
    ((0.0, 0.5), (1.0, 0.5), (1.0, 1.0), (0.0, 1.0)), Isometry(1.0, 0.0, 0.0, 0.0, -1.0, 1.0)
)
HALVED = State(SHEET, (LOWER, UPPER), MappingProxyType({(0, 1): False}))


def model(
    steps: int = 6,
    title: str = "Folded card",
    notes: tuple[str, ...] = (),
    licence: str = "free to copy and share",
) -> Model:
    """A model of so many steps, each of which says the same."""
    made = tuple(Step(i + 1, "", (), (), (), flat(SHEET), HALVED, Span(0, 0)) for i in range(steps))
    return Model(
        name="card",
        title=title,
        credit="traditional",
        licence=licence,
        level="simple",
        language="en",
        front_colour="",
        back_colour="",
        sheet=SHEET,
        start=flat(SHEET),
        steps=made,
        own_notes=notes,
    )


def scene(width: float, height: float, turn: float = 0.0) -> Scene:
    """A square with a dashed line and an arrow, filling its frame but for a margin."""
    x, y, r = width / 2, height / 2, 0.42 * min(width, height)

    def at(angle: float, part: float = 1.0) -> tuple[float, float]:
        return (
            x + part * r * math.cos(angle + turn),
            y + part * r * math.sin(angle + turn),
        )

    corners = [at(math.pi / 2 * i) for i in range(4)]
    outline = (Move(corners[0]), *(Draw(c) for c in corners[1:]), Close())
    return Scene(
        width,
        height,
        (
            Path("paper.coloured", outline),
            Path("edge.raw", outline),
            Path("fold.valley", (Move(corners[0]), Draw(corners[2]))),
            Path("arrow", (Move(corners[1]), Curve(at(0.4, 0.9), at(-0.4, 0.9), corners[3]))),
            Text("text.label", at(0.5, 0.4), "A", 8.5),
        ),
        signs=frozenset({"valley", "arrow.valley"}),
    )


def figures(
    count: int, frame: tuple[float, float], captions: tuple[str, ...] = CAPTIONS
) -> list[Figure]:
    """So many figures in frames, numbered from 1, then the finished model without a number."""
    numbered = [
        Figure(str(i + 1), captions[i % len(captions)], scene(*frame, turn=0.3 * i))
        for i in range(count)
    ]
    return [*numbered, Figure("", "The finished model.", scene(*frame))]


def handout_of(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    entries: Sequence[KeyEntry],
    page: PageSize,
    text_width: TextWidth,
) -> Document:
    """A handout from figures, the head's picture and the key's entries already drawn."""
    g = grid(page)
    typesetter = Typesetter(text_width, g.leading)
    pages = PageMakeup(g, page)
    opening = Opening(model, picture, g, typesetter, str)
    blocks = model_blocks(opening, figures, g, typesetter)
    paginate(
        pages, blocks, lambda width: key_parts(entries, "Signs used", width, g, typesetter, "More")
    )
    return finished_document(model, pages, typesetter, str)


def signs(count: int) -> list[tuple[str, Scene]]:
    """So many entries for a key."""
    names = (
        "valley fold",
        "fold here and unfold",
        "turn over, side to side",
        "edge",
        "earlier crease",
    )
    return [(names[i % len(names)], scene(44.0, 26.0, turn=0.2 * i)) for i in range(count)]
