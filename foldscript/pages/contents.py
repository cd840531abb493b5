"""A booklet's pages of words: contents, and who made what.

In: chapters and the pages they start on. Out: blocks to be placed one below the other. Each line of
the contents shows the finished model, so that a child who does not read yet finds it too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..drawing.scene import Scene, Text
from ..folding.steps import Model
from .cells import fitted
from .document import Block, Placed, rule
from .grid import Grid
from .head import Translate
from .text import ASCENT, LEADING, Measure, text_block

#: Width and height of a picture in the contents, as multiples of the caption's size.
_WIDE, _HIGH = 4.4, 2.9


@dataclass(frozen=True)
class Entry:
    """A line of the contents: a model, its picture, and the number of the page it starts on."""

    model: Model
    picture: Scene
    number: str


def heading(text: str, g: Grid, measure: Measure) -> Block:
    """The heading of a page of words, with a rule under it."""
    title = text_block(text, g.width, 0.8 * g.title, measure, "text.title", bold=True)
    y = title.height + 0.45 * g.caption
    return Block(g.width, y, (*title.items, Placed((0.0, y), rule(g.width))))


def line(entry: Entry, with_level: bool, g: Grid, measure: Measure, translate: Translate) -> Block:
    """Picture, title with what it takes to fold it, dots, and the page's number."""
    wide, high = _WIDE * g.caption, _HIGH * g.caption
    scale, w, h = fitted(entry.picture, wide, high)
    items = [Placed(((wide - w) / 2, (high - h) / 2), entry.picture, scale)]
    left = wide + g.caption
    number = Text("text.contents", (0.0, 0.0), entry.number, g.caption, "end", bold=True)
    room = measure("000", g.caption, True) + 0.6 * g.caption
    text_width = g.width - left - room
    title = text_block(entry.model.title, text_width, g.caption, measure, "text.contents", True)
    about = text_block(
        _about(entry.model, with_level, translate), text_width, g.small, measure, "text.soft"
    )
    tall = title.height + 0.25 * g.small + about.height
    height = max(high, tall)
    y = (height - tall) / 2
    items += [*title.at(left, y), *about.at(left, y + title.height + 0.25 * g.small)]
    lines = len(title.items)
    baseline = y + g.caption * (ASCENT + LEADING * (lines - 1))
    last = title.items[-1].content
    assert isinstance(last, Text)
    start = left + measure(last.text, g.caption, True) + 0.6 * g.caption
    items.append(Placed((g.width, baseline), number))
    if start < g.width - room:
        dots = rule(g.width - room - start, "page.leader")
        items.append(Placed((start, baseline - 0.8), dots))
    return Block(g.width, height, tuple(items))


def _about(model: Model, with_level: bool, translate: Translate) -> str:
    count = len(model.steps)
    steps = translate("{n} step") if count == 1 else translate("{n} steps")
    parts = (
        translate(model.level) if with_level and model.level else "",
        steps.format(n=count),
        model.sheet.shape,
    )
    return " · ".join(part for part in parts if part)


def level_heading(level: str, g: Grid, measure: Measure, translate: Translate) -> Block:
    """The name of a level above its models."""
    words = translate(level) if level else translate("without a level")
    return text_block(
        words[:1].upper() + words[1:], g.width, g.caption, measure, "text.soft", bold=True
    )


def credit_lines(
    models: Sequence[Model], g: Grid, measure: Measure, translate: Translate
) -> tuple[Block, ...]:
    """A block a model: its title, then who made it and what may be done with it."""
    across = 0.34 * g.width
    out: list[Block] = []
    for model in models:
        said = " · ".join(part for part in (model.credit, model.licence) if part)
        title = text_block(model.title, across, g.caption, measure, "text.fact", bold=True)
        left = across + g.caption
        text = text_block(
            said or translate("designer not named"), g.width - left, g.caption, measure, "text.fact"
        )
        height = max(title.height, text.height)
        out.append(Block(g.width, height, (*title.items, *text.at(left, 0.0))))
    return tuple(out)
