"""Moves that fold several creases at once, told: what the hands do, what goes where.

In: a `MoveRecord` and the paper before and after it. Out: sentences: first what such a move is, then
the lines it folds along and which layers fold which way, then what the hands do, then every point that
comes to lie elsewhere, and in which order. The words for a move are kept by its verb; a move without
words of its own is told by what it does to the paper.
"""

from __future__ import annotations

from ..folding.steps import MoveRecord
from ..geometry import polygons
from ..geometry.lines import Point, Segment, distance, midpoint, overlap_of, subtract
from ..languages.wording import Phrase, Template, listed, phrase
from ..paper.signs import Arrow, CutLine, Sense
from .changes import Moved, fold_lines, moved_pieces
from .description import Line, StateDescription
from .directions import in_reading_order, way
from .outline import CLOSE
from .places import place
from .senses import halves, layer_senses, senses_phrase
from .situation import corner_level
from .stacks import depth_of, joined

_HOW: dict[str, tuple[Phrase, ...]] = {
    "inside reverse": (
        Phrase(
            "This is an inside reverse fold: the tip of a flap is pushed in between the upper and the "
            "lower half of the flap's layers."
        ),
        Phrase(
            "First fold the tip over and back again, once to each side, so that the line is soft."
        ),
        Phrase(
            "Open the two halves a little, push the tip in between them until its own folded edge "
            "turns inside out, and press the paper flat again."
        ),
    ),
    "outside reverse": (
        Phrase(
            "This is an outside reverse fold: the tip of a flap is wrapped back round the outside of "
            "the rest of the flap, like a hood."
        ),
        Phrase(
            "First fold the tip over and back again, once to each side, so that the line is soft."
        ),
        Phrase(
            "Open the two halves, turn the tip back over them until its folded edge turns inside out, "
            "half of the tip on top and half of it underneath, and press flat."
        ),
    ),
    "squash": (
        Phrase("This is a squash fold: a flap of two layers is lifted, opened and pressed flat."),
        Phrase(
            "Lift the flap so that it stands up from the table. Put a finger between its two layers "
            "and open them. Press down on the folded edge that now stands highest, until the flap is "
            "flat on both sides of it."
        ),
    ),
    "petal": (
        Phrase(
            "This is a petal fold: the point of the top layer is lifted and stretched, and the edges "
            "beside it come together."
        ),
        Phrase(
            "Hold the other layers down with one hand. With the other, lift the point, the top layer "
            "only, as if you opened a lid, and lay it over. The edges on both sides swing inward by "
            "themselves; press them flat along their creases, so that they meet in the middle of the "
            "flap."
        ),
    ),
    "rabbit ear": (
        Phrase(
            "This is a rabbit ear: a triangular flap is pinched together along three lines that meet "
            "in one point, so that its tip stands up and is then laid to one side."
        ),
        Phrase(
            "Fold two of the edges in at the same time, pinch the tip between them to a point, and "
            "press the point flat to the side told below."
        ),
    ),
    "double rabbit ear": (
        Phrase(
            "This is a double rabbit ear: both layers of a flap are pinched together at once, so that "
            "the flap becomes narrow and points the other way."
        ),
    ),
    "swivel": (
        Phrase(
            "This is a swivel fold: while one edge is folded over, the layer under it shifts along "
            "and is pressed flat where it wants to lie."
        ),
    ),
    "crimp": (
        Phrase(
            "This is a crimp: two folds side by side, made on both layers alike, so that the part "
            "beyond them is pushed in or lifted as a whole."
        ),
    ),
    "open sink": (
        Phrase(
            "This is an open sink: a closed point is pushed in between its layers and turned inside out."
        ),
        Phrase(
            "Fold the point over and back again to both sides. Open the paper out so far that the point "
            "lies flat, pinch the outline of the part beyond the line all round as a ridge, push "
            "its middle in, and close the paper up again."
        ),
    ),
    "closed sink": (
        Phrase(
            "This is a closed sink: a closed point is pushed straight in without opening its layers."
        ),
        Phrase(
            "Fold the point over and back again to both sides. Hold the layers closed and push the "
            "point in between them, a little at a time."
        ),
    ),
    "spread sink": (
        Phrase("This is a spread sink: a closed point is opened like a flower and pressed flat."),
    ),
    "collapse": (
        Phrase("Now several creases are folded at once."),
        Phrase(
            "First bend each of these lines the way it was told, one after the other, and let it go. "
            "Then push the corners that move toward the place where they come to lie, all at the same "
            "time and without force: the paper bends along the lines. Press it flat."
        ),
    ),
    "pleat": (
        Phrase(
            "This is a pleat: two folds side by side, one over on top and one back again, like a stair."
        ),
    ),
    "open out": (
        Phrase("Open the pocket, spread its layers apart, and press it flat the other way."),
    ),
    "tuck": (
        Phrase(
            "Now a flap is tucked away: fold it, and push it in between the layers as told below, "
            "until it lies flat inside."
        ),
    ),
    "pull out": (
        Phrase(
            "Now paper is pulled out from between other layers: hold the rest with one hand, take the "
            "hidden layer with the other, draw it out and lay it flat."
        ),
    ),
    "pull apart": (
        Phrase(
            "Take the two points told below, one in each hand, and draw them away from each other. The "
            "model opens between them; go on until it lies flat again the other way."
        ),
    ),
    "cut": (Phrase("Now the paper is cut with scissors, through all the layers told below."),),
}

_UNKNOWN = Phrase("Now several things move at once.")


#: What such a move is called where no paper moves and only the order of layers changes.
_SLIPPED = {
    "tuck": Phrase("Now a flap is slipped under what it lies on. Nothing is folded anew."),
    "pull out": Phrase(
        "Now a layer is drawn out from under what lies over it, and laid on top of that. Nothing is "
        "folded anew."
    ),
}


def compound(
    before: StateDescription, after: StateDescription, record: MoveRecord
) -> tuple[Phrase, ...]:
    """Sentences for a move of several folds."""
    if not moved_pieces(record.before, record.after) and not record.after.cuts:
        first = _SLIPPED.get(record.verb, Phrase("Now layers change places."))
        return (first, *_changed_levels(before, after))
    hands = _HOW.get(record.verb, (_UNKNOWN,))
    arrows = _arrows(before, record)
    found = [hands[0]]
    if record.verb == "petal":
        found += arrows
    found += _lines(before, record)
    if record.verb in ("inside reverse", "outside reverse"):
        found += _halves(record)
    found += hands[1:]
    found += _cuts(before, record)
    found += arrows
    found += journeys(before, after, record)
    found += _stacking(before, after)
    return tuple(dict.fromkeys(found))


def _halves(record: MoveRecord) -> list[Phrase]:
    told = (halves(layer_senses(record, segment)) for _, segment in fold_lines(record))
    return [words for words in told if words is not None][:1]


def _stacking(before: StateDescription, after: StateDescription) -> list[Phrase]:
    """Corners of the sheet that a move brings together, in the order in which they are laid down."""
    was = dict(before.corners)
    out: list[Phrase] = []
    for _, at in after.corners:
        here = [n for n, p in after.corners if distance(p, at) < CLOSE]
        if len(here) < 3 or sum(distance(was[n], at) > CLOSE for n in here) < 2:
            continue
        depth = {n: depth_of(after.state, after.state.sheet.corner(n)).over for n in here}
        rows = [
            listed([phrase("{name}", name=n) for n in here if depth[n] == over])
            for over in sorted(set(depth.values()), reverse=True)
        ]
        if len(rows) < 2:
            continue
        order = rows[0]
        for row in rows[1:]:
            order = phrase("{some}; then {more}", some=order, more=row)
        out.append(
            phrase(
                "These corners come to lie one on the other in this order, from the table up: {order}.",
                order=order,
            )
        )
    return out


def _changed_levels(before: StateDescription, after: StateDescription) -> list[Phrase]:
    """Corners of the sheet that keep their place but lie higher or lower than before."""
    return [
        phrase(
            "Corner {name} of the sheet keeps its place and now lies {level}.",
            name=name,
            level=corner_level(after, name),
        )
        for name, _ in after.corners
        if corner_level(before, name) != corner_level(after, name)
    ]


def _lines(lie: StateDescription, record: MoveRecord) -> list[Phrase]:
    """The folds: valleys sink, mountains rise."""
    out: list[Phrase] = []
    for sense, segment in fold_lines(record):
        layers = layer_senses(record, segment)
        if len(layers) > 1:
            first, last = (place(lie, p).words for p in in_reading_order(segment))
            out.append(
                phrase(
                    "The fold runs from {first} to {last}; from the top down: {layers}.",
                    first=first,
                    last=last,
                    layers=senses_phrase(layers),
                )
            )
            continue
        first, last = (place(lie, p).words for p in in_reading_order(segment))
        there = followed(lie, segment)
        if there is not None:
            template: Template = (
                "A valley fold, whose line sinks, follows {line} from end to end."
                if sense is Sense.VALLEY
                else "A mountain fold, whose line rises, follows {line} from end to end."
            )
            out.append(phrase(template, line=there.name))
            continue
        template: Template = (
            "A valley fold, whose line sinks, runs from {first} to {last}."
            if sense is Sense.VALLEY
            else "A mountain fold, whose line rises, runs from {first} to {last}."
        )
        out.append(phrase(template, first=first, last=last))
    return out


def followed(lie: StateDescription, segment: Segment) -> Line | None:
    """The crease or edge on top that has just this segment."""
    for line in lie.lines:
        if not line.plain:
            continue
        common = overlap_of(segment, line.segment)
        whole = max(distance(*segment), distance(*line.segment))
        if common is not None and distance(*common) > whole - 1e-5:
            return line
    return None


def _cuts(lie: StateDescription, record: MoveRecord) -> list[Phrase]:
    pieces = [seg for sign in record.signs if isinstance(sign, CutLine) for _, seg in sign.parts]
    return [
        phrase("Cut from {first} to {last}.", first=place(lie, a).words, last=place(lie, b).words)
        for a, b in (in_reading_order(s) for s in joined(pieces))
    ]


def _arrows(before: StateDescription, record: MoveRecord) -> list[Phrase]:
    """Where the points that the move leads come to lie."""
    out: list[Phrase] = []
    for sign in record.signs:
        if not isinstance(sign, Arrow):
            continue
        start, goal = place(before, sign.tail), place(before, sign.head)
        if start.rank > 1 or goal.rank > 1 or start.words == goal.words:
            continue
        template: Template = (
            "{start} goes to {goal}, in between the layers there."
            if sign.under
            else "{start} goes to {goal}."
        )
        out.append(phrase(template, start=start.words, goal=goal.words))
    return out


def journeys(before: StateDescription, after: StateDescription, record: MoveRecord) -> list[Phrase]:
    """Every corner of the sheet and of the outline that comes to lie elsewhere."""
    out: list[Phrase] = []
    stay: list[str] = []
    told: list[Point] = []
    places = dict(after.corners)
    for name, at in before.corners:
        then = places[name]
        if distance(at, then) < CLOSE:
            stay.append(name)
            continue
        told.append(at)
        out.append(
            phrase(
                "Corner {name} of the sheet, now at {start}, comes to lie at {goal} of the new shape.",
                name=name,
                start=place(before, at, letters=False).words,
                goal=place(after, then, letters=False).words,
            )
        )
        out += _measured_from(before, after, name)
    for p, q in _other_corners(before, record):
        if any(distance(p, t) < CLOSE for t in told):
            continue
        told.append(p)
        out.append(
            phrase(
                "What was {start} comes to lie at {goal} of the new shape.",
                start=place(before, p).words,
                goal=place(after, q).words,
            )
        )
    if stay and out:
        names = listed([phrase("{name}", name=n) for n in stay])
        out.append(
            phrase("Corner {names} of the sheet stays where it is.", names=names)
            if len(stay) == 1
            else phrase("Corners {names} of the sheet stay where they are.", names=names)
        )
    return out


def _measured_from(before: StateDescription, after: StateDescription, name: str) -> list[Phrase]:
    """Where a corner of the sheet lies by two distances from one that stays, if it must be measured."""
    was, now = dict(before.corners), dict(after.corners)
    if not after.outline.numbered and place(after, now[name], letters=False).rank < 3:
        return []
    fixed = [
        n for n, p in now.items() if distance(was[n], p) < CLOSE and distance(p, now[name]) > 1e-3
    ]
    if not fixed:
        return []
    other = min(fixed, key=lambda n: round(distance(now[n], now[name]), 6))
    dx, dy = subtract(now[name], now[other])
    return [
        phrase(
            "It then lies {across} mm {side} and {depth} mm {along}, measured from corner {name} of the "
            "sheet, which stays.",
            across=after.mm(abs(dx)),
            side=way((dx, 0.0) if abs(dx) > CLOSE else (1.0, 0.0)),
            depth=after.mm(abs(dy)),
            along=way((0.0, dy) if abs(dy) > CLOSE else (0.0, 1.0)),
            name=other,
        )
    ]


def _other_corners(before: StateDescription, record: MoveRecord) -> list[tuple[Point, Point]]:
    """Corners of the outline that are no corners of the sheet and move, with where they land."""
    moved = moved_pieces(record.before, record.after)
    out: list[tuple[Point, Point]] = []
    for corner in before.outline.corners:
        if before.corners_at(corner.at):
            continue
        goals = _landings(moved, corner.at)
        held = any(
            polygons.inside(ring, corner.at, CLOSE)
            for i, ring in enumerate(record.before.placed)
            if not any(m.facet == i and polygons.inside(m.outline, corner.at, CLOSE) for m in moved)
        )
        if len(goals) == 1 and not held and distance(goals[0], corner.at) > CLOSE:
            out.append((corner.at, goals[0]))
    return out


def _landings(moved: tuple[Moved, ...], p: Point) -> list[Point]:
    goals: list[Point] = []
    for m in moved:
        if polygons.inside(m.outline, p, CLOSE):
            q = m.motion(p)
            if all(distance(q, g) > CLOSE for g in goals):
                goals.append(q)
    return goals


def opened(
    before: StateDescription, after: StateDescription, record: MoveRecord
) -> tuple[Phrase, ...]:
    """Unfolding: which folds open, and where the corners go."""
    folds = joined(_vanished(record))
    found = [Phrase("Open the paper again.")]
    for segment in folds[:4]:
        first, last = (place(before, p).words for p in in_reading_order(segment))
        found.append(phrase("The fold from {first} to {last} opens.", first=first, last=last))
    found += journeys(before, after, record)
    found.append(Phrase("The creases stay and can be felt."))
    return tuple(dict.fromkeys(found))


def _vanished(record: MoveRecord) -> list[Segment]:
    """Folds of the paper before, as they lay, that are flat afterwards."""
    flat = [(j.segment, record.before.facets[j.a].place) for j in record.before.joints if j.folded]
    still = [j.segment for j in record.after.joints if j.folded]
    out: list[Segment] = []
    for segment, home in flat:
        spot = midpoint(*segment)
        if not any(
            abs(distance(s[0], spot) + distance(spot, s[1]) - distance(*s)) < CLOSE for s in still
        ):
            out.append((home(segment[0]), home(segment[1])))
    return out
