"""Turn inside out: what was an inner side of the paper is outside afterwards.

The tail of the goldfish. In: a point of a doubled flap that lies folded in, and the fold along which it
is held: all of it, or what a cut has left of it. Its halves hang on the front and on the back of the model;
each swings about the fold on its own side of the other, so that the fold between them bends the other way.
Out: the paper, that fold open.

The boat with cabins. In: a point of a slit in front; or a point of a folded band that lies in the hull like
a cuff, and the crease that it hangs on. What lies behind the slit, or the band, comes out in front: no paper
comes to another place, and the folds that it hangs on bend the other way (see `everted`).
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry.lines import (
    Line,
    Point,
    Segment,
    add,
    distance,
    flipped,
    line_through,
    midpoint,
    mirrored,
    on_line,
    point_on_segment,
    scale,
    signed_distance,
    subtract,
    unit,
)
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.layers import Collision, Prefer, Undecided
from ..paper.openings import slit_at, slit_ending_at
from ..paper.signs import Arrow, PointSign
from ..paper.silhouette import over_side_to_side
from ..paper.state import State
from ..source.diagnostics import Refusal, write
from .planning.claims import Claim, Flat, Folds, LiesOver, NothingMoves, OnlyBeyond
from .planning.doubled import Doubled, held_flap, turned_out
from .planning.everted import Everted, bends, cuff, cuff_out, floor_behind, pushed_through
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_line, as_point
from .planning.in_the_way import collision_refusal
from .planning.inside_out_signs import round_out
from .planning.layering import places_of, way_out
from .planning.named_creases import lying
from .planning.request import Each, LineValue, Move, Outcome, PointValue, Request
from .planning.ties import alike_said, as_said, lies_as_said, refuse_unsaid, which_lies_over

VERB = "turn inside out"
FORMS = (
    f"{VERB} A along line P Q",
    f"{VERB} A along k",
    f"{VERB} through O",
    f"{VERB} M along k, with P over Q",
)

#: How far from a point it is looked for its slit (sheet units).
_BESIDE = 0.05
#: Why no doubled flap turns; a folded band may all the same.
_NO_FLAP = ("point-on-line", "no-fold-there", "no-halves", "turns-most")


def make(request: Request) -> Outcome:
    """Turns the flap inside out, or the band, or the model through its slit."""
    request.allow("", "along", "through", "with", "over", "under")
    if request.clause("through") is not None:
        return _through(request)
    p, value = _words(request)
    said = tuple(lying(request))
    try:
        out = _flap_out(request, p, value)
    except Refusal as refusal:
        band = cuff(request.state, p.facets, value.creases) if refusal.code in _NO_FLAP else None
        if band is None:
            raise
        out = _band_out(request, p, value, band, as_said(request.state, said))
    refuse_unsaid(request.state, out.after, said)
    return replace(out, claims=(*out.claims, *lies_as_said(request.state, said)))


def _through(request: Request) -> Outcome:
    """What lies behind a slit comes out in front."""
    p = _slit_point(request)
    state = request.state
    floor = floor_behind(state, state.facets_at(p.at)[-1])
    if not bends(state, floor):
        raise Refusal(
            "no-inside",
            f"the paper behind {p.words.render()} hangs on one line: that is a fold, and no hull",
            "to fold it the other way, 'unfold' it, and say 'mountain' for 'valley'",
            span=p.span,
        )
    try:
        turned = pushed_through(state, floor)
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    words = phrase(
        "Turn the model inside out through the slit at {where}: push the paper behind it through to the "
        "front, so that every wall bends round to the other side, and press it flat.",
        where=p.words,
    )
    short = phrase("Turn the model inside out through the slit at {where}.", where=p.words)
    slit = slit_at(state, p.at)
    return Outcome(
        turned.after,
        ()
        if slit is None
        else (
            PointSign("slit", p.at, opens=slit),
            *round_out(state, _beside(p.at, slit), slit, floor),
        ),
        briefly(words, short),
        folded=True,
        letters=((p.letter, p.at),) if p.letter else (),
        claims=_claims(state, turned, floor),
        fingers=_THROUGH,
    )


def _beside(at: Point, slit: Segment) -> Point:
    """Half-way from a point of a slit to its farther end: the point itself has its letter."""
    far = max(slit, key=lambda end: (round(distance(end, at), 6), -end[1], -end[0]))
    return midpoint(at, far)


def _slit_point(request: Request) -> PointValue:
    clause = request.clause("through")
    if clause is None or len(request.clauses) != 1 or len(clause.values) != 1:
        raise _what(request)
    p = as_point(clause.values[0])
    if slit_at(request.state, p.at) is not None:
        return p
    ends = slit_ending_at(request.state, p.at)
    if ends is not None:
        raise _at_the_end(request, p, ends)
    if _slit_beside(request.state, p):
        raise Refusal(
            "slit-covered",
            f"corners of other flaps meet on the slit at {p.words.render()}",
            "mark a point of the slit a little way from there, and name that",
            span=p.span,
        )
    turn = over_side_to_side(request.state)
    behind = slit_at(request.state.moved(turn), turn(p.at)) is not None
    raise Refusal(
        "no-slit",
        f"there is no slit in front at {p.words.render()} through which the model could be turned",
        "it has one behind: say 'turn over' first"
        if behind
        else "a slit is where two layers in front meet that are not joined, as the doors of a cupboard",
        span=p.span,
    )


def _slit_beside(state: State, p: PointValue) -> bool:
    """Whether a slit goes on beside a point where corners meet: along a side of paper that begins there."""
    ends = (
        (b if distance(a, p.at) < _BESIDE / 10 else a)
        for k in state.facets_at(p.at)
        for a, b in zip(state.placed[k], (*state.placed[k][1:], state.placed[k][0]), strict=True)
        if point_on_segment((a, b), p.at)
    )
    ways = (unit(subtract(end, p.at)) for end in ends if distance(end, p.at) > _BESIDE)
    return any(slit_at(state, add(p.at, scale(way, _BESIDE))) is not None for way in ways)


def _at_the_end(request: Request, p: PointValue, slit: Segment) -> Refusal:
    """A slit cannot be entered at its end: which other points of it there are."""
    names = [
        name
        for name, at in request.points.items()
        if slit_at(request.state, where := request.state.where(at)) is not None
        and on_line(line_through(*slit), where)
    ]
    hints = [write(p.span, name) for name in names[:2]] or [
        "mark another point of the slit, between its two ends, and say that one"
    ]
    return Refusal(
        "slit-ends",
        f"the slit in front ends at {p.words.render()}: the model is turned through its middle",
        *hints,
        span=p.span,
    )


def _band_out(
    request: Request, p: PointValue, value: LineValue, band: frozenset[int], said: Prefer
) -> Outcome:
    """A folded band comes out in front, from the inside of what it hangs on; layers lie as is said."""
    state = request.state
    floor = state.plate(next(i for i in p.facets if i in band))
    try:
        turned = cuff_out(state, band, floor, alike_said(state, said, band))
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    except Undecided as left:
        raise which_lies_over(request, state, left.pairs) from None
    slit = slit_at(state, p.at)
    arrows = () if slit is None else round_out(state, p.at, slit, floor)
    return Outcome(
        turned.after,
        arrows or (Arrow("pull-out", *way_out(state, p, floor)),),
        briefly(
            phrase(
                "Turn the band with {what} inside out along {line}: draw its middle up between the layers in "
                "front of it, over them to the front, and press it flat.",
                what=p.words,
                line=value.words,
            ),
            phrase("Turn the band with {what} inside out to the front.", what=p.words),
        ),
        folded=True,
        letters=(*(((p.letter, p.at),) if p.letter else ()), *value.letters),
        claims=_claims(state, turned, floor),
        fingers=_BAND,
    )


def _claims(state: State, turned: Everted, floor: frozenset[int]) -> tuple[Claim, ...]:
    """Nothing moves, the floor lies over what lay over it, and the folds that it passed by stay folds."""
    return (
        NothingMoves(),
        LiesOver(places_of(state, floor), places_of(state, turned.behind)),
        Folds(tuple(state.joints[k].segment for k in turned.hinge)),
    )


def _flap_out(request: Request, p: PointValue, value: LineValue) -> Outcome:
    """A doubled flap comes out."""
    if on_line(value.line, p.at):
        raise Refusal(
            "point-on-line",
            f"{p.words.render()} lies on {value.words.render()}: it does not tell which flap turns",
            "name a point beside the line",
            span=p.span,
        )
    state = request.state
    line = value.line if signed_distance(value.line, p.at) > 0 else flipped(value.line)
    flap = _flap(request, p, line, value)
    try:
        after = turned_out(state, flap, line)
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    head = mirrored(line, p.at)
    where = phrase("along {line}", line=value.words)
    return Outcome(
        after,
        (Arrow("pull-out", p.at, head, under=state.facets_at(p.at)[0] not in p.facets),),
        briefly(
            phrase(
                "Turn the flap with {what} inside out {where}: draw it out from between the layers, its "
                "front half to the front and its back half to the back, and press it flat.",
                what=p.words,
                where=where,
            ),
            phrase("Turn the flap with {what} inside out {where}.", what=p.words, where=where),
        ),
        folded=True,
        letters=(*(((p.letter, p.at),) if p.letter else ()), *value.letters),
        claims=(
            lands(state, p, head),
            OnlyBeyond((line,), mirrored=True),
            Flat(tuple(state.joints[k].segment for k in flap.hinge)),
        ),
    )


def _words(request: Request) -> tuple[PointValue, LineValue]:
    head, along = request.clause(""), request.clause("along")
    if head is None or along is None or len(head.values) != 1 or len(along.values) != 1:
        raise _what(request)
    p, line = as_point(head.values[0]), as_line(along.values[0])
    if not p.facets:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=p.span)
    return p, line


def _what(request: Request) -> Refusal:
    return Refusal(
        "turn-what",
        "say which flap is turned inside out, and along which fold; or through which slit the model is",
        *(f"write it like: {form}" for form in request.forms),
        span=request.span,
    )


def _not_held(request: Request, p: PointValue, line: Line, value: LineValue) -> Refusal:
    """The flap is not folded in along that line, or other paper holds it too."""
    name, where = p.letter or "A", value.words.render()
    if not any(all(on_line(line, end) for end in seg) for _, seg in request.state.fold_segments):
        return Refusal(
            "no-fold-there",
            f"nothing is folded along {where}: what is turned inside out lies folded in there",
            f"fold it in first, as 'inside reverse {name} along ...' or a tuck do",
            f"or, to wrap it round the outside at once, say 'outside reverse {name} along ...'",
            span=value.span,
        )
    return Refusal(
        "no-fold-there",
        f"the paper with {p.words.render()} is not held by folds along {where} alone",
        "name the fold that holds the flap in; a cut along a part of it sets the flap free there",
        span=value.span,
    )


def _flap(request: Request, p: PointValue, line: Line, value: LineValue) -> Doubled:
    """The flap that the point is on.

    Raises Refusal where other paper holds it too, it has no halves, or it is the larger part of the paper.
    """
    flap = held_flap(request.state, p.facets, line)
    name = p.words.render()
    if flap is None:
        raise _not_held(request, p, line, value)
    if not flap.is_doubled(request.state):
        raise Refusal(
            "no-halves",
            f"the flap with {name} has no front and back half with a fold between them, "
            "so it cannot be turned inside out",
            f"say 'pull out {name} along ...', or fold it over",
            span=p.span,
        )
    if not flap.is_flap(request.state):
        raise Refusal(
            "turns-most",
            f"more paper would turn than stays: {name} is on the larger part of the model",
            f"name a point of the flap, on the other side of {value.words.render()}",
            span=p.span,
        )
    return flap


_THROUGH = Several(
    slipped=Phrase(
        "Now the whole model is turned inside out, through the slit on top. Put your thumbs into the slit "
        "and your fingers underneath the model, and push the lowest paper up through the slit, one end "
        "first and then the other. Every wall bends round to the other side, and the slit then lies "
        "underneath. Nothing is folded anew."
    ),
)
_BAND = Several(
    slipped=Phrase(
        "Now a folded band that lies inside is turned inside out, like a cuff. Take the middle of its free "
        "edge, draw it up between the layers on top of it, and over these, so that it lies on top of them. "
        "Nothing is folded anew."
    ),
)

MOVE = Move(
    VERB,
    "bring out what lies folded in, its inner side outside: a doubled flap, a band, a hull through its slit",
    FORMS,
    make,
    each=Each(),
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("Now a doubled flap that lies inside is turned inside out."),
        (
            Phrase(
                "Open the layers that it lies between. Draw the flap out, spread its two halves, and let "
                "them close again with what was inside now outside. Press it flat."
            ),
        ),
    ),
)
