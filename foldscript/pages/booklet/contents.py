"""A booklet's pages of words: contents, and who made what.

In: chapters and the pages they start on. Out: blocks to be placed one below the other. Each line of
the contents shows the finished model, so that a child who does not read yet finds it too.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...drawing.scene.scene import Scene, Text
from ...folding.steps import Model
from ...languages.wording import Translate, plural
from .. import measures
from ..document import Block, Placed, fitted, rule, stacked
from ..grid import Grid
from ..parts import DECORATION, Part, PartKind
from ..typesetting import Typesetter, text_block


@dataclass(frozen=True)
class ContentsEntry:
    """A line of the contents: a model, its picture, and the number of the page it starts on."""

    model: Model
    picture: Scene
    number: str


def heading(text: str, g: Grid, typesetter: Typesetter) -> Block:
    """The heading of a page of words, with a rule under it."""
    m = measures.CONTENTS
    title = text_block(text, g.width, m.heading * g.title, typesetter, "text.title", bold=True)
    y = title.height + m.heading_rule * g.caption
    return Block(g.width, y, (*title.items, Placed((0.0, y), rule(g.width))))


@dataclass(frozen=True)
class ContentsLine:
    """A line of the contents, with the name of a level above it where one begins.

    `height` is that of the line alone, `below` the space to the next; `link` is what of it is read as
    the link.
    """

    block: Block
    height: float
    below: float
    link: Part


def contents_lines(
    entries: Sequence[ContentsEntry],
    by_level: bool,
    room: float,
    g: Grid,
    typesetter: Typesetter,
    translate: Translate,
) -> tuple[ContentsLine, ...]:
    """Lines for all entries: in `room` where lower pictures help, else as high as is best."""
    made: list[tuple[ContentsLine, ...]] = []
    for high in measures.CONTENTS.picture_heights:
        made.append(tuple(_lines(entries, by_level, high * g.caption, g, typesetter, translate)))
        if sum(line.block.height + line.below for line in made[-1]) <= room:
            return made[-1]
    return made[0]


def _lines(
    entries: Sequence[ContentsEntry],
    by_level: bool,
    high: float,
    g: Grid,
    typesetter: Typesetter,
    translate: Translate,
) -> Iterator[ContentsLine]:
    m = measures.CONTENTS
    below = m.below * high / m.picture_heights[0]
    before: str | None = None
    all_lines = Part(PartKind.CONTENTS)
    for entry in entries:
        if by_level and entry.model.level != before:
            all_lines = Part(PartKind.CONTENTS)
        link = Part(PartKind.LINK, Part(PartKind.ENTRY, all_lines))
        block = _line(entry, not by_level, high, g, typesetter, translate, link)
        height = block.height
        if by_level and entry.model.level != before:
            title = level_heading(entry.model.level, g, typesetter, translate)
            above = 0.0 if before is None else m.above_level * g.caption
            items = (*title.at(0.0, above), *block.at(0.0, above + title.height + below))
            block = Block(g.width, above + title.height + below + height, items)
        before = entry.model.level
        yield ContentsLine(block, height, below, link)


def _line(
    entry: ContentsEntry,
    with_level: bool,
    high: float,
    g: Grid,
    typesetter: Typesetter,
    translate: Translate,
    link: Part,
) -> Block:
    """Picture, title with what it takes to fold it, dots, and the page's number."""
    m = measures.CONTENTS
    wide = m.picture_width * g.caption
    scale, w, h = fitted(entry.picture, wide, high)
    items = [Placed(((wide - w) / 2, (high - h) / 2), entry.picture, scale, DECORATION)]
    left = wide + m.beside_picture * g.caption
    number = Text("text.contents", (0.0, 0.0), entry.number, g.caption, "end", bold=True)
    room = typesetter.width(m.widest_folio, g.caption, True) + m.beside_leader * g.caption
    text_width = g.width - left - room
    title = text_block(entry.model.title, text_width, g.caption, typesetter, "text.contents", True)
    about = text_block(
        _about(entry.model, with_level, translate), text_width, g.small, typesetter, "text.soft"
    )
    title, about = title.as_part(link), about.as_part(Part(PartKind.PARAGRAPH, link.inside))
    tall = title.height + m.below_title * g.small + about.height
    height = max(high, tall)
    y = (height - tall) / 2
    items += [*title.at(left, y), *about.at(left, y + title.height + m.below_title * g.small)]
    lines = len(title.items)
    baseline = y + g.caption * (measures.TYPE.ascent + typesetter.leading * (lines - 1))
    last = title.items[-1].content
    assert isinstance(last, Text)
    start = left + typesetter.width(last.text, g.caption, True) + m.beside_leader * g.caption
    items.append(Placed((g.width, baseline), number, part=Part(PartKind.PARAGRAPH, link.inside)))
    if start < g.width - room:
        dots = rule(g.width - room - start, "page.leader")
        items.append(Placed((start, baseline - m.leader_lift), dots))
    return Block(g.width, height, tuple(items))


def _about(model: Model, with_level: bool, translate: Translate) -> str:
    steps = plural("{n} step", "{n} steps", len(model.steps))
    parts = (
        translate(model.level) if with_level and model.level else "",
        steps.render(translate),
        model.sheet.shape,
        plural("{n} sheet", "{n} sheets", model.sheets).render(translate)
        if model.sheets > 1
        else "",
    )
    return " · ".join(part for part in parts if part)


def level_heading(level: str, g: Grid, typesetter: Typesetter, translate: Translate) -> Block:
    """The name of a level above its models."""
    words = translate(level) if level else translate("without a level")
    block = text_block(
        words[:1].upper() + words[1:], g.width, g.caption, typesetter, "text.soft", bold=True
    )
    return block.as_part(Part(PartKind.HEADING))


def credit_lines(
    models: Sequence[Model], g: Grid, typesetter: Typesetter, translate: Translate
) -> tuple[Block, ...]:
    """Who made which models and what may be done with them: a block for each such answer."""
    groups: dict[str, list[str]] = {}
    for model in models:
        said = " · ".join(part for part in (model.credit, model.licence) if part)
        groups.setdefault(said or translate("designer not named"), []).append(model.title)
    out: list[Block] = []
    for said, titles in groups.items():
        who = text_block(
            said[:1].upper() + said[1:], g.width, g.caption, typesetter, "text.fact", True
        )
        what = text_block(", ".join(titles), g.width, g.caption, typesetter, "text.fact")
        out.append(stacked([who, what], typesetter.between * g.caption))
    return tuple(out)
