"""What a caption says and its step does not do: 'crease and unfold' over a fold that stays folded, 'behind'
over a fold to the front, 'the right corner' over one of a corner that lies at the left.

In: a step as read, and as folded. Out: a warning at its fold, or none. Captions are the author's own; only
English ones are read, and only for the few words that lines mistake most often (common practice).
"""

from __future__ import annotations

import re

from ..geometry.lines import Point, distance
from ..geometry.tolerance import same_point
from ..moves.planning.fingers import OPENED
from ..paper.silhouette import centre
from ..paper.state import State
from ..source.diagnostics import Diagnostic, Edit, Hint, Severity, Span
from ..syntax import nodes
from .caption_other import the_edge_folded_already
from .caption_shares import Folded, another_share
from .earlier_lines import OPPOSITE, SAYS_BEHIND, WAYS
from .siblings import fallen_out
from .statements import AND_UNFOLD

_FOLDS = frozenset(("valley", "mountain"))
#: Moves that neither fold nor open anything.
_IDLE = frozenset(("mark", "hold", "turn over", "rotate", "show", "look"))
#: A caption that folds something away, to its end.
_BEHIND = re.compile(
    r"^fold\b(?!.*\b(?:that|which|lies|lying|front|both)\b)[^.,;]*\bbehind[.!]?$", re.IGNORECASE
)
#: A caption that begins with a corner by its side.
_SIDE = re.compile(
    r"(?:fold|bring|take) the (left|right|top|bottom) (corner|point|tip|edge)\b", re.IGNORECASE
)
#: A caption that says where something goes: to a side, to the middle.
_TO_SIDE = re.compile(r"\bto the (left|right|top|bottom) (corner|edge)\b", re.IGNORECASE)
_TO_MIDDLE = re.compile(r"\bto the (?:middle|centre|center)(?: line)?[.!]?$", re.IGNORECASE)
#: A goal that is a corner.
_CORNER = re.compile(
    r"to (?:(?:the )?((?:top|bottom)(?: (?:left|right))?|left|right) corner|([A-Z]))$"
)
#: A fold of an edge onto another.
_HALVED = re.compile(
    r"(?:valley|mountain) (?:the )?([a-z]+(?: [a-z]+)?) edge onto (?:the )?([a-z]+(?: [a-z]+)?) edge$"
)
#: A caption of one layer, and one that has more in it all the same.
_FRONT_LAYER = re.compile(r"\bthe (?:front|top|upper) (?:layer|tip)\b", re.IGNORECASE)
#: A flap in front, which may be of several layers.
_FRONT_FLAP = re.compile(
    r"\bthe (?:front (?:flap|wing|point)|(?:flap|wing|tip|point) in front)\b", re.IGNORECASE
)
_AND_BEHIND = re.compile(r"\b(?:and|behind|both|all|two|double|with)\b", re.IGNORECASE)
#: So much of the way from the middle to the rim a corner lies on the other side for it to be told.
_CLEARLY = 0.5
#: A caption that leaves open which way the paper goes.
_EITHER_WAY = re.compile(
    r"\b(?:likewise|same|alike|again|repeat|other|inside|into|open|unfold|crease|pleats?|zigzag)\b",
    re.IGNORECASE,
)
_FOLDS_UP = re.compile(r"\bfold\b", re.IGNORECASE)
#: A caption that opens something, or brings it back.
_SAYS_OPEN = re.compile(
    r"\b(?:open|unfold|back|out|outwards|again|return|away|other way|un\w+)\b", re.IGNORECASE
)
_UNFOLD = re.compile(r"(?<!not )(?<!n't )(?<!to )(?<!will )\bunfold\b", re.IGNORECASE)


def otherwise_said(node: nodes.Step, step: Folded, program: nodes.Program) -> Diagnostic | None:
    """The first warning for a step whose caption says what its fold does not do, or one of its lines what
    the others do not.
    """
    number, before, one = step.number, step.before, _single(node, program)
    return (
        not_unfolded(node, number, program)
        or _not_behind(node, number, program)
        or _not_in_front(node, number, program)
        or _other_side(node, before, number, program)
        or _other_goal(node, before, number, program)
        or _to_another_side(node, step, program)
        or _over_the_middle(node, number, program)
        or _not_the_front_alone(node, step, program)
        or (another_share(*one, step, program) if one is not None else None)
        or (the_edge_folded_already(*one, step, program) if one is not None else None)
        or (_only_opens(*one, step, program) if one is not None else None)
        or fallen_out(node, number, program)
    )


def _single(step: nodes.Step, program: nodes.Program) -> tuple[str, nodes.Statement] | None:
    """The English caption of a step that is one fold, and that fold."""
    own = [one.text for one in step.captions if one.language in ("", program.head.language)]
    made = [one for one in step.body if one.verb not in _IDLE]
    if not program.head.language.startswith("en") or len(own) != 1 or len(made) != 1:
        return None
    return (own[0], made[0]) if made[0].verb in _FOLDS else None


def _not_behind(step: nodes.Step, number: int, program: nodes.Program) -> Diagnostic | None:
    one = _single(step, program)
    if one is None or one[1].verb != "valley" or not _BEHIND.search(one[0]):
        return None
    verb = Span(one[1].span.start, one[1].span.start + len("valley"))
    return Diagnostic(
        "caption-behind",
        f"the caption folds behind, and 'valley' folds to the front (in step {number})",
        one[1].span,
        (
            Hint("say 'mountain'", edit=Edit(verb, "mountain")),
            Hint("or say in the caption that it comes to the front"),
        ),
        Severity.WARNING,
        program.source,
    )


def _not_in_front(step: nodes.Step, number: int, program: nodes.Program) -> Diagnostic | None:
    """The warning for a fold to the back of whose going there the caption tells nothing."""
    own = [one.text for one in step.captions if one.language in ("", program.head.language)]
    made = next((one for one in step.body if one.verb == "mountain" and not _opened(one)), None)
    if made is None or not program.head.language.startswith("en") or len(own) != 1:
        return None
    if SAYS_BEHIND.search(own[0]) or _EITHER_WAY.search(own[0]):
        return None
    return Diagnostic(
        "caption-front",
        "the caption does not say that anything goes behind, and 'mountain' folds to the back "
        f"(in step {number})",
        made.span,
        (
            Hint("say 'valley'", edit=Edit(made.verb_span, "valley")),
            Hint("or say 'behind' in the caption"),
        ),
        Severity.WARNING,
        program.source,
    )


def _other_side(
    step: nodes.Step, before: State, number: int, program: nodes.Program
) -> Diagnostic | None:
    one = _single(step, program)
    said = _SIDE.match(one[0]) if one is not None else None
    first = one[1].phrases[:1] if one is not None else ()
    who = first[0].operands[:1] if first else ()
    corners = before.sheet.corner_names
    if one is None or said is None or not who:
        return None
    side, what = said[1].lower(), said[2].lower()
    if isinstance(who[0], nodes.Seen) and who[0].toward == (OPPOSITE[side],):
        at, other = who[0].span, who[0].toward[0]
        words = program.source.text[at.start : at.end].replace(other, side)
        return _side_told(
            f"the caption folds the {side} {what}, and this line the {other} one",
            Hint(f"say '{words}'", edit=Edit(at, words)),
            at,
            number,
            program,
        )
    if not isinstance(who[0], nodes.Name) or what == "edge":
        return None
    name = who[0].text
    if name not in corners or any(phrase.word == AND_UNFOLD for phrase in one[1].phrases):
        return None
    axis, sign = WAYS[side]
    at, middle = before.where(before.sheet.corner(name)), centre(before)
    reach = max(abs(p[axis] - middle[axis]) for ring in before.placed for p in ring)
    if sign * (at[axis] - middle[axis]) > -_CLEARLY * reach:
        return None
    lies = next(way for way, (k, s) in WAYS.items() if (k, s) == (axis, -sign))
    return _side_told(
        f"the caption folds the {side} corner, and corner {name} lies at the {lies}",
        Hint(f"say '{side} corner', or the letter of that one"),
        who[0].span,
        number,
        program,
    )


def _side_told(what: str, hint: Hint, at: Span, number: int, program: nodes.Program) -> Diagnostic:
    return Diagnostic(
        "caption-side",
        f"{what} (in step {number})",
        at,
        (hint, Hint("or name the other side in the caption")),
        Severity.WARNING,
        program.source,
    )


def _at_the_rim(state: State, name: str) -> bool:
    """Whether a corner of the sheet lies far from the middle of the paper."""
    if name not in state.sheet.corner_names:
        return False
    middle, at = centre(state), state.where(state.sheet.corner(name))
    reach = max(distance(middle, p) for ring in state.placed for p in ring)
    return distance(middle, at) > _CLEARLY * reach


def _other_goal(
    step: nodes.Step, before: State, number: int, program: nodes.Program
) -> Diagnostic | None:
    """The warning for a fold to another side than the caption says, or to an edge instead of the middle."""
    one = _single(step, program)
    if one is None:
        return None
    caption, fold = one
    goal = next((phrase for phrase in fold.phrases if phrase.word in ("to", "onto")), None)
    words = "" if goal is None else program.source.text[goal.span.start : goal.span.end]
    side = re.search(r"\b(left|right|top|bottom) (corner|edge)\b", words)
    said = _TO_SIDE.search(caption)
    halved = _HALVED.match(program.source.text[fold.span.start : fold.span.end])
    corner, edit = _CORNER.match(words), None
    if _TO_MIDDLE.search(caption) and halved is not None:
        why, hint = "to the middle", "say 'onto centre line' for a fold to the middle"
        what = f"onto the {halved[2]} edge"
    elif _TO_MIDDLE.search(caption) and corner and (corner[1] or _at_the_rim(before, corner[2])):
        why, hint, what = "to the middle", "say 'to the centre'", words
        edit = Edit(goal.span, "to the centre") if goal is not None else None
    elif side and said and said[1].lower() == OPPOSITE[side[1]] and said[2].lower() == side[2]:
        why, hint = f"to the {said[1].lower()}", f"say '{said[1].lower()} {side[2]}'"
        what = f"to the {side[1]}"
    else:
        return None
    return Diagnostic(
        "caption-goal",
        f"the caption says '{why}', and this folds {what} (in step {number})",
        fold.span,
        (Hint(hint, edit=edit), Hint("or say in the caption where it goes")),
        Severity.WARNING,
        program.source,
    )


def _to_another_side(node: nodes.Step, step: Folded, program: nodes.Program) -> Diagnostic | None:
    """The warning for a fold to a named point that does not lie at the side of which the caption speaks."""
    one, state = _single(node, program), step.before
    said = _TO_SIDE.search(one[0]) if one is not None else None
    goal = next((p for p in one[1].phrases if p.word == "to"), None) if one is not None else None
    at = goal.operands[0] if goal is not None and len(goal.operands) == 1 else None
    if one is None or said is None or not isinstance(at, nodes.Name):
        return None
    if at.text not in step.named or _point_there(state, step.named[at.text], said[1].lower()):
        return None
    side = f"{said[1].lower()} {said[2].lower()}"
    return Diagnostic(
        "caption-goal",
        f"the caption says 'to the {side}', and point {at.text} does not lie there (in step {step.number})",
        one[1].span,
        (
            Hint("name a point that lies there; a mark goes along with its paper"),
            Hint("or say in the caption where it goes"),
        ),
        Severity.WARNING,
        program.source,
    )


def _point_there(state: State, place: Point, side: str) -> bool:
    """Whether a point of the sheet lies nearer to a side of the paper as it lies than to its middle."""
    axis, sign = WAYS[side]
    middle, at = centre(state), state.where(place)
    reach = max(abs(p[axis] - middle[axis]) for ring in state.placed for p in ring)
    return sign * (at[axis] - middle[axis]) > _CLEARLY * reach


def _over_the_middle(node: nodes.Step, number: int, program: nodes.Program) -> Diagnostic | None:
    """The warning for a fold of an edge onto the opposite one among others, where all go to the middle."""
    own = [one.text for one in node.captions if one.language in ("", program.head.language)]
    folds = [one for one in node.body if one.verb in _FOLDS and not _opened(one)]
    if len(own) != 1 or len(folds) < 2 or not program.head.language.startswith("en"):
        return None
    if not _TO_MIDDLE.search(own[0]) or re.search(r"\bhalf\b", own[0], re.IGNORECASE):
        return None
    for one in folds:
        halved = _HALVED.match(program.source.text[one.span.start : one.span.end])
        if halved is not None and OPPOSITE.get(halved[1]) == halved[2]:
            return Diagnostic(
                "caption-goal",
                f"the caption says 'to the middle', and this folds onto the {halved[2]} edge "
                f"(in step {number})",
                one.span,
                (
                    Hint("say 'onto centre line', or onto the crease in the middle"),
                    Hint("or say in the caption where it goes"),
                ),
                Severity.WARNING,
                program.source,
            )
    return None


def _not_the_front_alone(
    node: nodes.Step, step: Folded, program: nodes.Program
) -> Diagnostic | None:
    """The warning for a fold of several layers whose caption speaks of the front layer, or of all layers of
    a point where it speaks of a flap in front.
    """
    one, number = _single(node, program), step.number
    count = next((p for p in one[1].phrases if p.word == "layers"), None) if one else None
    if one is None or count is None:
        return None
    if not _FRONT_LAYER.search(one[0]) and not (
        _FRONT_FLAP.search(one[0]) and _takes_all(one[1], count, step)
    ):
        return None
    said = program.source.text[count.span.start : count.span.end].strip(" ,")
    if said == "1 layer" or _AND_BEHIND.search(one[0]):
        return None
    return Diagnostic(
        "caption-layers",
        f"the caption speaks of the front layer, and '{said}' takes more (in step {number})",
        count.span,
        (
            Hint(
                "say '1 layer'",
                edit=Edit(Span(count.span.end - len(said), count.span.end), "1 layer"),
            ),
            Hint("or say in the caption how many go"),
        ),
        Severity.WARNING,
        program.source,
    )


def _takes_all(made: nodes.Statement, count: nodes.Phrase, step: Folded) -> bool:
    """Whether all layers are asked at a point where several corners of the sheet lie, each a single layer."""
    who = made.phrases[0].operands[:1] if made.phrases else ()
    many = count.operands[0] if count.operands else None
    sheet = step.before.sheet
    if not who or not isinstance(who[0], nodes.Name) or who[0].text not in sheet.corner_names:
        return False
    state, at = step.before, step.before.where(sheet.corner(who[0].text))
    corners = [
        name for name in sheet.corner_names if same_point(state.where(sheet.corner(name)), at)
    ]
    there = len(state.facets_at(at))
    single = 1 < len(corners) == there
    return single and (not isinstance(many, nodes.Amount) or many.value >= there)


def _only_opens(
    caption: str, made: nodes.Statement, step: Folded, program: nodes.Program
) -> Diagnostic | None:
    """The warning for a fold that only opens what was folded, of which the caption tells nothing."""
    opens = any(record.fingers is OPENED for record in step.records)
    if not opens or not _FOLDS_UP.search(caption) or _SAYS_OPEN.search(caption):
        return None
    return Diagnostic(
        "caption-opens",
        f"the caption folds, and this only opens what was folded before (in step {step.number})",
        made.span,
        (
            Hint("if other paper is meant, look at what the fold before it has carried along"),
            Hint("or say in the caption that it opens"),
        ),
        Severity.WARNING,
        program.source,
    )


def not_unfolded(step: nodes.Step, number: int, program: nodes.Program) -> Diagnostic | None:
    """The warning for a step that leaves folded what its caption unfolds."""
    own = [one.text for one in step.captions if one.language in ("", program.head.language)]
    if not program.head.language.startswith("en") or not any(map(_UNFOLD.search, own)):
        return None
    made = [one for one in step.body if one.verb not in _IDLE]
    if not made or any(one.verb not in _FOLDS or _opened(one) for one in made):
        return None
    last = made[-1]
    end = Span(last.span.end, last.span.end)
    return Diagnostic(
        "caption-unfold",
        f"the caption says 'unfold', and what this step folds stays folded (in step {number})",
        last.span,
        (
            Hint(f"add '{AND_UNFOLD}'", edit=Edit(end, f" {AND_UNFOLD}"))
            if len(made) == 1
            else Hint(f"end each of its lines with '{AND_UNFOLD}'"),
            Hint("or leave the word out of the caption"),
        ),
        Severity.WARNING,
        program.source,
    )


def _opened(statement: nodes.Statement) -> bool:
    return any(phrase.word == AND_UNFOLD for phrase in statement.phrases)
