"""What the things on a page are to someone who does not see it: headings, paragraphs, lists, figures.

In: nothing. Out: `Part`s, which whatever is placed on a page may carry. Items that carry one and the same
part are read as one, on several pages too; parts lie in others, and so make a tree, which is read in the
order in which its parts come up on the pages. Formats that cannot tell of it leave it out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum, auto


class PartKind(Enum):
    """What a part is."""

    TITLE = auto()
    HEADING = auto()
    PARAGRAPH = auto()
    FIGURE = auto()
    LIST = auto()
    ITEM = auto()  # of a list; holds a label and a body, or a body alone
    LABEL = auto()
    BODY = auto()
    CONTENTS = auto()
    ENTRY = auto()  # of the contents
    LINK = auto()
    DECORATION = auto()  # not read: rules, page numbers, running feet


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """A part; each is its own, whatever it says.

    Attributes
    ----------
    inside : the part that it lies in; None for the page itself
    instead : what a figure's place is read as, '' for what the figure says of itself
    """

    kind: PartKind
    inside: Part | None = None
    instead: str = ""

    def within(self, other: Part) -> Part:
        """The same in another part."""
        return replace(self, inside=other)


#: What nobody is told of.
DECORATION = Part(PartKind.DECORATION)


def list_item(all_items: Part) -> tuple[Part, Part]:
    """Label and body of a further item of a list."""
    item = Part(PartKind.ITEM, all_items)
    return Part(PartKind.LABEL, item), Part(PartKind.BODY, item)


def new_list() -> Part:
    """A list without items."""
    return Part(PartKind.LIST)
