"""A script with several sheets: its lines `part`, `assemble` and `sheets`, to the parts of a `Program`.

In: the heads of the script and of its parts as they have been read, and where each begins. Out: `Part`s, each
with the script's head and over it its own lines; () where one sheet is all that is folded.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ..source.diagnostics import Refusal, Span, write
from .nodes import Head, Lot, Part
from .operands import read_count, tokens_of, tree_span, trees_of
from .papers import paper_size

if TYPE_CHECKING:
    from lark import Token, Tree

#: Parts in a script, and sheets that they are folded from together.
MOST_PARTS = 30
MOST_SHEETS = 200
#: Lines that a part has a say in; all others belong to the whole.
OF_PARTS = frozenset({"sheet", "sheets", "colours", "start"})


@dataclass(frozen=True)
class Begun:
    """A part whose lines are being read, and how many steps come before it.

    head, seen : what its own head lines say, once all are read; and where each kind of them stands
    """

    title: str
    head: Callable[[], Head]
    seen: Mapping[str, Span]
    first: int
    assembles: bool
    span: Span


def read_lots(tree: Tree[Token]) -> tuple[Lot, ...]:
    """`sheets 6`, or `sheets 2 red, 2 blue and 2 white`."""
    lots: list[Lot] = []
    for part in trees_of(tree):
        colour = " ".join(tokens_of(part, "NAME"))
        count = read_count(tokens_of(part, "NUMBER")[0], "number of sheets")
        size = next((w for w in colour.split() if paper_size(w)), "")
        if size:
            raise Refusal(
                "colour-missing",
                f"'{size}' is what the sheets are, and no colour",
                write(
                    tree_span(tree),
                    f"sheets {count}\nsheet {size}",
                    f"say how many in one line and which in another: 'sheets {count}' and 'sheet {size}'",
                ),
                span=tree_span(part),
            )
        lots.append(Lot(count, colour, tree_span(part)))
    if sum(lot.count for lot in lots) > MOST_SHEETS:
        raise Refusal(
            "too-many-sheets",
            f"more than {MOST_SHEETS} sheets in one script",
            span=tree_span(tree),
        )
    if len(lots) > 1 and not all(lot.colour for lot in lots):
        bare = next(lot for lot in lots if not lot.colour)
        raise Refusal(
            "colour-missing",
            "several numbers of sheets differ by their colours, and this one has none",
            "for instance: sheets 3 red, 3 blue",
            "or give one number: sheets 6",
            span=bare.span,
        )
    return tuple(lots)


def parts_of(head: Head, begun: Sequence[Begun], steps: int) -> tuple[Part, ...]:
    """The parts of a script with so many steps. Raises Refusal."""
    if not begun and not head.lots:
        return ()
    if begun and not begun[0].assembles and head.lots:
        raise Refusal(
            "sheets-of-which-part",
            "the script has several parts: say under each of them how many sheets it takes",
            "move 'sheets' below the line 'part' that it belongs to",
            span=head.lots[0].span,
        )
    found: list[Part] = []
    if not begun or (begun[0].assembles and begun[0].first):
        found.append(Part("", head, 0, False, Span(0, 0)))
    for one in begun:
        found.append(Part(one.title, _over(head, one), one.first, one.assembles, one.span))
    for k, part in enumerate(found):
        end = found[k + 1].first if k + 1 < len(found) else steps
        if part.first == end:
            raise Refusal(
                "empty-part",
                "nothing is folded in this part",
                "put its steps under it, or leave the line out",
                span=part.span,
            )
        if part.assembles and k == 0:
            raise Refusal(
                "nothing-to-assemble",
                "there is nothing to put together yet",
                "put the steps that fold a unit before this line",
                span=part.span,
            )
        if part.assembles and k < len(found) - 1:
            raise Refusal(
                "assembled-last",
                "what is put together comes last, and another part follows",
                "move these steps to the end of the script",
                span=part.span,
            )
    return tuple(found)


def _over(head: Head, one: Begun) -> Head:
    """The script's head with the lines of a part over it."""
    own, seen = one.head(), one.seen
    if "start" in seen or "sheet" in seen:
        head = replace(head, sheet=own.sheet, start_from=own.start_from, start_span=own.start_span)
    if "colours" in seen:
        head = replace(head, front_colour=own.front_colour, back_colour=own.back_colour)
    return replace(head, lots=own.lots)
