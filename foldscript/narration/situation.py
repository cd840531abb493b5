"""How the paper lies after a step, described again from the start so that nobody gets lost.

In: a `StateDescription`. Out: paragraphs on the shape, on where each corner of the sheet lies, on
layers, and on open and folded edges: what a hand would want to check before it goes on.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..geometry import polygons
from ..geometry.cover import rims
from ..geometry.lines import Point, distance, subtract
from ..languages.unit_names import on_sheet, said
from ..languages.wording import Phrase, listed, phrase, plural
from .description import StateDescription
from .edges import edge_sentences, layer_sentence
from .narration import Block, Listing, Paragraph, centimetres, count
from .outline import CLOSE
from .places import place
from .shapes import mirrored_sides, shape
from .stacks import Depth, depth_of

_LEVELS = {
    "only": Phrase("as a single layer"),
    "top": Phrase("on top"),
    "bottom": Phrase("underneath, against the table"),
}


_NUMBERED = (
    Phrase(
        "Its corners and notches are numbered clockwise, starting at the left. Lengths are measured "
        "straight across, from its leftmost and from its nearest point:"
    ),
)


def situation(
    description: StateDescription, earlier: StateDescription | None = None
) -> tuple[Block, ...]:
    """Everything: shape, corners of the sheet, edges and layers.

    Where the shape is that of `earlier`, its name is enough.
    """
    form, rows = shape_sentences(description), numbered_corners(description)
    if earlier is not None and (form, rows) == (
        shape_sentences(earlier),
        numbered_corners(earlier),
    ):
        form = (
            phrase("The shape is as before this step, {shape}.", shape=shape(description.outline)),
        )
        rows = ()
    return (
        Paragraph(
            (*form, side_sentence(description), *(_NUMBERED if rows else ())), Phrase("Shape now:")
        ),
        *((Listing(rows),) if rows else ()),
        *(
            (Paragraph(corner_sentences(description), Phrase("Corners of the sheet now:")),)
            if description.corners
            else ()
        ),
        Paragraph(
            (*edge_sentences(description), layer_sentence(description)),
            Phrase("Edges and layers now:"),
        ),
    )


def shape_sentences(description: StateDescription) -> tuple[Phrase, ...]:
    """'The paper is a triangle ...', its size, its corners."""
    x0, y0, x1, y1 = description.bounds
    corners = description.outline.corners
    found = [
        phrase("The paper is {shape}.", shape=shape(description.outline)),
        phrase(
            "It is {width} mm from left to right and {depth} mm from near to far.",
            width=description.mm(x1 - x0),
            depth=description.mm(y1 - y0),
        ),
    ]
    holes = sum(len(inner) for _, inner in rims(description.state.placed))
    if holes:
        found.append(plural("There is a hole in it.", "There are {n} holes in it.", holes))
    if len(corners) <= 12 and not description.outline.numbered:
        found.append(
            phrase(
                "Going round it clockwise, its corners are: {corners}.",
                corners=listed([c.name for c in corners]),
            )
        )
    return tuple(found)


def numbered_corners(description: StateDescription) -> tuple[tuple[Phrase, ...], ...]:
    """Rows that say where each corner of a numbered outline lies; () where corners have names."""
    if not description.outline.numbered:
        return ()
    x0, y0, _, _ = description.bounds
    return tuple(
        (
            phrase(
                "{corner}: {across} mm from the left, {depth} mm from the near side.",
                corner=c.name,
                across=description.mm(c.at[0] - x0),
                depth=description.mm(c.at[1] - y0),
            ),
        )
        for c in description.outline.corners
    )


def corner_sentences(description: StateDescription) -> tuple[Phrase, ...]:
    """Where every corner of the sheet lies, those that lie together in one sentence."""
    together: list[tuple[Point, list[str]]] = []
    for name, at in description.corners:
        for p, names in together:
            if distance(p, at) < CLOSE:
                names.append(name)
                break
        else:
            together.append((at, [name]))
    return tuple(_corners_at(description, at, names) for at, names in together)


def _corners_at(description: StateDescription, at: Point, names: list[str]) -> Phrase:
    where = place(description, at, letters=False).words
    depths = {name: _depth(description, name) for name in names}
    if len(names) == 1:
        return phrase(
            "Corner {name} lies at {where}, {level}.",
            name=said(names[0]),
            where=where,
            level=level(depths[names[0]]),
        )
    ordered = sorted(names, key=lambda n: (depths[n].over, -depths[n].under))
    sides = _side_by_side(description, depths)
    levels = [
        phrase("{name} {level}", name=said(n), level=level(depths[n], sides.get(n)))
        for n in ordered
    ]
    row = levels[0]
    for one in levels[1:]:
        row = phrase("{some}; {more}", some=row, more=one)
    return phrase(
        "Corners {names} lie together at {where}: {levels}.",
        names=listed([_name(n) for n in ordered]),
        where=where,
        levels=row,
    )


def _side_by_side(description: StateDescription, depths: dict[str, Depth]) -> dict[str, Phrase]:
    """Of two tips equally deep, because they lie beside each other: on which side each one is."""
    found: dict[str, Phrase] = {}
    sheet = description.state.sheet
    for depth in dict.fromkeys(depths.values()):
        pair = [n for n in depths if depths[n] == depth]
        if len(pair) == 2:
            one, two = (
                bulk(description, description.state.facets_on_sheet(sheet.corner(n))) for n in pair
            )
            found |= zip(pair, beside(one, two), strict=True)
    return found


def bulk(description: StateDescription, facets: Sequence[int]) -> Point:
    """The middle of some facets as they lie."""
    spots = [polygons.centroid(description.state.placed[i]) for i in facets]
    return (sum(p[0] for p in spots) / len(spots), sum(p[1] for p in spots) / len(spots))


_BESIDE = {
    "left": Phrase("on the left"),
    "right": Phrase("on the right"),
    "near": Phrase("on the near side"),
    "far": Phrase("on the far side"),
}


def beside(one: Point, two: Point) -> tuple[Phrase, Phrase]:
    """How two pieces of paper beside each other are told apart."""
    dx, dy = subtract(one, two)
    low, high = ("left", "right") if abs(dx) >= abs(dy) else ("near", "far")
    first = (dx if abs(dx) >= abs(dy) else dy) < 0
    return (_BESIDE[low], _BESIDE[high]) if first else (_BESIDE[high], _BESIDE[low])


def _name(name: str) -> Phrase:
    return phrase("{name}", name=said(name))


def _depth(description: StateDescription, name: str) -> Depth:
    return depth_of(description.state, description.state.sheet.corner(name))


def level(depth: Depth, side: Phrase | None = None) -> Phrase:
    """'on top', 'underneath', 'inside, under two layers'; `side` where another tip lies beside it."""
    if depth.over == depth.under == 0:
        where = None if depth.own > 1 else _LEVELS["only"]
    elif depth.over == 0:
        where = _LEVELS["top"]
    elif depth.under == 0:
        where = _LEVELS["bottom"]
    else:
        where = phrase(
            "inside, under {layers}",
            layers=Phrase("one layer")
            if depth.over == 1
            else phrase("{n} layers", n=count(depth.over)),
        )
    if side is not None:
        where = side if where is None else phrase("{side} {where}", side=side, where=where)
    if depth.own > 1:
        tip = phrase("a folded tip of {n} layers", n=count(depth.own))
        return (
            phrase("as {tip}", tip=tip)
            if where is None
            else phrase("{where}, as {tip}", where=where, tip=tip)
        )
    return where or _LEVELS["only"]


def corner_level(description: StateDescription, name: str) -> Phrase:
    """How deep a corner of the sheet lies."""
    return level(_depth(description, name))


def side_sentence(description: StateDescription) -> Phrase:
    """Which side of the sheet faces up."""
    coloured = plain = 0.0
    for region in description.regions:
        front = description.state.facets[region.stack[0]].shows_front
        if front == description.state.sheet.front_coloured:
            coloured += region.area
        else:
            plain += region.area
    part = coloured / (coloured + plain)
    if part > 0.999:
        return Phrase("The coloured side of the sheet faces up everywhere.")
    if part < 0.001:
        return Phrase("The plain side of the sheet faces up everywhere.")
    if part > 0.65:
        return Phrase(
            "Most of what faces up is the coloured side of the sheet, the rest the plain side."
        )
    if part < 0.35:
        return Phrase(
            "Most of what faces up is the plain side of the sheet, the rest the coloured side."
        )
    return Phrase("Both sides of the sheet face up, about as much of the one as of the other.")


def finished_sentences(description: StateDescription) -> tuple[Phrase, ...]:
    """The finished model: its shape, size, symmetry and the side that shows."""
    x0, y0, x1, y1 = description.bounds
    mm = [(x1 - x0) * description.unit_mm, (y1 - y0) * description.unit_mm]
    sentences = [
        phrase("The finished model lies before you as {shape}.", shape=shape(description.outline)),
        phrase(
            "It is {w} mm ({wc} cm) from left to right and {h} mm ({hc} cm) from near to far.",
            w=description.mm(x1 - x0),
            wc=centimetres(mm[0]),
            h=description.mm(y1 - y0),
            hc=centimetres(mm[1]),
        ),
    ]
    mirror = mirrored_sides(description.outline)
    if mirror is not None:
        sentences.append(mirror)
    sentences.append(side_sentence(description))
    return tuple(sentences)


def tips_of_corners(description: StateDescription) -> tuple[Phrase, ...]:
    """Which corners of the outline are corners of the sheet, by measure: what a hand finds first."""
    x0, y0, _, _ = description.bounds
    return tuple(
        phrase(
            "Corner {name} ends in a tip {across} mm from the left and {depth} mm from the near side.",
            name=on_sheet(name),
            across=description.mm(at[0] - x0),
            depth=description.mm(at[1] - y0),
        )
        for name, at in description.corners
        if description.outline.corner_at(at) is not None
    )
