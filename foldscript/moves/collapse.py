"""Collapse: any set of creases, each a mountain or a valley, folded at once, while some folds open.

Whole named lines are given, or parts of them as `line P Q`; of each, those parts fold (or open) that the
vertices want, the rest stays as it is.
Which parts these are is searched: at every interior vertex the folded creases must meet Kawasaki's
and Maekawa's conditions, and as much as possible of what was named folds or opens.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ..geometry.isometries import IDENTITY, map_segment, same_isometry
from ..geometry.lines import (
    Point,
    Segment,
    distance,
)
from ..languages.levels import Level
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.flap import sheet_segments
from ..paper.layers import Collision, Prefer, Undecided
from ..paper.refold import Divided
from ..paper.seams import merged
from ..paper.signs import Arrow, FoldLine, Sense, Sign
from ..paper.state import State
from ..paper.toggling import Changes, motions, toggled
from ..source.diagnostics import Refusal
from .planning.already_folded import folded_the_other_way
from .planning.called import all_of
from .planning.claims import Flat, Folds, Stays
from .planning.crease_joints import divided_along, named_joints
from .planning.fingers import Several
from .planning.flat_choices import do_not_fold, flat_choices
from .planning.flatness import place_on_sheet
from .planning.gathered import gathered, with_goals
from .planning.in_the_way import collision_refusal
from .planning.mending import MENDED, mended
from .planning.named_creases import Asked, Named, Wanted, asked, will_fold
from .planning.request import Move, Outcome, Remark, Request
from .planning.ties import (
    Lying,
    as_said,
    could_stay,
    held_on_a_fold,
    refuse_unsaid,
    several_ways,
    what_stays_and_lies,
    which_lies_over,
    which_stays,
)

#: Choices whose layers are looked at before giving up: of whole creases there are often hundreds, and
#: what folds after many that do not is hardly what was meant. Of choices that fold as much, so many at most.
MOST_TRIED, MOST_ALIKE = 12, 48


def make(request: Request) -> Outcome:
    """Folds the named creases together."""
    words = asked(request)
    wanted, holding = words.wanted, words.holding
    state = request.state
    fine = divided_along(state, wanted)
    named = named_joints(request, fine.state, wanted)
    still, *others = could_stay(fine.state, holding, named)
    try:
        done, changes, after = _carried_out(request, fine, wanted, named, still, words.lying)
    except Refusal as refusal:
        if refusal.code not in MENDED:
            raise
        amiss = do_not_fold(fine.state, named)
        folds, refused = partial(_folds, request, words), partial(_refused, request, words)
        raise mended(request, refusal, wanted, named, amiss, folds, refused) from None
    moved = motions(fine.state, [still], changes)
    if not all(same_isometry(moved[i], IDENTITY) for i in others if i in moved):
        raise which_stays(request, fine.state, changes, [still, *others], holding)
    refuse_unsaid(fine.state, after, words.lying)
    parts: dict[Sense, list[tuple[int, Segment]]] = {Sense.VALLEY: [], Sense.MOUNTAIN: []}
    for k in sorted(done):
        joint, (_, sense) = fine.state.joints[k], named[k]
        if joint.folded or sense is None:
            continue
        seg = map_segment(fine.state.facets[joint.a].place, joint.segment)
        parts[sense].append((fine.parent[joint.a], seg))
    signs: list[Sign] = [FoldLine(sense, tuple(p)) for sense, p in parts.items() if p]
    signs.extend(_arrows(fine.state, still, changes))
    goals, corners = gathered(state, after)
    held = ((holding.letter, holding.at),) if holding and holding.letter else ()
    return Outcome(
        after,
        tuple(signs),
        _told(_sentence(wanted), goals),
        creases=tuple(s for p in parts.values() for s in sheet_segments(state, p)),
        folded=True,
        letters=tuple(dict.fromkeys((*held, *corners))),
        remarks=(
            *held_on_a_fold(fine.state, after, words.holding, moved),
            *_left_out(request, fine.state, wanted, named, done),
            *folded_the_other_way(fine.state, wanted, named, done),
        ),
        claims=(
            Folds(tuple(_segments(fine.state, named, done, opening=False))),
            Flat(tuple(_segments(fine.state, named, done, opening=True))),
            *((Stays((holding.sheet,)),) if holding is not None and holding.sheet else ()),
            *what_stays_and_lies(fine.state, still, changes, words.lying),
        ),
    )


def _segments(
    state: State, named: Named, done: frozenset[int], *, opening: bool
) -> Iterator[Segment]:
    """Segments on the sheet of the joints that fold as said, or of those that open."""
    return (state.joints[k].segment for k in sorted(done) if (named[k][1] is None) is opening)


def _tried(request: Request, words: Asked, wanted: list[Wanted]) -> bool:
    """Whether other lines fold, all of them, with the rest as it was said. Raises Refusal."""
    fine = divided_along(request.state, wanted)
    named = named_joints(request, fine.state, wanted)
    still = could_stay(fine.state, words.holding, named)[0]
    done, *_ = _carried_out(request, fine, wanted, named, still, words.lying)
    return len(done) == len(named)


def _folds(request: Request, words: Asked, wanted: list[Wanted]) -> bool:
    try:
        return _tried(request, words, wanted)
    except Refusal:
        return False


def _refused(request: Request, words: Asked, wanted: list[Wanted]) -> str:
    """The code of what refuses other lines; '' where they fold, or some of them."""
    try:
        _tried(request, words, wanted)
    except Refusal as refusal:
        return refusal.code
    return ""


def _told(how: Phrase, goals: tuple[Phrase, ...]) -> Phrase:
    """The caption, with where corners come to lie; the short one keeps that too."""
    whole = with_goals(how, goals)
    return briefly(whole, with_goals(how.again, goals)) if how.again is not None else whole


def _left_out(
    request: Request,
    state: State,
    wanted: list[Wanted],
    named: Named,
    done: frozenset[int],
) -> Iterator[Remark]:
    """What was named and does not do as said, a remark for each line."""
    left: dict[int, list[Segment]] = {}
    for k, (n, _) in named.items():
        if k not in done:
            left.setdefault(n, []).append(state.joints[k].segment)
    for n, parts in sorted(left.items()):
        line = wanted[n].line
        name = f"'{line.name}'" if line.name else line.words.render()
        where = " and ".join(
            f"between {place_on_sheet(request, state, a)} and {place_on_sheet(request, state, b)}"
            for a, b in merged(parts)
        )
        if wanted[n].sense is None:
            yield Remark(
                "stays-folded",
                f"{name} stays folded {where}: it cannot open there while the other lines fold",
                ("name the part that is to open as 'line P Q'",),
            )
            continue
        yield Remark(
            "stays-flat",
            f"{name} stays flat {where}: of the lines named, not all can fold together",
            ("name the parts that are to fold as 'line P Q', or other lines",),
        )


def _carried_out(
    request: Request,
    fine: Divided,
    wanted: list[Wanted],
    named: Named,
    still: int,
    lying: Lying,
) -> tuple[frozenset[int], Changes, State]:
    """Joints that do as said, joints that change, and the paper after: of the fullest choice that folds."""
    clash: Collision | None = None
    state = fine.state
    said = as_said(state, lying)
    tried = 0
    for row in flat_choices(request, state, wanted, named):
        folding: list[tuple[frozenset[int], Changes, State]] = []
        for done in row[:MOST_ALIKE]:
            tried += 1
            changes = {
                k: sense
                for k, (_, sense) in named.items()
                if will_fold(state, named, k, k in done) != state.joints[k].folded
            }
            try:
                after = toggled(fine, [still], changes, prefer=said, asks=True)
            except Collision as collision:
                clash = clash or collision
                continue
            except Undecided as open_pairs:
                kept = _kept_together(fine, still, changes, said)
                if kept is None:
                    raise which_lies_over(request, state, open_pairs.pairs) from None
                after = kept
            folding.append((done, changes, after))
            if len(folding) == 2:
                raise several_ways(request, state, wanted, named, [way for way, *_ in folding])
        if folding:
            return folding[0]
        if tried >= MOST_TRIED:
            break
    assert clash is not None
    why = collision_refusal(request, clash)
    parts = "name the parts that fold, as 'line P Q': of these creases many parts could fold or stay flat"
    raise why.with_hints(
        *((parts,) if tried > 1 else ()),
        "change a mountain to a valley, or the other way round",
        "or fold some of these creases first, and the others after them",
    )


def _kept_together(fine: Divided, still: int, changes: Changes, said: Prefer) -> State | None:
    """The one way in which nothing comes between layers that lie on each other and move as one; else None.

    A hand that folds them together keeps them so, unless the script says otherwise.
    """
    try:
        return toggled(fine, [still], changes, prefer=said, asks=True, together=True)
    except (Collision, Undecided):
        return None


def _arrows(state: State, still: int, changes: Changes) -> list[Arrow]:
    """From the corners of the sheet that go far to where they land; the farthest few.

    Where hardly any corner of the sheet does, from the corners of other pieces too.
    """
    moved = motions(state, [still], changes)
    corners = [at for _, at in state.sheet.all_corners]
    rows: list[tuple[float, Point, Point]] = []
    far: list[tuple[float, Point, Point]] = []
    for i, motion in moved.items():
        facet = state.facets[i]
        for spot in facet.outline:
            tail = facet.place(spot)
            row = (distance(tail, motion(tail)), tail, motion(tail))
            far.append(row)
            if any(distance(spot, corner) < 1e-6 for corner in corners):
                rows.append(row)
    most = max((r[0] for r in far), default=0.0)
    if max((r[0] for r in rows), default=0.0) < 0.7 * most:
        rows = far
    kept = _farthest(rows, [], most)
    return kept if len(kept) > 2 else _farthest(far, kept, most)


def _farthest(
    rows: list[tuple[float, Point, Point]], kept: list[Arrow], most: float
) -> list[Arrow]:
    """Those that are kept already, and others that go far and start elsewhere, up to four."""
    rows = sorted(rows, key=lambda r: (-round(r[0], 9), r[1]))
    kept = list(kept)
    for far, tail, head in rows:
        if far < 1e-6 or far < 0.4 * most:
            break
        if all(distance(tail, a.tail) > 0.2 * far for a in kept):
            kept.append(Arrow("lift", tail, head))
    return kept[:4]


def _sentence(wanted: list[Wanted]) -> Phrase:
    """What folds, and what opens: named where that is little."""
    folding = [w for w in wanted if w.sense is not None]
    opening = list(dict.fromkeys(w.line.words for w in wanted if w.sense is None))
    if not opening:
        return _folding(folding)
    few = len(opening) <= MOST_NAMED
    if not folding:
        return (
            phrase("Let {lines} open, and press the model flat.", lines=all_of(opening))
            if few
            else Phrase(
                "Open the folds that lie flat in the next figure, and press the model flat."
            )
        )
    how = _folding(folding)

    def told(how: Phrase) -> Phrase:
        if few:
            return phrase("{how} Meanwhile let {lines} open.", how=how, lines=all_of(opening))
        return phrase("{how} Some folds open with it: they lie flat in the next figure.", how=how)

    return briefly(told(how), told(how.again)) if how.again is not None else told(how)


def _folding(wanted: list[Wanted]) -> Phrase:
    """Names the creases where they are few; many are read off the figure."""
    rows = {
        sense: list(dict.fromkeys(w.line.words for w in wanted if w.sense is sense))
        for sense in (Sense.VALLEY, Sense.MOUNTAIN)
    }
    valleys, mountains = rows[Sense.VALLEY], rows[Sense.MOUNTAIN]
    if len(wanted) != len(valleys) + len(mountains) or len(wanted) > MOST_NAMED:
        return briefly(
            Phrase(
                "Collapse the model: fold all the lines shown at the same time, valley and "
                "mountain "
                "folds as they are marked, and press it flat."
            ),
            Phrase("Collapse the model along the lines shown, valley and mountain as marked."),
        )
    if not mountains or not valleys:
        template: Template = (
            "Collapse the model: make valley folds along {lines} at the same time, and press it "
            "flat."
            if valleys
            else "Collapse the model: make mountain folds along {lines} at the same time, and press it flat."
        )
        return phrase(template, lines=all_of(valleys or mountains))
    parts = {"valleys": all_of(valleys), "mountains": all_of(mountains)}
    return briefly(
        phrase(
            "Collapse the model: fold all these creases at the same time, valley folds along "
            "{valleys} and "
            "mountain folds along {mountains}, and press it flat.",
            **parts,
        ),
        phrase(
            "Collapse: valley folds along {valleys}, mountain folds along {mountains}.", **parts
        ),
    )


#: Creases that a caption names; more than that are only shown.
MOST_NAMED = 3
FORMS = (
    "collapse mountain d2, valley h, valley v, holding A",
    "collapse valley d1 and d2, mountain h, holding A",
    "collapse valley line P Q, mountain k, all layers",
    "collapse mountain k1, valley k2 and k3, holding A, with B over C",
    "collapse valley k1, mountain k2, opening k3, holding A",
)
MOVE = Move(
    "collapse",
    "fold a set of creases, mountain or valley, all at once",
    FORMS,
    make,
    advice="say of each crease by its name which way it folds: 'collapse mountain d2, valley h, valley v'",
    whole_folds=True,
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("Now several creases are folded at once."),
        (
            Phrase(
                "First bend each of these lines the way it was told, one after the other, and let "
                "it go. Then push the corners that move toward the place where they come to lie, "
                "all at the same time and without force: the paper bends along the lines. Press "
                "it flat."
            ),
        ),
    ),
)
