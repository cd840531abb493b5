"""Reverse folds: the tip of a flap of two or more layers is turned between them or around them.

In: the tip and a line across the flap. Out: the state in which every layer of the tip is reflected in
the line, the front half of the stack and the back half as two rigid groups. Inside: between the layers
they came from; outside: around them. The spine between the halves changes its sense by itself.
"""

from __future__ import annotations

from functools import partial

from ..geometry import polygons
from ..geometry.lines import mirrored
from ..languages.levels import Level
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.flap import Flap, flap, sheet_segments
from ..paper.layers import Collision
from ..paper.seams import remainder
from ..paper.signs import Arrow, FoldLine, Sense
from ..paper.state import State
from ..source.diagnostics import Refusal, Span, write
from .planning.alignment import Alignment
from .planning.claims import OnlyBeyond
from .planning.doubled import lies_folded
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.halves import Halves, halves, locked, one_layer, turned
from .planning.request import Each, Move, Outcome, PointValue, Request
from .planning.side_by_side import refuse_several_tips
from .planning.tip import layered_tip


def _reverse(request: Request, *, inside: bool) -> Outcome:
    """Carries a reverse fold out. Raises Refusal when the flap's layers do not allow it."""
    tip, found, layers = layered_tip(request)
    problem: Refusal | None = None
    for one in found:
        try:
            return _along(request, tip, one, inside, layers)
        except Collision as clash:
            problem = problem or _locked(request, tip, one, clash, inside, layers)
        except Refusal as refusal:
            problem = problem or refusal
    assert problem is not None
    raise problem


def _along(
    request: Request, tip: PointValue, one: Alignment, inside: bool, layers: int | None
) -> Outcome:
    if layers is None:
        refuse_several_tips(request, tip, one.line)
    flaps = _flaps(request, tip, one, inside, layers)
    folds = [joint.segment for joint in request.state.joints if joint.folded]
    if all(
        not remainder(sheet_segments(request.state, moving.creases), folds) for moving in flaps
    ) and (refusal := lies_folded(request, tip, one.line)):
        raise refusal
    clash: Collision | None = None
    for moving in flaps:
        for parts in halves(request.state, moving):
            try:
                after = turned(parts, one.line, inside=inside)
            except Collision as collision:
                clash = clash or parts.fine.undivided(collision)
                continue
            return _outcome(request, tip, one, moving, parts, after, inside)
    raise clash or one_layer(request, tip)


def _flaps(
    request: Request, tip: PointValue, one: Alignment, inside: bool, layers: int | None
) -> list[Flap]:
    """What may turn, the smallest first: wrapped around, a tip may leave what lies between its layers."""
    state, line = request.state, one.line
    if layers == 0:
        return [flap(state, line, tip.facets, whole_stack=True)]
    found = [flap(state, line, tip.facets)]
    if not inside:
        alone = flap(state, line, tip.facets, trapped=False)
        if alone.facets != found[0].facets:
            found.insert(0, alone)
    enough = [moving for moving in found if layers is None or _thickness(state, moving) >= layers]
    if not enough:
        most = _thickness(state, found[-1])
        raise Refusal(
            "not-so-many-layers",
            f"the flap with {tip.words.render()} has only {most} layer{'' if most == 1 else 's'} there",
            "leave the number out, or say 'all layers' for all that lies there",
            span=request.span,
        )
    return enough


def _thickness(state: State, moving: Flap) -> int:
    """How many layers of a flap lie on each other, where it is thickest."""
    plate_of = state.plate_of
    return max(
        len(
            {
                plate_of[i]
                for i, part in zip(moving.facets, moving.parts, strict=True)
                if polygons.inside(part, polygons.centroid(piece))
            }
        )
        for piece in moving.parts
    )


def _locked(
    request: Request,
    tip: PointValue,
    one: Alignment,
    clash: Collision,
    inside: bool,
    layers: int | None,
) -> Refusal:
    """What holds the tip; where the line only leans the wrong way, how it should lean."""
    way = "go in between its own layers" if inside else "be wrapped around its own layers"
    what = f"{tip.words.render()} cannot {way} along this line"
    try:
        _along(request, tip, one, not inside, layers)
    except (Refusal, Collision):
        return locked(request, clash, what)
    name, other = ("inside", "outside") if inside else ("outside", "inside")
    lean = "toward the open edges" if inside else "past the folded edge"
    return Refusal(
        "locked-layers",
        f"{what}: the folded edge that holds its front and back together would cut through the flap",
        f"for an {name} reverse let the line lean the other way: the tip has to go {lean} of the flap",
        write(
            Span(request.span.start, request.span.start + len(name)),
            other,
            f"or, for a fold that goes the other way round the layers, say '{other} reverse'",
        ),
        span=request.span,
    )


def _outcome(
    request: Request,
    tip: PointValue,
    one: Alignment,
    moving: Flap,
    parts: Halves,
    after: State,
    inside: bool,
) -> Outcome:
    front = {parts.fine.parent[i] for i in parts.front}
    outer = tuple(part for part in moving.creases if part[0] in front)
    inner = tuple(part for part in moving.creases if part[0] not in front)
    near, far = (Sense.MOUNTAIN, Sense.VALLEY) if inside else (Sense.VALLEY, Sense.MOUNTAIN)
    act = "inside-reverse" if inside else "outside-reverse"
    arrow = Arrow(act, tip.at, mirrored(one.line, tip.at), under=inside)
    lines = (FoldLine(near, outer), *((FoldLine(far, inner),) if inner else ()))
    return Outcome(
        after,
        (*lines, arrow, *one.signs),
        _sentence(tip, one, inside),
        creases=tuple(sheet_segments(request.state, moving.creases)),
        folded=True,
        letters=one.letters,
        claims=(
            OnlyBeyond((one.line,), mirrored=True),
            lands(request.state, tip, mirrored(one.line, tip.at)),
        ),
    )


def _sentence(tip: PointValue, one: Alignment, inside: bool) -> Phrase:
    whole: Template = (
        "Outside reverse fold {what} {where} (open the flap a little and wrap the tip around the "
        "outside of its own layers)."
    )
    short: Template = "Outside reverse fold {what} {where}."
    if inside:
        whole = "Inside reverse fold {what} {where} (push the tip in between its own layers)."
        short = "Inside reverse fold {what} {where}."
    parts = {"what": tip.words, "where": one.where}
    return briefly(phrase(whole, **parts), phrase(short, **parts))


def _forms(verb: str) -> tuple[str, ...]:
    return f"{verb} A to Q", f"{verb} A along k", f"{verb} A through P Q"


MOVES = (
    Move(
        "inside reverse",
        "turn the tip of a flap in between its own layers",
        _forms("inside reverse"),
        partial(_reverse, inside=True),
        each=Each(),
        level=Level.LOW_INTERMEDIATE,
        fingers=Several(
            Phrase(
                "This is an inside reverse fold: the tip of a flap is pushed in between the upper "
                "and the lower half of the flap's layers."
            ),
            (
                Phrase(
                    "First fold the tip over and back again, once to each side, so that the line "
                    "is soft."
                ),
                Phrase(
                    "Open the two halves a little, push the tip in between them until its own "
                    "folded edge turns inside out, and press the paper flat again."
                ),
            ),
            halves=True,
        ),
    ),
    Move(
        "outside reverse",
        "turn the tip of a flap around its own layers",
        _forms("outside reverse"),
        partial(_reverse, inside=False),
        each=Each(),
        level=Level.LOW_INTERMEDIATE,
        fingers=Several(
            Phrase(
                "This is an outside reverse fold: the tip of a flap is wrapped back round the "
                "outside of the rest of the flap, like a hood."
            ),
            (
                Phrase(
                    "First fold the tip over and back again, once to each side, so that the line "
                    "is soft."
                ),
                Phrase(
                    "Open the two halves, turn the tip back over them until its folded edge turns "
                    "inside out, half of the tip on top and half of it underneath, and press flat."
                ),
            ),
            halves=True,
        ),
    ),
)
