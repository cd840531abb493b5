"""Edges and layers as fingers find them.

In: a `StateDescription`. Out: sentences on what each edge is made of, on the edges that lie on top, on
how many layers lie where, and on where a finger goes in between them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import groupby

from ..geometry.lines import Point, distance, subtract, unit
from ..languages.wording import Phrase, Template, listed, phrase, plural
from .description import StateDescription
from .narration import count
from .outline import CLOSE, Edge
from .places import PlaceName, place
from .stacks import HalfEdge, layers_near, rims


def layer_sentence(description: StateDescription) -> Phrase:
    """How many layers lie where."""
    counts = {len(r.stack) for r in description.regions if r.area > 1e-5}
    if len(counts) == 1:
        n = counts.pop()
        if n == 1:
            return Phrase("There is a single layer everywhere.")
        return phrase("There are {n} layers everywhere.", n=count(n))
    halves = _two_parts(description)
    if halves is not None:
        return halves
    by_count: dict[int, list[Phrase]] = defaultdict(list)
    for corner in description.outline.corners:
        if not corner.inward:
            layers = layers_near(description.state, corner.at, _inside(description, corner.at))
            by_count[len(layers)].append(corner.name)
    by_count.pop(0, None)
    rows = [
        phrase("{n} at {places}", n=count(n), places=listed(by_count[n])) for n in sorted(by_count)
    ]
    if len(rows) == 1:
        return phrase(
            "The number of layers changes from place to place, from {least} to {most}; it is {told}.",
            least=count(min(counts)),
            most=count(max(counts)),
            told=rows[0],
        )
    return phrase("Layers: {places}.", places=listed(rows))


def _two_parts(description: StateDescription) -> Phrase | None:
    """Where a line from left to right parts two numbers of layers: how many lie on either side."""
    spans: dict[int, list[float]] = defaultdict(list)
    for r in description.regions:
        if r.area > 1e-5:
            spans[len(r.stack)] += r.depths
    if len(spans) != 2:
        return None
    near, far = sorted(spans, key=lambda n: min(spans[n]))
    if abs(max(spans[near]) - min(spans[far])) > 1e-5:
        return None
    return plural(
        "There is one layer in the far part, down to {mm} mm from its far end, and there are {near} in "
        "the near part.",
        "There are {far} layers in the far part, down to {mm} mm from its far end, and {near} in the "
        "near part.",
        far,
        far=count(far),
        mm=description.mm(description.bounds[3] - min(spans[far])),
        near=count(near),
    )


def _inside(description: StateDescription, corner: Point) -> Point:
    """A point inside the outline, in the angle at one of its corners."""
    one, two = (
        unit(subtract(q, corner))
        for e in description.outline.edges
        for q in e.segment
        if distance(q, corner) > CLOSE and any(distance(r, corner) < CLOSE for r in e.segment)
    )
    # A little off the middle line, where a seam often lies.
    return (corner[0] + one[0] * 1.03 + two[0], corner[1] + one[1] * 1.03 + two[1])


_ON_TOP: dict[tuple[str, bool], Template] = {
    ("raw", False): "On top, an open edge runs from {first} to {last}.",
    ("raw", True): "On top, two open edges meet along the line from {first} to {last}.",
    ("fold", False): "On top, a folded edge runs from {first} to {last}.",
    ("fold", True): "On top, two folded edges meet along the line from {first} to {last}.",
}


def edge_sentences(description: StateDescription) -> tuple[Phrase, ...]:
    """What each edge of the outline is made of, alike edges in one sentence; then edges on top."""
    alike: dict[Phrase, list[Phrase]] = defaultdict(list)
    for made, edges in _runs(description):
        name = edges[0].name
        if len(edges) > 1:
            name = phrase(
                "the outline from {first} clockwise to {last}",
                first=edges[0].start.name,
                last=edges[-1].end.name,
            )
        alike[made].append(name)
    found = []
    for made, names in alike.items():
        many = len(names) > 1
        template: Template = (
            "{edges} each consist of {made}." if many else "{edges} consists of {made}."
        )
        found.append(phrase(template, edges=listed(names), made=made))
    return (*found, *_inner(description))


def _runs(description: StateDescription) -> list[tuple[Phrase, list[Edge]]]:
    """Every edge with what it is made of; round a numbered outline, alike neighbours together."""
    out: list[tuple[Phrase, list[Edge]]] = []
    for edge in description.outline.edges:
        made = _made_of(rims(description.state, edge.segment), edge)
        last = out[-1] if out and description.outline.numbered else None
        if last is not None and last[0] == made and last[1][-1].end == edge.start:
            last[1].append(edge)
        else:
            out.append((made, [edge]))
    return out


def _inner(description: StateDescription) -> list[Phrase]:
    """Edges on top, within the outline: those whose ends can be named plainly."""
    rows: list[Phrase] = []
    for line in description.inner_edges:
        first, last = (_end(description, p) for p in line.segment)
        if (
            max(first.rank, last.rank) > (0 if description.outline.numbered else 1)
            and len(description.inner_edges) > 2
        ):
            continue
        template = _ON_TOP[line.kind, description.meets_another(line)]
        rows.append(phrase(template, first=first.words, last=last.words))
    return rows


def _end(description: StateDescription, p: Point) -> PlaceName:
    """Words for the end of an edge on top, which may not be named by that edge itself."""
    return place(description.bare, p)


def _made_of(found: Sequence[HalfEdge], edge: Edge) -> Phrase:
    """What an edge is made of; lesser changes along it are left out."""
    parts = [found[0]]
    for rim in found[1:]:
        if _sort(rim) == _sort(parts[-1]):
            if len(rim.kinds) > len(parts[-1].kinds):
                parts[-1] = rim
        else:
            parts.append(rim)
    if len(parts) == 1:
        return _kinds(parts[0].kinds, most=len({r.kinds for r in found}) > 1)
    if len(parts) > 3:
        return Phrase("pieces, some open and some folded")
    named = [_kinds(r.kinds) for r in parts]
    if len(parts) == 2:
        return phrase(
            "{one} where it starts at {start}, and {two} where it ends at {end}",
            one=named[0],
            start=edge.start.name,
            two=named[1],
            end=edge.end.name,
        )
    return phrase(
        "{one} at {start}, then {two} in its middle part, and {three} at {end}",
        one=named[0],
        start=edge.start.name,
        two=named[1],
        three=named[2],
        end=edge.end.name,
    )


def _sort(rim: HalfEdge) -> tuple[bool, bool, str]:
    return "fold" in rim.kinds, "raw" in rim.kinds, rim.kinds[0]


def _kinds(kinds: tuple[str, ...], *, most: bool = False) -> Phrase:
    """'one folded edge', 'two open edges, one on the other'; with `most` their number changes."""
    folds, raws = kinds.count("fold"), kinds.count("raw")
    n = phrase("up to {n}", n=count(len(kinds))) if most else count(len(kinds))
    if not raws:
        if folds == 1:
            return plural("one folded edge", "{n} folded edges", 1)
        return phrase("{n} folded edges, one on the other", n=n)
    if not folds:
        return (
            plural("one open edge", "{n} open edges", 1)
            if raws == 1
            else phrase("{n} open edges, one on the other", n=n)
        )
    if folds == raws == 1 and not most:
        return Phrase(
            "a folded edge on top of an open edge"
            if kinds[0] == "fold"
            else "an open edge on top of a folded edge"
        )
    groups = [(kind, len(list(g))) for kind, g in groupby(kinds)]
    if most or len(groups) > 4:
        template: Template = (
            "{n} edges one on the other, some open and some folded, a folded one on top"
            if kinds[0] == "fold"
            else "{n} edges one on the other, some open and some folded, an open one on top"
        )
        return phrase(template, n=n)
    return phrase(
        "{n} edges one on the other, from the top down: {kinds}",
        n=n,
        kinds=listed(
            [
                plural("one open edge", "{n} open edges", k, count(k))
                if kind == "raw"
                else plural("one folded edge", "{n} folded edges", k, count(k))
                for kind, k in groups
            ]
        ),
    )


def openings(description: StateDescription) -> tuple[Phrase, ...]:
    """Where a finger goes in between layers: at edges that lie one on the other."""
    open_ = [
        edge.name
        for edge in description.outline.edges
        if all(len(r.kinds) > 1 for r in rims(description.state, edge.segment))
    ]
    if not open_:
        return ()
    return (phrase("A finger can go in between its layers at {edges}.", edges=listed(open_)),)
